#include "tierproof/papers/cake_record.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "sample.h"
#include "tierproof/papers/pdf.h"

namespace tierproof {
namespace {

using testdata::a_held_record;
using testdata::a_record;
using testdata::fonts;
using testdata::words_of_text;

Pages laid_out(const CakeRecordContent& content) {
  auto pages = lay_out_cake_record(content, fonts());
  if (!pages) {
    ADD_FAILURE() << describe(pages.error().front());
    return {{Page{}}};
  }
  return std::move(*pages);
}

const PlacedText* find_text(const Page& page, std::string_view words) {
  const auto found =
      std::find_if(page.marks.texts.begin(), page.marks.texts.end(), [&](const PlacedText& text) { return text.text == words; });
  return found == page.marks.texts.end() ? nullptr : &*found;
}

/// What stands in the same row to the right of `text`.
const PlacedText* right_of(const Page& page, const PlacedText& text) {
  const PlacedText* next = nullptr;
  for (const PlacedText& other : page.marks.texts) {
    if (other.baseline == text.baseline && other.x > text.x && (next == nullptr || other.x < next->x)) next = &other;
  }
  return next;
}

TEST(CakeRecord, IsA4) {
  for (const Page& page : laid_out(a_record()).pages) {
    EXPECT_EQ(page.width, 210000);
    EXPECT_EQ(page.height, 297000);
  }
}

TEST(CakeRecord, SaysPageOneInItsOrder) {
  const std::string text = text_of(laid_out(a_record()).pages.front());
  std::size_t last = 0;
  for (const char* words : {"Test Data Cakes",
                            "Three-tier almond sponge",
                            "For 3 May 2031",
                            "To order, boxed",
                            "test rule 5(2)",
                            "OK to leave: 4 controls",
                            "Released against",
                            "Allergy question",
                            "12 April 2031",
                            "Words told",
                            "Allergens, by the records",
                            "wheat",
                            "khorasan wheat",
                            "Controls",
                            "Egg heated or pasteurised",
                            "Baked through",
                            "Kept cold",
                            "Cooled fast enough",
                            "Thermometers",
                            "Keep and eat by",
                            "Handed over",
                            "customer-1",
                            "Entries made after hand-over",
                            "note 52",
                            "signature",
                            "This is the business's own record",
                            "Records' fingerprint 53:5dc9a1e0",
                            "page 1 of"}) {
    const std::size_t at = text.find(words, last);
    ASSERT_NE(at, std::string::npos) << words << " is missing or out of order in:\n" << text;
    last = at;
  }
}

TEST(CakeRecord, GivesEveryAllergenItsWordOnPageOne) {
  for (const CakeRecordContent& content : {a_record(), a_held_record()}) {
    const Page page = laid_out(content).pages.front();
    ASSERT_EQ(content.allergens.size(), 26U);
    for (const AllergenLine& line : content.allergens) {
      const PlacedText* name = find_text(page, line.name);
      ASSERT_NE(name, nullptr) << line.name;
      const PlacedText* word = right_of(page, *name);
      ASSERT_NE(word, nullptr) << line.name;
      EXPECT_TRUE(word->text.ends_with(line.word)) << line.name << ": " << word->text;
    }
  }
}

TEST(CakeRecord, SetsAllergensThatMatterInBoldWithAMark) {
  const CakeRecordContent content = a_held_record();
  const Page page = laid_out(content).pages.front();
  const auto word_of = [&](const char* allergen) { return *right_of(page, *find_text(page, allergen)); };
  EXPECT_EQ(word_of("milk").text, "■ contains");
  EXPECT_EQ(word_of("hazelnuts").text, "◧ may contain");
  EXPECT_EQ(word_of("sulphur dioxide and sulphites").text, "? not known");
  EXPECT_EQ(word_of("celery").text, "– not an ingredient");
  for (const char* allergen : {"milk", "hazelnuts", "sulphur dioxide and sulphites"})
    EXPECT_TRUE(is_bold(word_of(allergen).face)) << allergen;
  EXPECT_FALSE(is_bold(word_of("celery").face));
}

// A word the papers do not know must never look like a clear one.
TEST(CakeRecord, SetsAWordItDoesNotKnowAsNotKnown) {
  CakeRecordContent content = a_record();
  content.allergens[19].word = "disputed";
  const Page page = laid_out(content).pages.front();
  const PlacedText* word = right_of(page, *find_text(page, "celery"));
  ASSERT_NE(word, nullptr);
  EXPECT_EQ(word->text, "? disputed");
  EXPECT_TRUE(is_bold(word->face));
}

TEST(CakeRecord, PrintsOverridesInFullOnPageOne) {
  const CakeRecordContent content = a_record();
  const std::string text = words_of_text(text_of(laid_out(content).pages.front()));
  for (const Override& made : content.overrides) {
    for (const std::string& words : {made.control, made.finding, made.reason, made.by})
      EXPECT_NE(text.find(words), std::string::npos) << words;
  }
  EXPECT_NE(text.find("released against, see 1 above"), std::string::npos);
  EXPECT_NE(text.find("released against, see 2 above"), std::string::npos);
}

TEST(CakeRecord, PrintsOverridesInFullThoughTheyPushPageOneOn) {
  CakeRecordContent content = a_record();
  const Override one = content.overrides.front();
  for (int i = 0; i < 5; ++i) {
    content.overrides.push_back(one);
    content.overrides.back().reason = fmt::format("Reason {}: ", i);
    for (int j = 0; j < 60; ++j) content.overrides.back().reason += "because it was so ";
    content.overrides.back().reason += fmt::format("and no more {}.", i);
  }
  const Pages pages = laid_out(content);
  const std::string first = words_of_text(text_of(pages.pages[0]));
  const std::string second = words_of_text(text_of(pages.pages[1]));
  EXPECT_NE(first.find("OK to leave"), std::string::npos);
  EXPECT_NE(first.find("Reason 0: because"), std::string::npos);
  const std::string both = first + " " + second;
  std::size_t last = 0;
  for (int i = 0; i < 5; ++i) {
    const std::size_t at = both.find(fmt::format("and no more {}.", i), last);
    ASSERT_NE(at, std::string::npos) << i;
    last = at;
  }
  EXPECT_NE(both.find("Allergens, by the records", last), std::string::npos);
}

/// What page one says that it continues with.
std::string continued(const Pages& pages) {
  const std::string first = words_of_text(text_of(pages.pages.front()));
  const std::size_t from = first.find("Continues on page 2");
  return from == std::string::npos ? "" : first.substr(from, first.find('.', from) - from);
}

TEST(CakeRecord, SaysOnPageOneWhatStandsOnThePagesAfterIt) {
  CakeRecordContent content = a_record();
  EXPECT_EQ(continued(laid_out(content)), "");
  for (const std::size_t count : {6U, 9U, 14U}) {
    content.overrides.resize(1);
    for (std::size_t i = 1; i < count; ++i) {
      content.overrides.push_back(content.overrides.front());
      content.overrides.back().reason = fmt::format("Reason {}: the logger was unplugged while the caramel cooled in an ice bath.", i);
      for (int j = 0; j < 8; ++j) content.overrides.back().reason += " It was at 4.8 °C when it was plugged in again.";
    }
    for (std::size_t i = 0; i < 20; ++i) content.after_hand_over.push_back(fmt::format("note {}: later", 60 + i));
    const Pages pages = laid_out(content);
    const std::string told = continued(pages);
    EXPECT_NE(told.find("signature"), std::string::npos) << count;
    for (const Bookmark& bookmark : pages.bookmarks) {
      if (bookmark.level != 2) continue;
      const bool named = told.find(", " + bookmark.words) != std::string::npos || told.find(": " + bookmark.words) != std::string::npos;
      EXPECT_EQ(named, bookmark.page > 0) << count << " overrides: " << bookmark.words << " in: " << told;
    }
  }
}

TEST(CakeRecord, TellsEntriesMadeAfterHandOverOnALaterPageWhereTheyAreMany) {
  CakeRecordContent content = a_record();
  content.after_hand_over.clear();
  const auto told_on = [&](const Page& page) {
    return std::count_if(page.marks.texts.begin(), page.marks.texts.end(),
                         [](const PlacedText& text) { return text.text.starts_with("note ") && text.text.ends_with(": later"); });
  };
  for (int i = 0; i < 8; ++i) content.after_hand_over.push_back(fmt::format("note {}: later", 100 + i));
  EXPECT_EQ(told_on(laid_out(content).pages.front()), 8);
  for (int i = 8; i < 120; ++i) content.after_hand_over.push_back(fmt::format("note {}: later", 100 + i));
  const Pages pages = laid_out(content);
  const std::string first = words_of_text(text_of(pages.pages.front()));
  EXPECT_NE(first.find("signature"), std::string::npos) << first;
  EXPECT_EQ(told_on(pages.pages.front()), 11);
  EXPECT_NE(first.find("and 109 more, all told under “Entries made after hand-over” on a later page"), std::string::npos) << first;
  std::ptrdiff_t later = 0;
  for (std::size_t i = 1; i < pages.pages.size(); ++i) later += told_on(pages.pages[i]);
  EXPECT_EQ(later, 120);
}

TEST(CakeRecord, TellsReadingsOfOneThermometerTogether) {
  CakeRecordContent content = a_record();
  Finding cold = content.findings[2];
  cold.result = "warmest 5 °C in the air";
  cold.evidence = "fridge logger, by logger; checked on 28 April; good again on 2 May";
  content.findings[2] = cold;
  for (const char* result : {"warmest 4 °C in the air", "warmest 5.3 °C in the air"}) {
    content.findings.push_back(cold);
    content.findings.back().result = result;
    content.findings.back().subject = "batch-7";
    content.finding_words.push_back("Kept cold");
  }
  content.findings.back().evidence = "fridge logger, by logger; checked on 28 April; good again on 9 May";
  content.findings.push_back(cold);
  content.findings.back().evidence = "fork, by hand; checked on 28 April; good again on 2 May";
  content.finding_words.push_back("Kept cold");
  const std::string first = words_of_text(text_of(laid_out(content).pages.front()));
  EXPECT_NE(first.find("warmest 5, 4, 5.3 °C in the air"), std::string::npos) << first;
  EXPECT_NE(first.find("batch-7 · fridge logger, by logger; checked on 28 April; good again on 2 May; good again on 9 May · "
                       "fork, by hand; checked on 28 April; good again on 2 May"),
            std::string::npos)
      << first;
}

TEST(CakeRecord, FitsAnOrdinaryPageOne) {
  for (CakeRecordContent content : {a_record(), a_held_record()}) {
    for (const bool demo : {false, true}) {
      content.demo = demo;
      const std::string first = text_of(laid_out(content).pages.front());
      EXPECT_NE(first.find("signature"), std::string::npos) << demo;
      EXPECT_NE(first.find("Records' fingerprint"), std::string::npos) << demo;
    }
  }
}

TEST(CakeRecord, TellsVerdictsApartByShapeAndWeight) {
  CakeRecordContent content = a_held_record();
  content.findings[1].verdict = Verdict::not_met;
  content.findings[2].verdict = Verdict::outside_model;
  const Page page = laid_out(content).pages.front();
  const PlacedText* shown = find_text(page, "● limit met as recorded");
  const PlacedText* not_shown = find_text(page, "○ not recorded well enough");
  const PlacedText* not_met = find_text(page, "▲ limit missed");
  const PlacedText* outside = find_text(page, "◇ this sum doesn't fit the mix");
  ASSERT_TRUE(shown != nullptr && not_shown != nullptr && not_met != nullptr && outside != nullptr) << text_of(page);
  EXPECT_FALSE(is_bold(shown->face));
  for (const PlacedText* text : {not_shown, not_met, outside}) EXPECT_TRUE(is_bold(text->face)) << text->text;
}

TEST(CakeRecord, SaysWhatToDoAboutEveryControlThatIsNotMet) {
  const CakeRecordContent content = a_held_record();
  const std::string text = words_of_text(text_of(laid_out(content).pages.front()));
  for (const Finding& finding : content.findings) {
    if (finding.verdict == Verdict::shown) continue;
    EXPECT_NE(text.find("→ " + finding.remedy), std::string::npos) << finding.remedy;
  }
  EXPECT_NE(text.find("do not hand over"), std::string::npos);
}

TEST(CakeRecord, SaysNothingRecordedRatherThanNothing) {
  CakeRecordContent content = a_held_record();
  content.allergy.clear();
  content.keep.clear();
  content.allergens.clear();
  content.findings.clear();
  content.finding_words.clear();
  const std::string text = words_of_text(text_of(laid_out(content).pages.front()));
  EXPECT_NE(text.find("Allergy question nothing recorded"), std::string::npos) << text;
  EXPECT_NE(text.find("? not known: no list of allergens"), std::string::npos) << text;
  EXPECT_NE(text.find("no control has been judged"), std::string::npos) << text;
  EXPECT_NE(text.find("Entries made after hand-over none"), std::string::npos) << text;
}

TEST(CakeRecord, StaysWithinItsMarginsAndAboveSmallPrint) {
  for (const CakeRecordContent& content : {a_record(), a_held_record()}) {
    for (const Page& page : laid_out(content).pages) {
      for (const PlacedText& text : page.marks.texts) {
        EXPECT_GE(text.x, page.left) << text.text;
        EXPECT_LE(text.x + text.width, page.width - page.right) << text.text;
        EXPECT_GE(text.baseline - fonts().capital_height(text.face, text.size), page.top) << text.text;
        EXPECT_LE(text.baseline, page.height - page.bottom) << text.text;
        EXPECT_GE(text.size, PointSize::hundredths(750)) << text.text;
      }
      for (const Stroke& stroke : page.marks.strokes) {
        for (const Point& point : stroke.points) {
          EXPECT_TRUE(point.x >= page.left && point.x <= page.width - page.right) << stroke.role;
          EXPECT_TRUE(point.y >= page.top && point.y <= page.height - page.bottom) << stroke.role;
        }
      }
      for (const Dot& dot : page.marks.dots) EXPECT_TRUE(dot.centre.x > page.left && dot.centre.x < page.width - page.right);
    }
  }
}

TEST(CakeRecord, NumbersItsPagesAndNamesItself) {
  const Pages pages = laid_out(a_record());
  for (std::size_t i = 0; i < pages.pages.size(); ++i) {
    const std::string text = text_of(pages.pages[i]);
    EXPECT_TRUE(text.ends_with(fmt::format("Cake record cake-1 · 53:5dc9a1e0 page {} of {}", i + 1, pages.pages.size()))) << text;
  }
}

TEST(CakeRecord, SaysDemoOnEveryPage) {
  CakeRecordContent content = a_record();
  content.demo = true;
  for (const Page& page : laid_out(content).pages) EXPECT_TRUE(text_of(page).starts_with("DEMO – not a record of real food\n"));
  for (const Page& page : laid_out(a_record()).pages) EXPECT_EQ(text_of(page).find("DEMO"), std::string::npos);
}

TEST(CakeRecord, CarriesEveryFurtherRow) {
  const CakeRecordContent content = a_record();
  std::string all;
  for (const Page& page : laid_out(content).pages) all += words_of_text(text_of(page)) + " ";
  for (const PackRow& pack : content.packs) {
    EXPECT_NE(all.find(fmt::format("{} {} {} {} {} {}", pack.ingredient, pack.code, pack.supplier, pack.dates, pack.mass, pack.how)),
              std::string::npos)
        << pack.code;
  }
  for (const BatchRow& batch : content.batches)
    EXPECT_NE(all.find(batch.batch + " " + batch.name + " " + batch.made), std::string::npos) << batch.batch;
  for (const auto& rows : {content.inedible, content.paths, content.sums, content.entries, content.sources}) {
    for (const LabelledText& row : rows) EXPECT_NE(all.find(row.label + " " + row.text), std::string::npos) << row.label;
  }
  for (const Finding& finding : content.findings) EXPECT_NE(all.find(finding.source), std::string::npos) << finding.source;
  for (const std::string& words : {content.full_head, content.program, content.drawn, content.cautions.front()})
    EXPECT_NE(all.find(words), std::string::npos) << words;
}

TEST(CakeRecord, SurvivesTwoHundredPacks) {
  CakeRecordContent content = a_record();
  const PackRow one = content.packs.front();
  for (int i = 0; i < 200; ++i) {
    content.packs.push_back(one);
    content.packs.back().code = fmt::format("CODE{}", i);
  }
  const Pages pages = laid_out(content);
  int seen = 0;
  for (const Page& page : pages.pages) {
    seen += static_cast<int>(std::count_if(page.marks.texts.begin(), page.marks.texts.end(),
                                           [](const PlacedText& text) { return text.text.starts_with("CODE"); }));
    if (text_of(page).find("CODE") != std::string::npos) {
      EXPECT_NE(find_text(page, "supplier"), nullptr);
    }
  }
  EXPECT_EQ(seen, 200);
}

TEST(CakeRecord, IsRefusedByFieldWhereTextCannotBeSet) {
  CakeRecordContent content = a_record();
  content.overrides[1].reason = "おいしい";
  content.packs[2].supplier = "tab\there";
  const auto pages = lay_out_cake_record(content, fonts());
  ASSERT_FALSE(pages);
  EXPECT_EQ(pages.error().front().field, "overrides[1]");
}

TEST(CakeRecord, OnlyNamesBriefControlsOnPageOneAndGivesThemInFullFurtherOn) {
  CakeRecordContent content = a_record();
  content.brief_controls = {"thermometer"};
  const Pages pages = laid_out(content);
  const std::string first = words_of_text(text_of(pages.pages.front()));
  EXPECT_NE(first.find("Also met Thermometers ● limit met as recorded"), std::string::npos) << first;
  EXPECT_EQ(first.find("ice point 0.1 °C"), std::string::npos);
  std::string later;
  for (std::size_t i = 1; i < pages.pages.size(); ++i) later += words_of_text(text_of(pages.pages[i]));
  EXPECT_NE(later.find("Both thermometers were checked in ice within 30 days."), std::string::npos);
}

// Brief or not, what is not met keeps its row, its message and its remedy.
TEST(CakeRecord, NeverShortensAControlThatIsNotMet) {
  for (const Verdict verdict : {Verdict::not_shown, Verdict::not_met, Verdict::outside_model}) {
    CakeRecordContent content = a_held_record();
    content.brief_controls = {"thermometer", "cooling"};
    content.findings.back() = content.findings[5];
    content.findings.back().verdict = content.findings[5].verdict = verdict;
    content.findings[5].remedy = "Check the first one again.";
    content.findings.back().remedy = "Check the second one again.";
    const std::string first = words_of_text(text_of(laid_out(content).pages.front()));
    EXPECT_EQ(first.find("Also met"), std::string::npos) << first;
    EXPECT_NE(first.find("→ Check the first one again."), std::string::npos) << first;
    EXPECT_NE(first.find("→ Check the second one again."), std::string::npos) << first;
    EXPECT_NE(first.find("→ " + content.findings[3].remedy), std::string::npos) << first;
  }
}

TEST(CakeRecordPdf, SaysEveryWordOfThePages) {
  const Pages pages = laid_out(a_record());
  const std::string path = testdata::kept("record.pdf", write_pdf(pages, fonts(), {"Cake record cake-1", Instant{}}));
  const std::string read = words_of_text(testdata::output_of("pdftotext -raw " + path + " - 2>&1"));
  for (const Page& page : pages.pages) {
    for (const PlacedText& text : page.marks.texts) {
      const std::string words = words_of_text(text.text);
      EXPECT_NE(read.find(words), std::string::npos) << words;
    }
  }
}

}  // namespace
}  // namespace tierproof
