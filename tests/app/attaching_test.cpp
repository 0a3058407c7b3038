#include "tierproof/app/attaching.h"

#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cstdlib>

#include "app/album_for_tests.h"
#include "app/evidence_folder.h"
#include "tierproof/app/advising.h"
#include "tierproof/app/going_wrong.h"
#include "tierproof/app/inspecting.h"
#include "tierproof/app/whole_kitchen.h"

namespace tierproof {
namespace {

using namespace files_for_tests;

std::string content_of(const std::string& path) {
  std::ifstream in{path, std::ios::binary};
  return {std::istreambuf_iterator<char>{in}, {}};
}
unsigned mode_of(const std::string& path) {
  struct stat found {};
  EXPECT_EQ(::stat(path.c_str(), &found), 0) << path;
  return found.st_mode & 0777U;
}

TEST(Attach, KeepsTheFileUnderItsSha256AndBooksWhatItIs) {
  Album album;
  const auto booked = album.attach("pack-3", png(), "the sack, its front");
  EXPECT_EQ(booked.subjects, Strings{"pack-3"});
  EXPECT_EQ(album.names(), Strings{to_hex(sha256(png()))});
  EXPECT_EQ(content_of(album.kept(png())), png());
  const Session session = album.kitchen.open(true);
  ASSERT_EQ(session.state().evidence.size(), 1u);
  const Evidence& evidence = session.state().evidence.front().value;
  EXPECT_EQ(evidence.about, "pack-3");
  EXPECT_EQ(evidence.kind, "lot/1");
  EXPECT_FALSE(evidence.note);
  EXPECT_EQ(evidence.shows.text, "the sack, its front");
  EXPECT_EQ(evidence.file_sha256, to_hex(sha256(png())));
  EXPECT_EQ(evidence.file_bytes, static_cast<std::int64_t>(png().size()));
  EXPECT_EQ(evidence.media_type, "image/png");
  EXPECT_EQ(album.complaints(), Strings{});
  EXPECT_EQ(album.verified().files, 1);
}

TEST(Attach, KeepsItForTheOwnerAlone) {
  Album album;
  album.attach("pack-3", png());
  EXPECT_EQ(mode_of(album.folder()), 0700u);
  EXPECT_EQ(mode_of(album.kept(png())), 0600u);
}

TEST(Attach, SaysWhatAFileIsByItsContentAndNotByItsName) {
  Album album;
  const std::string path = album.file("photo.jpg", png());
  album.kitchen.done([&](Session& s) { return attach_files(s, {"pack-3", {path}, "the sack"}); });
  EXPECT_EQ(album.kitchen.open(true).state().evidence.back().value.media_type, "image/png");
  const std::string text = album.file("list.png", "flour\n");
  EXPECT_THAT(album.refused({"pack-3", {text}, "the sack"}), HasSubstr("list.png: is no JPEG, PNG or WebP picture and no PDF"));
}

/// Files of another hand: what poppler and the program's own writer make.
TEST(Attach, TakesWhatOtherProgramsWrite) {
  Album album;
  const std::string sample = std::string{TIERPROOF_SOURCE_DIR} + "/reports/sample/cake-1-record";
  const std::string scan = album.beside("scan");
  ASSERT_EQ(std::system(("pdftoppm -jpeg -r 40 -f 1 -l 1 -singlefile '" + sample + ".pdf' '" + scan + "'").c_str()), 0);
  const std::string golden = std::string{TIERPROOF_SOURCE_DIR} + "/tests/data/golden/label.png";
  album.kitchen.done([&](Session& s) { return attach_files(s, {"pack-3", {sample + ".pdf", scan + ".jpg", golden}, "three sorts"}); });
  Strings types;
  const Session session = album.kitchen.open(true);
  for (const auto& one : session.state().evidence) types.push_back(one.value.media_type);
  EXPECT_EQ(types, (Strings{"application/pdf", "image/jpeg", "image/png"}));
}

TEST(Attach, TakesTenMegabytesAndNotOneByteMore) {
  Album album;
  ASSERT_EQ(largest_evidence, 10'000'000);
  const std::string most = album.file("most.pdf", pdf_of(10'000'000));
  const std::string more = album.file("more.pdf", pdf_of(10'000'001));
  album.kitchen.done([&](Session& s) { return attach_files(s, {"pack-3", {most}, "a scan"}); });
  EXPECT_EQ(album.kitchen.open(true).state().evidence.back().value.file_bytes, 10'000'000);
  EXPECT_THAT(album.refused({"pack-3", {more}, "a scan"}), HasSubstr("more.pdf: is larger than 10 MB"));
  EXPECT_EQ(album.complaints(), Strings{});
}

TEST(Attach, TellsAllThatIsWrongAtOnceAndKeepsNothing) {
  Album album;
  const std::string good = album.file("good.png", png());
  const std::string again = album.file("again.png", png());
  const std::string empty = album.file("empty.jpg", "");
  const std::string cut = album.file("cut.jpg", jpeg().substr(0, 30));
  const auto all = album.refused(
      {"pack-99", {good, again, empty, cut, album.beside("nowhere.jpg"), album.beside(""), album.records()}, "it is nut-free"});
  for (const char* words : {"nothing is called \"pack-99\"", "is a claim", "again.png: has the same content", "empty.jpg: is empty",
                            "cut.jpg: begins as a JPEG picture, but is cut short or damaged", "nowhere.jpg: is no file that can be read",
                            "/: is no file that can be read", "kitchen.tierproof: holds the records themselves"})
    EXPECT_THAT(all, HasSubstr(words));
  EXPECT_EQ(std::count(all.begin(), all.end(), '\n'), 8);
  EXPECT_FALSE(fs::exists(album.folder())) << "no file is kept before all are good";
}

TEST(Attach, RefusesTheRecordsUnderWhateverName) {
  Album album;
  fs::create_symlink(album.records(), album.beside("photo.jpg"));
  EXPECT_THAT(album.refused({"pack-3", {album.beside("photo.jpg")}, "the sack"}), HasSubstr("photo.jpg: holds the records themselves"));
}

TEST(Attach, WantsAPersonAndWords) {
  Album album;
  album.kitchen.person = "";
  const auto all = album.refused({"", {album.file("good.png", png())}, ""});
  for (const char* words : {"--by:", "about: nothing is named", "--shows: is missing"}) EXPECT_THAT(all, HasSubstr(words));
}

TEST(Attach, GoesToANoteByItsNumber) {
  Album album;
  const auto said = album.kitchen.done([](Session& s) {
    return note_advice(s, {"A. Officer", "Example Council", *parse_date("2026-04-30"), "egg", "", "use cartons"});
  });
  const std::uint64_t note = said.sequences.front();
  EXPECT_THAT(album.refused({"advice", {album.file("good.png", png())}, "the letter"}), HasSubstr("nothing is called \"advice\""))
      << "what has no name of its own goes by its note";
  album.attach(std::to_string(note), pdf(), "the letter");
  const Session session = album.kitchen.open(true);
  const auto& evidence = session.state().evidence.front();
  EXPECT_EQ(evidence.value.about, "advice");
  EXPECT_EQ(evidence.value.kind, "advice/1");
  EXPECT_EQ(evidence.value.note, static_cast<std::int64_t>(note));
  EXPECT_EQ(attached_to(session, std::to_string(note)).value().size(), 1u);
}

TEST(Attach, ToANoteThatIsNotThereOrWasTakenBackOrIsAPictureIsRefused) {
  Album album;
  const std::string good = album.file("good.png", png());
  EXPECT_THAT(album.refused({"999", {good}, "x"}), HasSubstr("there is no note 999"));
  const auto wrong = album.kitchen.done([](Session& s) { return withdraw(s, "pack-1", "moth"); });
  album.kitchen.done([&](Session& s) { return void_note(s, wrong.sequences.front(), "another lot"); });
  EXPECT_THAT(album.refused({std::to_string(wrong.sequences.front()), {good}, "x"}), HasSubstr("was taken back"));
  const auto picture = album.attach("pack-3", jpeg());
  EXPECT_THAT(album.refused({std::to_string(picture.sequences.front()), {good}, "x"}), HasSubstr("is itself of something attached"));
}

TEST(Attach, ToANameOfTwoThingsAsksForTheNote) {
  Album album;
  album.kitchen.done([](Session& s) { return add_supplier(s, "flour", Supplier{{"Flour and Co", "1 Road"}, {}, {}}); });
  const auto all = album.refused({"flour", {album.file("good.png", png())}, "x"});
  EXPECT_THAT(all, HasSubstr("more than one thing is called \"flour\""));
  EXPECT_THAT(all, HasSubstr("for the ingredient"));
  EXPECT_THAT(all, HasSubstr("for the supplier"));
}

TEST(Attach, TheSameContentTwiceIsOneFileAndTwoNotes) {
  Album album;
  album.attach("pack-3", png());
  album.attach("shop", png());
  EXPECT_EQ(album.names().size(), 1u);
  EXPECT_EQ(album.kitchen.open(true).state().evidence.size(), 2u);
  EXPECT_EQ(album.verified().files, 1);
  EXPECT_EQ(album.complaints(), Strings{});
}

TEST(Attach, NeverWritesOverAFile) {
  Album album;
  album.attach("pack-3", png());
  std::ofstream{album.kept(png()), std::ios::binary | std::ios::app} << "more";
  const std::string given = album.file("given.png", png());
  Session session = album.kitchen.open();
  try {
    static_cast<void>(attach_files(session, {"pack-3", {given}, "again"}));
    ADD_FAILURE() << "it was written over";
  } catch (const Fault& fault) {
    EXPECT_EQ(fault.exit_status(), exit_status::cannot_create);
    EXPECT_THAT(fault.what(), HasSubstr("is never written over"));
  }
  EXPECT_EQ(content_of(album.kept(png())), png() + "more");
  fs::remove(album.kept(png()));
  album.attach("pack-3", png());
  EXPECT_EQ(album.complaints(), Strings{}) << "attached again, what was missing is there again";
}

TEST(Attach, FollowsNoLinkOutOfTheFolder) {
  Album album;
  fs::create_directory(album.beside("elsewhere"));
  fs::create_directory_symlink(album.beside("elsewhere"), album.folder());
  const std::string given = album.file("given.png", png());
  {
    Session session = album.kitchen.open();
    EXPECT_THROW(static_cast<void>(attach_files(session, {"pack-3", {given}, "x"})), Fault);
  }
  EXPECT_TRUE(fs::is_empty(album.beside("elsewhere")));
  fs::remove(album.folder());
  // A link under the name that the file would get is not followed either.
  fs::create_directory(album.folder());
  fs::create_symlink(given, album.kept(png()));
  Session session = album.kitchen.open();
  EXPECT_THROW(static_cast<void>(attach_files(session, {"pack-3", {given}, "x"})), Fault);
  EXPECT_TRUE(fs::is_symlink(album.kept(png())));
}

TEST(Attach, ThroughALinkToTheRecordsGoesToTheSameFolder) {
  Album album;
  fs::create_symlink(album.records(), album.beside("today.tierproof"));
  EXPECT_EQ(EvidenceFolder::beside(album.beside("today.tierproof")), fs::canonical(album.records()).string() + ".evidence");
}

TEST(AttachedFile, ThatWasAlteredOrIsGoneIsNamedByVerify) {
  Album album;
  const auto note = album.attach("pack-3", jpeg()).sequences.front();
  const std::string path = album.kept(jpeg());
  const std::string who = fmt::format("note {} (pack-3): what it attached, {},", note, path);
  const auto complaint = [&] {
    const auto all = album.complaints();
    EXPECT_EQ(all.size(), 1u);
    EXPECT_EQ(album.verified().files, 0);
    return all.empty() ? "" : all.front();
  };
  const auto write = [&](const std::string& content) {
    fs::remove(path);
    std::ofstream{path, std::ios::binary} << content;
  };
  for (std::size_t bit = 0; bit < jpeg().size() * 8; bit += 37) {
    std::string flipped = jpeg();
    flipped[bit / 8] = static_cast<char>(flipped[bit / 8] ^ (1 << bit % 8));
    write(flipped);
    EXPECT_THAT(complaint(), HasSubstr(who + " was changed: it does not have the SHA-256"));
  }
  write(jpeg().substr(0, jpeg().size() - 1));
  EXPECT_THAT(complaint(), HasSubstr(fmt::format("was changed: it has {} bytes, and {} were attached; move that away", jpeg().size() - 1,
                                                 jpeg().size())));
  fs::remove(path);
  EXPECT_THAT(complaint(), HasSubstr(who + " is missing; put it back from a copy, or attach the same file again"));
  fs::create_symlink(album.file("same.jpg", jpeg()), path);
  EXPECT_THAT(complaint(), HasSubstr("is a link, which is not followed"));
  fs::remove(path);
  fs::create_directory(path);
  EXPECT_THAT(complaint(), HasSubstr("is no file"));
  fs::remove(path);
  ASSERT_EQ(::mkfifo(path.c_str(), 0600), 0);
  EXPECT_THAT(complaint(), HasSubstr("is no file")) << "and nobody waits for it";
  write(jpeg());
  EXPECT_EQ(album.complaints(), Strings{});
}

TEST(AttachedFile, IsMissingTooWhenItsWholeFolderIs) {
  Album album;
  album.attach("pack-3", png());
  fs::rename(album.folder(), album.beside("moved"));
  ASSERT_EQ(album.complaints().size(), 1u);
  EXPECT_THAT(album.complaints().front(), HasSubstr("is missing"));
  fs::create_directory_symlink(album.beside("moved"), album.folder());
  ASSERT_EQ(album.complaints().size(), 1u);
  EXPECT_THAT(album.complaints().front(), HasSubstr("is a link or no folder, and is not followed"));
}

TEST(AttachedFile, ThatNoNoteNamesIsToldAndNoFault) {
  Album album;
  EXPECT_EQ(album.verified().not_named, Strings{}) << "there is no folder";
  album.attach("pack-3", png());
  std::ofstream{album.kept(jpeg()), std::ios::binary} << jpeg();  // kept, and cut off before it was booked
  std::ofstream{album.folder() + "/.unfinished-abc"} << "half";
  const auto found = album.verified();
  EXPECT_EQ(found.files_wrong, Strings{});
  ASSERT_EQ(found.not_named.size(), 2u);
  EXPECT_THAT(found.not_named[0], HasSubstr(".unfinished-abc is a copy that was never finished"));
  EXPECT_THAT(found.not_named[1], HasSubstr(album.kept(jpeg()) + " is not named by any note"));
  album.attach("pack-3", jpeg());
  EXPECT_EQ(album.verified().not_named, Strings{}) << "attached after all, and what was never finished is gone";
  EXPECT_EQ(album.verified().files, 2);
}

TEST(AttachedFile, OfANoteThatWasTakenBackStaysAndIsStillVerified) {
  Album album;
  const auto note = album.attach("pack-3", png()).sequences.front();
  album.kitchen.done([&](Session& s) { return void_note(s, note, "another sack"); });
  EXPECT_EQ(album.verified().files, 1);
  EXPECT_EQ(attached_to(album.kitchen.open(true), "").value().size(), 0u);
  EXPECT_FALSE(attached_to(album.kitchen.open(true), "pack-3").has_value());
  fs::remove(album.kept(png()));
  EXPECT_EQ(album.complaints().size(), 1u);
}

TEST(AttachedFile, CannotBeExchangedByACorrection) {
  Album album;
  const auto note = album.attach("pack-3", png()).sequences.front();
  EXPECT_THAT(correction_refused(album.kitchen, note, {{"file_sha256", Json{std::string(64, 'a')}}}), HasSubstr("is sealed as it came"));
  EXPECT_THAT(correction_refused(album.kitchen, note, {{"about", Json{"pack-1"}}}), HasSubstr("void it and attach the file again"));
}

TEST(AttachedFile, ComesOutAsItWasAttached) {
  Album album;
  const auto note = std::to_string(album.attach("pack-3", png()).sequences.front());
  const Session session = album.kitchen.open(true);
  const auto saved = save_attached(session, note, album.beside("out.png"));
  ASSERT_TRUE(saved.has_value());
  EXPECT_EQ(content_of(album.beside("out.png")), png());
  EXPECT_EQ(mode_of(album.beside("out.png")), 0600u);
  EXPECT_THROW(static_cast<void>(save_attached(session, note, album.beside("out.png"))), Fault) << "it is there already";
  EXPECT_THROW(static_cast<void>(save_attached(session, note, album.folder() + "/out.png")), Fault) << "nothing else goes into the folder";
  EXPECT_FALSE(save_attached(session, "pack-3", album.beside("other.png")).has_value());
  EXPECT_FALSE(save_attached(session, "1", album.beside("other.png")).has_value());
  std::ofstream{album.kept(png()), std::ios::binary | std::ios::app} << "more";
  const auto changed = save_attached(session, note, album.beside("other.png"));
  ASSERT_FALSE(changed.has_value());
  EXPECT_THAT(describe(changed.error().front()), HasSubstr("was changed"));
  EXPECT_FALSE(fs::exists(album.beside("other.png")));
}

TEST(AttachedFile, ChangesNoVerdict) {
  Album album;
  const std::string cake = cake_of(album.kitchen, {{album.kitchen.make("sponge", grams(270)), grams(270)}});
  const auto told = [&] {
    std::string all;
    for (const auto& f : album.kitchen.judged(cake).findings)
      all += f.control + std::string{term_of(f.verdict)} + f.subject + f.message + f.remedy + "\n";
    return all;
  };
  const auto before = told();
  album.attach(cake, png(), "the cake in its box");
  album.attach("pack-1", jpeg(), "the sack");
  EXPECT_EQ(told(), before);
}

TEST(AttachedFile, ThatIsNotAsItWasIsToldToAnInspection) {
  Album album;
  const auto told = [&]() -> std::string {
    const Session session = album.kitchen.open(true);
    const auto inspection = inspect(session, {}, {session.now(), Offset{60}});
    EXPECT_TRUE(inspection.has_value());
    for (const auto& section : inspection->content.sections) {
      for (const auto& fact : section.facts) {
        if (fact.label == "Pictures and documents attached") return fact.text;
      }
    }
    return "";
  };
  EXPECT_EQ(told(), "");
  album.attach("pack-3", png());
  album.attach("pack-3", jpeg());
  EXPECT_EQ(told(), "2 as they were when attached");
  fs::remove(album.kept(png()));
  EXPECT_EQ(told(), "1 as it was when attached; NOT as attached, or not there: of 1 note, named by `tierproof verify`");
}

// ---- with the whole kitchen ----

TEST(AttachedFiles, AreCopiedWithAnExportAndAnImport) {
  Album album;
  album.attach("pack-3", png());
  album.attach("pack-3", jpeg());
  album.attach("shop", jpeg());
  const auto store = open_sqlite(album.records(), true);
  const auto whole = export_kitchen(*store);
  ASSERT_TRUE(whole.has_value());
  const auto out = copy_attached_out(*store, album.records(), album.beside("pictures"));
  EXPECT_EQ(out.named, 2);
  EXPECT_EQ(out.copied, 2);
  const std::string again = album.beside("again.tierproof");
  ASSERT_TRUE(import_kitchen({"whole.json", whole->document}, again).has_value());
  const auto restored = open_sqlite(again, true);
  EXPECT_EQ(attached_files_of(*restored).named, 2);
  EXPECT_EQ(verify_kitchen(*restored, again, std::nullopt).files_wrong.size(), 3u) << "each note names what is missing";
  fs::remove(album.beside("pictures") + "/" + to_hex(sha256(png())));
  const auto in = copy_attached_in(*restored, again, album.beside("pictures"));
  EXPECT_EQ(in.copied, 1);
  ASSERT_EQ(in.not_copied.size(), 1u);
  EXPECT_THAT(in.not_copied.front(), HasSubstr("is missing, and was not copied"));
  EXPECT_EQ(copy_attached_in(*restored, again, album.folder()).copied, 2) << "from the first folder itself";
  EXPECT_EQ(verify_kitchen(*restored, again, std::nullopt).files_wrong, Strings{});
  EXPECT_THROW(copy_attached_out(*store, album.records(), album.folder()), Fault);
}

TEST(AttachedFiles, ThatWereChangedAreNotCopied) {
  Album album;
  album.attach("pack-3", png());
  std::ofstream{album.kept(png()), std::ios::binary | std::ios::app} << "more";
  const auto store = open_sqlite(album.records(), true);
  const auto out = copy_attached_out(*store, album.records(), album.beside("pictures"));
  EXPECT_EQ(out.copied, 0);
  ASSERT_EQ(out.not_copied.size(), 1u);
  EXPECT_THAT(out.not_copied.front(), HasSubstr("was changed"));
  EXPECT_TRUE(fs::is_empty(album.beside("pictures")));
}

}  // namespace
}  // namespace tierproof
