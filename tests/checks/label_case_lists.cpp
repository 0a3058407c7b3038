// Kinds of cases that are about a cake's list: what stands in it, beside it, and what is judged of it.
#include <algorithm>

#include "label_case_cake.h"
#include "label_case_compare.h"
#include "sums/lawful_order.h"
#include "tierproof/sums/languages.h"
#include "tierproof/sums/named_quantities.h"
#include "tierproof/sums/statements.h"

namespace tierproof::label_cases {
namespace {

using Texts = std::vector<std::string>;

std::vector<std::string> keys_of(const LabelTerms& terms) {
  std::vector<std::string> keys;
  for (const AllergenTerm& term : terms.allergens) keys.push_back(term.key);
  return keys;
}

struct CakeAsk {
  CakeParts parts;
  DeclareAs as;
  std::string declaration = "ingredient list";
  Texts shows;
  std::string language;
  std::vector<std::pair<std::string, std::string>> shows_in{};
};

/// A cake as declared by some terms.
struct Told {
  const LabelTerms* here = nullptr;
  std::optional<LabelTerms> in_language;
  CakeParts parts;
  Composition made;
  Declaration declared;
  const LabelTerms& terms() const { return in_language ? *in_language : *here; }
};

std::optional<Told> tell(const CakeAsk& ask, const LabelTerms& terms, Judged& judged) {
  auto made = compose(ask.parts, keys_of(terms));
  if (!made) {
    judged.wrong.push_back("the cake cannot be composed: " + describe(made.error().front()));
    return std::nullopt;
  }
  Told told{&terms, std::nullopt, ask.parts, std::move(made).value(), {}};
  if (!ask.language.empty()) {
    told.in_language = in_language(terms, ask.language);
    told.parts = in_language(ask.parts, ask.language);
  }
  told.declared = ask.as.list == "shorter" ? shorter_list(told.parts, told.made, told.terms(), ask.declaration, ask.as)
                                           : declare(told.parts, told.made, told.terms(), ask.declaration, ask.as);
  for (const auto* runs : {&told.declared.heading, &told.declared.summary, &told.declared.allergen_line}) {
    if (!runs->empty()) judged.printed.push_back(text_of(*runs));
  }
  for (const auto& entry : told.declared.ingredients) judged.printed.push_back(text_of(entry.runs));
  for (const auto& statement : told.declared.statements) judged.printed.push_back(statement.text);
  return told;
}

struct Order {
  Texts names;
  bool lawful = false;
};
struct CakeWanted {
  std::optional<std::string> list, heading, summary, line, sulphites, list_is, water_grams, varying_group;
  std::optional<Texts> contains, may_contain, exempt, unknown, statements, told, quantities, cautions, findings, shown, any_order, missing,
      quantities_in, quantities_missing;
  std::optional<bool> water_left_out, varying_refused;
  Texts cites;
  std::vector<Order> orders;
};

CakeWanted read_wanted(Fields& fields, Refusals& refusals) {
  CakeWanted wanted;
  for (auto [key, text] :
       {std::pair{"list", &wanted.list}, std::pair{"heading", &wanted.heading}, std::pair{"summary", &wanted.summary},
        std::pair{"line", &wanted.line}, std::pair{"sulphites", &wanted.sulphites}, std::pair{"list_is", &wanted.list_is}})
    *text = fields.maybe_text(key);
  for (auto [key, texts] :
       {std::pair{"contains", &wanted.contains}, std::pair{"may_contain", &wanted.may_contain}, std::pair{"exempt", &wanted.exempt},
        std::pair{"unknown", &wanted.unknown}, std::pair{"statements", &wanted.statements}, std::pair{"told", &wanted.told},
        std::pair{"quantities", &wanted.quantities}, std::pair{"cautions", &wanted.cautions}, std::pair{"findings", &wanted.findings},
        std::pair{"shown", &wanted.shown}, std::pair{"any_order", &wanted.any_order}, std::pair{"missing", &wanted.missing},
        std::pair{"quantities_in", &wanted.quantities_in}, std::pair{"quantities_missing", &wanted.quantities_missing}})
    *texts = maybe_texts(fields, key);
  wanted.cites = fields.texts("cites");
  const auto& orders = fields.list("orders");
  for (std::size_t i = 0; i < orders.size(); ++i) {
    Fields order{orders[i], fields.file(), fields.path_of("orders", i), refusals};
    wanted.orders.push_back({order.texts("order"), order.flag("lawful", false)});
    order.done();
  }
  if (fields.has("water")) {
    Fields water{fields.object("water"), fields.file(), fields.path_of("water"), refusals};
    wanted.water_left_out = maybe_flag(water, "left_out");
    wanted.water_grams = water.maybe_text("grams");
    water.done();
  }
  if (fields.has("varying")) {
    Fields varying{fields.object("varying"), fields.file(), fields.path_of("varying"), refusals};
    wanted.varying_group = varying.text("group");
    wanted.varying_refused = maybe_flag(varying, "refused");
    varying.done();
  }
  fields.done();
  return wanted;
}

std::string cited_rows(const Told& told) {
  std::string rows = " ";
  const auto add = [&](const Cited& cited) { rows += cited.row + " "; };
  for (const auto& entry : told.declared.ingredients) std::for_each(entry.rules.begin(), entry.rules.end(), add);
  for (const auto& statement : told.declared.statements) add(statement.cited);
  return rows;
}

void compare_quantities(Judged& judged, const CakeWanted& wanted, const CakeAsk& ask, const Told& told) {
  if (!wanted.quantities && !wanted.cautions) return;
  const auto named = named_quantities(told.parts, told.made, told.declared, told.terms(), ask.as.name, ask.shows);
  if (!named) {
    judged.wrong.push_back("quantities: refused: " + describe(named.error().front()));
    return;
  }
  Texts shown;
  for (const auto& one : named->shown) shown.push_back(one.name + " " + one.text);
  expect(judged, "quantities", wanted.quantities, shown);
  judged.printed.insert(judged.printed.end(), shown.begin(), shown.end());
  if (!wanted.cautions) return;
  bool fit = wanted.cautions->size() == named->cautions.size();
  for (std::size_t i = 0; fit && i < named->cautions.size(); ++i) fit = named->cautions[i].find((*wanted.cautions)[i]) != std::string::npos;
  if (!fit) expect(judged, "cautions", wanted.cautions, named->cautions);
}

/// The figures in the language of the case: what is brought out is looked for in the kitchen's own.
void compare_quantities_in(Judged& judged, const CakeWanted& wanted, const CakeAsk& ask, const Told& told) {
  if (!wanted.quantities_in) return;
  const LabelTerms& terms = *told.here;
  const auto own = declare(ask.parts, told.made, terms, ask.declaration, ask.as);
  const auto named = named_quantities(ask.parts, told.made, own, terms, ask.as.name, ask.shows);
  if (!named) {
    judged.wrong.push_back("quantities: refused: " + describe(named.error().front()));
    return;
  }
  const auto there = quantities_in(*named, ask.parts, terms, ask.language, ask.shows_in);
  expect(judged, "quantities in " + ask.language, wanted.quantities_in, there.texts);
  expect(judged, "no words for the quantity of", wanted.quantities_missing, there.missing);
}

void compare_findings(Judged& judged, const CakeWanted& wanted, const Told& told) {
  if (!wanted.findings && !wanted.shown) return;
  Texts found;
  Texts shown;
  for (const auto& finding : check(told.parts, told.made, told.declared, told.terms())) {
    if (finding.verdict == Verdict::shown) {
      shown.push_back(finding.control);
    } else {
      found.push_back(fmt::format("{}: {}: {}", finding.control, term_of(finding.verdict), finding.subject));
    }
  }
  expect(judged, "findings", wanted.findings, found);
  for (const auto& control : wanted.shown.value_or(Texts{})) {
    if (std::find(shown.begin(), shown.end(), control) == shown.end()) judged.wrong.push_back(control + " is not shown");
  }
}

void compare_list(Judged& judged, const CakeWanted& wanted, const Told& told) {
  const auto& declared = told.declared;
  expect(judged, "list", wanted.list, list_with_asterisks(declared));
  expect(judged, "heading", wanted.heading, with_asterisks(declared.heading));
  expect(judged, "summary", wanted.summary, with_asterisks(declared.summary));
  expect(judged, "line", wanted.line, with_asterisks(declared.allergen_line));
  expect(judged, "contains", wanted.contains, declared.contains);
  expect(judged, "may contain", wanted.may_contain, declared.may_contain);
  expect(judged, "exempt", wanted.exempt, declared.exempt);
  expect(judged, "unknown", wanted.unknown, declared.unknown);
  expect(judged, "list is", wanted.list_is, declared.list);
  expect(judged, "sulphites", wanted.sulphites, format_decimal(declared.sulphites_mg_per_kg, 1));
  expect(judged, "water left out", wanted.water_left_out, declared.water_left_out);
  expect(judged, "water", wanted.water_grams, format_decimal(declared.added_water_mg / 1000, 0));
  Texts last;
  for (const auto& entry : declared.ingredients) {
    if (entry.any_order_at_end) last.push_back(entry.name);
  }
  expect(judged, "any order", wanted.any_order, last);
  for (const auto& order : wanted.orders) {
    const auto why = why_unlawful_order(declared, order.names);
    expect(judged, fmt::format("the order {}", fmt::join(order.names, ", ")), std::optional{order.lawful}, why.empty());
  }
  const auto cited = cited_rows(told);
  for (const auto& row : wanted.cites) {
    if (cited.find(" " + row + " ") == std::string::npos) judged.wrong.push_back(fmt::format("{} is not cited, but{}", row, cited));
  }
}

void compare_varying(Judged& judged, const CakeWanted& wanted, const Told& told) {
  if (!wanted.varying_group) return;
  const auto why = why_not_varying(told.parts, told.declared, *wanted.varying_group, told.terms());
  expect(judged, "varying proportions refused", wanted.varying_refused, !why.empty());
}

std::string gravest(const std::vector<Finding>& findings, const std::string& control) {
  const Finding* found = nullptr;
  for (const auto& finding : findings) {
    if (finding.control == control && (found == nullptr || gravity(finding.verdict) > gravity(found->verdict))) found = &finding;
  }
  return found == nullptr ? "none" : std::string{term_of(found->verdict)};
}

}  // namespace

Judge cake_kind(Fields& fields, const Pantry& pantry, Refusals& refusals) {
  CakeAsk ask;
  ask.parts = read_cake(fields.any("cake"), fields.file(), fields.path_of("cake"), pantry, refusals);
  ask.declaration = fields.maybe_text("declaration").value_or("ingredient list");
  ask.shows = fields.texts("shows");
  if (fields.has("shows_in")) {
    for (const auto& [word, there] : fields.object("shows_in").object()) ask.shows_in.emplace_back(word, there.text());
  }
  ask.language = fields.maybe_text("language").value_or("");
  if (fields.has("as")) {
    Fields as{fields.object("as"), fields.file(), fields.path_of("as"), refusals};
    ask.as = {as.maybe_text("list").value_or("merged"), as.maybe_text("name").value_or(""), as.texts("marks"), as.texts("varying")};
    as.done();
  }
  Fields expected{fields.object("expect"), fields.file(), fields.path_of("expect"), refusals};
  const auto wanted = read_wanted(expected, refusals);
  return [ask, wanted](const LabelTerms& terms) {
    Judged judged;
    const auto told = tell(ask, terms, judged);
    if (!told) return judged;
    compare_list(judged, wanted, *told);
    Texts statements;
    for (const auto& one : told->declared.statements) statements.push_back(one.placed + ": " + one.text);
    expect(judged, "statements", wanted.statements, statements);
    Texts said;
    for (const auto& one : things_to_tell(told->parts, told->made, told->terms(), ask.as)) said.push_back(one.text);
    expect(judged, "told", wanted.told, said);
    if (wanted.missing)
      expect(judged, "missing", wanted.missing, missing_in_language(ask.parts, told->made, told->declared, terms, ask.language));
    compare_varying(judged, wanted, *told);
    compare_quantities(judged, wanted, ask, *told);
    compare_quantities_in(judged, wanted, ask, *told);
    compare_findings(judged, wanted, *told);
    return judged;
  };
}

Judge one_food_kind(Fields& fields, const Pantry& pantry, Refusals& refusals) {
  struct Row {
    std::string name;
    CakeParts parts;
    std::optional<std::string> list, summary, line;
    std::optional<Texts> contains, exempt;
  };
  const auto rows = read_rows(fields, refusals, [&](Fields& row) {
    Row one;
    const auto& food = row.any("food");
    one.name = food.is_text() ? food.text() : row.text("name");
    one.parts = nothing_but(read_food(food, one.name, row.file(), row.path_of("food"), pantry, refusals));
    one.list = row.maybe_text("list");
    one.summary = row.maybe_text("summary");
    one.line = row.maybe_text("line");
    one.contains = maybe_texts(row, "contains");
    one.exempt = maybe_texts(row, "exempt");
    if (!one.list && !one.summary && !one.line && !one.contains && !one.exempt) row.refuse("food", "expects nothing", "say what comes out");
    return one;
  });
  return [rows](const LabelTerms& terms) {
    Judged judged;
    for (const auto& row : rows) {
      const auto told = tell({row.parts, {}, "ingredient list", {}, ""}, terms, judged);
      if (!told) continue;
      expect(judged, row.name + ": list", row.list, list_with_asterisks(told->declared));
      expect(judged, row.name + ": summary", row.summary, with_asterisks(told->declared.summary));
      expect(judged, row.name + ": contains", row.contains, told->declared.contains);
      expect(judged, row.name + ": exempt", row.exempt, told->declared.exempt);
      if (!row.line) continue;
      if (const auto loose = tell({row.parts, {}, "allergens", {}, ""}, terms, judged))
        expect(judged, row.name + ": line", row.line, with_asterisks(loose->declared.allergen_line));
    }
    return judged;
  };
}

Judge additives_kind(Fields& fields, const Pantry& pantry, Refusals& refusals) {
  struct Row {
    std::string name;
    CakeParts parts;
    std::optional<std::string> verdict, list, row;
  };
  const auto rows = read_rows(fields, refusals, [&](Fields& row) {
    Row one;
    one.name = row.text("additive");
    auto paste = read_food(Json{Json::Object{}}, "sugar paste", row.file(), "", pantry, refusals);
    DeclaredPart sugar;
    sugar.name = "sugar";
    DeclaredPart additive;
    additive.name = one.name;
    additive.additive = one.name;
    additive.additive_class = row.maybe_text("class").value_or("");
    paste.parts = {sugar, additive};
    one.parts = nothing_but(std::move(paste));
    one.verdict = row.maybe_text("verdict");
    one.list = row.maybe_text("list");
    one.row = row.maybe_text("row");
    if (!one.verdict && !one.list) row.refuse("additive", "expects nothing", "say what comes out");
    return one;
  });
  return [rows](const LabelTerms& terms) {
    Judged judged;
    for (const auto& row : rows) {
      const auto told = tell({row.parts, {}, "ingredient list", {}, ""}, terms, judged);
      if (!told) continue;
      expect(judged, row.name + ": list", row.list, list_with_asterisks(told->declared));
      const auto findings = check(told->parts, told->made, told->declared, told->terms());
      expect(judged, row.name + ": verdict", row.verdict, gravest(findings, "additives-permitted"));
      const bool cited = !row.row || std::any_of(findings.begin(), findings.end(), [&](const Finding& finding) {
        return finding.control == "additives-permitted" && finding.source.starts_with("[" + *row.row + ":");
      });
      if (!cited) judged.wrong.push_back(row.name + ": " + *row.row + " is not what it is judged by");
    }
    return judged;
  };
}

Judge classes_kind(Fields& fields, const Pantry& pantry, Refusals& refusals) {
  const auto titles = fields.texts("titles");
  if (titles.empty()) fields.refuse("titles", "has nothing in it", "write the class titles");
  const auto plain = read_food(Json{Json::Object{}}, "mix", fields.file(), "", pantry, refusals);
  return [titles, plain](const LabelTerms& terms) {
    Judged judged;
    const auto used =
        std::find_if(terms.additives.begin(), terms.additives.end(), [](const auto& row) { return row.status == "permitted"; });
    if (used == terms.additives.end()) return Judged{{"no additive is permitted"}, {}};
    for (const auto& title : titles) {
      auto mix = plain;
      DeclaredPart additive;
      additive.name = used->name;
      additive.additive = used->number;
      additive.additive_class = title;
      mix.parts = {additive};
      const auto told = tell({nothing_but(mix), {}, "ingredient list", {}, ""}, terms, judged);
      if (!told) continue;
      const auto findings = check(told->parts, told->made, told->declared, told->terms());
      const bool known = std::none_of(findings.begin(), findings.end(), [](const Finding& finding) {
        return finding.control == "additives-permitted" && finding.message.find("no class title") != std::string::npos;
      });
      if (!known) judged.wrong.push_back(title + " is no class title");
    }
    // nothing else is one
    expect(judged, "number of class titles", std::optional{fmt::format("{}", titles.size())}, fmt::format("{}", terms.class_titles.size()));
    return judged;
  };
}

Judge levels_kind(Fields& fields, const Pantry& pantry, Refusals& refusals) {
  struct Row {
    std::string name;
    CakeParts parts;
    std::string verdict;
  };
  const auto rows = read_rows(fields, refusals, [&](Fields& row) {
    const auto& food = row.any("food");
    const auto name = food.is_text() ? food.text() : row.text("name");
    auto parts = nothing_but(read_food(food, name, row.file(), row.path_of("food"), pantry, refusals));
    return Row{name, std::move(parts), row.text("verdict")};
  });
  return [rows](const LabelTerms& terms) {
    Judged judged;
    for (const auto& row : rows) {
      const auto told = tell({row.parts, {}, "ingredient list", {}, ""}, terms, judged);
      if (!told) continue;
      const auto findings = check(told->parts, told->made, told->declared, told->terms());
      expect(judged, row.name, std::optional{row.verdict}, gravest(findings, "level-limits"));
    }
    return judged;
  };
}

}  // namespace tierproof::label_cases
