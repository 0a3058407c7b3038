// Kinds of cases that are about what stands beside the list: how the cake is sold, dates, figures, heights, words.
#include <algorithm>

#include "label_case_cake.h"
#include "label_case_compare.h"
#include "tierproof/papers/font.h"
#include "tierproof/sums/address.h"
#include "tierproof/sums/date_mark.h"
#include "tierproof/sums/energy.h"
#include "tierproof/sums/net_quantity.h"
#include "tierproof/sums/nutrition_need.h"
#include "tierproof/sums/nutrition_rounding.h"
#include "tierproof/sums/reference_dose.h"
#include "tierproof/sums/small_package.h"
#include "tierproof/sums/type_size.h"
#include "tierproof/text/number.h"

namespace tierproof::label_cases {
namespace {

using Texts = std::vector<std::string>;

struct Sale {
  std::string boxed, seller, ordered, where;
};

Sale read_sale(Fields& fields) {
  return {fields.choice("boxed", {"before it was chosen", "after it was ordered", "not boxed"}),
          fields.choice("seller", {"the maker", "another business"}), fields.choice("ordered", {"face to face", "at a distance"}),
          fields.maybe_text("where").value_or("where it is made")};
}

/// The one row for a sale; what is wrong when there are none or several.
std::optional<RouteTerm> route_for(const Sale& sale, const LabelTerms& terms, Judged& judged) {
  const auto fits = [](const std::string& row, const std::string& answer) { return row.empty() || row == answer; };
  std::vector<RouteTerm> found;
  for (const auto& row : terms.routes) {
    if (fits(row.boxed, sale.boxed) && fits(row.seller, sale.seller) && fits(row.ordered, sale.ordered) && fits(row.where, sale.where))
      found.push_back(row);
  }
  if (found.empty()) {
    judged.wrong.push_back(fmt::format("no route for {}, {}, {}, {}", sale.boxed, sale.seller, sale.ordered, sale.where));
    return std::nullopt;
  }
  return found.front();
}

Judge wordings_kind(Fields& fields, const Pantry&, Refusals&) {
  const auto words = fields.object("words").object();
  Json::Object other;
  if (fields.has("other_words")) other = fields.object("other_words").object();
  for (const auto& [key, text] : words) {
    if (!text.is_text()) fields.refuse("words", key + " is no text", "write the words");
  }
  return [words, other](const LabelTerms& terms) {
    Judged judged;
    for (const auto& [key, text] : words) {
      const auto* wording = terms.wording(key);
      expect(judged, key, std::optional{text.text()}, wording == nullptr ? "(none)" : wording->text);
      if (wording != nullptr) judged.printed.push_back(wording->text);
    }
    for (const auto& [language, texts] : other) {
      for (const auto& [key, text] : texts.object()) {
        const auto* wording = terms.wording(key);
        const auto there = wording == nullptr ? std::string{} : [&] {
          const auto found = wording->other_texts.find(language);
          return found == wording->other_texts.end() ? std::string{"(none)"} : found->second;
        }();
        expect(judged, key + " in " + language, std::optional{text.text()}, there);
        judged.printed.push_back(there);
      }
    }
    return judged;
  };
}

Judge route_kind(Fields& fields, const Pantry&, Refusals& refusals) {
  const auto sale = read_sale(fields);
  const PackageSize size{maybe_count(fields, "face_cm2").value_or(0), maybe_count(fields, "surface_cm2").value_or(0)};
  Fields expected{fields.object("expect"), fields.file(), fields.path_of("expect"), refusals};
  const auto route = expected.maybe_text("route");
  const auto row = expected.maybe_text("row");
  const auto declaration = expected.maybe_text("declaration");
  const auto words = expected.maybe_text("words");
  const auto clause = expected.maybe_text("cite");
  const auto on_pack = maybe_texts(expected, "on_pack");
  const auto told = maybe_texts(expected, "told");
  const auto statements = maybe_texts(expected, "statements");
  expected.done();
  return [=](const LabelTerms& terms) {
    Judged judged;
    auto found = route_for(sale, terms, judged);
    if (!found) return judged;
    found = for_package(*found, size, terms);
    expect(judged, "route", route, found->route);
    expect(judged, "row", row, found->cited.row);
    expect(judged, "declaration", declaration, found->declaration);
    expect(judged, "words", words, found->words);
    expect(judged, "clause", clause, found->cited.clause);
    expect(judged, "on the pack", on_pack, found->on_pack);
    expect(judged, "told", told, found->told);
    expect(judged, "statements", statements, found->statements);
    judged.printed.push_back(found->words);
    return judged;
  };
}

Judge dates_kind(Fields& fields, const Pantry&, Refusals& refusals) {
  struct Row {
    Date made{};
    Life life;
    bool dangerous = false;
    std::optional<std::string> kind;
    std::optional<Texts> allowed;
    std::optional<bool> storage;
  };
  const auto rows = read_rows(fields, refusals, [](Fields& row) {
    return Row{row.date("made"),
               {static_cast<int>(maybe_count(row, "months").value_or(0)), static_cast<int>(maybe_count(row, "days").value_or(0))},
               row.flag("dangerous", false),
               row.maybe_text("date_kind"),
               maybe_texts(row, "allowed"),
               maybe_flag(row, "storage")};
  });
  return [rows](const LabelTerms& terms) {
    Judged judged;
    for (const auto& row : rows) {
      const auto name = fmt::format("made {}, {} months and {} days", format_date(row.made), row.life.months, row.life.days);
      const auto marks = date_marks(row.made, row.life, row.dangerous, terms.date_marks);
      if (!marks) {
        judged.wrong.push_back(name + ": refused: " + describe(marks.error().front()));
        continue;
      }
      Texts texts;
      for (const auto& mark : marks->allowed) texts.push_back(mark.text);
      judged.printed.insert(judged.printed.end(), texts.begin(), texts.end());
      expect(judged, name, row.allowed, texts);
      expect(judged, name + ": kind", row.kind, marks->kind);
      expect(judged, name + ": storage", row.storage, marks->storage_needed);
    }
    return judged;
  };
}

Judge date_need_kind(Fields& fields, const Pantry&, Refusals& refusals) {
  struct Row {
    std::int64_t hours = 0;
    std::optional<std::int64_t> days;
    bool dangerous = false;
    std::optional<bool> needed;
    std::optional<std::string> kind;
  };
  const auto rows = read_rows(fields, refusals, [](Fields& row) {
    return Row{row.integer("hours", 0, 1'000'000), maybe_count(row, "days"), row.flag("dangerous", false), maybe_flag(row, "needed"),
               row.maybe_text("date_kind")};
  });
  return [rows](const LabelTerms& terms) {
    Judged judged;
    for (const auto& row : rows) {
      const auto life = row.days ? std::optional<Life>{{0, static_cast<int>(*row.days)}} : std::nullopt;
      const auto need = judge_date_need(row.dangerous, row.hours, terms.on, life, terms);
      expect(judged, fmt::format("{} hours: needed", row.hours), row.needed, need.needed);
      expect(judged, fmt::format("{} hours: kind", row.hours), row.kind, need.kind);
    }
    return judged;
  };
}

Judge lot_kind(Fields& fields, const Pantry&, Refusals& refusals) {
  struct Row {
    Sale sale;
    std::optional<std::int64_t> face_cm2;
    std::string form, code;
    std::optional<bool> due;
    std::optional<std::string> text;
  };
  const auto rows = read_rows(fields, refusals, [](Fields& row) {
    return Row{read_sale(row),   maybe_count(row, "face_cm2"), row.maybe_text("date_form").value_or(""),
               row.text("code"), maybe_flag(row, "due"),       row.maybe_text("text")};
  });
  return [rows](const LabelTerms& terms) {
    Judged judged;
    for (const auto& row : rows) {
      const auto face = row.face_cm2 ? std::optional{*row.face_cm2 * 100} : std::nullopt;
      const bool year_first =
          std::any_of(terms.date_marks.begin(), terms.date_marks.end(), [](const DateMarkTerm& mark) { return mark.year_first; });
      const auto mark = judge_lot_mark(terms, route_for(row.sale, terms, judged), face, row.form, row.code, year_first);
      const auto name = fmt::format("lot {}, {}, face {}, date {}", row.code, row.sale.seller, row.face_cm2.value_or(-1), row.form);
      expect(judged, name + ": due", row.due, mark.due);
      expect(judged, name + ": text", row.text, mark.text);
      judged.printed.push_back(mark.text);
    }
    return judged;
  };
}

Judge nutrition_need_kind(Fields& fields, const Pantry&, Refusals& refusals) {
  struct Row {
    NutritionAsk ask;
    bool needed = true;
    std::optional<std::string> source;
  };
  const auto rows = read_rows(fields, refusals, [](Fields& row) {
    Row one;
    one.ask.staff = maybe_count(row, "staff");
    one.ask.turnover = maybe_count(row, "turnover");
    one.ask.all_direct_or_local = maybe_flag(row, "direct_or_local");
    one.ask.claim_made = maybe_flag(row, "claim");
    one.ask.units_a_year = maybe_count(row, "units_a_year");
    one.ask.units_a_week = maybe_count(row, "units_a_week");
    one.needed = row.flag("needed", true);
    one.source = row.maybe_text("decided_by");
    return one;
  });
  return [rows](const LabelTerms& terms) {
    Judged judged;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const auto need = judge_nutrition_need(rows[i].ask, terms.nutrition_exemptions);
      expect(judged, fmt::format("row {}: needed", i + 1), std::optional{rows[i].needed}, need.needed);
      expect(judged, fmt::format("row {}: decided by", i + 1), rows[i].source, need.source);
    }
    return judged;
  };
}

Judge energy_kind(Fields& fields, const Pantry&, Refusals& refusals) {
  Fields per{fields.object("per_100g"), fields.file(), fields.path_of("per_100g"), refusals};
  const Nutrients food{share_in(per, "fat"),     share_in(per, "salatrims"),  share_in(per, "carbohydrate"),
                       share_in(per, "polyols"), share_in(per, "erythritol"), share_in(per, "protein"),
                       share_in(per, "fibre"),   share_in(per, "alcohol"),    share_in(per, "organic_acids")};
  per.done();
  const auto kj = fields.text("kj");
  const auto kcal = fields.text("kcal");
  return [=](const LabelTerms& terms) {
    Judged judged;
    const auto energy = energy_per_100g(food, terms.energy_factors);
    if (!energy) return Judged{{"refused: " + describe(energy.error().front())}, {}};
    expect(judged, "kJ", std::optional{kj}, energy->kj_text);
    expect(judged, "kcal", std::optional{kcal}, energy->kcal_text);
    return judged;
  };
}

Judge rounding_kind(Fields& fields, const Pantry&, Refusals&) {
  struct Row {
    std::string nutrient;
    Share amount;
    std::string text;
  };
  std::vector<Row> rows;
  for (const auto& row : fields.list("rows")) {
    const bool good = row.is_array() && row.array().size() == 3 && row.array()[0].is_text() && row.array()[1].is_text() &&
                      row.array()[2].is_text() && parse_decimal(row.array()[1].text());
    if (!good) {
      fields.refuse("rows", fmt::format("line {} is not [nutrient, amount, text]", row.line()), "write three texts");
      continue;
    }
    rows.push_back({row.array()[0].text(), *parse_decimal(row.array()[1].text()), row.array()[2].text()});
  }
  return [rows](const LabelTerms& terms) {
    Judged judged;
    for (const auto& row : rows) {
      const auto rounded = round_band(row.nutrient, row.amount, terms.rounding);
      expect(judged, fmt::format("{} {}", format_decimal(row.amount, 4), row.nutrient), std::optional{row.text},
             rounded ? rounded->text : describe(rounded.error().front()));
    }
    return judged;
  };
}

Judge heights_kind(Fields& fields, const Pantry&, Refusals& refusals) {
  struct Row {
    std::string what;
    std::int64_t face_mm2 = 0;
    std::optional<Mass> mass;
    std::int64_t um = 0;
    std::optional<std::string> measured;
    std::optional<std::int64_t> surface_mm2;
  };
  const auto rows = read_rows(fields, refusals, [](Fields& row) {
    return Row{row.text("what"),           row.integer("face_mm2", 1, 1'000'000'000),
               row.maybe_mass("mass"),     row.integer("um", 0, 1'000'000),
               row.maybe_text("measured"), maybe_count(row, "surface_mm2")};
  });
  return [rows](const LabelTerms& terms) {
    Judged judged;
    for (const auto& row : rows) {
      const auto height = minimum_height(terms.type_sizes, row.what, row.face_mm2, row.mass, row.surface_mm2);
      const auto name = fmt::format("{}, face {} mm2, {} mg", row.what, row.face_mm2, row.mass ? row.mass->to_milligrams() : -1);
      expect(judged, name, std::optional{fmt::format("{}", row.um)}, height ? fmt::format("{}", height->micrometres) : "(none)");
      expect(judged, name + ": measured", row.measured, height ? height->measured : "(none)");
    }
    return judged;
  };
}

Judge points_kind(Fields& fields, const Pantry&, Refusals&) {
  const auto what = fields.text("what");
  const auto face = fields.integer("face_mm2", 1, 1'000'000'000);
  const auto x = static_cast<int>(fields.integer("x_height", 1, 100'000));
  const auto em = static_cast<int>(fields.integer("units_per_em", 1, 100'000));
  const auto points = fields.text("points");
  return [=](const LabelTerms& terms) {
    const auto height = minimum_height(terms.type_sizes, what, face, {});
    if (!height) return Judged{{"no height for " + what}, {}};
    Judged judged;
    const auto size = points_for_x_height(height->micrometres, x, em);
    expect(judged, "points", std::optional{points}, fmt::format("{}.{:02}", size.to_hundredths() / 100, size.to_hundredths() % 100));
    return judged;
  };
}

Judge net_quantity_kind(Fields& fields, const Pantry&, Refusals& refusals) {
  struct Row {
    Mass mass;
    std::optional<std::string> text, instead;
  };
  const auto rows = read_rows(fields, refusals, [](Fields& row) {
    return Row{row.mass("mass"), row.maybe_text("text"), row.maybe_text("instead")};
  });
  return [rows](const LabelTerms& terms) {
    Judged judged;
    for (const auto& row : rows) {
      const auto net = net_quantity(row.mass, 1, terms);
      const auto name = format_mass(row.mass);
      if (!net) {
        judged.wrong.push_back(name + ": refused: " + describe(net.error().front()));
        continue;
      }
      expect(judged, name, row.text, net->text);
      expect(judged, name + ": instead", row.instead, net->instead);
      judged.printed.push_back(net->text);
    }
    return judged;
  };
}

Judge precaution_kind(Fields& fields, const Pantry&, Refusals& refusals) {
  struct Row {
    UnintendedAmount amount;
    Mass cake;
    Mass slice;
    std::string level;
    bool indicated = true;
  };
  const auto rows = read_rows(fields, refusals, [](Fields& row) {
    const auto allergen = row.text("allergen");
    return Row{{allergen, allergen, share_in(row, "mg"), maybe_percent(row, "protein").value_or(1), row.flag("particulate", false)},
               row.mass("cake"),
               row.mass("slice"),
               row.text("level"),
               row.flag("indicated", true)};
  });
  return [rows](const LabelTerms& terms) {
    Judged judged;
    for (const auto& row : rows) {
      const auto found = judge_precaution(row.amount, row.cake, row.slice, terms.reference_doses);
      if (!found) {
        judged.wrong.push_back(row.amount.allergen + ": refused: " + describe(found.error().front()));
        continue;
      }
      const auto level = found->action_level_mg_per_kg;
      expect(judged, row.amount.allergen + ": level", std::optional{row.level}, level ? format_decimal(*level, 0) : "");
      expect(judged, row.amount.allergen + ": indicated", std::optional{row.indicated}, found->indicated);
      expect(judged, row.amount.allergen + ": a source", std::optional{terms.allergen(row.amount.allergen) != nullptr},
             !found->source.empty());
      if (!found->message.ends_with("advice, not law")) judged.wrong.push_back("not called advice: " + found->message);
    }
    return judged;
  };
}

Judge address_kind(Fields& fields, const Pantry&, Refusals& refusals) {
  struct Row {
    std::string country;
    Sale sale;
    std::string verdict;
  };
  const auto rows = read_rows(fields, refusals, [](Fields& row) {
    return Row{row.maybe_text("country").value_or(""), read_sale(row), row.text("verdict")};
  });
  return [rows](const LabelTerms& terms) {
    Judged judged;
    for (const auto& row : rows) {
      const auto finding = judge_address("cake-1", row.country, route_for(row.sale, terms, judged), terms);
      expect(judged, "business in " + (row.country.empty() ? "(not recorded)" : row.country), std::optional{row.verdict},
             finding ? std::string{term_of(finding->verdict)} : "none");
    }
    return judged;
  };
}

Judge answers_kind(Fields& fields, const Pantry&, Refusals& refusals) {
  struct Row {
    std::string said;
    std::optional<Texts> keys;
    std::optional<bool> ask_which;
  };
  const auto rows = read_rows(fields, refusals, [](Fields& row) {
    return Row{row.text("said"), maybe_texts(row, "keys"), maybe_flag(row, "ask_which")};
  });
  return [rows](const LabelTerms& terms) {
    Judged judged;
    for (const auto& row : rows) {
      const auto* answer = terms.group_answer(row.said);
      if (answer == nullptr) {
        judged.wrong.push_back(row.said + " is not known");
        continue;
      }
      expect(judged, row.said, row.keys, terms.keys_of(*answer));
      expect(judged, row.said + ": ask which", row.ask_which, answer->ask_which);
    }
    return judged;
  };
}

Judge settings_kind(Fields& fields, const Pantry&, Refusals&) {
  const auto languages = maybe_texts(fields, "languages");
  const auto from_memory = maybe_texts(fields, "words_from_memory");
  const auto days = maybe_count(fields, "specification_days");
  const auto clause = fields.maybe_text("cite");
  if (!languages && !days) fields.refuse("languages", "expects nothing", "say languages or specification_days");
  return [=](const LabelTerms& terms) {
    Judged judged;
    expect(judged, "languages", languages, terms.language.languages);
    expect(judged, "words from memory", from_memory, terms.language.words_from_memory);
    if (languages) expect(judged, "clause of the languages", clause, terms.language.cited.clause);
    if (days) {
      expect(judged, "days", std::optional{fmt::format("{}", *days)},
             terms.specification_age ? fmt::format("{}", terms.specification_age->days) : "(none)");
      if (terms.specification_age) expect(judged, "clause of the age", clause, terms.specification_age->cited.clause);
    }
    return judged;
  };
}

}  // namespace

Kind kind_of(const std::string& name) {
  static const std::vector<std::pair<std::string, Kind>> kinds{{"cake", cake_kind},
                                                               {"one food", one_food_kind},
                                                               {"additives", additives_kind},
                                                               {"classes", classes_kind},
                                                               {"levels", levels_kind},
                                                               {"wordings", wordings_kind},
                                                               {"route", route_kind},
                                                               {"dates", dates_kind},
                                                               {"date need", date_need_kind},
                                                               {"lot", lot_kind},
                                                               {"nutrition need", nutrition_need_kind},
                                                               {"energy", energy_kind},
                                                               {"rounding", rounding_kind},
                                                               {"heights", heights_kind},
                                                               {"points", points_kind},
                                                               {"net quantity", net_quantity_kind},
                                                               {"precaution", precaution_kind},
                                                               {"address", address_kind},
                                                               {"answers", answers_kind},
                                                               {"settings", settings_kind}};
  const auto found = std::find_if(kinds.begin(), kinds.end(), [&](const auto& one) { return one.first == name; });
  return found == kinds.end() ? nullptr : found->second;
}

}  // namespace tierproof::label_cases
