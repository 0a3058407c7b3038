// Rules are data: no country stands in the code. Looks into every string literal below src/ and include/; comments may cite clauses.
#include <cctype>

#include "reference_files.h"

namespace tierproof {
namespace {

struct Literal {
  int line = 0;
  std::string text;
};

/// The string literals of C++ text; comments and character literals are passed over, raw strings are read.
std::vector<Literal> literals_of(const std::string& code) {
  std::vector<Literal> found;
  int line = 1;
  const auto pass = [&](std::size_t& at) {
    if (code[at] == '\n') ++line;
    ++at;
  };
  for (std::size_t at = 0; at < code.size();) {
    if (code.compare(at, 2, "//") == 0) {
      while (at < code.size() && code[at] != '\n') ++at;
    } else if (code.compare(at, 2, "/*") == 0) {
      while (at < code.size() && code.compare(at, 2, "*/") != 0) pass(at);
      at += 2;
    } else if (code.compare(at, 2, "R\"") == 0) {
      const auto open = code.find('(', at);
      const auto end = ")" + code.substr(at + 2, open - at - 2) + "\"";
      const auto close = code.find(end, open);
      found.push_back({line, code.substr(open + 1, close - open - 1)});
      while (at < std::min(close + end.size(), code.size())) pass(at);
    } else if (code[at] == '"' || (code[at] == '\'' && (at == 0 || !std::isalnum(static_cast<unsigned char>(code[at - 1]))))) {
      const char quote = code[at];
      Literal literal{line, ""};
      for (++at; at < code.size() && code[at] != quote; pass(at)) {
        if (code[at] == '\\') literal.text += code[at++];
        literal.text += code[at];
      }
      ++at;
      if (quote == '"') found.push_back(literal);
    } else {
      pass(at);
    }
  }
  return found;
}

bool in_word(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0; }

/// The name of a country, its code or its food authority that `text` holds as whole words; empty when it holds none.
/// A part of the world before a slash and a capital (`Europe/London`) is the name of a clock, not of a rule.
std::string country_in(const std::string& text) {
  for (const std::string name : {"GB",
                                 "gb",
                                 "UK",
                                 "uk",
                                 "EU",
                                 "USA",
                                 "US",
                                 "NZ",
                                 "Britain",
                                 "British",
                                 "United Kingdom",
                                 "Northern Ireland",
                                 "Ireland",
                                 "Irish",
                                 "England",
                                 "Scotland",
                                 "Scottish",
                                 "Wales",
                                 "Welsh",
                                 "Europe",
                                 "European",
                                 "United States",
                                 "America",
                                 "American",
                                 "Canada",
                                 "Canadian",
                                 "Australia",
                                 "Australian",
                                 "New Zealand",
                                 "Japan",
                                 "Japanese",
                                 "Germany",
                                 "German",
                                 "France",
                                 "French",
                                 "Spain",
                                 "Spanish",
                                 "FSA",
                                 "FDA",
                                 "EFSA"}) {
    for (auto at = text.find(name); at != std::string::npos; at = text.find(name, at + 1)) {
      const auto end = at + name.size();
      const bool whole = (at == 0 || !in_word(text[at - 1])) && (end == text.size() || !in_word(text[end]));
      const bool clock = end + 1 < text.size() && text[end] == '/' && std::isupper(static_cast<unsigned char>(text[end + 1])) != 0;
      if (whole && !clock) return name;
    }
  }
  return "";
}

TEST(NoCountryInCode, IsLookedForInLiteralsAlone) {
  const auto found = literals_of(
      "// \"GB\"\n/* \"UK\" */ auto a = \"x \\\" y\"; char c = '\"';\nauto b = R\"t(raw \"in\" it)t\"; int n = 1'000;\nauto d = \"gb\";\n");
  ASSERT_EQ(found.size(), 3u);
  EXPECT_EQ(found[0].text, "x \\\" y");
  EXPECT_EQ(found[0].line, 2);
  EXPECT_EQ(found[1].text, "raw \"in\" it");
  EXPECT_EQ(found[2].text, "gb");
  EXPECT_EQ(found[2].line, 4);
  EXPECT_EQ(country_in("gb"), "gb");
  EXPECT_EQ(country_in("rules of gb-sct"), "gb");
  EXPECT_EQ(country_in("the US rule"), "US");
  EXPECT_EQ(country_in("tell us in English"), "");
  EXPECT_EQ(country_in("bus, EUR, rugby"), "");
  EXPECT_EQ(country_in("a zone such as Europe/London"), "");
  EXPECT_EQ(country_in("Europe/London, by European law"), "European");
}

TEST(NoCountryInCode, IsTrueOfEveryStringLiteral) {
  int looked_at = 0;
  for (const char* folder : {"src", "include"}) {
    for (const auto& entry : std::filesystem::recursive_directory_iterator{source_dir() / folder}) {
      const auto extension = entry.path().extension();
      if (extension != ".cpp" && extension != ".h") continue;
      ++looked_at;
      for (const auto& literal : literals_of(text_of(entry.path()))) {
        EXPECT_EQ(country_in(literal.text), "")
            << std::filesystem::relative(entry.path(), source_dir()).string() << ":" << literal.line << ": \"" << literal.text << "\"";
      }
    }
  }
  EXPECT_GT(looked_at, 20);
}

}  // namespace
}  // namespace tierproof
