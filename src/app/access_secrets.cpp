#include "access_secrets.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sodium.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cassert>
#include <cerrno>
#include <cstring>
#include <filesystem>

#include "tierproof/units/result.h"
#include "tierproof/units/time.h"

namespace tierproof {
namespace {

void ready() {
  if (sodium_init() < 0) throw Fault{exit_status::our_bug, "libsodium cannot be used on this machine"};
}

/// A file of ours that is open.
class HeldFile {
 public:
  explicit HeldFile(int file) : file_{file} {}
  ~HeldFile() {
    if (file_ >= 0) ::close(file_);
  }
  HeldFile(const HeldFile&) = delete;
  HeldFile& operator=(const HeldFile&) = delete;
  int get() const { return file_; }

 private:
  int file_;
};

/// Under another name first, so that nobody ever reads half of it; whoever comes second keeps what the first one made.
void make_pepper(const std::string& path) {
  const std::string aside = fmt::format("{}.{}", path, new_token().substr(0, 8));
  const auto give_up = [&] {
    const int error = errno;
    ::unlink(aside.c_str());
    throw Fault{exit_status::cannot_create, fmt::format("cannot make {}: {}", path, std::strerror(error))};
  };
  {
    const HeldFile file{::open(aside.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_NOFOLLOW | O_CLOEXEC, S_IRUSR | S_IWUSR)};
    const std::string bytes = secret_bytes(sizeof(Digest));
    if (file.get() < 0 || ::write(file.get(), bytes.data(), bytes.size()) != static_cast<ssize_t>(bytes.size()) || ::fsync(file.get()) != 0)
      give_up();
  }
  if (::link(aside.c_str(), path.c_str()) != 0 && errno != EEXIST) give_up();
  ::unlink(aside.c_str());
  const HeldFile folder{::open(std::filesystem::absolute(path).parent_path().c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)};
  if (folder.get() >= 0) ::fsync(folder.get());
}

bool repeats(std::string_view pin, std::size_t every) {
  for (std::size_t i = every; i < pin.size(); ++i) {
    if (pin[i] != pin[i - every]) return false;
  }
  return true;
}

/// 345678, 876543, and over the end: 890123.
bool runs(std::string_view pin, int step) {
  for (std::size_t i = 1; i < pin.size(); ++i) {
    if ((pin[i] - pin[i - 1] - step) % 10 != 0) return false;
  }
  return true;
}

bool is_a_date(int day, int month, int year_of_century) {
  const auto is_day = [&](int year) {
    return Date{std::chrono::year{year}, std::chrono::month{static_cast<unsigned>(month)}, std::chrono::day{static_cast<unsigned>(day)}}
        .ok();
  };
  return (year_of_century >= 30 && is_day(1900 + year_of_century)) || (year_of_century < 40 && is_day(2000 + year_of_century));
}

}  // namespace

std::string argon2id(std::string_view secret, std::string_view salt, HashCost cost, std::size_t size) {
  ready();
  assert(salt.size() == crypto_pwhash_SALTBYTES);
  std::string hash(size, '\0');
  if (crypto_pwhash(reinterpret_cast<unsigned char*>(hash.data()), hash.size(), secret.data(), secret.size(),
                    reinterpret_cast<const unsigned char*>(salt.data()), static_cast<unsigned long long>(cost.passes),
                    static_cast<std::size_t>(cost.memory_kib) * 1024, crypto_pwhash_ALG_ARGON2ID13) != 0) {
    throw Fault{exit_status::try_later, "this machine has not enough memory left to look at a PIN"};
  }
  return hash;
}

std::string secret_bytes(std::size_t count) {
  ready();
  std::string bytes(count, '\0');
  randombytes_buf(bytes.data(), bytes.size());
  return bytes;
}

std::string new_token() {
  const std::string bytes = secret_bytes(32);
  std::string token(sodium_base64_ENCODED_LEN(32, sodium_base64_VARIANT_URLSAFE_NO_PADDING), '\0');
  sodium_bin2base64(token.data(), token.size(), reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size(),
                    sodium_base64_VARIANT_URLSAFE_NO_PADDING);
  token.pop_back();  // the zero at its end
  return token;
}

std::string new_code() {
  ready();
  return fmt::format("{:08}", randombytes_uniform(100'000'000));
}

bool same_secret(std::string_view one, std::string_view other) {
  return one.size() == other.size() && sodium_memcmp(one.data(), other.data(), one.size()) == 0;
}
bool same_secret(const Digest& one, const Digest& other) { return sodium_memcmp(one.data(), other.data(), one.size()) == 0; }

Digest load_pepper(const std::string& path) {
  const auto refuse = [&](const std::string& why) { throw Fault{exit_status::configuration, why}; };
  const HeldFile file{::open(path.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC)};
  if (file.get() < 0) {
    refuse(fmt::format(
        "cannot read {} ({}), without which no PIN opens; put it back from where it is kept, or remove {}.access and let everybody in anew",
        path, std::strerror(errno), path.substr(0, path.rfind('.'))));
  }
  struct stat found {};
  if (::fstat(file.get(), &found) != 0 || !S_ISREG(found.st_mode)) refuse(fmt::format("{} is not a file; move it away", path));
  if ((found.st_mode & (S_IRWXG | S_IRWXO)) != 0)
    refuse(fmt::format("others on this machine may read or write {}, which keeps PINs from being guessed; run chmod 600 on it", path));
  Digest pepper{};
  const auto got = ::read(file.get(), pepper.data(), pepper.size());
  if (got != static_cast<ssize_t>(pepper.size()) || found.st_size != static_cast<off_t>(pepper.size()))
    refuse(fmt::format("{} is not as it was made; put it back from where it is kept", path));
  return pepper;
}

Digest load_or_make_pepper(const std::string& path) {
  std::error_code error;
  if (!std::filesystem::exists(std::filesystem::symlink_status(path, error))) make_pepper(path);
  return load_pepper(path);
}

std::optional<std::string> blocked_pin(std::string_view pin) {
  const auto digit = [](char c) { return c >= '0' && c <= '9'; };
  if (pin.size() != 6 || !std::all_of(pin.begin(), pin.end(), digit)) return "a PIN has six digits";
  if (repeats(pin, 1) || repeats(pin, 2) || repeats(pin, 3)) return "digits that repeat are guessed first";
  if (runs(pin, 1) || runs(pin, -1)) return "digits in a row are guessed first";
  const auto pair = [&](std::size_t at) { return (pin[at] - '0') * 10 + (pin[at + 1] - '0'); };
  const int a = pair(0), b = pair(2), c = pair(4);
  if (is_a_date(a, b, c) || is_a_date(b, a, c) || is_a_date(c, b, a)) return "a day, such as a birthday, is guessed first";
  return std::nullopt;
}

}  // namespace tierproof
