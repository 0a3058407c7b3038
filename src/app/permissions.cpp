#include "tierproof/app/permissions.h"

#include <fmt/format.h>

#include <algorithm>

#include "answers.h"
#include "checking.h"
#include "later_entries.h"
#include "tierproof/app/session.h"

namespace tierproof {
namespace {

constexpr Authority anybody = Authority::helper;
constexpr Authority owner_alone = Authority::owner;

std::string_view words_for(Deed deed) {
  switch (deed) {
    case Deed::release_against:
      return "release a cake against what stops it";
    case Deed::lessen_allergy:
      return "take back an allergy that a customer named";
    case Deed::spare_precaution:
      return "decide that \"may contain\" is not needed";
    case Deed::correct_two_point:
      return "correct a thermometer's readings by its checks";
    case Deed::let_in_device:
      return "let a tablet or telephone in";
    case Deed::shut_out_device:
      return "shut a tablet or telephone out";
    case Deed::set_pin_of_another:
      return "set somebody else's PIN";
    case Deed::unlock_person:
      return "let somebody try again after ten wrong PINs";
    case Deed::add_sensor:
      return "give a sensor its token";
    case Deed::revoke_sensor:
      return "take a sensor's token back";
    case Deed::open_for_officer:
      return "open the records for an officer";
    case Deed::see_the_door:
      return "see who came in";
  }
  return "";
}

/// Short names of the owners who work here, in order.
std::vector<std::string> working_owners(const State& state, Date on) {
  std::vector<std::string> owners;
  for (const auto& [id, person] : state.people) {
    if (person.value.role == "owner" && works_here(person.value, on)) owners.push_back(id.text());
  }
  return owners;
}

NotPermitted not_permitted(const Session& session, Authority authority, std::string_view to_do) {
  const auto& entrance = session.entrance();
  if (authority == Authority::officer)
    return NotPermitted{{"", 0, "", "this view only reads: nothing is recorded from it", "sign in as somebody who works here"}};
  if (authority == Authority::sensor)
    return NotPermitted{{"", 0, "", fmt::format("a sensor of {} may record its readings and nothing else", entrance.sensor_of),
                         "record it as somebody who works here"}};
  return NotPermitted{{"", 0, "", fmt::format("only an owner may {}; {} is a {}", to_do, entrance.person, word_of(authority)),
                       fmt::format("let {} do it", fmt::join(working_owners(session.state(), session.today()), " or "))}};
}

/// Whether the new answer may concern less than the one that it takes the place of.
bool lessens(const AllergyAnswer& before, const AllergyAnswer& now) {
  if (before.answer != "named") return false;  // "none" and "not asked" named nothing
  if (now.answer != "named" || !before.allergens.text || !now.allergens.text) return true;
  const auto are = split_keys(now.allergens);
  const auto is_named = [&](const std::string& key) { return std::find(are.begin(), are.end(), key) != are.end(); };
  const auto were = split_keys(before.allergens);
  return !std::all_of(were.begin(), were.end(), is_named);
}

/// What of a draft is for an owner although its kind lets a helper.
std::optional<Deed> owners_deed(const State& state, const Draft& draft, const std::vector<SealedText>& sealed) {
  if (draft.body.is_null()) return draft.kind == KindOf<AllergyAnswer>::kind ? std::optional{Deed::lessen_allergy} : std::nullopt;
  if (draft.kind == KindOf<Release>::kind) {
    const auto release = read_body<Release>(draft.body, "");
    if (!release || !release->against.empty()) return Deed::release_against;
  }
  if (draft.kind == KindOf<PrecautionDecided>::kind) {
    const auto decided = read_body<PrecautionDecided>(draft.body, "");
    if (!decided || decided->decision != "told") return Deed::spare_precaution;
  }
  if (draft.kind == KindOf<AllergyAnswer>::kind && draft.supersedes) {
    const Unseal unseal = [&](const std::string& ref) -> std::optional<std::string> {
      const auto found = std::find_if(sealed.begin(), sealed.end(), [&](const SealedText& text) { return text.ref == ref; });
      return found == sealed.end() ? std::nullopt : std::optional{found->text};
    };
    const auto now = read_body<AllergyAnswer>(draft.body, "", unseal);
    const auto* before = state.answer(CakeId{draft.subject});
    if (!now || before == nullptr || lessens(before->value, *now)) return Deed::lessen_allergy;
  }
  return std::nullopt;
}

/// Readings of the sensor's own thermometer, told for the first time.
bool is_of_sensor(const Draft& draft, const std::string& probe) {
  if (draft.kind != KindOf<ReadingsBlock>::kind || draft.supersedes || draft.body.is_null()) return false;
  const auto block = read_body<ReadingsBlock>(draft.body, "");
  return block && block->probe.text() == probe;
}

}  // namespace

std::string_view word_of(Authority authority) {
  switch (authority) {
    case Authority::owner:
      return "owner";
    case Authority::helper:
      return "helper";
    case Authority::officer:
      return "officer";
    case Authority::sensor:
      return "sensor";
  }
  return "";
}

const std::vector<KindPermission>& kind_permissions() {
  static const std::vector<KindPermission> table{
      // What the kitchen is, and who works in it.
      {KindOf<Kitchen>::kind, owner_alone, owner_alone},
      {KindOf<Person>::kind, owner_alone, owner_alone},
      {KindOf<RegularSort>::kind, owner_alone, owner_alone},
      // Things that work goes by. A thermometer's error decides every verdict on its readings.
      {KindOf<Supplier>::kind, anybody, anybody},
      {KindOf<Ingredient>::kind, anybody, anybody},
      {KindOf<Specification>::kind, anybody, anybody},
      {KindOf<SpecificationLooked>::kind, anybody, anybody},
      {KindOf<Recipe>::kind, anybody, anybody},
      {KindOf<Equipment>::kind, anybody, anybody},
      {KindOf<Place>::kind, anybody, anybody},
      {KindOf<Tub>::kind, anybody, anybody},
      {KindOf<ColumnMapKept>::kind, anybody, anybody},
      {KindOf<Probe>::kind, anybody, owner_alone},
      // The day's work.
      {KindOf<Lot>::kind, anybody, anybody},
      {KindOf<Opened>::kind, anybody, anybody},
      {KindOf<TopUp>::kind, anybody, anybody},
      {KindOf<Emptied>::kind, anybody, anybody},
      {KindOf<Batch>::kind, anybody, anybody},
      {KindOf<ReadingsBlock>::kind, anybody, anybody},
      {KindOf<ProbeCheckMade>::kind, anybody, anybody},
      {KindOf<Stay>::kind, anybody, anybody},
      {KindOf<Cleaning>::kind, anybody, anybody},
      {KindOf<Disposal>::kind, anybody, anybody},
      {KindOf<Missed>::kind, anybody, anybody},
      {KindOf<RegularDone>::kind, anybody, anybody},
      {KindOf<DayOff>::kind, anybody, anybody},
      {KindOf<Evidence>::kind, anybody, anybody},
      {KindOf<Advice>::kind, anybody, anybody},
      // Orders, and what customers say: what stops a cake is written by anybody, and taken back by an owner.
      {KindOf<Cake>::kind, anybody, anybody},
      {KindOf<Tier>::kind, anybody, anybody},
      {KindOf<AllergyAnswer>::kind, anybody, anybody},  // but see `lessen_allergy`
      {KindOf<Acceptance>::kind, anybody, owner_alone},
      {KindOf<Told>::kind, anybody, anybody},
      {KindOf<Release>::kind, anybody, owner_alone},
      {KindOf<HandOver>::kind, anybody, owner_alone},
      {KindOf<PaperIssued>::kind, anybody, owner_alone},
      {KindOf<PrecautionDecided>::kind, anybody, owner_alone},
      // What went wrong: anybody raises a stop and sees to it, an owner takes one back.
      {KindOf<Withdrawal>::kind, anybody, owner_alone},
      {KindOf<EquipmentChanged>::kind, anybody, owner_alone},
      {KindOf<Deviation>::kind, anybody, owner_alone},
      {KindOf<DeviationClosed>::kind, anybody, anybody},
      {KindOf<Complaint>::kind, anybody, owner_alone},
      {KindOf<ComplaintClosed>::kind, anybody, anybody},
      {KindOf<RecallBegun>::kind, anybody, owner_alone},
      {KindOf<RecallTick>::kind, anybody, anybody},
      {KindOf<RecallClosed>::kind, owner_alone, owner_alone},
      // What verdicts rest on beyond the records of the day.
      {KindOf<HazardPlan>::kind, owner_alone, owner_alone},
      {KindOf<PlanReviewed>::kind, owner_alone, owner_alone},
      {KindOf<Adopted>::kind, owner_alone, owner_alone},
      {KindOf<Validation>::kind, owner_alone, owner_alone},
      {KindOf<CleaningValidated>::kind, owner_alone, owner_alone},
      {KindOf<Keeping>::kind, owner_alone, owner_alone},
      {KindOf<RuleConfirmed>::kind, owner_alone, owner_alone},
      // What cannot be undone.
      {KindOf<Erasure>::kind, owner_alone, owner_alone},
  };
  return table;
}

const KindPermission& permission_of(std::string_view kind) {
  const auto& table = kind_permissions();
  const auto found = std::find_if(table.begin(), table.end(), [&](const KindPermission& row) { return row.kind == kind; });
  if (found == table.end()) throw Fault{exit_status::our_bug, fmt::format("nothing says who may record notes of the kind {}", kind)};
  return *found;
}

bool may(Authority authority, Deed) { return authority == Authority::owner; }

std::optional<Authority> authority_of(const State& state, const std::string& person, Date on) {
  const auto found = state.people.find(PersonId{person});
  if (found == state.people.end() || !works_here(found->second.value, on)) return std::nullopt;
  if (found->second.value.role == "owner" || working_owners(state, on).empty()) return Authority::owner;
  return Authority::helper;
}

std::optional<Authority> authority_of(const Session& session) {
  const Entrance& entrance = session.entrance();
  if (entrance.reads_only) return Authority::officer;
  if (!entrance.sensor_of.empty()) return Authority::sensor;
  return authority_of(session.state(), entrance.person, session.today());
}

void require_authority(const Session& session, Deed deed) {
  const auto authority = authority_of(session);
  if (!authority) {
    throw NotPermitted{{"", 0, "--by", fmt::format("only somebody who works here may {}", words_for(deed)),
                        "name yourself with --by, as you stand in the records"}};
  }
  if (!may(*authority, deed)) throw not_permitted(session, *authority, words_for(deed));
}

void require_recording(const Session& session) {
  if (session.entrance().reads_only) throw not_permitted(session, Authority::officer, "");
}

void require_may_book(const Session& session, const std::vector<Draft>& drafts, const std::vector<SealedText>& sealed) {
  require_recording(session);
  const auto authority = authority_of(session);
  for (const Draft& draft : drafts) {
    if (authority == Authority::sensor) {
      if (!is_of_sensor(draft, session.entrance().sensor_of)) throw not_permitted(session, *authority, "");
      continue;
    }
    const KindPermission& row = permission_of(draft.kind);
    if (authority == Authority::owner || draft.how == Arrival::scheduled) continue;
    if (!authority) {
      throw NotPermitted{{"", 0, "--by", fmt::format("only somebody who works here may record \"{}\"", words_of_kind(draft.kind)),
                          "name whoever records it with --by, as they stand in the records"}};
    }
    if ((draft.supersedes ? row.changes : row.books) == Authority::owner) {
      const char* verb = draft.supersedes ? "correct or take back" : "record";
      throw not_permitted(session, *authority, fmt::format("{} \"{}\"", verb, words_of_kind(draft.kind)));
    }
    if (const auto deed = owners_deed(session.state(), draft, sealed)) throw not_permitted(session, *authority, words_for(*deed));
  }
}

}  // namespace tierproof
