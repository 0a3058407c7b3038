#include <fmt/format.h>

#include "door.h"
#include "tierproof/app/ordering.h"
#include "tierproof/app/selling.h"

namespace tierproof::cli {
namespace {

/// The short answer that is typed, and what it stands for in the records.
std::string long_answer(const std::string& text, const std::vector<std::pair<std::string, std::string>>& answers) {
  for (const auto& [typed, meant] : answers) {
    if (text == typed) return meant;
  }
  return text;
}

std::string when_told(const std::string& typed) {
  return long_answer(typed, {{"before-order", "before the order"},
                             {"before-hand-over", "before it was handed over"},
                             {"after-hand-over", "after it was handed over"}});
}

/// A text of several lines as words of a note: line breaks become spaces.
std::string one_line(const std::string& text) {
  std::string line;
  for (const char c : text) {
    const bool gap = c == '\n' || c == ' ';
    if (gap && (line.empty() || line.back() == ' ')) continue;
    line += gap ? ' ' : c;
  }
  while (!line.empty() && line.back() == ' ') line.pop_back();
  return line;
}

/// Says what the answer to the allergy question asks for next: it is compared with what is planned at once.
void say_what_the_answer_meets(const Session& session, const std::string& cake) {
  const auto* answer = session.state().answer(CakeId{cake});
  if (answer == nullptr || answer->value.answer == "not asked") {
    Door::say("The allergy question is still to be asked: tierproof message ask-allergy " + cake);
    return;
  }
  for (const auto& word : vague_words(session, CakeId{cake}))
    Door::say(
        fmt::format("\"{}\" may mean several: the order waits until they say which ones: tierproof message which-ones {}", word, cake));
  for (const auto& finding : judge_planned(session, CakeId{cake}, session.today())) {
    Door::say(fmt::format("As planned: {}", finding.message));
    for (const auto& path : finding.paths) Door::say("  - " + path);
    Door::say(fmt::format("  to do: {}", finding.remedy));
  }
}

/// Records an order or an answer, and compares it with what is planned.
int record_answer(Door& door, const std::function<Result<Booked>(Session&)>& act) {
  return door.record(act,
                     [](const Session& session, const Booked& booked) { say_what_the_answer_meets(session, booked.subjects.front()); });
}

}  // namespace

void cake_options(CLI::App& app, Door& door) {
  struct Options {
    Ordering ordering;
    std::string event;
    Answering allergy;
    std::int64_t pieces = 0;
    std::vector<std::string> names_in;
    std::vector<std::string> shows_in;
    std::int64_t surface = 0;
  };
  auto options = std::make_shared<Options>();
  auto& ordering = options->ordering;
  app.add_option("--name", ordering.name, "name of the food, as it stands on the label")->required();
  app.add_option("--for", options->event, "day of the event")->required();
  app.add_option("--customer", ordering.customer, "who ordered it; kept apart, so that it can be erased");
  app.add_option("--boxed", ordering.boxed, "before (before the customer chose it), after (after it was ordered) or not")->required();
  app.add_option("--sold-by", ordering.seller, "maker, or other (another business sells it on)")->required();
  app.add_option("--ordered", ordering.ordered, "face-to-face, or distance (telephone, message, web)")->required();
  app.add_option("--boxes", ordering.boxes, "how many boxes it leaves in")->check(whole_number(1, 100));
  app.add_option("--face", ordering.largest_face_cm2, "area of the largest side of the box, in cm²")
      ->required()
      ->check(whole_number(1, 100'000));
  app.add_option("--surface", options->surface, "area of all sides of the box together, in cm²: some rules spare small packages by it")
      ->check(whole_number(1, 1'000'000));
  app.add_option("--contact", ordering.contact, "telephone or address; kept apart, so that it can be erased");
  app.add_option("--pieces", options->pieces, "how many pieces it is for")->check(whole_number(1, 10'000));
  app.add_option("--of-recipe", ordering.planned, "a recipe that it is to be made of; give each");
  app.add_option("--where", ordering.where, "where the customer gets it: here (where it is made), elsewhere, or delivered");
  app.add_option("--rules", ordering.label_rules, "label rules of where it is sold, when other than the kitchen's")->option_text("CODE");
  app.add_option("--shows", ordering.shows, "an ingredient, or a sort of them, that its name or pictures bring out; give each");
  app.add_option("--shows-in", options->shows_in, "such a word in another language of the label, fr:nuts=noix; give each");
  app.add_option(
      "--varying", ordering.varying,
      "a sort of foods whose proportions vary from cake to cake, such as fruit: it stands as one in the list where a rule allows "
      "that; give each");
  app.add_option("--mark", ordering.marks, "what is special about the whole cake, such as defrosted; give each");
  app.add_option("--list", ordering.list, "merged (one list for the whole cake) or by-part; else the shorter one");
  app.add_option("--name-in", options->names_in, "its name in another language of the label, fr=\"Gâteau au citron\"; give each");
  app.add_option("--gtin", ordering.gtin, "its GTIN, which begins with the kitchen's GS1 Company Prefix: labels then carry a GS1 code")
      ->option_text("DIGITS");
  app.add_option("--allergy", options->allergy.answer, "the answer to the allergy question, if it was given: none, named or \"not asked\"");
  app.add_option("--allergen", options->allergy.allergens, "an allergen that was named, such as nuts:almond");
  app.add_option("--of", options->allergy.of_whom, "who answered, and how");
  app.add_option("--told", options->allergy.told, "what the customer was told, in the words told");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      Ordering asked = options->ordering;
      asked.event = date_of("--for", options->event);
      asked.boxed = selling_answer("--boxed", asked.boxed).value_or(asked.boxed);
      asked.seller = selling_answer("--sold-by", asked.seller).value_or(asked.seller);
      asked.ordered = selling_answer("--ordered", asked.ordered).value_or(asked.ordered);
      asked.where = selling_answer("--where", asked.where).value_or(asked.where);
      if (asked.list == "by-part") asked.list = "by part";
      for (const auto& text : options->names_in) {
        const auto [language, name] = pair_of("--name-in", text, "fr=\"Gâteau au citron\"");
        asked.other_names.push_back({language, name});
      }
      for (const auto& text : options->shows_in) {
        const auto [shown, there] = pair_of("--shows-in", text, "fr:nuts=noix");
        const auto colon = shown.find(':');
        if (colon == std::string::npos) bad_option("--shows-in", text, "write it like fr:nuts=noix");
        asked.shows_in.push_back({shown.substr(0, colon), shown.substr(colon + 1), there});
      }
      if (options->surface != 0) asked.surface_cm2 = options->surface;
      if (options->pieces != 0) asked.pieces = options->pieces;
      const auto& allergy = options->allergy;
      if (!allergy.answer.empty() || !allergy.allergens.empty() || !allergy.of_whom.empty() || !allergy.told.empty())
        asked.allergy = allergy;
      return record_answer(d, [&](Session& session) { return order_cake(session, asked); });
    };
  });
}

void allergy_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<Answering>();
  app.add_option("cake", options->cake, "its number, cake-1")->required();
  app.add_option("--answer", options->answer, "none, named or \"not asked\"")->required();
  app.add_option("--allergen", options->allergens, "an allergen that was named, such as nuts:almond");
  app.add_option("--of", options->of_whom, "who answered, and how");
  app.add_option("--told", options->told, "what the customer was told, in the words told");
  app.add_option("--why", options->why, "why an answer that is recorded already changes");
  app.add_option("--at", options->at, "when it was answered; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) { return record_answer(d, [&](Session& session) { return answer_allergy(session, *options); }); };
  });
}

void accepted_options(CLI::App& app, Door& door) {
  struct Options {
    std::string cake, written;
    std::vector<std::string> allergens;
  };
  auto options = std::make_shared<Options>();
  app.add_option("cake", options->cake, "its number, cake-1")->required();
  app.add_option("--allergen", options->allergens, "traces that were accepted")->required();
  app.add_option("--written", options->written, "where the customer's own words are kept")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return accept_in_writing(session, options->cake, options->allergens, options->written); });
    };
  });
}

void told_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<Telling>();
  app.add_option("cake", options->cake, "its number, cake-1")->required();
  app.add_option("--when", options->when, "before-order, before-hand-over or after-hand-over")->required();
  app.add_option("--to", options->to, "who was told, and how")->required();
  app.add_option("--words", options->words, "the words told")->required();
  app.add_option("--at", options->at, "when; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      Telling telling = *options;
      telling.when = when_told(telling.when);
      return d.record([&](Session& session) { return tell_customer(session, telling); });
    };
  });
}

void message_options(CLI::App& app, Door& door) {
  struct Options {
    std::string name, cake, sent_to, when = "before-order";
  };
  auto options = std::make_shared<Options>();
  app.add_option("text", options->name, "its name; left out, the texts are listed");
  app.add_option("cake", options->cake, "its number, cake-1");
  app.add_option("--sent-to", options->sent_to, "record that it was sent, and to whom");
  app.add_option("--when", options->when, "with --sent-to: before-order, before-hand-over or after-hand-over")->capture_default_str();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      const auto files = load_texts(d.data());
      if (options->name.empty()) {
        for (const auto& [name, text] : files) Door::say(fmt::format("{:16}{}", name, text.substr(0, text.find('\n'))));
        return static_cast<int>(exit_status::done);
      }
      const auto text_of = [&](const Session& session) -> Result<ReadyText> {
        const auto texts = ready_texts(session, CakeId{options->cake}, files, {session.now(), session.offset_at(session.now())});
        if (!texts) return texts.error();
        std::vector<std::string> names;
        for (const auto& text : *texts) {
          if (text.name == options->name) return text;
          names.push_back(text.name);
        }
        return Refusal{"", 0, "text", fmt::format("there is no text called \"{}\"", options->name),
                       fmt::format("name one of {}", fmt::join(names, ", "))};
      };
      if (options->sent_to.empty()) {
        return d.read([&](Session& session) {
          const auto text = text_of(session);
          if (!text) return d.refuse(text.error());
          if (d.json) {
            d.print(Json{Json::Object{{"schema", Json{"tierproof/message/1"}},
                                      {"cake", Json{options->cake}},
                                      {"text", Json{text->name}},
                                      {"words", Json{text->text}}}},
                    session.kitchen().demo);
          } else {
            Door::mark_demo(session.kitchen().demo);
            std::fputs(text->text.c_str(), stdout);
          }
          return static_cast<int>(exit_status::done);
        });
      }
      return d.record([&](Session& session) -> Result<Booked> {
        const auto text = text_of(session);
        if (!text) return text.error();
        return tell_customer(session, {options->cake, when_told(options->when), options->sent_to, one_line(text->text), text->name});
      });
    };
  });
}

}  // namespace tierproof::cli
