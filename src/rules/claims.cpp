#include <fmt/format.h>
#include <utf8proc.h>

#include <algorithm>
#include <cstdlib>
#include <memory>
#include <tuple>

#include "packs.h"

namespace tierproof {
namespace {

/// A word of the folded text; `joined` is false when punctuation parts it from the word before.
struct Word {
  std::string text;
  bool joined = true;
};

/// Compatibility forms, case and accents folded, invisible characters dropped; the text itself when it is not UTF-8.
std::string folded(std::string_view text) {
  utf8proc_uint8_t* out = nullptr;
  const auto options = static_cast<utf8proc_option_t>(UTF8PROC_STABLE | UTF8PROC_DECOMPOSE | UTF8PROC_COMPAT | UTF8PROC_CASEFOLD |
                                                      UTF8PROC_IGNORE | UTF8PROC_STRIPMARK);
  const auto length =
      utf8proc_map(reinterpret_cast<const utf8proc_uint8_t*>(text.data()), static_cast<utf8proc_ssize_t>(text.size()), &out, options);
  const std::unique_ptr<utf8proc_uint8_t, decltype(&std::free)> held{out, &std::free};
  if (length < 0) return std::string{text};
  return {reinterpret_cast<const char*>(out), static_cast<std::size_t>(length)};
}

enum class Part { of_word, joins, separates };

Part part_of(utf8proc_int32_t code) {
  if (code == 0x2212) return Part::joins;  // a minus sign stands for a hyphen
  switch (utf8proc_category(code)) {
    case UTF8PROC_CATEGORY_LU:
    case UTF8PROC_CATEGORY_LL:
    case UTF8PROC_CATEGORY_LT:
    case UTF8PROC_CATEGORY_LM:
    case UTF8PROC_CATEGORY_LO:
    case UTF8PROC_CATEGORY_MN:
    case UTF8PROC_CATEGORY_MC:
    case UTF8PROC_CATEGORY_ME:
    case UTF8PROC_CATEGORY_ND:
    case UTF8PROC_CATEGORY_NL:
    case UTF8PROC_CATEGORY_NO:
      return Part::of_word;
    case UTF8PROC_CATEGORY_PD:
    case UTF8PROC_CATEGORY_PC:
    case UTF8PROC_CATEGORY_ZS:
    case UTF8PROC_CATEGORY_ZL:
    case UTF8PROC_CATEGORY_ZP:
    case UTF8PROC_CATEGORY_CC:
      return Part::joins;
    default:
      return Part::separates;
  }
}

std::vector<Word> words_of_text(std::string_view text) {
  const auto plain = folded(text);
  std::vector<Word> words;
  bool inside = false;
  bool joined = true;
  const auto* at = reinterpret_cast<const utf8proc_uint8_t*>(plain.data());
  auto left = static_cast<utf8proc_ssize_t>(plain.size());
  while (left > 0) {
    utf8proc_int32_t code = -1;
    auto length = utf8proc_iterate(at, left, &code);
    const auto part = length > 0 ? part_of(code) : Part::separates;
    length = std::max<utf8proc_ssize_t>(length, 1);
    if (part == Part::of_word) {
      if (!inside) words.push_back({"", joined});
      words.back().text.append(reinterpret_cast<const char*>(at), static_cast<std::size_t>(length));
      joined = true;
    } else if (part == Part::separates) {
      joined = false;
    }
    inside = part == Part::of_word;
    at += length;
    left -= length;
  }
  return words;
}

bool stands_at(const std::vector<Word>& words, std::size_t at, const std::vector<Word>& pattern, const ClaimWord& claim) {
  if (pattern.empty() || at + pattern.size() > words.size()) return false;
  for (std::size_t i = 0; i < pattern.size(); ++i) {
    if (words[at + i].text != pattern[i].text || (i > 0 && !words[at + i].joined)) return false;
  }
  const auto next = at + pattern.size();
  const bool followed = next < words.size() && words[next].joined;
  return !followed || std::find(claim.not_before.begin(), claim.not_before.end(), words[next].text) == claim.not_before.end();
}

}  // namespace

/// The claims by the first word of their pattern.
struct ClaimFinder::Ready {
  struct Pattern {
    std::vector<Word> words;
    const ClaimWord* claim;
  };
  std::map<std::string, std::vector<Pattern>, std::less<>> by_first;
};

ClaimFinder::ClaimFinder(std::span<const ClaimWord> claims) : ready_{std::make_unique<Ready>()} {
  for (const auto& claim : claims) {
    auto words = words_of_text(claim.pattern);
    if (words.empty()) continue;
    const auto first = words.front().text;
    ready_->by_first[first].push_back({std::move(words), &claim});
  }
}
ClaimFinder::~ClaimFinder() = default;

const ClaimWord* ClaimFinder::in(std::string_view text) const {
  const auto words = words_of_text(text);
  const ClaimWord* found = nullptr;
  for (std::size_t at = 0; at < words.size(); ++at) {
    const auto candidates = ready_->by_first.find(words[at].text);
    if (candidates == ready_->by_first.end()) continue;
    for (const auto& pattern : candidates->second) {
      const bool earlier = found == nullptr || pattern.claim < found;  // claims lie side by side, in their order
      if (earlier && stands_at(words, at, pattern.words, *pattern.claim)) found = pattern.claim;
    }
  }
  return found;
}

const ClaimWord* claim_in(std::string_view text, std::span<const ClaimWord> claims) { return ClaimFinder{claims}.in(text); }

std::vector<ClaimWord> read_claim_words(const PackFile& file, Refusals& refusals) {
  std::vector<ClaimWord> claims;
  const auto json = parse_json(file.text, file.path);
  if (!json) {
    refusals.insert(refusals.end(), json.error().begin(), json.error().end());
    return claims;
  }
  Fields top{*json, file.path, "", refusals};
  top.text("title");
  top.maybe_text("note");
  const auto& rows = top.list("words");
  top.done();
  for (std::size_t i = 0; i < rows.size(); ++i) {
    Fields row{rows[i], file.path, fmt::format("words[{}]", i), refusals};
    const auto pattern = row.text("pattern");
    const auto foods = row.texts("of");
    const auto not_before = row.texts("not_before");
    const auto why = row.text("why");
    const bool nutrition = row.flag("nutrition", false);
    row.done();
    const auto hole = pattern.find("{}");
    if ((hole != std::string::npos) != !foods.empty()) {
      row.refuse("of", "does not go with the pattern", "give a list of words where the pattern has {}, and only there");
      continue;
    }
    if (why.empty()) row.refuse("why", "is empty", "say in plain words why the claim is refused");
    const auto add = [&](const std::string& words) {
      if (words_of_text(words).empty())
        row.refuse("pattern", fmt::format("\"{}\" has no word in it", words), "write the words of the claim in lower case");
      claims.push_back({words, why, not_before, nutrition});
    };
    if (hole == std::string::npos) add(pattern);
    for (const auto& food : foods) add(pattern.substr(0, hole) + food + pattern.substr(hole + 2));
  }
  if (claims.empty()) refusals.push_back({file.path, 0, "words", "has nothing in it", "list the claim words that are refused"});
  return claims;
}

}  // namespace tierproof
