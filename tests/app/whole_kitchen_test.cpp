#include "tierproof/app/whole_kitchen.h"

#include <sys/stat.h>

#include <chrono>
#include <fstream>

#include "app/app_for_tests.h"
#include "app/base64.h"
#include "rules/schema_for_tests.h"
#include "tierproof/app/erasing.h"

namespace tierproof {
namespace {

const DataRoot data_dir{TIERPROOF_SOURCE_DIR};

/// A kitchen with readings, sealed words in two scripts, a label and its forms.
struct FullKitchen {
  TestKitchen kitchen;
  std::string cake;
  FullKitchen() {
    const std::string sponge = kitchen.make("sponge", grams(270));
    Ordering ordering{"Plain cake", parse_date("2026-05-02"), "Zoë Überraschung", "before it was chosen", "the maker", "face to face", 1,
                      900};
    cake = kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
    kitchen.done([&](Session& s) { return answer_allergy(s, {cake, "none", {}, "Ζωή", "told her", ""}); });
    kitchen.tier(cake, "only", {{sponge, grams(270)}});
    kitchen.at("2026-05-01T20:00+01:00");
    kitchen.readings("logger", "fridge", "2026-05-01T09:00+01:00", "2026-05-01T19:00+01:00", "4.2");
    Session session = kitchen.open();
    EXPECT_TRUE(issue_label(session, {cake, "sheet-99x139", 1}, data_dir).has_value());
    // A thermometer may write anything into its log, and a name may come in another normal form.
    LoggedReading broken;
    broken.at = session.now();
    broken.fault = "no probe \xff\xfe";
    Draft draft = session.draft(ReadingsBlock{}, "fridge", {session.now(), Offset{60}});
    draft.block = write_block({broken});
    ReadingsBlock block{ProbeId{"logger"}, "fridge", "chilled", 1, broken.at, broken.at, to_hex(sha256(draft.block))};
    draft.body = body_of(block);
    session.book({draft});
    const Words decomposed = session.seal("Zoe\xcc\x88");
    session.book({session.draft(Told{CakeId{cake}, "before the order", decomposed, {}, ""}, cake, {session.now(), Offset{60}})});
  }
  std::string beside(const std::string& name) const {
    return (std::filesystem::path{kitchen.entrance().kitchen_file}.parent_path() / name).string();
  }
  std::string document() const {
    const auto whole = export_kitchen(kitchen.open(true).store());
    EXPECT_TRUE(whole.has_value());
    return whole ? whole->document : "";
  }
  Strings files() const {
    Strings names;
    for (const auto& one : std::filesystem::directory_iterator{beside("")}) names.push_back(one.path().filename().string());
    return names;
  }
  /// Every refusal in words; nothing may be made.
  std::string refused(const std::string& text) const {
    const auto taken = import_kitchen({"whole.json", text}, beside("again.tierproof"));
    EXPECT_FALSE(taken.has_value());
    EXPECT_EQ(files(), Strings{"kitchen.tierproof"});
    std::string all;
    if (!taken) {
      for (const auto& refusal : taken.error()) all += describe(refusal) + "\n";
    }
    return all;
  }
  /// The document after `change`, written anew.
  template <class Change>
  std::string changed(const Change& change) const {
    Json json = parse_json(document(), "whole.json").value();
    change(json);
    return write_pretty(json);
  }
};

std::string schema_text() { return load_file(std::string{TIERPROOF_SOURCE_DIR} + "/reference/schemas/whole-kitchen.schema.json"); }

TEST(WholeKitchenDocument, IsValidByItsSchema) {
  const FullKitchen full;
  EXPECT_EQ(schema_complaints(full.document(), schema_text()), "");
}

TEST(WholeKitchenDocument, HasASchemaThatRefusesWhatIsNotOne) {
  const FullKitchen full;
  const auto wrong = [&](auto change) { return !schema_complaints(full.changed(change), schema_text()).empty(); };
  EXPECT_TRUE(wrong([](Json& j) { j["schema"] = Json{"tierproof/whole-kitchen/2"}; }));
  EXPECT_TRUE(wrong([](Json& j) { j.object().erase("head"); }));
  EXPECT_TRUE(wrong([](Json& j) { j["more"] = Json{1}; }));
  EXPECT_TRUE(wrong([](Json& j) { j["entries"].array()[0]["hash"] = Json{"abc"}; }));
  EXPECT_TRUE(wrong([](Json& j) { j["sealed"].array()[0]["base64"] = Json{"AAAA"}; }));
  EXPECT_TRUE(wrong([](Json& j) { j["blocks"].array()[0]["note"] = Json{0}; }));
  EXPECT_TRUE(wrong([](Json& j) { j["papers"].array()[0].object().erase("media_type"); }));
}

TEST(WholeKitchenDocument, IsTheSameForTheSameRecords) {
  const FullKitchen full;
  EXPECT_EQ(full.document(), full.document());
}

TEST(WholeKitchen, IsTakenInWithTheSameHeadNotesWordsReadingsAndPapers) {
  FullKitchen full;
  const std::string path = full.beside("again.tierproof");
  const auto taken = import_kitchen({"whole.json", full.document()}, path);
  ASSERT_TRUE(taken.has_value()) << describe(taken.error().front());
  const Session ours = full.kitchen.open(true);
  EXPECT_EQ(taken->head, ours.head());
  EXPECT_TRUE(taken->demo);
  EXPECT_EQ(taken->papers, 3u);
  const auto again = open_sqlite(path, true);
  EXPECT_EQ(again->head(), ours.head());
  EXPECT_EQ(again->notes(), ours.notes());
  EXPECT_EQ(again->verify(ours.store().head_at(5)).complaints, Strings{});
  const Append here = ours.store().whole();
  const Append there = again->whole();
  EXPECT_EQ(there.entries, here.entries);
  ASSERT_EQ(there.sealed.size(), here.sealed.size());
  for (std::size_t i = 0; i < here.sealed.size(); ++i) {
    EXPECT_EQ(there.sealed[i].text, here.sealed[i].text);
    EXPECT_EQ(there.sealed[i].key, here.sealed[i].key);
  }
  ASSERT_EQ(there.blocks.size(), here.blocks.size());
  for (std::size_t i = 0; i < here.blocks.size(); ++i) EXPECT_EQ(there.blocks[i].bytes, here.blocks[i].bytes);
  ASSERT_EQ(there.papers.size(), here.papers.size());
  for (std::size_t i = 0; i < here.papers.size(); ++i) EXPECT_EQ(there.papers[i].bytes, here.papers[i].bytes);
  EXPECT_EQ(export_kitchen(*again)->document, full.document());
  EXPECT_EQ(full.files(), (Strings{"again.tierproof", "kitchen.tierproof"})) << "nothing else is left beside it";
  struct stat made {};
  ASSERT_EQ(::stat(path.c_str(), &made), 0);
  EXPECT_EQ(made.st_mode & 0777, 0600) << "it holds personal data";
}

TEST(WholeKitchen, IsTakenInAfterAnErasureWithoutWhatWasErased) {
  FullKitchen full;
  full.kitchen.at("2026-07-01T09:00+01:00");
  {
    Session session = full.kitchen.open();
    ASSERT_TRUE(issue_record(session, full.cake, data_dir).has_value());
    ASSERT_TRUE(erase_customer(session, {full.cake, "the customer asked"}).has_value());
  }
  const std::string path = full.beside("again.tierproof");
  const auto taken = import_kitchen({"whole.json", full.document()}, path);
  ASSERT_TRUE(taken.has_value()) << describe(taken.error().front());
  EXPECT_EQ(taken->head, full.kitchen.open(true).head());
  EXPECT_EQ(open_sqlite(path, true)->verify(std::nullopt).complaints, Strings{});
}

TEST(WholeKitchen, IsNeverTakenInOverAFileThatIsThere) {
  const FullKitchen full;
  const std::string document = full.document();
  try {
    static_cast<void>(import_kitchen({"whole.json", document}, full.beside("kitchen.tierproof")));
    ADD_FAILURE() << "it was taken in";
  } catch (const Fault& fault) {
    EXPECT_EQ(fault.exit_status(), exit_status::cannot_create);
  }
  EXPECT_EQ(full.document(), document);
}

TEST(WholeKitchen, IsRefusedWithWhatIsWrongAndLeavesNoFile) {
  const FullKitchen full;
  const auto refused = [&](auto change) { return full.refused(full.changed(change)); };
  EXPECT_THAT(full.refused("{"), HasSubstr("whole.json:1"));
  EXPECT_THAT(full.refused("{}"), HasSubstr("schema: is missing"));
  EXPECT_THAT(refused([](Json& j) { j["schema"] = Json{"tierproof/whole-kitchen/2"}; }),
              HasSubstr("is a version that this program does not know; take it in with the program version that wrote it"));
  EXPECT_THAT(refused([](Json& j) { j["schema"] = Json{"tierproof/notes/1"}; }), HasSubstr("is not the export of a whole kitchen"));
  EXPECT_THAT(refused([](Json& j) {
                std::string leaf = j["entries"].array()[4]["leaf"].text();
                leaf.replace(leaf.find("flour"), 5, "flowr");
                j["entries"].array()[4]["leaf"] = Json{leaf};
              }),
              HasSubstr("entries[4].leaf: entry 5 does not have the hash that stands beside it"));
  EXPECT_THAT(refused([](Json& j) {
                std::string leaf = j["entries"].array()[4]["leaf"].text();
                leaf.replace(leaf.find("flour"), 5, "flowr");
                j["entries"].array()[4] = Json{Json::Object{{"leaf", Json{leaf}}, {"hash", Json{to_hex(leaf_hash(leaf))}}}};
              }),
              HasSubstr("head: the document says"));
  EXPECT_THAT(refused([](Json& j) { j["entries"].array().pop_back(); }), HasSubstr("entries were added, left out or changed"));
  EXPECT_THAT(refused([](Json& j) { j["entries"].array().erase(j["entries"].array().begin() + 3); }),
              HasSubstr("entry 5 stands where 4 is next"));
  EXPECT_THAT(refused([](Json& j) { j["entries"].array().push_back(j["entries"].array()[2]); }), HasSubstr("entry 3 stands where"));
  EXPECT_THAT(refused([](Json& j) { j["kitchen"] = Json{"5f2b7b3e-0000-4000-8000-000000000009"}; }),
              HasSubstr("entry 1 is of another kitchen"));
  EXPECT_THAT(refused([](Json& j) { j["demo"] = Json{false}; }), HasSubstr("demo: is not what the first note says"));
  EXPECT_THAT(refused([](Json& j) { j["blocks"].array()[0]["text"] = Json{"1 2 C\n"}; }), HasSubstr("does not seal these readings"));
  EXPECT_THAT(refused([](Json& j) { j["blocks"].array()[0]["note"] = Json{1}; }), HasSubstr("entry 1 does not seal these readings"));
  EXPECT_THAT(refused([](Json& j) { j["blocks"].array().push_back(j["blocks"].array()[0]); }), HasSubstr("stand there twice"));
  EXPECT_THAT(refused([](Json& j) { j["blocks"].array().clear(); }), HasSubstr("and they are not kept"));
  EXPECT_THAT(refused([](Json& j) { j["sealed"].array()[0]["text"] = Json{"Somebody Else"}; }),
              HasSubstr("are not those that were sealed"));
  EXPECT_THAT(refused([](Json& j) { j["sealed"].array()[0]["ref"] = Json{"w-9"}; }), HasSubstr("no entry names the words w-9"));
  EXPECT_THAT(refused([](Json& j) { j["sealed"].array().push_back(j["sealed"].array()[0]); }), HasSubstr("stand there twice"));
  EXPECT_THAT(refused([](Json& j) { j["papers"].array()[0]["base64"] = Json{"AAAA"}; }), HasSubstr("does not have the SHA-256"));
  EXPECT_THAT(refused([](Json& j) { j["papers"].array()[0]["base64"] = Json{"AAA"}; }), HasSubstr("is not base64"));
  EXPECT_THAT(refused([](Json& j) { j["papers"].array().push_back(j["papers"].array()[0]); }), HasSubstr("stands there twice"));
  EXPECT_THAT(refused([](Json& j) { j["papers"].array().pop_back(); }), HasSubstr("and they are not kept")) << "no erasure names it";
  EXPECT_THAT(refused([](Json& j) { j["more"] = Json{1}; }), HasSubstr("more: is not a member that belongs here"));
}

TEST(WholeKitchen, OfANewerProgramIsRefusedByTheKindItDoesNotKnow) {
  const FullKitchen full;
  const auto text = full.changed([](Json& j) {
    Frontier frontier;
    auto& entries = j["entries"].array();
    for (std::size_t i = 0; i < entries.size(); ++i) {
      std::string leaf = entries[i]["leaf"].text();
      if (const auto at = leaf.find("\"kind\":\"stay/1\""); at != std::string::npos || i + 1 == entries.size()) {
        const auto kind = leaf.find("\"kind\":\"");
        leaf.replace(kind + 8, leaf.find('"', kind + 8) - kind - 8, "tea/1");
      }
      entries[i] = Json{Json::Object{{"leaf", Json{leaf}}, {"hash", Json{to_hex(leaf_hash(leaf))}}}};
      frontier.add(leaf_hash(leaf));
    }
    j["head"] = Json{format_head(frontier.head())};
  });
  EXPECT_THAT(full.refused(text), HasSubstr("\"tea/1\" is not a kind of note that this program knows"));
}

TEST(WholeKitchen, IsNeverWrittenOverByAFileThatIsSaved) {
  FullKitchen full;
  const std::string before = load_file(full.beside("kitchen.tierproof"));
  EXPECT_THROW(save_file(full.beside("kitchen.tierproof"), "BEGIN:VCALENDAR"), Fault);
  EXPECT_EQ(load_file(full.beside("kitchen.tierproof")), before);
  save_file(full.beside("due.ics"), "one");
  save_file(full.beside("due.ics"), "two");
  EXPECT_EQ(load_file(full.beside("due.ics")), "two");
}

TEST(WholeKitchen, IsNotExportedWhenItsRecordsDoNotHold) {
  FullKitchen full;
  auto broken = std::make_unique<std::string>(load_file(full.beside("kitchen.tierproof")));
  const auto at = broken->find("Zoë Überraschung");
  ASSERT_NE(at, std::string::npos);
  (*broken)[at] = 'X';
  std::ofstream{full.beside("kitchen.tierproof"), std::ios::binary} << *broken;
  const auto exported = export_kitchen(*open_sqlite(full.beside("kitchen.tierproof"), true));
  ASSERT_FALSE(exported.has_value());
  EXPECT_THAT(describe(exported.error().front()), HasSubstr("it is not what entry"));
}

TEST(WholeKitchen, OfManyNotesAndLargePapersPassesTheGate) {
  FullKitchen full;
  {
    Session session = full.kitchen.open();
    std::vector<Draft> drafts;
    std::vector<KeptPaper> papers;
    for (int i = 0; i < 150; ++i) {
      std::string bytes(100'000, '\0');
      for (std::size_t at = 0; at < bytes.size(); ++at) bytes[at] = static_cast<char>((at * 31 + static_cast<std::size_t>(i) * 7) % 251);
      PaperIssued issued{CakeId{full.cake}, "label", "png", "", 1, "1:x", "rules", "program", "says", to_hex(sha256(bytes))};
      drafts.push_back(session.draft(issued, full.cake, {session.now(), Offset{60}}));
      papers.push_back({sha256(bytes), "image/png", std::move(bytes)});
    }
    session.book(std::move(drafts), std::move(papers));
  }
  const std::string document = full.document();
  EXPECT_GT(document.size(), 20'000'000u);
  const auto taken = import_kitchen({"whole.json", document}, full.beside("again.tierproof"));
  ASSERT_TRUE(taken.has_value());
  EXPECT_EQ(taken->papers, 153u);
  EXPECT_EQ(taken->head, full.kitchen.open(true).head());
}

// RFC 4648 section 10, test vectors.
TEST(Base64, WritesAndReadsThePublishedVectors) {
  const std::vector<std::pair<std::string, std::string>> vectors{
      {"", ""}, {"f", "Zg=="}, {"fo", "Zm8="}, {"foo", "Zm9v"}, {"foob", "Zm9vYg=="}, {"fooba", "Zm9vYmE="}, {"foobar", "Zm9vYmFy"}};
  for (const auto& [bytes, text] : vectors) {
    EXPECT_EQ(to_base64(bytes), text);
    EXPECT_EQ(from_base64(text), bytes);
  }
  std::string all;
  for (int i = 0; i < 256; ++i) all += static_cast<char>(i);
  EXPECT_EQ(from_base64(to_base64(all)), all);
}

TEST(Base64, ReadsOnlyWhatItWouldWrite) {
  for (const char* text : {"Zg", "Zg=", "Zh==", "Zm9=", "Zm9v\n", "=Zg=", "====", "Zg==Zg==", "Zm_v"}) {
    EXPECT_FALSE(from_base64(text)) << text;
  }
}

}  // namespace
}  // namespace tierproof
