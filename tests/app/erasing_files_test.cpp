#include <fmt/format.h>

#include "app/album_for_tests.h"
#include "tierproof/app/erasing.h"
#include "tierproof/app/going_wrong.h"

namespace tierproof {
namespace {

using files_for_tests::jpeg;
using files_for_tests::pdf;
using files_for_tests::png;

/// Two orders that were never made, so that each is erased once its day is past, with pictures of the first.
struct PicturedOrder {
  Album album;
  std::string cake, other;

  PicturedOrder() {
    cake = order("Zoë");
    other = order("Noël");
  }
  std::string order(const std::string& customer) {
    Ordering ordering{"Plain cake", parse_date("2026-05-02"), customer, "before it was chosen", "the maker", "face to face", 1, 900};
    return album.kitchen.done([&](Session& s) { return order_cake(s, ordering); }).subjects.front();
  }
  Result<Erased> erase(const std::string& of) {
    album.kitchen.at("2026-05-03T08:00+01:00");
    Session session = album.kitchen.open();
    return erase_customer(session, {of, "the customer asked"});
  }
  Erased erased(const std::string& of) {
    const auto done = erase(of);
    if (done) return *done;
    for (const auto& refusal : done.error()) ADD_FAILURE() << describe(refusal);
    return {};
  }
  bool is_kept(const std::string& content) const { return fs::exists(album.kept(content)); }
};

TEST(ErasingFiles, TakesWhatIsAttachedToTheCakeWithIt) {
  PicturedOrder order;
  const auto note = order.album.attach(order.cake, png(), "Zoë with the cake").sequences.front();
  order.album.attach("pack-3", jpeg());
  const auto done = order.erased(order.cake);
  EXPECT_EQ(done.files, std::vector<std::uint64_t>{note});
  EXPECT_EQ(done.texts, 2) << "their name, and what the picture shows";
  EXPECT_FALSE(order.is_kept(png()));
  EXPECT_TRUE(order.is_kept(jpeg())) << "the sack is no business of theirs";
  EXPECT_EQ(order.album.complaints(), Strings{}) << "what was erased is not missing";
  EXPECT_EQ(order.album.verified().files, 1);
  const Session session = order.album.kitchen.open(true);
  EXPECT_EQ(session.state().erasures.front().value.files, Strings{to_hex(sha256(png()))});
  EXPECT_EQ(session.state().erasures.front().value.files_gone, Strings{});
  EXPECT_FALSE(session.state().evidence.front().value.shows.text);
  const auto attached = attached_to(session, order.cake).value();
  ASSERT_EQ(attached.size(), 1u);
  EXPECT_TRUE(attached.front().erased);
  EXPECT_EQ(attached.front().wrong, fmt::format("was erased by note {}", done.booked.sequences.front()));
}

TEST(ErasingFiles, TakesWhatIsAttachedToTheirComplaintAndToNotesAboutTheCake) {
  PicturedOrder order;
  Album& album = order.album;
  const auto answer = album.kitchen.done([&](Session& s) { return answer_allergy(s, {order.cake, "named", {"fish"}, "Zoë", "told", ""}); });
  album.attach(std::to_string(answer.sequences.front()), pdf("a message"), "their message");
  const std::string complaint = album.kitchen
                                    .done([&](Session& s) -> Result<Booked> {
                                      const auto told = complain(s, {order.cake, "damaged", "Zoë", "the box is dented", ""});
                                      if (!told) return told.error();
                                      return told->booked;
                                    })
                                    .subjects.front();
  album.attach(complaint, png(), "the box");
  album.kitchen.done([&](Session& s) { return settle_complaint(s, complaint, "another box", ""); });
  EXPECT_EQ(order.erased(order.cake).files.size(), 2u);
  EXPECT_FALSE(order.is_kept(pdf("a message")));
  EXPECT_FALSE(order.is_kept(png()));
  EXPECT_EQ(album.complaints(), Strings{});
}

TEST(ErasingFiles, TakesWhatATakenBackNoteAttached) {
  PicturedOrder order;
  const auto note = order.album.attach(order.cake, png()).sequences.front();
  order.album.kitchen.done([&](Session& s) { return void_note(s, note, "the wrong cake"); });
  EXPECT_EQ(order.erased(order.cake).files, std::vector<std::uint64_t>{note});
  EXPECT_FALSE(order.is_kept(png()));
  EXPECT_EQ(order.album.complaints(), Strings{});
}

TEST(ErasingFiles, LeavesAFileThatIsAttachedToSomethingElseTooAndSaysSo) {
  PicturedOrder order;
  order.album.attach(order.cake, png());
  const auto other = order.album.attach("pack-3", png()).sequences.front();
  const auto done = order.erased(order.cake);
  EXPECT_EQ(done.files.size(), 0u);
  EXPECT_EQ(done.files_of_others, std::vector<std::uint64_t>{other});
  EXPECT_TRUE(order.is_kept(png()));
  EXPECT_EQ(order.album.verified().files, 1);
}

TEST(ErasingFiles, OfTwoCakesTakesTheSharedFileWithTheLast) {
  PicturedOrder order;
  order.album.attach(order.cake, png());
  order.album.attach(order.other, png());
  EXPECT_EQ(order.erased(order.cake).files_of_others.size(), 1u);
  EXPECT_TRUE(order.is_kept(png()));
  EXPECT_EQ(order.erased(order.other).files.size(), 1u);
  EXPECT_FALSE(order.is_kept(png()));
  EXPECT_EQ(order.album.complaints(), Strings{});
}

TEST(ErasingFiles, SaysWhatWasNotThereToBeErased) {
  PicturedOrder order;
  const auto note = order.album.attach(order.cake, png()).sequences.front();
  fs::remove(order.album.kept(png()));
  const auto done = order.erased(order.cake);
  EXPECT_EQ(done.files.size(), 0u);
  EXPECT_EQ(done.files_gone, std::vector<std::uint64_t>{note});
  EXPECT_EQ(order.album.kitchen.open(true).state().erasures.front().value.files_gone, Strings{to_hex(sha256(png()))});
  EXPECT_EQ(order.album.complaints(), Strings{});
}

/// Cut off after it was booked, or put back from an old copy: the file is there, and `verify` says so until the erasure is asked for again.
TEST(ErasingFiles, ThatAreThereAllTheSameAreAComplaintAndGoWhenAskedAgain) {
  PicturedOrder order;
  order.album.attach(order.cake, png());
  const auto booked = order.erased(order.cake).booked.sequences.front();
  std::ofstream{order.album.kept(png()), std::ios::binary} << png();
  std::ofstream{order.album.folder() + "/.unfinished-abc"} << "half a picture";
  ASSERT_EQ(order.album.complaints().size(), 1u);
  EXPECT_THAT(order.album.complaints().front(), HasSubstr(fmt::format("was erased by note {} and is there all the same", booked)));
  const auto again = order.erase(order.cake);
  ASSERT_FALSE(again.has_value());
  EXPECT_THAT(describe(again.error().front()), HasSubstr("nothing left to erase"));
  EXPECT_EQ(order.album.names(), Strings{});
  EXPECT_EQ(order.album.complaints(), Strings{});
}

TEST(ErasingFiles, AreWantedAgainOnceTheyAreAttachedAnew) {
  PicturedOrder order;
  order.album.attach(order.cake, png());
  order.erased(order.cake);
  order.album.attach("pack-3", png());
  EXPECT_EQ(order.album.verified().files, 1);
  EXPECT_EQ(order.album.complaints(), Strings{});
  fs::remove(order.album.kept(png()));
  EXPECT_EQ(order.album.complaints().size(), 2u) << "both notes name it";
}

TEST(ErasingFiles, OfAnOrderWithNothingElseLeftIsDoneByItself) {
  PicturedOrder order;
  order.erased(order.cake);
  const auto late = order.album.attach(order.cake, png(), "a late picture").sequences.front();
  EXPECT_EQ(order.erased(order.cake).files, std::vector<std::uint64_t>{late});
  EXPECT_FALSE(order.is_kept(png()));
}

}  // namespace
}  // namespace tierproof
