#include "evidence_folder.h"

#include <dirent.h>
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <optional>
#include <utility>

#include "tierproof/units/result.h"

namespace tierproof {
namespace {

constexpr std::string_view unfinished_begins = ".unfinished-";

/// A file or folder that is open, and closed again.
class OpenFile {
 public:
  explicit OpenFile(int file) : file_{file} {}
  ~OpenFile() { close(); }
  OpenFile(const OpenFile&) = delete;
  OpenFile& operator=(const OpenFile&) = delete;
  int get() const { return file_; }
  bool open() const { return file_ >= 0; }
  int close() { return file_ < 0 ? 0 : ::close(std::exchange(file_, -1)); }

 private:
  int file_;
};

/// Up to `most` bytes; nothing where the disk fails.
std::optional<std::string> read_up_to(int file, std::size_t most) {
  std::string bytes(most, '\0');
  std::size_t done = 0;
  while (done < most) {
    const auto got = ::read(file, bytes.data() + done, most - done);
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return std::nullopt;
    if (got == 0) break;
    done += static_cast<std::size_t>(got);
  }
  bytes.resize(done);
  return bytes;
}

bool write_all(int file, std::string_view bytes) {
  for (std::size_t done = 0; done < bytes.size();) {
    const auto written = ::write(file, bytes.data() + done, bytes.size() - done);
    if (written < 0 && errno == EINTR) continue;
    if (written <= 0) return false;
    done += static_cast<std::size_t>(written);
  }
  return true;
}

/// Renames within a folder without ever replacing what is there. @return errno, or 0
int rename_to_free(int folder, const std::string& from, const std::string& to) {
  if (::renameat2(folder, from.c_str(), folder, to.c_str(), RENAME_NOREPLACE) == 0) return 0;
  if (errno != EINVAL && errno != ENOSYS) return errno;
  // A file system that cannot do so in one step: we hold the folder's lock.
  struct stat there {};
  if (::fstatat(folder, to.c_str(), &there, AT_SYMLINK_NOFOLLOW) == 0) return EEXIST;
  return ::renameat(folder, from.c_str(), folder, to.c_str()) == 0 ? 0 : errno;
}

/// Where the records really lie, so that a link to them leads to the same folder.
std::string real_place(const std::string& kitchen_file) {
  std::error_code error;
  if (!std::filesystem::is_symlink(kitchen_file, error)) return kitchen_file;
  const auto real = std::filesystem::canonical(kitchen_file, error);
  return error ? kitchen_file : real.string();
}

[[noreturn]] void disk_failed(int exit, const std::string& path, const char* doing, int error) {
  throw Fault{exit, fmt::format("{}: {} failed ({}); check the folder and the free space", path, doing, std::strerror(error))};
}

}  // namespace

std::string EvidenceFolder::beside(const std::string& kitchen_file) { return real_place(kitchen_file) + ".evidence"; }

EvidenceFolder::EvidenceFolder(std::string path, Opened how) : path_{std::move(path)} {
  if (how == Opened::to_attach) make();
  open(how != Opened::to_read);
  if (folder_ < 0) return;
  int locked = 0;
  do locked = ::flock(folder_, how == Opened::to_read ? LOCK_SH : LOCK_EX);
  while (locked != 0 && errno == EINTR);
  const int error = errno;
  if (locked == 0 || how == Opened::to_read) return;  // a disk without locks can be read all the same
  ::close(std::exchange(folder_, -1));
  disk_failed(exit_status::io, path_, "locking it", error);
}

EvidenceFolder::~EvidenceFolder() {
  if (folder_ >= 0) ::close(folder_);
}

void EvidenceFolder::make() {
  if (::mkdir(path_.c_str(), 0700) != 0) {
    if (errno == EEXIST) return;
    disk_failed(exit_status::cannot_create, path_, "making it", errno);
  }
  const auto parent = std::filesystem::path{path_}.parent_path();
  const OpenFile above{::open(parent.empty() ? "." : parent.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)};
  if (!above.open() || ::fsync(above.get()) != 0) disk_failed(exit_status::cannot_create, path_, "making it", errno);
}

void EvidenceFolder::open(bool must) {
  folder_ = ::open(path_.c_str(), O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
  if (folder_ >= 0 || errno == ENOENT) return;
  trouble_ = errno == ELOOP || errno == ENOTDIR ? "is a link or no folder, and is not followed"
                                                : fmt::format("cannot be read ({})", std::strerror(errno));
  if (must) throw Fault{exit_status::cannot_create, fmt::format("{} {}; put the folder itself there", path_, trouble_)};
}

void EvidenceFolder::flush() const {
  if (::fsync(folder_) != 0 && errno != EINVAL) disk_failed(exit_status::cannot_create, path_, "writing it", errno);
}

void EvidenceFolder::keep(const Digest& digest, std::string_view bytes) {
  const std::string name = to_hex(digest);
  const auto kept_before = [&] {
    const auto wrong = wrong_with(digest, static_cast<std::int64_t>(bytes.size()));
    if (!wrong.empty())
      throw Fault{exit_status::cannot_create,
                  fmt::format("{} is there and {}, and is never written over; move it away, and attach again", path_of(digest), wrong)};
    const OpenFile file{::openat(folder_, name.c_str(), O_RDONLY | O_NOFOLLOW | O_CLOEXEC)};
    if (!file.open() || ::fsync(file.get()) != 0) disk_failed(exit_status::cannot_create, path_of(digest), "writing it", errno);
    flush();
  };
  if (holds(digest)) return kept_before();
  const std::string aside = fmt::format("{}{}", unfinished_begins, name);
  ::unlinkat(folder_, aside.c_str(), 0);  // of one that was cut off: nobody else writes under our lock
  OpenFile file{::openat(folder_, aside.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0600)};
  if (!file.open()) disk_failed(exit_status::cannot_create, path_of(digest), "making it", errno);
  const auto give_up = [&](const char* doing, int error) {
    ::unlinkat(folder_, aside.c_str(), 0);
    disk_failed(exit_status::cannot_create, path_of(digest), doing, error);
  };
  if (!write_all(file.get(), bytes) || ::fsync(file.get()) != 0 || file.close() != 0) give_up("writing it", errno);
  const int renamed = rename_to_free(folder_, aside, name);
  if (renamed != 0) give_up("putting it in place", renamed);
  flush();
}

bool EvidenceFolder::remove(const Digest& digest) {
  if (folder_ < 0) return false;
  if (::unlinkat(folder_, to_hex(digest).c_str(), 0) != 0) {
    if (errno == ENOENT) return false;
    disk_failed(exit_status::io, path_of(digest), "erasing it", errno);
  }
  flush();
  return true;
}

void EvidenceFolder::remove_unfinished() {
  for (const auto& name : names()) {
    if (unfinished(name)) ::unlinkat(folder_, name.c_str(), 0);
  }
}

bool EvidenceFolder::holds(const Digest& digest) const {
  struct stat there {};
  return folder_ >= 0 && ::fstatat(folder_, to_hex(digest).c_str(), &there, AT_SYMLINK_NOFOLLOW) == 0;
}

std::string EvidenceFolder::wrong_with(const Digest& digest, std::int64_t bytes, std::string* content) const {
  if (!trouble_.empty()) return "cannot be looked at, since its folder " + trouble_;
  if (folder_ < 0) return "is missing";
  const std::string name = to_hex(digest);
  const OpenFile file{::openat(folder_, name.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC)};
  if (!file.open()) {
    if (errno == ENOENT) return "is missing";
    if (errno == ELOOP) return "is a link, which is not followed";
    return fmt::format("cannot be read ({})", std::strerror(errno));
  }
  struct stat found {};
  if (::fstat(file.get(), &found) != 0) return fmt::format("cannot be read ({})", std::strerror(errno));
  if (!S_ISREG(found.st_mode)) return "is no file";
  if (found.st_size != bytes) return fmt::format("was changed: it has {} bytes, and {} were attached", found.st_size, bytes);
  auto read = read_up_to(file.get(), static_cast<std::size_t>(bytes));
  if (!read) return fmt::format("cannot be read ({})", std::strerror(errno));
  if (sha256(*read) != digest) return "was changed: it does not have the SHA-256 that it was attached with";
  if (content != nullptr) *content = *std::move(read);
  return "";
}

std::vector<std::string> EvidenceFolder::names() const {
  std::vector<std::string> found;
  if (folder_ < 0) return found;
  const int again = ::openat(folder_, ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  DIR* listing = again < 0 ? nullptr : ::fdopendir(again);
  if (listing == nullptr) {
    const int error = errno;
    if (again >= 0) ::close(again);
    disk_failed(exit_status::io, path_, "reading it", error);
  }
  while (const auto* entry = ::readdir(listing)) {
    const std::string name = entry->d_name;
    if (name != "." && name != "..") found.push_back(name);
  }
  ::closedir(listing);
  std::sort(found.begin(), found.end());
  return found;
}

bool EvidenceFolder::unfinished(std::string_view name) { return name.starts_with(unfinished_begins); }

std::optional<std::string> load_at_most(const std::string& path, std::int64_t most) {
  const OpenFile file{::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC)};
  struct stat found {};
  if (!file.open() || ::fstat(file.get(), &found) != 0 || !S_ISREG(found.st_mode)) return std::nullopt;
  return read_up_to(file.get(), static_cast<std::size_t>(most) + 1);
}

}  // namespace tierproof
