// The first page of an empty kitchen: only what the first cake needs.
#include <fmt/format.h>

#include "deeds.h"
#include "parts.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

/// The sets of rules that may be chosen, by the titles that the label rules of the same place have, or their own.
Choices rules_of(const RulePacks& packs, const std::vector<std::string>& codes, Date on) {
  Choices choices;
  for (const auto& code : codes) {
    std::string title = code;
    if (const auto labels = packs.label_terms(code, on)) {
      title = fmt::format("{} ({})", labels->title, code);
    } else if (const auto temperatures = packs.temperature_terms(code, on)) {
      title = fmt::format("{} ({})", temperatures->title, code);
    }
    choices.push_back({code, title});
  }
  return choices;
}

WebAnswer begin_page(Visit& visit) {
  if (visit.site.kitchen_begun()) return redirect("/");
  const RulePacks& packs = *visit.site.settings().packs;
  const Date today = day_of(visit.now, Offset{});
  FormView form{visit, "/begin", "begin"};
  form.text("name", "Name of the business", {.hint = "As it stands on your labels", .autocomplete = "organization", .needed = true})
      .long_text("address", "Its address", {.hint = "A line for each line. It stands on labels.", .needed = true})
      .pick("label-rules", "Where you sell", rules_of(packs, packs.with_labels(), today), {.needed = true})
      .pick("temperature-rules", "Where the kitchen is", rules_of(packs, packs.with_temperatures(), today), {.needed = true})
      .pick("retention-rules", "Records are kept by the rules of", rules_of(packs, packs.with_retention(), today), {.needed = true})
      .text("zone", "Time zone", {.hint = "Continent/City, Europe/London", .value = machine_zone(), .needed = true})
      .number("altitude", "Height above the sea",
              {.hint = "Where water boils depends on it: needed to check a thermometer in boiling water.", .unit = "m"}, true)
      .text("owner", "Your name", {.hint = "Kept apart, so that it can be erased.", .autocomplete = "name", .needed = true})
      .pin("Choose a PIN of six digits");
  Html main = el("h1", {}, "A new kitchen") +
              el("p", {}, "Only what the first cake needs. Everything else can be added when it is wanted.") +
              form.finish("Begin the records");
  return bare_page(visit, "A new kitchen", main);
}

WebAnswer begin(Visit& visit) {
  if (visit.site.kitchen_begun()) return redirect("/");
  NewKitchen begun;
  begun.kitchen.name = std::string{trimmed(visit.typed("name"))};
  std::string_view rest = visit.typed("address");
  while (!rest.empty()) {
    const auto line = trimmed(rest.substr(0, rest.find('\n')));
    rest = rest.find('\n') == std::string_view::npos ? std::string_view{} : rest.substr(rest.find('\n') + 1);
    if (!line.empty()) begun.kitchen.address.emplace_back(line);
  }
  begun.kitchen.zone = std::string{trimmed(visit.typed("zone"))};
  begun.kitchen.altitude_m = visit.count("altitude", -500, 5000, false);
  begun.kitchen.label_rules = visit.typed("label-rules");
  begun.kitchen.temperature_rules = visit.typed("temperature-rules");
  begun.kitchen.retention_rules = visit.typed("retention-rules");
  begun.owner_name = std::string{trimmed(visit.typed("owner"))};
  begun.owner_id = begun.owner_name.empty()
                       ? ""
                       : short_name(begun.owner_name.substr(0, begun.owner_name.find(' ')), [](const std::string&) { return false; });
  if (begun.kitchen.address.empty()) visit.refuse("address", "is missing", "write it as it stands on labels");
  if (begun.owner_id.empty()) visit.refuse("owner", "is missing", "write who you are");
  if (auto refused = Access::refused_pin(visit.typed("pin"))) {
    refused->field = "pin";
    visit.wrong.push_back(std::move(*refused));
  }
  if (!visit.wrong.empty()) return begin_page(visit);
  const auto booked =
      begin_kitchen(visit.site.entrance(begun.owner_id, fmt::format("tablet: {}", visit.device->name)), begun, visit.site.settings().packs);
  if (!booked) {
    visit.wrong = booked.error();
    return begin_page(visit);
  }
  // Only whoever began the kitchen comes this far: a file that is there already is refused above.
  visit.site.access().set_pin(begun.owner_id, visit.typed("pin"), visit.now);
  visit.site.something_booked();
  return redirect("/who?to=%2Fcupboard");
}

}  // namespace

std::vector<Route> beginning_routes() { return {{"GET", "/begin", For::device, begin_page}, {"POST", "/begin", For::device, begin}}; }

}  // namespace tierproof::web
