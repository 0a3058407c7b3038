#include "app/evidence_folder.h"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include "app/album_for_tests.h"

namespace tierproof {
namespace {

using Opened = EvidenceFolder::Opened;

/// Whether somebody else could take that lock of the folder now.
bool is_free(const std::string& folder, int lock) {
  const int other = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY);
  EXPECT_GE(other, 0);
  const bool taken = ::flock(other, lock | LOCK_NB) == 0;
  ::close(other);
  return taken;
}

TEST(EvidenceFolderLock, IsHeldAloneForWritingAndTogetherForReading) {
  Album album;
  {
    const EvidenceFolder writing{album.folder(), Opened::to_attach};
    EXPECT_FALSE(is_free(album.folder(), LOCK_SH)) << "a reader would see half of it";
  }
  {
    const EvidenceFolder erasing{album.folder(), Opened::to_erase};
    EXPECT_FALSE(is_free(album.folder(), LOCK_SH));
  }
  const EvidenceFolder reading{album.folder(), Opened::to_read};
  EXPECT_TRUE(is_free(album.folder(), LOCK_SH));
  EXPECT_FALSE(is_free(album.folder(), LOCK_EX));
}

TEST(EvidenceFolderFiles, AreKeptReadAndTakenAway) {
  Album album;
  const Digest digest = sha256("one");
  {
    EvidenceFolder folder{album.folder(), Opened::to_attach};
    folder.keep(digest, "one");
    folder.keep(digest, "one");
    std::string content;
    EXPECT_EQ(folder.wrong_with(digest, 3, &content), "");
    EXPECT_EQ(content, "one");
    EXPECT_EQ(folder.names(), Strings{to_hex(digest)}) << "nothing is left aside";
    EXPECT_EQ(folder.wrong_with(sha256("two"), 3), "is missing");
  }
  EvidenceFolder folder{album.folder(), Opened::to_erase};
  EXPECT_TRUE(folder.holds(digest));
  EXPECT_TRUE(folder.remove(digest));
  EXPECT_FALSE(folder.remove(digest));
  EXPECT_FALSE(folder.holds(digest));
}

TEST(EvidenceFolderFiles, OfNoFolderAreMissingAndNoneIsMade) {
  Album album;
  EvidenceFolder erasing{album.folder(), Opened::to_erase};
  EXPECT_EQ(erasing.wrong_with(sha256("one"), 3), "is missing");
  EXPECT_FALSE(erasing.remove(sha256("one")));
  erasing.remove_unfinished();
  EXPECT_EQ(erasing.names(), Strings{});
  EXPECT_EQ(erasing.trouble(), "");
  EXPECT_FALSE(fs::exists(album.folder()));
}

TEST(EvidenceFolderFiles, TakesWhatWasCutOffForNothing) {
  Album album;
  fs::create_directory(album.folder());
  const std::string name = ".unfinished-" + to_hex(sha256("one"));
  std::ofstream{album.folder() + "/" + name} << "half of another";
  EXPECT_TRUE(EvidenceFolder::unfinished(name));
  EXPECT_FALSE(EvidenceFolder::unfinished(to_hex(sha256("one"))));
  EvidenceFolder folder{album.folder(), Opened::to_attach};
  folder.keep(sha256("one"), "one");
  EXPECT_EQ(folder.wrong_with(sha256("one"), 3), "");
  EXPECT_EQ(folder.names(), Strings{to_hex(sha256("one"))});
}

/// A link under the name of what is written aside is taken away, not followed.
TEST(EvidenceFolderFiles, AreNeverWrittenThroughALink) {
  Album album;
  fs::create_directory(album.folder());
  const std::string outside = album.file("outside", "as it was");
  fs::create_symlink(outside, album.folder() + "/.unfinished-" + to_hex(sha256("one")));
  EvidenceFolder folder{album.folder(), Opened::to_attach};
  folder.keep(sha256("one"), "one");
  EXPECT_EQ(load_file(outside), "as it was");
  EXPECT_FALSE(fs::is_symlink(folder.path_of(sha256("one"))));
}

TEST(LoadAtMost, GivesOneByteMoreThanIsAllowedAndNoFolderOrPipe) {
  Album album;
  const std::string file = album.file("ten", "0123456789");
  EXPECT_EQ(load_at_most(file, 10), "0123456789");
  EXPECT_EQ(load_at_most(file, 9), "0123456789") << "so that it is seen to be too large";
  EXPECT_EQ(load_at_most(file, 5), "012345");
  EXPECT_FALSE(load_at_most(album.beside(""), 10));
  EXPECT_FALSE(load_at_most(album.beside("nowhere"), 10));
  EXPECT_FALSE(load_at_most("/dev/zero", 10));
}

}  // namespace
}  // namespace tierproof
