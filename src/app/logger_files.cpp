#include "tierproof/app/logger_files.h"

#include <openssl/evp.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <memory>
#include <utility>

#include "checking.h"
#include "purpose.h"
#include "wall_clock.h"

namespace tierproof {
namespace {

constexpr std::size_t piece_bytes = 64 * 1024;
constexpr std::size_t shown_at_either_end = 3;

/// Passes the pieces of a file on, and takes its size and SHA-256 on the way.
class Measured {
 public:
  explicit Measured(NextPiece next) : next_{std::move(next)}, context_{EVP_MD_CTX_new(), &EVP_MD_CTX_free} {
    if (!context_ || EVP_DigestInit_ex(context_.get(), EVP_sha256(), nullptr) != 1) fail();
  }
  std::string_view next() {
    const std::string_view piece = next_();
    bytes_ += static_cast<std::int64_t>(piece.size());
    if (EVP_DigestUpdate(context_.get(), piece.data(), piece.size()) != 1) fail();
    return piece;
  }
  /// Reads what is left and gives the digest.
  std::string finish() {
    while (!next().empty()) continue;
    Digest digest{};
    unsigned length = 0;
    if (EVP_DigestFinal_ex(context_.get(), digest.data(), &length) != 1 || length != digest.size()) fail();
    return to_hex(digest);
  }
  std::int64_t bytes() const { return bytes_; }

 private:
  [[noreturn]] static void fail() { throw Fault{exit_status::configuration, "OpenSSL does not give a SHA-256"}; }
  NextPiece next_;
  std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)> context_;
  std::int64_t bytes_ = 0;
};

/// A reading in 16 bytes: a long file has millions.
struct Packed {
  std::int64_t at = 0;
  std::int32_t hundredths = 0;
  std::uint32_t what = 0;  ///< 0 Celsius, 1 Fahrenheit, from 2 on the number of a fault's text
  friend bool operator==(const Packed&, const Packed&) = default;
  friend auto operator<=>(const Packed&, const Packed&) = default;
};

/// All readings of a file, packed.
class PackedReadings {
 public:
  void reserve(std::int64_t count) { rows_.reserve(static_cast<std::size_t>(count)); }
  void add(Instant at, const std::optional<Degrees>& degrees, const std::string& fault) {
    Packed row{at.time_since_epoch().count(), 0, 0};
    if (degrees) {
      row.hundredths = static_cast<std::int32_t>(degrees->hundredths);
      row.what = degrees->scale == Scale::celsius ? 0 : 1;
    } else {
      row.what = 2 + number_of(fault);
    }
    rows_.push_back(row);
  }
  /// In time order, each once. Gives how many rows said again what another said.
  std::int64_t settle() {
    if (!std::is_sorted(rows_.begin(), rows_.end())) std::sort(rows_.begin(), rows_.end());
    const auto all = rows_.size();
    rows_.erase(std::unique(rows_.begin(), rows_.end()), rows_.end());
    known_.assign(rows_.size(), false);
    disputed_.assign(rows_.size(), false);
    for (std::size_t i = 1; i < rows_.size(); ++i) {
      if (rows_[i].at == rows_[i - 1].at) disputed_[i] = disputed_[i - 1] = true;
    }
    return static_cast<std::int64_t>(all - rows_.size());
  }
  /// Marks what `recorded`, a reading in the records, has to say of a row here.
  void meet(const LoggedReading& recorded) {
    const auto at = recorded.at.time_since_epoch().count();
    auto row = std::lower_bound(rows_.begin(), rows_.end(), at, [](const Packed& one, std::int64_t when) { return one.at < when; });
    for (; row != rows_.end() && row->at == at; ++row) {
      const auto i = static_cast<std::size_t>(row - rows_.begin());
      const bool faults = !(*this)[i].degrees && !recorded.degrees;  // however they were spelt
      if (faults || (*this)[i] == recorded) {
        known_[i] = true;
      } else {
        disputed_[i] = true;
      }
    }
  }
  std::size_t size() const { return rows_.size(); }
  bool known(std::size_t i) const { return known_[i]; }
  bool disputed(std::size_t i) const { return disputed_[i]; }
  LoggedReading operator[](std::size_t i) const {
    const Packed& row = rows_[i];
    const Instant at{Span{row.at}};
    if (row.what >= 2) return {at, std::nullopt, faults_[row.what - 2]};
    return {at, Degrees{row.hundredths, row.what == 0 ? Scale::celsius : Scale::fahrenheit}, ""};
  }

 private:
  std::uint32_t number_of(const std::string& fault) {
    const std::string text = fault_text(fault);
    auto found = std::find(faults_.begin(), faults_.end(), text);
    if (found == faults_.end()) found = faults_.insert(found, text);
    return static_cast<std::uint32_t>(found - faults_.begin());
  }
  /// As a block keeps it, so that it is known again.
  static std::string fault_text(std::string fault) {
    if (fault.empty()) return "empty";
    std::replace_if(
        fault.begin(), fault.end(), [](char c) { return static_cast<unsigned char>(c) < 0x20; }, ' ');
    return fault;
  }

  std::vector<Packed> rows_;
  std::vector<std::string> faults_;
  std::vector<bool> known_, disputed_;
};

/// A logger's file, read and compared with the records, ready to be booked.
struct Prepared {
  ReadingsBlock about;
  PackedReadings readings;
  FileReport report;
};

std::string file_part(const std::string& path) {
  const auto slash = path.find_last_of('/');
  return slash == std::string::npos ? path : path.substr(slash + 1);
}

/// Reads one file, twice.
class Preparing {
 public:
  Preparing(const Session& session, const LoggerFile& asked, bool booking)
      : session_{session}, asked_{asked}, booking_{booking}, checking_{session} {}

  Result<Prepared> prepare() {
    check_asked();
    if (!checking_.good()) return checking_.refusals();
    if (auto refusals = look_through(); !refusals.empty()) return refusals;
    if (auto refusals = take(); !refusals.empty()) return refusals;
    compare();
    summarise();
    return std::move(prepared_);
  }

 private:
  void check_asked() {
    if (booking_) checking_.person();
    checking_.known("thermometer", session_.state().probes, asked_.probe, "thermometer");
    ReadingsBlock& about = prepared_.about;
    about.probe = ProbeId{asked_.probe};
    about.about = asked_.about;
    about.purpose = purpose_of(checking_, session_.state(), asked_.about, asked_.purpose);
    about.file = plain_name(file_part(asked_.file.name));
    about.format = asked_.format;
    auto map = read_column_map(asked_.column_map.text, asked_.column_map.name);
    if (!map) return checking_.take(map.error());
    map_ = std::move(*map);
    const auto column = asked_.column.empty() ? column_of(map_, asked_.probe) : std::optional{asked_.column};
    if (column) {
      map_.temperature = *column;
    } else {
      std::vector<std::string> names;
      for (const auto& [thermometer, heading] : map_.thermometers) names.push_back(fmt::format("{} in \"{}\"", thermometer, heading));
      checking_.refuse("thermometer", fmt::format("the column map says no column of \"{}\"", asked_.probe),
                       fmt::format("name the column with --column; the map has {}", fmt::join(names, ", ")));
    }
    zone_ = map_.zone.empty() ? session_.kitchen().zone : map_.zone;
    auto clock = WallClock::in_zone(zone_, {asked_.column_map.name, 0, "zone", "", ""});
    if (!clock) return checking_.take(clock.error());
    clock_.emplace(std::move(*clock));
  }

  /// First reading of the file: everything in it that can be refused without knowing the order of its rows.
  Refusals look_through() {
    Measured file{asked_.file.open()};
    ReadingStream stream{map_, asked_.file.name, [&] { return file.next(); }};
    while (const auto reading = stream.next()) {
      const auto* wall = std::get_if<LocalTime>(&reading->when);
      if (wall != nullptr) order_.add(*wall, clock_->twice(*wall));
      local_ = local_ || wall != nullptr;
    }
    if (auto refusals = stream.refusals(); !refusals.empty()) return refusals;
    prepared_.report.seen = stream.seen();
    prepared_.about.file_sha256 = file.finish();
    prepared_.about.file_bytes = file.bytes();
    return {};
  }

  /// Second reading: instants by the clock's zone.
  Refusals take() {
    Measured file{asked_.file.open()};
    ReadingStream stream{map_, asked_.file.name, [&] { return file.next(); }};
    prepared_.readings.reserve(prepared_.report.seen.readings);
    std::optional<Instant> previous;
    Refusals refusals;
    std::int64_t refused = 0;
    const auto refuse = [&](const Refusal& refusal) {
      if (++refused <= 100) refusals.push_back(refusal);
    };
    const Instant now = session_.now();
    const auto probe = session_.state().probes.find(prepared_.about.probe);
    while (const auto reading = stream.next()) {
      Instant at;
      const Refusal where{asked_.file.name, reading->line, map_.time, "", ""};
      if (const auto* zoned = std::get_if<ZonedInstant>(&reading->when)) {
        at = zoned->at;
      } else {
        const auto found = clock_->instant(std::get<LocalTime>(reading->when), previous, order_, map_.missing_hour, where);
        if (!found) {
          refuse(found.error().front());
          continue;
        }
        at = *found;
      }
      previous = at;
      if (at > now) {
        refuse({where.file, where.line, where.field, "lies after now", "check the logger's clock and the zone"});
        continue;
      }
      prepared_.readings.add(at, reading->degrees, reading->fault);
      if (reading->degrees && probe != session_.state().probes.end() && reading->degrees->scale != probe->second.value.scale)
        ++prepared_.report.other_scale;
    }
    if (refused > 100) refuse_rest(refusals, refused - 100);
    if (refusals.empty() && file.finish() != prepared_.about.file_sha256)
      refusals.push_back({asked_.file.name, 0, "", "changed while it was read", "wait until the logger has written it, and try again"});
    return refusals;
  }

  void refuse_rest(Refusals& refusals, std::int64_t more) const {
    refusals.push_back({asked_.file.name, 0, "", fmt::format("{} more are not listed", more), "mend these first"});
  }

  /// Meets the readings in the records block by block; a block that lies wholly before or after the file is not opened.
  void compare() {
    prepared_.report.repeated = prepared_.readings.settle();
    const Instant first = prepared_.readings[0].at;
    const Instant last = prepared_.readings[prepared_.readings.size() - 1].at;
    for (const auto& other : session_.state().readings) {
      const ReadingsBlock& block = other.value;
      if (block.probe != prepared_.about.probe || block.about != prepared_.about.about || block.purpose != prepared_.about.purpose)
        continue;
      if (block.last < first || block.first > last) continue;
      for (const auto& reading : session_.readings(other)) prepared_.readings.meet(reading);
    }
  }

  void summarise() {
    const PackedReadings& readings = prepared_.readings;
    FileReport& report = prepared_.report;
    report.file = prepared_.about.file;
    report.sha256 = prepared_.about.file_sha256;
    report.bytes = *prepared_.about.file_bytes;
    report.format = asked_.format;
    report.column = map_.temperature;
    if (local_) report.zone = zone_;
    report.twice = clock_->twice_count();
    report.twice_on = clock_->twice_first();
    report.shifted = clock_->shifted_count();
    const std::size_t size = readings.size();
    for (std::size_t i = 0; i < size; ++i) {
      if (readings.known(i)) {
        ++report.recorded;
      } else {
        ++report.fresh;
        if (readings.disputed(i)) ++report.disputed;
      }
    }
    report.first = readings[0];
    report.last = readings[size - 1];
    for (std::size_t i = 0; i < std::min(size, shown_at_either_end); ++i) report.head.push_back(readings[i]);
    for (std::size_t i = std::max(shown_at_either_end, size - std::min(size, shown_at_either_end)); i < size; ++i)
      report.tail.push_back(readings[i]);
  }

  const Session& session_;
  const LoggerFile& asked_;
  bool booking_;
  Checking checking_;
  ColumnMap map_;
  std::string zone_;
  std::optional<WallClock> clock_;
  RowOrder order_;
  bool local_ = false;
  Prepared prepared_;
};

Draft draft_of(const Session& session, ReadingsBlock block, const std::vector<LoggedReading>& readings) {
  block.count = static_cast<std::int64_t>(readings.size());
  block.first = readings.front().at;
  block.last = readings.back().at;
  std::string bytes = write_block(readings);
  block.sha256 = to_hex(sha256(bytes));
  Draft draft = session.draft(block, block.about, {block.last, session.offset_at(block.last)});
  draft.how = Arrival::logger;
  draft.block = std::move(bytes);
  return draft;
}

std::vector<std::string> shipped_maps(const std::filesystem::path& folder) {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator{folder}) {
    if (entry.path().extension() == ".tsv") names.push_back(entry.path().stem().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

}  // namespace

PiecewiseFile file_in_pieces(const std::string& path) {
  return {path, [path]() -> NextPiece {
            struct Open {
              std::ifstream file;
              std::string piece;
            };
            auto open = std::make_shared<Open>();
            open->file.open(path, std::ios::binary);
            if (!open->file || std::filesystem::is_directory(path))
              throw Fault{exit_status::no_input, fmt::format("{}: cannot be read; check the name and that you may read it", path)};
            open->piece.resize(piece_bytes);
            return [open, path]() -> std::string_view {
              if (open->file.eof()) return {};
              open->file.read(open->piece.data(), static_cast<std::streamsize>(open->piece.size()));
              if (open->file.bad()) throw Fault{exit_status::io, fmt::format("{}: reading it failed", path)};
              return std::string_view{open->piece}.substr(0, static_cast<std::size_t>(open->file.gcount()));
            };
          }};
}

PiecewiseFile text_in_one_piece(const GivenDocument& document) {
  const auto text = std::make_shared<const std::string>(document.text);
  return {document.name, [text]() -> NextPiece {
            return [text, rest = std::string_view{*text}]() mutable { return std::exchange(rest, std::string_view{}); };
          }};
}

Result<FileReport> preview_logger_file(const Session& session, const LoggerFile& asked) {
  auto prepared = Preparing{session, asked, false}.prepare();
  if (!prepared) return prepared.error();
  return std::move(prepared->report);
}

Result<FileBooked> import_logger_file(Session& session, const LoggerFile& asked) {
  const auto prepared = Preparing{session, asked, true}.prepare();
  if (!prepared) return prepared.error();
  const PackedReadings& all = prepared->readings;
  std::vector<Draft> drafts;
  std::vector<LoggedReading> fresh;
  const auto close = [&] {
    drafts.push_back(draft_of(session, prepared->about, fresh));
    fresh.clear();
  };
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all.known(i)) continue;
    fresh.push_back(all[i]);
    if (fresh.size() == readings_in_block) close();
  }
  if (!fresh.empty()) close();
  if (drafts.empty()) return Refusal{asked.file.name, 0, "", "holds no reading that is not recorded already", "nothing is left to do"};
  return FileBooked{session.book(std::move(drafts)), prepared->report};
}

Result<Booked> keep_column_map(Session& session, const std::string& name, const GivenDocument& map) {
  Checking checking{session};
  checking.person();
  checking.id("name", name);
  const auto read = read_column_map(map.text, map.name);
  if (!read) checking.take(read.error());
  if (read && !read->zone.empty()) {
    const auto clock = WallClock::in_zone(read->zone, {map.name, 0, "zone", "", ""});
    if (!clock) checking.take(clock.error());
  }
  if (read) {
    for (const auto& [thermometer, column] : read->thermometers)
      checking.known("thermometer", session.state().probes, thermometer, "thermometer");
  }
  const auto kept = session.state().column_maps.find(name);
  const bool before = kept != session.state().column_maps.end();
  if (before && kept->second.value.text == map.text)
    checking.refuse("name", fmt::format("\"{}\" is kept like this already, as note {}", name, kept->second.sequence),
                    "nothing is left to do");
  if (!checking.good()) return checking.refusals();
  Draft draft = session.draft(ColumnMapKept{map.text}, name, {session.now(), session.offset_at(session.now())});
  if (before) draft.supersedes = kept->second.sequence;
  if (auto refusals = check_body(draft.kind, draft.body, map.name); !refusals.empty()) return refusals;
  return session.book({std::move(draft)});
}

Result<FoundColumnMap> column_map_named(const Session& session, const DataRoot& root, const std::string& name) {
  const std::filesystem::path folder = std::filesystem::path{root.path} / "reference" / "probes";
  auto names = shipped_maps(folder);
  const bool shipped = std::find(names.begin(), names.end(), name) != names.end();
  const auto& kept = session.state().column_maps;
  if (const auto found = kept.find(name); found != kept.end()) {
    return FoundColumnMap{
        {fmt::format("{} (note {})", name, found->second.sequence), found->second.value.text}, found->second.sequence, shipped};
  }
  if (shipped) {
    const std::string path = (folder / (name + ".tsv")).string();
    return FoundColumnMap{{path, load_file(path)}, 0, false};
  }
  for (const auto& [own, map] : kept) names.push_back(own);
  std::sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
  return Refusal{"", 0, "--format", fmt::format("there is no column map called \"{}\"", name),
                 fmt::format("write one of {}, or keep one with `tierproof logger-layout`", fmt::join(names, ", "))};
}

}  // namespace tierproof
