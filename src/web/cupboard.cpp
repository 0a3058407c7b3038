// The cupboard: what came in, what is opened, what runs out, and what the packs say.
#include <fmt/format.h>

#include "deeds.h"
#include "looking_again.h"
#include "parts.h"
#include "tierproof/app/changing.h"
#include "tierproof/app/reading_packs.h"
#include "tierproof/app/stores.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

Html pack_card(Visit& visit, const PackHere& pack) {
  const std::string id = pack.id.text();
  Html inside = el("h3", {}, el("a", {{"href", "/cupboard/pack/" + id}}, pack.food)) +
                el("p", {}, fmt::format("{} left · code {} · {}", format_mass(pack.left), pack.code, id));
  if (!pack.date_words.empty()) inside += el("p", {{"class", "date"}}, pack.date_words);
  if (!pack.must_not_go.empty()) inside += el("p", {{"class", "stop"}}, "Do not use: " + pack.must_not_go);
  if (visit.may_record() && !pack.opened && pack.must_not_go.empty())
    inside += button_form(visit, "/cupboard/opened", "Opened now", {{"pack", id}}, "plain", true);
  return el("li", {{"class", "card"}}, inside);
}

WebAnswer cupboard_page(Visit& visit) {
  const auto packs = packs_here(visit.records(), visit.today());
  Html main = el("h1", {}, "Cupboard");
  if (visit.may_record())
    main +=
        el("p", {{"class", "actions"}}, link_button("/cupboard/in", "A pack came in", "main"), link_button("/cupboard/new", "A new food"));
  if (packs.empty()) {
    main += visit.records().state().ingredients.empty()
                ? nothing_yet(
                      "Nothing is in the cupboard yet. Begin with a food that goes into your first cake: what it is, who sells it, and "
                      "what its pack says.",
                      visit.may_record() ? "/cupboard/new" : "", "A new food")
                : nothing_yet("No pack with anything left in it is on record.", visit.may_record() ? "/cupboard/in" : "", "A pack came in");
  } else {
    Html cards;
    for (const auto& pack : packs) cards += pack_card(visit, pack);
    main += el("h2", {}, "What is here, the earliest date first") + el("ul", {{"class", "cards"}}, cards);
  }
  main += to_look_at_here(visit);
  Html unread;
  for (const auto& [id, food] : visit.records().state().ingredients) {
    const auto& on_file = visit.records().state().specifications;
    const bool known =
        std::any_of(on_file.begin(), on_file.end(), [&, of = id](const auto& one) { return one.second.value.ingredient == of; });
    if (!known && visit.may_record())
      unread += el("li", {}, link_button("/cupboard/says/" + id.text(), food.value.name + ": what does its pack say?"));
  }
  if (!unread.empty()) main += el("h2", {}, "Packs that nobody has read yet") + el("ul", {{"class", "plain-list"}}, unread);
  return page(visit, "Cupboard", "cupboard", main);
}

std::vector<DeedField> pack_in_fields() {
  return {{"ingredient", "short name of the food", true},
          {"supplier", "short name of who sold it"},
          {"code", "lot code on the pack"},
          {"scanned", "the GS1 code as a scanner gives it"},
          {"mass", "how much came, in grams or with its unit"},
          {"use-by", "day, 2026-05-01"},
          {"best-before", "day"},
          {"dispatched", "day it was sent, of food from animals"},
          {"egg-source", "own hens, assured scheme or no scheme"},
          {"scheme", "name of the scheme"},
          {"laid", "first day of lay"},
          {"at", "when, on the kitchen's clock; empty: now"}};
}

WebAnswer pack_in_page(Visit& visit) {
  const Session& records = visit.records();
  const std::string chosen = visit.request.query["of"];
  FormView form{visit, "/cupboard/in", "pack-in"};
  form.pick("ingredient", "Food", foods_of(records), {.value = chosen, .needed = true})
      .pick("supplier", "From", suppliers_of(records), {.hint = "Left empty: as the last time."})
      .text("code", "Code on the pack",
            {.hint = "The lot or batch code, as it is printed. It is asked for when a supplier recalls something."})
      .number("mass", "How much", {.hint = "In grams. Left empty: as the last time.", .unit = "g"})
      .day("use-by", "Use by")
      .day("best-before", "Best before");
  form.fold_begin("Scanned code, eggs, delivery note");
  form.text("scanned", "Scanned code", {.hint = "Click here and scan a GS1 code: lot, dates and mass come from it."})
      .day("dispatched", "Sent on", {.hint = "Of food from animals: the day on the delivery note."})
      .tiles("egg-source", "Shell eggs from",
             {{"own hens", "own hens"}, {"assured scheme", "an assured scheme"}, {"no scheme", "no scheme"}})
      .text("scheme", "Which scheme")
      .day("laid", "First day of lay");
  form.fold_end();
  add_when(form);
  return page(
      visit, "A pack came in", "cupboard",
      el("h1", {}, "A pack came in") + (foods_of(records).empty() ? nothing_yet("No food is on record yet.", "/cupboard/new", "A new food")
                                                                  : form.kept_without_server().finish("Book it in")));
}

std::optional<Booked> pack_in(Visit& visit) {
  Delivery delivery;
  delivery.ingredient = visit.typed("ingredient");
  delivery.supplier = visit.typed("supplier");
  delivery.code = std::string{trimmed(visit.typed("code"))};
  delivery.scanned = visit.typed("scanned");
  delivery.mass = visit.mass("mass", false);
  delivery.use_by = visit.day("use-by", false);
  delivery.best_before = visit.day("best-before", false);
  delivery.dispatched = visit.day("dispatched", false);
  delivery.egg_source = visit.typed("egg-source");
  delivery.egg_scheme = visit.typed("scheme");
  delivery.laid = visit.day("laid", false);
  delivery.at = visit.typed("at");
  const auto& lots = visit.records().state().lots;
  delivery.again =
      std::any_of(lots.begin(), lots.end(), [&](const auto& lot) { return lot.second.value.ingredient.text() == delivery.ingredient; });
  if (!visit.wrong.empty()) return std::nullopt;
  return visit.record([&](Session& session) { return receive(session, delivery); });
}

std::optional<Booked> pack_opened(Visit& visit) {
  return visit.record([&](Session& session) { return open_pack(session, visit.typed("pack"), visit.typed("at")); });
}

WebAnswer new_food_page(Visit& visit) {
  FormView form{visit, "/cupboard/new", "new-food"};
  form.text("name", "What is it?", {.hint = "As you call it: unsalted butter, ground almonds", .needed = true});
  const Choices suppliers = suppliers_of(visit.records());
  if (!suppliers.empty()) form.pick("supplier", "Who sells it", suppliers, {.hint = "Or write a new one below."});
  form.text("supplier-name", suppliers.empty() ? "Who sells it" : "A new seller", {.hint = "Name of the firm"})
      .text("supplier-address", "Their address", {.hint = "As on the receipt or delivery note: who sold it has to be found again"})
      .tiles("egg", "Is it egg?",
             {{"none", "no"},
              {"shell", "eggs in the shell"},
              {"pasteurised", "pasteurised egg, liquid or frozen"},
              {"dried pasteurised", "dried pasteurised egg"}},
             {.value = "none", .needed = true})
      .ticks("is", "It is", {{"animal", "food from animals, such as butter or cream"}, {"sugar", "a sugar"}, {"water", "water"}});
  return page(visit, "A new food", "cupboard",
              el("h1", {}, "A new food") + el("p", {{"class", "step"}}, "Step 1 of 2. The next one asks what its pack says.") +
                  form.finish("Next: what the pack says"));
}

std::optional<Booked> new_food(Visit& visit) {
  const std::string name{trimmed(visit.typed("name"))};
  std::string supplier = visit.typed("supplier");
  const std::string seller{trimmed(visit.typed("supplier-name"))};
  if (supplier.empty() && seller.empty()) visit.refuse("supplier-name", "is missing", "write who sells it");
  if (!supplier.empty() && !seller.empty())
    visit.refuse("supplier-name", "is given besides one that was chosen", "choose one, or write a new one");
  if (!visit.wrong.empty()) return std::nullopt;
  const auto is = visit.request.form.every("is");
  const auto has = [&](const char* what) { return std::find(is.begin(), is.end(), what) != is.end(); };
  const Ingredient food{name, has("water"), has("sugar"), has("animal") || visit.typed("egg") != "none", visit.typed("egg"), {}};
  std::optional<NewSupplier> fresh;
  if (supplier.empty()) {
    const Supplier typed{{seller, std::string{trimmed(visit.typed("supplier-address"))}}, {}, {}};
    const auto& known = visit.records().state().suppliers;
    const auto same = [&](const auto& one) {
      return one.second.value.firm.name == typed.firm.name && one.second.value.firm.address == typed.firm.address;
    };
    const auto found = std::find_if(known.begin(), known.end(), same);
    if (found == known.end())
      fresh = NewSupplier{short_name(seller, [&](const std::string& id) { return known.contains(SupplierId{id}); }), typed};
    supplier = fresh ? fresh->id : found->first.text();
  }
  const std::string id =
      short_name(name, [&](const std::string& taken) { return visit.records().state().ingredients.contains(IngredientId{taken}); });
  visit.remember("supplier", supplier);
  return visit.record([&](Session& session) { return add_food(session, id, food, fresh); });
}

/// Who sells `food`, as far as the records say it: the seller of its last pack or reading.
std::string seller_of(const Session& records, const std::string& food) {
  std::string seller;
  for (const auto& [place, one] : records.state().specifications) {
    if (one.value.ingredient.text() == food) seller = one.value.supplier.text();
  }
  return seller;
}

WebAnswer says_page(Visit& visit) {
  const auto food = visit.records().state().ingredients.find(IngredientId{visit.part});
  if (food == visit.records().state().ingredients.end()) return not_there(visit, "No food of this name is on record.");
  std::string seller = visit.request.query["from"];
  if (seller.empty()) seller = seller_of(visit.records(), visit.part);
  FormView form{visit, "/cupboard/read/" + visit.part, "read"};
  form.pick("supplier", "Sold by", suppliers_of(visit.records()), {.value = seller, .needed = true})
      .text("label-name", "Its name on the pack", {.hint = "As the pack names the food", .value = food->second.value.name, .needed = true})
      .long_text("text", "What the pack says it is made of",
                 {.hint = "Type or paste the list, from \"Ingredients:\" on, with \"contains\" and \"may contain\" where they stand. Of a "
                          "food that is one thing alone, such as sugar, write that one word.",
                  .needed = true})
      .text("checked-against", "What you read it from", {.value = "the pack", .needed = true})
      .tiles("storage", "How it is kept", {{"room", "at room temperature"}, {"fridge", "in the fridge"}, {"freezer", "in the freezer"}},
             {.needed = true});
  return page(visit, "What the pack says", "cupboard",
              el("h1", {}, food->second.value.name + ": what does the pack say?") +
                  el("p", {{"class", "step"}}, "Nothing is recorded yet. The next page shows what was understood, for you to confirm.") +
                  form.finish("Read it"));
}

constexpr const char* not_named = "not said";

/// What was understood, and the answer to each allergen of the law for the person to confirm.
WebAnswer confirm_page(Visit& visit, const PackRead& read, const std::string& document) {
  Html lines;
  for (const auto& line : read.lines) {
    std::string words = line.name;
    if (!line.share.empty()) words += " " + line.share;
    if (!line.additive.empty()) words += " (" + line.additive + ")";
    lines += el("li", {{"class", fmt::format("depth-{}", std::min<std::size_t>(line.depth, 4))}}, words,
                line.contains.empty() ? Html{} : el("strong", {}, " → " + line.contains),
                line.ask.empty() ? Html{} : el("em", {}, " " + line.ask));
  }
  Html ask;
  for (const auto& sentence : read.to_ask) ask += el("li", {}, sentence);
  for (const auto& sentence : read.other) ask += el("li", {}, "Not understood, read it yourself: " + sentence);
  FormView form{visit, "/cupboard/says/" + visit.part, "confirm"};
  form.hidden("document", document).hidden("text", visit.typed("text"));
  for (const auto& [key, word] : allergens_of(visit.records())) {
    const auto in = [&, of = key](const std::vector<std::string>& keys) { return std::find(keys.begin(), keys.end(), of) != keys.end(); };
    const char* value = in(read.contains) ? "contains" : in(read.may_contain) ? "may contain" : in(read.unknown) ? "unknown" : not_named;
    form.pick(("allergen-" + key).c_str(), word,
              {{"contains", "contains"},
               {"may contain", "may contain"},
               {not_named, "the pack does not name it"},
               {"unknown", "has to be asked"}},
              {.value = value, .needed = true});
  }
  form.ticks("whole", "The whole pack", {{"yes", "I read all of it: what it does not name is not declared on it"}},
             {.hint = "Without this, whatever is not named stays unknown, and unknown stops a cake."});
  if (std::any_of(visit.wrong.begin(), visit.wrong.end(), [](const Refusal& refusal) { return refusal.field == "accept"; }))
    form.ticks("accept", "Record it although it changes these", {{"yes", "Yes, from the next pack on"}});
  return page(visit, "What was understood", "cupboard",
              el("h1", {}, "What was understood") +
                  el("p", {{"class", "step"}}, "Step 2 of 2. Compare it with the pack, line by line, before you confirm it.") +
                  el("ul", {{"class", "read"}}, lines) + (ask.empty() ? Html{} : el("h2", {}, "To find out") + el("ul", {}, ask)) +
                  el("h2", {}, "Allergens of the law here") + form.finish("This is what the pack says"));
}

WebAnswer read_page(Visit& visit) {
  PackToRead asked;
  asked.text = {"the pack", visit.typed("text")};
  asked.ingredient = visit.part;
  asked.supplier = visit.typed("supplier");
  asked.label_name = visit.typed("label-name");
  asked.checked_against = visit.typed("checked-against");
  asked.storage = visit.typed("storage");
  asked.draft = true;
  const auto read = read_pack(visit.records(), asked, name_hints());
  if (!read) {
    visit.wrong = read.error();
    for (auto& refusal : visit.wrong) {
      if (refusal.field.empty() || !refusal.file.empty()) refusal.field = "text";
    }
    return says_page(visit);
  }
  return confirm_page(visit, *read, write_canonical(read->document));
}

/// The document as it was drafted, with what the person answered of each allergen in the place of what was guessed.
std::optional<Json> confirmed_document(Visit& visit) {
  auto document = parse_json(visit.typed("document"), "the pack");
  if (!document || !document->is_object()) {
    visit.refuse("", "what was understood of the pack did not come with it", "read the pack again");
    return std::nullopt;
  }
  Json::Array contains, may, unknown;
  for (const auto& [key, word] : allergens_of(visit.records())) {
    const std::string& answer = visit.typed("allergen-" + key);
    if (answer == "contains") contains.emplace_back(key);
    if (answer == "may contain") may.emplace_back(key);
    if (answer == "unknown" || answer.empty()) unknown.emplace_back(key);
  }
  Json::Object members = document->object();
  for (const char* name : {"contains", "may_contain", "unknown", "absent"}) members.erase(name);
  if (!contains.empty()) members["contains"] = Json{std::move(contains)};
  if (!may.empty()) members["may_contain"] = Json{std::move(may)};
  if (!unknown.empty()) members["unknown"] = Json{std::move(unknown)};
  if (visit.typed("whole") == "yes") {
    const Json* against = document->find("checked_against");
    const std::string evidence =
        against != nullptr && against->is_text() ? "not declared on " + against->text() : "not declared on the pack";
    members["absent"] = Json{Json::Object{{"all_others", Json{true}}, {"evidence", Json{evidence}}}};
  }
  return Json{std::move(members)};
}

std::optional<Booked> says(Visit& visit) {
  const auto document = confirmed_document(visit);
  if (!document) return std::nullopt;
  SpecificationTaking taking;
  taking.documents.push_back({"the pack", write_canonical(*document)});
  taking.accept = visit.typed("accept") == "yes";
  std::vector<SpecificationChange> changes;
  const auto taken = visit.write<Booked>([&](Session& session) -> Result<Booked> {
    if (const auto before = session.booked_before()) return *before;
    auto done = take_specifications(session, taking);
    if (!done) return done.error();
    if (done->booked) return *done->booked;
    Refusals refusals;
    for (const auto& change : done->changes) {
      for (const auto& difference : change.says)
        refusals.push_back({"", 0, "",
                            fmt::format("it says otherwise than what is on file: {}: \"{}\" was \"{}\"", difference.what, difference.after,
                                        difference.before),
                            ""});
      for (const auto& recipe : change.recipes) refusals.push_back({"", 0, "", fmt::format("it goes into {}", recipe.name), ""});
    }
    refusals.push_back({"", 0, "accept", "it changes what is in use", "look at the list, and tick that it is to be recorded"});
    return refusals;
  });
  return taken;
}

WebAnswer says_again(Visit& visit) {
  // What was understood is drawn up again from the same text; the answers stand as they were given.
  const auto document = parse_json(visit.typed("document"), "the pack");
  const auto member = [&](const char* name) -> std::string {
    const Json* found = document && document->is_object() ? document->find(name) : nullptr;
    return found != nullptr && found->is_text() ? found->text() : "";
  };
  PackToRead asked;
  asked.text = {"the pack", visit.typed("text")};
  asked.ingredient = visit.part;
  asked.supplier = member("supplier");
  asked.label_name = member("label_name");
  asked.checked_against = member("checked_against");
  asked.storage = member("storage");
  asked.draft = true;
  const auto read = read_pack(visit.records(), asked, name_hints());
  return confirm_page(visit, read ? *read : PackRead{}, visit.typed("document"));
}

WebAnswer pack_page(Visit& visit) {
  const Session& records = visit.records();
  const auto lot = records.state().lots.find(LotId{visit.part});
  if (lot == records.state().lots.end()) return not_there(visit, "No pack of this number is on record.");
  const auto packs = packs_here(records, visit.today());
  const auto here = std::find_if(packs.begin(), packs.end(), [&](const PackHere& pack) { return pack.id.text() == visit.part; });
  std::vector<std::pair<std::string, Html>> lines;
  const auto supplier = records.state().suppliers.find(lot->second.value.supplier);
  lines.push_back({"Code", lot->second.value.code});
  lines.push_back(
      {"From", supplier == records.state().suppliers.end() ? lot->second.value.supplier.text() : supplier->second.value.firm.name});
  lines.push_back({"Came in", moment_in_words(records, lot->second.happened)});
  lines.push_back({"Left", here == packs.end() ? "nothing" : format_mass(here->left)});
  if (here != packs.end() && !here->date_words.empty()) lines.push_back({"Date", here->date_words});
  Html main = el("h1", {}, pack_in_words(records.state(), lot->first)) + facts(lines);
  const std::uint64_t reading = lot->second.value.specification;
  main += what_is_on_file(records, reading);
  if (visit.may_record() && records.state().specifications.contains(reading)) main += looked_again_form(visit, reading);
  if (visit.may_record()) {
    main += el("p", {{"class", "actions"}},
               link_button("/cupboard/says/" + lot->second.value.ingredient.text(), "The pack says something else now"),
               link_button("/gone/trace?of=" + visit.part, "Where did it go?"));
    main += el("h2", {}, "Recalled, or found to be bad?") + FormView{visit, "/cupboard/withdraw", "withdraw"}
                                                                .hidden("pack", visit.part)
                                                                .text("why", "What the supplier or you found", {.needed = true})
                                                                .finish("Take it out of use", "grave");
  }
  return page(visit, pack_in_words(records.state(), lot->first), "cupboard", main + more_about(visit, visit.part));
}

std::optional<Booked> pack_withdrawn(Visit& visit) {
  return visit.record([&](Session& session) { return withdraw(session, visit.typed("pack"), visit.typed("why")); });
}
WebAnswer withdraw_again(Visit& visit) {
  visit.part = visit.typed("pack");
  return pack_page(visit);
}

}  // namespace

std::vector<Route> cupboard_routes() {
  return {{"GET", "/cupboard", For::reader, cupboard_page},       {"GET", "/cupboard/in", For::recorder, pack_in_page},
          {"GET", "/cupboard/new", For::recorder, new_food_page}, {"GET", "/cupboard/says/*", For::recorder, says_page},
          {"POST", "/cupboard/read/*", For::recorder, read_page}, {"GET", "/cupboard/pack/*", For::reader, pack_page}};
}

std::vector<Deed> cupboard_deeds() {
  std::vector<DeedField> says_fields{{"document", "what was understood of the pack, as `specification` of the command line takes it", true},
                                     {"whole", "yes: all of the pack was read"},
                                     {"accept", "yes: although it changes what is in use"},
                                     {"allergen-*", "of each allergen of the rules: contains, may contain, not said or unknown"},
                                     {"text", "the text of the pack"}};
  return {{"/cupboard/in", For::recorder, "A pack came in.", pack_in_fields(), pack_in, to("/cupboard"), pack_in_page},
          {"/cupboard/opened",
           For::recorder,
           "A pack was opened.",
           {{"pack", "its number, pack-7", true}, {"at", "when; empty: now"}},
           pack_opened,
           to("/cupboard"),
           cupboard_page},
          {"/cupboard/new",
           For::recorder,
           "A food that was never bought before, and who sells it.",
           {{"name", "what the kitchen calls it", true},
            {"supplier", "short name of one who is known"},
            {"supplier-name", "name of a new one"},
            {"supplier-address", "their address"},
            {"egg", "none, shell, pasteurised or dried pasteurised", true},
            {"is", "animal, sugar, water", false, true}},
           new_food,
           [](const Visit& visit, const Booked& booked) {
             return "/cupboard/says/" + booked.subjects.back() + "?from=" + url_part(visit.remembered("supplier"));
           },
           new_food_page},
          {"/cupboard/says/*", For::recorder, "What the pack of a food says, as a person confirmed it.", std::move(says_fields), says,
           [](const Visit& visit, const Booked&) { return "/cupboard/in?of=" + url_part(visit.part); }, says_again},
          {"/cupboard/withdraw",
           For::recorder,
           "A pack is taken out of use: recalled, or found to be bad.",
           {{"pack", "its number", true}, {"why", "what was found", true}},
           pack_withdrawn,
           to("/cupboard"),
           withdraw_again}};
}

}  // namespace tierproof::web
