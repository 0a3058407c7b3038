#include "tierproof/kitchen/note.h"

#include <algorithm>
#include <map>

namespace tierproof {

std::vector<Note> in_force(std::span<const Note> notes) {
  struct Chain {
    const Note* tip = nullptr;
    std::vector<std::uint64_t> replaced;
  };
  std::map<std::uint64_t, std::uint64_t> place_of;  // sequence of a note -> the place its chain takes
  std::map<std::uint64_t, Chain> chains;            // by place
  for (const auto& note : notes) {
    const auto found = note.supersedes ? place_of.find(*note.supersedes) : place_of.end();
    const auto place = found == place_of.end() ? note.sequence : found->second;
    place_of[note.sequence] = place;
    auto& chain = chains[place];
    if (chain.tip) chain.replaced.push_back(chain.tip->sequence);
    chain.tip = &note;
  }
  std::vector<Note> out;
  out.reserve(chains.size());
  for (auto& [place, chain] : chains) {
    out.push_back(*chain.tip);
    out.back().place = place;
    out.back().replaced = std::move(chain.replaced);
  }
  return out;
}

const Note* tip_of(std::span<const Note> in_force, std::uint64_t sequence) {
  for (const auto& note : in_force) {
    if (note.sequence == sequence) return &note;
    if (std::find(note.replaced.begin(), note.replaced.end(), sequence) != note.replaced.end()) return &note;
  }
  return nullptr;
}

}  // namespace tierproof
