#include "tierproof/app/going_wrong.h"

#include <set>

#include "checking.h"
#include "freezing.h"
#include "parts.h"
#include "tierproof/app/planning.h"
#include "tierproof/app/recording.h"
#include "tierproof/app/regular.h"
#include "troubles.h"

namespace tierproof {
namespace {

bool is_food(const State& state, const std::string& subject) {
  return state.lots.contains(LotId{subject}) || state.batches.contains(BatchId{subject}) || state.cakes.contains(CakeId{subject});
}

bool is_thing(const State& state, const std::string& subject) {
  return is_food(state, subject) || state.places.contains(PlaceId{subject}) || state.probes.contains(ProbeId{subject}) ||
         state.equipment.contains(EquipmentId{subject}) || state.tubs.contains(TubId{subject});
}

/// When a pack came, a batch was made or a cake was ordered.
std::optional<Instant> began(const State& state, const std::string& subject) {
  if (const auto lot = state.lots.find(LotId{subject}); lot != state.lots.end()) return lot->second.happened;
  if (const auto batch = state.batches.find(BatchId{subject}); batch != state.batches.end()) return batch->second.happened;
  if (const auto cake = state.cakes.find(CakeId{subject}); cake != state.cakes.end()) return cake->second.happened;
  return std::nullopt;
}

std::string text_of(const Words& words) { return words.text.value_or("(erased)"); }

void not_before(Checking& checking, Instant at, Instant earliest, const std::string& what) {
  if (at < earliest) checking.refuse("--at", fmt::format("lies before {}", what), "check the time");
}

std::string cake_in_words(const State& state, const CakeId& id) {
  const auto* handed = state.hand_over(id);
  const std::string& name = state.cakes.at(id).value.name;
  if (thrown_away(state, id)) return fmt::format("{} ({}, thrown away)", id.text(), name);
  if (handed == nullptr) return fmt::format("{} ({})", id.text(), name);
  return fmt::format("{} ({}, handed over {})", id.text(), name, format_moment(handed->happened, handed->offset));
}

std::string batch_in_words(const State& state, const BatchId& id) {
  const Batch& batch = state.batches.at(id).value;
  const auto recipe = state.recipe_versions.find(batch.recipe_version);
  return fmt::format("{} ({})", id.text(), recipe == state.recipe_versions.end() ? batch.recipe.text() : recipe->second.value.name);
}

}  // namespace

Result<Booked> tell_went_wrong(Session& session, const GoingWrong& wrong) {
  const State& state = session.state();
  Checking checking{session};
  checking.person();
  if (wrong.about.empty())
    checking.refuse("--about", "what it is about is missing", "name a pack, batch, cake, place, thermometer, kit or tub");
  std::set<std::string> once;
  for (const auto& about : wrong.about) {
    if (!is_thing(state, about) && !state.regular_sorts.contains(RegularSortId{about})) {
      checking.refuse("--about", fmt::format("nothing is recorded under \"{}\"", about),
                      "name a pack, batch, cake, place, thermometer, piece of kit, tub or sort of regular record that there is");
    }
    if (!once.insert(about).second) checking.refuse("--about", fmt::format("{} is named twice", about), "name it once");
  }
  checking.choice("--shown-by", wrong.from, {"control", "temperature", "person"});
  if (wrong.from == "control" && plan_row(session, plan_now(session), wrong.control) == nullptr) {
    std::vector<std::string> rows;
    for (const auto& row : plan_of(session, plan_now(session)).rows) rows.push_back(row.id);
    checking.choice("--control", wrong.control, rows);
  }
  if (wrong.from != "control" && !wrong.control.empty())
    checking.refuse("--control", "is named, but it was not a control that showed it", "leave it out, or write --shown-by control");
  checking.words("what", wrong.what);
  const auto at = checking.moment(wrong.at);
  if (!checking.good()) return checking.refusals();
  return book_one(session, checking, Deviation{wrong.about, wrong.from, wrong.control, session.seal(wrong.what)},
                  session.next<Deviation>("trouble"), at);
}

Result<Booked> put_right(Session& session, const PuttingRight& right) {
  const State& state = session.state();
  Checking checking{session};
  checking.person();
  const auto* trouble = checking.known("trouble", state.deviations, right.trouble, "trouble");
  const DeviationId id{right.trouble};
  const auto* before = state.closed(id);
  if (before != nullptr)
    checking.refuse("trouble", fmt::format("{} was closed already, by note {}", right.trouble, before->sequence),
                    fmt::format("correct note {}, or tell what went wrong anew", before->sequence));
  checking.choice("--food", right.food, {"used", "remade", "binned", "no food touched"});
  checking.words("--cause", right.cause);
  checking.words("--done", right.action);
  const auto at = checking.moment(right.at);
  if (trouble != nullptr) not_before(checking, at.at, trouble->happened, "the moment when it began");
  if (!checking.good()) return checking.refusals();
  std::vector<Draft> drafts;
  const DeviationClosed closing{id, right.food, session.seal(right.cause), session.seal(right.action)};
  drafts.push_back(session.draft(closing, right.trouble, at));
  if (right.food == "binned") {
    for (const auto& about : trouble->value.about) {
      if (!is_food(state, about)) continue;
      const Words why = session.seal(fmt::format("{} was closed: binned", right.trouble));
      if (state.cakes.contains(CakeId{about})) {
        if (thrown_away(state, CakeId{about}) || state.hand_over(CakeId{about}) != nullptr) continue;
        drafts.push_back(session.draft(Disposal{about, std::nullopt, why}, about, at));
      } else if (const std::int64_t left = remaining_mg(state, about); left > 0) {
        drafts.push_back(session.draft(Disposal{about, Mass::milligrams(left), why}, about, at));
      }
    }
  }
  for (const auto& draft : drafts) {
    if (auto refusals = check_body(draft.kind, draft.body, "what is recorded"); !refusals.empty()) return refusals;
  }
  return session.book(std::move(drafts));
}

std::vector<SharingCake> sharing_cakes(const State& state, const CakeId& cake) {
  const auto mine = batch_ids(parts_of(state, cake));
  const std::set<std::string> in_cake(mine.begin(), mine.end());
  std::vector<SharingCake> sharing;
  for (const auto& [id, other] : state.cakes) {
    if (id == cake) continue;
    SharingCake shared;
    for (const auto& facts : parts_of(state, id).batches) {
      if (in_cake.contains(facts.id.text())) shared.batches.push_back(fmt::format("{} ({})", facts.id.text(), facts.name));
    }
    if (shared.batches.empty()) continue;
    shared.cake = id.text();
    shared.thrown_away = thrown_away(state, id);
    if (const auto* handed = state.hand_over(id)) shared.handed_over = format_moment(handed->happened, handed->offset);
    sharing.push_back(std::move(shared));
  }
  return sharing;
}

Result<ComplaintTold> complain(Session& session, const Complaining& complaining) {
  Checking checking{session};
  checking.person();
  const auto* cake = checking.known("cake", session.state().cakes, complaining.cake, "cake");
  checking.choice("--of", complaining.of, {"illness", "allergic reaction", "something in it", "spoiled", "damaged", "other"});
  if (complaining.from.empty()) checking.refuse("--from", "who complained is missing", "write who, such as \"the customer, by phone\"");
  checking.words("what", complaining.what);
  const auto at = checking.moment(complaining.at);
  if (cake != nullptr) not_before(checking, at.at, cake->happened, "the cake was ordered");
  if (!checking.good()) return checking.refusals();
  const Complaint complaint{CakeId{complaining.cake}, complaining.of, session.seal(complaining.from), session.seal(complaining.what)};
  auto booked = book_one(session, checking, complaint, session.next<Complaint>("complaint"), at);
  if (!booked) return booked.error();
  return ComplaintTold{std::move(booked).value(), sharing_cakes(session.state(), CakeId{complaining.cake})};
}

Result<Booked> settle_complaint(Session& session, const std::string& complaint, const std::string& outcome, const std::string& at) {
  Checking checking{session};
  checking.person();
  const auto* known = checking.known("complaint", session.state().complaints, complaint, "complaint");
  const auto* before = session.state().closed(ComplaintId{complaint});
  if (before != nullptr)
    checking.refuse("complaint", fmt::format("{} was closed already, by note {}", complaint, before->sequence),
                    fmt::format("correct note {}, or record a new complaint", before->sequence));
  checking.words("--outcome", outcome);
  const auto moment = checking.moment(at);
  if (known != nullptr) not_before(checking, moment.at, known->happened, "the complaint was made");
  if (!checking.good()) return checking.refusals();
  return book_one(session, checking, ComplaintClosed{ComplaintId{complaint}, session.seal(outcome)}, complaint, moment);
}

Result<Booked> throw_away(Session& session, const ThrowingAway& throwing) {
  const State& state = session.state();
  Checking checking{session};
  checking.person();
  const std::string& what = throwing.what;
  const CakeId cake{what};
  const bool is_cake = state.cakes.contains(cake);
  std::optional<Mass> mass = throwing.mass;
  if (!is_food(state, what)) {
    checking.refuse("what", fmt::format("there is no pack, batch or cake called \"{}\"", what),
                    "write its number, such as pack-3 or cake-1");
  } else if (is_cake) {
    if (mass) checking.refuse("--mass", "of a cake is not kept", "leave it out: the whole cake is thrown away");
    if (thrown_away(state, cake)) checking.refuse("what", fmt::format("{} was thrown away already", what), "nothing more to do");
    if (const auto* handed = state.hand_over(cake))
      checking.refuse("what", fmt::format("{} was handed over already, by note {}", what, handed->sequence),
                      "tell what became of it with what went wrong or the complaint");
  } else {
    const std::int64_t left = remaining_mg(state, what);
    if (left <= 0) {
      checking.refuse("what", fmt::format("nothing is left of {} by the records", what),
                      "if there is some, correct what was used of it or what it weighed");
    } else if (mass && mass->to_milligrams() > left) {
      checking.refuse(
          "--mass",
          fmt::format("{} of {} is more than the {} that is left of it", format_mass(*mass), what, format_mass(Mass::milligrams(left))),
          "weigh again, or leave --mass out to throw away all that is left");
    }
    if (!mass && left > 0) mass = Mass::milligrams(left);
  }
  checking.words("--why", throwing.why);
  const auto at = checking.moment(throwing.at);
  if (const auto earliest = began(state, what)) not_before(checking, at.at, *earliest, fmt::format("{} was there", what));
  if (!checking.good()) return checking.refusals();
  return book_one(session, checking, Disposal{what, mass, session.seal(throwing.why)}, what, at);
}

Result<Booked> tell_missed(Session& session, const MissedCheck& missed) {
  const State& state = session.state();
  Checking checking{session};
  checking.person();
  const bool sort = state.regular_sorts.contains(RegularSortId{missed.about});
  const bool thing = state.places.contains(PlaceId{missed.about}) || state.probes.contains(ProbeId{missed.about}) ||
                     state.batches.contains(BatchId{missed.about});
  const bool known = sort || thing;
  if (!missed.of.empty()) checking.choice("--of", missed.of, {"regular record", "thing"});
  if (missed.of.empty() && sort && thing) {
    checking.refuse("--of", fmt::format("\"{}\" is a sort of regular record and something else", missed.about),
                    "add --of \"regular record\", or --of thing for the place, thermometer or batch");
  }
  const bool regular = sort && (!thing || missed.of == "regular record");
  if (known && ((missed.of == "regular record" && !sort) || (missed.of == "thing" && !thing)))
    checking.refuse("--of", fmt::format("\"{}\" is none", missed.about), "leave it out");
  if (!known) {
    checking.refuse("what", fmt::format("there is no place, thermometer, batch or sort of regular record called \"{}\"", missed.about),
                    "name what was not checked, such as cake-fridge");
  }
  if (regular && missed.day) {
    const auto items = due_between(session, *missed.day, *missed.day);
    // A changed sort may be due twice on a day: what is not recorded yet may be missed.
    auto item = items.end();
    for (auto one = items.begin(); one != items.end(); ++one) {
      if (one->sort == missed.about && one->day.due == missed.day && (item == items.end() || !one->note)) item = one;
    }
    if (item == items.end()) {
      checking.refuse("--day", fmt::format("{} was not due on {}", missed.about, format_date_long(*missed.day)), "see `tierproof due`");
    } else if (item->note) {
      checking.refuse("--day", fmt::format("it was recorded, as note {}", *item->note), "nothing more to do");
    }
  }
  if (!missed.day) checking.refuse("--day", "the day is missing", "write it as 2026-05-01");
  if (missed.day && *missed.day > session.today())
    checking.refuse("--day", "is a day that has not come yet", "write the day that was missed");
  checking.choice("--because", missed.because, {"forgotten", "nobody worked", "no thermometer", "other"});
  checking.free_words("--note", missed.note);
  if (missed.because == "other" && missed.note.empty())
    checking.refuse("--note", "is missing: \"other\" says nothing by itself", "write why it was missed");
  for (const auto& other : state.missed) {
    if (known && missed.day && other.value.about == missed.about && other.value.day == *missed.day && other.value.of.empty() != regular)
      checking.refuse("--day", fmt::format("is recorded as missed already, as note {}", other.sequence), "nothing more to do");
  }
  if (!checking.good()) return checking.refusals();
  const Missed told{missed.about, *missed.day, missed.because, missed.note.empty() ? Words{} : session.seal(missed.note),
                    regular ? "regular record" : ""};
  return book_one(session, checking, told, missed.about, checking.moment("now"));
}

Result<std::vector<OpenMatter>> open_matters(const Session& session, ZonedInstant at) {
  const State& state = session.state();
  const auto terms = session.packs().temperature_terms(session.kitchen().temperature_rules, day_of(at.at, at.offset));
  if (!terms) return terms.error();
  std::vector<OpenMatter> matters;
  UnvouchedSince since;
  for (const auto& [id, trouble] : state.deviations) {
    if (state.closed(id) != nullptr) continue;
    OpenMatter matter{id.text(),
                      format_moment(trouble.happened, trouble.offset),
                      fmt::format("{}: {}", fmt::join(trouble.value.about, ", "), text_of(trouble.value.what)),
                      {}};
    const auto look = [&](const std::string& thing, const std::string& words) {
      for (const auto& way : meets(session, *terms, trouble, thing, at.at, since).ways)
        matter.touches.push_back(way.starts_with(words) ? way : fmt::format("{}: {}", words, way));
    };
    for (const auto& [batch, recorded] : state.batches) {
      if (remaining_mg(state, batch.text()) > 0) look(batch.text(), batch_in_words(state, batch));
    }
    for (const auto& [cake, recorded] : state.cakes) {
      if (!thrown_away(state, cake)) look(cake.text(), cake_in_words(state, cake));
    }
    matters.push_back(std::move(matter));
  }
  for (const auto& [id, complaint] : state.complaints) {
    if (state.closed(id) != nullptr) continue;
    const CakeId& cake = complaint.value.cake;
    OpenMatter matter{id.text(),
                      format_moment(complaint.happened, complaint.offset),
                      fmt::format("{}: {}, {}", cake.text(), complaint.value.of, text_of(complaint.value.what)),
                      {}};
    for (const auto& shared : sharing_cakes(state, cake)) {
      matter.touches.push_back(fmt::format("{}: shares {}", cake_in_words(state, CakeId{shared.cake}), fmt::join(shared.batches, ", ")));
    }
    matters.push_back(std::move(matter));
  }
  return matters;
}

std::vector<std::string> frozen_again(const Session& session, const std::string& thing) {
  std::vector<std::string> lines;
  for (const auto& way : frozen_ways(session.state(), thing, session.now())) {
    if (way.times.size() > 1) lines.push_back(fmt::format("{}: {}", way.part, frozen_in_words(way.times, way.offset)));
  }
  return lines;
}

}  // namespace tierproof
