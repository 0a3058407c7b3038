#pragma once

#include <map>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "tierproof/sums/terms.h"
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
};

/// One row of the starting hazard plan: a control that every finding names.
struct PlanRow {
  std::string id;         ///< `egg-heat`
  std::string step;       ///< where in the work
  std::string hazard;     ///< what could go wrong, in plain words
  std::string control;    ///< what must be, in plain words
  std::string words;      ///< heading on papers, `Egg step`
  std::string not_met;    ///< `never` or `with a reason`: whether a person may release against *not met*
  std::string not_shown;  ///< the same for *not shown* and *outside the model*
  std::string source;     ///< title and clause of what it rests on
  int order = 0;          ///< its place on papers
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
/// **Mechanisms** are a closed list; a row is parameters, never an expression. Shares are text with `%`, temperatures text with their
/// scale (`"8 C"`), masses text with their unit.
/// - label: `allergen`, `group-answer`, `emphasis`, `added-water`, `any-order-below`, `compound-relief`, `varying-proportions`, `additive`,
///   `additive-table`, `additive-class`, `additive-wording`, `share-wording`, `route`, `type-size`, `date-mark`, `wording`
/// - temperature: `heat-hold`, `heat-equivalence`, `chill`, `cold-place`, `warm-allowance`, `egg-mix`, `probe-check`, `gap`
/// - retention: `keep`
///
/// Every row also has `id`, `mechanism`, `from`, `to`, `source` (key of a source that the pack lists), `clause`, `basis` (`read` or
/// `memory`), and may have `order` (rows of a mechanism come by `order`, then by id) and `note`. The parameters are those of the
/// term it makes (`sums/terms.h`) and are spelled out in `reference/schemas/pack.schema.json`.
class RulePacks {
 public:
  /// Reads every pack, `claims.json` and `plan/*.json`. Files under `schema/` are passed over, and files other than JSON unless a
  /// row names them; any other JSON file is refused, so a misspelt one is noticed.
  ///
  /// Refuses, all together and with file, line and field: an unknown mechanism or parameter, a missing or doubled id, a date that is
  /// no date, `from` after `to`, two rows of one id that overlap in time, two rows that answer the same question on the same day, a
  /// source that the pack does not list, a row called `read` from a source without a day read, a layer that extends nothing or
  /// itself, a row that closes nothing or replaces one of another mechanism, missing claim words or a missing hazard plan.
  static Result<RulePacks> read(std::span<const PackFile> files);

  /// Jurisdictions that have the set and may be chosen, sorted.
  std::vector<std::string> with_labels() const;
  std::vector<std::string> with_temperatures() const;
  std::vector<std::string> with_retention() const;

  /// The terms in force on a day. Refused: a jurisdiction that has no such set, a base, and a day on which a mechanism that every
  /// set needs has no row in force (a day before the first rows, for one).
  Result<LabelTerms> label_terms(const std::string& jurisdiction, Date on) const;
  Result<TemperatureTerms> temperature_terms(const std::string& jurisdiction, Date on) const;
  Result<RetentionTerms> retention_terms(const std::string& jurisdiction, Date on) const;

  const std::vector<ClaimWord>& claim_words() const;
  const std::vector<PlanRow>& plan() const;  ///< in the order of papers
  const PlanRow* plan_row(std::string_view id) const;
  /// Files that the sets of `jurisdiction` are layered from, tables included, the deepest first: for digests on papers.
  std::vector<std::string> files_of(const std::string& jurisdiction) const;
  /// The text of one of these files, as it was read; empty for any other path.
  const std::string& text_of(const std::string& path) const;
  /// Title of the source that a row cites, `Regulation ...`; empty for a row that no pack has by that id (a line of a table).
  std::string source_title(std::string_view row) const;

  /// What is wrong with rows beside their form, on `today`: review overdue, a source without a day read. For the checker command.
  std::vector<Refusal> overdue(Date today) const;

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
