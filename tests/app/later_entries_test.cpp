#include "app/later_entries.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "app/app_for_tests.h"

namespace tierproof {
namespace {

/// Every kind of note that the program knows, as the source lists them.
std::set<std::string> kinds_in_source() {
  const std::string text = load_file(TIERPROOF_SOURCE_DIR "/include/tierproof/kitchen/bodies.h");
  std::set<std::string> kinds;
  for (std::size_t at = 0; (at = text.find("\nTIERPROOF_KIND(", at)) != std::string::npos; ++at) {
    const std::size_t first = text.find('"', at) + 1;
    kinds.insert(text.substr(first, text.find('"', first) - first));
  }
  return kinds;
}

TEST(LaterEntries, HaveWordsForEveryKindOfNoteAndNoTwoTheSame) {
  std::set<std::string_view> words;
  const auto kinds = kinds_in_source();
  EXPECT_GT(kinds.size(), 40u);
  for (const auto& kind : kinds) EXPECT_TRUE(words.insert(words_of_kind(kind)).second) << kind << ": " << words_of_kind(kind);
  EXPECT_THROW(words_of_kind("invented/1"), Fault);
}

TEST(LaterEntries, TellInPlainWordsWhatCameInAfterTheHandOver) {
  TestKitchen kitchen;
  const std::string icing = kitchen.make("icing", grams(298));
  const std::string cake = cake_of(kitchen, {{icing, grams(298)}});
  const auto entries = [&] {
    const Judgement judgement = kitchen.judged(cake);
    return later_entries(kitchen.open(true), judgement);
  };
  EXPECT_EQ(entries(), Strings{}) << "it is not handed over";
  ASSERT_EQ(release_of(kitchen, cake), "");
  ASSERT_EQ(hand_over_of(kitchen, cake), "");
  EXPECT_EQ(entries(), Strings{});

  kitchen.at("2026-05-03T09:00+01:00");
  const auto told = kitchen.done([&](Session& s) {
    return tell_customer(s, {cake, "after it was handed over", "Bo", "Keep it cool.", ""});
  });
  kitchen.done([](Session& s) { return clean(s, {"whisk", "washed, looked clean", "", {}, "", ""}); });
  const std::uint64_t butter = kitchen.open(true).state().lots.at(LotId{"pack-3"}).sequence;
  const auto corrected = correct_note(kitchen, butter, {{"code", Json{"B72"}}});
  const auto withdrawn = kitchen.done([](Session& s) { return withdraw(s, "pack-3", "recalled"); });
  const auto back = kitchen.done([&](Session& s) { return void_note(s, withdrawn.sequences.front(), "it was another lot"); });
  const auto line = [](const Booked& booked, const std::string& what) {
    return fmt::format("note {}: {}, written 3 May 2026, 09:00", booked.sequences.front(), what);
  };
  Strings lines = entries();
  std::sort(lines.begin(), lines.end());
  EXPECT_EQ(lines, (Strings{line(told, "words told to a customer (" + cake + ")"), line(corrected, "pack (pack-3), corrected"),
                            line(back, "pack withdrawn (pack-3), taken back")}));
}

}  // namespace
}  // namespace tierproof
