#include "tierproof/app/epcis.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <string_view>
#include <utility>
#include <vector>

#include "epcis_writer.h"

namespace tierproof {
namespace {

using epcis::Quantity;

/// An address that names may begin with: `https://`, a host with a port if need be, a path if need be.
bool is_https_address(std::string_view domain) {
  constexpr std::string_view scheme = "https://";
  if (!domain.starts_with(scheme)) return false;
  const auto rest = domain.substr(scheme.size());
  const auto letter_or_digit = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9'); };
  const auto only = [&](std::string_view text, std::string_view besides) {
    return std::all_of(text.begin(), text.end(), [&](char c) { return letter_or_digit(c) || besides.find(c) != std::string_view::npos; });
  };
  if (rest.empty() || !letter_or_digit(rest.front())) return false;
  const auto slash = std::min(rest.find('/'), rest.size());
  const auto host = rest.substr(0, std::min(rest.find(':'), slash));
  const auto port = rest.substr(host.size(), slash - host.size());
  return only(host, ".-") && host.find('.') != std::string_view::npos && host.find("..") == std::string_view::npos && host.back() != '.' &&
         (port.empty() || (port.size() > 1 && port.find_first_not_of("0123456789", 1) == std::string_view::npos)) &&
         only(rest.substr(slash), "/.-_~");
}

/// Tells the notes of a kitchen, one after the other, as events.
class Teller {
 public:
  Teller(const Session& session, const epcis::Names& names, epcis::Writer& writer) : session_{session}, names_{names}, writer_{writer} {}

  /// @return whether there is an event of a note like this one
  bool tell(const Note& note) {
    if (const auto lot = as<Lot>(note)) return received(note, *lot);
    if (const auto batch = as<Batch>(note)) return made(note, *batch);
    if (const auto tier = as<Tier>(note)) return built(note, *tier);
    if (const auto paper = as<PaperIssued>(note)) return boxed(note, *paper);
    if (const auto stay = as<Stay>(note)) return put(note, *stay);
    if (const auto block = as<ReadingsBlock>(note)) return read(note, *block);
    if (const auto gone = as<HandOver>(note)) return handed_over(note, *gone);
    if (const auto thrown = as<Disposal>(note)) return thrown_away(note, *thrown);
    if (const auto out = as<Withdrawal>(note)) return recalled(note, {out->lot.text()});
    if (const auto recall = as<RecallBegun>(note)) return !recall->drill && recalled(note, all_of(*recall));
    if (const auto cleaning = as<Cleaning>(note)) return cleaned(note, *cleaning);
    return false;
  }
  /// A note of a day that was not asked for: a box that was packed then is not packed again by a label that is drawn later.
  void pass_over(const Note& note) {
    if (const auto paper = as<PaperIssued>(note); paper && paper->paper == "label") boxes_.emplace(paper->cake.text(), paper->box);
  }

 private:
  template <class Thing>
  static std::optional<Thing> as(const Note& note) {
    if (note.kind != KindOf<Thing>::kind) return std::nullopt;
    auto read = read_body<Thing>(note.body, fmt::format("note {} ({})", note.sequence, note.kind));
    if (!read) throw Fault{exit_status::configuration, describe(read.error().front())};
    return std::move(read).value();
  }
  void begin(std::string_view type, const Note& note, std::string_view action, std::string_view step, std::string_view disposition) {
    writer_.begin(type, note);
    if (!action.empty()) writer_.word("action", action);
    if (!step.empty()) writer_.word("bizStep", step);
    if (!disposition.empty()) writer_.word("disposition", disposition);
  }
  bool end() {
    writer_.end();
    return true;
  }
  /// The cakes among `subjects` as things, the packs and batches as lots.
  void things(const std::vector<std::string>& subjects, std::optional<Mass> mass) {
    std::vector<std::string> cakes;
    std::vector<Quantity> lots;
    for (const auto& subject : subjects) {
      if (epcis::is_lot(subject)) lots.push_back({names_.lot(subject), mass});
      if (!epcis::is_cake(subject)) continue;
      if (mass) lots.push_back({names_.lot(subject), mass});  // a piece of it: the rest is still there
      if (!mass) cakes.push_back(names_.thing(subject));
    }
    writer_.uris("epcList", cakes);
    writer_.quantities("quantityList", lots);
  }
  /// What was named, and what came of it.
  static std::vector<std::string> all_of(const RecallBegun& recall) {
    std::set<std::string> all{recall.of.begin(), recall.of.end()};
    all.insert(recall.reached.begin(), recall.reached.end());
    return {all.begin(), all.end()};
  }
  static bool any_thing(const std::vector<std::string>& subjects) {
    return std::any_of(subjects.begin(), subjects.end(),
                       [](const std::string& subject) { return epcis::is_lot(subject) || epcis::is_cake(subject); });
  }

  bool received(const Note& note, const Lot& lot) {
    begin("ObjectEvent", note, "ADD", "receiving", "in_progress");
    writer_.quantities("quantityList", {{names_.lot(note.subject), lot.mass}});
    writer_.place(names_.kitchen());
    writer_.party("sourceList", "source", names_.party("supplier", lot.supplier.text()));
    writer_.lot_particulars(lot.code, lot.use_by, lot.best_before);
    return end();
  }

  /// Each batch is a class of its own, of which this is the first use: `commissioning`.
  bool made(const Note& note, const Batch& batch) {
    begin("TransformationEvent", note, "", "commissioning", "in_progress");
    writer_.word("transformationID", names_.making(note.subject));
    std::vector<Quantity> in;
    for (const auto& use : batch.uses) in.push_back({names_.lot(use.of), use.mass});
    writer_.quantities("inputQuantityList", in);
    writer_.quantities("outputQuantityList", {{names_.lot(note.subject), batch.yield}});
    writer_.place(names_.kitchen());
    return end();
  }

  /// The tiers of one cake are parts of one making.
  bool built(const Note& note, const Tier& tier) {
    if (tier.parts.empty()) return false;
    begin("TransformationEvent", note, "", "commissioning", "active");
    writer_.word("transformationID", names_.making(tier.cake.text()));
    std::vector<Quantity> in;
    for (const auto& part : tier.parts) in.push_back({names_.lot(part.batch.text()), part.mass});
    writer_.quantities("inputQuantityList", in);
    writer_.uris("outputEPCList", {names_.thing(tier.cake.text())});
    writer_.place(names_.kitchen());
    return end();
  }

  /// A cake is packed when the label of its box is issued: the records tell of no other moment. A label drawn again packs nothing.
  bool boxed(const Note& note, const PaperIssued& paper) {
    if (paper.paper != "label" || paper.cake.empty() || paper.box < 1) return false;
    if (!boxes_.emplace(paper.cake.text(), paper.box).second) return false;
    const auto cake = session_.state().cakes.find(paper.cake);
    const bool known = cake != session_.state().cakes.end();
    if (known && cake->second.value.boxed == "not boxed") return false;
    const bool whole = known && cake->second.value.boxes == 1;
    begin("AggregationEvent", note, "ADD", "packing", "container_closed");
    writer_.word("parentID", names_.thing(fmt::format("{}-box-{}", paper.cake.text(), paper.box)));
    if (whole) {
      writer_.uris("childEPCs", {names_.thing(paper.cake.text())});
    } else {
      writer_.one_piece("childQuantityList", names_.lot(paper.cake.text()));  // some of it: nobody weighed how much
    }
    writer_.place(names_.kitchen());
    return end();
  }

  bool put(const Note& note, const Stay& stay) {
    if (!any_thing({stay.what})) return false;
    begin("ObjectEvent", note, "OBSERVE", "storing", "in_progress");
    things({stay.what}, std::nullopt);
    writer_.place(names_.location(stay.place.text()));
    return end();
  }

  bool read(const Note& note, const ReadingsBlock& block) {
    Recorded<ReadingsBlock> recorded;
    recorded.value = block;
    recorded.sequence = note.sequence;
    const auto readings = session_.readings(recorded);
    if (readings.empty()) return false;
    const bool of_a_place = session_.state().places.contains(PlaceId{block.about});
    begin("ObjectEvent", note, "OBSERVE", any_thing({block.about}) ? "inspecting" : "sensor_reporting", "");
    things({block.about}, std::nullopt);  // of food it is said which; the readings of a place stand alone
    writer_.place(of_a_place ? names_.location(block.about) : names_.kitchen());
    writer_.readings(readings, note.offset, names_.hashed_thing("thermometer", block.probe.text()));
    return end();
  }

  bool handed_over(const Note& note, const HandOver& gone) {
    begin("ObjectEvent", note, "OBSERVE", "retail_selling", "retail_sold");
    writer_.uris("epcList", {names_.thing(gone.cake.text())});
    writer_.place(names_.kitchen());
    writer_.party("destinationList", "destination", names_.customer(gone.cake.text()));
    if (gone.degrees) writer_.reading(*gone.degrees);
    return end();
  }

  bool thrown_away(const Note& note, const Disposal& thrown) {
    if (!any_thing({thrown.what})) return false;
    begin("ObjectEvent", note, "DELETE", "destroying", "destroyed");
    things({thrown.what}, thrown.mass);
    writer_.place(names_.kitchen());
    return end();
  }

  bool recalled(const Note& note, const std::vector<std::string>& subjects) {
    if (!any_thing(subjects)) return false;
    begin("ObjectEvent", note, "OBSERVE", "holding", "recalled");
    writer_.persistent("recalled");
    things(subjects, std::nullopt);
    writer_.place(names_.kitchen());
    return end();
  }

  /// The vocabulary has no word for it, so the step goes by a URI of our own.
  bool cleaned(const Note& note, const Cleaning& cleaning) {
    begin("ObjectEvent", note, "OBSERVE", names_.step("cleaning"), "");
    writer_.uris("epcList", {names_.hashed_thing("kit", cleaning.equipment.text())});
    writer_.place(names_.kitchen());
    return end();
  }

  const Session& session_;
  const epcis::Names& names_;
  epcis::Writer& writer_;
  std::set<std::pair<std::string, std::int64_t>> boxes_;
};

}  // namespace

Result<EpcisDocument> epcis_document(const Session& session, const EpcisWanted& wanted) {
  Refusals refusals;
  if (!wanted.domain.empty() && !is_https_address(wanted.domain)) {
    refusals.push_back({"", 0, "domain", fmt::format("\"{}\" is no https address", wanted.domain),
                        "write https:// and a domain that the business holds, https://kitchen.example"});
  }
  if (wanted.from && wanted.until && *wanted.until < *wanted.from) {
    refusals.push_back({"", 0, "until", fmt::format("{} is before {}", format_date(*wanted.until), format_date(*wanted.from)),
                        "name the first day with --from and the last with --until"});
  }
  if (!refusals.empty()) return refusals;

  std::vector<Note> notes;
  for (const auto& entry : session.store().entries(1, session.head().size)) notes.push_back(note_of(entry));
  // A chain of corrections is told whole, so that a declaration of an error never names an event that is left out.
  std::map<std::uint64_t, std::uint64_t> first;     // of the chain of a note
  std::map<std::uint64_t, const Note*> taken_back;  // by which note
  std::set<std::uint64_t> chosen;                   // chains
  for (const auto& note : notes) {
    const auto before = note.supersedes ? first.find(*note.supersedes) : first.end();
    const auto chain = first[note.sequence] = before == first.end() ? note.sequence : before->second;
    if (note.supersedes) taken_back[*note.supersedes] = &note;
    const Date day = day_of(note.happened, note.offset);
    if ((!wanted.from || day >= *wanted.from) && (!wanted.until || day <= *wanted.until)) chosen.insert(chain);
  }
  std::string domain = wanted.domain.empty() ? "https://example.invalid" : wanted.domain;
  while (domain.ends_with('/')) domain.pop_back();
  const std::string kitchen = session.store().entries(1, 1).front().kitchen;
  const epcis::Names names{domain, kitchen, session.kitchen().demo};
  epcis::Writer writer{names, session.now(), session.offset_at(session.now())};
  Teller teller{session, names, writer};
  for (const auto& note : notes) {
    if (note.body.is_null()) continue;
    if (!chosen.contains(first[note.sequence])) {
      teller.pass_over(note);
      continue;
    }
    const auto by = taken_back.find(note.sequence);
    writer.declare_error(by == taken_back.end() ? nullptr : by->second);
    teller.tell(note);
  }
  if (writer.events() == 0)
    return Refusal{"", 0, "from", "nothing happened then that an event could tell of",
                   "choose other days, or record what was received and made first"};
  const std::int64_t events = writer.events();
  return EpcisDocument{writer.text(), events};
}

}  // namespace tierproof
