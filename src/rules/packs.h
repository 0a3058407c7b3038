#pragma once

#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "tierproof/rules/rule_pack.h"
#include "tierproof/text/fields.h"

namespace tierproof {

// What one row says, by mechanism. Rows that make a term of `sums/*_terms.h` hold it, `cited` included.
struct ClosedRow {};  ///< closes the row of the same id in the layer beneath
struct EmphasisRow {
  std::string style;
};
struct AddedWaterRow {
  Share ignored_up_to;
  bool ranked_as_used = false;
};
struct AnyOrderRow {
  Share limit;
  bool inclusive = false;
  std::string wording;
  std::vector<std::string> kinds;
};
struct AdditiveTableRow {
  std::string file;
  std::vector<AdditiveTerm> lines;
};

using RowSays =
    std::variant<ClosedRow, AllergenTerm, ExemptionTerm, AllergenFormTerm, GroupAnswerTerm, ReferenceDoseTerm, EmphasisRow, AddedWaterRow,
                 AnyOrderRow, CollectiveTerm, AndOrTerm, ReliefTerm, StatutoryPartsTerm, VaryingTerm, MarkWording, AmountWording,
                 ShareWording, NamedQuantityTerm, AdditiveTerm, AdditiveTableRow, ClassTitleTerm, AdditiveWording, AdditiveFormTerm,
                 LevelLimitTerm, RouteTerm, SmallPackageTerm, TypeSizeTerm, DateMarkTerm, DateExemptionTerm, LotMarkTerm, NetQuantityTerm,
                 AddressTerm, LanguageTerm, SpecificationAgeTerm, Wording, NutritionExemptionTerm, EnergyFactorTerm, RoundingBandTerm,
                 HeatRow, HeatEquivalence, HeatReference, ChillTerm, ColdPlaceTerm, WarmAllowance, EggMixTerm, ProbeTerm, GapTerm,
                 HotHoldTerm, HotAllowance, ReheatTerm, CoolingAdvice, ColdDays, NoNumberTerm, WarmTotal, TimeControl, CoolingTerm,
                 GrowthTerm, ActivityTable, RetentionTerm>;

/// One row of a pack as read.
struct RuleRow {
  std::string id;
  std::string mechanism;
  std::int64_t order = 0;
  Date from{};
  std::optional<Date> to;  ///< last day in force
  std::string source;
  Cited cited;
  std::string note;
  std::string path;  ///< where it stands in the file, `rows[3]`
  int line = 0;
  RowSays says;
  std::string question;           ///< that it answers, with its mechanism before it; empty: any number of such rows may stand together
  const Json* written = nullptr;  ///< as it stands in its pack's document
};

struct SourceRow {
  std::string key;
  std::string title;
  std::optional<Date> read_on;
  Date review_by{};
  std::string path;
  int line = 0;
};

/// Files by path, as they were read.
using Tables = std::map<std::string, std::string, std::less<>>;

/// One pack: a layer of one set of one jurisdiction.
struct Pack {
  std::string path;
  std::string jurisdiction;
  std::string title;
  std::string set;
  std::string extends;  ///< jurisdiction, or empty
  bool base = false;
  int line = 0;
  std::vector<SourceRow> sources;
  std::vector<RuleRow> rows;
  std::vector<std::string> tables;  ///< paths of the tables that rows name
  std::shared_ptr<const Json> document;
  const Tables* files = nullptr;  ///< all those that it was read among
};

/// What a mechanism's reader may ask for beside the row's members.
struct RowContext {
  std::string folder;    ///< of the pack, `gb`
  const Tables& tables;  ///< those other than JSON
  Refusals& refusals;
};

/// Reads the parameters of `mechanism` from `row`. `known` is false when the set has no such mechanism.
RowSays read_mechanism(const std::string& set, const std::string& mechanism, Fields& row, const RowContext& context, bool& known);
/// Names of the mechanisms of a set, sorted, `closed` included.
std::vector<std::string> mechanisms_of(std::string_view set);
/// Puts the row's citation into what it says.
void put_citation(RowSays& says, const Cited& cited);
/// `RowTold::says` of a row of `pack`.
std::string told_of(const Pack& pack, const RuleRow& row);
/// The question that a row answers, so that two rows of one mechanism never answer the same one; empty: any number may stand together.
std::string question_of(const RuleRow& row);

inline bool in_force_on(const RuleRow& row, Date on) {
  if (!row.from.ok() || (row.to && !row.to->ok())) return false;  // refused on reading
  const auto day = std::chrono::sys_days{on};
  return std::chrono::sys_days{row.from} <= day && (!row.to || day <= std::chrono::sys_days{*row.to});
}

/// A pack and those beneath it, the deepest first.
using Layers = std::vector<const Pack*>;
/// A row in force, and the pack it stands in.
struct InForce {
  const RuleRow* row;
  const Pack* pack;
};
/// The rows in force on a day, layers above replacing and closing those beneath; by order, then by id. No closed rows.
std::vector<InForce> rows_in_force(const Layers& layers, Date on);

/// What does not fit together among the rows of a label in force on the day of `terms`: names of allergens, additives and wordings that
/// no row has. Rows of a base may name more allergens than a jurisdiction has: those are left silent, by `drop_what_no_row_knows`.
Refusals misfits(const std::vector<InForce>& rows, const LabelTerms& terms);
/// Takes out of `terms` what rows of a base say of allergens that are not in force.
void drop_what_no_row_knows(const std::vector<InForce>& rows, LabelTerms& terms);
/// Texts of a row that reach paper, with the parameter that each stands in.
std::vector<std::pair<std::string, std::string>> printed_texts(const RowSays& says);
/// Words of the terms that have no twin in a language of the label after its first: `wording "contains" in fr`, with the row's id.
std::vector<std::pair<std::string, std::string>> untranslated(const LabelTerms& terms);

Result<LabelTerms> label_terms_of(const Layers& layers, Date on, const Confirmations& confirmations);
Result<TemperatureTerms> temperature_terms_of(const Layers& layers, Date on, const Confirmations& confirmations);
Result<RetentionTerms> retention_terms_of(const Layers& layers, Date on, const Confirmations& confirmations);

/// Looks for claims in many texts: `claim_in`, with the claims made ready once. The claims must outlive it.
class ClaimFinder {
 public:
  explicit ClaimFinder(std::span<const ClaimWord> claims);
  ~ClaimFinder();
  const ClaimWord* in(std::string_view text) const;

 private:
  struct Ready;
  std::unique_ptr<Ready> ready_;
};

/// Claim words of `claims.json`, its families spelt out.
std::vector<ClaimWord> read_claim_words(const PackFile& file, Refusals& refusals);
/// Adds the plan of a file, and its sources with their lines.
void read_plan(const PackFile& file, HazardPlan& plan, std::vector<std::pair<std::string, SourceRow>>& sources, Refusals& refusals);
/// The sources of a file's `sources` list, with their titles by key.
std::vector<SourceRow> read_sources(Fields& top, const std::string& file, std::map<std::string, std::string>& titles, Refusals& refusals);

}  // namespace tierproof
