#include "names_in_text.h"

#include <algorithm>
#include <set>

#include "tierproof/text/folded_words.h"

namespace tierproof {
namespace {

constexpr std::size_t shortest_part = 3;

}  // namespace

std::string part_of_a_name_in(const State& state, std::string_view text) {
  std::set<std::string> parts;
  for (const auto& [id, person] : state.people) {
    for (auto& part : folded_words(person.value.name.text.value_or(""))) {
      if (length_of_word(part) >= shortest_part) parts.insert(std::move(part));
    }
  }
  const auto words = folded_words(text);
  const auto found = std::find_if(words.begin(), words.end(), [&](const std::string& word) { return parts.contains(word); });
  return found == words.end() ? std::string{} : *found;
}

}  // namespace tierproof
