#include "tierproof/app/misdeclared.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "checking.h"
#include "label_contents.h"
#include "parts.h"
#include "tierproof/app/issuing.h"
#include "tierproof/app/tracing.h"
#include "tierproof/text/json.h"
#include "where_now.h"

namespace tierproof {
namespace {

std::string text_of(const Json& json) {
  if (json.is_text()) return json.text();
  if (json.is_object()) return json.find("text") == nullptr ? "" : json.find("text")->text();
  std::string text;
  if (!json.is_array()) return text;
  for (const auto& one : json.array()) {
    const bool next_item = one.is_array() && !text.empty();  // items of a list are lists of runs; the runs of one item join
    text += (next_item ? ", " : one.is_text() && !text.empty() ? " " : "") + text_of(one);
  }
  return text;
}

/// What a label tells of the food, as one text.
std::string told_by(const Json& label) {
  std::string text;
  for (const char* member : {"ingredients", "after_list", "allergen_line", "summary", "statements", "may_contain"}) {
    if (const auto* part = label.find(member)) {
      const std::string words = text_of(*part);
      if (!words.empty()) text += (text.empty() ? "" : " · ") + words;
    }
  }
  return text;
}

/// The words of a kept label; nothing where it was erased.
std::optional<std::string> kept_words(const Session& session, const PaperIssued& paper) {
  const auto digest = digest_from_hex(paper.sha256);
  const auto kept = digest ? session.store().paper(*digest) : std::nullopt;
  if (!kept) return std::nullopt;
  const auto json = parse_json(kept->bytes, "the kept label");
  return json ? std::optional{told_by(*json)} : std::nullopt;
}

std::vector<SaidOnLabel> labels_of(const Session& session, const Judgement& judgement) {
  std::map<std::int64_t, const Recorded<PaperIssued>*> last;
  for (const auto& paper : session.state().papers) {
    const auto* gone = session.state().hand_over(judgement.cake);
    if (gone != nullptr && paper.sequence > gone->sequence) continue;  // the box left under an earlier one
    if (paper.value.cake == judgement.cake && paper.value.paper == "label" && paper.value.form == "json") last[paper.value.box] = &paper;
  }
  std::vector<SaidOnLabel> labels;
  for (const auto& [box, paper] : last) {
    SaidOnLabel label{paper->sequence, box, format_moment(paper->happened, paper->offset), "(erased)", "", false};
    if (const auto words = kept_words(session, paper->value)) label.said = *words;
    label.says_now =
        judgement.declared ? told_by(json_of(label_content(session, judgement, box))) : "(nothing: it can no longer be worked out)";
    label.same = label.said == label.says_now;
    labels.push_back(std::move(label));
  }
  return labels;
}

UnderWrongWords under_wrong_words(const Session& session, const CakeId& id, const std::set<LotId>& packs, ZonedInstant at) {
  const State& state = session.state();
  const auto& cake = state.cakes.at(id).value;
  UnderWrongWords told{id, cake.name, where_now(state, id, at.at), false, "", {}, {}, {}};
  const auto text = [](const Words& words) { return words.given() ? words.text.value_or("(erased)") : std::string{}; };
  if (const auto* gone = state.hand_over(id)) {
    told.out = true;
    told.customer = text(cake.customer);
    if (const auto contact = text(cake.contact); !contact.empty()) told.customer += (told.customer.empty() ? "" : ", ") + contact;
    if (told.customer.empty()) told.customer = "a customer whose name is not recorded";
    told.told.push_back(fmt::format("note {}, when it left: {}", gone->sequence, text(gone->value.told)));
  }
  for (const auto& one : state.told) {
    if (one.value.cake == id) told.told.push_back(fmt::format("note {}: {}", one.sequence, text(one.value.words)));
  }
  for (const auto& pack : packs) told.packs.push_back(pack_in_words(state, pack));
  const auto judgement = judge_cake(session, id, at);
  if (judgement) told.labels = labels_of(session, *judgement);
  return told;
}

/// What the details said when they were first written, and what they say now.
std::vector<Difference> corrected_of(const Session& session, const Note& note, const LabelTerms& terms) {
  if (note.replaced.empty() || note.body.is_null()) return {};
  const auto entries = session.store().entries(note.replaced.front(), note.replaced.front());
  if (entries.empty()) return {};
  const auto before = read_body<Specification>(note_of(entries.front()).body, "the first note");
  const auto now = read_body<Specification>(note.body, "the note in force");
  if (!before || !now) return {};
  return differences_between(*before, *now, terms);
}

}  // namespace

Result<Misdeclared> misdeclared(const Session& session, std::uint64_t note, std::optional<Date> from, std::optional<Date> until,
                                ZonedInstant at) {
  const State& state = session.state();
  Checking checking{session};
  const Note* tip = tip_of(session.notes(), note);
  if (tip == nullptr || !tip->kind.starts_with("specification/"))
    checking.refuse("note", fmt::format("note {} does not tell what a pack says", note), "look at `tierproof list specifications`");
  if (from && until && *until < *from) checking.refuse("--until", "is before --from", "write the earlier day first");
  const auto terms = session.label_terms(day_of(at.at, at.offset));
  if (!terms) checking.take(terms.error());
  if (!checking.good()) return checking.refusals();
  std::set<LotId> packs;
  for (const auto& [id, lot] : state.lots) {
    const Date day = day_of(lot.happened, lot.offset);
    if (lot.value.specification == tip->place && (!from || *from <= day) && (!until || day <= *until)) packs.insert(id);
  }
  if (packs.empty()) {
    checking.refuse("note", fmt::format("no pack stands under note {} in that time", note), "look at `tierproof list packs`");
    return checking.refusals();
  }
  Misdeclared found;
  found.details = tip->place;
  const auto specification = state.specifications.find(tip->place);
  if (specification != state.specifications.end()) {
    const auto supplier = state.suppliers.find(specification->second.value.supplier);
    found.words =
        fmt::format("{} of {}, read {}", specification->second.value.label_name,
                    supplier == state.suppliers.end() ? specification->second.value.supplier.text() : supplier->second.value.firm.name,
                    format_date_long(specification->second.value.checked));
  } else {
    found.words = fmt::format("what note {} said, which was voided", note);
  }
  found.says = corrected_of(session, *tip, *terms);
  // By the trace, as a recall goes: food does not vanish with a note that was voided.
  std::map<CakeId, std::set<LotId>> holding;
  for (const LotId& pack : packs) {
    const auto traced = trace(session, pack.text(), {}, at);
    if (!traced) return traced.error();
    for (const auto& into : traced->into) {
      if (state.cakes.contains(CakeId{into.id})) holding[CakeId{into.id}].insert(pack);
    }
  }
  for (const auto& [cake, of] : holding) found.cakes.push_back(under_wrong_words(session, cake, of, at));
  std::stable_partition(found.cakes.begin(), found.cakes.end(), [](const UnderWrongWords& one) { return one.out; });
  return found;
}

}  // namespace tierproof
