#include "tierproof/app/ordering.h"

#include <set>

#include "answers.h"
#include "checking.h"
#include "kit.h"
#include "parts.h"
#include "tierproof/sums/allergy.h"
#include "troubles.h"

namespace tierproof {
namespace {

LabelTerms label_rules(const Session& session) {
  auto terms = session.label_terms(session.today());
  if (!terms) throw Fault{exit_status::configuration, describe(terms.error().front())};
  return std::move(terms).value();
}

/// The key, or the word for several, by which the law's list knows `food`; empty when it does not.
std::string on_the_list(const LabelTerms& terms, const std::string& food) {
  const auto same = [&](const std::string& word) { return names_food(word, food) || names_food(food, word); };
  for (const auto& term : terms.allergens) {
    if (same(term.key.substr(term.key.find(':') + 1)) || same(term.word) || std::any_of(term.names.begin(), term.names.end(), same))
      return term.key;
  }
  for (const auto& answer : terms.group_answers) {
    if (same(answer.word) || std::any_of(answer.names.begin(), answer.names.end(), same)) return answer.word;
  }
  return "";
}

/// The keys that a customer's words stand for, or the vague word itself where the rules want it asked again.
std::vector<std::string> meant(Checking& checking, const LabelTerms& terms, const std::vector<std::string>& said) {
  std::vector<std::string> keys;
  const auto add = [&](const std::string& key) {
    if (std::find(keys.begin(), keys.end(), key) == keys.end()) keys.push_back(key);
  };
  for (const auto& word : said) {
    if (terms.allergen(word) != nullptr) {
      add(word);
    } else if (const auto food = unlisted_food(word); !food.empty() && food.find(',') == std::string::npos) {
      checking.free_words("--allergen", food);
      if (const auto listed = on_the_list(terms, food); !listed.empty())
        checking.refuse("--allergen", fmt::format("\"{}\" is on the list", food), fmt::format("write --allergen {}", listed));
      add(word);
    } else if (const auto* group = terms.group_answer(word)) {
      if (group->ask_which) {
        add(group->word);
      } else {
        for (const auto& key : terms.keys_of(*group)) add(key);
      }
    } else {
      std::vector<std::string> known;
      for (const auto& allergen : terms.allergens) known.push_back(allergen.key);
      for (const auto& answer : terms.group_answers) known.push_back(answer.word);
      checking.refuse("--allergen", fmt::format("\"{}\" is not an allergen of the rules in force", word),
                      fmt::format("ask which of the list is meant, and write one of {}; for a food that is not on it, write other:{}",
                                  fmt::join(known, ", "), word));
    }
  }
  return keys;
}

/// Checks an answer, and makes it ready to be booked for the cake it names.
AllergyAnswer checked_answer(Session& session, Checking& checking, const Answering& answering) {
  checking.choice("--answer", answering.answer, {"none", "named", "not asked"});
  const auto keys = meant(checking, label_rules(session), answering.allergens);
  if (answering.answer == "named" && answering.allergens.empty())
    checking.refuse("--allergen", "an allergy was named but not which", "ask, and write each one");
  if (answering.answer != "named" && !answering.allergens.empty())
    checking.refuse("--answer", "allergens are given with another answer than \"named\"", "write --answer named");
  if (answering.answer != "not asked" && answering.of_whom.empty())
    checking.refuse("--of", "who answered is missing", "write who said so, such as \"the customer, by phone\"");
  checking.free_words("--told", answering.told);
  AllergyAnswer answer;
  if (!checking.good()) return answer;
  answer.cake = CakeId{answering.cake};
  answer.answer = answering.answer;
  if (!keys.empty()) answer.allergens = session.seal(joined_keys(keys));
  if (!answering.of_whom.empty()) answer.of_whom = session.seal(answering.of_whom);
  if (!answering.told.empty()) answer.told = session.seal(answering.told);
  return answer;
}

}  // namespace

Result<Booked> order_cake(Session& session, const Ordering& ordering) {
  Checking checking{session};
  checking.person();
  checking.words("--name", ordering.name);
  if (!ordering.event) checking.refuse("--for", "the day of the event is missing", "write it as 2026-05-02");
  checking.choice("--boxed", ordering.boxed, {"before it was chosen", "after it was ordered", "not boxed"});
  checking.choice("--sold-by", ordering.seller, {"the maker", "another business"});
  checking.choice("--ordered", ordering.ordered, {"face to face", "at a distance"});
  if (ordering.boxes < 1 || ordering.boxes > 100) checking.refuse("--boxes", "is not a number of boxes", "write 1 to 100");
  if (ordering.pieces && (*ordering.pieces < 1 || *ordering.pieces > 10'000))
    checking.refuse("--pieces", "is not a number of pieces", "write 1 to 10000");
  if (ordering.largest_face_cm2 < 1)
    checking.refuse("--face", "the area of the box's largest side is missing",
                    "write it in cm², such as 900: the size of print depends on it");
  if (ordering.surface_cm2 && *ordering.surface_cm2 < ordering.largest_face_cm2)
    checking.refuse("--surface",
                    fmt::format("{} cm² is less than its largest side has, {} cm²", *ordering.surface_cm2, ordering.largest_face_cm2),
                    "write the area of all sides together, lid and base too, or leave it out");
  for (const auto& group : ordering.varying) checking.words("--varying", group);
  for (const auto& word : ordering.shows_in) {
    checking.words("--shows-in", word.word);
    checking.words("--shows-in", word.there);
  }
  for (const auto& recipe : ordering.planned) checking.known("--of-recipe", session.state().recipes, recipe, "recipe");
  if (!ordering.where.empty()) checking.choice("--where", ordering.where, {"where it is made", "somewhere else", "delivered"});
  if (!ordering.label_rules.empty()) checking.choice("--rules", ordering.label_rules, session.packs().with_labels());
  for (const auto& shown : ordering.shows) checking.words("--shows", shown);
  for (const auto& mark : ordering.marks) checking.choice("--mark", mark, {food_marks.begin(), food_marks.end()});
  if (!ordering.list.empty()) checking.choice("--list", ordering.list, {"merged", "by part"});
  for (const auto& name : ordering.other_names) checking.words("--name-in", name.name);
  check_gtin(checking, ordering.gtin, session.kitchen(), "--gtin");
  const ZonedInstant at = checking.moment("now");
  std::optional<AllergyAnswer> answer;
  const std::string id = session.next<Cake>("cake");
  if (ordering.allergy) {
    Answering answering = *ordering.allergy;
    answering.cake = id;
    answer = checked_answer(session, checking, answering);
  }
  if (!checking.good()) return checking.refusals();
  Cake cake;
  cake.name = ordering.name;
  cake.event = *ordering.event;
  if (!ordering.customer.empty()) cake.customer = session.seal(ordering.customer);
  if (!ordering.contact.empty()) cake.contact = session.seal(ordering.contact);
  cake.boxed = ordering.boxed;
  cake.seller = ordering.seller;
  cake.ordered = ordering.ordered;
  cake.boxes = ordering.boxes;
  cake.largest_face_cm2 = ordering.largest_face_cm2;
  cake.pieces = ordering.pieces;
  for (const auto& recipe : ordering.planned) cake.planned.emplace_back(recipe);
  cake.where = ordering.where;
  cake.label_rules = ordering.label_rules;
  cake.shows = ordering.shows;
  cake.marks = ordering.marks;
  cake.list = ordering.list;
  cake.other_names = ordering.other_names;
  cake.gtin = ordering.gtin;
  cake.surface_cm2 = ordering.surface_cm2;
  cake.varying = ordering.varying;
  cake.shows_in = ordering.shows_in;
  std::vector<Draft> drafts{session.draft(cake, id, at)};
  if (answer) drafts.push_back(session.draft(*answer, id, at));
  for (const auto& draft : drafts) checking.take(check_body(draft.kind, draft.body, "what is recorded"));
  if (!checking.good()) return checking.refusals();
  return session.book(std::move(drafts));
}

Result<Booked> answer_allergy(Session& session, const Answering& answering) {
  Checking checking{session};
  checking.person();
  checking.known("cake", session.state().cakes, answering.cake, "cake");
  const auto* before = session.state().answer(CakeId{answering.cake});
  if (before != nullptr && answering.why.empty()) {
    checking.refuse("--why", fmt::format("note {} holds an answer already", before->sequence),
                    "write who changed it and why; the first answer stays readable");
  }
  if (before != nullptr) refuse_while_complained(checking, session.state(), CakeId{answering.cake});
  if (before == nullptr && !answering.why.empty()) checking.refuse("--why", "there is no answer yet that could change", "leave it out");
  const ZonedInstant at = checking.moment(answering.at);
  const AllergyAnswer answer = checked_answer(session, checking, answering);
  if (!checking.good()) return checking.refusals();
  Draft draft = session.draft(answer, answering.cake, at);
  if (before != nullptr) {
    draft.supersedes = before->sequence;
    draft.why = sealed_json(session.seal(answering.why));
  }
  return session.book({std::move(draft)});
}

Result<Booked> accept_in_writing(Session& session, const std::string& cake, const std::vector<std::string>& allergens,
                                 const std::string& written) {
  Checking checking{session};
  checking.person();
  checking.known("cake", session.state().cakes, cake, "cake");
  const auto keys = allergen_keys(session, session.today());
  for (const auto& allergen : allergens) checking.choice("--allergen", allergen, keys);
  if (allergens.empty()) checking.refuse("--allergen", "which traces were accepted is missing", "write each one");
  if (written.empty())
    checking.refuse("--written", "a yes to traces counts only in writing", "say where the customer's own words are kept");
  if (!checking.good()) return checking.refusals();
  return book_one(session, checking, Acceptance{CakeId{cake}, session.seal(joined_keys(allergens)), session.seal(written)}, cake,
                  checking.moment("now"));
}

Result<Booked> tell_customer(Session& session, const Telling& telling) {
  Checking checking{session};
  checking.person();
  checking.known("cake", session.state().cakes, telling.cake, "cake");
  checking.choice("--when", telling.when, {"before the order", "before it was handed over", "after it was handed over"});
  checking.words("--words", telling.words);
  if (telling.to.empty()) checking.refuse("--to", "who was told is missing", "write it, such as \"the customer, by message\"");
  const ZonedInstant at = checking.moment(telling.at);
  if (!checking.good()) return checking.refusals();
  const Told told{CakeId{telling.cake}, telling.when, session.seal(telling.to), session.seal(telling.words), telling.text};
  return book_one(session, checking, told, telling.cake, at);
}

namespace {

/// The bought-in ingredients of recipes, sub-recipes included.
class Planned {
 public:
  Planned(const Session& session, Date on) : state_{session.state()}, on_{on} {}

  void recipe(const RecipeId& id) {
    if (!seen_.insert(id.text()).second) return;
    const auto found = state_.recipes.find(id);
    if (found == state_.recipes.end()) {
      foods.push_back({id.text(), std::nullopt});
      return;
    }
    for (const auto& kit : found->second.value.kit) kit_of.emplace_back(kit, found->second.value.name);
    for (const auto& item : found->second.value.items) {
      if (item.recipe) {
        recipe(RecipeId{item.of});
      } else {
        ingredient(IngredientId{item.of}, found->second.value.name);
      }
    }
  }

  /// One way in which a food comes into the plan: in words, and what its pack says; nothing when no pack was read.
  std::vector<std::pair<std::string, std::optional<IngredientFacts>>> foods;
  std::vector<std::pair<EquipmentId, std::string>> kit_of;

 private:
  void ingredient(const IngredientId& id, const std::string& recipe) {
    const auto found = state_.ingredients.find(id);
    const std::string name = found == state_.ingredients.end() ? id.text() : found->second.value.name;
    bool read = false;
    for (const auto& [supplier, card] : state_.suppliers) {
      const auto* specification = state_.specification(id, supplier, on_);
      if (specification == nullptr || found == state_.ingredients.end()) continue;
      read = true;
      foods.emplace_back(fmt::format("{} of {}, in {}", name, card.value.firm.name, recipe),
                         ingredient_facts(found->second.value, id, specification->value));
    }
    if (!read) foods.emplace_back(fmt::format("{}, in {}", name, recipe), std::nullopt);
  }

  const State& state_;
  Date on_;
  std::set<std::string> seen_;
};

}  // namespace

std::vector<std::string> vague_words(const Session& session, const CakeId& cake) {
  std::vector<std::string> words;
  const auto ordered = session.state().cakes.find(cake);
  const auto terms = session.label_terms(session.today(), ordered == session.state().cakes.end() ? "" : ordered->second.value.label_rules);
  const auto* answer = session.state().answer(cake);
  if (answer == nullptr || !terms) return words;
  for (const auto& said : split_keys(answer->value.allergens)) {
    if (terms->allergen(said) == nullptr && terms->group_answer(said) != nullptr) words.push_back(said);
  }
  return words;
}

std::vector<Finding> judge_planned(const Session& session, const CakeId& cake, Date on) {
  const State& state = session.state();
  const auto ordered = state.cakes.find(cake);
  const auto built = [&](const auto& tier) { return tier.value.cake == cake; };
  if (ordered == state.cakes.end() || ordered->second.value.planned.empty()) return {};
  if (std::any_of(state.tiers.begin(), state.tiers.end(), built)) return {};
  const auto terms = session.label_terms(on, ordered->second.value.label_rules);
  if (!terms) return {};
  const auto named = named_allergens(state, cake, *terms);
  if (named.empty()) return {};
  Planned planned{session, on};
  for (const auto& recipe : ordered->second.value.planned) planned.recipe(recipe);
  std::vector<PlannedMeeting> meetings;
  for (const auto& key : named) {
    PlannedMeeting meeting;
    meeting.word = words_of_keys(*terms, {key}).front();
    for (const auto& [words, facts] : planned.foods) {
      const Presence presence = facts ? pack_statement(*facts, key).presence : Presence::unknown;
      if (presence == Presence::contains) meeting.contains.push_back(words);
      if (presence == Presence::may_contain) meeting.may_contain.push_back(words);
      if (presence == Presence::unknown) meeting.unknown.push_back(words);
    }
    // Kit that the plan shares with batches that brought the allergen.
    for (const auto& use : kit_uses_by(session, *terms)) {
      if (use.batch.empty() || std::find(use.allergens.begin(), use.allergens.end(), meeting.word) == use.allergens.end()) continue;
      for (const auto& [kit, recipe] : planned.kit_of) {
        const auto batch = state.batches.find(BatchId{use.batch});
        if (batch == state.batches.end()) continue;  // a cake that was put together with it
        const auto& kit_used = batch->second.value.kit;
        if (std::find(kit_used.begin(), kit_used.end(), kit) == kit_used.end()) continue;
        const std::string words = fmt::format("{}, for {}: {} was made with it", use.equipment, recipe, use.batch_name);
        if (std::find(meeting.shared_kit.begin(), meeting.shared_kit.end(), words) == meeting.shared_kit.end())
          meeting.shared_kit.push_back(words);
      }
    }
    meetings.push_back(std::move(meeting));
  }
  return judge_planned_allergy(cake.text(), meetings);
}

namespace {

/// What a ready-made text may ask for, in braces.
std::vector<std::pair<std::string, std::string>> fields_of(const Session& session, const Recorded<Cake>& cake, ZonedInstant at) {
  const State& state = session.state();
  const auto* answer = state.answer(CakeId{cake.subject});
  std::string said = "not asked yet";
  if (answer != nullptr) {
    said = answer->value.answer;
    const auto terms = session.label_terms(day_of(at.at, at.offset), cake.value.label_rules);
    if (answer->value.answer == "named" && terms)
      said = answer->value.allergens.text ? fmt::format("{}", fmt::join(words_of_keys(*terms, split_keys(answer->value.allergens)), ", "))
                                          : "erased";
  }
  return {{"kitchen", session.kitchen().name},
          {"cake", cake.value.name},
          {"event", format_date_long(cake.value.event)},
          {"today", format_date_long(day_of(at.at, at.offset))},
          {"answer", said}};
}

/// Braces that hold no field that is known.
Refusals unknown_fields(const std::string& file, const std::string& text, const std::vector<std::pair<std::string, std::string>>& fields) {
  Refusals refusals;
  std::vector<std::string> names;
  for (const auto& [name, words] : fields) names.push_back("{" + name + "}");
  int line = 2;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\n') ++line;
    if (text[i] != '{') continue;
    const std::string field = text.substr(i, text.find('}', i) - i + 1);
    if (std::find(names.begin(), names.end(), field) != names.end()) continue;
    refusals.push_back({file, line, "", fmt::format("\"{}\" is no field of a ready-made text", field),
                        fmt::format("use one of {}", fmt::join(names, ", "))});
  }
  return refusals;
}

}  // namespace

Result<std::vector<ReadyText>> ready_texts(const Session& session, const CakeId& cake,
                                           const std::vector<std::pair<std::string, std::string>>& files, ZonedInstant at) {
  Checking checking{session};
  const auto* ordered = checking.known("cake", session.state().cakes, cake.text(), "cake");
  if (ordered == nullptr) return checking.refusals();
  const auto fields = fields_of(session, *ordered, at);
  std::vector<ReadyText> texts;
  for (const auto& [name, text] : files) {
    checking.in_file(name + ".txt");
    const auto line = text.find('\n');
    ReadyText ready{name, text.substr(0, line), line == std::string::npos ? "" : text.substr(line + 1)};
    checking.take(unknown_fields(name + ".txt", ready.text, fields));
    for (const auto& [field, words] : fields) {
      const std::string brace = "{" + field + "}";
      for (auto found = ready.text.find(brace); found != std::string::npos; found = ready.text.find(brace, found + words.size()))
        ready.text.replace(found, brace.size(), words);
    }
    if (ready.about.empty() || ready.text.empty()) checking.refuse("", "has no text", "write what it is for on line 1, then the text");
    texts.push_back(std::move(ready));
  }
  if (!checking.good()) return checking.refusals();
  return texts;
}

}  // namespace tierproof
