// How far the program's own steps are from a floor measured in the same run. Each benchmark reports `ratio`: its time over the
// floor's. Run: build-test/spine_bench
#include <benchmark/benchmark.h>
#include <sqlite3.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <string>

#include "tierproof/kitchen/bodies.h"
#include "tierproof/log/tree.h"
#include "tierproof/store/record_store.h"
#include "tierproof/sums/composition.h"
#include "tierproof/sums/heat.h"
#include "tierproof/sums/stay.h"
#include "tierproof/text/json.h"

namespace {
using namespace tierproof;
using Clock = std::chrono::steady_clock;

template <class Run>
double seconds_of(int times, const Run& run) {
  const auto start = Clock::now();
  for (int i = 0; i < times; ++i) run(i);
  return std::chrono::duration<double>(Clock::now() - start).count() / times;
}

std::string scratch(const char* name) {
  const auto path = std::filesystem::temp_directory_path() / ("tierproof-bench-" + std::to_string(::getpid()) + "-" + name);
  std::filesystem::remove(path);
  return path.string();
}

Entry an_entry(std::uint64_t sequence) {
  Entry entry;
  entry.kitchen = "00000000-0000-4000-8000-000000000000";
  entry.sequence = sequence;
  entry.kind = "equipment/1";
  entry.subject = "mixer-" + std::to_string(sequence);
  entry.client_key = "key-" + std::to_string(sequence);
  entry.device = "benchmark";
  entry.body = body_of(Equipment{"stand mixer"});
  return entry;
}

/// Floor: one row of the same size, committed with the same journal and synchronous settings, through nothing but sqlite3.
double bare_commit() {
  const std::string path = scratch("floor");
  sqlite3* database = nullptr;
  if (sqlite3_open(path.c_str(), &database) != SQLITE_OK) std::abort();
  const auto run = [&](const std::string& sql) {
    if (sqlite3_exec(database, sql.c_str(), nullptr, nullptr, nullptr) != SQLITE_OK) std::abort();
  };
  run("PRAGMA journal_mode=DELETE; PRAGMA synchronous=EXTRA; CREATE TABLE t (n INTEGER PRIMARY KEY, leaf TEXT) STRICT");
  const std::string leaf(leaf_text(an_entry(1)));
  const double each =
      seconds_of(200, [&](int i) { run("BEGIN IMMEDIATE; INSERT INTO t VALUES (" + std::to_string(i) + ", '" + leaf + "'); COMMIT"); });
  sqlite3_close(database);
  std::filesystem::remove(path);
  return each;
}

void AppendOverABareCommit(benchmark::State& state) {
  const double floor = bare_commit();
  const std::string path = scratch("append");
  const auto store = create_sqlite(path, an_entry(1).kitchen);
  Head head = store->head();
  double spent = 0;
  std::uint64_t count = 0;
  for (auto _ : state) {
    Append append;
    append.entries.push_back(an_entry(head.size + 1));
    spent += seconds_of(1, [&](int) { head = std::get<Head>(store->append(head, append)); });
    ++count;
  }
  state.counters["ratio"] = spent / static_cast<double>(count) / floor;
  std::filesystem::remove(path);
}
BENCHMARK(AppendOverABareCommit)->Iterations(200);

void CanonicalTextOverCopyingIt(benchmark::State& state) {
  const Json value = body_of(Equipment{std::string(2000, 'x')});
  const std::string text = write_canonical(value);
  const double floor = seconds_of(20'000, [&](int) { benchmark::DoNotOptimize(std::string{text}); });
  double spent = 0;
  std::uint64_t count = 0;
  for (auto _ : state) {
    spent += seconds_of(1000, [&](int) { benchmark::DoNotOptimize(write_canonical(value)); });
    ++count;
  }
  state.counters["ratio"] = spent / static_cast<double>(count) / floor;
}
BENCHMARK(CanonicalTextOverCopyingIt)->Iterations(20);

/// Floor: the same number of exact additions and multiplications without any bookkeeping of paths.
void ComposeOverItsBareSums(benchmark::State& state) {
  CakeParts parts;
  parts.cake = CakeId{"cake-1"};
  for (int i = 0; i < 20; ++i) {
    LotFacts lot;
    lot.id = LotId{"pack-" + std::to_string(i)};
    lot.ingredient.id = IngredientId{"ingredient-" + std::to_string(i)};
    lot.ingredient.label_name = "ingredient";
    parts.lots.push_back(lot);
  }
  for (int i = 0; i < 10; ++i) {
    BatchFacts batch;
    batch.id = BatchId{"batch-" + std::to_string(i)};
    for (std::size_t lot = 0; lot < 20; ++lot) batch.uses.push_back({Use::Of::lot, lot, grams(50)});
    batch.yield = grams(900);
    parts.batches.push_back(batch);
    parts.placed.push_back({"bottom", static_cast<std::size_t>(i), grams(300), true});
  }
  const double floor = seconds_of(50, [&](int) {
    Share sum = 0;
    for (const auto& placed : parts.placed) {
      for (const auto& use : parts.batches[placed.batch].uses) {
        sum += share_of(placed.mass.to_milligrams(), parts.batches[placed.batch].yield.to_milligrams()) * use.mass.to_milligrams();
      }
    }
    benchmark::DoNotOptimize(sum);
  });
  double spent = 0;
  std::uint64_t count = 0;
  for (auto _ : state) {
    spent += seconds_of(1, [&](int) { benchmark::DoNotOptimize(compose(parts, {"milk", "eggs"})); });
    ++count;
  }
  state.counters["ratio"] = spent / static_cast<double>(count) / floor;
}
BENCHMARK(ComposeOverItsBareSums)->Iterations(50);

/// Floor: hashing the leaf alone.
void GrowingTheTreeOverItsLeafHash(benchmark::State& state) {
  const std::string leaf = leaf_text(an_entry(1));
  const double floor = seconds_of(20'000, [&](int) { benchmark::DoNotOptimize(leaf_hash(leaf)); });
  double spent = 0;
  std::uint64_t count = 0;
  for (auto _ : state) {
    Frontier frontier;
    spent += seconds_of(20'000, [&](int) { frontier.add(leaf_hash(leaf)); });
    ++count;
  }
  state.counters["ratio"] = spent / static_cast<double>(count) / floor;
}
BENCHMARK(GrowingTheTreeOverItsLeafHash)->Iterations(5);

/// A million readings, half a minute apart, of which some are above 8 °C for a while and a few are faults.
const std::vector<Reading>& long_series() {
  static const std::vector<Reading> series = [] {
    std::vector<Reading> readings;
    for (int i = 0; i < 1'000'000; ++i) {
      const std::optional<Temperature> read{Temperature::hundredths_celsius(350 + i % 997 / 2)};
      readings.push_back({Instant{std::chrono::seconds{30LL * i}}, i % 9973 == 0 ? std::nullopt : read});
    }
    return readings;
  }();
  return series;
}
double touching_each() {
  const auto& series = long_series();
  return seconds_of(10, [&](int) {
    std::int64_t above = 0;
    for (const auto& reading : series) above += reading.temperature && *reading.temperature > celsius(8) ? 1 : 0;
    benchmark::DoNotOptimize(above);
  });
}

/// Floor: looking at each of the million readings once.
template <class Sum>
void sum_over_touching_each(benchmark::State& state, const Sum& sum) {
  const double floor = touching_each();
  double spent = 0;
  std::uint64_t count = 0;
  for (auto _ : state) {
    spent += seconds_of(1, [&](int) { sum(long_series()); });
    ++count;
  }
  state.counters["ratio"] = spent / static_cast<double>(count) / floor;
}
void ExcursionsOfAMillionReadingsOverTouchingThem(benchmark::State& state) {
  sum_over_touching_each(state, [](const std::vector<Reading>& series) {
    benchmark::DoNotOptimize(excursions_above(series, celsius(8), std::chrono::minutes{30}));
  });
}
BENCHMARK(ExcursionsOfAMillionReadingsOverTouchingThem)->Iterations(5)->Unit(benchmark::kMillisecond);

void DemonstratedTimeOfAMillionReadingsOverTouchingThem(benchmark::State& state) {
  const HeatTerms terms{celsius(70), kelvins(7.5), celsius(5), celsius(80), std::chrono::minutes{1}, kelvins(0.5)};
  sum_over_touching_each(state, [&](const std::vector<Reading>& series) { benchmark::DoNotOptimize(demonstrated_time(series, terms)); });
}
BENCHMARK(DemonstratedTimeOfAMillionReadingsOverTouchingThem)->Iterations(5)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
