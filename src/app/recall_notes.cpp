#include "recall_notes.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "checking.h"
#include "tierproof/app/recording.h"
#include "tierproof/text/number.h"
#include "where_now.h"

namespace tierproof {
namespace {

/// How long the only person of a kitchen leaves between a correction and a second look: a choice, no source.
constexpr Span before_a_second_look = std::chrono::hours{1};

/// A note that corrected or voided something of a recall after it began.
struct CorrectedSince {
  std::uint64_t sequence = 0;
  Instant happened{};
  std::string person;
  std::string words;
};

std::vector<CorrectedSince> corrections_of(const Session& session, std::uint64_t begun, const std::set<std::string>& things) {
  std::vector<CorrectedSince> all, about;
  for (const Note& note : session.notes()) {
    if (!note.supersedes || note.sequence <= begun || note.kind.starts_with("recall")) continue;
    CorrectedSince one{note.sequence, note.written, note.person.text(),
                       fmt::format("note {}, by {}, {}", note.sequence, note.person.text(), format_moment(note.written, note.offset))};
    if (things.contains(note.subject)) about.push_back(one);
    all.push_back(std::move(one));
  }
  return about.empty() ? all : about;  // where none is about the food itself, any of them may have taken it out
}

const CorrectedSince* last_of(const std::vector<CorrectedSince>& corrections) {
  return corrections.empty() ? nullptr : &corrections.back();
}

std::set<std::string> listed_in(const RecallTold& told) {
  std::set<std::string> listed;
  for (const auto* steps : {&told.contact, &told.hold, &told.gone}) {
    for (const auto& step : *steps) listed.insert(step.food.id);
  }
  return listed;
}

bool corrected_it(const std::vector<CorrectedSince>& corrections, const std::string& person) {
  return std::any_of(corrections.begin(), corrections.end(), [&](const CorrectedSince& one) { return one.person == person; });
}

/// Every id that the recall knew of: what it is about, what it reached when it began and before each correction since, and what its steps
/// were about.
std::set<std::string> known_to(const Session& session, const Recorded<RecallBegun>& begun) {
  std::set<std::string> known{begun.value.reached.begin(), begun.value.reached.end()};
  for (const auto& tick : session.state().recall_ticks) {
    const bool other = std::any_of(recall_others.begin(), recall_others.end(), [&](const auto& o) { return o.first == tick.value.what; });
    if (tick.value.recall.text() == begun.subject && !other) known.insert(tick.value.what);
  }
  std::vector<std::string> from = begun.value.of;
  from.insert(from.end(), begun.value.reached.begin(), begun.value.reached.end());
  for (const Note& note : session.notes()) {
    for (const std::uint64_t replaced : note.replaced) {
      if (note.sequence <= begun.sequence) continue;
      for (auto& id : reached_at(session, from, std::max(replaced, note.sequence - 1))) known.insert(std::move(id));
    }
  }
  return known;
}

/// Answers of a step that fit what it is about.
std::vector<std::string> fitting(const RecallTold& told, const std::string& what) {
  const auto in = [&](const std::vector<RecallStep>& steps) {
    return std::any_of(steps.begin(), steps.end(), [&](const RecallStep& step) { return step.food.id == what; });
  };
  if (std::any_of(recall_others.begin(), recall_others.end(), [&](const auto& other) { return other.first == what; }))
    return told.drill ? std::vector<std::string>{"found", "not found"} : std::vector<std::string>{"told", "not reached", "not needed"};
  if (std::any_of(told.taken_out.begin(), told.taken_out.end(), [&](const TakenOut& one) { return one.id == what; })) return {"taken out"};
  if (in(told.contact))
    return told.drill ? std::vector<std::string>{"found", "not found"} : std::vector<std::string>{"told", "not reached"};
  if (in(told.hold) || in(told.gone))  // used up by the sums may stand on a shelf
    return told.drill ? std::vector<std::string>{"found", "not found"} : std::vector<std::string>{"set aside", "given back", "not found"};
  return {};
}

void refuse_early_look(Checking& checking, const Session& session, const Recorded<RecallBegun>& begun, const RecallTicking& ticking,
                       Instant at) {
  const auto corrections = corrections_of(session, begun.sequence, known_to(session, begun));
  const std::string& person = session.entrance().person;
  if (!corrected_it(corrections, person)) return;
  const auto others = [&](const auto& one) {
    return works_here(one.second.value, session.today()) && !corrected_it(corrections, one.first.text());
  };
  const auto& people = session.state().people;
  if (std::any_of(people.begin(), people.end(), others)) {
    checking.refuse("--by", fmt::format("{} made a correction that took {} out: somebody else has to look at it", person, ticking.what),
                    "let a second person look, and record it by their name");
  } else if (at < last_of(corrections)->happened + before_a_second_look) {
    checking.refuse("--at", "is too soon after the correction for a second look by the same person",
                    fmt::format("look again {} after it, or let a second person look", format_span(before_a_second_look)));
  }
}

void refuse_unfinished(Checking& checking, const RecallTold& told) {
  const char* remedy =
      told.drill ? "`tierproof recall-tick … found`, or \"not found\"" : "`tierproof recall-tick …`; or record what was done";
  for (const auto& step : told.contact) {
    if (!seen_to(step, told.drill))
      checking.refuse(step.food.id,
                      told.drill ? "nobody looked whether the customer could be reached" : "nobody told the customer, or tried to", remedy);
  }
  for (const auto& step : told.hold) {
    if (!seen_to(step, told.drill))
      checking.refuse(step.food.id, told.drill ? "nobody looked for it" : "nobody set it aside, or looked for it", remedy);
  }
  for (const auto& one : told.taken_out) {
    if (!one.done)
      checking.refuse(one.id, "was in this recall and the records do not reach it any more: nobody has looked at that again",
                      "let a second person look, and `tierproof recall-tick … \"taken out\"`; or correct the records back");
  }
  for (const auto& other : told.others) {
    if (!told.drill && other.food.id == "authority" && !other.done)
      checking.refuse("authority", "nobody wrote whether the food authority was told",
                      "tell them, or write who said that it is \"not needed\"");
  }
}

}  // namespace

bool seen_to(const RecallStep& step, bool drill) {
  const std::string_view not_done = step.left.empty() || drill ? "not found" : "not reached";
  return step.done || std::any_of(step.tries.begin(), step.tries.end(), [&](const std::string& one) { return one.starts_with(not_done); });
}

std::string made_in_words(const Recorded<RecallTick>& tick) {
  std::string words = fmt::format("{} {}", tick.value.did, who_and_when(tick));
  if (tick.value.weighed) words += fmt::format(", {} weighed", format_mass(*tick.value.weighed));
  return words;
}

std::string in_words(const Recorded<RecallTick>& tick) {
  std::string words = made_in_words(tick);
  if (tick.value.note.given()) words += ": " + tick.value.note.text.value_or("(erased)");
  return words;
}

std::vector<TakenOut> taken_out_of(const Session& session, const Recorded<RecallBegun>& begun, const RecallTold& told) {
  const State& state = session.state();
  const auto listed = listed_in(told);
  const auto known = known_to(session, begun);
  std::vector<TakenOut> out;
  for (const std::string& id : known) {
    if (listed.contains(id)) continue;
    TakenOut one;
    one.id = one.words = id;
    if (state.batches.contains(BatchId{id})) one.words = fmt::format("{} ({})", id, name_of_batch(state, BatchId{id}));
    if (const auto cake = state.cakes.find(CakeId{id}); cake != state.cakes.end())
      one.words = fmt::format("{} ({})", id, cake->second.value.name);
    const auto corrections = corrections_of(session, begun.sequence, known);
    for (const auto& correction : corrections) one.corrected.push_back(correction.words);
    for (const auto& tick : state.recall_ticks) {
      if (tick.value.recall.text() != begun.subject || tick.value.what != id) continue;
      one.made.push_back(made_in_words(tick));
      if (tick.value.did != "taken out") {
        one.tries.push_back(in_words(tick));
        continue;
      }
      if (!corrections.empty() && tick.sequence < last_of(corrections)->sequence) continue;  // something was corrected again since
      one.done = true;
      one.done_words = fmt::format(
          "looked at again {}: {}{}", who_and_when(tick), tick.value.note.text.value_or("(erased)"),
          corrected_it(corrections, tick.person.text()) ? "; by the same person as the correction, later: nobody else is on record" : "");
    }
    out.push_back(std::move(one));
  }
  return out;
}

Result<Booked> begin_recall(Session& session, const RecallAsked& asked, const std::string& why, const std::string& at) {
  Checking checking{session};
  checking.person();
  checking.words("--why", why);
  const ZonedInstant moment = checking.moment(at);
  const auto told = recall(session, asked, {session.now(), session.offset_at(session.now())});
  if (!told) checking.take(told.error());
  if (!checking.good()) return checking.refusals();
  RecallBegun begun;
  begun.drill = asked.drill;
  begun.asked = told->asked;
  begun.why = session.seal(why);
  for (const auto& one : told->of) begun.of.push_back(one.id);
  for (const auto& thing : asked.things) {
    if (session.state().deviations.contains(DeviationId{thing})) begun.of.push_back(thing);
  }
  const auto listed = listed_in(*told);
  begun.reached.assign(listed.begin(), listed.end());
  return book_one(session, checking, begun, session.next<RecallBegun>("recall"), moment);
}

Result<Booked> tick_recall(Session& session, const RecallTicking& ticking) {
  Checking checking{session};
  checking.person();
  const State& state = session.state();
  const auto* begun = checking.known("recall", state.recalls, ticking.recall, "recall");
  const ZonedInstant at = checking.moment(ticking.at);
  if (begun == nullptr) return checking.refusals();
  if (state.closed(RecallId{ticking.recall}) != nullptr)
    checking.refuse("recall", fmt::format("{} is closed", ticking.recall), "begin another for what came to light since");
  if (at.at < begun->happened) checking.refuse("--at", fmt::format("lies before {} began", ticking.recall), "check the time");
  const auto told = recall_of(session, ticking.recall, {session.now(), session.offset_at(session.now())});
  if (!told) return told.error();
  const auto answers = fitting(*told, ticking.what);
  if (answers.empty()) {
    checking.refuse("what", fmt::format("{} has nothing to do about \"{}\"", ticking.recall, ticking.what),
                    fmt::format("name what `tierproof recall {}` lists, or authority, supplier or public", ticking.recall));
  } else {
    checking.choice("did", ticking.did, answers);
  }
  const bool quiet = ticking.did == "set aside" || ticking.did == "found";
  if (quiet) {
    checking.free_words("--note", ticking.note);
  } else {
    checking.words("--note", ticking.note);
  }
  if (ticking.weighed && !state.lots.contains(LotId{ticking.what}) && !state.batches.contains(BatchId{ticking.what}))
    checking.refuse("--weighed", "only what is left of a pack or a batch is weighed", "leave it out");
  if (ticking.did == "taken out") refuse_early_look(checking, session, *begun, ticking, at.at);
  if (!checking.good()) return checking.refusals();
  RecallTick tick{RecallId{ticking.recall}, ticking.what, ticking.did, {}, ticking.weighed};
  if (!ticking.note.empty()) tick.note = session.seal(ticking.note);
  return book_one(session, checking, tick, ticking.recall, at);
}

Result<Booked> close_recall(Session& session, const RecallClosing& closing) {
  Checking checking{session};
  checking.person();
  const State& state = session.state();
  const auto* begun = checking.known("recall", state.recalls, closing.recall, "recall");
  const ZonedInstant at = checking.moment(closing.at);
  if (begun == nullptr) return checking.refusals();
  if (const auto* before = state.closed(RecallId{closing.recall}))
    checking.refuse("recall", fmt::format("{} was closed already, by note {}", closing.recall, before->sequence),
                    "begin another for what came to light since");
  if (at.at < begun->happened) checking.refuse("--at", fmt::format("lies before {} began", closing.recall), "check the time");
  for (const auto& tick : state.recall_ticks) {
    if (tick.value.recall.text() == closing.recall && at.at < tick.happened)
      checking.refuse("--at", fmt::format("lies before the step of note {}", tick.sequence), "check the time");
  }
  const auto told = recall_of(session, closing.recall, {session.now(), session.offset_at(session.now())});
  if (!told) return told.error();
  refuse_unfinished(checking, *told);
  if (begun->value.drill) {
    checking.free_words("--cause", closing.cause);
  } else {
    checking.words("--cause", closing.cause);
  }
  checking.words("--learned", closing.learned);
  if (!checking.good()) return checking.refusals();
  RecallClosed closed{RecallId{closing.recall}, {}, session.seal(closing.learned)};
  if (!closing.cause.empty()) closed.cause = session.seal(closing.cause);
  return book_one(session, checking, closed, closing.recall, at);
}

}  // namespace tierproof
