// How far reading and booking a logger's file is from a floor measured in the same run: reading the same bytes in the same pieces and
// looking at each. `ratio` is the time over the floor's. `peak_mb` is the most memory that the process ever held.
// Run: build-test/import_bench
#include <benchmark/benchmark.h>
#include <fmt/format.h>
#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <functional>
#include <string>

#include "tierproof/app/logger_files.h"
#include "tierproof/imports/plain_log.h"
#include "tierproof/sums/cooling.h"
#include "tierproof/sums/log_sums.h"

namespace {
using namespace tierproof;
using Clock = std::chrono::steady_clock;

constexpr int rows = 1'000'000;

const std::string& folder() {
  static const std::string path = [] {
    std::string name = (std::filesystem::temp_directory_path() / "tierproof-import-bench-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) std::abort();
    return name;
  }();
  return path;
}

/// A file of a million readings, a minute apart, made once.
const std::string& long_file() {
  static const std::string path = [] {
    std::string name = folder() + "/long.csv";
    std::ofstream out{name, std::ios::binary};
    out << "time,temperature\n";
    for (int i = 0; i < rows; ++i) {
      const Instant at{std::chrono::sys_days{std::chrono::year{2024} / 1 / 1} + std::chrono::minutes{i}};
      out << format_zoned(at, Offset{}) << ',' << 3 + i % 4 << '.' << i % 100 / 10 << i % 10 << '\n';
    }
    return name;
  }();
  return path;
}

ColumnMap plain() { return *read_column_map(load_file(TIERPROOF_SOURCE_DIR "/reference/probes/plain.tsv"), "plain.tsv"); }

double seconds_since(Clock::time_point start) { return std::chrono::duration<double>(Clock::now() - start).count(); }

double floor_of(const std::string& path) {
  double best = 1e9;
  for (int i = 0; i < 3; ++i) {
    const auto start = Clock::now();
    const auto next = file_in_pieces(path).open();
    std::int64_t lines = 0;
    for (auto piece = next(); !piece.empty(); piece = next()) lines += std::count(piece.begin(), piece.end(), '\n');
    if (lines != rows + 1) std::abort();
    best = std::min(best, seconds_since(start));
  }
  return best;
}

double peak_megabytes() {
  rusage usage{};
  ::getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024.0;
}

void ReadingAMillionRowsOverTouchingTheirBytes(benchmark::State& state) {
  const double floor = floor_of(long_file());
  double spent = 0;
  for (auto _ : state) {
    const auto start = Clock::now();
    ReadingStream stream{plain(), "long.csv", file_in_pieces(long_file()).open()};
    std::int64_t count = 0;
    while (stream.next()) ++count;
    if (count != rows || !stream.refusals().empty()) std::abort();
    spent += seconds_since(start);
  }
  state.counters["ratio"] = spent / static_cast<double>(state.iterations()) / floor;
  state.counters["peak_mb"] = peak_megabytes();
}
BENCHMARK(ReadingAMillionRowsOverTouchingTheirBytes)->Iterations(2)->Unit(benchmark::kMillisecond);

void BookingAMillionRowsOverTouchingTheirBytes(benchmark::State& state) {
  const double floor = floor_of(long_file());
  const auto packs = load_packs(DataRoot{TIERPROOF_SOURCE_DIR});
  NewKitchen begun;
  begun.kitchen.name = "Bench Kitchen";
  begun.kitchen.address = {"Unit 0"};
  begun.kitchen.zone = "Europe/London";
  begun.kitchen.label_rules = "gb";
  begun.kitchen.temperature_rules = "gb-eng";
  begun.kitchen.retention_rules = "gb";
  begun.owner_id = "ada";
  begun.owner_name = "Ada Sample";
  double spent = 0;
  int round = 0;
  for (auto _ : state) {
    Entrance entrance;
    entrance.kitchen_file = folder() + "/kitchen-" + std::to_string(round++);
    entrance.person = "ada";
    entrance.device = "benchmark";
    if (!begin_kitchen(entrance, begun, packs)) std::abort();
    Session session{entrance, packs, open_sqlite(entrance.kitchen_file, false)};
    if (!add_place(session, "fridge", Place{"fridge", "fridge"})) std::abort();
    if (!add_probe(session, "logger", Probe{"logger", Scale::celsius, 50, 10, "air", PlaceId{"fridge"}})) std::abort();
    const GivenDocument map{"plain.tsv", load_file(TIERPROOF_SOURCE_DIR "/reference/probes/plain.tsv")};
    const auto start = Clock::now();
    const auto done = import_logger_file(session, {"logger", "fridge", "", file_in_pieces(long_file()), map, "plain", ""});
    spent += seconds_since(start);
    if (!done || done->report.fresh != rows) std::abort();
  }
  state.counters["ratio"] = spent / static_cast<double>(state.iterations()) / floor;
  state.counters["peak_mb"] = peak_megabytes();
}
BENCHMARK(BookingAMillionRowsOverTouchingTheirBytes)->Iterations(1)->Unit(benchmark::kMillisecond);

/// Five million rows a second apart, made once: above 8 °C for one row of every ten.
const std::string& longest_log() {
  static const std::string path = [] {
    std::string name = folder() + "/longest.csv";
    std::ofstream out{name, std::ios::binary};
    out << "time,temp_c\n";
    for (std::int64_t i = 0; i < 5 * rows; ++i) {
      const std::int64_t millionths = i * 1'000'000 / 60;  // of a minute
      out << fmt::format("{}.{:06},{}\n", millionths / 1'000'000, millionths % 1'000'000, i % 10 == 3 ? "9.25" : "4.75");
    }
    return name;
  }();
  return path;
}

/// A sum as `tierproof sum` does it over the longest log, in seconds.
double summed(const std::function<void(const Sample&)>& take) {
  const auto start = Clock::now();
  const auto seen = read_plain_log(file_in_pieces(longest_log()).open(), "longest.csv", take);
  if (!seen || seen->rows != 5 * rows) std::abort();
  return seconds_since(start);
}

void SummingFiveMillionRowsOverReadingThem(benchmark::State& state) {
  const double floor = summed([](const Sample&) {});
  double heat_s = 0, stay_s = 0, cooling_s = 0;
  for (auto _ : state) {
    HeatOfLog heat{{fine_celsius(70), fine_celsius(7.5), {}, {}, {}, LogTime{60'000'000}, Minutes{2}}};
    StayOfLog stay{{fine_celsius(8), {}, LogTime{1'800'000'000}}};
    RunningCooling cooling{{std::chrono::hours{2}, std::chrono::hours{6}, {}}};
    heat_s += summed([&](const Sample& sample) { heat.take(sample); });
    stay_s += summed([&](const Sample& sample) { stay.take(sample); });
    cooling_s += summed([&](const Sample& sample) {
      cooling.take(sample.at, cooling_reading(*sample.read, FineCelsius{}, fine_celsius(57), fine_celsius(21), fine_celsius(5)));
    });
    if (cooling.told().began || stay.told().excursions.size() != 500'000 || heat.told().gap != LogTime{}) std::abort();
  }
  state.counters["heat_ratio"] = heat_s / static_cast<double>(state.iterations()) / floor;
  state.counters["stay_ratio"] = stay_s / static_cast<double>(state.iterations()) / floor;
  state.counters["cooling_ratio"] = cooling_s / static_cast<double>(state.iterations()) / floor;
  state.counters["peak_mb"] = peak_megabytes();
}
BENCHMARK(SummingFiveMillionRowsOverReadingThem)->Iterations(1)->Unit(benchmark::kMillisecond);

}  // namespace

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
  std::filesystem::remove_all(folder());
}
