// The integral of a heat step against the GNU Scientific Library, and what a reading more or less does to its bounds.
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <memory>

#include "samples.h"
#include "tierproof/sums/screening.h"

namespace tierproof {
namespace {

using test::a_series;
using test::heat_of;
using test::log_at_70;
using test::samples_of;

/// The integral of `f` from `from` to `to` by QAGS, to a relative error of 1e-11.
template <class F>
double integral(const F& f, double from, double to) {
  if (!(from < to)) return 0;
  const std::unique_ptr<gsl_integration_workspace, void (*)(gsl_integration_workspace*)> room{gsl_integration_workspace_alloc(1000),
                                                                                              gsl_integration_workspace_free};
  gsl_function function{[](double x, void* given) { return (*static_cast<const F*>(given))(x); }, const_cast<F*>(&f)};
  double result = 0;
  double error = 0;
  EXPECT_EQ(gsl_integration_qags(&function, from, to, 1e-14, 1e-11, 1000, room.get(), &result, &error), GSL_SUCCESS);
  return result;
}

/// The integral of `f` of the temperature over a step between two rows, in minutes, cut where the straight line meets one of `bends`.
template <class F>
double over_step(const Sample& a, const Sample& b, const F& f, std::vector<double> bends) {
  const double minutes = Minutes{b.at - a.at}.count();
  const double one = a.read->to_celsius();
  const double other = b.read->to_celsius();
  std::vector<double> cuts{0, 1};
  for (const double bend : bends) {
    const double at = (bend - one) / (other - one);
    if (at > 0 && at < 1) cuts.push_back(at);
  }
  std::sort(cuts.begin(), cuts.end());
  double sum = 0;
  for (std::size_t i = 1; i < cuts.size(); ++i)
    sum += minutes * integral([&](double x) { return f(one + x * (other - one)); }, cuts[i - 1], cuts[i]);
  return sum;
}

RC_GTEST_PROP(HeatIntegral, IsWhatQuadratureMakesOfTheSameStraightLines, ()) {
  gsl_set_error_handler_off();
  const auto log = samples_of(*a_series(false));
  LogHeatTerms terms = log_at_70;
  terms.z = fine_celsius(*rc::gen::inRange(300, 1500) / 100.0);
  terms.longest_step = std::chrono::minutes{2};
  const bool bounded = *rc::gen::arbitrary<bool>();
  const double floor = *rc::gen::inRange(4000, 6500) / 100.0;
  const double ceiling = floor + *rc::gen::inRange(1, 3000) / 100.0;
  if (bounded) {
    terms.floor = fine_celsius(floor);
    terms.ceiling = fine_celsius(ceiling);
  }
  const double z = terms.z.to_celsius();
  const auto rate = [&](double t) {
    if (bounded && t < floor) return 0.0;
    return std::pow(10.0, ((bounded ? std::min(t, ceiling) : t) - 70) / z);
  };
  double sum = 0;
  for (std::size_t i = 1; i < log.size(); ++i)
    sum += over_step(log[i - 1], log[i], rate, bounded ? std::vector{floor, ceiling} : std::vector<double>{});
  const double exact = heat_of(log, terms).exact.count();
  RC_ASSERT(std::abs(exact - sum) <= 1e-9 * (std::abs(sum) + 1e-6));
}

RC_GTEST_PROP(GrowthIntegral, IsWhatQuadratureMakesOfTheSameStraightLines, ()) {
  gsl_set_error_handler_off();
  const auto series = *a_series(false);
  const auto log = samples_of(series);
  const SquareRootGrowth growth{0.0214, *rc::gen::inRange(3000, 9000) / 100.0};
  double sum = 0;
  for (std::size_t i = 1; i < log.size(); ++i)
    sum += over_step(log[i - 1], log[i], [&](double t) { return growth.rate_at(t); }, {growth.t_min_c}) / 60;
  RC_ASSERT(std::abs(growth_over(series, growth, std::chrono::minutes{2}) - sum) <= 1e-9 * (sum + 1e-6));
}

RC_GTEST_PROP(HeatOfLog, OnlyTightensByAReadingOnTheLine, ()) {
  const auto log = samples_of(*a_series(false));
  RC_PRE(log.size() > 1u);
  LogHeatTerms terms = log_at_70;
  terms.longest_step = std::chrono::minutes{2};
  terms.error = fine_celsius(*rc::gen::inRange(0, 100) / 100.0);
  const auto at = *rc::gen::inRange<std::size_t>(1, log.size());
  const Sample& a = log[at - 1];
  const Sample& b = log[at];
  auto more = log;
  more.insert(more.begin() + static_cast<std::ptrdiff_t>(at),
              Sample{(a.at + b.at) / 2, fine_celsius((a.read->to_celsius() + b.read->to_celsius()) / 2)});
  const LogHeat wide = heat_of(log, terms);
  const LogHeat narrow = heat_of(more, terms);
  const double slack = 1e-9 * (1 + wide.upper.count());
  RC_ASSERT(narrow.lower.count() >= wide.lower.count() - slack);
  RC_ASSERT(narrow.upper.count() <= wide.upper.count() + slack);
  RC_ASSERT(narrow.trapezoid.count() <= wide.trapezoid.count() + slack);
  RC_ASSERT(std::abs(narrow.exact.count() - wide.exact.count()) <= slack);
  RC_ASSERT(narrow.lower <= narrow.exact + Minutes{slack});
  RC_ASSERT(narrow.exact <= narrow.upper + Minutes{slack});
}

RC_GTEST_PROP(HeatOfLog, NeverTurnsToShownByALargerErrorOrAReadingLess, ()) {
  // warming up all the way, so that no reading that is left out is a dip
  const auto rises =
      *rc::gen::container<std::vector<std::pair<int, int>>>(rc::gen::pair(rc::gen::inRange(1, 60), rc::gen::inRange(0, 800)));
  std::vector<Sample> log{{LogTime{}, fine_celsius(40)}};
  for (const auto& [seconds, hundredths] : rises) {
    if (log.back().read->to_celsius() > 200) break;
    log.push_back({log.back().at + std::chrono::seconds{seconds}, *log.back().read + fine_celsius(hundredths / 100.0)});
  }
  LogHeatTerms terms = log_at_70;
  terms.need = Minutes{*rc::gen::inRange(1, 500) / 100.0};
  terms.error = fine_celsius(*rc::gen::inRange(0, 200) / 100.0);
  const bool shown = heat_of(log, terms).verdict == Verdict::shown;
  LogHeatTerms larger = terms;
  larger.error = terms.error + fine_celsius(*rc::gen::inRange(0, 200) / 100.0);
  RC_ASSERT(shown || heat_of(log, larger).verdict != Verdict::shown);
  auto less = log;
  less.erase(less.begin() + *rc::gen::inRange<std::ptrdiff_t>(0, static_cast<std::ptrdiff_t>(log.size())));
  RC_ASSERT(shown || heat_of(less, terms).verdict != Verdict::shown);
}

}  // namespace
}  // namespace tierproof
