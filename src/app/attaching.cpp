#include "tierproof/app/attaching.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <map>
#include <set>

#include "checking.h"
#include "evidence_folder.h"
#include "later_entries.h"
#include "tierproof/imports/file_type.h"
#include "tierproof/store/named_bytes.h"

namespace tierproof {
namespace {

/// Kinds that make a name: what goes by it is one of these. The rest is named by the number of its note.
constexpr std::array<std::string_view, 18> kinds_with_names{
    KindOf<Kitchen>::kind,     KindOf<Person>::kind,     KindOf<Supplier>::kind,     KindOf<Ingredient>::kind, KindOf<Lot>::kind,
    KindOf<Equipment>::kind,   KindOf<Place>::kind,      KindOf<Probe>::kind,        KindOf<Recipe>::kind,     KindOf<Batch>::kind,
    KindOf<Cake>::kind,        KindOf<Tub>::kind,        KindOf<Deviation>::kind,    KindOf<Complaint>::kind,  KindOf<RecallBegun>::kind,
    KindOf<RegularSort>::kind, KindOf<HazardPlan>::kind, KindOf<ColumnMapKept>::kind};

std::optional<std::uint64_t> note_number_of(const std::string& text) {
  const bool digits =
      !text.empty() && text.size() <= 15 && std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
  return digits ? std::optional{static_cast<std::uint64_t>(std::stoull(text))} : std::nullopt;
}

/// Fills `about`, `kind` and `note`.
void find_subject(Checking& checking, const Session& session, const std::string& about, Evidence& evidence) {
  if (about.empty())
    return checking.refuse("about", "nothing is named", "name what it belongs to, such as pack-3, or the number of a note");
  if (const auto number = note_number_of(about)) {
    const Note* note = tip_of(session.notes(), *number);
    if (note == nullptr)
      return checking.refuse("about", fmt::format("there is no note {}", about),
                             fmt::format("the records hold notes 1 to {}", session.head().size));
    if (note->body.is_null()) return checking.refuse("about", fmt::format("note {} was taken back", about), "name what it belongs to now");
    if (note->kind == KindOf<Evidence>::kind)
      return checking.refuse("about", fmt::format("note {} is itself of something attached", about), "name what that was attached to");
    evidence.about = note->subject;
    evidence.kind = note->kind;
    evidence.note = static_cast<std::int64_t>(note->place);
    return;
  }
  std::map<std::string, std::uint64_t> kinds;  // that go by this name, each with its newest note
  for (const auto& note : session.notes()) {
    const bool names = std::find(kinds_with_names.begin(), kinds_with_names.end(), note.kind) != kinds_with_names.end();
    if (names && note.subject == about && !note.body.is_null()) kinds[note.kind] = note.sequence;
  }
  if (kinds.empty())
    return checking.refuse("about", fmt::format("nothing is called \"{}\"", about),
                           "name what it belongs to, such as pack-3, or the number of a note (see `tierproof notes`)");
  if (kinds.size() > 1) {
    std::string ways;
    for (const auto& [kind, note] : kinds) ways += fmt::format("{}{} for the {}", ways.empty() ? "" : ", ", note, words_of_kind(kind));
    return checking.refuse("about", fmt::format("more than one thing is called \"{}\"", about), "name the note: " + ways);
  }
  evidence.about = about;
  evidence.kind = kinds.begin()->first;
}

struct GivenFile {
  std::string bytes;
  Digest digest{};
  Evidence evidence;
};

bool same_file(const std::string& one, const std::string& other) {
  std::error_code error;
  return std::filesystem::equivalent(one, other, error) && !error;
}

/// Reads one file and finds out what it is; nothing where it is refused.
std::optional<GivenFile> given_file(Checking& checking, const Session& session, const std::string& path) {
  const std::string name = plain_name(path);
  const auto refuse = [&](std::string message, std::string remedy) {
    checking.take({Refusal{name, 0, "", std::move(message), std::move(remedy)}});
    return std::nullopt;
  };
  for (const char* of_records : {"", "-journal"}) {
    if (same_file(path, session.entrance().kitchen_file + of_records))
      return refuse("holds the records themselves", "name a picture or a PDF; `export` keeps the records elsewhere");
  }
  auto bytes = load_at_most(path, largest_evidence);
  if (!bytes) return refuse("is no file that can be read", "check the name, and that you may read it");
  if (static_cast<std::int64_t>(bytes->size()) > largest_evidence)
    return refuse(fmt::format("is larger than {} MB, the most that is attached", largest_evidence / 1'000'000),
                  "make the picture smaller, or attach the pages that matter");
  auto media_type = media_type_of(*bytes, name);
  if (!media_type) {
    checking.take(media_type.error());
    return std::nullopt;
  }
  GivenFile file{*std::move(bytes), {}, {}};
  file.digest = sha256(file.bytes);
  file.evidence.file_sha256 = to_hex(file.digest);
  file.evidence.file_bytes = static_cast<std::int64_t>(file.bytes.size());
  file.evidence.media_type = *std::move(media_type);
  return file;
}

std::string says_erased_by(std::uint64_t note) { return fmt::format("was erased by note {}", note); }

/// Notes that attached what an erasure took since, each with that erasure.
std::map<std::uint64_t, std::uint64_t> erased_notes(const Session& session) {
  std::map<std::uint64_t, std::uint64_t> erased;
  for (const auto& file : files_named(session.store().entries(1, session.store().head().size))) {
    if (file.erased_by) erased.emplace(file.sequence, *file.erased_by);
  }
  return erased;
}

/// @pre the SHA-256 of a body can be read, since `book` takes no other
Digest digest_of(const Evidence& evidence) { return digest_from_hex(evidence.file_sha256).value_or(Digest{}); }

}  // namespace

Result<Booked> attach_files(Session& session, const Attaching& attaching) {
  Checking checking{session};
  checking.person();
  Evidence common;
  find_subject(checking, session, attaching.about, common);
  checking.words("--shows", attaching.shows);
  if (attaching.files.empty()) checking.refuse("file", "is missing", "name the picture or PDF");
  std::vector<GivenFile> files;
  std::set<Digest> seen;
  for (const auto& path : attaching.files) {
    auto file = given_file(checking, session, path);
    if (!file) continue;
    if (!seen.insert(file->digest).second)
      checking.take({Refusal{plain_name(path), 0, "", "has the same content as a file named before it", "name it once"}});
    files.push_back(*std::move(file));
  }
  if (!checking.good()) return checking.refusals();
  if (session.entrance().as_of) throw Fault{exit_status::usage, "--as-of only reads; leave it out to record something"};

  EvidenceFolder folder{EvidenceFolder::beside(session.entrance().kitchen_file),
                        EvidenceFolder::Opened::to_attach};  // locked until it is booked
  folder.remove_unfinished();
  const ZonedInstant at{session.now(), session.offset_at(session.now())};
  std::vector<Draft> drafts;
  for (const auto& file : files) {
    Evidence evidence = file.evidence;
    evidence.about = common.about;
    evidence.kind = common.kind;
    evidence.note = common.note;
    evidence.shows = session.seal(attaching.shows);
    drafts.push_back(session.draft(evidence, common.about, at));
    folder.keep(file.digest, file.bytes);
  }
  return session.book(std::move(drafts));
}

Result<std::vector<Attached>> attached_to(const Session& session, const std::string& about) {
  const EvidenceFolder folder{EvidenceFolder::beside(session.entrance().kitchen_file), EvidenceFolder::Opened::to_read};
  const auto erased = erased_notes(session);
  const auto number = note_number_of(about);
  const Note* named = number ? tip_of(session.notes(), *number) : nullptr;
  const auto is_asked = [&](const Recorded<Evidence>& note) {
    if (about.empty() || note.subject == about) return true;
    return named != nullptr &&
           (note.place == named->place || (note.value.note && static_cast<std::uint64_t>(*note.value.note) == named->place));
  };
  std::vector<Attached> found;
  for (const auto& note : session.state().evidence) {
    if (!is_asked(note)) continue;
    const Digest digest = digest_of(note.value);
    const auto gone = erased.find(note.sequence);
    const bool is_erased = gone != erased.end();
    found.push_back({&note, folder.path_of(digest),
                     is_erased ? says_erased_by(gone->second) : folder.wrong_with(digest, note.value.file_bytes), is_erased});
  }
  if (found.empty() && !about.empty()) {
    return Refusal{"", 0, "what",
                   number ? fmt::format("note {} attached nothing that is still recorded, and nothing is attached to it", about)
                          : fmt::format("nothing is attached to \"{}\"", about),
                   "`tierproof attached` lists everything that is"};
  }
  return found;
}

Result<Attached> save_attached(const Session& session, const std::string& note, const std::string& to) {
  const auto number = note_number_of(note);
  if (!number)
    return Refusal{"", 0, "what", "is no number of a note", "write the number of the note that attached it (see `tierproof attached`)"};
  auto found = attached_to(session, note);
  if (!found) return found.error();
  if (found->size() > 1 || found->front().note->sequence != *number) {
    std::string numbers;
    for (const auto& one : *found) numbers += fmt::format("{}{}", numbers.empty() ? "" : ", ", one.note->sequence);
    return Refusal{"", 0, "what", fmt::format("note {} attached nothing itself; attached to it are files of note {}", note, numbers),
                   "name one of these"};
  }
  Attached attached = std::move(found->front());
  const EvidenceFolder folder{EvidenceFolder::beside(session.entrance().kitchen_file), EvidenceFolder::Opened::to_read};
  std::string bytes;
  if (attached.wrong.empty()) attached.wrong = folder.wrong_with(digest_of(attached.note->value), attached.note->value.file_bytes, &bytes);
  if (!attached.wrong.empty()) return Refusal{attached.place, 0, "", attached.wrong, "`tierproof verify` tells what to do"};
  std::error_code error;
  if (std::filesystem::exists(std::filesystem::symlink_status(to, error)))
    throw Fault{exit_status::cannot_create, fmt::format("{} is there already; name another file", to)};
  const auto into = std::filesystem::path{to}.parent_path();
  if (same_file(into.empty() ? "." : into.string(), folder.path()))
    throw Fault{exit_status::cannot_create, fmt::format("{} is the folder of what is attached; name another one", folder.path())};
  save_file(to, bytes, Readers::owner);
  return attached;
}

WholeVerification verify_kitchen(const RecordStore& store, const std::string& kitchen_file, const std::optional<Head>& earlier) {
  const EvidenceFolder folder{EvidenceFolder::beside(kitchen_file),
                              EvidenceFolder::Opened::to_read};  // first: what is attached meanwhile waits
  WholeVerification found;
  found.records = store.verify(earlier);
  const bool made_meanwhile = !folder.is_there() && !found.records.files.empty() && std::filesystem::is_directory(folder.path());
  if (made_meanwhile && folder.trouble().empty()) return verify_kitchen(store, kitchen_file, earlier);
  auto& complaints = found.files_wrong;
  std::set<std::string> named;
  std::map<Digest, std::string> looked;  // of one content only once
  std::set<Digest> whole;
  for (const auto& file : found.records.files) {
    named.insert(to_hex(file.digest));
    const std::string who = fmt::format("note {} ({}): what it attached, {},", file.sequence, file.about, folder.path_of(file.digest));
    if (file.erased_by) {
      if (folder.holds(file.digest))
        complaints.push_back(fmt::format(
            "{} was erased by note {} and is there all the same; ask for that erasure again, or destroy the file", who, *file.erased_by));
      continue;
    }
    const auto known = looked.try_emplace(file.digest);
    if (known.second) known.first->second = folder.wrong_with(file.digest, file.bytes);
    const auto& wrong = known.first->second;
    if (wrong.empty()) {
      whole.insert(file.digest);
    } else {
      complaints.push_back(fmt::format("{} {}; {}", who, wrong,
                                       wrong == "is missing"
                                           ? "put it back from a copy, or attach the same file again"
                                           : "move that away, and put the file back from a copy, or attach the same file again"));
    }
  }
  found.files = static_cast<std::int64_t>(whole.size());
  const char* not_named = found.records.first_bad ? "is not named by any note that can be read; keep it with the records"
                                                  : "is not named by any note; attach it to what it belongs to, or destroy it";
  for (const auto& name : folder.names()) {
    if (named.contains(name)) continue;
    found.not_named.push_back(
        EvidenceFolder::unfinished(name)
            ? fmt::format("{}/{} is a copy that was never finished; the next attach takes it away", folder.path(), plain_name(name))
            : fmt::format("{}/{} {}", folder.path(), plain_name(name), not_named));
  }
  if (!folder.trouble().empty() && found.records.files.empty())
    found.not_named.push_back(fmt::format("{} {}", folder.path(), folder.trouble()));
  return found;
}

namespace {

/// One of each content, with the first note that names it.
std::map<Digest, FileNamed> contents_named(const RecordStore& store) {
  std::map<Digest, FileNamed> contents;
  for (const auto& file : files_named(store.entries(1, store.head().size))) {
    if (!file.erased_by) contents.emplace(file.digest, file);
  }
  return contents;
}

CopiedFiles copy_attached(const RecordStore& store, const EvidenceFolder& from, EvidenceFolder& into) {
  CopiedFiles done;
  for (const auto& [digest, file] : contents_named(store)) {
    ++done.named;
    std::string bytes;
    const auto wrong = from.wrong_with(digest, file.bytes, &bytes);
    if (wrong.empty()) {
      into.keep(digest, bytes);
      ++done.copied;
    } else {
      done.not_copied.push_back(fmt::format("note {} ({}): what it attached, {}, {}, and was not copied", file.sequence, file.about,
                                            from.path_of(digest), wrong));
    }
  }
  return done;
}

void refuse_own_folder(const std::string& kitchen_file, const std::string& aside) {
  if (same_file(aside, EvidenceFolder::beside(kitchen_file)))
    throw Fault{exit_status::cannot_create, fmt::format("{} is the folder of these records themselves; name another one", aside)};
}

}  // namespace

std::string folder_of_attached(const std::string& kitchen_file) { return EvidenceFolder::beside(kitchen_file); }

CopiedFiles attached_files_of(const RecordStore& store) {
  CopiedFiles done;
  done.named = static_cast<std::int64_t>(contents_named(store).size());
  return done;
}

CopiedFiles copy_attached_out(const RecordStore& store, const std::string& kitchen_file, const std::string& aside) {
  refuse_own_folder(kitchen_file, aside);
  const EvidenceFolder from{EvidenceFolder::beside(kitchen_file), EvidenceFolder::Opened::to_read};
  EvidenceFolder into{aside, EvidenceFolder::Opened::to_attach};
  return copy_attached(store, from, into);
}

CopiedFiles copy_attached_in(const RecordStore& store, const std::string& kitchen_file, const std::string& aside) {
  refuse_own_folder(kitchen_file, aside);
  const EvidenceFolder from{aside, EvidenceFolder::Opened::to_read};
  EvidenceFolder into{EvidenceFolder::beside(kitchen_file), EvidenceFolder::Opened::to_attach};
  return copy_attached(store, from, into);
}

}  // namespace tierproof
