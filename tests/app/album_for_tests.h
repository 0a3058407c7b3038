#pragma once

#include <fstream>

#include "app/app_for_tests.h"
#include "imports/file_for_tests.h"
#include "tierproof/app/attaching.h"

namespace tierproof {

namespace fs = std::filesystem;

/// A kitchen with pictures at hand, and what may happen to the folder that they are kept in.
struct Album {
  TestKitchen kitchen;

  std::string records() const { return kitchen.entrance().kitchen_file; }
  std::string folder() const { return records() + ".evidence"; }
  std::string beside(const std::string& name) const { return (fs::path{records()}.parent_path() / name).string(); }
  std::string file(const std::string& name, const std::string& content) const {
    std::ofstream{beside(name), std::ios::binary} << content;
    return beside(name);
  }
  Booked attach(const std::string& about, const std::string& content, const std::string& shows = "the sack") {
    const std::string path = file("given", content);
    return kitchen.done([&](Session& s) { return attach_files(s, {about, {path}, shows}); });
  }
  std::string refused(const Attaching& attaching) {
    return kitchen.refused([&](Session& s) { return attach_files(s, attaching); });
  }
  std::string kept(const std::string& content) const { return folder() + "/" + to_hex(sha256(content)); }
  WholeVerification verified() const { return verify_kitchen(*open_sqlite(records(), true), records(), std::nullopt); }
  Strings complaints() const {
    auto found = verified();
    EXPECT_EQ(found.records.complaints, Strings{}) << "the records themselves are as they were";
    return found.files_wrong;
  }
  Strings names() const {
    Strings found;
    for (const auto& one : fs::directory_iterator{folder()}) found.push_back(one.path().filename().string());
    std::sort(found.begin(), found.end());
    return found;
  }
};

}  // namespace tierproof
