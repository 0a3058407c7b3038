#pragma once

#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "tierproof/sums/label_terms.h"
#include "tierproof/sums/retention_terms.h"
#include "tierproof/sums/temperature_terms.h"
#include "tierproof/units/hazard_plan.h"
#include "tierproof/units/result.h"

namespace tierproof {

/// The text of one file below `reference/`, by its path from there: `gb/label.json`.
struct PackFile {
  std::string path;
  std::string text;
};

/// A claim word that may not be typed into anything that reaches paper, and why.
struct ClaimWord {
  std::string pattern;  ///< lower case, words separated by one space; `nut free`, `vegan`; hyphens count as spaces
  std::string why;
  std::vector<std::string> not_before = {};  ///< words that, coming next, make it no claim: `range` after `egg free`
  bool nutrition = false;                    ///< a nutrition or health claim: may be typed, and calls for a nutrition table on a cake
};

/// What a kitchen confirmed of a row that rests on memory.
struct Confirmation {
  std::string clause;  ///< of the row as it stood then: a row whose clause changed is not confirmed any more
  std::string words;   ///< who confirmed it, when, and who told them: `Cited::confirmed`; empty confirms nothing
  std::string says;    ///< what it said then, `RowTold::says`: a row that says something else is not confirmed either
};
/// By jurisdiction (of the pack that the row stands in, or of the set that was chosen) and id of the row. When both are there, that of
/// the chosen set counts.
using Confirmations = std::map<std::pair<std::string, std::string>, Confirmation>;

/// One row in force, as the list of a set and a confirmation need it.
struct RowTold {
  std::string id;
  std::string mechanism;
  std::string clause;
  std::string source_title;
  bool from_memory = false;
  std::string note;
  std::string jurisdiction;  ///< of the pack that it stands in: `gb`, of a row that `gb-eng` takes over
  Date from{};
  std::optional<Date> to;  ///< last day in force
  std::string source;      ///< key, as the pack lists it
  Date review_by{};        ///< of the source
  std::string file;        ///< below `reference/`
  int line = 0;
  std::string says;  ///< mechanism and parameters as canonical JSON, the text of a table that it names behind them; no day, source or note
};

/// An allergen that at least one label pack knows.
struct KnownAllergen {
  std::string key;   ///< `nuts:almond`
  std::string word;  ///< as the first pack that has it prints it, packs by their code
};

/// What the checker finds on one day. A fault has to be mended; a caution and a row not in force are told, and are no fault.
struct RulesChecked {
  Refusals faults;
  Refusals cautions;
  Refusals not_in_force;  ///< rows whose days are over or have not begun
};

/// All rule packs under `reference/`: immutable once read, shared between requests.
///
/// **Packs.** `<jurisdiction>/<set>.json`, set one of `label`, `temperature`, `retention`. A pack may extend the same set of another
/// jurisdiction: then it is a layer, its rows stand beside those beneath, and a row with the id of one beneath replaces that row on
/// the days on which it is in force (same mechanism), or closes it (mechanism `closed`). A pack with `"base": true` is only there to
/// be extended and cannot be chosen.
///
/// **Days.** A row is in force from `from` to `to`, both days included; `to` null means until further notice. A changed rule closes
/// its row and opens another with the same id.
///
/// **Mechanisms** are a closed list; a row is parameters, never an expression. Shares are text with `%`, other fractions plain text
/// (`"16.5"`), temperatures text with their scale (`"8 C"`), masses text with their unit. Of braces a printed text may hold `{names}` and
/// `{limit}` only.
/// - label, allergens: `allergen`, `allergen-exemption`, `allergen-form`, `emphasis`, `group-answer`, `reference-dose`
/// - label, the list: `added-water`, `amount-wording`, `and-or`, `any-order-below`, `collective-name`, `compound-relief`, `mark-wording`,
///   `named-quantities`, `share-wording`, `statutory-parts`, `varying-proportions`
/// - label, additives: `additive`, `additive-class`, `additive-form`, `additive-table`, `additive-wording`, `level-limit`
/// - label, other particulars: `business-address`, `date-exemption`, `date-mark`, `energy-factor`, `language`, `lot-mark`,
///   `net-quantity`, `nutrition-exemption`, `nutrition-rounding`, `route`, `small-package`, `specification-age`, `type-size`, `wording`
/// - temperature: `heat-hold`, `heat-equivalence`, `heat-reference`, `chill`, `cold-place`, `cold-days`, `hot-hold`, `hot-allowance`,
///   `no-number`, `warm-allowance`, `warm-total`, `time-control`, `cooling`, `cooling-advice`, `reheat`, `egg-mix`, `probe-check`, `gap`,
///   `growth-screening`
/// - retention: `keep`
///
/// Every row also has `id`, `mechanism`, `from`, `to`, `source` (key of a source that the pack lists), `clause`, `basis` (`read` or
/// `memory`), and may have `order` (rows of a mechanism come by `order`, then by id) and `note`. The parameters are those of the
/// term it makes (`sums/label_terms.h`, `sums/temperature_terms.h`) and are spelled out in `reference/schemas/pack.schema.json`.
class RulePacks {
 public:
  /// Reads every pack, `claims.json` and `plan/*.json`. Files under `schema/` are passed over, and files other than JSON unless a
  /// row names them; any other JSON file is refused, so a misspelt one is noticed.
  ///
  /// Refuses, all together and with file, line and field: an unknown mechanism or parameter, a missing or doubled id, a date that is
  /// no date, `from` after `to`, two rows of one id that overlap in time, two rows that answer the same question on the same day, a
  /// source that the pack does not list, a row called `read` from a source without a day read, a layer that extends nothing or
  /// itself, a row that closes nothing or replaces one of another mechanism, a claim in what a row puts on paper, missing claim words
  /// or a missing hazard plan.
  static Result<RulePacks> read(std::span<const PackFile> files);

  /// Jurisdictions that have the set and may be chosen, sorted.
  std::vector<std::string> with_labels() const;
  std::vector<std::string> with_temperatures() const;
  std::vector<std::string> with_retention() const;

  /// The terms in force on a day. Refused: a jurisdiction that has no such set, a base, a day on which a mechanism that every set needs
  /// has no row in force (a day before the first rows, for one), and rows of a label that name what no row has: an allergen, an
  /// additive's number, the key of a wording. What a base says of allergens that a jurisdiction does not list is left out silently.
  /// @param confirmations  rows from memory that the kitchen confirmed: their `Cited::confirmed` tells it, wherever they go
  Result<LabelTerms> label_terms(const std::string& jurisdiction, Date on, const Confirmations& confirmations = {}) const;
  Result<TemperatureTerms> temperature_terms(const std::string& jurisdiction, Date on, const Confirmations& confirmations = {}) const;
  Result<RetentionTerms> retention_terms(const std::string& jurisdiction, Date on, const Confirmations& confirmations = {}) const;

  /// The table of water activity and pH for `food` (`open`) in force on a day that all places share; nothing where no base has one.
  std::optional<ActivityTable> shared_activity_table(std::string_view food, Date on) const;

  /// The rows of one set (`label`, `temperature`, `retention`) that are in force on a day, by mechanism, order and id; of a base too.
  /// Refused: a jurisdiction that has no such set, and a day that is none.
  Result<std::vector<RowTold>> rows_told(const std::string& jurisdiction, const std::string& set, Date on) const;
  /// The sets that a jurisdiction has, bases included: `label`, `retention`.
  std::vector<std::string> sets_of(const std::string& jurisdiction) const;
  /// What every row of that id says, in any pack and on any day: `RowTold::says`, each once.
  std::vector<std::string> sayings_of(std::string_view row) const;

  /// Every allergen that a row of any label pack has on any day, by key: a specification may speak of all of them.
  std::vector<KnownAllergen> known_allergens() const;

  const std::vector<ClaimWord>& claim_words() const;      ///< those that may not be typed
  const std::vector<ClaimWord>& nutrition_words() const;  ///< nutrition and health claims
  const HazardPlan& starting_plan() const;                ///< what a kitchen goes by until it takes over a plan of its own
  const std::vector<PlanRow>& plan() const;               ///< its rows, in the order of papers
  const PlanRow* plan_row(std::string_view id) const;     ///< one of them, or nothing
  /// Files that the sets of `jurisdiction` are layered from, tables included, the deepest first: for digests on papers.
  std::vector<std::string> files_of(const std::string& jurisdiction) const;
  /// The text of one of these files, as it was read; empty for any other path.
  const std::string& text_of(const std::string& path) const;
  /// Title of the source that a row cites, `Regulation ...`: of the row by that id and clause, or else by that id alone, in the sets of
  /// `jurisdictions` and what they extend, an earlier one and a set's own rows first; empty for a row that none of them has (a line of a
  /// table). Packs of other places have rows of the same id from laws of their own.
  std::string source_title(std::string_view row, std::string_view clause, std::span<const std::string> jurisdictions) const;

  /// All that the checker tells of a day, each with file and line.
  ///
  /// Faults: a source whose review is due; a set that cannot be used that day, since a mechanism that it needs has no row in force or
  /// its rows do not fit each other; words without their twin in a language that labels have to be in. Cautions: a source that nobody
  /// read, rows that rest on memory, additives without a table, since every other one is then unknown. Sorted by file and line, each
  /// once. What `read` refuses never comes this far.
  RulesChecked check(Date on) const;

  RulePacks(RulePacks&&) noexcept;
  RulePacks& operator=(RulePacks&&) noexcept;
  ~RulePacks();

 private:
  RulePacks();
  struct Held;
  std::unique_ptr<Held> held_;
};

/// The claim word that `text` holds, or nothing; the first of `words` that it holds, in their order.
///
/// Whole words, any case, accents and full-width forms folded. Hyphens of every kind, underscores and runs of white space count as
/// one space; other punctuation parts one phrase from the next, so `walnuts, free range eggs` holds no claim.
const ClaimWord* claim_in(std::string_view text, std::span<const ClaimWord> words);

}  // namespace tierproof
