#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "tierproof/app/session.h"
#include "tierproof/sums/retention.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// What erasures call what they are about: the customer of a cake where they say nothing.
inline constexpr const char* of_people = "people who work here";
inline constexpr const char* of_regular_records = "regular records";

/// Sealed words, in force or not, with every note that names them.
struct SealedOf {
  std::set<std::uint64_t> notes;
  std::set<std::string> refs;  ///< of those that are still kept
};

/// A regular record with all its notes, corrected and taken back ones included.
struct OldRecord {
  std::string sort;
  Date day{};  ///< the last that one of its notes tells
  SealedOf sealed;
};

/// A kept paper that tells words, by its forms.
struct PaperTelling {
  std::uint64_t note = 0;     ///< the first that issued it
  std::string paper;          ///< `record`
  std::string cake;           ///< empty: of a period
  std::vector<Digest> forms;  ///< that are kept
};

/// The sealed words that are nobody's customer's: names of people, and what regular records keep apart. Reads the log once.
class OldWords {
 public:
  explicit OldWords(const Session& session);
  /// Every short name that somebody ever worked under, with the last day on which a note of theirs was made, corrected or taken back.
  const std::map<std::string, Date>& people() const { return people_; }
  /// The name of a person: of the notes that tell who works here, and under their reviews of the plan.
  const SealedOf& name_of(const PersonId& person) const;
  /// In order of the log; such a record that tells nothing in sealed words is left out.
  const std::vector<OldRecord>& records() const { return records_; }
  /// Kept papers that tell a name that the person had: a cake's record, and papers of a period. One that cannot be read counts as one that
  /// does.
  std::vector<PaperTelling> papers_naming(const PersonId& person) const;
  /// Kept papers of a period that tell what one of `notes` says. One that cannot be read counts as one that does.
  std::vector<PaperTelling> papers_telling(const std::set<std::uint64_t>& notes) const;

 private:
  void of_person(const Entry& entry);
  void of_record(const Entry& entry, std::map<std::uint64_t, std::size_t>& chains);
  void keep_what_others_use();
  void find_papers(const std::vector<Entry>& entries);
  std::vector<PaperTelling> papers_that(const std::function<bool(const PaperTelling&, const Json&)>& tells) const;

  struct Kept {
    PaperTelling paper;
    std::optional<Digest> json;
  };
  const Session& session_;
  std::map<std::string, SealedOf> names_;
  std::map<std::string, Date> people_;
  std::map<std::string, std::set<std::string>> name_refs_;  ///< of these the names themselves
  std::map<std::uint64_t, std::string> signers_;            ///< of reviews of the plan, corrections too: who signed first
  std::vector<OldRecord> records_;
  std::vector<Kept> papers_;
};

/// Records that keep words apart whose own time by the rows of `regular records` is over on `on`, in order of the log.
std::vector<const OldRecord*> words_past(const OldWords& words, const RetentionTerms& terms, Date on);

/// Notes in force of regular records of something not as it should be that nothing answers for yet.
std::set<std::uint64_t> unanswered_notes(const Session& session);

/// What is open and may still need anybody's words: complaints, recalls that are no exercise, and what went wrong.
std::vector<std::string> open_matters_in_words(const State& state);

}  // namespace tierproof
