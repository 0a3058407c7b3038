#pragma once

#include <gmock/gmock.h>

#include "app/kitchen_for_tests.h"

namespace tierproof {

/// Replaces members of the body of the note in force of `sequence`.
inline std::string corrected_body(TestKitchen& kitchen, std::uint64_t sequence, const std::vector<std::pair<std::string, Json>>& members) {
  const Session session = kitchen.open(true);
  const Note* tip = tip_of(session.notes(), sequence);
  EXPECT_NE(tip, nullptr);
  Json body = tip->body;
  for (const auto& [member, value] : members) body[member] = value;
  return write_pretty(body);
}
inline Booked correct_note(TestKitchen& kitchen, std::uint64_t sequence, const std::vector<std::pair<std::string, Json>>& members) {
  const std::string text = corrected_body(kitchen, sequence, members);
  return kitchen.done([&](Session& s) { return correct(s, sequence, {"new.json", text}, "it was written wrong"); });
}
inline std::string correction_refused(TestKitchen& kitchen, std::uint64_t sequence,
                                      const std::vector<std::pair<std::string, Json>>& members) {
  const std::string text = corrected_body(kitchen, sequence, members);
  return kitchen.refused([&](Session& s) { return correct(s, sequence, {"new.json", text}, "it was written wrong"); });
}

/// A cake of one tier.
inline std::string cake_of(TestKitchen& kitchen, const std::vector<std::pair<std::string, Mass>>& parts) {
  const std::string cake = kitchen.cake();
  kitchen.tier(cake, "only", parts);
  return cake;
}

/// What stands against releasing `cake` for `against`: the stops, the refusals, or nothing when it was released.
inline std::string release_of(TestKitchen& kitchen, const std::string& cake, const std::vector<AgainstReason>& against = {}) {
  Session session = kitchen.open();
  const auto decision = release_cake(session, cake, against);
  std::string all;
  for (const auto& refusal : decision ? decision->stopped : decision.error()) all += describe(refusal) + "\n";
  EXPECT_EQ(all.empty(), decision && decision->booked.has_value());
  return all;
}
inline std::string hand_over_of(TestKitchen& kitchen, const std::string& cake, const std::string& at = "") {
  Session session = kitchen.open();
  const auto decision = hand_over_cake(session, {cake, "the customer", "It contains wheat, eggs and milk.", {}, at});
  std::string all;
  for (const auto& refusal : decision ? decision->stopped : decision.error()) all += describe(refusal) + "\n";
  EXPECT_EQ(all.empty(), decision && decision->booked.has_value());
  return all;
}

/// The finding of `control` about `cake`, which must be the only one.
inline Finding the_finding(TestKitchen& kitchen, const std::string& cake, const std::string& control) {
  Finding found;
  int count = 0;
  for (const auto& finding : kitchen.judged(cake).findings) {
    if (finding.control != control) continue;
    found = finding;
    ++count;
  }
  EXPECT_EQ(count, 1) << control;
  return found;
}

/// Imports `csv` (columns time and temperature) of a thermometer about something.
inline Result<Booked> import_csv(Session& session, const std::string& probe, const std::string& about, const std::string& purpose,
                                 const std::string& csv) {
  const GivenDocument map{"plain.tsv", load_file(std::string{TIERPROOF_SOURCE_DIR} + "/reference/probes/plain.tsv")};
  return import_readings(session, probe, about, purpose, {"log.csv", "time,temperature\n" + csv}, map);
}

using testing::HasSubstr;
using testing::Not;

}  // namespace tierproof
