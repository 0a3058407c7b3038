#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "tierproof/app/recording.h"
#include "tierproof/app/session.h"
#include "tierproof/kitchen/evidence.h"

namespace tierproof {

/// What is attached, and to what.
struct Attaching {
  std::string about;               ///< a name, `pack-3`, or the number of a note, `41`
  std::vector<std::string> files;  ///< at least one; all or none
  std::string shows;               ///< what they show, in the person's own words
};
/// Keeps each file beside the records (`Attached::place`) and then books an `evidence/1` for it: a file is whole on the disk before a note
/// names it, and one that was kept and not booked is harmless. The same content is kept once, however often it is attached.
///
/// Refused, all together, with the file: one that cannot be read, is empty, is larger than `largest_evidence`, is no picture or PDF by its
/// content (`media_type_of`), stands there twice, or is the records themselves; a name that nothing or more than one sort of thing goes by;
/// a note that was taken back; no words, or a claim in them.
/// @throws Fault and HeadMoved as `Session::book`; Fault 73 where it cannot be kept
Result<Booked> attach_files(Session& session, const Attaching& attaching);

/// Something attached, and where it lies.
struct Attached {
  const Recorded<Evidence>* note = nullptr;  ///< of the session's state
  std::string place;                         ///< path of the kept file
  std::string wrong;                         ///< `is missing`, `was erased by note 52`; empty: as it was attached
  bool erased = false;                       ///< nothing is wrong with its not being there
};
/// What is attached to `about` (a name, or the number of a note: the one that attached it, or that it was attached to; empty: everything),
/// in order of the log. Each file is read, and held against its SHA-256. Refused: a name or note that nothing was attached to or by.
Result<std::vector<Attached>> attached_to(const Session& session, const std::string& about);
/// Writes the file that `note` attached to a new file `to`, for its owner alone. Refused: no such note, one that was taken back, a file
/// that is not as it was attached. @throws Fault 73 where `to` is there, or cannot be made
Result<Attached> save_attached(const Session& session, const std::string& note, const std::string& to);

/// What `verify` of the records and of all that is attached found.
struct WholeVerification {
  Verification records;
  std::int64_t files = 0;                ///< that are as they were attached
  std::vector<std::string> files_wrong;  ///< complaints of those that are not: note, file and what to do
  std::vector<std::string> not_named;    ///< files in the folder that no note names, each with what it may be: no fault
};
/// Checks the records as `RecordStore::verify`, and each attached file against the SHA-256 that its note names. A file of a note that was
/// taken back still has to be there; one that was erased must not be.
WholeVerification verify_kitchen(const RecordStore& store, const std::string& kitchen_file, const std::optional<Head>& earlier);

/// The folder that holds what is attached to the records `kitchen_file`, whether there is one or not.
std::string folder_of_attached(const std::string& kitchen_file);
/// What became of attached files on their way to another folder.
struct CopiedFiles {
  std::int64_t named = 0;               ///< files that notes name and that were not erased
  std::int64_t copied = 0;              ///< of these, whole in both places now
  std::vector<std::string> not_copied;  ///< each with why
};
/// How many files the notes name that were not erased, looking at none.
CopiedFiles attached_files_of(const RecordStore& store);
/// Copies each of them between the folder beside the records and the folder `aside`, under its SHA-256; nothing is written over.
/// @throws Fault 73 where a folder cannot be written, or `aside` is that of the records
CopiedFiles copy_attached_out(const RecordStore& store, const std::string& kitchen_file, const std::string& aside);
CopiedFiles copy_attached_in(const RecordStore& store, const std::string& kitchen_file, const std::string& aside);

}  // namespace tierproof
