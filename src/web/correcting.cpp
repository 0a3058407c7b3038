// What a note should have said, typed anew. Which members of a body a person can sensibly retype stands in one table; what is sealed,
// nested, chosen from a list or made by the program stays as it is.
#include "correcting.h"

#include <fmt/format.h>

#include <algorithm>

#include "signing_in.h"
#include "tierproof/app/permissions.h"
#include "tierproof/app/retyping.h"
#include "tierproof/text/data_table.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

enum class Retyped {
  text,
  lines,    ///< a list of texts, one a line
  day,      ///< `2026-05-01`
  mass,     ///< in the body in mg
  degrees,  ///< what a thermometer showed, in its own scale
  decimal   ///< a whole number in the body, shown with `places` digits after the point
};

/// A member of a body that a person can retype.
struct Retypable {
  const char* kind;
  const char* member;
  Retyped as;
  const char* words;
  const char* unit = "";
  int places = 0;
};

constexpr Retypable table_of_members[] = {
    {"kitchen/1", "name", Retyped::text, "Name of the kitchen"},
    {"kitchen/1", "address", Retyped::lines, "Address, a line each"},
    {"kitchen/1", "altitude_m", Retyped::decimal, "Height above the sea", "m"},
    {"kitchen/1", "specification_days", Retyped::decimal, "What a pack says is read again after", "days"},
    {"kitchen/1", "staff", Retyped::decimal, "How many people work here"},
    {"kitchen/1", "units_a_year", Retyped::decimal, "Cakes in a year"},
    {"person/1", "left", Retyped::day, "Last day here"},
    {"ingredient/1", "name", Retyped::text, "Name"},
    {"specification/1", "label_name", Retyped::text, "Its name in a list of ingredients"},
    {"specification/1", "checked", Retyped::day, "Read on"},
    {"specification/1", "checked_against", Retyped::text, "Read from"},
    {"specification/1", "use_within_days", Retyped::decimal, "Once opened, used within", "days"},
    {"specification/1", "water_ppm", Retyped::decimal, "Water in it", "%", 4},
    {"specification/1", "ph_hundredths", Retyped::decimal, "pH", "", 2},
    {"specification/1", "water_activity_e4", Retyped::decimal, "Water activity", "", 4},
    {"specification-looked/1", "checked", Retyped::day, "Read again on"},
    {"specification-looked/1", "checked_against", Retyped::text, "Read from"},
    {"lot/1", "code", Retyped::text, "Code on the pack"},
    {"lot/1", "description", Retyped::text, "What else stands on it"},
    {"lot/1", "mass_mg", Retyped::mass, "How much came in"},
    {"lot/1", "dispatched", Retyped::day, "Sent off by the supplier on"},
    {"lot/1", "use_by", Retyped::day, "Use by"},
    {"lot/1", "best_before", Retyped::day, "Best before"},
    {"lot/1", "opened", Retyped::day, "Opened on"},
    {"lot/1", "laid", Retyped::day, "Eggs laid on"},
    {"lot/1", "egg_scheme", Retyped::text, "Scheme of the eggs"},
    {"equipment/1", "name", Retyped::text, "Name"},
    {"place/1", "name", Retyped::text, "Name"},
    {"probe/1", "name", Retyped::text, "Name"},
    {"probe/1", "accuracy_hundredths", Retyped::decimal, "May be wrong by, by its maker", "degrees", 2},
    {"probe/1", "resolution_hundredths", Retyped::decimal, "Smallest step of its display", "degrees", 2},
    {"probe/1", "check_days", Retyped::decimal, "Checked again after", "days"},
    {"probe-check/1", "read", Retyped::degrees, "What it showed"},
    {"probe-check/1", "pressure_pa", Retyped::decimal, "What a barometer showed in the kitchen", "hPa", 2},
    {"recipe/1", "name", Retyped::text, "Name"},
    {"recipe/1", "yield_mg", Retyped::mass, "How much it makes"},
    {"recipe/1", "portions", Retyped::decimal, "Portions"},
    {"recipe/1", "life_days", Retyped::decimal, "Keeps for", "days"},
    {"recipe/1", "life_reason", Retyped::text, "Who says so"},
    {"recipe/1", "frozen_days", Retyped::decimal, "Keeps frozen for", "days"},
    {"recipe/1", "thawed_days", Retyped::decimal, "Keeps thawed for", "days"},
    {"recipe/1", "label_name", Retyped::text, "Its name in a list of ingredients"},
    {"recipe/1", "syrup_target", Retyped::degrees, "The syrup is boiled to"},
    {"recipe/1", "white_degrees", Retyped::degrees, "The egg white is at"},
    {"recipe/1", "bowl_degrees", Retyped::degrees, "The bowl is at"},
    {"batch/1", "yield_mg", Retyped::mass, "How much it made"},
    {"batch/1", "left_behind_mg", Retyped::mass, "Left behind in bowl and tin"},
    {"batch/1", "cracked_degrees", Retyped::degrees, "The cracked egg was at"},
    {"tub/1", "name", Retyped::text, "Name"},
    {"stay/1", "procedure", Retyped::text, "By which procedure"},
    {"cake/1", "name", Retyped::text, "Name"},
    {"cake/1", "event", Retyped::day, "For"},
    {"cake/1", "boxes", Retyped::decimal, "Boxes"},
    {"cake/1", "largest_face_cm2", Retyped::decimal, "Largest face of a box", "cm²"},
    {"cake/1", "surface_cm2", Retyped::decimal, "Whole surface of a box", "cm²"},
    {"cake/1", "pieces", Retyped::decimal, "Pieces"},
    {"cake/1", "gtin", Retyped::text, "GTIN"},
    {"disposal/1", "mass_mg", Retyped::mass, "How much was thrown away"},
    {"missed/1", "day", Retyped::day, "Day"},
    {"cleaning/1", "tested", Retyped::text, "How it was tested"},
    {"kit-validation/1", "method", Retyped::text, "How it is washed"},
    {"kit-validation/1", "by", Retyped::text, "Who tested it"},
    {"kit-validation/1", "kept", Retyped::text, "Where the report is"},
    {"kit-validation/1", "made", Retyped::day, "Tested on"},
    {"kit-changed/1", "what", Retyped::text, "What was changed"},
    {"validation/1", "at", Retyped::degrees, "Held at"},
    {"validation/1", "hold_ms", Retyped::decimal, "Held for", "seconds", 3},
    {"validation/1", "by", Retyped::text, "Who tested it"},
    {"validation/1", "kept", Retyped::text, "Where the report is"},
    {"validation/1", "made", Retyped::day, "Tested on"},
    {"adopted/1", "water_activity_millionths", Retyped::decimal, "Water activity", "", 6},
    {"adopted/1", "measured", Retyped::text, "How it was measured"},
    {"adopted/1", "why", Retyped::text, "Why it is taken over"},
    {"keeping/1", "water_activity_e4", Retyped::decimal, "Water activity", "", 4},
    {"keeping/1", "water_activity_error_e4", Retyped::decimal, "Water activity, wrong by at most", "", 4},
    {"keeping/1", "ph_hundredths", Retyped::decimal, "pH", "", 2},
    {"keeping/1", "ph_error_hundredths", Retyped::decimal, "pH, wrong by at most", "", 2},
    {"keeping/1", "days", Retyped::decimal, "Keeps for", "days"},
    {"keeping/1", "method", Retyped::text, "How it was measured"},
    {"keeping/1", "by", Retyped::text, "Who says so"},
    {"keeping/1", "made", Retyped::day, "Day of the report"},
    {"keeping/1", "kept", Retyped::text, "Where the report is"},
    {"keeping/1", "says", Retyped::text, "What it says"},
    {"precaution/1", "why", Retyped::text, "Why"},
    {"precaution/1", "amount_mg", Retyped::mass, "How much of it may be in it"},
    {"precaution/1", "protein_ppm", Retyped::decimal, "Protein in that", "%", 4},
    {"precaution/1", "slice_mg", Retyped::mass, "A slice weighs"},
    {"regular/1", "name", Retyped::text, "Name"},
    {"regular/1", "what", Retyped::text, "What is looked at"},
    {"regular/1", "from", Retyped::day, "From"},
    {"regular/1", "until", Retyped::day, "Until"},
    {"regular-done/1", "due", Retyped::day, "For the day"},
    {"day-off/1", "from", Retyped::day, "From"},
    {"day-off/1", "until", Retyped::day, "Until"},
    {"advice/1", "office", Retyped::text, "Which office"},
    {"advice/1", "on", Retyped::day, "On"},
    {"advice/1", "topic", Retyped::text, "About what"},
};

std::vector<const Retypable*> retypable_of(const std::string& kind) {
  std::vector<const Retypable*> found;
  for (const auto& one : table_of_members) {
    if (one.kind == kind) found.push_back(&one);
  }
  return found;
}

std::string field_of(const std::string& member) { return "says-" + member; }

/// `-450` with two places as `-4.5`.
std::string decimal_in_words(std::int64_t number, int places) { return text_of(DataCell{ExactDecimal{number, places}}); }

/// What stands in a member, as its field shows it; empty where there is none, or it isn't of the sort that the table names.
std::string shown(const Retypable& member, const Json& body) {
  const Json* value = body.find(member.member);
  if (value == nullptr) return "";
  switch (member.as) {
    case Retyped::text:
    case Retyped::day:
      return value->is_text() ? value->text() : "";
    case Retyped::lines: {
      std::string lines;
      if (!value->is_array()) return "";
      for (const auto& line : value->array()) lines += (lines.empty() ? "" : "\n") + (line.is_text() ? line.text() : "");
      return lines;
    }
    case Retyped::mass:
      return value->is_integer() ? format_mass(Mass::milligrams(value->integer())) : "";
    case Retyped::degrees: {
      const Json* hundredths = value->is_object() ? value->find("hundredths") : nullptr;
      return hundredths != nullptr && hundredths->is_integer() ? decimal_in_words(hundredths->integer(), 2) : "";
    }
    case Retyped::decimal:
      return value->is_integer() ? decimal_in_words(value->integer(), member.places) : "";
  }
  return "";
}

/// The scale that a member holds, or that the thermometer of the note shows.
Scale scale_in(Visit& visit, const Retypable& member, const Json& body) {
  const Json* value = body.find(member.member);
  const Json* scale = value != nullptr && value->is_object() ? value->find("scale") : nullptr;
  if (scale != nullptr && scale->is_text()) return scale->text() == "F" ? Scale::fahrenheit : Scale::celsius;
  const Json* probe = body.find("probe");
  if (probe == nullptr || !probe->is_text()) return Scale::celsius;
  const auto found = visit.records().state().probes.find(ProbeId{probe->text()});
  return found == visit.records().state().probes.end() ? Scale::celsius : found->second.value.scale;
}

const char* unit_of(Scale scale) { return scale == Scale::celsius ? "°C" : "°F"; }

std::optional<Json> lines_typed(const std::string& text) {
  Json::Array lines;
  std::string_view rest = text;
  while (!rest.empty()) {
    const auto end = rest.find('\n');
    const auto line = trimmed(rest.substr(0, end));
    if (!line.empty()) lines.emplace_back(std::string{line});
    rest = end == std::string_view::npos ? std::string_view{} : rest.substr(end + 1);
  }
  return lines.empty() ? std::nullopt : std::optional{Json{std::move(lines)}};
}

std::optional<Json> decimal_typed(Visit& visit, const Retypable& member, const std::string& field, std::string_view text) {
  std::int64_t scale = 1;
  for (int i = 0; i < member.places; ++i) scale *= 10;
  const auto read = parse_decimal(text);
  const auto whole = read ? std::optional{Share{*read * scale}} : std::nullopt;
  if (!whole || denominator(*whole) != 1 || abs(numerator(*whole)) > 9'007'199'254'740'991) {
    visit.refuse(field, fmt::format("\"{}\" cannot be used", text),
                 member.places == 0 ? "write a whole number"
                                    : fmt::format("write a number with at most {} digits after the point or comma", member.places));
    return std::nullopt;
  }
  return Json{static_cast<std::int64_t>(numerator(*whole))};
}

/// What was typed instead, as it stands in a body; nothing where the field is empty, or where it was refused.
std::optional<Json> retyped(Visit& visit, const Retypable& member, const Json& body) {
  const std::string field = field_of(member.member);
  const std::string text{trimmed(visit.typed(field))};
  if (text.empty()) return std::nullopt;
  switch (member.as) {
    case Retyped::text:
      return Json{text};
    case Retyped::lines:
      return lines_typed(text);
    case Retyped::day: {
      const auto day = visit.day(field, false);
      return day ? std::optional{Json{format_date(*day)}} : std::nullopt;
    }
    case Retyped::mass: {
      const auto mass = visit.mass(field, false);
      return mass ? std::optional{Json{mass->to_milligrams()}} : std::nullopt;
    }
    case Retyped::degrees: {
      const auto read = visit.degrees(field, scale_in(visit, member, body), false);
      if (!read) return std::nullopt;
      return Json{Json::Object{{"hundredths", Json{read->hundredths}}, {"scale", Json{read->scale == Scale::celsius ? "C" : "F"}}}};
    }
    case Retyped::decimal:
      return decimal_typed(visit, member, field, text);
  }
  return std::nullopt;
}

void add_field(FormView& form, Visit& visit, const Retypable& member, const Json& body) {
  const std::string field = field_of(member.member);
  const std::string value = shown(member, body);
  const FieldSaid said{.value = value, .unit = member.unit};
  switch (member.as) {
    case Retyped::text:
      form.text(field.c_str(), member.words, said);
      return;
    case Retyped::lines:
      form.long_text(field.c_str(), member.words, said);
      return;
    case Retyped::day:
      form.day(field.c_str(), member.words, said);
      return;
    case Retyped::mass:
      form.text(field.c_str(), member.words, {.hint = "In grams, or with its unit: 1.5 kg", .value = value});
      return;
    case Retyped::degrees:
      form.number(field.c_str(), member.words, {.value = value, .unit = unit_of(scale_in(visit, member, body))}, true);
      return;
    case Retyped::decimal:
      form.number(field.c_str(), member.words, said);
      return;
  }
}

bool owners_alone(const Visit& visit, const std::string& kind) {
  return permission_of(kind).changes == Authority::owner && !visit.is_owner();
}

/// Refusals of a use case stand beside the fields that they belong to, whichever names they go by there.
void beside_fields(Visit& visit, const std::string& kind) {
  for (auto& refusal : visit.wrong) {
    for (const auto* member : retypable_of(kind)) {
      const std::string name = member->member;
      if (refusal.field == name || refusal.field == name + ".hundredths" || refusal.field.starts_with(name + "[")) {
        refusal.field = field_of(name);
        break;
      }
    }
  }
}

std::optional<Booked> retype_typed(Visit& visit, const Note& note, const LoggedReading& before) {
  const Scale scale = before.degrees ? before.degrees->scale : Scale::celsius;
  const auto read = visit.degrees("reading", scale, true);
  if (!visit.wrong.empty()) return std::nullopt;
  auto booked =
      visit.record([&, sequence = note.sequence](Session& session) { return retype_reading(session, sequence, read, visit.typed("why")); });
  if (booked) std::reverse(booked->sequences.begin(), booked->sequences.end());  // the page goes on with the new one
  return booked;
}

}  // namespace

std::vector<RetypedMember> retyped_members() {
  std::vector<RetypedMember> all;
  for (const auto& one : table_of_members) {
    const Json degrees{Json::Object{{"hundredths", Json{400}}, {"scale", Json{"C"}}}};
    const Json example = one.as == Retyped::text      ? Json{"words"}
                         : one.as == Retyped::lines   ? Json{Json::Array{Json{"words"}}}
                         : one.as == Retyped::day     ? Json{"2026-05-01"}
                         : one.as == Retyped::degrees ? degrees
                                                      : Json{1};
    all.push_back({one.kind, one.member, example});
  }
  return all;
}

bool grave_kind(const std::string& kind) {
  return permission_of(kind).changes == Authority::owner || kind.starts_with("allergy/") || kind.starts_with("told/");
}

Html correct_form(Visit& visit, const Note& note) {
  const Html heading = el("h2", {}, "Something in it is wrong");
  if (owners_alone(visit, note.kind))
    return heading + el("p", {}, "Only an owner of the kitchen can correct this: ask one of them to sign in.");
  FormView form{visit, "/drawer/correct", "correct"};
  form.hidden("note", visit.part);
  if (const auto reading = typed_reading(visit.records(), note.sequence); reading && reading->degrees) {
    form.number("reading", "What the thermometer really showed",
                {.hint = "The reading that stands here is taken back, and this one counts at the same time.",
                 .value = decimal_in_words(reading->degrees->hundredths, 2),
                 .unit = unit_of(reading->degrees->scale),
                 .needed = true},
                true);
  } else {
    const auto members = retypable_of(note.kind);
    if (members.empty() || !note.body.is_object())
      return heading + el("p", {}, "Nothing in this note can be typed anew. Take it back, and record what was so.");
    for (const auto* member : members) add_field(form, visit, *member, note.body);
  }
  form.text("why", "What was wrong with it", {.hint = "The note stays in the records, with your reason.", .needed = true});
  if (grave_kind(note.kind)) form.pin("Your PIN");
  return heading + form.finish("Correct it");
}

std::optional<Booked> correct_note(Visit& visit, const Note& note) {
  if (const auto reading = typed_reading(visit.records(), note.sequence); reading && reading->degrees)
    return retype_typed(visit, note, *reading);
  const std::string kind = note.kind;
  const std::uint64_t sequence = note.sequence;
  Json body = note.body;
  const auto members = retypable_of(kind);
  if (members.empty() || !body.is_object()) {
    visit.refuse("note", "nothing in this note can be typed anew", "take it back, and record what was so");
    return std::nullopt;
  }
  for (const auto& [name, value] : visit.request.form.all()) {
    const bool known = std::any_of(members.begin(), members.end(),
                                   [&, called = name](const Retypable* member) { return called == field_of(member->member); });
    if (name.starts_with("says-") && !known) visit.refuse(name, "is not a member of this note that can be typed anew", "leave it out");
  }
  for (const auto* member : members) {
    const std::string field = field_of(member->member);
    if (!visit.request.form.has(field)) continue;
    if (trimmed(visit.typed(field)) == shown(*member, note.body)) continue;  // as it stood, to the last digit
    const auto before = visit.wrong.size();
    auto value = retyped(visit, *member, note.body);
    if (visit.wrong.size() != before) continue;
    if (value) {
      body[member->member] = *std::move(value);
    } else {
      body.object().erase(member->member);
    }
  }
  if (!visit.wrong.empty()) return std::nullopt;
  const GivenDocument document{"note", write_canonical(body)};
  auto booked = visit.record([&](Session& session) { return correct(session, sequence, document, visit.typed("why")); });
  if (!booked) beside_fields(visit, kind);
  return booked;
}

}  // namespace tierproof::web
