#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <vector>

// Which rooms a room may include, as DEVELOPERS.md draws them, and which outside headers must not leave their rooms. Read from
// the sources themselves, since a header of the system is found whether it is linked or not.
namespace {
namespace fs = std::filesystem;

const std::map<std::string, std::set<std::string>> arrows{
    {"units", {}},
    {"text", {"units"}},
    {"sums", {"units"}},
    {"kitchen", {"units", "text"}},
    {"rules", {"units", "text", "sums"}},
    {"imports", {"units", "text"}},
    {"log", {"units", "text"}},
    {"store", {"units", "text", "kitchen", "log"}},
    {"papers", {"units", "text", "sums", "kitchen"}},
    {"app", {"units", "text", "sums", "kitchen", "rules", "imports", "log", "store", "papers"}},
    {"web", {"units", "text", "sums", "kitchen", "rules", "imports", "log", "store", "papers", "app"}},
    {"cli", {"units", "text", "sums", "kitchen", "rules", "imports", "log", "store", "papers", "app", "web"}},
};

// Of the sums, only their terms are for `rules`.
const std::map<std::string, std::set<std::string>> only_headers{
    {"rules>sums", {"label_terms.h", "retention_terms.h", "temperature_terms.h"}}};

// Outside headers by their first letters, and the rooms that may use them.
const std::vector<std::pair<std::string, std::set<std::string>>> outside{
    {"Poco/JSON", {"text"}},  {"Poco/", {"text", "web"}}, {"sqlite3", {"store"}},       {"hpdf", {"papers"}},
    {"ft2build", {"papers"}}, {"freetype", {"papers"}},   {"openssl/", {"log", "app"}}, {"date/", {"app"}},
    {"CLI/", {"cli"}},        {"xlsxwriter", {"papers"}}, {"zint", {"papers"}},         {"sodium", {"app"}},
};

// Headers of clocks, disks and processes: the pure rooms go without.
const std::vector<std::string> impure{"fstream", "filesystem", "iostream", "cstdio", "unistd.h", "fcntl.h", "thread", "random", "locale"};

struct Include {
  fs::path file;
  int line;
  std::string room;
  std::string header;
  bool quoted;
};

std::vector<Include> includes() {
  std::vector<Include> found;
  const fs::path top{TIERPROOF_SOURCE_DIR};
  const std::regex pattern{R"(^\s*#\s*include\s*(["<])([^">]+)[">])"};
  for (const fs::path& root : {top / "include" / "tierproof", top / "src"}) {
    for (const auto& entry : fs::recursive_directory_iterator{root}) {
      if (entry.path().extension() != ".h" && entry.path().extension() != ".cpp") continue;
      std::ifstream file{entry.path()};
      std::string text;
      for (int line = 1; std::getline(file, text); ++line) {
        std::smatch match;
        if (std::regex_search(text, match, pattern)) {
          found.push_back({entry.path(), line, fs::relative(entry.path(), root).begin()->string(), match[2], match[1] == "\""});
        }
      }
    }
  }
  return found;
}

std::string at(const Include& include) { return include.file.string() + ":" + std::to_string(include.line) + ": " + include.header; }

TEST(Layering, ReadsEveryRoomOfTheDesign) {
  std::set<std::string> rooms;
  for (const auto& include : includes()) rooms.insert(include.room);
  for (const auto& [room, allowed] : arrows) EXPECT_TRUE(rooms.contains(room)) << room;
  for (const auto& room : rooms) EXPECT_TRUE(arrows.contains(room)) << room << " is not a room of the design";
}

TEST(Layering, EveryIncludeFollowsAnArrow) {
  const std::string ours = "tierproof/";
  for (const auto& include : includes()) {
    if (include.header.rfind(ours, 0) != 0 || !arrows.contains(include.room)) continue;
    const std::string rest = include.header.substr(ours.size());
    const std::string room = rest.substr(0, rest.find('/'));
    if (room == include.room) continue;
    EXPECT_TRUE(arrows.at(include.room).contains(room)) << at(include);
    const auto only = only_headers.find(include.room + ">" + room);
    if (only != only_headers.end()) {
      EXPECT_TRUE(only->second.contains(rest.substr(rest.find('/') + 1))) << at(include);
    }
  }
}

TEST(Layering, ARoomsOwnHeadersStayInIt) {
  for (const auto& include : includes()) {
    if (!include.quoted || include.header.rfind("tierproof/", 0) == 0) continue;
    const fs::path room = fs::path{TIERPROOF_SOURCE_DIR} / "src" / include.room;
    const fs::path meant = fs::weakly_canonical(include.file.parent_path() / include.header);
    EXPECT_EQ(fs::relative(meant, room).begin()->string().find(".."), std::string::npos) << at(include);
    EXPECT_TRUE(fs::exists(meant)) << at(include);
  }
}

TEST(Layering, OutsideLibrariesStayInTheirRooms) {
  for (const auto& include : includes()) {
    for (const auto& [start, rooms] : outside) {
      if (include.header.rfind(start, 0) == 0) {
        EXPECT_TRUE(rooms.contains(include.room)) << at(include);
      }
    }
  }
}

// Two types of one name in one namespace are one type to the linker, and whichever layout it keeps damages the memory of the other.
TEST(Layering, NoTwoHeadersDefineATypeOfOneName) {
  const std::regex definition{R"(^(struct|class|enum class) ([A-Z][A-Za-z]*)(?!::|[A-Za-z])[^;]*$)"};  // not the inner type of another
  const std::regex inner{R"(^namespace tierproof::?([a-z_:]*) \{)"};
  std::map<std::string, std::string> defined;
  const fs::path top{TIERPROOF_SOURCE_DIR};
  for (const fs::path& root : {top / "include", top / "src"}) {
    for (const auto& entry : fs::recursive_directory_iterator{root}) {
      if (entry.path().extension() != ".h") continue;
      std::ifstream file{entry.path()};
      std::string in_namespace;
      for (std::string line; std::getline(file, line);) {
        std::smatch match;
        if (std::regex_search(line, match, inner)) in_namespace = match[1];
        if (!std::regex_search(line, match, definition)) continue;
        const auto [known, fresh] = defined.emplace(in_namespace + "::" + std::string{match[2]}, entry.path().string());
        EXPECT_TRUE(fresh) << match[2] << " is defined in " << known->second << " and in " << entry.path();
      }
    }
  }
  EXPECT_GT(defined.size(), 100u);
}

TEST(Layering, LibharuStaysInOneFile) {
  std::set<std::string> files;
  for (const auto& include : includes()) {
    if (include.header.rfind("hpdf", 0) == 0) files.insert(include.file.filename().string());
  }
  EXPECT_EQ(files, std::set<std::string>{"pdf.cpp"});
}

TEST(Layering, LibxlsxwriterStaysInOneFile) {
  std::set<std::string> files;
  for (const auto& include : includes()) {
    if (include.header.rfind("xlsxwriter", 0) == 0) files.insert(include.file.filename().string());
  }
  EXPECT_EQ(files, std::set<std::string>{"spreadsheet.cpp"});
}

TEST(Layering, LibzintStaysInOneFile) {
  std::set<std::string> files;
  for (const auto& include : includes()) {
    if (include.header.rfind("zint", 0) == 0) files.insert(include.file.filename().string());
  }
  EXPECT_EQ(files, std::set<std::string>{"codes.cpp"});
}

TEST(Layering, LibsodiumStaysInOneFile) {
  std::set<std::string> files;
  for (const auto& include : includes()) {
    if (include.header.rfind("sodium", 0) == 0) files.insert(include.file.filename().string());
  }
  EXPECT_EQ(files, std::set<std::string>{"access_secrets.cpp"});
}

TEST(Layering, PureRoomsTouchNoDiskClockOrLocale) {
  for (const auto& include : includes()) {
    if (include.room != "units" && include.room != "sums" && include.room != "kitchen" && include.room != "rules" &&
        include.room != "imports")
      continue;
    for (const auto& header : impure) EXPECT_NE(include.header, header) << at(include);
  }
}

}  // namespace
