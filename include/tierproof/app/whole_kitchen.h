#pragma once

#include <cstddef>
#include <string>

#include "tierproof/app/recording.h"
#include "tierproof/app/session.h"

namespace tierproof {

/// The whole records of a kitchen as one JSON document, `reference/schemas/whole-kitchen.schema.json`.
///
/// Every entry stands there as its own canonical text with its hash, so that the head that it was exported at comes out again; beside
/// them the readings, the kept papers and what is sealed with its keys, as far as it was not erased. Text that JSON does not hold as it
/// is (bytes, text not in NFC) stands as base64. The same records give the same document.
struct WholeKitchen {
  std::string document;
  Head head;
  bool demo = false;
  std::size_t papers = 0;
};
/// Refused: what `verify` complains of, since such records would not be taken in again.
Result<WholeKitchen> export_kitchen(const RecordStore& store);

/// What a document was taken in as.
struct KitchenTakenIn {
  Head head;
  bool demo = false;
  std::size_t papers = 0;
};
/// Makes the kitchen file `path` from a document of `export_kitchen`: the same head, the same views. It is checked whole before anything
/// is made. Refused, with the line and what is wrong: a version that is not known, an entry that has not its hash or does not lead to the
/// head, readings, words or papers that no entry tells of, anything that stands there twice or is missing without an erasure, a kind of
/// note that this program does not know. Nothing is then made.
/// @throws Fault 73 if `path` exists or cannot be made
Result<KitchenTakenIn> import_kitchen(const GivenDocument& document, const std::string& path);

}  // namespace tierproof
