#include <fmt/format.h>

#include "sum_parts.h"
#include "tierproof/sums/activity_table.h"
#include "tierproof/sums/meringue.h"
#include "tierproof/sums/probe.h"
#include "tierproof/sums/specific_heat.h"
#include "tierproof/sums/sugar_syrup.h"
#include "tierproof/sums/tins.h"
#include "tierproof/sums/water_activity.h"
#include "tierproof/text/fields.h"
#include "tierproof/text/json_fractions.h"

namespace tierproof::cli {
namespace {

constexpr double sea_level = 101.325;
constexpr const char* law_first = "Local law and the advice of your food authority come first.";

// ---- syrup ------------------------------------------------------------------------------------------------------------------

struct SyrupOptions {
  Typed target, altitude, pressure;
};

std::optional<double> per_cent(std::optional<double> share) { return share ? std::optional{*share * 100} : std::nullopt; }

std::string pressure_in_words(double pressure, double boils) {
  return fmt::format("at {:.5g} kPa, where water boils at {:.4g} °C", pressure, boils);
}

int sum_syrup(Door& door, const SyrupOptions& options) {
  Asked asked;
  const double target = asked.number("--target-c", options.target, {100, 200}, "118");
  const double pressure = pressure_asked(asked, options.altitude, options.pressure);
  if (asked.refused()) return door.refuse(asked.refusals());
  const double boils = boiling_point(pressure);
  const SyrupElsewhere there = syrup_target_under(target, pressure);
  const bool modelled = there.solids.has_value();
  const SugarStage* stage = stage_at(target);
  const double elevation = target - 100;
  const auto browne = solids_by_table(browne_table(), elevation);
  const auto thieme = solids_by_table(thieme_table(), elevation);
  const Beside beside{
      "tierproof/sum/syrup/1",
      "psat(T) aw(x, T) = p, ln gamma = Q / (R T) x^2 (1 + a x + b x^2) of the mole fraction x of sucrose, Q = -17638 J/mol, a = -1.0038, "
      "b = "
      "-0.24653; solids that boil at the target at 101.325 kPa, and where these boil here; by subtraction: target less what water boils "
      "lower here",
      "Starzak and Peacock 1997, up to 92 % solids; IAPWS-IF97, region 4; Browne 1912 and Thieme (from memory) for the spread; stages: "
      "trade "
      "charts, common practice without a standard; the subtraction is a rule of thumb",
      fmt::format(
          "Pure sugar and water alone: glucose syrup, invert sugar, cream of tartar or another acid in the pan raises the boiling point, "
          "and "
          "there is less sugar in it than this says. Sources differ by several points of solids. Correct for the place or for a reading in "
          "boiling water, never for both. It is the syrup's temperature and says nothing of egg white that it is poured on. {}",
          law_first)};
  SumPrinter printer{asked, nullptr, beside};
  if (door.json) {
    printer.number("boiling_c", boils);
    printer.number("target_here_c", modelled ? std::optional{there.celsius} : std::nullopt);
    printer.number("target_by_subtraction_c", there.by_subtraction);
    printer.number("solids_pct", per_cent(there.solids));
    printer.text("stage", stage == nullptr ? "between stages" : stage->name);
    printer.json().member("outside_model").boolean(!modelled);
    printer.number("solids_browne_pct", per_cent(browne));
    printer.number("solids_thieme_pct", per_cent(thieme));
    printer.number("pressure_kpa", pressure);
    printer.end_json();
  } else {
    if (modelled) {
      Door::say(fmt::format("Boil it to {:.1f} °C here for what {:.4g} °C gives at sea level ({}).", there.celsius, target,
                            pressure_in_words(pressure, boils)));
      Door::say(fmt::format("  solids    {:.1f} %{}", *there.solids * 100,
                            browne && thieme ? fmt::format("; other tables {:.1f} to {:.1f} %", std::min(*browne, *thieme) * 100,
                                                           std::max(*browne, *thieme) * 100)
                                             : ""));
    } else {
      Door::say(fmt::format("{:.4g} °C is outside the model: more than 92 % solids ({}).", target, pressure_in_words(pressure, boils)));
    }
    Door::say(fmt::format("  subtract  {:.1f} °C by the rule of thumb", there.by_subtraction));
    Door::say(stage == nullptr ? "  stage     between the stages of the charts"
                               : fmt::format("  stage     {} ({:.4g} to {:.4g} °C, about {} solids)", stage->name, stage->from_c,
                                             stage->to_c, stage->solids));
    printer.say_beside();
  }
  return modelled ? exit_status::done : exit_status::found_wanting;
}

// ---- meringue ---------------------------------------------------------------------------------------------------------------

struct MeringueOptions {
  Typed white, sugar, syrup, white_c, bowl, bowl_c, bowl_of, altitude, pressure, need;
};

constexpr std::array<std::pair<std::string_view, double>, 4> bowl_heats{
    {{"steel", steel_heat}, {"glass", glass_heat}, {"copper", copper_heat}, {"aluminium", aluminium_heat}}};

int sum_meringue(Door& door, const MeringueOptions& options) {
  Asked asked;
  constexpr Bounds grams{0, 1e6, false};
  constexpr Bounds kitchen{0, 100};
  MeringuePlan plan;
  plan.white_g = asked.number("--white-g", options.white, grams, "80");
  plan.sugar_g = asked.number("--sugar-g", options.sugar, grams, "160");
  plan.pour_c = asked.number("--syrup-c", options.syrup, {100, 200}, "118");
  plan.white_c = asked.number("--white-c", options.white_c, kitchen, "20");
  plan.bowl_g = asked.number_or(0, "--bowl-g", options.bowl, {0, 1e6}, "500");
  plan.bowl_c = asked.number_or(plan.white_c, "--bowl-c", options.bowl_c, kitchen, "20");
  if (options.bowl_of) {
    const auto found =
        std::find_if(bowl_heats.begin(), bowl_heats.end(), [&](const auto& known) { return known.first == trimmed(*options.bowl_of); });
    if (found == bowl_heats.end()) {
      asked.refuse("--bowl-of", fmt::format("\"{}\" is not known", *options.bowl_of), "write steel, glass, copper or aluminium");
    } else {
      plan.bowl_heat = found->second;
    }
  }
  plan.kilopascals = options.altitude || options.pressure ? pressure_asked(asked, options.altitude, options.pressure) : sea_level;
  const auto need = asked.maybe("--need-c", options.need, kitchen, "71");
  if (asked.refused()) return door.refuse(asked.refusals());
  const auto heat = meringue_heat(plan);
  const Beside beside{
      "tierproof/sum/meringue/1",
      "ms [hs(Tpour) - hs(T)] + qdil = mw cw (T - Tw) + mb cb (T - Tb), solved for T; ms = sugar / solids of the syrup at the pour; lower: "
      "syrup "
      "by "
      "its dry solids, no qdil; central: syrup as a solution, no qdil; upper: with qdil; can reach: upper without the bowl, and 2 K for "
      "the "
      "whisk",
      "Starzak and Peacock 1997 with IAPWS-IF97; Choi and Okos 1986; Sugar Technologists Manual eq. 341/3, continued above 90 % and 120 "
      "°C; egg "
      "white 3.91 kJ/(kg K) and 87.57 % water; 2 K for the whisk is an estimate",
      fmt::format(
          "This can only say that a temperature cannot be reached. What is reached shows in the mix itself, read at its coldest point "
          "with a checked thermometer: the syrup's temperature says nothing of the egg. Without heat from outside, all of the syrup into "
          "the "
          "bowl at once. Pasteurised egg white is the simplest answer. {}",
          law_first)};
  SumPrinter printer{asked, nullptr, beside};
  const std::string_view verdict = reach_in_words(heat, need);
  const bool cannot = verdict == "cannot reach";
  const auto activity = [&]() -> std::optional<double> {
    if (!heat) return std::nullopt;
    const double water = heat->syrup_g - plan.sugar_g + plan.white_g * water_of_egg_white;
    const std::vector<ActivityPart> mix{{water, 1, {}}, {plan.sugar_g, 0, {{"sucrose", 1}}}};
    return estimate_activity(mix, 20)->activity;
  }();
  const auto of = [&](double MeringueHeat::*member) { return heat ? std::optional{(*heat).*member} : std::nullopt; };
  if (door.json) {
    printer.number("lower_c", of(&MeringueHeat::lower));
    printer.number("central_c", of(&MeringueHeat::central));
    printer.number("upper_c", of(&MeringueHeat::upper));
    printer.number("can_reach_c", of(&MeringueHeat::ceiling));
    printer.number("water_activity", activity);
    printer.number("solids_pct", heat ? per_cent(heat->solids) : std::nullopt);
    printer.text("verdict", verdict);
    printer.number("pressure_kpa", plan.kilopascals);
    printer.end_json();
  } else {
    if (heat) {
      Door::say(fmt::format("The mix would be at about {:.0f} °C ({:.0f} to {:.0f}), and never above {:.0f} °C.", heat->central,
                            heat->lower, heat->upper, heat->ceiling));
      Door::say(need ? fmt::format("  {:.4g} °C    {}", *need, verdict) : fmt::format("  verdict   {}", verdict));
      Door::say(fmt::format("  activity  about {:.3f} once mixed, an estimate", *activity));
    } else {
      Door::say(fmt::format("A syrup at {:.4g} °C is outside the model: it would be water, or hold more than 92 % solids.", plan.pour_c));
    }
    printer.say_beside();
  }
  return heat && !cannot ? exit_status::done : exit_status::found_wanting;
}

// ---- water activity ---------------------------------------------------------------------------------------------------------

struct ActivityOptions {
  Typed parts;
};

/// `sucrose_pct` of `sucrose`, `invert_sugar_pct`, `nacl_pct`, `d_mannitol_pct`.
std::string member_of(const Solute& solute) {
  std::string name = ascii_lower(solute.name);
  for (char& c : name) c = c == ' ' || c == '-' ? '_' : c;
  return name + "_pct";
}

/// What a file of `--parts` says.
struct ActivityFile {
  double celsius = 20;
  std::optional<Share> ph;
  std::vector<ActivityPart> parts;
};

/// A number of the file, within bounds.
double figure_of(Fields& fields, std::string_view key, double least, double most, std::optional<double> otherwise = std::nullopt) {
  if (otherwise && !fields.has(key)) {
    fields.any(key);
    return *otherwise;
  }
  const Json& said = fields.any(key);
  const auto value = said.is_integer() ? std::optional{static_cast<double>(said.integer())}
                     : said.is_text()  ? parse_finite(said.text())
                                       : std::nullopt;
  if (value && *value >= least && *value <= most) return *value;
  fields.refuse(key, value ? "is out of range" : "is not a number", fmt::format("write a number from {} to {}", least, most));
  return 0;
}

ActivityFile read_activity_file(const Json& json, const std::string& file, Refusals& refusals) {
  ActivityFile read;
  Fields top{json, file, "", refusals};
  read.celsius = figure_of(top, "temp_c", -40, 100, 20);
  if (top.has("ph")) {
    const Json& said = top.any("ph");
    read.ph = said.is_integer() ? parse_decimal(std::to_string(said.integer()))
              : said.is_text()  ? parse_decimal(said.text())
                                : std::nullopt;
    if (!read.ph || *read.ph < 0 || *read.ph > 14) top.refuse("ph", "is not a pH", "write what the meter read, 0 to 14, such as 6.5");
  }
  const auto& parts = top.list("parts");
  if (parts.empty()) top.refuse("parts", "has nothing in it", "list what is in it: name, grams, water_pct and solutes");
  for (std::size_t i = 0; i < parts.size(); ++i) {
    Fields part{parts[i], file, top.path_of("parts", i), refusals};
    ActivityPart& one = read.parts.emplace_back();
    part.text("name");
    one.grams = figure_of(part, "grams", 0, 1e9);
    one.water = figure_of(part, "water_pct", 0, 100) / 100;
    double all = one.water;
    if (part.has("solutes")) {
      Fields dissolved{part.object("solutes"), file, part.path_of("solutes"), refusals};
      for (const Solute& known : solutes()) {
        const std::string member = member_of(known);
        if (!dissolved.has(member)) continue;
        one.solutes[known.name] = figure_of(dissolved, member, 0, 100) / 100;
        all += one.solutes[known.name];
      }
      dissolved.done();
    }
    if (all > 1 + 1e-9) part.refuse("water_pct", "and the solutes are more than 100 %", "give shares by mass of this ingredient");
    part.done();
  }
  top.done();
  return read;
}

int sum_water_activity(Door& door, const ActivityOptions& options) {
  Asked asked;
  if (!options.parts) asked.refuse("--parts", "is missing", "name a JSON file with temp_c, ph and parts");
  if (asked.refused()) return door.refuse(asked.refusals());
  const std::string name = to_nfc(*options.parts).value_or("the file of parts");
  const auto json = parse_json_with_fractions(load_file(*options.parts), name);
  if (!json) return door.refuse(json.error());
  Refusals refusals;
  const ActivityFile file = read_activity_file(*json, name, refusals);
  if (!refusals.empty()) return door.refuse(refusals);
  asked.tell("temp-c", file.celsius);
  if (file.ph) asked.tell("ph", to_double(*file.ph));
  asked.tell("parts", static_cast<double>(file.parts.size()));
  const auto estimate = estimate_activity(file.parts, file.celsius);
  if (!estimate) {
    asked.refuse("--parts", "holds no water", "write how much water each part holds: without any there is no solution");
    return door.refuse(asked.refusals());
  }
  const auto table = rule_packs()->shared_activity_table("open", today_by_the_clock());
  const char* told = nullptr;
  bool to_be_assessed = true;
  if (file.ph && table) {
    to_be_assessed = is_to_be_assessed(*table, parse_decimal(fmt::format("{:.6f}", estimate->with_margin)).value(), *file.ph);
    told = to_be_assessed ? "product assessment required" : "non-TCS";
  }
  const Beside beside{
      "tierproof/sum/water-activity/1",
      "product of the activities that each solute would give alone in all the water: xw exp(-K xs^2), salt by its osmotic coefficient; no "
      "more "
      "dissolved than can be at this temperature, or all of it, whichever activity is higher; and 0.02 for the model",
      fmt::format(
          "Ross 1975; Norrish 1966 with constants of Chirife and others 1980; Pitzer and Mayorga 1973; solubility of sucrose: ICUMSA (from "
          "memory), of others from memory; cell: {}",
          table ? table->cited.clause : "no table"),
      fmt::format(
          "An estimate may say that a food needs the fridge or an assessment. It never shows that a food keeps without: for that the "
          "finished food is measured, water activity and pH, or a laboratory writes. Not known counts as needing the fridge. Fat, starch, "
          "cocoa and egg count as nothing dissolved. It speaks of growth alone: Salmonella of raw egg stays alive in sugar. {}",
          law_first)};
  SumPrinter printer{asked, nullptr, beside};
  if (door.json) {
    printer.number("water_activity", estimate->activity);
    printer.json().member("capped").boolean(!estimate->capped.empty());
    printer.number("with_margin", estimate->with_margin);
    printer.text("model", "Ross");
    printer.json().member("table_cell");
    if (told == nullptr) {
      printer.json().null();
    } else {
      printer.json().text(told);
    }
    printer.number("if_all_dissolved", estimate->clear);
    printer.json().member("undissolved").begin_array();
    for (const std::string& solute : estimate->capped) printer.json().text(solute);
    printer.json().end();
    printer.number("water_g", estimate->water_g);
    printer.text("verdict", "not shown");
    printer.end_json();
  } else {
    Door::say(fmt::format("Water activity about {:.3f}, with its margin {:.3f}: an estimate, which shows nothing.", estimate->activity,
                          estimate->with_margin));
    if (!estimate->capped.empty())
      Door::say(
          fmt::format("  dissolved not all of the {}; all of it would give {:.3f}", fmt::join(estimate->capped, ", "), estimate->clear));
    const char* by_table = told == nullptr  ? "no pH is given, so it counts as needing the fridge"
                           : to_be_assessed ? "asks for an assessment: until then it counts as needing the fridge"
                                            : "asks for no control at that value, which an estimate cannot show";
    Door::say(fmt::format("  table     {}", by_table));
    printer.say_beside();
  }
  return exit_status::done;
}

// ---- tins -------------------------------------------------------------------------------------------------------------------

struct TinOptions {
  Typed round, square, depth;
  std::vector<std::string> to;
};

constexpr Bounds inches{0, 100, false};

/// `round:8:3`, or nothing.
std::optional<Tin> tin_typed(const std::string& typed) {
  const auto first = typed.find(':');
  const auto second = first == std::string::npos ? first : typed.find(':', first + 1);
  if (second == std::string::npos) return std::nullopt;
  const std::string shape = typed.substr(0, first);
  const auto across = parse_finite(typed.substr(first + 1, second - first - 1));
  const auto depth = parse_finite(typed.substr(second + 1));
  const auto fits = [](const std::optional<double>& length) { return length && *length > inches.least && *length <= inches.most; };
  if ((shape != "round" && shape != "square") || !fits(across) || !fits(depth)) return std::nullopt;
  return Tin{shape == "round", *across, *depth};
}

int sum_tin(Door& door, const TinOptions& options) {
  Asked asked;
  if (options.round.has_value() == options.square.has_value())
    asked.refuse("--round-in", options.round ? "is given along with --square-in" : "and --square-in are both missing",
                 "give one of them, such as --round-in 6");
  const auto round = asked.maybe("--round-in", options.round, inches, "6");
  const auto square = asked.maybe("--square-in", options.square, inches, "6");
  const double depth = asked.number("--depth-in", options.depth, inches, "3");
  if (options.to.empty()) asked.refuse("--to", "is missing", "name each tin as shape:size:depth in inches, such as round:8:3");
  std::vector<Tin> tins;
  for (const std::string& typed : options.to) {
    const auto tin = tin_typed(typed);
    if (tin) {
      tins.push_back(*tin);
    } else {
      asked.refuse("--to", fmt::format("\"{}\" is not a tin", typed), "write shape:size:depth in inches, such as round:8:3 or square:7:2");
    }
  }
  if (asked.refused()) return door.refuse(asked.refusals());
  const Tin from{round.has_value(), round ? *round : *square, depth};
  double factor = 0;
  for (const Tin& tin : tins) factor += tin_factor(from, tin);
  const Beside beside{"tierproof/sum/tin/1",
                      "factor = volumes of the tins to fill over the volume of the tin that the recipe is for; round pi d^2 / 4 x depth, "
                      "square s^2 x depth",
                      "geometry; an inch is 2.54 cm",
                      "Kitchens often double from 6 to 8 inches: the tins say 1.78. Depth changes how long it bakes and what it loses: "
                      "check the middle, and weigh it. "
                      "Fill to the same share of the depth."};
  SumPrinter printer{asked, nullptr, beside};
  if (door.json) {
    printer.number("factor", factor);
    printer.number("volume_ml", volume_of(from));
    printer.json().member("tins").begin_array();
    for (const Tin& tin : tins) {
      printer.json().begin_object();
      printer.text("shape", tin.round ? "round" : "square");
      printer.number("size_in", tin.across);
      printer.number("depth_in", tin.depth);
      printer.number("volume_ml", volume_of(tin));
      printer.number("factor", tin_factor(from, tin));
      printer.json().end();
    }
    printer.json().end();
    printer.end_json();
  } else {
    Door::say(fmt::format("Take every ingredient {:.4g} times.", factor));
    for (const Tin& tin : tins)
      Door::say(fmt::format("  {:<9} {:.4g} in, {:.4g} in deep: {:.0f} ml, {:.4g} times", tin.round ? "round" : "square", tin.across,
                            tin.depth, volume_of(tin), tin_factor(from, tin)));
    printer.say_beside();
  }
  return exit_status::done;
}

// ---- eggs -------------------------------------------------------------------------------------------------------------------

struct EggOptions {
  Typed of_class, in_shell, count, white;
};

int sum_eggs(Door& door, const EggOptions& options) {
  Asked asked;
  double each = 0;
  if (options.of_class.has_value() == options.in_shell.has_value()) {
    asked.refuse("--class", options.of_class ? "is given along with --in-shell-g" : "and --in-shell-g are both missing",
                 "give one of them, such as --class M");
  } else if (options.in_shell) {
    each = asked.number("--in-shell-g", options.in_shell, {0, 200, false}, "58");
  } else {
    const auto classes = egg_classes();
    const auto found = std::find_if(classes.begin(), classes.end(), [&](const EggClass& one) { return one.name == *options.of_class; });
    if (found == classes.end()) {
      asked.refuse("--class", fmt::format("\"{}\" is not known", *options.of_class),
                   "write S, M, L, XL, small, medium, large, \"extra large\" or jumbo");
    } else {
      each = found->in_shell_g;
      asked.tell("in-shell-g", each);
    }
  }
  if (options.count.has_value() == options.white.has_value())
    asked.refuse("--count", options.count ? "is given along with --white-g" : "and --white-g are both missing",
                 "give one of them, such as --count 4");
  const auto white = asked.maybe("--white-g", options.white, {0, 1e6, false}, "80");
  const auto typed = asked.maybe("--count", options.count, {1, 10'000}, "4");
  if (typed && *typed != std::floor(*typed)) asked.refuse("--count", "is not a whole number", "write how many eggs, such as 4");
  if (asked.refused()) return door.refuse(asked.refusals());
  const int count = typed ? static_cast<int>(*typed) : eggs_for_white(*white, parts_of_eggs(1, each).white_g);
  const EggParts parts = parts_of_eggs(count, each);
  const Beside beside{
      "tierproof/sum/eggs/1", "edible = 0.88 of the egg in its shell; white 66 % of that, yolk 34 %",
      "USDA SR26 01123, 01124, 01125 and the least weight of a dozen large eggs; weight classes: Reg. 2023/2465, taken at about "
      "their middle; ounces a dozen",
      "An estimate for shopping: weigh what is cracked, and record that."};
  SumPrinter printer{asked, nullptr, beside};
  if (door.json) {
    printer.number("eggs", count);
    printer.number("edible_g", parts.white_g + parts.yolk_g);
    printer.number("white_g", parts.white_g);
    printer.number("yolk_g", parts.yolk_g);
    printer.end_json();
  } else {
    Door::say(fmt::format("{} egg{} of {:.4g} g: about {:.0f} g without shell, {:.0f} g of white and {:.0f} g of yolk.", count,
                          count == 1 ? "" : "s", each, parts.white_g + parts.yolk_g, parts.white_g, parts.yolk_g));
    printer.say_beside();
  }
  return exit_status::done;
}

}  // namespace

void recipe_sum_options(CLI::App& app, Door& door) {
  const auto syrup = std::make_shared<SyrupOptions>();
  CLI::App& boiled = sum_named(app, door, "syrup", "How far to boil sugar here, and what it then holds. Exit 1 outside the model.",
                               "--target-c 118 --altitude-m 1600 --json", syrup, sum_syrup);
  boiled.add_option("--target-c", syrup->target, "what the recipe says, as at sea level, in °C");
  boiled.add_option("--altitude-m", syrup->altitude, of_altitude);
  boiled.add_option("--pressure-kpa", syrup->pressure, of_pressure);

  const auto meringue = std::make_shared<MeringueOptions>();
  CLI::App& whipped =
      sum_named(app, door, "meringue", "How warm egg white may get from boiled syrup. Exit 1 where it cannot, or outside the model.",
                "--white-g 80 --sugar-g 160 --syrup-c 118 --white-c 20 --bowl-g 500 --json", meringue, sum_meringue);
  whipped.add_option("--white-g", meringue->white, "egg white in grams");
  whipped.add_option("--sugar-g", meringue->sugar, "sugar of the syrup in grams");
  whipped.add_option("--syrup-c", meringue->syrup, "the syrup when it is poured, in °C: the highest that it may have");
  whipped.add_option("--white-c", meringue->white_c, "the egg white, in °C");
  whipped.add_option("--bowl-g", meringue->bowl, "the bowl in grams; else none");
  whipped.add_option("--bowl-c", meringue->bowl_c, "the bowl, in °C; else as the egg white");
  whipped.add_option("--bowl-of", meringue->bowl_of, "steel, glass, copper or aluminium; else steel");
  whipped.add_option("--altitude-m", meringue->altitude, of_altitude);
  whipped.add_option("--pressure-kpa", meringue->pressure, of_pressure);
  whipped.add_option("--need-c", meringue->need, "the temperature that is asked for, in °C, if there is one");

  const auto activity = std::make_shared<ActivityOptions>();
  CLI::App& wet = sum_named(app, door, "water-activity", "Water activity of a mix, estimated: it never shows that food keeps. Exit 0.",
                            "--parts cream.json --json", activity, sum_water_activity);
  wet.add_option("--parts", activity->parts,
                 "JSON file: temp_c, ph, and parts with name, grams, water_pct and solutes such as sucrose_pct");

  const auto tin = std::make_shared<TinOptions>();
  CLI::App& baked =
      sum_named(app, door, "tin", "A recipe for other tins. Exit 0.", "--round-in 6 --depth-in 3 --to round:8:3 --json", tin, sum_tin);
  baked.add_option("--round-in", tin->round, "inches across of the round tin that the recipe is for");
  baked.add_option("--square-in", tin->square, "or inches along a side of the square one");
  baked.add_option("--depth-in", tin->depth, "its depth in inches");
  baked.add_option("--to", tin->to, "tins to fill, shape:size:depth in inches, each by itself");

  const auto eggs = std::make_shared<EggOptions>();
  CLI::App& cracked =
      sum_named(app, door, "eggs", "What eggs hold, or how many hold so much white. Exit 0.", "--class M --count 4 --json", eggs, sum_eggs);
  cracked.add_option("--class", eggs->of_class, "S, M, L or XL by weight, or small, medium, large, \"extra large\" or jumbo by the dozen");
  cracked.add_option("--in-shell-g", eggs->in_shell, "or what one weighs in its shell, in grams");
  cracked.add_option("--count", eggs->count, "how many");
  cracked.add_option("--white-g", eggs->white, "or how much white is needed, in grams");
}

}  // namespace tierproof::cli
