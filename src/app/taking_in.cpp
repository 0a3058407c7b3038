#include "tierproof/app/taking_in.h"

#include <algorithm>
#include <filesystem>
#include <map>

#include "checking.h"
#include "table_reader.h"
#include "tierproof/app/scaling.h"
#include "tierproof/units/share.h"

namespace tierproof {
namespace {

const std::vector<TableForm>& forms() {
  static const std::vector<TableForm> all{
      {"suppliers",
       {{"supplier", true, "short name, such as mill"},
        {"name", true, "who dispatches the food"},
        {"address", true, "their address"},
        {"owner_of_food", false, "another firm that owns the food"},
        {"owner_of_food_address", false, "its address"},
        {"received_for", false, "another firm that it is received for"},
        {"received_for_address", false, "its address"}}},
      {"ingredients",
       {{"ingredient", true, "short name, such as caster-sugar"},
        {"name", true, "what the kitchen calls it"},
        {"added_water", true, "yes or no: it is added water"},
        {"sugar", true, "yes or no: it counts as sugar in an egg mix"},
        {"animal_origin", true, "yes or no: deliveries carry the dispatch date"},
        {"egg", true, "none, shell, pasteurised or dried pasteurised"}}},
      {"recipes",
       {{"recipe", true, "short name, in every row"},
        {"name", true, "what the kitchen calls it"},
        {"part", true, "sponge, filling, icing, decoration or syrup"},
        {"item", true, "short name of an ingredient or recipe that goes in; a row for each"},
        {"kind", true, "ingredient or recipe"},
        {"mass", false, "how much of it, with its unit, such as 450 g; or use mass_g"},
        {"mass_g", false, "the same as a number of grams"},
        {"yield", false, "what comes out, with its unit; or use yield_g"},
        {"yield_g", false, "the same as a number of grams"},
        {"egg", true, "none; baked through; pasteurised; dried pasteurised; raw, heated here; or raw, not heated"},
        {"storage", true, "room, fridge or freezer"},
        {"life_days", true, "how many days it keeps"},
        {"life_reason", true, "why so many"},
        {"kit", false, "short names of kit, with spaces between"},
        {"heated_together", false, "short names of what is in an egg mix that is heated here, with spaces between"},
        {"heat_food", false, "which heat rules it is judged by"},
        {"syrup_target", false, "to what temperature a syrup is boiled, such as 118 C"},
        {"syrup_target_at", false, "sea level: the target is lowered by as much as water boils lower here; empty: it stands as it is"},
        {"heated", false, "heated or not heated: the part as a whole"},
        {"frozen_days", false, "how many days it keeps frozen; with thawed_days"},
        {"thawed_days", false, "how many days it keeps once thawed"},
        {"label_name", false, "its customary name in a list of ingredients by part"},
        {"remains_percent", false, "of a volatile food that goes in: how much of it is still there in the end; with why_remains"},
        {"why_remains", false, "how that is known"},
        {"reconstituted", false, "yes or no: water is added back to a dried or concentrated food"}}},
  };
  return all;
}

/// What a thing says, column by column, for showing what changes.
using Said = std::vector<std::pair<std::string, std::string>>;

/// What `is` says otherwise than `was`; a column that only one of them has counts as nothing in the other.
std::vector<ChangedField> differences(const Said& was, const Said& is) {
  const auto find = [](const Said& said, const std::string& column) {
    return std::find_if(said.begin(), said.end(), [&](const auto& one) { return one.first == column; });
  };
  std::vector<ChangedField> changes;
  for (const auto& [column, text] : is) {
    const auto before = find(was, column);
    const std::string old = before == was.end() ? "" : before->second;
    if (old != text) changes.push_back({column, old, text});
  }
  for (const auto& [column, text] : was) {
    if (find(is, column) == is.end() && !text.empty()) changes.push_back({column, text, ""});
  }
  return changes;
}

std::string yes_or_no(bool flag) { return flag ? "yes" : "no"; }

Said said_by(const Supplier& supplier) {
  const auto firm = [](const std::optional<Firm>& other) { return other.value_or(Firm{}); };
  return {{"name", supplier.firm.name},
          {"address", supplier.firm.address},
          {"owner_of_food", firm(supplier.consignor).name},
          {"owner_of_food_address", firm(supplier.consignor).address},
          {"received_for", firm(supplier.consignee).name},
          {"received_for_address", firm(supplier.consignee).address}};
}

Said said_by(const Ingredient& ingredient) {
  return {{"name", ingredient.name},
          {"added_water", yes_or_no(ingredient.added_water)},
          {"sugar", yes_or_no(ingredient.sugar)},
          {"animal_origin", yes_or_no(ingredient.animal_origin)},
          {"egg", ingredient.egg}};
}

template <class Kind>
std::string spaced(const std::vector<Id<Kind>>& ids) {
  std::string text;
  for (const auto& id : ids) text += (text.empty() ? "" : " ") + id.text();
  return text;
}
std::string number_or_nothing(const std::optional<std::int64_t>& number) { return number ? std::to_string(*number) : ""; }

std::string percent_of(std::int64_t ppm) { return short_decimal(format_decimal(share_of(ppm, 10'000), 4)) + " %"; }

Said said_by(const Recipe& recipe) {
  Said said{{"name", recipe.name}, {"part", recipe.part}};
  std::string order;
  for (const auto& item : recipe.items) {
    std::string amount = format_mass(item.mass);
    if (item.remains_ppm) amount += fmt::format(", {} remains ({})", percent_of(*item.remains_ppm), item.why_remains);
    if (item.reconstituted) amount += ", water added back";
    said.emplace_back((item.recipe ? "recipe " : "ingredient ") + item.of, amount);
    order += (order.empty() ? "" : " ") + item.of;
  }
  const Said rest{{"order of items", order},
                  {"yield", format_mass(recipe.yield)},
                  {"egg", recipe.egg},
                  {"storage", recipe.storage},
                  {"life_days", std::to_string(recipe.life_days)},
                  {"life_reason", recipe.life_reason},
                  {"kit", spaced(recipe.kit)},
                  {"heated_together", spaced(recipe.heated_together)},
                  {"heat_food", recipe.heat_food},
                  {"syrup_target", recipe.syrup_target ? format_degrees(*recipe.syrup_target) : ""},
                  {"syrup_target_at", recipe.syrup_target_at},
                  {"heated", recipe.heated},
                  {"frozen_days", number_or_nothing(recipe.frozen_days)},
                  {"thawed_days", number_or_nothing(recipe.thawed_days)},
                  {"label_name", recipe.label_name}};
  said.insert(said.end(), rest.begin(), rest.end());
  return said;
}

/// Reads one table and makes the notes that it asks for.
class Taking {
 public:
  Taking(Session& session, const TakingIn& asked, const TableForm& form, ReadTable table)
      : session_{session}, asked_{asked}, form_{form}, table_{std::move(table)}, checking_{session} {}

  Result<TakenIn> run() {
    if (asked_.book) checking_.person();
    now_ = checking_.moment("now");
    checking_.take(table_.refusals);
    if (form_.name == "suppliers") take_suppliers();
    if (form_.name == "ingredients") take_ingredients();
    if (form_.name == "recipes") take_recipes();
    if (!checking_.good()) return in_order_of_lines();
    if (asked_.book && !drafts_.empty()) {
      for (auto& draft : drafts_) {
        if (draft.supersedes) draft.why = sealed_json(session_.seal("taken in from " + name_of_file()));
      }
      taken_.booked = session_.book(std::move(drafts_));
    }
    return std::move(taken_);
  }

 private:
  std::string name_of_file() const { return plain_name(std::filesystem::path{asked_.file.name}.filename().string()); }

  Refusals in_order_of_lines() const {
    Refusals all = checking_.refusals();
    std::stable_sort(all.begin(), all.end(), [](const Refusal& a, const Refusal& b) { return a.line < b.line; });
    return all;
  }

  std::size_t index_of(std::string_view heading) const {
    const auto found =
        std::find_if(form_.columns.begin(), form_.columns.end(), [&](const auto& column) { return column.heading == heading; });
    return static_cast<std::size_t>(found - form_.columns.begin());
  }
  bool there(std::string_view heading) const { return table_.there[index_of(heading)]; }
  const std::string& cell(const ReadRow& row, std::string_view heading) const { return row.cells[index_of(heading)]; }
  void at(const ReadRow& row) { checking_.in_file(asked_.file.name, row.line); }

  /// Whether the thing of this row stands in an earlier one already.
  bool told_before(const std::string& column, const std::string& id, int line) {
    const auto [first, fresh] = first_line_.emplace(id, line);
    if (!fresh) checking_.refuse(column, fmt::format("\"{}\" stands in line {} already", id, first->second), "keep one of the two rows");
    return !fresh;
  }

  bool flag(const ReadRow& row, const std::string& heading) {
    const std::string text = ascii_lower(cell(row, heading));
    if (text == "yes" || text == "true") return true;
    if (text != "no" && text != "false") {
      checking_.refuse(heading, text.empty() ? "is empty" : fmt::format("\"{}\" is neither yes nor no", cell(row, heading)),
                       "write yes or no");
    }
    return false;
  }

  /// Notes what becomes of `thing`, and makes its draft; `recorded` is what the records say of it now, or nothing.
  template <class Thing>
  void note(int line, const std::string& id, const Thing& thing, const Recorded<Thing>* recorded, bool new_version) {
    Draft draft = session_.draft(thing, id, now_);
    checking_.take(check_body(draft.kind, draft.body, asked_.file.name));
    TakenRow row{line, id, Fate::fresh, {}};
    if (recorded == nullptr) {
      for (auto& change : differences({}, said_by(thing))) row.changes.push_back(std::move(change));
    } else {
      row.fate = draft.body == body_of(recorded->value) ? Fate::same : Fate::changed;
      row.changes = differences(said_by(recorded->value), said_by(thing));
    }
    taken_.rows.push_back(std::move(row));
    if (taken_.rows.back().fate == Fate::same) return;
    if (recorded != nullptr && !new_version) {
      draft.happened = recorded->happened;
      draft.offset = recorded->offset;
      draft.how = session_.arrival_of(recorded->happened);
      draft.supersedes = recorded->sequence;
    }
    drafts_.push_back(std::move(draft));
  }

  template <class Key, class Thing>
  static const Recorded<Thing>* recorded(const std::map<Key, Recorded<Thing>>& things, const std::string& id) {
    const auto found = things.find(Key{id});
    return found == things.end() ? nullptr : &found->second;
  }

  /// The other firm of a supplier; of a table without its columns, the one that is recorded.
  std::optional<Firm> firm(const ReadRow& row, const std::string& column, const std::optional<Firm>& before) {
    const std::string address = column + "_address";
    if (!there(column) && !there(address)) return before;
    if (there(column) != there(address)) {
      checking_.refuse(there(column) ? address : column, "this heading is missing", "give the firm's name and address, each in its column");
      return before;
    }
    const Firm found{cell(row, column), cell(row, address)};
    if (found.name.empty() && found.address.empty()) return std::nullopt;
    if (found.name.empty() || found.address.empty()) {
      checking_.refuse(found.name.empty() ? column : address, "is empty", "give the firm's name and address, or neither");
      return std::nullopt;
    }
    checking_.words(column, found.name);
    checking_.words(address, found.address);
    return found;
  }

  void take_suppliers() {
    for (const auto& row : table_.rows) {
      at(row);
      const std::string& id = cell(row, "supplier");
      checking_.id("supplier", id);
      if (told_before("supplier", id, row.line)) continue;
      const auto* before = recorded(session_.state().suppliers, id);
      Supplier supplier{{cell(row, "name"), cell(row, "address")}, {}, {}};
      check_supplier(checking_, supplier, "");
      supplier.consignor = firm(row, "owner_of_food", before == nullptr ? std::nullopt : before->value.consignor);
      supplier.consignee = firm(row, "received_for", before == nullptr ? std::nullopt : before->value.consignee);
      if (checking_.good()) note(row.line, id, supplier, before, false);
    }
  }

  void take_ingredients() {
    State after = session_.state();
    std::vector<std::pair<std::string, int>> other_egg;  // and the line that says so
    for (const auto& row : table_.rows) {
      at(row);
      const std::string& id = cell(row, "ingredient");
      checking_.id("ingredient", id);
      if (told_before("ingredient", id, row.line)) continue;
      const auto* before = recorded(session_.state().ingredients, id);
      Ingredient ingredient{cell(row, "name"), flag(row, "added_water"), flag(row, "sugar"), flag(row, "animal_origin"), cell(row, "egg")};
      if (before != nullptr) ingredient.boiled_as = before->value.boiled_as;  // no column tells of it
      check_ingredient(checking_, ingredient, "");
      if (before != nullptr && before->value.egg != ingredient.egg) other_egg.emplace_back(id, row.line);
      after.ingredients[IngredientId{id}].value = ingredient;
      if (checking_.good()) note(row.line, id, ingredient, before, false);
    }
    for (const auto& [id, line] : other_egg) check_recipes_with(id, line, after);
  }

  /// An egg that becomes another must still fit what every recipe says of it.
  void check_recipes_with(const std::string& ingredient, int line, const State& after) {
    for (const auto& [id, recipe] : after.recipes) {
      const auto uses = [&](const RecipeItem& item) { return !item.recipe && item.of == ingredient; };
      if (std::none_of(recipe.value.items.begin(), recipe.value.items.end(), uses)) continue;
      Checking fits{session_};
      check_egg(fits, after, recipe.value);
      if (fits.good()) continue;
      checking_.in_file(asked_.file.name, line);
      checking_.refuse("egg", fmt::format("does not fit the recipe {}, which says \"{}\" of its egg", id.text(), recipe.value.egg),
                       "record the recipe as it is made with this egg first, or name another ingredient");
    }
  }

  // Of recipes, the rows of each are put together into the document that `read_recipe` reads, so that both ways in ask the same.

  struct Group {
    std::string id;
    std::vector<const ReadRow*> rows;
  };

  std::vector<Group> groups() {
    std::vector<Group> all;
    for (const auto& row : table_.rows) {
      at(row);
      const std::string& id = cell(row, "recipe");
      if (id.empty()) {
        checking_.refuse("recipe", "is empty", "write the recipe's short name in every row");
        continue;
      }
      const auto found = std::find_if(all.begin(), all.end(), [&](const Group& group) { return group.id == id; });
      (found == all.end() ? all.emplace_back(Group{id, {}}) : *found).rows.push_back(&row);
    }
    return all;
  }

  /// What is said once for the whole recipe: in its first row; rows below may repeat it.
  const std::string& once(const Group& group, const std::string& heading) {
    const std::string& first = cell(*group.rows.front(), heading);
    for (const auto* row : group.rows) {
      const std::string& text = cell(*row, heading);
      if (text.empty() || text == first) continue;
      at(*row);
      checking_.refuse(heading, fmt::format("\"{}\" is not what line {} says of {}", text, group.rows.front()->line, group.id),
                       "say it once in the first row of the recipe, or the same in each");
    }
    return first;
  }

  /// A mass with its unit, from either of two columns: with the unit in the cell, or in the heading.
  std::string mass(const ReadRow& row, const std::string& heading, const std::string& text, const std::string& grams) {
    at(row);
    if (!text.empty() && !grams.empty()) checking_.refuse(heading, fmt::format("and {}_g are both filled in", heading), "keep one of them");
    if (grams.empty()) return text;
    if (!parse_decimal(grams)) {
      checking_.refuse(heading + "_g", fmt::format("\"{}\" is not a number of grams", grams), "write it without a unit, such as 450");
      return "";
    }
    return grams + " g";
  }

  void whole_number(Json& document, const std::string& heading, const std::string& text, const ReadRow& row) {
    if (text.empty()) return;
    const auto number = parse_decimal(text);
    if (number && denominator(*number) == 1 && *number >= 0 && *number <= 3650) {
      document[heading] = Json{static_cast<std::int64_t>(numerator(*number))};
      return;
    }
    at(row);
    checking_.refuse(heading, fmt::format("\"{}\" is not a number of days", text), "write a whole number, 0 to 3650");
  }

  static Json list_of_names(const std::string& text) {
    Json::Array names;
    std::string name;
    for (const char c : text + " ") {
      if (c != ' ' && c != ',' && c != ';') {
        name += c;
      } else if (!name.empty()) {
        names.emplace_back(std::exchange(name, ""));
      }
    }
    return Json{std::move(names)};
  }

  Json document_of_recipe(const Group& group, const Recorded<Recipe>* before) {
    const ReadRow& first = *group.rows.front();
    Json document{Json::Object{{"recipe", Json{group.id}}}};
    for (const char* heading : {"name", "part", "egg", "storage", "life_reason"}) document[heading] = once(group, heading);
    if (const auto yield = mass(first, "yield", once(group, "yield"), once(group, "yield_g")); !yield.empty()) document["yield"] = yield;
    whole_number(document, "life_days", once(group, "life_days"), first);
    const Said recorded = before == nullptr ? Said{} : said_by(before->value);
    const auto kept = [&](const std::string& heading) -> std::string {  // what a table without this column leaves as it is
      if (there(heading)) return once(group, heading);
      const auto found = std::find_if(recorded.begin(), recorded.end(), [&](const auto& said) { return said.first == heading; });
      return found == recorded.end() ? "" : found->second;
    };
    document["kit"] = list_of_names(kept("kit"));
    document["heated_together"] = list_of_names(kept("heated_together"));
    for (const char* heading : {"heat_food", "syrup_target", "syrup_target_at", "heated", "label_name"}) {
      if (const auto text = kept(heading); !text.empty()) document[heading] = text;
    }
    for (const char* heading : {"frozen_days", "thawed_days"}) whole_number(document, heading, kept(heading), first);
    Json::Array items;
    for (const auto* row : group.rows) {
      at(*row);
      checking_.choice("kind", cell(*row, "kind"), {"ingredient", "recipe"});
      Json item{Json::Object{{"of", Json{cell(*row, "item")}}, {"recipe", Json{cell(*row, "kind") == "recipe"}}}};
      if (const auto weight = mass(*row, "mass", cell(*row, "mass"), cell(*row, "mass_g")); !weight.empty()) item["mass"] = weight;
      if (before != nullptr) keep_of_item(item, before->value);
      add_of_item(item, *row);
      items.push_back(std::move(item));
    }
    document["items"] = Json{std::move(items)};
    if (before == nullptr) return document;
    Json::Array names;
    for (const auto& other : before->value.other_names)
      names.push_back(Json{Json::Object{{"language", Json{other.language}}, {"name", Json{other.name}}}});
    if (!names.empty()) document["other_names"] = Json{std::move(names)};
    Json::Array varying;
    for (const auto& one : before->value.varying) varying.emplace_back(one);
    if (!varying.empty()) document["varying"] = Json{std::move(varying)};
    keep_of_cooking(document, before->value);
    return document;
  }

  /// Pan, bowl, tin and portions of the recipe as it is recorded. What is boiled must still be among the items, else it is left out.
  static void keep_of_cooking(Json& document, const Recipe& before) {
    Json::Array boiled;
    for (const auto& id : before.boiled_together) {
      const auto& items = document["items"].array();
      if (std::any_of(items.begin(), items.end(), [&](const Json& item) { return *item.find("of") == Json{id.text()}; }))
        boiled.emplace_back(id.text());
    }
    if (!boiled.empty()) document["boiled_together"] = Json{std::move(boiled)};
    if (before.bowl) document["bowl"] = Json{Json::Object{{"mass", Json{format_mass(before.bowl->mass)}}, {"of", Json{before.bowl->of}}}};
    if (before.white_degrees) document["egg_white_at"] = Json{format_degrees(*before.white_degrees)};
    if (before.bowl_degrees) document["bowl_at"] = Json{format_degrees(*before.bowl_degrees)};
    if (before.tin) document["tin"] = Json{tin_as_typed(*before.tin)};
    if (before.portions) document["portions"] = Json{*before.portions};
  }

  /// What a table has no column for stays as it is recorded of the same food: what remains of it, and whether water is added back.
  void keep_of_item(Json& item, const Recipe& before) const {
    const auto same = [&](const RecipeItem& other) { return Json{other.of} == item["of"]; };
    const auto kept = std::find_if(before.items.begin(), before.items.end(), same);
    if (kept == before.items.end()) return;
    if (kept->remains_ppm && !there("remains_percent")) {
      item["remains"] = Json{percent_of(*kept->remains_ppm)};
      item["why"] = Json{kept->why_remains};
    }
    if (kept->reconstituted && !there("reconstituted")) item["reconstituted"] = Json{true};
  }
  void add_of_item(Json& item, const ReadRow& row) {
    if (there("remains_percent") && !cell(row, "remains_percent").empty()) item["remains"] = Json{cell(row, "remains_percent") + " %"};
    if (there("why_remains") && !cell(row, "why_remains").empty()) item["why"] = Json{cell(row, "why_remains")};
    if (!there("reconstituted") || cell(row, "reconstituted").empty()) return;
    checking_.choice("reconstituted", cell(row, "reconstituted"), {"yes", "no"});
    item["reconstituted"] = Json{cell(row, "reconstituted") == "yes"};
  }

  /// A refusal of the document, at the line and column of the table where it comes from.
  Refusal in_table(const Refusal& refusal, const Group& group) const {
    constexpr std::string_view item = "items[";
    Refusal found = refusal;
    found.file = asked_.file.name;
    found.line = group.rows.front()->line;
    if (found.field.starts_with(item)) {
      const auto close = found.field.find(']');
      const auto number = static_cast<std::size_t>(std::stoul(found.field.substr(item.size(), close - item.size())));
      found.line = group.rows[number]->line;
      found.field = found.field.substr(std::min(close + 2, found.field.size()));
    }
    if (found.field.ends_with("_mg")) found.field.resize(found.field.size() - 3);
    if (found.field == "of") found.field = "item";
    if (found.field == "remains") found.field = "remains_percent";
    if (found.field == "why") found.field = "why_remains";
    if ((found.field == "mass" || found.field == "yield") && there(found.field + "_g") && !there(found.field)) found.field += "_g";
    return found;
  }

  void take_recipes() {
    for (const char* heading : {"mass", "yield"}) {
      if (there(heading) || there(std::string{heading} + "_g")) continue;
      checking_.in_file(asked_.file.name, 1);
      checking_.refuse(heading, "this heading is missing", fmt::format("add the column {} or {}_g", heading, heading));
    }
    const auto all = groups();
    std::vector<std::string> together;
    for (const auto& group : all) {
      const std::size_t known = checking_.refusals().size();
      const auto* before = recorded(session_.state().recipes, group.id);
      const Json document = document_of_recipe(group, before);
      refuse_order(group, all, together);
      const std::size_t of_cells = checking_.refusals().size();
      const auto named = read_recipe({asked_.file.name, write_canonical(document)});
      if (!named) {
        take_others(named.error(), group, known, of_cells);
      } else {
        Checking recipe{session_};
        check_recipe(recipe, session_.state(), group.id, named->recipe, together, true);
        recipe.take(check_body(std::string{KindOf<Recipe>::kind}, body_of(named->recipe), asked_.file.name));
        take_others(recipe.refusals(), group, known, of_cells);
        if (checking_.good()) note(group.rows.front()->line, group.id, named->recipe, before, true);
      }
      together.push_back(group.id);
    }
  }

  /// A recipe that goes into another stands above it, as it is recorded before it.
  void refuse_order(const Group& group, const std::vector<Group>& all, const std::vector<std::string>& together) {
    for (const auto* row : group.rows) {
      const std::string& item = cell(*row, "item");
      const bool below = std::any_of(all.begin(), all.end(), [&](const Group& other) { return other.id == item; }) &&
                         std::find(together.begin(), together.end(), item) == together.end();
      if (cell(*row, "kind") != "recipe" || !below || session_.state().recipes.contains(RecipeId{item})) continue;
      at(*row);
      checking_.refuse("item", fmt::format("the recipe {} is not recorded before this one", item), "move its rows above these");
    }
  }

  /// The refusals of a document, but for cells that were refused already (`known` to `of_cells`), which these follow from.
  void take_others(const Refusals& refusals, const Group& group, std::size_t known, std::size_t of_cells) {
    for (const auto& one : refusals) {
      const Refusal refusal = in_table(one, group);
      const auto from = checking_.refusals().begin();
      const auto said = [&](const Refusal& other) { return other.line == refusal.line && other.field == refusal.field; };
      if (std::none_of(from + static_cast<std::ptrdiff_t>(known), from + static_cast<std::ptrdiff_t>(of_cells), said)) {
        checking_.take({refusal});
      }
    }
  }

  Session& session_;
  const TakingIn& asked_;
  const TableForm& form_;
  ReadTable table_;
  Checking checking_;
  ZonedInstant now_{};
  std::map<std::string, int> first_line_;
  std::vector<Draft> drafts_;
  TakenIn taken_;
};

}  // namespace

const TableForm* table_form(std::string_view name) {
  const auto found = std::find_if(forms().begin(), forms().end(), [&](const TableForm& form) { return form.name == name; });
  return found == forms().end() ? nullptr : &*found;
}

std::string_view word_of(Fate fate) {
  switch (fate) {
    case Fate::fresh:
      return "new";
    case Fate::changed:
      return "changed";
    case Fate::same:
      return "same";
  }
  return "";
}

Result<TakenIn> take_in(Session& session, const TakingIn& asked) {
  const TableForm* form = table_form(asked.table);
  if (form == nullptr)
    return Refusal{"", 0, "what", fmt::format("\"{}\" cannot be taken in", asked.table), "write suppliers, ingredients or recipes"};
  auto table = read_table(*form, asked.file, asked.separator);
  if (!table) return table.error();
  return Taking{session, asked, *form, std::move(table).value()}.run();
}

}  // namespace tierproof
