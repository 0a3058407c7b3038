#include "tierproof/app/keeping.h"

#include <algorithm>

#include "checking.h"
#include "out_of_fridge.h"

namespace tierproof {
namespace {

/// A number as typed, in whole `one`-ths; refuses anything outside `above`..`most` (`above` itself left out, or not with `from_it`).
std::optional<std::int64_t> parts_of_one(Checking& checking, const std::string& field, const std::string& text, std::int64_t one,
                                         const Share& above, bool from_it, const Share& most, const std::string& remedy) {
  const auto value = parse_decimal(text);
  const Share scaled = value.value_or(Share{-1}) * one;
  const bool fits = value && (from_it ? *value >= above : *value > above) && *value <= most && denominator(scaled) == 1;
  if (!fits) {
    checking.refuse(field, fmt::format("\"{}\" cannot be", text), remedy);
    return std::nullopt;
  }
  return static_cast<std::int64_t>(numerator(scaled));
}

struct WithError {
  std::optional<std::int64_t> value, error;
};
/// A value and what it may be off by; both or none of them are given.
WithError with_error(Checking& checking, const std::string& option, const std::string& error_option, const std::string& value,
                     const std::string& error, std::int64_t one, bool activity) {
  WithError read;
  if (value.empty()) {
    if (!error.empty()) checking.refuse(error_option, "is given without what was measured", "write " + option + " too, or leave it out");
    return read;
  }
  read.value = parts_of_one(checking, option, value, one, 0, !activity, activity ? 1 : 14,
                            activity ? "write the water activity as it was measured, above 0 and up to 1, such as 0.86"
                                     : "write the pH as it was measured, from 0 to 14, such as 4.2");
  const std::string off = activity ? "above 0 and up to 0.1, such as 0.01" : "above 0 and up to 1, such as 0.1";
  if (error.empty()) {
    checking.refuse(error_option, "is missing", "write what the meter may be off by, as its maker or the laboratory says, " + off);
  } else {
    read.error = parts_of_one(checking, error_option, error, one, 0, false, activity ? Share{1, 10} : Share{1},
                              "write what the meter may be off by, " + off);
  }
  return read;
}

RecipeAsStood as_stood(const State& state, std::uint64_t version) {
  return {RecipeId{state.recipe_versions.at(version).subject}, version, {}};
}

/// Versions of what went into a batch, at whatever depth; a left-over goes by what it was kept from.
void gather_inner(const State& state, const Batch& batch, std::set<std::uint64_t>& into, std::set<BatchId>& seen) {
  for (const auto& use : batch.uses) {
    const auto inner = use.batch ? state.batches.find(BatchId{use.of}) : state.batches.end();
    if (inner == state.batches.end()) continue;
    if (batch.left_over.empty()) into.insert(inner->second.value.recipe_version);
    if (seen.insert(inner->first).second) gather_inner(state, inner->second.value, into, seen);
  }
}

/// What the note is of, as it stands now.
void set_of(Checking& checking, const State& state, const std::string& of, Keeping& keeping) {
  std::set<std::uint64_t> within;
  std::set<BatchId> seen;
  if (const auto cake = CakeId{of}; state.cakes.contains(cake)) {
    keeping.cake = cake;
    std::map<std::uint64_t, Mass> masses;
    for (const auto& [id, mass] : put_in_cake(state, cake)) {
      const auto batch = state.batches.find(id);
      if (batch == state.batches.end() || !state.recipe_versions.contains(batch->second.value.recipe_version)) {
        checking.refuse("of", fmt::format("{} in it is no longer known", id.text()), "correct its tiers first");
        continue;
      }
      Mass& all = masses.try_emplace(batch->second.value.recipe_version, Mass::milligrams(0)).first->second;
      all = all + mass;
      gather_inner(state, batch->second.value, within, seen);
    }
    for (const auto& [version, mass] : masses) {
      keeping.of.push_back(as_stood(state, version));
      keeping.of.back().mass = mass;
    }
    if (keeping.of.empty())
      checking.refuse("of", fmt::format("nothing was put into {} yet", of), "build its tiers first: `tierproof tier`");
  } else if (const auto* recipe = checking.known("of", state.recipes, of, "recipe or cake")) {
    keeping.of.push_back(as_stood(state, recipe->place));
    within = recipes_within(state, recipe->value);
  }
  for (const auto version : within) {
    if (state.recipe_versions.contains(version)) keeping.within.push_back(as_stood(state, version));
  }
}

/// The day of a measurement or letter: not ahead, and no earlier than a version that replaced another one.
Date day_of_keeping(Checking& checking, const Session& session, const std::string& text, const Keeping& keeping) {
  const auto day = parse_date(text);
  if (!day) {
    checking.refuse("--on", text.empty() ? "is missing" : fmt::format("\"{}\" is not a date", text), "write the day, such as 2026-05-01");
    return Date{};
  }
  if (*day > session.today()) checking.refuse("--on", "is a day that has not come yet", "write the day it was measured or written");
  const auto& versions = session.state().recipe_versions;
  for (const auto* recipes : {&keeping.of, &keeping.within}) {
    for (const auto& recipe : *recipes) {
      const auto& stands = versions.at(recipe.recipe_version);
      const Date since = day_of(stands.happened, stands.offset);
      const bool replaced = std::any_of(versions.begin(), versions.end(), [&](const auto& each) {
        return each.second.subject == stands.subject && each.first < recipe.recipe_version;
      });
      if (replaced && *day < since) {
        checking.refuse("--on", fmt::format("is before {}, since when {} is made as it is now", format_date_long(since), stands.subject),
                        "have it measured, or ask for advice, again: another version is another food");
      }
    }
  }
  return *day;
}

}  // namespace

Result<Booked> record_measured(Session& session, const KeepingMeasured& measured) {
  Checking checking{session};
  checking.person();
  Keeping keeping;
  keeping.from = "measured";
  set_of(checking, session.state(), measured.of, keeping);
  const WithError activity = with_error(checking, "--water-activity", "--error", measured.activity, measured.activity_error, 10'000, true);
  const WithError ph = with_error(checking, "--ph", "--ph-error", measured.ph, measured.ph_error, 100, false);
  if (measured.activity.empty() && measured.ph.empty())
    checking.refuse("--water-activity", "is missing, and so is the pH", "write what was measured, with --water-activity or --ph or both");
  keeping.water_activity_e4 = activity.value;
  keeping.water_activity_error_e4 = activity.error;
  keeping.ph_hundredths = ph.value;
  keeping.ph_error_hundredths = ph.error;
  checking.words("--method", measured.method);
  checking.words("--tested-by", measured.by);
  checking.free_words("--kept", measured.kept);
  keeping.method = measured.method;
  keeping.by = measured.by;
  keeping.kept = measured.kept;
  keeping.made = day_of_keeping(checking, session, measured.on, keeping);
  return book_one(session, checking, keeping, measured.of, checking.moment("now"));
}

Result<Booked> record_advice(Session& session, const KeepingAdvised& advised) {
  Checking checking{session};
  checking.person();
  Keeping keeping;
  keeping.from = advised.trial ? "validation" : "written advice";
  set_of(checking, session.state(), advised.of, keeping);
  checking.choice("--keep-in", advised.place, {"room", "fridge"});
  keeping.place = advised.place;
  if (!advised.days.empty()) {
    if (advised.place == "fridge") checking.refuse("--days", "belongs to room temperature", "leave it out");
    keeping.days = parts_of_one(checking, "--days", advised.days, 1, 1, true, 3650, "write whole days from 1 to 3650");
  }
  checking.words("--written-by", advised.by);
  checking.words("--kept", advised.kept);
  checking.words("--says", advised.says);
  keeping.by = advised.by;
  keeping.kept = advised.kept;
  keeping.says = advised.says;
  keeping.made = day_of_keeping(checking, session, advised.on, keeping);
  return book_one(session, checking, keeping, advised.of, checking.moment("now"));
}

}  // namespace tierproof
