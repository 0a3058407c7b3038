#include "trace_words.h"

#include <fmt/format.h>

#include "door.h"
#include "tierproof/text/number.h"

namespace tierproof::cli {

std::string mass_words(const Share& mg) {
  const Share tenths = mg / 100;  // of a gram
  return tenths < Share{1} ? std::string{"less than 0.1 g"} : format_decimal(mg / 1000, 1) + " g";
}

Json json_of(const TracedTold& one) {
  return Json{Json::Object{{"id", Json{one.id}},
                           {"words", Json{one.words}},
                           {"certain", Json{one.certain}},
                           {"steps", Json{static_cast<std::int64_t>(one.steps)}},
                           {"way", Json{one.way}},
                           {"where", Json{one.where}},
                           {"grams", one.mg ? Json{format_decimal(*one.mg / 1000, 3)} : Json{}}}};
}

Json json_of(const std::vector<TracedTold>& all) {
  Json::Array list;
  for (const auto& one : all) list.push_back(json_of(one));
  return Json{std::move(list)};
}

namespace {

std::string grams_of(Mass mass) { return format_decimal(share_of(mass.to_milligrams(), 1000), 3); }

Json json_of(const MassBalance& balance) {
  const auto unaccounted = balance.unaccounted();
  return Json{Json::Object{{"had_g", Json{grams_of(balance.had)}},
                           {"used_g", Json{grams_of(balance.used)}},
                           {"thrown_away_g", Json{grams_of(balance.thrown_away)}},
                           {"left_g", Json{grams_of(balance.left())}},
                           {"counted_g", balance.counted ? Json{grams_of(*balance.counted)} : Json{}},
                           {"unaccounted_g", unaccounted ? Json{grams_of(*unaccounted)} : Json{}}}};
}

}  // namespace

Json json_of(const TraceTold& told) {
  Json::Array taken, kit;
  for (const auto& one : told.taken_back) {
    taken.push_back(Json{Json::Object{{"into", Json{one.into}},
                                      {"said", Json{static_cast<std::int64_t>(one.said)}},
                                      {"corrected_by", Json{static_cast<std::int64_t>(one.corrected_by)}}}});
  }
  for (const auto& one : told.kit) {
    kit.push_back(Json{Json::Object{
        {"equipment", Json{one.equipment}}, {"before", Json{one.before}}, {"after", Json{one.after}}, {"cleaning", Json{one.cleaning}}}});
  }
  return Json{Json::Object{{"schema", Json{"tierproof/trace/1"}},
                           {"id", Json{told.id}},
                           {"words", Json{told.words}},
                           {"into", json_of(told.into)},
                           {"from", json_of(told.from)},
                           {"taken_back", Json{std::move(taken)}},
                           {"kit", Json{std::move(kit)}},
                           {"balance", told.balance ? json_of(*told.balance) : Json{}},
                           {"amounts_known", Json{told.amounts_known}}}};
}

void say_balance(const std::string& of, const MassBalance& balance, const std::string& mark) {
  std::string words = fmt::format("{}, by the records: {} in all, {} used, {} thrown away", of, format_mass(balance.had),
                                  format_mass(balance.used), format_mass(balance.thrown_away));
  if (balance.left() < Mass{}) {
    words += fmt::format(": {} more was used than there was", format_mass(Mass{} - balance.left()));
  } else {
    words += fmt::format(": {} should be left", format_mass(balance.left()));
  }
  Door::say(mark + words);
  const auto unaccounted = balance.unaccounted();
  if (!unaccounted) return;
  const Mass off = *unaccounted < Mass{} ? Mass{} - *unaccounted : *unaccounted;
  Door::say(mark + fmt::format("counted: {}; {}", format_mass(*balance.counted),
                               off == Mass{}
                                   ? std::string{"all of it is accounted for"}
                                   : fmt::format("{} ({} %) {}", format_mass(off),
                                                 format_decimal(share_of(off.to_milligrams() * 100, balance.had.to_milligrams()), 1),
                                                 *unaccounted < Mass{} ? "more than there should be" : "not accounted for")));
}

void say_apart(const TraceTold& told, const std::string& mark) {
  if (!told.taken_back.empty()) Door::say(mark + "recorded once and taken back since");
  for (const auto& one : told.taken_back)
    Door::say(mark + fmt::format("  {}: note {} said so, note {} corrected it", one.into, one.said, one.corrected_by));
  if (!told.kit.empty()) Door::say(mark + "next on the same kit (what they met there is no part of them)");
  for (const auto& one : told.kit)
    Door::say(mark + fmt::format("  {}: {}, then {}; between the two: {}", one.equipment, one.before, one.after, one.cleaning));
}

}  // namespace tierproof::cli
