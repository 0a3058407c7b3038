#pragma once

#include <string>
#include <vector>

#include "tierproof/app/recording.h"
#include "tierproof/imports/pack_text.h"
#include "tierproof/sums/name_hints.h"

namespace tierproof {

/// The text of a pack that somebody typed or pasted, and what else a specification needs.
struct PackToRead {
  GivenDocument text;
  std::string ingredient;
  std::string supplier;
  std::string label_name;             ///< as it must be printed; empty: what the kitchen calls it
  std::string checked;                ///< day on which it was compared with the pack; empty: today
  std::string checked_against;        ///< `the pack`; needed for a draft
  std::string storage;                ///< `room`, `fridge`, `freezer`; needed for a draft
  std::vector<std::string> headings;  ///< before the list, besides that of the rules
  std::vector<std::string> traces;    ///< beginnings of a sentence on traces, besides that of the rules
  bool draft = false;                 ///< whether a document is wanted
};

/// One line of what was understood.
struct PackLine {
  std::size_t depth = 0;  ///< 0: of the list itself
  std::string name;
  std::string share;     ///< `12.5 %`, or empty
  std::string additive;  ///< `E450, raising agent: permitted`, or empty
  std::string contains;  ///< `milk (milk powder)`, several parted by `; `
  std::string ask;       ///< what a person has to find out; may be empty
};

/// What a pack's text was understood as. Nothing of it is recorded.
struct PackRead {
  std::vector<PackLine> lines;           ///< each part, in the order of the pack, parts of parts beneath their own
  std::vector<std::string> contains;     ///< keys, in the law's order
  std::vector<std::string> may_contain;  ///< keys
  std::vector<std::string> unknown;      ///< keys that have to be asked about
  std::vector<std::string> to_ask;       ///< sentences, each once
  std::vector<std::string> other;        ///< sentences of the pack that were not understood
  Json document;                         ///< as `specification` takes it; null unless a draft is wanted
};

/// Reads the text of a pack by the rules and the words of names, for a person to confirm.
///
/// Under `contains` is every allergen that a name, an emphasis of the pack or its summary speaks of; under `unknown` what a name makes
/// somebody ask; under `may_contain` what the pack says of traces. Nothing is put under `absent`: what is not named stays unknown.
/// An additive is found by number or name; its class is the one printed, else the usual one.
/// Refused: a text that cannot be taken apart, an ingredient or supplier that is not recorded, for a draft what is missing in it.
Result<PackRead> read_pack(const Session& session, const PackToRead& asked, const NameHints& hints);

}  // namespace tierproof
