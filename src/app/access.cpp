#include "tierproof/app/access.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <filesystem>

#include "access_inside.h"
#include "access_secrets.h"
#include "tierproof/text/number.h"

namespace tierproof {
namespace {

constexpr std::int64_t codes_tried = 10;             // wrong ones that void the right one
constexpr Span seen_anew = std::chrono::minutes{1};  // how finely it is kept when a device was last seen
constexpr std::size_t posts_a_minute = 60;

std::string beside_records(const std::string& kitchen_file, const char* end) {
  std::error_code error;
  if (!std::filesystem::is_symlink(kitchen_file, error)) return kitchen_file + end;
  const auto real = std::filesystem::canonical(kitchen_file, error);
  return (error ? kitchen_file : real.string()) + end;
}

std::string without_spaces(std::string_view text) {
  std::string kept{text};
  std::erase(kept, ' ');
  return kept;
}

Sensor sensor_of_row(const SensorRow& row) {
  return {fmt::format("sensor-{}", row.number), row.name, row.probe, row.about, row.since, row.revoked};
}

}  // namespace

std::optional<std::int64_t> number_in_id(std::string_view word, std::string_view id) {
  if (!id.starts_with(word)) return std::nullopt;
  id.remove_prefix(word.size());
  std::int64_t number = 0;
  const auto [end, wrong] = std::from_chars(id.data(), id.data() + id.size(), number);
  if (wrong != std::errc{} || end != id.data() + id.size() || number < 1) return std::nullopt;
  return number;
}
std::string id_of_device(std::int64_t number) { return fmt::format("device-{}", number); }
Device device_of_row(const DeviceRow& row) { return {id_of_device(row.number), row.name, row.let_in, row.last_seen}; }

std::optional<Refusal> refused_door_name(std::string_view name) {
  constexpr std::size_t longest = 40;
  const auto nfc = to_nfc(name);
  const auto begins_character = [](char c) { return (static_cast<unsigned char>(c) & 0xc0) != 0x80; };
  const auto control = [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; };
  const bool plain = nfc && *nfc == name && std::none_of(name.begin(), name.end(), control);
  if (!plain) return Refusal{"", 0, "name", "is not plain text of one line in the usual form (UTF-8, NFC)", "type it again"};
  if (std::all_of(name.begin(), name.end(), [](char c) { return c == ' '; }))
    return Refusal{"", 0, "name", "is empty", "say where it is, such as \"by the mixer\""};
  if (static_cast<std::size_t>(std::count_if(name.begin(), name.end(), begins_character)) > longest)
    return Refusal{"", 0, "name", fmt::format("is longer than {} characters", longest), "shorten it"};
  return std::nullopt;
}

std::unique_ptr<Access> Access::open(const std::string& kitchen_file, bool before_records) {
  if (std::error_code error; !before_records && !std::filesystem::is_regular_file(kitchen_file, error))
    throw Fault{exit_status::no_input,
                fmt::format("there is no kitchen file at {}", kitchen_file.empty() ? "an empty name" : kitchen_file)};
  const std::string pepper_file = beside_records(kitchen_file, ".pepper");
  auto inside = std::make_unique<Inside>();
  inside->store = open_access_sqlite(beside_records(kitchen_file, ".access"));
  inside->change([&](AccessStore& store) {
    const auto marked = store.pepper_mark();
    inside->pepper = marked ? load_pepper(pepper_file) : load_or_make_pepper(pepper_file);
    const Digest mark = hmac_sha256(inside->pepper, "which pepper this is");
    if (!marked) store.put_pepper_mark(mark);
    if (marked && !same_secret(*marked, mark)) {
      throw Fault{
          exit_status::configuration,
          fmt::format("{} is not the one that the PINs were made with; put that back from where it is kept, or remove both files and "
                      "let everybody in anew",
                      pepper_file)};
    }
  });
  return std::unique_ptr<Access>{new Access{std::move(inside)}};
}

Access::Access(std::unique_ptr<Inside> inside) : inside_{std::move(inside)} {}
Access::~Access() = default;

std::string Access::let_in(Instant now, const std::string& by) {
  const std::string code = new_code();
  inside_->change([&](AccessStore& store) {
    store.put_code({hmac_sha256(inside_->pepper, code), now + code_lives, 0});
    store.add_happening({now, "code", "", by, "a device may be let in"});
  });
  return code.substr(0, 4) + " " + code.substr(4);
}

Result<Access::Enrolled> Access::enrol(std::string_view code, std::string_view name, Instant now) {
  if (const auto refused = refused_door_name(name)) return *refused;
  Enrolled enrolled;
  bool right = false;
  inside_->change([&](AccessStore& store) {
    const auto open = store.code();
    if (!open) return;
    if (now >= open->until || now < open->until - code_lives) return store.drop_code();
    right = same_secret(open->code, hmac_sha256(inside_->pepper, without_spaces(code)));
    if (!right) {
      store.add_happening({now, "wrong code", "", "", ""});
      if (open->wrong + 1 >= codes_tried) return store.drop_code();
      return store.put_code({open->code, open->until, open->wrong + 1});
    }
    store.drop_code();
    enrolled.key = new_token();
    const DeviceRow row{0, std::string{name}, sha256(enrolled.key), now, now, {}};
    const auto number = store.add_device(row);
    enrolled.device = {id_of_device(number), row.name, now, now};
    store.add_happening({now, "let in", enrolled.device.id, "", row.name});
  });
  if (!right) {
    return Refusal{"", 0, "code", "does not let anything in",
                   "ask an owner for a new one (tierproof let-in); it is good for ten minutes, for one device"};
  }
  return enrolled;
}

std::optional<Device> Access::device_of(std::string_view key, Instant now) {
  const Digest shown = sha256(key);
  const auto found = inside_->ask<std::optional<DeviceRow>>([&](const AccessStore& store) { return store.device_of_key(shown); });
  if (!found || found->shut_out || !same_secret(found->key, shown)) return std::nullopt;
  Device device = device_of_row(*found);
  if (now - found->last_seen >= seen_anew) {
    inside_->change([&](AccessStore& store) { store.saw_device(found->number, now); });
    device.last_seen = now;
  }
  return device;
}

std::vector<Device> Access::devices() const {
  return inside_->ask<std::vector<Device>>([](const AccessStore& store) {
    std::vector<Device> all;
    for (const auto& row : store.devices()) all.push_back(device_of_row(row));
    return all;
  });
}

bool Access::shut_out(std::string_view device, Instant now, const std::string& by) {
  const auto number = number_in_id("device-", device);
  bool done = false;
  inside_->change([&](AccessStore& store) {
    const auto row = number ? store.device(*number) : std::nullopt;
    if (!row || row->shut_out) return;
    store.shut_out_device(row->number, now);
    store.end_sign_ins_on(row->number);
    store.add_happening({now, "shut out", id_of_device(row->number), by, row->name});
    done = true;
  });
  return done;
}

Result<Access::NewSensor> Access::add_sensor(std::string_view name, const std::string& probe, const std::string& about, Instant now,
                                             const std::string& by) {
  if (const auto refused = refused_door_name(name)) return *refused;
  NewSensor added;
  added.token = new_token();
  SensorRow row{0, std::string{name}, probe, about, sha256(added.token), now, {}};
  inside_->change([&](AccessStore& store) {
    row.number = store.add_sensor(row);
    added.sensor = sensor_of_row(row);
    store.add_happening({now, "sensor", "", by, fmt::format("{}: {} ({})", added.sensor.id, row.name, probe)});
  });
  return added;
}

std::variant<std::monostate, Sensor, TooManyPosts> Access::sensor_of(std::string_view token, Instant now) {
  constexpr Span minute = std::chrono::minutes{1};
  const Digest shown = sha256(token);
  const std::scoped_lock lock{inside_->one_at_a_time};
  const auto found = inside_->store->sensor_of_token(shown);
  if (!found || found->revoked || !same_secret(found->token, shown)) return std::monostate{};
  auto& posts = inside_->posts[found->number];
  std::erase_if(posts, [&](Instant at) { return now - at >= minute || at > now; });
  if (posts.size() >= posts_a_minute) return TooManyPosts{posts.front() + minute - now};
  posts.push_back(now);
  return sensor_of_row(*found);
}

std::vector<Sensor> Access::sensors() const {
  return inside_->ask<std::vector<Sensor>>([](const AccessStore& store) {
    std::vector<Sensor> all;
    for (const auto& row : store.sensors()) all.push_back(sensor_of_row(row));
    return all;
  });
}

bool Access::revoke_sensor(std::string_view id, Instant now, const std::string& by) {
  const auto number = number_in_id("sensor-", id);
  bool done = false;
  inside_->change([&](AccessStore& store) {
    for (const auto& row : store.sensors()) {
      if (row.number != number || row.revoked) continue;
      store.revoke_sensor(row.number, now);
      store.add_happening({now, "sensor off", "", by, fmt::format("{}: {} ({})", id, row.name, row.probe)});
      done = true;
    }
  });
  return done;
}

void Access::note_refused(const std::string& device, const std::string& person, const std::string& detail, Instant now) {
  inside_->change([&](AccessStore& store) { store.add_happening({now, "not allowed", device, person, detail}); });
}

std::vector<DoorEvent> Access::happened(std::size_t most) const {
  return inside_->ask<std::vector<DoorEvent>>([&](const AccessStore& store) {
    std::vector<DoorEvent> all;
    for (const auto& row : store.happenings(most)) all.push_back({row.at, row.what, row.device, row.person, row.detail});
    return all;
  });
}

}  // namespace tierproof
