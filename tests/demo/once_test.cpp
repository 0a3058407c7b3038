#include <gtest/gtest.h>

#include "cli/story_server.h"
#include "demo/demo_run.h"

namespace tierproof::demo {
namespace {

/// Every command of the demo under the sanitizers, once: they stop the program at the first fault.
TEST(DemoOnce, RunsToItsEndAndGivesTheCommittedPapers) {
  Scratch scratch;
  const StoryServer server{scratch.path() / "program"};
  const Ran ran = run_demo(kitchen_folder, scratch.path() / "out", TIERPROOF_STORY_CALLER);
  ASSERT_EQ(ran.exit, 0) << ran.output;
  EXPECT_EQ(ran.output.find("Sanitizer"), std::string::npos) << ran.output;
  for (const auto& name : papers(".json")) EXPECT_EQ(bytes_of(scratch.path() / "out" / name), bytes_of(sample_folder / name)) << name;
}

}  // namespace
}  // namespace tierproof::demo
