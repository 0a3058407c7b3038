#include "app/coding.h"

#include "app_for_tests.h"

namespace tierproof {
namespace {

TEST(Coding, GivesTheCakeAndTheHeadAsWhatTheCodeSays) {
  TestKitchen kitchen;
  const std::string cake = cake_of(kitchen, {{kitchen.make("sponge", grams(270)), grams(200)}});
  const Judgement judgement = kitchen.judged(cake);
  const Session session = kitchen.open(true);
  const CodeTexts texts = code_texts(session, judgement, 1);
  EXPECT_EQ(texts.code, "cake-1 " + format_head(session.head()).substr(0, 11));
  EXPECT_EQ(texts.gs1_elements, "");
}

}  // namespace
}  // namespace tierproof
