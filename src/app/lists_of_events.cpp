#include "kit.h"
#include "list_rows.h"
#include "tierproof/app/confirming.h"

namespace tierproof {
namespace {

/// Every reading of one block from `begin` until before `end`, a row each; of a fault, what the thermometer wrote.
std::vector<DataRow> readings_of(const Session& session, const Recorded<ReadingsBlock>& r, Instant begin, Instant end) {
  const ReadingsBlock& block = r.value;
  std::vector<DataRow> rows;
  for (const auto& reading : session.readings(r)) {
    if (reading.at < begin || end <= reading.at) continue;
    rows.push_back(cells(utc(reading.at), ZonedInstant{reading.at, session.offset_at(reading.at)}, degrees_cell(reading.degrees),
                         unit_cell(reading.degrees), reading.fault, block.probe, block.about, block.purpose, block.mark));
  }
  return rows;
}

}  // namespace

KitchenList temperatures_between(Instant begin, Instant end) {
  return list_of_parts<ReadingsBlock>("temperatures", "every reading of every thermometer", &State::readings,
                                      {"at_utc", "at_local", "value", "unit", "fault", "thermometer", "about", "purpose", "mark"},
                                      [begin, end](const Session& session, const Recorded<ReadingsBlock>& block) {
                                        const bool none = block.value.last < begin || end <= block.value.first;
                                        return none ? std::vector<DataRow>{} : readings_of(session, block, begin, end);
                                      });
}

namespace {

std::vector<KitchenList> lists_of_checks() {
  return {
      list_of<ProbeCheckMade>("thermometer-checks", "thermometers compared in ice or boiling water", &State::checks,
                              {"thermometer", "in", "value", "unit", "station_pressure_hpa", "correction"},
                              [](const Session&, const Recorded<ProbeCheckMade>& r) {
                                return cells(r.value.probe, r.value.method, degrees_cell(r.value.read), unit_cell(r.value.read),
                                             scaled_cell(r.value.pressure_pa, 2), r.value.correction);
                              }),
      temperatures_between(Instant::min(), Instant::max()),
      list_of<ReadingsBlock>("temperature-files", "readings as they came in: a row a file or typed reading", &State::readings,
                             {"thermometer", "about", "purpose", "readings", "first_utc", "last_utc", "mark", "file", "file_bytes",
                              "file_sha256", "column_map", "sha256"},
                             [](const Session&, const Recorded<ReadingsBlock>& r) {
                               const ReadingsBlock& b = r.value;
                               return cells(b.probe, b.about, b.purpose, b.count, utc(b.first), utc(b.last), b.mark, b.file, b.file_bytes,
                                            b.file_sha256, b.format, b.sha256);
                             }),
      list_of<Stay>("stays", "where batches and cakes were put", &State::stays, {"what", "place", "what_for", "marked_utc", "procedure"},
                    [](const Session&, const Recorded<Stay>& r) {
                      return cells(r.value.what, r.value.place, r.value.use, r.value.marked ? utc(*r.value.marked) : DataCell{},
                                   r.value.procedure);
                    }),
      list_of<Cleaning>("cleanings", "kit that was cleaned, and how well that is known", &State::cleanings,
                        {"kit", "cleaned", "tested", "tested_for", "found", "counts_as"},
                        [](const Session& session, const Recorded<Cleaning>& r) {
                          const Cleaning& c = r.value;
                          return cells(c.equipment, c.grade, c.tested, c.clears, c.found, clearing_of(session.state(), r).words);
                        }),
      list_of<CleaningValidated>("validated-cleanings", "evidence that a way of cleaning takes an allergen off",
                                 &State::cleanings_validated,
                                 {"kit", "method", "allergens", "worst_case", "recipe_note", "made_by", "kept", "on"},
                                 [](const Session&, const Recorded<CleaningValidated>& r) {
                                   const CleaningValidated& v = r.value;
                                   return cells(v.equipment, v.method, v.allergens, v.recipe, v.recipe_version, v.by, v.kept, v.made);
                                 }),
      list_of<EquipmentChanged>("kit-changes", "kit that is not what it was", &State::equipment_changes, {"kit", "what"},
                                [](const Session&, const Recorded<EquipmentChanged>& r) { return cells(r.value.equipment, r.value.what); }),
      list_of<Missed>("missed-checks", "checks that were not made", &State::missed, {"about", "day", "because", "remark", "of"},
                      [](const Session&, const Recorded<Missed>& r) {
                        return cells(r.value.about, r.value.day, r.value.because, r.value.note, r.value.of);
                      }),
      list_of<PrecautionDecided>(
          "precautions", "decisions whether \"may contain\" is told", &State::precautions,
          {"about", "allergen", "decision", "why", "what_may_get_in", "amount_g", "protein_percent", "slice_g", "pieces"},
          [](const Session&, const Recorded<PrecautionDecided>& r) {
            const PrecautionDecided& p = r.value;
            return cells(p.about, p.allergen, p.decision, p.why, p.what, p.amount, scaled_cell(p.protein_ppm, 4), p.slice, p.pieces);
          }),
      list_of<Adopted>("adopted-references", "published references for heating, not law, that the plan adopts", &State::adopted,
                       {"recipe", "recipe_note", "reference", "water_activity", "measured", "why"},
                       [](const Session&, const Recorded<Adopted>& r) {
                         const Adopted& a = r.value;
                         return cells(a.recipe, a.recipe_version, a.row, scaled_cell(a.water_activity_millionths, 6), a.measured, a.why);
                       }),
      list_of<Keeping>("keeping", "what was measured, or a body wrote, of how recipes and finished cakes keep", &State::keepings,
                       {"of", "recipe_notes", "from", "water_activity", "water_activity_error", "ph", "ph_error", "method", "keep_in",
                        "days", "says", "measured_or_written_by", "made", "kept"},
                       [](const Session&, const Recorded<Keeping>& r) {
                         const Keeping& k = r.value;
                         std::vector<std::string> notes;
                         for (const auto& recipe : k.of) notes.push_back(fmt::format("{}", recipe.recipe_version));
                         return cells(r.subject, fmt::format("{}", fmt::join(notes, " ")), k.from, scaled_cell(k.water_activity_e4, 4),
                                      scaled_cell(k.water_activity_error_e4, 4), scaled_cell(k.ph_hundredths, 2),
                                      scaled_cell(k.ph_error_hundredths, 2), k.method, k.place, k.days, k.says, k.by, k.made, k.kept);
                       }),
      list_of<Validation>(
          "validations", "evidence on file that a heat step works", &State::validations,
          {"recipe", "recipe_note", "value", "unit", "hold_s", "made_by", "kept", "made"},
          [](const Session&, const Recorded<Validation>& r) {
            const Validation& v = r.value;
            return cells(v.recipe, v.recipe_version, degrees_cell(v.at), unit_cell(v.at), ExactDecimal{v.hold_ms, 3}, v.by, v.kept, v.made);
          }),
  };
}

std::vector<KitchenList> lists_of_packs() {
  return {
      list_of<Withdrawal>("withdrawals", "packs that must not be used any more", &State::withdrawals, {"pack", "why"},
                          [](const Session&, const Recorded<Withdrawal>& r) { return cells(r.value.lot, r.value.why); }),
      list_of<Opened>("opened-packs", "packs that were opened", &State::opened, {"pack"},
                      [](const Session&, const Recorded<Opened>& r) { return cells(r.value.lot); }),
      list_of<TopUp>("top-ups", "packs that were poured into a tub", &State::top_ups, {"tub", "pack"},
                     [](const Session&, const Recorded<TopUp>& r) { return cells(r.value.tub, r.value.lot); }),
      list_of<Emptied>("tubs-emptied", "tubs that were emptied and washed", &State::emptied, {"tub"},
                       [](const Session&, const Recorded<Emptied>& r) { return cells(r.value.tub); }),
      list_of<Disposal>("disposals", "what was thrown away; no mass: all that was left", &State::disposals, {"what", "mass_g", "why"},
                        [](const Session&, const Recorded<Disposal>& r) { return cells(r.value.what, r.value.mass, r.value.why); }),
  };
}

/// A row for each finding that the cake was released against, or one with none.
std::vector<DataRow> release_rows(const Session&, const Recorded<Release>& r) {
  std::vector<DataRow> rows;
  for (const auto& against : r.value.against)
    rows.push_back(
        cells(r.value.cake, r.value.judged_at, against.control, against.subject, against.verdict, against.finding, against.reason));
  if (rows.empty()) rows.push_back(cells(r.value.cake, r.value.judged_at, "", "", "", "", ""));
  return rows;
}

std::vector<KitchenList> lists_of_customers() {
  return {
      list_of<AllergyAnswer>("allergy-answers", "answers to the allergy question", &State::answers,
                             {"cake", "answer", "allergens", "of_whom", "told"},
                             [](const Session&, const Recorded<AllergyAnswer>& r) {
                               const AllergyAnswer& a = r.value;
                               return cells(a.cake, a.answer, a.allergens, a.of_whom, a.told);
                             }),
      list_of<Acceptance>(
          "accepted", "customers' written yes to traces", &State::acceptances, {"cake", "allergens", "written"},
          [](const Session&, const Recorded<Acceptance>& r) { return cells(r.value.cake, r.value.allergens, r.value.written); }),
      list_of<Told>("told", "what customers were told, in the words told", &State::told, {"cake", "when", "to", "words", "ready_text"},
                    [](const Session&, const Recorded<Told>& r) {
                      return cells(r.value.cake, r.value.when, r.value.to, r.value.words, r.value.text);
                    }),
      list_of_parts<Release>("releases", "decisions that a cake may leave, a row a finding that it was released against", &State::releases,
                             {"cake", "judged_at_note", "control", "about", "verdict", "finding", "reason"}, release_rows),
      list_of<HandOver>("hand-overs", "cakes that were handed over", &State::hand_overs, {"cake", "to", "told", "value", "unit"},
                        [](const Session&, const Recorded<HandOver>& r) {
                          const HandOver& h = r.value;
                          return cells(h.cake, h.to, h.told, degrees_cell(h.degrees), unit_cell(h.degrees));
                        }),
      list_of<PaperIssued>("papers", "labels and records that were issued", &State::papers,
                           {"cake", "about", "paper", "form", "stock", "box", "head", "program", "rules", "sha256"},
                           [](const Session&, const Recorded<PaperIssued>& r) {
                             const PaperIssued& p = r.value;
                             return cells(p.cake, p.cake.empty() ? r.subject : "", p.paper, p.form, p.stock,
                                          p.box == 0 ? DataCell{} : cell_of(p.box), p.head, p.program, p.rules, p.sha256);
                           }),
      list_of<Erasure>("erasures", "personal data of customers, names of who left and words of regular records that were erased",
                       &State::erasures, {"cake", "because", "texts_erased", "papers_erased", "what", "about"},
                       [](const Session&, const Recorded<Erasure>& r) {
                         return cells(r.value.cake, r.value.because, r.value.texts, std::uint64_t{r.value.papers.size()},
                                      r.value.what.empty() ? std::string{"customer"} : r.value.what, r.subject);
                       }),
  };
}

/// Rows from memory have no note of their own until somebody confirms one: of those, how the confirmation came in.
KitchenList list_of_rules_from_memory() {
  std::vector<std::string> headings{"row", "rules", "set", "clause", "source", "review_by", "confirmed", "changed"};
  headings.insert(headings.end(), record_headings().begin(), record_headings().end());
  return {"rules-from-memory",
          "rows of the rules that nobody read, and who confirmed them",
          {std::string{KindOf<RuleConfirmed>::kind}},
          std::move(headings),
          [](const Session& session, std::size_t) {
            std::vector<DataRow> rows;
            for (const auto& from : rows_from_memory(session, session.today())) {
              DataRow row = cells(from.row.id, from.code, from.set, from.row.clause, from.row.source_title, from.row.review_by,
                                  from.confirmed, from.changed);
              const Recorded<RuleConfirmed>* last = nullptr;
              for (const auto& confirmed : session.state().confirmed) {
                const bool of = confirmed.value.jurisdiction == from.code || confirmed.value.jurisdiction == from.row.jurisdiction;
                if (of && confirmed.value.row == from.row.id) last = &confirmed;
              }
              const DataRow noted = last == nullptr ? DataRow(record_headings().size()) : record_cells(*last);
              row.insert(row.end(), noted.begin(), noted.end());
              rows.push_back(std::move(row));
            }
            return rows;
          }};
}

std::vector<KitchenList> lists_of_declarations() {
  return {
      list_of<SpecificationLooked>("looked-again", "packs that were compared with what is on file again, the same", &State::looked,
                                   {"ingredient", "specification_note", "looked", "against"},
                                   [](const Session&, const Recorded<SpecificationLooked>& r) {
                                     return cells(r.subject, r.value.specification, r.value.checked, r.value.checked_against);
                                   }),
      list_of<RuleConfirmed>("rules-confirmed", "rules from memory that somebody who knows confirmed", &State::confirmed,
                             {"row", "rules", "clause", "body", "told_by"},
                             [](const Session&, const Recorded<RuleConfirmed>& r) {
                               const RuleConfirmed& c = r.value;
                               return cells(c.row, c.jurisdiction, c.clause, c.body, c.told_by);
                             }),
      list_of_rules_from_memory(),
  };
}

/// Who closed something, and when.
template <class Closing>
std::pair<DataCell, DataCell> closed_cells(const Recorded<Closing>* closing) {
  if (closing == nullptr) return {};
  return {utc(closing->happened), cell_of(closing->person)};
}

std::vector<KitchenList> lists_of_trouble() {
  std::vector<KitchenList> lists{
      list_of<Deviation>(
          "deviations", "what went wrong, and how it was closed", &State::deviations,
          {"deviation", "about", "shown_by", "control", "what", "open", "food", "cause", "action", "closed_utc", "closed_by"},
          [](const Session& session, const Recorded<Deviation>& r) {
            const Deviation& d = r.value;
            const auto* closing = session.state().closed(DeviationId{r.subject});
            const auto [when, who] = closed_cells(closing);
            const DeviationClosed none;
            const DeviationClosed& end = closing == nullptr ? none : closing->value;
            return cells(r.subject, d.about, d.from, d.control, d.what, closing == nullptr, end.food, end.cause, end.action, when, who);
          }),
      list_of<Complaint>("complaints", "what customers complained of, and what came of it", &State::complaints,
                         {"complaint", "cake", "of", "from", "what", "open", "outcome", "closed_utc", "closed_by"},
                         [](const Session& session, const Recorded<Complaint>& r) {
                           const Complaint& c = r.value;
                           const auto* closing = session.state().closed(ComplaintId{r.subject});
                           const auto [when, who] = closed_cells(closing);
                           return cells(r.subject, c.cake, c.of, c.from, c.what, closing == nullptr,
                                        closing == nullptr ? DataCell{} : cell_of(closing->value.outcome), when, who);
                         }),
      list_of<RecallBegun>("recalls", "recalls and exercises, and how they were closed", &State::recalls,
                           {"recall", "of", "drill", "asked", "why", "steps", "open", "cause", "learned", "closed_utc", "closed_by"},
                           [](const Session& session, const Recorded<RecallBegun>& r) {
                             const RecallId id{r.subject};
                             const auto* closing = session.state().closed(id);
                             const auto [when, who] = closed_cells(closing);
                             const RecallClosed none;
                             const RecallClosed& end = closing == nullptr ? none : closing->value;
                             const auto& ticks = session.state().recall_ticks;
                             const auto steps =
                                 std::count_if(ticks.begin(), ticks.end(), [&](const auto& t) { return t.value.recall == id; });
                             return cells(r.subject, r.value.of, r.value.drill, r.value.asked, r.value.why,
                                          static_cast<std::int64_t>(steps), closing == nullptr, end.cause, end.learned, when, who);
                           }),
  };
  lists[2].kinds.emplace_back(KindOf<RecallTick>::kind);
  lists[2].kinds.emplace_back(KindOf<RecallClosed>::kind);
  lists[0].kinds.emplace_back(KindOf<DeviationClosed>::kind);
  lists[1].kinds.emplace_back(KindOf<ComplaintClosed>::kind);
  return lists;
}

}  // namespace

std::vector<KitchenList> lists_of_events() {
  std::vector<KitchenList> all;
  for (auto& some :
       {lists_of_packs(), lists_of_declarations(), lists_of_checks(), lists_of_regular(), lists_of_customers(), lists_of_trouble()})
    all.insert(all.end(), some.begin(), some.end());
  return all;
}

}  // namespace tierproof
