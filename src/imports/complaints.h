#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>

#include "tierproof/units/result.h"

namespace tierproof {

/// Collects the refusals of one file: the first hundred, and how many more, so that a long bad file does not fill the memory.
class Complaints {
 public:
  explicit Complaints(std::string_view file) : file_{file} {}
  void refuse(int line, std::string_view field, std::string message, std::string remedy) {
    if (++count_ > most) return;
    refusals_.push_back({file_, line, std::string{field}, std::move(message), std::move(remedy)});
  }
  bool any() const { return count_ > 0; }
  Refusals all() const {
    Refusals all = refusals_;
    if (count_ > most) all.push_back({file_, 0, "", std::to_string(count_ - most) + " more are not listed", "mend these first"});
    return all;
  }

 private:
  static constexpr std::int64_t most = 100;
  std::string file_;
  Refusals refusals_;
  std::int64_t count_ = 0;
};

}  // namespace tierproof
