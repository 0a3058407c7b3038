#include <fmt/format.h>

#include <algorithm>

#include "door.h"
#include "saving.h"
#include "tierproof/app/misdeclared.h"
#include "tierproof/app/recalling.h"
#include "tierproof/text/number.h"
#include "trace_words.h"

namespace tierproof::cli {
namespace {

Json texts(const std::vector<std::string>& lines) {
  Json::Array list;
  for (const auto& line : lines) list.emplace_back(line);
  return Json{std::move(list)};
}

Json json_of(const std::vector<RecallStep>& steps) {
  Json::Array list;
  for (const auto& step : steps) {
    Json one = cli::json_of(step.food);
    one["customer"] = Json{step.customer};
    one["reachable"] = Json{step.reachable};
    one["done"] = Json{step.done};
    one["done_words"] = Json{step.done_words};
    one["steps_made"] = texts(step.tries);
    list.push_back(std::move(one));
  }
  return Json{std::move(list)};
}

Json json_of(const RecallTold& told) {
  Json::Array of, taken_out;
  for (const auto& one : told.of) of.push_back(cli::json_of(one));
  for (const auto& one : told.taken_out)
    taken_out.push_back(Json{Json::Object{{"id", Json{one.id}},
                                          {"words", Json{one.words}},
                                          {"corrected", texts(one.corrected)},
                                          {"steps_made", texts(one.tries)},
                                          {"done", Json{one.done}},
                                          {"done_words", Json{one.done_words}}}});
  return Json{Json::Object{{"schema", Json{"tierproof/recall/2"}},
                           {"recall", Json{told.id}},
                           {"drill", Json{told.drill}},
                           {"begun", Json{told.begun}},
                           {"asked", Json{told.asked}},
                           {"of", Json{std::move(of)}},
                           {"because", texts(told.because)},
                           {"contact", json_of(told.contact)},
                           {"hold", json_of(told.hold)},
                           {"gone", json_of(told.gone)},
                           {"others", json_of(told.others)},
                           {"taken_out", Json{std::move(taken_out)}},
                           {"closed", Json{told.closed}},
                           {"since_closed", texts(told.since_closed())},
                           {"took_ms", told.took ? Json{std::int64_t{told.took->count()}} : Json{}},
                           {"open", Json{told.open()}}}};
}

void say_steps(const std::vector<RecallStep>& steps, const std::string& heading, const std::string& mark) {
  if (steps.empty()) return;
  const auto waiting = std::count_if(steps.begin(), steps.end(), [](const RecallStep& step) { return !step.done; });
  const std::string to_do = waiting == 0 ? std::string{"nothing left to do"} : fmt::format("{} still to do", waiting);
  Door::say(fmt::format("{}{}: {}, {}", mark, heading, steps.size(), to_do));
  for (const auto& step : steps) {
    const std::string amount = step.food.mg ? fmt::format(", {} of it went in", mass_words(*step.food.mg)) : "";
    Door::say(fmt::format("{}  [{}] {}{}{}{}", mark, step.done ? "x" : " ", step.food.certain ? "" : "MAY HOLD IT  ", step.food.words,
                          amount, step.food.where.empty() ? "" : ": " + step.food.where));
    if (!step.customer.empty()) Door::say(fmt::format("{}      {}", mark, step.customer));
    if (step.food.steps > 1) Door::say(fmt::format("{}      {}", mark, step.food.way));
    for (const auto& words : step.tries) Door::say(fmt::format("{}      {}", mark, words));
    if (!step.done_words.empty() && (step.tries.empty() || step.tries.back() != step.done_words))
      Door::say(fmt::format("{}      {}", mark, step.done_words));
  }
}

void say_taken_out(const std::vector<TakenOut>& taken_out, const std::string& mark) {
  if (taken_out.empty()) return;
  Door::say(mark + "taken out by a correction while the recall was open: a second person has to look");
  for (const auto& one : taken_out) {
    Door::say(
        fmt::format("{}  [{}] {}: {}", mark, one.done ? "x" : " ", one.words,
                    one.corrected.empty() ? "nobody knows by which note" : fmt::format("corrected by {}", fmt::join(one.corrected, "; "))));
    for (const auto& words : one.tries) Door::say(fmt::format("{}      {}", mark, words));
    if (!one.done_words.empty()) Door::say(fmt::format("{}      {}", mark, one.done_words));
  }
}

void say_recall(const RecallTold& told) {
  const std::string mark = told.drill ? "DRILL  " : "";
  if (told.drill) Door::say("DRILL: nothing is recalled; this is an exercise on the records as they are");
  if (!told.id.empty()) Door::say(fmt::format("{}{}, begun {}", mark, told.id, told.begun));
  if (!told.asked.empty()) Door::say(fmt::format("{}{}", mark, told.asked));
  for (const auto& of : told.of) Door::say(fmt::format("{}recall of {}", mark, of.words));
  for (const auto& words : told.because) Door::say(fmt::format("{}  {}", mark, words));
  say_steps(told.contact, told.drill ? "customers who would have to be told" : "tell", mark);
  const auto lost = std::count_if(told.contact.begin(), told.contact.end(), [](const RecallStep& step) { return !step.reachable; });
  if (lost > 0)
    Door::say(fmt::format("{}  no name or telephone is on record any more of {} of {}: think of a notice to the public", mark, lost,
                          told.contact.size()));
  say_steps(told.hold, told.drill ? "food that would have to be set aside" : "set aside, marked, so that nobody uses it", mark);
  say_steps(told.gone, "gone already", mark);
  say_steps(told.others, "who else has to know", mark);
  say_taken_out(told.taken_out, mark);
  for (const auto& of : told.of) {
    say_apart(of, mark);
    if (of.balance) say_balance(of.id, *of.balance, mark);
  }
  if (told.took)
    Door::say(
        fmt::format("{}{} {} after it began", mark, told.open() ? "the last step" : "nothing is left to do,", format_span(*told.took)));
  if (!told.closed.empty()) Door::say(fmt::format("{}closed {}", mark, told.closed));
  for (const auto& words : told.since_closed())
    Door::say(fmt::format("{}since it was closed: {}: nobody has seen to it; begin another recall for it", mark, words));
  const auto not_told = [](const RecallStep& step) { return !step.done; };
  if (!told.drill && std::any_of(told.contact.begin(), told.contact.end(), not_told))
    Door::say("to tell a customer, and record it: `tierproof message recalled cake-N --when after-hand-over --sent-to …`");
  if (!told.drill && told.id.empty()) Door::say("to keep who did what and when, and to close it with a report: `tierproof recall-begin …`");
  Door::say(
      mark +
      "Local law and your food authority come first: in many places they must be told at once when food that may hurt somebody has left.");
}

int print_recall(const Door& d, const Session& session, const RecallTold& told) {
  const bool demo = session.kitchen().demo;
  if (d.json) {
    Json json = json_of(told);
    json["head"] = Json{format_head(session.head())};
    d.print(std::move(json), demo);
  } else {
    Door::mark_demo(demo);
    say_recall(told);
  }
  return told.open() && !told.drill ? exit_status::found_wanting : exit_status::done;
}

Json json_of(const Misdeclared& told) {
  Json::Array says, cakes;
  for (const auto& one : told.says)
    says.push_back(Json{Json::Object{{"what", Json{one.what}}, {"before", Json{one.before}}, {"after", Json{one.after}}}});
  for (const auto& one : told.cakes) {
    Json::Array labels;
    for (const auto& label : one.labels)
      labels.push_back(Json{Json::Object{{"note", Json{static_cast<std::int64_t>(label.note)}},
                                         {"box", Json{label.box}},
                                         {"printed", Json{label.printed}},
                                         {"said", Json{label.said}},
                                         {"says_now", Json{label.says_now}},
                                         {"same", Json{label.same}}}});
    cakes.push_back(Json{Json::Object{{"cake", Json{one.cake.text()}},
                                      {"name", Json{one.name}},
                                      {"where", Json{one.where}},
                                      {"out", Json{one.out}},
                                      {"customer", Json{one.customer}},
                                      {"packs", texts(one.packs)},
                                      {"labels", Json{std::move(labels)}},
                                      {"told", texts(one.told)}}});
  }
  return Json{Json::Object{{"schema", Json{"tierproof/misdeclared/1"}},
                           {"details", Json{static_cast<std::int64_t>(told.details)}},
                           {"words", Json{told.words}},
                           {"says", Json{std::move(says)}},
                           {"cakes", Json{std::move(cakes)}}}};
}

void say_misdeclared(const Misdeclared& told) {
  Door::say(told.words);
  for (const auto& one : told.says)
    Door::say(fmt::format("  corrected: {}: {} → {}", one.what, one.before.empty() ? "nothing" : one.before,
                          one.after.empty() ? "nothing" : one.after));
  if (told.says.empty()) Door::say("  not corrected since it was written");
  if (told.cakes.empty()) Door::say("in no cake, by the records");
  for (const auto& one : told.cakes) {
    Door::say(fmt::format("{}{} ({}): {}", one.out ? "OUT  " : "HERE  ", one.cake.text(), one.name, one.where));
    if (one.out) Door::say(fmt::format("    {}", one.customer));
    Door::say(fmt::format("    holds {}", fmt::join(one.packs, ", ")));
    for (const auto& label : one.labels) {
      Door::say(fmt::format("    label of box {}, printed {} (note {}) said: {}", label.box, label.printed, label.note, label.said));
      Door::say(label.same ? "    the records say the same now" : fmt::format("    the records say now: {}", label.says_now));
    }
    if (one.labels.empty()) Door::say("    no label was printed");
    for (const auto& words : one.told) Door::say(fmt::format("    told, {}", words));
  }
}

/// What a recall is about, as options.
struct AskedRecall {
  std::vector<std::string> things;
  std::string supplier, from, until;
  std::uint64_t details = 0;
  bool drill = false;

  void add_to(CLI::App& app) {
    app.add_option("thing", things,
                   "packs, batches or cakes by number, packs by the code on them; trouble-2: all that it touches, as what stood in a warm "
                   "fridge or was measured by a thermometer that is wrong");
    auto* option = app.add_option("--supplier", supplier, "every pack of this supplier that came in");
    app.add_option("--from", from, "from this day")->needs(option);
    app.add_option("--until", until, "until this day; both count")->needs(option);
    app.add_option("--details", details, "every pack that stands under these pack details: the number of their note");
    app.add_flag("--drill", drill, "an exercise: nothing has to be withdrawn, and nothing counts as done");
  }
  RecallAsked asked() const { return {things, supplier, maybe_date("--from", from), maybe_date("--until", until), details, drill}; }
  /// The recall that was begun, when one is named.
  std::string begun() const { return things.size() == 1 && things.front().starts_with("recall-") ? things.front() : ""; }
};

}  // namespace

void recall_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<AskedRecall>();
  options->add_to(app);
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const RecallAsked asked = options->asked();
      return d.read([&](Session& session) {
        const ZonedInstant now{session.now(), session.offset_at(session.now())};
        const auto told = options->begun().empty() ? recall(session, asked, now) : recall_of(session, options->begun(), now);
        return told ? print_recall(d, session, *told) : d.refuse(told.error());
      });
    };
  });
}

void recall_begin_options(CLI::App& app, Door& door) {
  struct Options {
    AskedRecall asked;
    std::string why, at;
  };
  auto options = std::make_shared<Options>();
  options->asked.add_to(app);
  app.add_option("--why", options->why, "who called it back and what they said; of an exercise, what is tried out")->required();
  app.add_option("--at", options->at, "when it began; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const RecallAsked asked = options->asked.asked();
      return d.record([&](Session& session) { return begin_recall(session, asked, options->why, options->at); },
                      [&](const Session& session, const Booked& booked) {
                        if (d.json || booked.subjects.empty()) return;
                        const auto told = recall_of(session, booked.subjects.front(), {session.now(), session.offset_at(session.now())});
                        if (told) say_recall(*told);
                      });
    };
  });
}

void recall_tick_options(CLI::App& app, Door& door) {
  struct Options {
    RecallTicking ticking;
    std::string weighed;
  };
  auto options = std::make_shared<Options>();
  app.add_option("recall", options->ticking.recall, "its number, recall-1")->required();
  app.add_option("what", options->ticking.what, "a line of its list, cake-1 or pack-3; authority, supplier or public")->required();
  app.add_option("did", options->ticking.did,
                 "told, \"not reached\", \"set aside\", \"given back\", \"not found\", \"taken out\", \"not needed\"; in an exercise "
                 "found or \"not found\"")
      ->required();
  app.add_option("--note", options->ticking.note, "whom you spoke to and what you said; where it is now");
  app.add_option("--weighed", options->weighed, "what is left of a pack or batch, as you weighed it");
  app.add_option("--at", options->ticking.at, "when; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      options->ticking.weighed = maybe_mass("--weighed", options->weighed);
      return d.record([&](Session& session) { return tick_recall(session, options->ticking); });
    };
  });
}

void recall_close_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<RecallClosing>();
  app.add_option("recall", options->recall, "its number, recall-1")->required();
  app.add_option("--cause", options->cause, "why it happened; an exercise needs none");
  app.add_option("--learned", options->learned, "what is done otherwise from now on")->required();
  app.add_option("--at", options->at, "when it was closed; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) { return d.record([&](Session& session) { return close_recall(session, *options); }); };
  });
}

void recall_report_options(CLI::App& app, Door& door) {
  struct Options {
    std::string recall, folder = ".";
  };
  auto options = std::make_shared<Options>();
  app.add_option("recall", options->recall, "its number, recall-1")->required();
  app.add_option("--into", options->folder, "folder for the PDF, PNG and JSON");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      make_folder(options->folder);
      return d.write<Issued>([&](Session& session) { return issue_recall_report(session, options->recall, d.data()); },
                             [&](Session& session, const Issued& issued) {
                               return save_papers(d, session, issued, options->folder, options->recall + "-report");
                             });
    };
  });
}

void misdeclared_options(CLI::App& app, Door& door) {
  struct Options {
    std::uint64_t note = 0;
    std::string from, until;
  };
  auto options = std::make_shared<Options>();
  app.add_option("note", options->note, "number of the note that tells what the pack says")->required();
  app.add_option("--from", options->from, "packs received from this day");
  app.add_option("--until", options->until, "until this day; both count");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const auto from = maybe_date("--from", options->from);
      const auto until = maybe_date("--until", options->until);
      return d.read([&](Session& session) {
        const auto told = misdeclared(session, options->note, from, until, {session.now(), session.offset_at(session.now())});
        if (!told) return d.refuse(told.error());
        if (d.json) {
          d.print(json_of(*told), session.kitchen().demo);
        } else {
          Door::mark_demo(session.kitchen().demo);
          say_misdeclared(*told);
        }
        const bool any_out = std::any_of(told->cakes.begin(), told->cakes.end(), [](const auto& one) { return one.out; });
        return any_out ? exit_status::found_wanting : exit_status::done;
      });
    };
  });
}

}  // namespace tierproof::cli
