#include "later_entries.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>
#include <utility>

namespace tierproof {
namespace {

constexpr std::array<std::pair<std::string_view, std::string_view>, 54> kinds_in_words{{
    {KindOf<Kitchen>::kind, "particulars of the kitchen"},
    {KindOf<Person>::kind, "person of the kitchen"},
    {KindOf<Supplier>::kind, "supplier"},
    {KindOf<Ingredient>::kind, "ingredient"},
    {KindOf<Specification>::kind, "what the pack says"},
    {KindOf<Lot>::kind, "pack"},
    {KindOf<Withdrawal>::kind, "pack withdrawn"},
    {KindOf<Equipment>::kind, "piece of kit"},
    {KindOf<Place>::kind, "place"},
    {KindOf<Probe>::kind, "thermometer"},
    {KindOf<ProbeCheckMade>::kind, "thermometer check"},
    {KindOf<Recipe>::kind, "recipe"},
    {KindOf<Batch>::kind, "batch"},
    {KindOf<ReadingsBlock>::kind, "temperatures read"},
    {KindOf<Stay>::kind, "put in its place"},
    {KindOf<Cake>::kind, "order"},
    {KindOf<AllergyAnswer>::kind, "answer to the allergy question"},
    {KindOf<Acceptance>::kind, "traces accepted in writing"},
    {KindOf<Tier>::kind, "tier"},
    {KindOf<Cleaning>::kind, "cleaning"},
    {KindOf<Validation>::kind, "evidence that a heat step works"},
    {KindOf<CleaningValidated>::kind, "evidence that a way of cleaning works"},
    {KindOf<EquipmentChanged>::kind, "piece of kit changed"},
    {KindOf<Adopted>::kind, "published heating reference adopted"},
    {KindOf<Keeping>::kind, "how it keeps, measured or advised"},
    {KindOf<Release>::kind, "release"},
    {KindOf<HandOver>::kind, "hand-over"},
    {KindOf<PaperIssued>::kind, "paper printed"},
    {KindOf<Tub>::kind, "tub"},
    {KindOf<TopUp>::kind, "tub topped up"},
    {KindOf<Emptied>::kind, "tub emptied and washed"},
    {KindOf<Opened>::kind, "pack opened"},
    {KindOf<ColumnMapKept>::kind, "columns of a logger's file"},
    {KindOf<Told>::kind, "words told to a customer"},
    {KindOf<Deviation>::kind, "something went wrong"},
    {KindOf<DeviationClosed>::kind, "what went wrong was closed"},
    {KindOf<Complaint>::kind, "complaint"},
    {KindOf<ComplaintClosed>::kind, "complaint closed"},
    {KindOf<Disposal>::kind, "thrown away"},
    {KindOf<RecallBegun>::kind, "recall begun"},
    {KindOf<RecallTick>::kind, "step of a recall"},
    {KindOf<RecallClosed>::kind, "recall closed"},
    {KindOf<Missed>::kind, "check missed"},
    {KindOf<RegularSort>::kind, "sort of regular record"},
    {KindOf<RegularDone>::kind, "regular record"},
    {KindOf<DayOff>::kind, "days on which nobody works"},
    {KindOf<PrecautionDecided>::kind, "decision on \"may contain\""},
    {KindOf<Erasure>::kind, "personal data erased"},
    {KindOf<SpecificationLooked>::kind, "pack looked at again, it says the same"},
    {KindOf<RuleConfirmed>::kind, "rule confirmed"},
    {KindOf<HazardPlan>::kind, "hazard plan"},
    {KindOf<PlanReviewed>::kind, "hazard plan reviewed"},
    {KindOf<Advice>::kind, "advice of an officer"},
    {KindOf<Evidence>::kind, "picture or document attached"},
}};

/// The ids that tell of a cake: its own, of all that is in it, and of what it was worked, kept and measured with.
std::set<std::string> ids_about(const State& state, const Judgement& judgement) {
  std::set<std::string> about{judgement.cake.text()};
  for (const auto& batch : judgement.parts.batches) about.insert(batch.id.text());
  for (const auto& lot : judgement.parts.lots) {
    about.insert(lot.id.text());
    about.insert(lot.ingredient.id.text());
  }
  for (const auto& stay : state.stays) {
    if (about.contains(stay.value.what)) about.insert(stay.value.place.text());
  }
  for (const auto& block : state.readings) {
    if (about.contains(block.value.about)) about.insert(block.value.probe.text());
  }
  for (const auto& facts : judgement.parts.batches) {
    const auto batch = state.batches.find(facts.id);
    if (batch == state.batches.end()) continue;
    about.insert(batch->second.value.recipe.text());
    for (const auto& kit : batch->second.value.kit) about.insert(kit.text());
  }
  for (const auto& [id, complaint] : state.complaints) {
    if (complaint.value.cake == judgement.cake) about.insert(id.text());
  }
  return about;
}

}  // namespace

std::string_view words_of_kind(std::string_view kind) {
  const auto found = std::find_if(kinds_in_words.begin(), kinds_in_words.end(), [&](const auto& each) { return each.first == kind; });
  if (found == kinds_in_words.end()) throw Fault{exit_status::our_bug, fmt::format("no words are written for notes of the kind {}", kind)};
  return found->second;
}

std::vector<std::string> later_entries(const Session& session, const Judgement& judgement) {
  const auto* handed = session.state().hand_over(judgement.cake);
  if (handed == nullptr) return {};
  const std::set<std::string> about = ids_about(session.state(), judgement);
  std::vector<std::string> lines;
  for (const auto& note : session.notes()) {
    // A paper says nothing new, and what is washed later has nothing to do with this cake.
    if (note.kind == KindOf<PaperIssued>::kind || note.kind == KindOf<Cleaning>::kind) continue;
    if (note.sequence <= handed->sequence || !about.contains(note.subject)) continue;
    // A regular record may go by the same name as a place or piece of kit, and tells of neither.
    const Json* of = note.kind == KindOf<Missed>::kind && note.body.is_object() ? note.body.find("of") : nullptr;
    if (of != nullptr || note.kind == KindOf<RegularSort>::kind || note.kind == KindOf<RegularDone>::kind) continue;
    const char* change = note.body.is_null() ? ", taken back" : note.supersedes ? ", corrected" : "";
    lines.push_back(fmt::format("note {}: {} ({}){}, written {}", note.sequence, words_of_kind(note.kind), note.subject, change,
                                format_moment(note.written, note.offset)));
  }
  return lines;
}

}  // namespace tierproof
