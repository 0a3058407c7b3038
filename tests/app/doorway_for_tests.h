#pragma once

#include <gtest/gtest.h>
#include <stdlib.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "tierproof/app/access.h"

namespace tierproof {

/// The door of a kitchen in a folder of its own, with one tablet, at a clock that the test sets.
class Doorway {
 public:
  Doorway() {
    std::string name = (std::filesystem::temp_directory_path() / "tierproof-door-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) std::abort();
    folder = name;
    std::ofstream{file()} << "records";
    open();
    tablet = let_in("by the mixer");
  }
  ~Doorway() { std::filesystem::remove_all(folder); }
  Doorway(const Doorway&) = delete;
  Doorway& operator=(const Doorway&) = delete;

  std::string file() const { return (folder / "kitchen.tierproof").string(); }
  /// Shuts the file and opens it again, as after a restart.
  void open() {
    access.reset();
    access = Access::open(file());
  }
  Device let_in(const std::string& called) { return enrolled(called).device; }
  Access::Enrolled enrolled(const std::string& called) {
    const auto done = access->enrol(access->let_in(now), called, now);
    EXPECT_TRUE(done.has_value());
    return *done;
  }
  void pin(const std::string& person, const std::string& digits) { EXPECT_TRUE(access->set_pin(person, digits, now).empty()); }
  /// The token of somebody who comes in; empty where they do not.
  std::string comes_in(const std::string& person, const std::string& digits) {
    const auto tried = access->sign_in(tablet, person, digits, Authority::owner, now);
    return std::holds_alternative<std::string>(tried) ? std::get<std::string>(tried) : "";
  }
  SignInRefused turned_away(const std::string& person, const std::string& digits) { return turned_away(tablet, person, digits); }
  SignInRefused turned_away(const Device& device, const std::string& person, const std::string& digits) {
    const auto tried = access->sign_in(device, person, digits, Authority::owner, now);
    EXPECT_TRUE(std::holds_alternative<SignInRefused>(tried));
    const auto* refused = std::get_if<SignInRefused>(&tried);
    return refused ? *refused : SignInRefused{};
  }
  /// So many wrong PINs, each as soon as it counts.
  SignInRefused misses(const std::string& person, int times) {
    SignInRefused last;
    for (int i = 0; i < times; ++i) {
      last = turned_away(person, "000000");
      now += last.wait;
    }
    return last;
  }
  std::vector<std::string> happened(std::size_t most) const {
    std::vector<std::string> all;
    for (const auto& event : access->happened(most)) all.push_back(event.what);
    return all;
  }

  std::filesystem::path folder;
  std::unique_ptr<Access> access;
  Device tablet;
  Instant now = parse_zoned("2026-05-01T08:00:00Z")->at;
};

inline const std::string right_pin = "483920";

}  // namespace tierproof
