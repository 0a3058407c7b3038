#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tierproof/log/hash.h"

namespace tierproof {

/// The folder beside the records that holds what was attached, each file under its SHA-256. Nothing else touches it. No link is followed
/// into it, in it or out of it, and no file in it is ever written over.
///
/// While one of these is there it holds the folder's lock, shared for reading: who attaches or erases holds it until it is booked and done,
/// so that no file is erased that was attached meanwhile, and no reader sees half of either.
class EvidenceFolder {
 public:
  enum class Opened { to_read, to_erase, to_attach };
  /// Where the folder of the records `kitchen_file` is; through a link to them it is the same one.
  static std::string beside(const std::string& kitchen_file);
  /// @param how  `to_attach` makes the folder where it is missing, for its owner alone
  /// @throws Fault 73 where it cannot be made, or must be written and is a link or no folder; 74 where it cannot be locked
  EvidenceFolder(std::string path, Opened how);
  ~EvidenceFolder();
  EvidenceFolder(const EvidenceFolder&) = delete;
  EvidenceFolder& operator=(const EvidenceFolder&) = delete;

  const std::string& path() const { return path_; }
  std::string path_of(const Digest& digest) const { return path_ + "/" + to_hex(digest); }
  bool is_there() const { return folder_ >= 0; }
  /// What keeps it from being read, `is a link, which is not followed`; empty where nothing does, or where there is none.
  const std::string& trouble() const { return trouble_; }

  /// Keeps `bytes` under their SHA-256: written aside, flushed, renamed, and the folder flushed. Kept already with this content, it is
  /// flushed again and stays. @pre opened to attach; @throws Fault 73 where another content stands under that name, or the disk fails
  void keep(const Digest& digest, std::string_view bytes);
  /// Takes a file away for good. @return whether there was one. @pre not opened to read; @throws Fault 74
  bool remove(const Digest& digest);
  /// Takes away copies that were never finished: nobody else is writing. @pre not opened to read
  void remove_unfinished();

  /// What is wrong with the file of that SHA-256 and size, `is missing`; empty where it is as it was attached.
  /// @param content  if given, filled with its bytes where nothing is wrong
  std::string wrong_with(const Digest& digest, std::int64_t bytes, std::string* content = nullptr) const;
  bool holds(const Digest& digest) const;  ///< anything under that name
  std::vector<std::string> names() const;  ///< of everything in it, sorted
  /// Whether that is the name of a copy that was never finished.
  static bool unfinished(std::string_view name);

 private:
  void open(bool must);
  void make();
  void flush() const;
  std::string path_;
  std::string trouble_;
  int folder_ = -1;  ///< -1: there is none
};

/// The first `most + 1` bytes of a file at most; nothing where there is none that can be read, or it is no plain file.
std::optional<std::string> load_at_most(const std::string& path, std::int64_t most);

}  // namespace tierproof
