#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/units/result.h"
#include "tierproof/units/time.h"

namespace tierproof {

class Session;
struct Draft;
struct SealedText;
struct State;

/// What somebody at a door may do. `owner` and `helper` by the role of the person in the records; an `officer` only reads; a `sensor` only
/// posts readings of its own thermometer.
enum class Authority { owner, helper, officer, sensor };
std::string_view word_of(Authority authority);

/// Who may book a kind of note: `books` something new, `changes` what was booked by correcting or voiding it. Each `owner`, or `helper`:
/// then an owner may too. A sensor books `readings/1` of its own thermometer whatever stands here, an officer nothing.
struct KindPermission {
  std::string_view kind;
  Authority books = Authority::owner;
  Authority changes = Authority::owner;
};
/// One row for each kind of note: a helper does the daily work, an owner decides what lifts a stop and what others go by.
const std::vector<KindPermission>& kind_permissions();
/// @throws Fault 70 for a kind that has no row
const KindPermission& permission_of(std::string_view kind);

/// What only an owner may do, though the kind of note would let a helper, or though it is no note at all.
enum class Deed {
  release_against,    ///< a release that names something it is against
  lessen_allergy,     ///< an answer to the allergy question instead of another that had named more
  spare_precaution,   ///< a decision that `may contain` is not needed
  correct_two_point,  ///< a thermometer's readings corrected by its checks
  let_in_device,      ///< these and below: at the door of the kitchen's pages
  shut_out_device,
  set_pin_of_another,
  unlock_person,
  add_sensor,
  revoke_sensor,
  open_for_officer,
  see_the_door,  ///< who came in, and who tried
};
bool may(Authority authority, Deed deed);

/// What a person may do by the records on a day: by their role, until their last day here. Where no owner works here any more, everybody
/// who does counts as one, so that nobody is locked out of their own records. Nothing for somebody who is not known or works here no more.
std::optional<Authority> authority_of(const State& state, const std::string& person, Date on);
/// The same of whoever came in by the entrance of a session, an officer and a sensor too.
std::optional<Authority> authority_of(const Session& session);

/// Somebody may not do what they asked for: the records and the machine are well. Exit status 77.
class NotPermitted : public Fault {
 public:
  explicit NotPermitted(Refusal why) : Fault{exit_status::not_permitted, describe(why)}, why_{std::move(why)} {}
  /// What is not permitted to whom, and who may.
  const Refusal& why() const { return why_; }

 private:
  Refusal why_;
};

/// @throws NotPermitted unless whoever came in may do it
void require_authority(const Session& session, Deed deed);
/// @throws NotPermitted for an officer, whatever it is: asked first, before a use case does anything
void require_recording(const Session& session);
/// Asked of every append before anything is written. Notes that nobody tells (`scheduled`) are the records' own and anybody's who may book
/// at all. @param sealed  words that are booked with the drafts @throws NotPermitted
void require_may_book(const Session& session, const std::vector<Draft>& drafts, const std::vector<SealedText>& sealed);

}  // namespace tierproof
