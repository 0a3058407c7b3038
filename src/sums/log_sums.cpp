#include "tierproof/sums/log_sums.h"

#include <algorithm>
#include <stdexcept>

#include "heat_rate.h"

namespace tierproof {
namespace {

void must_hold(bool holds, const char* otherwise) {
  if (!holds) throw std::invalid_argument{otherwise};
}

bool step_counts(const Sample& a, const Sample& b, LogTime longest_step) { return a.read && b.read && b.at - a.at <= longest_step; }

Minutes minutes_of(double microseconds) { return Minutes{microseconds / 60e6}; }

/// Microseconds after `a` at which the straight line from `a` to `b` meets `limit`. @pre the two lie on different sides of it
double crossing_us(const Sample& a, const Sample& b, FineCelsius limit) {
  return (limit - *a.read).to_celsius() / (*b.read - *a.read).to_celsius() * static_cast<double>((b.at - a.at).count());
}

}  // namespace

HeatOfLog::HeatOfLog(const LogHeatTerms& terms) : terms_{terms} {
  must_hold(terms.z > FineCelsius{}, "z must be above 0");
  must_hold(terms.error >= FineCelsius{}, "a thermometer's error is never negative");
  must_hold(terms.longest_step > LogTime{}, "the longest step must be above 0");
  must_hold(terms.need > Minutes{}, "what is needed must be above 0");
  must_hold(!terms.floor || !terms.ceiling || *terms.floor <= *terms.ceiling, "the ceiling must not be under the floor");
}

void HeatOfLog::take(const Sample& now) {
  if (last_ && !step_counts(*last_, now, terms_.longest_step)) gap_ += now.at - last_->at;
  if (last_ && step_counts(*last_, now, terms_.longest_step)) {
    const auto above = [&](FineCelsius t) { return (t - terms_.reference).to_celsius(); };
    HeatRate rate{terms_.z.to_celsius()};
    const HeatRate whole = rate;
    if (terms_.floor) rate.floor = above(*terms_.floor);
    if (terms_.ceiling) rate.ceiling = above(*terms_.ceiling);
    const auto step = static_cast<double>((now.at - last_->at).count());
    const FineCelsius one = *last_->read;
    const FineCelsius other = *now.read;
    const double hottest = above(std::max(one, other) + terms_.error);
    const double least = rate.at(above(std::min(one, other) - terms_.error));
    const double most = rate.at(hottest);
    lower_ += step * least;
    exact_ += step * std::clamp(rate.mean(above(one), above(other)), least, most);
    trapezoid_ += step * (rate.at(above(one)) + rate.at(above(other))) / 2.0;
    upper_ += step * most;
    untested_ += step * whole.at(hottest);
    timed_ = true;
  }
  last_ = now;
}

LogHeat HeatOfLog::told() const {
  LogHeat heat{minutes_of(lower_), minutes_of(exact_), minutes_of(trapezoid_), minutes_of(upper_), gap_, Verdict::not_shown};
  if (heat.lower >= terms_.need) {
    heat.verdict = Verdict::shown;
  } else if (heat.upper < terms_.need && gap_ == LogTime{} && timed_) {
    heat.verdict = minutes_of(untested_) < terms_.need ? Verdict::not_met : Verdict::outside_model;
  }
  return heat;
}

StayOfLog::StayOfLog(const LogStayTerms& terms) : terms_{terms} {
  must_hold(terms.error >= FineCelsius{}, "a thermometer's error is never negative");
  must_hold(terms.longest_step > LogTime{}, "the longest step must be above 0");
}

void StayOfLog::begin(const Sample& now, bool joined) {
  open_ = LogExcursion{};
  open_->peak = *now.read;
  open_->from_us = static_cast<double>(now.at.count());
  before_.reset();
  if (!joined) return;
  before_ = last_->at;
  open_->from_us = static_cast<double>(last_->at.count()) + crossing_us(*last_, now, terms_.limit - terms_.error);
}

void StayOfLog::add_step(const Sample& a, const Sample& b) {
  if (*a.read - terms_.error > terms_.limit && *b.read - terms_.error > terms_.limit) open_->least += b.at - a.at;
  const double over_a = (*a.read - terms_.limit).to_celsius();
  const double over_b = (*b.read - terms_.limit).to_celsius();
  const auto step = static_cast<double>((b.at - a.at).count());
  if (over_a <= 0 && over_b <= 0) return;
  if (over_a > 0 && over_b > 0) {
    open_->estimate_us += step;
    open_->area_us += step * (over_a + over_b) / 2;
    return;
  }
  const double at = crossing_us(a, b, terms_.limit);
  const double length = over_a > 0 ? at : step - at;
  open_->estimate_us += length;
  open_->area_us += length * std::max(over_a, over_b) / 2;
}

/// Ends the open excursion: at the row `back` that is within the limit again, or, without one, where the rows before it end.
void StayOfLog::end(const Sample* back) {
  open_->to_us = static_cast<double>(last_->at.count());
  if (back != nullptr) {
    open_->to_us += crossing_us(*last_, *back, terms_.limit - terms_.error);
    if (before_) open_->longest = back->at - *before_;
  }
  excursions_.push_back(*open_);
  open_.reset();
}

void StayOfLog::take(const Sample& now) {
  if (!first_) first_ = now;
  const bool joined = last_ && step_counts(*last_, now, terms_.longest_step);
  if (last_ && !joined) {
    uncovered_ += now.at - last_->at;
    // A fault lies within one gap, from the reading before it to the reading after it.
    if (!gaps_.empty() && gaps_.back().to == last_->at && !last_->read) {
      gaps_.back().to = now.at;
    } else {
      gaps_.push_back({last_->at, now.at});
    }
    if (open_) end(nullptr);
  }
  const bool above = maybe_above(now);
  if (above && !open_) begin(now, joined);
  if (open_ && joined) {
    add_step(*last_, now);
    if (above) {
      open_->peak = std::max(open_->peak, *now.read);
    } else {
      end(&now);
    }
  }
  last_ = now;
}

LogStay StayOfLog::told() const {
  LogStay stay{excursions_, gaps_, 0};
  if (open_) {
    stay.excursions.push_back(*open_);
    stay.excursions.back().to_us = static_cast<double>(last_->at.count());
  }
  if (!first_ || last_->at == first_->at) return stay;
  const auto whole = static_cast<double>((last_->at - first_->at).count());
  stay.coverage = 1.0 - static_cast<double>(uncovered_.count()) / whole;
  return stay;
}

}  // namespace tierproof
