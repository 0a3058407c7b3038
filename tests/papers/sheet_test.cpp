#include "tierproof/papers/sheet.h"

#include <gtest/gtest.h>
#include <sys/wait.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>

#include "sample.h"
#include "tierproof/kitchen/state.h"

namespace tierproof {
namespace {

std::vector<SheetFile> shipped_files() {
  std::vector<SheetFile> files;
  for (const auto& entry : std::filesystem::directory_iterator{TIERPROOF_SOURCE_DIR "/reports/sheets"}) {
    std::ifstream in{entry.path(), std::ios::binary};
    files.push_back({entry.path().filename().string(), {std::istreambuf_iterator<char>{in}, {}}});
  }
  return files;
}

const std::vector<SheetForm>& shipped() {
  static const auto forms = [] {
    auto read = read_sheets(shipped_files());
    for (const auto& refusal : read ? Refusals{} : read.error()) ADD_FAILURE() << describe(refusal);
    return read ? *read : std::vector<SheetForm>{};
  }();
  return forms;
}

const SheetForm& form_called(const std::string& id) {
  return *std::find_if(shipped().begin(), shipped().end(), [&](const SheetForm& form) { return form.id == id; });
}

SheetFacts a_kitchen() {
  return {"Cake Kitchen of the Sample Sisters, Example Yard",
          true,
          {{"wheat", "gluten:wheat"},
           {"egg", "eggs"},
           {"milk", "milk"},
           {"almonds", "nuts:almond"},
           {"sulphur dioxide and sulphites", "sulphites"}},
          {"nuts", "seeds"}};
}

Pages laid(const SheetForm& form, const SheetFacts& facts, SheetPaper paper = SheetPaper::a4, int pages = 1) {
  const auto made = lay_out_sheet(form, facts, paper, pages, testdata::fonts());
  EXPECT_TRUE(made.has_value()) << form.id << ": " << (made ? "" : describe(made.error().front()));
  return made ? *made : Pages{};
}

std::string words(const Pages& pages) {
  std::string all;
  for (const Page& page : pages.pages) all += text_of(page) + "\n";
  return testdata::words_of_text(all);
}

template <class See>
void each_fill(const SheetForm& form, const See& see) {
  for (const SheetPart& part : form.parts) {
    for (const auto& fill : part.fills) see(fill);
    for (const SheetSpace& space : part.spaces) {
      for (const auto& fill : space.fills) see(fill);
    }
  }
}

Json body_with(const std::string& member) { return Json{Json::Object{{member, Json{"?"}}}}; }

/// Members that a body of `kind` is refused without.
std::set<std::string> needed_of(const std::string& kind) {
  std::set<std::string> needed;
  for (const auto& refusal : check_body(kind, Json{Json::Object{}}, "form"))
    needed.insert(refusal.field.substr(0, refusal.field.find('.')));
  return needed;
}

/// What a form leaves out of the notes it is typed in as.
std::vector<std::string> left_out(const SheetForm& form) {
  std::vector<std::string> missing;
  for (const SheetNote& note : form.notes) {
    std::set<std::string> given{note.by_program.begin(), note.by_program.end()};
    each_fill(form, [&](const std::string& fill) {
      if (fill.starts_with(note.kind + " ")) given.insert(fill.substr(note.kind.size() + 1));
    });
    for (const auto& member : needed_of(note.kind)) {
      if (!given.contains(member)) missing.push_back(note.kind + " " + member);
    }
  }
  return missing;
}

TEST(Sheets, ShippedAreReadAndNamedAfterTheirFiles) {
  ASSERT_EQ(shipped().size(), shipped_files().size());
  for (const SheetForm& form : shipped()) {
    EXPECT_TRUE(std::filesystem::exists(TIERPROOF_SOURCE_DIR "/reports/sheets/" + form.id + ".json")) << form.id;
  }
  const std::set<std::string> wanted{"fridge-freezer", "heat-steps", "thermometer-checks", "deliveries", "batch",       "order",
                                     "tiers",          "cleaning",   "went-wrong",         "complaint",  "thrown-away", "hand-over"};
  for (const auto& id : wanted) {
    EXPECT_TRUE(std::any_of(shipped().begin(), shipped().end(), [&](const SheetForm& form) { return form.id == id; })) << id;
  }
}

TEST(Sheets, FitOnePageOfEitherSizeForEveryCopy) {
  struct Size {
    SheetPaper paper;
    Micrometres width, height;
  };
  // ISO 216 A4 is 210 × 297 mm; US Letter is 8.5 × 11 in.
  for (const Size& size : {Size{SheetPaper::a4, 210'000, 297'000}, Size{SheetPaper::letter, 215'900, 279'400}}) {
    for (const SheetForm& form : shipped()) {
      for (const SheetFacts& facts : {a_kitchen(), SheetFacts{}}) {
        const Pages pages = laid(form, facts, size.paper, 3);
        ASSERT_EQ(pages.pages.size(), 3U) << form.id;
        for (std::size_t i = 0; i < 3; ++i) {
          const Page& page = pages.pages[i];
          EXPECT_EQ(page.width, form.landscape ? size.height : size.width);
          EXPECT_EQ(page.height, form.landscape ? size.width : size.height);
          const std::string text = testdata::words_of_text(text_of(page));
          EXPECT_NE(text.find("page " + std::to_string(i + 1) + " of 3"), std::string::npos) << form.id;
          EXPECT_NE(text.find(form.title), std::string::npos) << form.id;
          EXPECT_NE(text.find("Local law and the advice of your food authority come first."), std::string::npos) << form.id;
          EXPECT_NE(text.find("initials"), std::string::npos) << form.id;
          EXPECT_NE(text.find("more than 15 minutes after it happened is marked as late"), std::string::npos) << form.id;
          EXPECT_EQ(text.find("DEMO") != std::string::npos, facts.demo) << form.id;
        }
      }
    }
  }
}

// A word that crosses a line of the box it stands in, or the margin, cannot be read once somebody has written there.
TEST(Sheets, KeepEveryWordInsideItsBox) {
  for (const SheetForm& form : shipped()) {
    for (const SheetPaper paper : {SheetPaper::a4, SheetPaper::letter}) {
      const Page page = laid(form, a_kitchen(), paper).pages.at(0);
      for (const PlacedText& text : page.marks.texts) {
        EXPECT_GE(text.x, page.left) << form.id << ": " << text.text;
        EXPECT_LE(text.x + text.width, page.width - page.right) << form.id << ": " << text.text;
        for (const Stroke& stroke : page.marks.strokes) {
          if (stroke.points.size() != 2 || stroke.points[0].x != stroke.points[1].x) continue;
          const bool beside = stroke.points[0].y < text.baseline && text.baseline < stroke.points[1].y;
          EXPECT_FALSE(beside && text.x < stroke.points[0].x && stroke.points[0].x < text.x + text.width) << form.id << ": " << text.text;
        }
      }
    }
  }
}

TEST(Sheets, LeaveRoomForHandwritingInEveryRow) {
  for (const SheetForm& form : shipped()) {
    const Page page = laid(form, a_kitchen(), SheetPaper::letter).pages.at(0);
    // Upright lines are drawn piece by piece: each box to write in has pieces of its own height without a word between them.
    std::set<std::pair<Micrometres, Micrometres>> strips;
    for (const Stroke& stroke : page.marks.strokes) {
      if (stroke.points.size() == 2 && stroke.points[0].x == stroke.points[1].x && stroke.role == "rule" && stroke.width < 200)
        strips.emplace(stroke.points[0].y, stroke.points[1].y);
    }
    std::size_t empty = 0;
    for (const auto& [top, bottom] : strips) {
      const bool written =
          std::any_of(page.marks.texts.begin(), page.marks.texts.end(),
                      [&, top = top, bottom = bottom](const PlacedText& text) { return top < text.baseline && text.baseline <= bottom; });
      if (written) continue;
      ++empty;
      EXPECT_GE(bottom - top, 9000) << form.id;
    }
    std::size_t wanted = 0;
    for (const SheetPart& part : form.parts)
      wanted += part.kind == SheetPartKind::rows ? static_cast<std::size_t>(part.rows) : part.kind == SheetPartKind::boxes ? 1 : 0;
    EXPECT_GE(empty, wanted) << form.id;
  }
}

TEST(Sheets, HaveMoreRowsWhereThePageIsLonger) {
  const auto strokes = [](SheetPaper paper) { return laid(form_called("fridge-freezer"), {}, paper).pages.at(0).marks.strokes.size(); };
  EXPECT_GT(strokes(SheetPaper::a4), strokes(SheetPaper::letter));
}

TEST(Sheets, FillAllThatTheirNotesNeed) {
  for (const SheetForm& form : shipped()) {
    EXPECT_FALSE(form.notes.empty()) << form.id;
    for (const auto& missing : left_out(form)) ADD_FAILURE() << form.id << " has no room for " << missing;
    for (const SheetNote& note : form.notes) {
      EXPECT_FALSE(needed_of(note.kind).empty()) << note.kind;
      EXPECT_FALSE(needed_of(note.kind).contains("kind")) << note.kind << " is no kind of note";
    }
  }
}

TEST(Sheets, AreFoundOutWhenAColumnIsLeftOut) {
  SheetForm form = form_called("deliveries");
  for (SheetPart& part : form.parts) {
    std::erase_if(part.spaces, [](const SheetSpace& space) { return space.fills == std::vector<std::string>{"lot/1 code"}; });
  }
  EXPECT_EQ(left_out(form), std::vector<std::string>{"lot/1 code"});
}

TEST(Sheets, HaveRoomForWhatAMoveOrACheckMayTellBesides) {
  const std::pair<const char*, const char*> may[] = {{"moves", "stay/1 use"},
                                                     {"moves", "stay/1 marked"},
                                                     {"moves", "stay/1 procedure"},
                                                     {"thermometer-checks", "probe-check/1 pressure_pa"}};
  for (const auto& [form, member] : may) {
    std::set<std::string> filled;
    each_fill(form_called(form), [&](const std::string& fill) { filled.insert(fill); });
    EXPECT_TRUE(filled.contains(member)) << form << " has no room for " << member;
  }
}

TEST(Sheets, FillOnlyMembersThatTheirNotesHave) {
  const auto refused_as_unknown = [](const std::string& kind, const std::string& member) {
    const auto refusals = check_body(kind, body_with(member), "form");
    const auto stranger = check_body(kind, body_with("no_such_member"), "form");
    const auto of = [](const Refusals& all, const std::string& field) {
      const auto found = std::find_if(all.begin(), all.end(), [&](const Refusal& one) { return one.field == field; });
      return found == all.end() ? std::string{} : found->message;
    };
    EXPECT_FALSE(of(stranger, "no_such_member").empty()) << kind;
    return of(refusals, member) == of(stranger, "no_such_member");
  };
  for (const SheetForm& form : shipped()) {
    each_fill(form, [&](const std::string& fill) {
      const auto space = fill.find(' ');
      ASSERT_NE(space, std::string::npos) << fill;
      EXPECT_FALSE(refused_as_unknown(fill.substr(0, space), fill.substr(space + 1))) << form.id << ": " << fill;
    });
    for (const SheetNote& note : form.notes) {
      for (const auto& member : note.by_program) EXPECT_FALSE(refused_as_unknown(note.kind, member)) << form.id << ": " << member;
    }
  }
}

// What is ticked is the word that the records keep, so that nobody has to guess what was meant when it is typed in.
TEST(Sheets, TickTheWordsOfTheRecords) {
  std::size_t checked = 0;
  for (const SheetForm& form : shipped()) {
    for (const SheetPart& part : form.parts) {
      if (part.kind != SheetPartKind::ticks || part.fills == std::vector<std::string>{"batch/1 weighed"}) continue;
      ASSERT_EQ(part.fills.size(), 1U) << form.id;
      const auto space = part.fills[0].find(' ');
      const std::string kind = part.fills[0].substr(0, space);
      const std::string member = part.fills[0].substr(space + 1);
      const auto refused = [&](const std::string& word) {
        const auto refusals = check_body(kind, Json{Json::Object{{member, Json{word}}}}, "form");
        return std::any_of(refusals.begin(), refusals.end(), [&](const Refusal& one) { return one.field == member; });
      };
      EXPECT_TRUE(refused("something else")) << form.id << ": " << part.fills[0] << " has no closed list of words";
      for (const auto& choice : part.choices) {
        ++checked;
        EXPECT_FALSE(refused(choice)) << form.id << ": " << choice;
      }
    }
  }
  EXPECT_GE(checked, 20U);
}

TEST(Sheets, PrintTheUnitWhereAMassOrATemperatureIsWritten) {
  std::size_t masses = 0;
  std::size_t degrees = 0;
  for (const SheetForm& form : shipped()) {
    bool has_degrees = false;
    for (const SheetPart& part : form.parts) {
      for (const SheetSpace& space : part.spaces) {
        has_degrees = has_degrees || space.unit == "°C";
        for (const auto& fill : space.fills) {
          if (fill.ends_with("_mg")) {
            ++masses;
            EXPECT_EQ(space.unit, "g") << form.id << ": " << space.label;
          }
          if (fill == "probe-check/1 read" || fill == "hand-over/1 degrees") {
            ++degrees;
            EXPECT_EQ(space.unit, "°C") << form.id << ": " << space.label;
          }
        }
      }
    }
    const bool reads = std::any_of(form.notes.begin(), form.notes.end(), [](const SheetNote& note) { return note.kind == "readings/1"; });
    EXPECT_TRUE(has_degrees || !reads) << form.id;
  }
  EXPECT_GE(masses, 3U);
  EXPECT_GE(degrees, 2U);
}

TEST(Sheets, PrintTheWordsThatAMoveAndAReadingAreTypedInWith) {
  const std::string moves = words(laid(form_called("moves"), {}));
  for (const char* use : {"keeping", "handling", "transfer", "service or display", "time as the control"})
    EXPECT_NE(moves.find(use), std::string::npos) << use;
  const std::string steps = words(laid(form_called("heat-steps"), {}));
  for (const char* purpose : {"syrup", "heat step", "cooling", "reheating"}) EXPECT_NE(steps.find(purpose), std::string::npos) << purpose;
}

TEST(Sheets, NameOnlyCommandsAndOptionsThatThereAre) {
  for (const SheetForm& form : shipped()) {
    const std::string printed = words(laid(form, {}));
    for (const auto& line : form.type_in) {
      ASSERT_TRUE(line.starts_with("tierproof ")) << line;
      const std::string command = line.substr(10, line.find(' ', 10) - 10);
      const std::string help = testdata::output_of("'" TIERPROOF_PROGRAM "' " + command + " --help");
      const std::regex option{" (--[a-z-]+)"};
      std::size_t options = 0;
      for (std::sregex_iterator found{line.begin(), line.end(), option}, end; found != end; ++found, ++options) {
        const std::string name = (*found)[1];
        EXPECT_TRUE(std::regex_search(help, std::regex{name + "[^a-z-]"})) << form.id << ": " << command << " has no " << name;
        EXPECT_NE(printed.find(name), std::string::npos) << form.id << ": " << name << " is torn apart on paper";
      }
      EXPECT_GE(options, 2U) << line;
      EXPECT_NE(line.find(" --by "), std::string::npos) << line;
    }
  }
}

// In a folder without a kitchen a command that is understood ends for want of one (66), never as a usage error (64).
TEST(Sheets, GiveCommandsThatAreUnderstoodAsTheyStand) {
  const std::string nowhere = testdata::own_folder() + "tierproof-no-kitchen";
  std::filesystem::create_directories(nowhere);
  for (const SheetForm& form : shipped()) {
    for (const auto& line : form.type_in) {
      const std::string command = "cd '" + nowhere +
                                  "' && env -u TIERPROOF_KITCHEN -u TIERPROOF_NOW -u TIERPROOF_BY '" TIERPROOF_PROGRAM "'" +
                                  line.substr(std::string{"tierproof"}.size()) + " >/dev/null 2>&1";
      const int status = std::system(command.c_str());
      ASSERT_TRUE(WIFEXITED(status)) << line;
      EXPECT_EQ(WEXITSTATUS(status), 66) << form.id << ": " << line;
    }
  }
}

TEST(Sheets, AskForEveryAllergenOfTheRulesAndTickNone) {
  const std::string order = words(laid(form_called("order"), a_kitchen()));
  for (const auto& allergen : a_kitchen().allergens) EXPECT_NE(order.find("☐ " + allergen.word), std::string::npos) << allergen.word;
  EXPECT_NE(order.find("☐ almonds nuts:almond"), std::string::npos) << "the name it is typed in by stands beside it";
  EXPECT_NE(order.find("☐ none"), std::string::npos);
  EXPECT_NE(order.find("☐ not asked"), std::string::npos);
  EXPECT_NE(order.find("“Nuts” is not enough: which ones?"), std::string::npos);
  EXPECT_NE(order.find("“nuts” or “seeds”"), std::string::npos);
  for (const char* ticked : {"☑", "☒", "✓", "✔", "✗", "■"}) EXPECT_EQ(order.find(ticked), std::string::npos);
  EXPECT_EQ(order.find("free from"), std::string::npos);
}

TEST(Sheets, LeaveRoomForAllergensWhereNoRulesAreChosenYet) {
  const std::string order = words(laid(form_called("order"), {}));
  EXPECT_NE(order.find("no label rules are chosen yet, so write every one in full"), std::string::npos);
  EXPECT_EQ(order.find("☐ almonds"), std::string::npos);
}

TEST(Sheets, CarryTheNameOfTheBusinessOrRoomForIt) {
  EXPECT_NE(words(laid(form_called("batch"), a_kitchen())).find("Sample Sisters"), std::string::npos);
  EXPECT_NE(words(laid(form_called("batch"), {})).find("name of the kitchen"), std::string::npos);
}

TEST(Sheets, AreRefusedWhereAPageCannotHoldThem) {
  SheetForm form = form_called("thrown-away");
  form.parts.front().rows = 60;
  const auto made = lay_out_sheet(form, {}, SheetPaper::a4, 1, testdata::fonts());
  ASSERT_FALSE(made);
  EXPECT_NE(made.error().front().message.find("higher than its page"), std::string::npos);
}

std::string a_form(const std::string& height, const std::string& fills) {
  return R"({"id": "a", "order": 1, "title": "A", "purpose": "To try.", "notes": [{"kind": "stay/1"}], "parts": [{"kind": "rows", "rows": 3,
            "height": )" +
         height + R"(, "spaces": [{"label": "What", "share": 1, "fills": [")" + fills +
         R"("]}]}], "type_in": ["tierproof put cake-1 --in fridge --by anna"]})";
}

TEST(Sheets, AreRefusedMemberByMember) {
  const auto refused = [](std::vector<SheetFile> files) {
    const auto read = read_sheets(files);
    return read ? Refusals{} : read.error();
  };
  EXPECT_TRUE(refused({{"a.json", a_form("9", "stay/1 what")}}).empty());
  const auto low = refused({{"a.json", a_form("8", "stay/1 what")}});
  ASSERT_EQ(low.size(), 1U) << "less than 9 mm is no room for handwriting";
  EXPECT_EQ(low.front().field, "parts[0].height");
  EXPECT_EQ(low.front().file, "a.json");
  EXPECT_EQ(refused({{"a.json", a_form("9", "lot/1 code")}}).size(), 1U);
  const auto twice = refused({{"a.json", a_form("9", "stay/1 what")}, {"b.json", a_form("9", "stay/1 what")}});
  ASSERT_EQ(twice.size(), 1U);
  EXPECT_EQ(twice.front().file, "b.json");
  EXPECT_GE(refused({{"c.json", R"({"id": "c", "colour": 1})"}}).size(), 5U);
}

}  // namespace
}  // namespace tierproof
