#include <fmt/format.h>

#include <filesystem>

#include "door.h"
#include "tierproof/app/changing.h"
#include "tierproof/app/confirming.h"
#include "tierproof/app/explaining.h"
#include "tierproof/app/looking.h"
#include "tierproof/app/selling.h"
#include "tierproof/text/number.h"

namespace tierproof::cli {
namespace {

std::string or_nothing(const std::string& text) { return text.empty() ? "(nothing)" : text; }

template <class Items, class Make>
Json json_each(const Items& items, const Make& make) {
  Json::Array list;
  for (const auto& item : items) list.push_back(make(item));
  return Json{std::move(list)};
}
Json json_texts(const std::vector<std::string>& texts) {
  return json_each(texts, [](const std::string& text) { return Json{text}; });
}
template <class Kind>
Json json_ids(const std::vector<Id<Kind>>& ids) {
  return json_each(ids, [](const Id<Kind>& id) { return Json{id.text()}; });
}

// ---- a changed reading of a pack --------------------------------------------------------------------------------------------

Json json_differences(const std::vector<Difference>& differences) {
  return json_each(differences, [](const Difference& one) {
    return Json{Json::Object{{"what", Json{one.what}}, {"before", Json{one.before}}, {"after", Json{one.after}}}};
  });
}

Json json_cakes(const std::vector<CakeChange>& cakes) {
  return json_each(cakes, [](const CakeChange& cake) {
    const auto labels = json_each(cake.labels, [](const LabelVoided& label) {
      return Json{Json::Object{{"note", Json{static_cast<std::int64_t>(label.note)}}, {"box", Json{label.box}}}};
    });
    return Json{Json::Object{{"cake", Json{cake.cake.text()}},
                             {"name", Json{cake.name}},
                             {"for", Json{format_date(cake.event)}},
                             {"handed_over", Json{cake.out}},
                             {"packs", json_texts(cake.packs)},
                             {"label", json_differences(cake.words)},
                             {"verdicts", json_differences(cake.verdicts)},
                             {"labels_void", labels},
                             {"customer", Json{cake.customer}},
                             {"told", json_texts(cake.told)},
                             {"keeps_until", cake.keeps_until ? Json{format_date(*cake.keeps_until)} : Json{}}}};
  });
}

Json json_change(const SpecificationChange& change) {
  const auto recipes = json_each(change.recipes, [](const RecipeChange& recipe) {
    return Json{Json::Object{{"recipe", Json{recipe.recipe.text()}},
                             {"name", Json{recipe.name}},
                             {"allergens", json_differences(recipe.allergens)},
                             {"planned_cakes", json_ids(recipe.planned)}}};
  });
  const auto batches = json_each(change.batches, [](const BatchTouched& batch) {
    return Json{Json::Object{{"batch", Json{batch.batch.text()}},
                             {"name", Json{batch.name}},
                             {"left_mg", Json{batch.left.to_milligrams()}},
                             {"place", Json{batch.place}}}};
  });
  return Json{Json::Object{{"document", Json{change.document}},
                           {"ingredient", Json{change.ingredient.text()}},
                           {"supplier", Json{change.supplier.text()}},
                           {"compared_with_note", Json{static_cast<std::int64_t>(change.before)}},
                           {"looked_at_before", Json{format_date(change.checked_before)}},
                           {"older", Json{change.older}},
                           {"says", json_differences(change.says)},
                           {"packs", json_ids(change.packs)},
                           {"packs_here", json_ids(change.here)},
                           {"recipes", recipes},
                           {"batches", batches},
                           {"cakes_in_any_case", json_cakes(change.in_any_case)},
                           {"cakes_if_packs_are_so", json_cakes(change.if_made_so)},
                           {"touches", Json{change.touches()}}}};
}

void say_difference(const std::string& indent, const Difference& one) {
  Door::say(fmt::format("{}{}", indent, one.what));
  Door::say(fmt::format("{}  was: {}", indent, or_nothing(one.before)));
  Door::say(fmt::format("{}  is:  {}", indent, or_nothing(one.after)));
}

void say_cakes(const std::string& heading, const std::vector<CakeChange>& cakes, bool out) {
  bool first = true;
  for (const auto& cake : cakes) {
    if (cake.out != out) continue;
    if (first) Door::say("  " + heading);
    first = false;
    Door::say(fmt::format("    {} ({}), for {}, with {}", cake.cake.text(), cake.name, format_date_long(cake.event),
                          fmt::join(cake.packs, " and ")));
    for (const auto& one : cake.words) say_difference("      ", one);
    for (const auto& one : cake.verdicts) say_difference("      ", one);
    for (const auto& label : cake.labels)
      Door::say(fmt::format("      its label of note {}, box {}, becomes void: destroy it and print it again", label.note, label.box));
    if (!out) continue;
    Door::say(
        fmt::format("      to be contacted now: {}", cake.customer.empty() ? "nobody is recorded; look at the order" : cake.customer));
    if (cake.keeps_until) Door::say(fmt::format("      it keeps until {}", format_date_long(*cake.keeps_until)));
    for (const auto& told : cake.told) Door::say("      told, " + told);
  }
}

void say_change(const SpecificationChange& change) {
  Door::say(fmt::format("{}: what the pack of {} from {} says has changed since {} (note {})", change.document, change.name,
                        change.supplier.text(), format_date_long(change.checked_before), change.before));
  for (const auto& one : change.says) say_difference("  ", one);
  if (change.older) Door::say("  It was read before the one on file: later deliveries stay under that one.");
  if (!change.recipes.empty()) Door::say("  recipes that take it:");
  for (const auto& recipe : change.recipes) {
    Door::say(fmt::format("    {} ({}){}", recipe.recipe.text(), recipe.name,
                          recipe.allergens.empty() ? ": no allergen of it changes by what packs say" : ""));
    for (const auto& one : recipe.allergens) Door::say(fmt::format("      {}: {}, was {}", one.what, one.after, one.before));
    for (const auto& cake : recipe.planned) Door::say(fmt::format("      {} is ordered with it and not built yet", cake.text()));
  }
  std::vector<std::string> here;
  for (const auto& id : change.here) here.push_back(id.text());
  if (!here.empty()) Door::say(fmt::format("  packs that may already be made so: {}", fmt::join(here, ", ")));
  if (!change.batches.empty()) Door::say("  batches of them that are not used up:");
  for (const auto& batch : change.batches)
    Door::say(fmt::format("    {} ({}), {} left{}", batch.batch.text(), batch.name, format_mass(batch.left),
                          batch.place.empty() ? "" : ", in the " + batch.place));
  say_cakes("cakes here, as soon as it is accepted:", change.in_any_case, false);
  say_cakes("cakes that are out, as soon as it is accepted:", change.in_any_case, true);
  say_cakes("cakes here, if their packs are already made so:", change.if_made_so, false);
  say_cakes("cakes that are out, if their packs are already made so:", change.if_made_so, true);
}

void say_how_to_accept() {
  Door::say("Nothing was recorded. To accept it for later deliveries: the same command with --accept.");
  Door::say("If packs in the house are already made so: --accept --packs pack-7,pack-9 (or --packs all-in-house) --why \"how you know\".");
  Door::say("If you do not know, ask the supplier first, and keep these packs apart.");
}

int print_taken(const Door& door, const Session& session, const TakenSpecifications& taken) {
  const bool demo = session.kitchen().demo;
  if (!door.json) {
    for (const auto& line : taken.against_names) Door::say("Look at the pack again: " + line);
  }
  if (taken.changes.empty() && taken.booked) return door.print_booked(session, *taken.booked);
  if (door.json) {
    Json::Array notes;
    if (taken.booked) {
      for (const auto note : taken.booked->sequences) notes.emplace_back(static_cast<std::int64_t>(note));
    }
    door.print(Json{Json::Object{{"schema", Json{"tierproof/specification-change/1"}},
                                 {"changes", json_each(taken.changes, json_change)},
                                 {"against_names", json_texts(taken.against_names)},
                                 {"recorded", Json{taken.booked.has_value()}},
                                 {"notes", Json{std::move(notes)}},
                                 {"head", Json{format_head(session.head())}}}},
               demo);
  } else {
    if (!taken.booked && demo) Door::say("DEMO");
    for (const auto& change : taken.changes) say_change(change);
    if (taken.booked) return door.print_booked(session, *taken.booked);
    say_how_to_accept();
  }
  return taken.booked ? exit_status::done : exit_status::found_wanting;
}

// ---- why, and how it is sold ------------------------------------------------------------------------------------------------

Json json_rule(const RuleOnWord& rule) {
  return Json{Json::Object{{"row", Json{rule.row}},
                           {"clause", Json{rule.clause}},
                           {"source", Json{rule.source}},
                           {"basis", Json{rule.basis}},
                           {"confirmed", Json{rule.confirmed}}}};
}

int print_explained(const Door& door, const Session& session, const LabelExplained& explained) {
  const bool demo = session.kitchen().demo;
  if (door.json) {
    const auto words = json_each(explained.words, [](const WordExplained& word) {
      const auto ways = json_each(word.ways, [](const WayOfWord& way) {
        const auto notes = json_each(way.notes, [](const NoteOnWay& note) {
          return Json{Json::Object{{"note", Json{static_cast<std::int64_t>(note.note)}}, {"what", Json{note.what}}}};
        });
        return Json{Json::Object{{"way", Json{way.words}}, {"notes", notes}}};
      });
      return Json{Json::Object{{"words", Json{word.words}},
                               {"what", Json{word.what}},
                               {"because", Json{word.because}},
                               {"rules", json_each(word.rules, json_rule)},
                               {"ways", ways}}};
    });
    door.print(Json{Json::Object{{"schema", Json{"tierproof/why/1"}},
                                 {"cake", Json{explained.cake}},
                                 {"name", Json{explained.name}},
                                 {"rules", Json{explained.rules_title}},
                                 {"words", words},
                                 {"head", Json{format_head(session.head())}}}},
               demo);
    return exit_status::done;
  }
  Door::say(fmt::format("{}{}, by the rules of {}", demo ? "DEMO  " : "", explained.cake, explained.rules_title));
  for (const auto& word : explained.words) {
    Door::say(fmt::format("{}: {}", word.what, word.words));
    if (!word.because.empty()) Door::say("    " + word.because);
    for (const auto& rule : word.rules) {
      std::string basis = rule.basis == "read"     ? ""
                          : rule.confirmed.empty() ? " (from memory)"
                                                   : " (from memory, confirmed: " + rule.confirmed + ")";
      const std::string law = rule.source.empty() ? rule.clause : fmt::format("{}, {}", rule.source, rule.clause);
      Door::say(fmt::format("    rule {}: {}{}", rule.row, law, basis));
    }
    for (const auto& way : word.ways) {
      std::vector<std::string> notes;
      for (const auto& note : way.notes) notes.push_back(fmt::format("{} ({})", note.note, note.what));
      Door::say(fmt::format("    {}{}", way.words, notes.empty() ? "" : fmt::format(": note {}", fmt::join(notes, ", "))));
    }
  }
  return exit_status::done;
}

/// The answers as they are typed: `--boxed before --sold-by maker`.
std::string as_options(const SellingAnswers& answers) {
  std::string options;
  for (const auto& question : selling_questions()) {
    for (const auto& answer : question.answers) {
      if (answer.meant == answers.*question.answer) options += fmt::format(" {} {}", question.option, answer.typed);
    }
  }
  return options;
}

std::string surface_option(const SellingAnswers& answers) {
  return answers.surface_cm2 > 0 ? fmt::format(" --surface {}", answers.surface_cm2) : "";
}
std::string face_option(const SellingAnswers& answers) { return answers.face_cm2 > 0 ? fmt::format(" --face {}", answers.face_cm2) : ""; }

/// What an order has to say all the same, although it makes no difference here.
std::string still_asked(const SellingAnswers& answers) {
  std::string options;
  for (const auto& question : selling_questions()) {
    if (question.answer != &SellingAnswers::where && (answers.*question.answer).empty()) options += fmt::format(" {} ...", question.option);
  }
  return options;
}

Json json_sold(const HowSold& sold) {
  const auto open = json_each(sold.open, [](const SellingQuestion& question) {
    const auto answers = json_each(question.answers, [](const SellingAnswer& answer) {
      return Json{Json::Object{{"answer", Json{answer.typed}}, {"words", Json{answer.words}}}};
    });
    return Json{Json::Object{{"option", Json{question.option}}, {"question", Json{question.question}}, {"answers", answers}}};
  });
  Json route;
  if (sold.route) {
    const RouteTerm& row = *sold.route;
    route = Json{Json::Object{{"route", Json{row.route}},
                              {"words", Json{row.words}},
                              {"declaration", Json{row.declaration}},
                              {"on_pack", json_texts(row.on_pack)},
                              {"sentences", json_texts(sold.sentences)},
                              {"told", json_texts(row.told)},
                              {"row", Json{row.cited.row}},
                              {"clause", Json{row.cited.clause}},
                              {"basis", Json{row.cited.from_memory ? "memory" : "read"}},
                              {"confirmed", Json{row.cited.confirmed}},
                              {"small_package", Json{row.small_package ? cite(*row.small_package) : ""}}}};
  }
  return Json{Json::Object{{"schema", Json{"tierproof/how-sold/1"}},
                           {"rules", Json{sold.code}},
                           {"title", Json{sold.title}},
                           {"on", Json{format_date(sold.on)}},
                           {"open", open},
                           {"known", Json{sold.open.empty() && sold.route.has_value()}},
                           {"route", std::move(route)}}};
}

int print_sold(const Door& door, const HowSold& sold, const std::string& code_option, bool demo) {
  const bool unknown = sold.open.empty() && !sold.route;
  if (door.json) {
    door.print(json_sold(sold), demo);
    return unknown ? exit_status::found_wanting : exit_status::done;
  }
  if (demo) Door::say("DEMO");
  Door::say(fmt::format("By the rules of {}, as in force on {}", sold.title, format_date_long(sold.on)));
  if (!sold.open.empty()) {
    int number = 0;
    for (const auto& question : sold.open) {
      Door::say(fmt::format("{}. {}", ++number, question.question));
      for (const auto& answer : question.answers)
        Door::say(fmt::format("   {:<25} {}", question.option + " " + answer.typed, answer.words));
    }
    std::string answers;
    for (const auto& question : sold.open) answers += fmt::format(" {} ...", question.option);
    Door::say(fmt::format("Answer with: tierproof how-sold{}{}{}{}{}", code_option, face_option(sold.answers), surface_option(sold.answers),
                          as_options(sold.answers), answers));
    return exit_status::done;
  }
  if (unknown) {
    Door::say("Not known: no rule of this set says what this way of selling needs. Ask your food authority before you sell like this,");
    Door::say("and give an allergen sheet with the cake (tierproof allergen-sheet).");
    return exit_status::found_wanting;
  }
  const RouteTerm& row = *sold.route;
  Door::say(row.words);
  Door::say(
      fmt::format("on the pack:  {}", row.on_pack.empty() ? "nothing is asked for" : fmt::format("{}", fmt::join(row.on_pack, ", "))));
  for (const auto& sentence : sold.sentences) Door::say(fmt::format("word for word: {}", sentence));
  Door::say(fmt::format("to be told:   {}", row.told.empty() ? "nothing besides" : fmt::format("{}", fmt::join(row.told, "; "))));
  Door::say(fmt::format("rule:         {}", cite(row.cited)));
  if (row.small_package) Door::say(fmt::format("small:        {}", cite(*row.small_package)));
  if (!row.cited.firm()) Door::say("It rests on memory: ask your food authority, and record what they say (tierproof confirm-rule).");
  Door::say("An allergen sheet can be printed however it is sold. Local law and the advice of your food authority come first.");
  const std::string face = face_option(sold.answers);
  Door::say(fmt::format("To record it: tierproof cake --name \"...\" --for DAY{}{}{}{}", face.empty() ? " --face CM2" : face,
                        surface_option(sold.answers), as_options(sold.answers), still_asked(sold.answers)));
  return exit_status::done;
}

}  // namespace

void specification_options(CLI::App& app, Door& door) {
  struct Options {
    std::vector<std::string> files;
    bool accept = false;
    std::vector<std::string> packs;
    std::string why;
  };
  auto options = std::make_shared<Options>();
  app.add_option("files", options->files, "JSON documents")->required();
  app.add_flag("--accept", options->accept, "record it although it changes something that is in use");
  app.add_option("--packs", options->packs, "packs that are already made so, pack-7,pack-9 or all-in-house; else only later deliveries")
      ->delimiter(',');
  app.add_option("--why", options->why, "how you know that these packs are made so");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      SpecificationTaking taking;
      for (const auto& file : options->files) taking.documents.push_back(document_of(file));
      taking.accept = options->accept;
      taking.packs = options->packs;
      taking.why = options->why;
      if (!d.once.empty()) {
        Session session = d.open(false);
        if (const auto before = session.booked_before()) return d.print_booked(session, *before);
      }
      return d.write<TakenSpecifications>(
          [&](Session& session) { return take_specifications(session, taking); },
          [&](Session& session, const TakenSpecifications& taken) { return print_taken(d, session, taken); });
    };
  });
}

void looked_options(CLI::App& app, Door& door) {
  struct Options {
    Looking looking;
    std::string on;
  };
  auto options = std::make_shared<Options>();
  app.add_option("ingredient", options->looking.ingredient, "short name; may be left out with --pack");
  app.add_option("--from", options->looking.supplier, "its supplier; may be left out with --pack");
  app.add_option("--pack", options->looking.pack, "the pack that was looked at; else the newest reading on file");
  app.add_option("--against", options->looking.against, "what was read, such as \"the sack\"")->required();
  app.add_option("--on", options->on, "the day; else today");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      Looking looking = options->looking;
      looking.on = maybe_date("--on", options->on);
      return d.record([&](Session& session) { return look_again(session, looking); },
                      [](const Session&, const Booked&) { Door::say("compared with the pack again, the same"); });
    };
  });
}

void confirm_rule_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<RuleConfirming>();
  app.add_option("row", options->row, "id of the row, as papers and `tierproof list rules-from-memory` name it")->required();
  app.add_option("--body", options->body, "whose word it is, such as \"food authority of the town\"")->required();
  app.add_option("--told-by", options->told_by, "the person who told you; kept apart, so that it can be erased")->required();
  app.add_option("--of", options->code, "the rules that it was confirmed for; else those of the kitchen")->option_text("CODE");
  app.add_option("--at", options->at, "when; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) { return d.record([&](Session& session) { return confirm_rule(session, *options); }); };
  });
}

void why_options(CLI::App& app, Door& door) {
  struct Options {
    std::string cake;
    std::vector<std::string> words;
  };
  auto options = std::make_shared<Options>();
  app.add_option("cake", options->cake, "its number, cake-1")->required();
  app.add_option("words", options->words, "only what holds these words");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.read([&](Session& session) {
        const ZonedInstant now{session.now(), session.offset_at(session.now())};
        const auto explained = explain_label(session, options->cake, options->words, now);
        return explained ? print_explained(d, session, *explained) : d.refuse(explained.error());
      });
    };
  });
}

void how_sold_options(CLI::App& app, Door& door) {
  struct Options {
    std::string code, on;
    std::vector<std::string> typed;  // in the order of the questions
    std::int64_t face = 0;
    std::int64_t surface = 0;
  };
  auto options = std::make_shared<Options>();
  const auto& questions = selling_questions();
  options->typed.resize(questions.size());
  app.add_option("--of", options->code, "label rules to ask; else the kitchen's. With a code, no kitchen file is needed")
      ->option_text("CODE");
  app.add_option("--on", options->on, "the day to judge by; else today");
  for (std::size_t i = 0; i < questions.size(); ++i) {
    std::vector<std::string> answers;
    for (const auto& answer : questions[i].answers) answers.push_back(answer.typed);
    app.add_option(questions[i].option, options->typed[i], fmt::format("{} {}", questions[i].question, fmt::join(answers, ", ")));
  }
  app.add_option("--face", options->face, "area of the largest side of its box, cm2: a small package may go without some of it")
      ->check(CLI::Range(std::int64_t{1}, std::int64_t{1'000'000}));
  app.add_option("--surface", options->surface, "area of all sides of its box together, cm2: some rules go by that")
      ->check(CLI::Range(std::int64_t{1}, std::int64_t{1'000'000}));
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      SellingAnswers answers;
      answers.face_cm2 = options->face;
      answers.surface_cm2 = options->surface;
      for (std::size_t i = 0; i < options->typed.size(); ++i) {
        const SellingQuestion& question = selling_questions()[i];
        if (options->typed[i].empty()) continue;
        const auto meant = selling_answer(question.option, options->typed[i]);
        if (!meant) {
          std::vector<std::string> typed;
          for (const auto& answer : question.answers) typed.push_back(answer.typed);
          bad_option(question.option, options->typed[i], fmt::format("write one of {}", fmt::join(typed, ", ")));
        }
        answers.*question.answer = *meant;
      }
      const auto on = maybe_date("--on", options->on);
      const std::string code_option = options->code.empty() ? "" : " --of " + options->code;
      if (!options->code.empty() && !std::filesystem::exists(d.kitchen_file)) {
        const auto terms = rule_packs()->label_terms(options->code, on.value_or(today_by_the_clock()));
        return terms ? print_sold(d, how_it_is_sold(answers, *terms), code_option, false) : d.refuse(terms.error());
      }
      return d.read([&](Session& session) {
        const auto terms = session.label_terms(on.value_or(session.today()), options->code);
        return terms ? print_sold(d, how_it_is_sold(answers, *terms), code_option, session.kitchen().demo) : d.refuse(terms.error());
      });
    };
  });
}

}  // namespace tierproof::cli
