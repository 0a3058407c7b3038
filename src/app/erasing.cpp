#include "tierproof/app/erasing.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "checking.h"
#include "evidence_folder.h"
#include "tierproof/app/judging.h"
#include "tierproof/app/recalling.h"
#include "tierproof/store/named_bytes.h"
#include "tierproof/sums/retention.h"

namespace tierproof {
namespace {

/// Every note of the log, in force or not, that tells of the customer of one cake, and the papers that may.
class CustomerOfCake {
 public:
  CustomerOfCake(const Session& session, const std::string& cake) : session_{session}, cake_{cake} {
    const auto entries = session.store().entries(1, session.head().size);
    for (const auto& entry : entries) {
      const bool of_many = names(entry.body, "paper", of_a_period);
      if (entry.kind == KindOf<PaperIssued>::kind && (of_many || names(entry.body, "cake", cake_))) paper(entry);
      if (!tells(entry)) continue;
      told_by_.insert(entry.sequence);
      for (auto& named : store::named_sealed(entry)) refs_.insert(std::move(named.ref));
    }
    keep_what_others_use();
    find_files(entries);
  }

  /// Attached files that may show some of it and were not erased yet, each with the first note that attached it.
  const std::map<Digest, std::uint64_t>& files() const { return files_; }
  /// Of such files those that stay, since a note about something else attached them too: that note.
  const std::map<Digest, std::uint64_t>& files_of_others() const { return files_of_others_; }

  /// What is left of it to erase.
  ToErase left() const {
    ToErase erase;
    for (const auto& ref : refs_) {
      if (session_.store().sealed(ref)) erase.texts.push_back(ref);
    }
    for (const auto& [digest, note] : papers_to_erase()) erase.papers.push_back(digest);
    return erase;
  }
  /// Kept papers that tell some of it, each with the first note that issued it.
  std::map<Digest, std::uint64_t> papers_to_erase() const {
    std::map<Digest, std::uint64_t> out;
    for (const auto& [issue, forms] : issues_) {
      const std::string& paper = std::get<0>(issue);
      if (paper == "venue card" || (paper == "label" && !has_stop(forms)) || (paper == of_a_period && !gives_reasons(forms))) continue;
      for (const auto& form : forms) {
        if (session_.store().paper(form.digest)) out.emplace(form.digest, form.note);
      }
    }
    return out;
  }

 private:
  struct Form {
    std::string form;
    Digest digest{};
    std::uint64_t note = 0;
  };
  using Issue = std::tuple<std::string, std::string, std::string, std::int64_t>;  ///< paper, head, stock, box: its forms go together

  static bool names(const Json& body, std::string_view member, const std::string& what) {
    const Json* named = body.is_object() ? body.find(member) : nullptr;
    return named != nullptr && named->is_text() && named->text() == what;
  }

  bool tells(const Entry& entry) {
    static const std::set<std::string_view> of_a_customer{KindOf<Cake>::kind,      KindOf<AllergyAnswer>::kind,   KindOf<Acceptance>::kind,
                                                          KindOf<Told>::kind,      KindOf<Release>::kind,         KindOf<HandOver>::kind,
                                                          KindOf<Complaint>::kind, KindOf<ComplaintClosed>::kind, KindOf<RecallTick>::kind,
                                                          KindOf<Evidence>::kind};
    if (!of_a_customer.contains(entry.kind)) return false;
    if (entry.body.is_null()) return entry.supersedes && told_by_.contains(*entry.supersedes);
    if (entry.kind == KindOf<ComplaintClosed>::kind) {
      const Json* complaint = entry.body.is_object() ? entry.body.find("complaint") : nullptr;
      return complaint != nullptr && complaint->is_text() && complaints_.contains(complaint->text());
    }
    if (entry.kind == KindOf<Evidence>::kind && entry.body.is_object()) {
      const Json* about = entry.body.find("about");
      const Json* note = entry.body.find("note");
      return names(entry.body, "about", cake_) || (about != nullptr && about->is_text() && complaints_.contains(about->text())) ||
             (note != nullptr && note->is_integer() && told_by_.contains(static_cast<std::uint64_t>(note->integer())));
    }
    const bool about = entry.kind == KindOf<Cake>::kind
                           ? entry.subject == cake_
                           : names(entry.body, entry.kind == KindOf<RecallTick>::kind ? "what" : "cake", cake_);
    if (about && entry.kind == KindOf<Complaint>::kind) complaints_.insert(entry.subject);
    return about;
  }

  void keep_what_others_use() {
    for (const auto& note : session_.notes()) {
      if (told_by_.contains(note.sequence)) continue;
      Entry in_force;
      in_force.body = note.body;
      in_force.why = note.why;
      for (const auto& named : store::named_sealed(in_force)) refs_.erase(named.ref);
    }
  }

  void find_files(const std::vector<Entry>& entries) {
    std::map<Digest, std::uint64_t> others;
    for (const auto& file : files_named(entries)) {
      if (file.erased_by) continue;
      if (told_by_.contains(file.sequence)) {
        files_.emplace(file.digest, file.sequence);
      } else if (is_needed(file.sequence)) {
        others.emplace(file.digest, file.sequence);
      }
    }
    for (const auto& [digest, note] : others) {
      if (files_.erase(digest) != 0) files_of_others_.emplace(digest, note);
    }
  }

  /// Whether a note about something else that attached a file is in force, and not of a customer who was erased since.
  bool is_needed(std::uint64_t sequence) const {
    const State& state = session_.state();
    const auto note = std::find_if(state.evidence.begin(), state.evidence.end(), [&](const auto& one) { return one.sequence == sequence; });
    if (note == state.evidence.end()) return false;
    std::string cake = note->value.about;
    const auto complaint = state.complaints.find(ComplaintId{cake});
    if (complaint != state.complaints.end()) cake = complaint->second.value.cake.text();
    for (const auto& tick : state.recall_ticks) {
      if (note->value.note && tick.place == static_cast<std::uint64_t>(*note->value.note)) cake = tick.value.what;
    }
    return std::none_of(state.erasures.begin(), state.erasures.end(),
                        [&](const auto& erasure) { return erasure.value.cake.text() == cake && erasure.sequence > sequence; });
  }

  void paper(const Entry& entry) {
    const auto issued = read_body<PaperIssued>(entry.body, fmt::format("note {}", entry.sequence));
    const auto digest = issued ? digest_from_hex(issued->sha256) : std::nullopt;
    if (!digest) return;
    issues_[{issued->paper, issued->head, issued->stock, issued->box}].push_back({issued->form, *digest, entry.sequence});
  }

  /// Whether a label says DO NOT HAND OVER, which may tell of the allergy; one that cannot be read counts as one that does.
  bool has_stop(const std::vector<Form>& forms) const {
    for (const auto& form : forms) {
      if (form.form != "json") continue;
      const auto kept = session_.store().paper(form.digest);
      const auto label = kept ? parse_json(kept->bytes, "label") : Result<Json>{Refusal{}};
      const Json* stop = label && label->is_object() ? label->find("stop") : nullptr;
      return stop == nullptr || !stop->is_text() || !stop->text().empty();
    }
    return true;
  }

  /// Whether a record of a period gives reasons that the cake was released for, which may tell of the allergy; one that cannot be read
  /// counts as one that does.
  bool gives_reasons(const std::vector<Form>& forms) const {
    for (const auto& form : forms) {
      if (form.form != "json") continue;
      const auto kept = session_.store().paper(form.digest);
      const auto record = kept ? parse_json(kept->bytes, "record") : Result<Json>{Refusal{}};
      const Json* tables = record && record->is_object() ? record->find("tables") : nullptr;
      if (tables == nullptr || !tables->is_array()) return true;
      for (const Json& table : tables->array()) {
        if (!names(table, "list", "overrides")) continue;
        const Json* rows = table.find("rows");
        if (rows == nullptr || !rows->is_array()) return true;
        return std::any_of(rows->array().begin(), rows->array().end(), [&](const Json& row) { return names(row, "cake", cake_); });
      }
    }
    return true;
  }

  static constexpr const char* of_a_period = "inspection record";
  const Session& session_;
  std::string cake_;
  std::set<std::uint64_t> told_by_;
  std::set<std::string> complaints_;
  std::set<std::string> refs_;
  std::map<Issue, std::vector<Form>> issues_;
  std::map<Digest, std::uint64_t> files_, files_of_others_;
};

/// Takes away every attached file that an erasure names, and that nobody attached since: of this erasure, and of one that was cut off.
void take_away_erased(const Session& session, EvidenceFolder& folder) {
  for (const auto& file : files_named(session.store().entries(1, session.head().size))) {
    if (file.erased_by) folder.remove(file.digest);
  }
  folder.remove_unfinished();
}

/// The time within which the customer must be reachable.
/// @param cake       nothing: the order was taken back
/// @param judgement  of it as it left
void refuse_while_needed(Checking& checking, const Session& session, const CakeId& id, const Recorded<Cake>* cake,
                         const std::optional<Judgement>& judgement, const RetentionTerms& terms) {
  const State& state = session.state();
  const Date today = session.today();
  const auto* handed = state.hand_over(id);
  const bool built = std::any_of(state.tiers.begin(), state.tiers.end(), [&](const auto& tier) { return tier.value.cake == id; });
  if (cake != nullptr && handed == nullptr && today <= cake->value.event) {
    checking.refuse("cake",
                    fmt::format("{} is for {} and has not been handed over: its customer is still needed", id.text(),
                                format_date_long(cake->value.event)),
                    fmt::format("erase it after that day, from {} on", format_date_long(add_days(cake->value.event, 1))));
  }
  std::vector<KeptFrom> known;
  if (handed != nullptr) known.push_back({"hand over", day_of(handed->happened, handed->offset)});
  if (handed == nullptr && built && cake != nullptr) known.push_back({"hand over", cake->value.event});
  if (known.empty()) return;
  if (judgement && judgement->life && judgement->life->date) {
    const auto& life = *judgement->life;
    known.push_back({life.kind, std::max(*life.date, life.at_latest.value_or(*life.date))});
  }
  const auto kept = keep_until(terms.rows, "personal data", known);
  Date last = known.front().day;
  for (const auto& from : known) last = std::max(last, from.day);
  if (kept) last = std::max(last, kept->last);
  if (today > last) return;
  const std::string why =
      kept ? fmt::format("counted from its {} on {} {}", kept->from.event == "hand over" ? "hand-over" : kept->from.event,
                         format_date_long(kept->from.day), cite(kept->cited))
           : "as long as it may be eaten";
  checking.refuse("cake", fmt::format("the customer of {} must be reachable until {}, {}", id.text(), format_date_long(last), why),
                  fmt::format("erase it from {} on", format_date_long(add_days(last, 1))));
}

/// A complaint that is open, a recall that is not closed, or a pack that was withdrawn while nobody told the customer, holds longer than
/// any date.
void refuse_while_held(Checking& checking, const Session& session, const CakeId& id, const std::optional<Judgement>& judgement) {
  const State& state = session.state();
  if (const auto* complaint = state.open_complaint(id)) {
    checking.refuse("cake", fmt::format("{} about {} is open", complaint->subject, id.text()),
                    fmt::format("close {} first; what it says is needed until then", complaint->subject));
  }
  for (const auto& [recall, begun] : state.recalls) {
    if (begun.value.drill || state.closed(recall) != nullptr) continue;
    const auto told = recall_of(session, recall.text(), {session.now(), session.offset_at(session.now())});
    const auto about = [&](const RecallStep& step) { return step.food.id == id.text(); };
    // One that cannot be worked out may reach it.
    if (told && std::none_of(told->contact.begin(), told->contact.end(), about) &&
        std::none_of(told->hold.begin(), told->hold.end(), about))
      continue;
    checking.refuse("cake", fmt::format("{} reaches {} and is open", recall.text(), id.text()),
                    fmt::format("close {} first; its customer may have to be told until then", recall.text()));
  }
  if (!judgement || state.hand_over(id) == nullptr) return;
  for (const auto& withdrawal : state.withdrawals) {
    const auto& lots = judgement->parts.lots;
    const bool in_it = std::any_of(lots.begin(), lots.end(), [&](const LotFacts& lot) { return lot.id == withdrawal.value.lot; });
    const bool told = std::any_of(state.told.begin(), state.told.end(), [&](const auto& one) {
      return one.value.cake == id && one.value.when == "after it was handed over" && one.sequence > withdrawal.sequence;
    });
    const bool told_in_a_recall = std::any_of(state.recall_ticks.begin(), state.recall_ticks.end(), [&](const auto& tick) {
      return tick.value.what == id.text() && tick.value.did == "told" && tick.sequence > withdrawal.sequence;
    });
    if (!in_it || told || told_in_a_recall) continue;
    checking.refuse(
        "cake",
        fmt::format("{} in it was withdrawn on {} (note {}), and nobody is recorded as having told the customer",
                    withdrawal.value.lot.text(), format_date_long(day_of(withdrawal.happened, withdrawal.offset)), withdrawal.sequence),
        "tell the customer and record it with `told`, then erase");
  }
}

}  // namespace

Result<Erased> erase_customer(Session& session, const ErasingAsked& asked) {
  EvidenceFolder folder{EvidenceFolder::beside(session.entrance().kitchen_file),
                        EvidenceFolder::Opened::to_erase};  // locked until the files are gone
  if (const auto before = session.booked_before()) {
    take_away_erased(session, folder);
    session.store().scrub();
    return Erased{*before, 0, {}};
  }
  Checking checking{session};
  checking.person();
  checking.choice("--because", asked.because, {"the customer asked", "not needed any more"});
  const CakeId id{asked.cake};
  const bool taken_back = session.state().voided.contains(asked.cake) && asked.cake.starts_with("cake-");
  const auto* cake = taken_back ? nullptr : checking.known("cake", session.state().cakes, asked.cake, "cake");
  if (!checking.good()) return checking.refusals();
  const CustomerOfCake customer{session, asked.cake};
  const ToErase erase = customer.left();
  if (erase.empty() && customer.files().empty()) {
    take_away_erased(session, folder);
    session.store().scrub();  // an erasure that was cut off before that is completed here
    return Refusal{"", 0, "cake", fmt::format("nothing left to erase of the customer of {}", asked.cake), "nothing more to do"};
  }
  const ZonedInstant at{session.now(), session.offset_at(session.now())};
  const auto* handed = session.state().hand_over(id);
  std::optional<Judgement> judgement;
  if (cake != nullptr) {
    auto judged = judge_cake(session, id, handed == nullptr ? at : ZonedInstant{handed->happened, handed->offset});
    if (judged) {
      judgement = std::move(judged).value();
    } else {
      checking.take(judged.error());
    }
  }
  const auto terms = session.packs().retention_terms(session.kitchen().retention_rules, session.today());
  if (!terms) checking.take(terms.error());
  if (!checking.good()) return checking.refusals();
  refuse_while_needed(checking, session, id, cake, judgement, *terms);
  refuse_while_held(checking, session, id, judgement);
  if (!checking.good()) return checking.refusals();
  Erasure erasure{id, asked.because, static_cast<std::int64_t>(erase.texts.size()), {}, {}, {}};
  Erased done;
  done.texts = erasure.texts;
  for (const auto& digest : erase.papers) erasure.papers.push_back(to_hex(digest));
  for (const auto& [digest, note] : customer.papers_to_erase()) done.papers.push_back(note);
  std::sort(done.papers.begin(), done.papers.end());
  for (const auto& [digest, note] : customer.files()) {
    const bool there = folder.holds(digest);
    (there ? erasure.files : erasure.files_gone).push_back(to_hex(digest));
    (there ? done.files : done.files_gone).push_back(note);
  }
  for (auto* notes : {&done.files, &done.files_gone}) std::sort(notes->begin(), notes->end());
  for (const auto& [digest, note] : customer.files_of_others()) done.files_of_others.push_back(note);
  // First the note, then the files: one that is there still says so in `verify`, and asking again takes it away.
  done.booked = session.book({session.draft(erasure, asked.cake, at)}, {}, erase);
  take_away_erased(session, folder);
  session.store().scrub();
  return done;
}

}  // namespace tierproof
