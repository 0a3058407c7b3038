#pragma once

#include <cstdint>

namespace tierproof::demo {

/// What a caller sends first, with its standard input, output and error: how many bytes follow and how many of their strings, each ended
/// by a zero, are words of the command line. They come first, then the folder, then the environment. The answer is the
/// process that runs the program, and when that has ended its exit status.
struct StoryCall {
  std::uint32_t bytes = 0;
  std::uint32_t words = 0;
};

constexpr int files_passed = 3;

}  // namespace tierproof::demo
