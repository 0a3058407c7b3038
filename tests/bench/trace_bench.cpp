// How long the reach of one pack takes in a large kitchen, against a bare walk of the same graph in the same run. Each benchmark reports
// ratios; the asked ones stand beside them. The graph is made up: every batch of a few packs and batches of the weeks before it.
// Run: build-test/trace_bench
#include <benchmark/benchmark.h>
#include <sqlite3.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <string>
#include <vector>

#include "tierproof/store/record_store.h"

namespace {
using namespace tierproof;

const std::string kitchen = "00000000-0000-4000-8000-000000000000";

/// A kitchen file whose graph was written into the views past the log.
class LargeKitchen {
 public:
  explicit LargeKitchen(const std::string& name)
      : path_{(std::filesystem::temp_directory_path() / ("tierproof-bench-" + std::to_string(::getpid()) + "-" + name)).string()} {
    std::filesystem::remove(path_);
    create_sqlite(path_, kitchen);
    if (sqlite3_open(path_.c_str(), &database_) != SQLITE_OK) std::abort();
    run("PRAGMA journal_mode=OFF; PRAGMA synchronous=OFF; BEGIN");
    thing_ = prepare("INSERT INTO view_thing (thing, kitchen, name, code, words) VALUES (?1, '" + kitchen +
                     "', 'batch-' || ?1, '', 'vanilla sponge')");
    edge_ = prepare("INSERT OR IGNORE INTO view_edge (parent, child, seq, certain) VALUES (?1, ?2, ?2, ?3)");
  }
  ~LargeKitchen() { std::filesystem::remove(path_); }
  LargeKitchen(const LargeKitchen&) = delete;
  LargeKitchen& operator=(const LargeKitchen&) = delete;

  void thing(std::int64_t number) { step(thing_, {number}); }
  void edge(std::int64_t parent, std::int64_t child, bool certain = true) { step(edge_, {parent, child, certain ? 1 : 0}); }
  void close() {
    sqlite3_finalize(thing_);
    sqlite3_finalize(edge_);
    run("COMMIT");
    sqlite3_close(database_);
  }
  const std::string& path() const { return path_; }

 private:
  void run(const std::string& sql) {
    if (sqlite3_exec(database_, sql.c_str(), nullptr, nullptr, nullptr) != SQLITE_OK) std::abort();
  }
  sqlite3_stmt* prepare(const std::string& sql) {
    sqlite3_stmt* statement = nullptr;
    if (sqlite3_prepare_v2(database_, sql.c_str(), -1, &statement, nullptr) != SQLITE_OK) std::abort();
    return statement;
  }
  static void step(sqlite3_stmt* statement, std::initializer_list<std::int64_t> values) {
    int at = 0;
    for (const auto value : values) sqlite3_bind_int64(statement, ++at, value);
    if (sqlite3_step(statement) != SQLITE_DONE) std::abort();
    sqlite3_reset(statement);
  }

  std::string path_;
  sqlite3* database_ = nullptr;
  sqlite3_stmt* thing_ = nullptr;
  sqlite3_stmt* edge_ = nullptr;
};

/// `edges / 4` things, four edges into each from the 2,000 before it; one edge in a hundred is only possible.
void fill(LargeKitchen& large, std::int64_t edges) {
  std::uint64_t seed = 1;
  const auto below = [&](std::int64_t most) {
    seed = seed * 6364136223846793005U + 1442695040888963407U;
    return static_cast<std::int64_t>((seed >> 33) % static_cast<std::uint64_t>(most));
  };
  const std::int64_t things = edges / 4;
  for (std::int64_t child = 1; child <= things; ++child) {
    large.thing(child);
    const std::int64_t reach = std::min<std::int64_t>(child - 1, 2000);
    for (int i = 0; i < 4 && reach > 0; ++i) large.edge(child - 1 - below(reach), child, below(100) != 0);
  }
  large.close();
}

/// Floor: the same walk through nothing but sqlite3, numbers alone.
class BareWalk {
 public:
  explicit BareWalk(const std::string& path) {
    if (sqlite3_open_v2(path.c_str(), &database_, SQLITE_OPEN_READONLY, nullptr) != SQLITE_OK) std::abort();
  }
  ~BareWalk() { sqlite3_close(database_); }
  BareWalk(const BareWalk&) = delete;
  BareWalk& operator=(const BareWalk&) = delete;

  /// One prepared look at each thing's edges, inside one transaction: the least that there is.
  std::size_t by_hand(std::int64_t start, std::size_t things) {
    sqlite3_exec(database_, "BEGIN", nullptr, nullptr, nullptr);
    sqlite3_stmt* next = nullptr;
    sqlite3_prepare_v2(database_, "SELECT child FROM view_edge WHERE parent = ?1", -1, &next, nullptr);
    std::vector<bool> seen(things + 1);
    std::vector<std::int64_t> queue{start};
    seen[static_cast<std::size_t>(start)] = true;
    for (std::size_t i = 0; i < queue.size(); ++i) {
      sqlite3_bind_int64(next, 1, queue[i]);
      while (sqlite3_step(next) == SQLITE_ROW) {
        const auto child = sqlite3_column_int64(next, 0);
        if (seen[static_cast<std::size_t>(child)]) continue;
        seen[static_cast<std::size_t>(child)] = true;
        queue.push_back(child);
      }
      sqlite3_reset(next);
    }
    sqlite3_finalize(next);
    sqlite3_exec(database_, "COMMIT", nullptr, nullptr, nullptr);
    return queue.size();
  }
  /// The same set by one prepared recursive query.
  std::size_t by_query(std::int64_t start) {
    sqlite3_stmt* query = nullptr;
    sqlite3_prepare_v2(database_,
                       "WITH RECURSIVE reached (thing) AS (VALUES (?1) UNION "
                       "SELECT e.child FROM reached CROSS JOIN view_edge e ON e.parent = reached.thing) SELECT thing FROM reached",
                       -1, &query, nullptr);
    sqlite3_bind_int64(query, 1, start);
    std::size_t count = 0;
    while (sqlite3_step(query) == SQLITE_ROW) ++count;
    sqlite3_finalize(query);
    return count;
  }

 private:
  sqlite3* database_ = nullptr;
};

template <class Run>
double seconds_of(const Run& run) {
  const std::clock_t start = std::clock();  // of the processor: reading pages counts, waiting for other programs does not
  run();
  return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}
/// The least of some runs: what the work takes when nothing else disturbs it.
template <class Run>
double least_seconds(int times, const Run& run) {
  double least = seconds_of(run);
  for (int i = 1; i < times; ++i) least = std::min(least, seconds_of(run));
  return least;
}

void list_over_bare_walk(benchmark::State& state, std::int64_t edges) {
  LargeKitchen large{"list"};
  fill(large, edges);
  const std::int64_t things = edges / 4;
  const std::int64_t start = things - 50'000;  // some forty thousand things come after it
  BareWalk bare{large.path()};
  const auto store = open_sqlite(large.path(), true);
  const std::vector<std::string> names{"batch-" + std::to_string(start)};
  double by_hand = 0, query = 0, spent = 0;
  for (auto _ : state) {
    const std::size_t expected = bare.by_hand(start, static_cast<std::size_t>(things));
    if (store->reached(names, Reach::into).size() != expected || bare.by_query(start) != expected) state.SkipWithError("another answer");
    by_hand = least_seconds(7, [&] { benchmark::DoNotOptimize(bare.by_hand(start, static_cast<std::size_t>(things))); });
    query = least_seconds(7, [&] { benchmark::DoNotOptimize(bare.by_query(start)); });
    spent = least_seconds(7, [&] { benchmark::DoNotOptimize(store->reached(names, Reach::into)); });
    state.counters["things"] = static_cast<double>(expected);
  }
  state.counters["ratio"] = spent / query;
  state.counters["asked"] = 1.5;
  state.counters["over_steps_by_hand"] = spent / by_hand;
  state.counters["ms"] = spent * 1000;
}
void ListOverABareWalkOf5MillionEdges(benchmark::State& state) { list_over_bare_walk(state, 5'000'000); }
BENCHMARK(ListOverABareWalkOf5MillionEdges)->Iterations(1)->Unit(benchmark::kSecond);

/// The same answer, found in a kitchen five times as large.
void FiveMillionEdgesOverOneAtEqualAnswers(benchmark::State& state) {
  double spent[2] = {0, 0};
  for (auto _ : state) {
    const std::int64_t sizes[2] = {1'000'000, 5'000'000};
    for (int i = 0; i < 2; ++i) {
      LargeKitchen large{"size-" + std::to_string(i)};
      const std::int64_t own = 200'000;  // edges of the answer: the same small graph stands behind whatever else there is
      std::uint64_t seed = 7;
      const auto below = [&](std::int64_t most) {
        seed = seed * 6364136223846793005U + 1442695040888963407U;
        return static_cast<std::int64_t>((seed >> 33) % static_cast<std::uint64_t>(most));
      };
      const std::int64_t rest = (sizes[i] - own) / 4;
      for (std::int64_t n = 1; n <= rest; ++n) {
        large.thing(n);
        for (int k = 0; k < 4 && n > 1; ++k) large.edge(n - 1 - below(std::min<std::int64_t>(n - 1, 2000)), n);
      }
      seed = 11;
      for (std::int64_t n = 1; n <= own / 4; ++n) {
        large.thing(rest + n);
        for (int k = 0; k < 4 && n > 1; ++k) large.edge(rest + n - 1 - below(std::min<std::int64_t>(n - 1, 2000)), rest + n);
      }
      large.close();
      const auto store = open_sqlite(large.path(), true);
      const std::vector<std::string> names{"batch-" + std::to_string(rest + 1)};
      state.counters[i == 0 ? "things_1M" : "things_5M"] = static_cast<double>(store->reached(names, Reach::into).size());
      spent[i] = least_seconds(9, [&] { benchmark::DoNotOptimize(store->reached(names, Reach::into)); });
    }
  }
  state.counters["ratio"] = spent[1] / spent[0];
  state.counters["asked"] = 1.25;
}
BENCHMARK(FiveMillionEdgesOverOneAtEqualAnswers)->Iterations(1)->Unit(benchmark::kSecond);

/// Stacked diamonds: n of them have 2^n ways and 3n + 1 things. Ten times as many may take ten times as long.
void ManyWaysStayLinear(benchmark::State& state) {
  double each[2] = {0, 0};
  for (auto _ : state) {
    const std::int64_t sizes[2] = {20'000, 200'000};
    for (int i = 0; i < 2; ++i) {
      LargeKitchen large{"diamonds-" + std::to_string(i)};
      large.thing(1);
      for (std::int64_t d = 0; d < sizes[i]; ++d) {
        const std::int64_t top = 3 * d + 1;
        for (std::int64_t n = 1; n <= 3; ++n) large.thing(top + n);
        large.edge(top, top + 1);
        large.edge(top, top + 2);
        large.edge(top + 1, top + 3);
        large.edge(top + 2, top + 3);
      }
      large.close();
      const auto store = open_sqlite(large.path(), true);
      if (store->reached({"batch-1"}, Reach::into).size() != static_cast<std::size_t>(3 * sizes[i] + 1))
        state.SkipWithError("another answer");
      each[i] =
          least_seconds(5, [&] { benchmark::DoNotOptimize(store->reached({"batch-1"}, Reach::into)); }) / static_cast<double>(sizes[i]);
    }
  }
  state.counters["ratio"] = each[1] / each[0];
  state.counters["asked"] = 1.5;  // of the time a diamond, room for what ten times as many pages cost
}
BENCHMARK(ManyWaysStayLinear)->Iterations(1)->Unit(benchmark::kSecond);

}  // namespace

BENCHMARK_MAIN();
