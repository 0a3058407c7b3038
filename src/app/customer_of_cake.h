#pragma once

#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include "tierproof/app/session.h"

namespace tierproof {

/// The entries of the log that may tell of the customer of any cake, papers among them, in order, and every attached file that one names:
/// read once for all cakes.
struct EntriesOfCustomers {
  std::vector<Entry> entries;
  std::vector<FileNamed> files;
};
EntriesOfCustomers entries_of_customers(const Session& session);

/// Every note of the log, in force or not, that tells of the customer of one cake, and the papers that may.
class CustomerOfCake {
 public:
  CustomerOfCake(const Session& session, const EntriesOfCustomers& entries, const std::string& cake);

  /// Attached files that may show some of it and were not erased yet, each with the first note that attached it.
  const std::map<Digest, std::uint64_t>& files() const { return files_; }
  /// Of such files those that stay, since a note about something else attached them too: that note.
  const std::map<Digest, std::uint64_t>& files_of_others() const { return files_of_others_; }

  /// What is left of it to erase among the records.
  ToErase left() const;
  /// Whether nothing is left of it, attached files included.
  bool gone() const { return files_.empty() && left().empty(); }
  /// Kept papers that tell some of it, each with the first note that issued it.
  std::map<Digest, std::uint64_t> papers_to_erase() const;

 private:
  struct Form {
    std::string form;
    Digest digest{};
    std::uint64_t note = 0;
  };
  using Issue = std::tuple<std::string, std::string, std::string, std::int64_t>;  ///< paper, head, stock, box: its forms go together

  bool tells(const Entry& entry);
  void keep_what_others_use();
  void paper(const Entry& entry);
  bool has_stop(const std::vector<Form>& forms) const;
  bool gives_reasons(const std::vector<Form>& forms) const;
  void find_files(const std::vector<FileNamed>& named);
  bool is_needed(std::uint64_t sequence) const;

  const Session& session_;
  std::string cake_;
  std::set<std::uint64_t> told_by_;
  std::set<std::string> complaints_;
  std::set<std::string> refs_;
  std::map<Issue, std::vector<Form>> issues_;
  std::map<Digest, std::uint64_t> files_, files_of_others_;
};

}  // namespace tierproof
