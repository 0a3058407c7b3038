#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <regex>

#include "sample.h"
#include "tierproof/papers/counter_list.h"
#include "tierproof/papers/hand_over_note.h"
#include "tierproof/papers/pdf.h"
#include "tierproof/papers/venue_card.h"

namespace tierproof {
namespace {

using testdata::a_counter_list;
using testdata::a_hand_over_note;
using testdata::a_venue_card;
using testdata::fonts;
using testdata::words_of_text;
using testing::HasSubstr;
using testing::Not;

template <class Laid>
Pages of(Laid laid) {
  if (laid) return std::move(*laid);
  ADD_FAILURE() << describe(laid.error().front());
  return {{Page{}}};
}
Pages card_pages(const VenueCardContent& card, CardPaper paper = CardPaper::a5) { return of(lay_out_venue_card(card, paper, fonts())); }
Pages note_pages(const HandOverNoteContent& note, SheetPaper paper = SheetPaper::a4) {
  return of(lay_out_hand_over_note(note, paper, fonts()));
}
Pages list_pages(const CounterListContent& list, SheetPaper paper = SheetPaper::a4) {
  return of(lay_out_counter_list(list, paper, fonts()));
}

std::string words_on(const Page& page) { return words_of_text(text_of(page)); }

Micrometres lowest_capital(const Pages& pages) {
  Micrometres least = 1'000'000;
  for (const Page& page : pages.pages) {
    for (const PlacedText& text : page.marks.texts) least = std::min(least, fonts().capital_height(text.face, text.size));
  }
  return least;
}

/// The size that `words` begin to stand in.
PointSize size_of(const Page& page, std::string_view words) {
  for (const PlacedText& text : page.marks.texts) {
    if (text.text.starts_with(words)) return text.size;
  }
  ADD_FAILURE() << words << " is not on the page";
  return {};
}

TEST(VenueCardPaper, SaysAllOnOnePageOfEverySize) {
  for (const CardPaper paper : {CardPaper::a5, CardPaper::half_letter, CardPaper::a4, CardPaper::letter}) {
    const Pages pages = card_pages(a_venue_card(), paper);
    ASSERT_EQ(pages.pages.size(), 1u);
    const std::string words = words_on(pages.pages.front());
    const VenueCardContent card = a_venue_card();
    for (const std::string& part : {card.name, card.event, card.reference, card.together, card.head, card.drawn, card.cautions[0],
                                    card.service[0].text, card.service[1].text, card.service[2].text, card.service[3].text})
      EXPECT_THAT(words, HasSubstr(part));
    EXPECT_THAT(words, HasSubstr("wheat, egg, milk, almonds, sesame (not known: treat as contained)"));
    EXPECT_THAT(words, HasSubstr("It may also contain: hazelnuts"));
    EXPECT_THAT(words, HasSubstr("– not an ingredient of any tier: celery, crustaceans"));
  }
  EXPECT_EQ(card_pages(a_venue_card()).pages.front().width, 148000);
  EXPECT_EQ(card_pages(a_venue_card()).pages.front().height, 210000);
}

TEST(VenueCardPaper, GivesEachTierAWordAndAMarkOfItsOwnShape) {
  const std::string words = words_on(card_pages(a_venue_card()).pages.front());
  for (const char* cell : {"■ contains", "◧ may contain", "? not known", "– not an ingredient", "bottom tier", "number 2 tier"})
    EXPECT_THAT(words, HasSubstr(cell));
}

TEST(VenueCardPaper, PutsTheStopOnTopAndLarger) {
  VenueCardContent card = a_venue_card();
  EXPECT_THAT(text_of(card_pages(card).pages.front()), Not(HasSubstr("DO NOT HAND OVER")));
  card.stop = "DO NOT HAND OVER. Why stands on the record of cake-1.";
  const Page page = card_pages(card).pages.front();
  const std::string text = text_of(page);
  EXPECT_LT(text.find("DO NOT HAND OVER"), text.find("Tiers are cut"));
  EXPECT_GT(size_of(page, "DO NOT HAND OVER"), size_of(page, "Questions"));
}

TEST(VenueCardPaper, SetsWhatTheWholeCakeCountsAsLargerThanItsTable) {
  const Page page = card_pages(a_venue_card()).pages.front();
  EXPECT_GT(size_of(page, "wheat, egg"), size_of(page, "■ contains"));
  EXPECT_GT(size_of(page, "Tiers are cut"), size_of(page, "■ contains"));
}

TEST(VenueCardPaper, NeverSaysFree) {
  VenueCardContent card = a_venue_card();
  card.all.clear();
  card.may_contain.clear();
  card.by_tier.clear();
  for (const Page& page : {card_pages(a_venue_card()).pages.front(), card_pages(card).pages.front()})
    EXPECT_FALSE(std::regex_search(text_of(page), std::regex{"\\bfree\\b", std::regex::icase}));
  EXPECT_THAT(words_on(card_pages(card).pages.front()), HasSubstr("none of the law's list, by the records"));
}

TEST(VenueCardPaper, TakesALargerPaperForMoreTiersAndNamesIt) {
  const auto refused = lay_out_venue_card(a_venue_card(9), CardPaper::a5, fonts());
  ASSERT_FALSE(refused.has_value());
  EXPECT_THAT(describe(refused.error().front()), HasSubstr("a4"));
  EXPECT_EQ(card_pages(a_venue_card(6), CardPaper::a4).pages.size(), 1u);
  const auto more = lay_out_venue_card(a_venue_card(30), CardPaper::a4, fonts());
  ASSERT_FALSE(more.has_value());
  EXPECT_THAT(describe(more.error().front()), HasSubstr("allergen sheet"));
}

TEST(VenueCardPaper, RefusesWordsThatNoFaceHasByTheirCharacter) {
  VenueCardContent card = a_venue_card();
  card.name = "Cake \U0001F370";
  const auto refused = lay_out_venue_card(card, CardPaper::a5, fonts());
  ASSERT_FALSE(refused.has_value());
  EXPECT_THAT(describe(refused.error().front()), HasSubstr("U+1F370"));
}

RC_GTEST_PROP(VenueCardPaper, PrintsEveryNameOfTheWholeCakeInLettersOfTwoMillimetres, ()) {
  VenueCardContent card = a_venue_card();
  card.all.clear();
  const auto count = *rc::gen::inRange<std::size_t>(1, 25);
  for (std::size_t i = 0; i < count; ++i) card.all.push_back(fmt::format("allergen number {}", i + 1));
  const auto pages = lay_out_venue_card(card, CardPaper::a4, fonts());
  RC_ASSERT(pages.has_value());
  const std::string words = words_on(pages->pages.front());
  for (const std::string& name : card.all) RC_ASSERT(words.find(name) != std::string::npos);
  for (const PlacedText& text : pages->pages.front().marks.texts) {
    if (text.text.find("■") != std::string::npos || text.text.find("allergen number") != std::string::npos)
      RC_ASSERT(fonts().capital_height(text.face, text.size) >= 2000);
  }
}

TEST(HandOverNotePaper, SaysAllOnOnePageWithLinesToSign) {
  for (const SheetPaper paper : {SheetPaper::a4, SheetPaper::letter}) {
    const Pages pages = note_pages(a_hand_over_note(), paper);
    ASSERT_EQ(pages.pages.size(), 1u);
    const std::string words = words_on(pages.pages.front());
    const HandOverNoteContent note = a_hand_over_note();
    for (const std::string& part :
         {note.outcome, note.name, note.take_out, note.keep[0].text, note.keep[1].text, note.eggs[0], note.allergens[0].text, note.together,
          note.told[2].text, note.transport[0], note.cautions[0], note.head, note.overrides[0].reason, note.overrides[0].finding})
      EXPECT_THAT(words, HasSubstr(part));
    for (const char* line : {"handed over by", "taken by", "day and time", "common practice, no source"})
      EXPECT_THAT(words, HasSubstr(line));
  }
  EXPECT_EQ(note_pages(a_hand_over_note()).pages.front().width, 210000);
  EXPECT_EQ(note_pages(a_hand_over_note(), SheetPaper::letter).pages.front().width, 215900);
}

TEST(HandOverNotePaper, PutsTheStopBeforeEverythingThatIsToBeDone) {
  HandOverNoteContent note = a_hand_over_note();
  note.stop = "DO NOT HAND OVER: nobody can rule out sesame.";
  const std::string text = text_of(note_pages(note).pages.front());
  ASSERT_NE(text.find("DO NOT HAND OVER"), std::string::npos);
  EXPECT_LT(text.find("DO NOT HAND OVER"), text.find("Before it is cut"));
}

TEST(CounterListPaper, RepeatsLegendAndNamesOverItsPages) {
  const Pages pages = list_pages(a_counter_list(16));
  ASSERT_EQ(pages.pages.size(), 3u) << "seven cakes a page";
  for (std::size_t page = 0; page < 3; ++page) {
    EXPECT_GT(pages.pages[page].width, pages.pages[page].height);
    const std::string words = words_on(pages.pages[page]);
    EXPECT_THAT(words, HasSubstr("■ contains · ◧ may contain · ? not known · ◇ exempt product of it · – not an ingredient."));
    EXPECT_THAT(words, HasSubstr("Valid for the cakes named here only."));
    for (const char* allergen : {"wheat", "egg", "milk", "almonds", "sesame"}) EXPECT_THAT(words, HasSubstr(allergen));
  }
  for (std::size_t i = 1; i <= 16; ++i) EXPECT_THAT(words_on(pages.pages[(i - 1) / 7]), HasSubstr(fmt::format("cake-{}, for", i)));
}

TEST(CounterListPaper, HasAMarkForEveryAllergenOfEveryCake) {
  const Pages pages = list_pages(a_counter_list(5));
  ASSERT_EQ(pages.pages.size(), 1u);
  const auto count = [&](std::string_view cell) {
    const auto& texts = pages.pages.front().marks.texts;
    return std::count_if(texts.begin(), texts.end(), [&](const PlacedText& text) { return text.text == cell; });
  };
  for (const char* cell : {"■ contains", "◧ may contain", "? not known", "–"}) EXPECT_EQ(count(cell), 5) << cell;
  EXPECT_THAT(words_on(pages.pages.front()), HasSubstr("DO NOT SELL OR HAND OVER"));
}

TEST(CounterListPaper, IsLegible) {
  EXPECT_GE(lowest_capital(list_pages(a_counter_list(16))), 2000);
  EXPECT_GE(lowest_capital(list_pages(a_counter_list(1), SheetPaper::letter)), 2000);
}

TEST(CounterListPaper, RepeatsItsHeadWhereTheRulesNameMoreThanAPageHolds) {
  CounterListContent list = a_counter_list(3);
  CounterGroup& group = list.groups.front();
  for (int i = 0; i < 40; ++i) {
    group.allergens.push_back(fmt::format("further {}", i));
    for (CounterCake& cake : group.cakes) cake.words.push_back("not known");
  }
  const Pages pages = list_pages(list);
  ASSERT_GE(pages.pages.size(), 2u);
  EXPECT_THAT(words_on(pages.pages[1]), HasSubstr("Invented cake number 3"));
}

TEST(CounterListPaper, WithoutACakeIsRefused) {
  EXPECT_FALSE(lay_out_counter_list(a_counter_list(0), SheetPaper::a4, fonts()).has_value());
}

TEST(CakePapersOfADemo, SayDemoOnEveryPage) {
  VenueCardContent card = a_venue_card();
  HandOverNoteContent note = a_hand_over_note();
  CounterListContent list = a_counter_list(16);
  card.demo = note.demo = list.demo = true;
  for (const Pages& pages : {card_pages(card), note_pages(note), list_pages(list)}) {
    for (const Page& page : pages.pages) EXPECT_THAT(text_of(page), HasSubstr("DEMO – not a record of real food"));
  }
}

TEST(CakePapersAsPdf, HoldTheirWords) {
  const auto read = [](const Pages& pages, const std::string& name) {
    const std::string path = testdata::kept(name, write_pdf(pages, fonts(), {"test", Instant{}}));
    return words_of_text(testdata::output_of("pdftotext '" + path + "' -"));
  };
  EXPECT_THAT(read(card_pages(a_venue_card()), "card.pdf"), HasSubstr("sesame (not known: treat as contained)"));
  EXPECT_THAT(read(note_pages(a_hand_over_note()), "note.pdf"),
              HasSubstr("Remove 4 dowels (bottom tier) and 1 wire (top tier) before cutting"));
  EXPECT_THAT(read(list_pages(a_counter_list(8)), "list.pdf"), HasSubstr("DO NOT SELL OR HAND OVER"));
}

}  // namespace
}  // namespace tierproof
