#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>

#include "access_rows.h"
#include "tierproof/units/result.h"

namespace tierproof {
namespace {

using sqlite::Statement;

constexpr int happenings_kept = 10'000;

std::int64_t stored(Instant at) { return at.time_since_epoch().count(); }
Instant instant_in(const Statement& row, int column) { return Instant{Span{row.integer(column)}}; }
std::optional<Instant> maybe_instant_in(const Statement& row, int column) {
  return row.is_null(column) ? std::nullopt : std::optional{instant_in(row, column)};
}

std::string_view stored(const Digest& digest) { return {reinterpret_cast<const char*>(digest.data()), digest.size()}; }
Digest digest_in(const Statement& row, int column) {
  const auto bytes = row.bytes(column);
  Digest digest{};
  if (bytes.size() != digest.size()) throw Fault{exit_status::configuration, "the file of who may come in holds a hash of another length"};
  std::copy(bytes.begin(), bytes.end(), digest.begin());
  return digest;
}

constexpr const char* device_columns = "SELECT number, name, key, let_in, last_seen, shut_out FROM device ";
DeviceRow device_in(const Statement& row) {
  return {row.integer(0), row.bytes(1), digest_in(row, 2), instant_in(row, 3), instant_in(row, 4), maybe_instant_in(row, 5)};
}
constexpr const char* sensor_columns = "SELECT number, name, probe, about, token, since, revoked FROM sensor ";
SensorRow sensor_in(const Statement& row) {
  return {row.integer(0), row.bytes(1), row.bytes(2), row.bytes(3), digest_in(row, 4), instant_in(row, 5), maybe_instant_in(row, 6)};
}

class SqliteAccess : public AccessStore {
 public:
  explicit SqliteAccess(const std::string& path) : database_{path, sqlite::Access::read_write} {
    sqlite::make_access_schema(database_, path);
  }

  void together(const std::function<void()>& changes) override {
    sqlite::Transaction writing{database_, sqlite::Transaction::Kind::write};
    changes();
    writing.commit();
  }

  std::optional<Digest> pepper_mark() const override {
    auto row = database_.prepare("SELECT pepper_mark FROM door WHERE pepper_mark IS NOT NULL");
    return row.step() ? std::optional{digest_in(row, 0)} : std::nullopt;
  }
  void put_pepper_mark(const Digest& mark) override {
    database_.prepare("UPDATE door SET pepper_mark = ?1").bind_blob(1, stored(mark)).run();
  }

  std::optional<CodeRow> code() const override {
    auto row = database_.prepare("SELECT code, code_until, code_wrong FROM door WHERE code IS NOT NULL");
    if (!row.step()) return std::nullopt;
    return CodeRow{digest_in(row, 0), instant_in(row, 1), row.integer(2)};
  }
  void put_code(const CodeRow& code) override {
    database_.prepare("UPDATE door SET code = ?1, code_until = ?2, code_wrong = ?3")
        .bind_blob(1, stored(code.code))
        .bind(2, stored(code.until))
        .bind(3, code.wrong)
        .run();
  }
  void drop_code() override { database_.run("UPDATE door SET code = NULL, code_until = NULL, code_wrong = NULL"); }

  std::int64_t add_device(const DeviceRow& device) override {
    auto added = database_.prepare("INSERT INTO device (name, key, let_in, last_seen) VALUES (?1, ?2, ?3, ?4) RETURNING number");
    added.bind_text(1, device.name).bind_blob(2, stored(device.key)).bind(3, stored(device.let_in)).bind(4, stored(device.last_seen));
    return number_of(added);
  }
  std::optional<DeviceRow> device(std::int64_t number) const override {
    auto row = database_.prepare(fmt::format("{}WHERE number = ?1", device_columns));
    row.bind(1, number);
    return row.step() ? std::optional{device_in(row)} : std::nullopt;
  }
  std::optional<DeviceRow> device_of_key(const Digest& key) const override {
    auto row = database_.prepare(fmt::format("{}WHERE key = ?1", device_columns));
    row.bind_blob(1, stored(key));
    return row.step() ? std::optional{device_in(row)} : std::nullopt;
  }
  std::vector<DeviceRow> devices() const override {
    auto row = database_.prepare(fmt::format("{}WHERE shut_out IS NULL ORDER BY number", device_columns));
    std::vector<DeviceRow> all;
    while (row.step()) all.push_back(device_in(row));
    return all;
  }
  void saw_device(std::int64_t number, Instant at) override {
    database_.prepare("UPDATE device SET last_seen = ?2 WHERE number = ?1").bind(1, number).bind(2, stored(at)).run();
  }
  void shut_out_device(std::int64_t number, Instant at) override {
    database_.prepare("UPDATE device SET shut_out = ?2 WHERE number = ?1").bind(1, number).bind(2, stored(at)).run();
  }

  std::optional<PinRow> pin(const std::string& person) const override {
    auto row = database_.prepare("SELECT salt, hash, passes, memory_kib, set_at FROM pin WHERE person = ?1");
    row.bind_text(1, person);
    if (!row.step()) return std::nullopt;
    return PinRow{row.bytes(0), row.bytes(1), row.integer(2), row.integer(3), instant_in(row, 4)};
  }
  void put_pin(const std::string& person, const PinRow& pin) override {
    database_.prepare("INSERT OR REPLACE INTO pin (person, salt, hash, passes, memory_kib, set_at) VALUES (?1, ?2, ?3, ?4, ?5, ?6)")
        .bind_text(1, person)
        .bind_blob(2, pin.salt)
        .bind_blob(3, pin.hash)
        .bind(4, pin.passes)
        .bind(5, pin.memory_kib)
        .bind(6, stored(pin.set))
        .run();
  }

  MissCount misses(const std::string& of) const override {
    auto row = database_.prepare("SELECT in_a_row, not_before FROM miss WHERE of = ?1");
    row.bind_text(1, of);
    if (!row.step()) return {};
    return {row.integer(0), instant_in(row, 1)};
  }
  void put_misses(const std::string& of, const MissCount& count) override {
    if (count.in_a_row == 0) {
      database_.prepare("DELETE FROM miss WHERE of = ?1").bind_text(1, of).run();
      return;
    }
    database_.prepare("INSERT OR REPLACE INTO miss (of, in_a_row, not_before) VALUES (?1, ?2, ?3)")
        .bind_text(1, of)
        .bind(2, count.in_a_row)
        .bind(3, stored(count.not_before))
        .run();
  }

  void add_sign_in(const SignInRow& sign_in) override {
    database_.prepare("INSERT INTO sign_in (token, device, person, authority, since, last_page) VALUES (?1, ?2, ?3, ?4, ?5, ?6)")
        .bind_blob(1, stored(sign_in.token))
        .bind(2, sign_in.device)
        .bind_text(3, sign_in.person)
        .bind_text(4, sign_in.authority)
        .bind(5, stored(sign_in.since))
        .bind(6, stored(sign_in.last_page))
        .run();
  }
  std::optional<SignInRow> sign_in(const Digest& token) const override {
    auto row = database_.prepare("SELECT token, device, person, authority, since, last_page FROM sign_in WHERE token = ?1");
    row.bind_blob(1, stored(token));
    if (!row.step()) return std::nullopt;
    return SignInRow{digest_in(row, 0), row.integer(1), row.bytes(2), row.bytes(3), instant_in(row, 4), instant_in(row, 5)};
  }
  void saw_page(const Digest& token, Instant at) override {
    database_.prepare("UPDATE sign_in SET last_page = ?2 WHERE token = ?1").bind_blob(1, stored(token)).bind(2, stored(at)).run();
  }
  void end_sign_in(const Digest& token) override {
    database_.prepare("DELETE FROM sign_in WHERE token = ?1").bind_blob(1, stored(token)).run();
  }
  void end_sign_ins_on(std::int64_t device) override { database_.prepare("DELETE FROM sign_in WHERE device = ?1").bind(1, device).run(); }
  void end_sign_ins_of(const std::string& person) override {
    database_.prepare("DELETE FROM sign_in WHERE person = ?1").bind_text(1, person).run();
  }
  void end_sign_ins_since_before(Instant since) override {
    database_.prepare("DELETE FROM sign_in WHERE since < ?1").bind(1, stored(since)).run();
  }

  std::int64_t add_sensor(const SensorRow& sensor) override {
    auto added = database_.prepare("INSERT INTO sensor (name, probe, about, token, since) VALUES (?1, ?2, ?3, ?4, ?5) RETURNING number");
    added.bind_text(1, sensor.name).bind_text(2, sensor.probe).bind_text(3, sensor.about);
    added.bind_blob(4, stored(sensor.token)).bind(5, stored(sensor.since));
    return number_of(added);
  }
  std::optional<SensorRow> sensor_of_token(const Digest& token) const override {
    auto row = database_.prepare(fmt::format("{}WHERE token = ?1", sensor_columns));
    row.bind_blob(1, stored(token));
    return row.step() ? std::optional{sensor_in(row)} : std::nullopt;
  }
  std::vector<SensorRow> sensors() const override {
    auto row = database_.prepare(fmt::format("{}ORDER BY number", sensor_columns));
    std::vector<SensorRow> all;
    while (row.step()) all.push_back(sensor_in(row));
    return all;
  }
  void revoke_sensor(std::int64_t number, Instant at) override {
    database_.prepare("UPDATE sensor SET revoked = ?2 WHERE number = ?1").bind(1, number).bind(2, stored(at)).run();
  }

  void add_happening(const HappeningRow& happening) override {
    auto added = database_.prepare("INSERT INTO happening (at, what, device, person, detail) VALUES (?1, ?2, ?3, ?4, ?5) RETURNING number");
    added.bind(1, stored(happening.at)).bind_text(2, happening.what).bind_text(3, happening.device);
    added.bind_text(4, happening.person).bind_text(5, happening.detail);
    const auto number = number_of(added);
    database_.prepare("DELETE FROM happening WHERE number <= ?1").bind(1, number - happenings_kept).run();
  }
  std::vector<HappeningRow> happenings(std::size_t most) const override {
    auto row = database_.prepare("SELECT at, what, device, person, detail FROM happening ORDER BY number DESC LIMIT ?1");
    row.bind(1, std::uint64_t{most});
    std::vector<HappeningRow> all;
    while (row.step()) all.push_back({instant_in(row, 0), row.bytes(1), row.bytes(2), row.bytes(3), row.bytes(4)});
    return all;
  }

 private:
  static std::int64_t number_of(Statement& added) {
    if (!added.step()) throw Fault{exit_status::our_bug, "a row that was added has no number"};
    const auto number = added.integer(0);
    while (added.step()) {
    }
    return number;
  }

  sqlite::Database database_;
};

}  // namespace

std::unique_ptr<AccessStore> open_access_sqlite(const std::string& path) {
  const auto whole = std::filesystem::absolute(path).string();  // so that no name means anything else to SQLite
  const int made = ::open(whole.c_str(), O_CREAT | O_EXCL | O_RDWR | O_NOFOLLOW | O_CLOEXEC, S_IRUSR | S_IWUSR);
  if (made >= 0) {
    ::close(made);
  } else if (errno != EEXIST) {
    throw Fault{exit_status::cannot_create, fmt::format("cannot make {}: {}", path, std::strerror(errno))};
  }
  struct stat found {};
  if (::lstat(whole.c_str(), &found) != 0) throw Fault{exit_status::io, fmt::format("cannot look at {}: {}", path, std::strerror(errno))};
  if (!S_ISREG(found.st_mode)) throw Fault{exit_status::configuration, fmt::format("{} is not a file; move it away", path)};
  if ((found.st_mode & (S_IRWXG | S_IRWXO)) != 0) {
    throw Fault{exit_status::configuration,
                fmt::format("others on this machine may read or write {}, which tells who may come in; run chmod 600 on it", path)};
  }
  return std::make_unique<SqliteAccess>(whole);
}

}  // namespace tierproof
