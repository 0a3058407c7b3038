#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>

#include "tierproof/imports/column_map.h"
#include "tierproof/units/result.h"
#include "tierproof/units/time.h"

namespace tierproof {

/// In which order the rows of a file run by what their clock showed, as far as the hour that comes twice needs to know.
class RowOrder {
 public:
  /// @param twice  whether `wall` lies in an hour that came twice
  void add(const LocalTime& wall, bool twice);

  enum class Runs { forwards, backwards, not_told };
  /// Forwards: the clock only ever fell back within an hour that came twice, once each. Backwards: the same the other way round.
  /// Not told: both or neither would fit, or a time stands twice in such an hour though the rows lie closer than an hour elsewhere, so
  /// that it may as well be one row written twice.
  Runs runs() const;
  /// The file begins within such an hour, and shows it both times.
  bool begins_with_both() const { return begins_with_both_; }

 private:
  std::optional<Span> previous_;
  bool previous_twice_ = false;
  bool only_twice_ = true;
  bool begins_with_both_ = false;
  std::int64_t up_ = 0, down_ = 0;
  std::int64_t falls_ = 0, rises_ = 0;  ///< of these, within an hour that came twice
  std::int64_t last_fall_day_ = -1, last_rise_day_ = -1;
  bool falls_once_ = true, rises_once_ = true;
  bool same_within_ = false;
  Span shortest_step_ = Span::max();
};

/// Turns the times of a logger's clock into instants, by the time zone database.
class WallClock {
 public:
  /// Refused: a zone that this machine does not know.
  static Result<WallClock> in_zone(const std::string& zone, const Refusal& where);
  ~WallClock();
  WallClock(WallClock&&) noexcept;
  WallClock& operator=(WallClock&&) noexcept;

  bool twice(const LocalTime& wall) const;
  /// The instant of `wall`, which follows `previous` in a file whose rows run like `order`.
  ///
  /// In an hour that came twice the order of the rows decides: the first instant past the row before. Refused where the order does not
  /// tell: rows out of order, a third time, or a file that begins in this hour and shows it once. A time that the clocks went forward
  /// over is refused, or with `MissingHour::shift` told by the offset from before the change.
  Result<Instant> instant(const LocalTime& wall, std::optional<Instant> previous, const RowOrder& order, MissingHour missing,
                          const Refusal& where);

  std::int64_t twice_count() const { return twice_count_; }
  std::optional<Date> twice_first() const { return twice_first_; }
  std::int64_t shifted_count() const { return shifted_count_; }

 private:
  struct Zone;
  explicit WallClock(std::unique_ptr<Zone> zone);
  std::unique_ptr<Zone> zone_;
  std::int64_t twice_count_ = 0;
  std::optional<Date> twice_first_;
  std::int64_t shifted_count_ = 0;
};

}  // namespace tierproof
