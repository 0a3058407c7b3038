// Allergens of the law: what counts as one, what is exempt, how it is shown, what customers call it.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "parameters.h"

namespace tierproof {
namespace {

using namespace parameter;

RowSays read_allergen(Fields& row, const RowContext&) {
  AllergenTerm term;
  term.key = needed_text(row, "key");
  term.group = needed_text(row, "group");
  term.word = needed_text(row, "word");
  term.names = lower_texts(row, "names");
  if (term.names.empty()) row.refuse("names", "has nothing in it", "write at least one text in the list");
  if (const auto above = row.maybe_integer("above_mg_per_kg", 0, 1'000'000)) term.above_mg_per_kg = Share{*above};
  term.at_threshold = row.flag("at_threshold", false);
  if (term.at_threshold && !term.above_mg_per_kg)
    row.refuse("at_threshold", "has no threshold beside it", "give above_mg_per_kg, or leave it out");
  term.summary_words = row.texts("summary_words");
  term.in_summary = row.flag("in_summary", true);
  if (!term.in_summary && !term.summary_words.empty())
    row.refuse("summary_words", "are given though it never stands in the summary", "take them out, or write in_summary true");
  term.name_species = row.flag("name_species", false);
  term.other_words = other_words(row, "other_words");
  term.other_names = other_names(row, "other_names");
  return term;
}

RowSays read_exemption(Fields& row, const RowContext&) {
  ExemptionTerm term;
  term.allergen = needed_text(row, "allergen");
  term.process = needed_text(row, "process");
  term.words = needed_text(row, "words");
  return term;
}

RowSays read_allergen_form(Fields& row, const RowContext&) {
  AllergenFormTerm term;
  term.in_list = row.choice("in_list", {"each", "first", "none"});
  term.summary = row.choice("summary", {"required", "allowed", "forbidden"});
  term.summary_emphasised = row.flag("summary_emphasised", false);
  term.title_emphasised = row.flag("title_emphasised", false);
  term.after_list = chosen_texts(row, "after_list", {"statements", "summary", "may contain"});
  const bool summary = term.summary != "forbidden";
  for (const char* part : {"statements", "may contain"}) {
    if (std::find(term.after_list.begin(), term.after_list.end(), part) == term.after_list.end())
      row.refuse("after_list", fmt::format("\"{}\" has no place in it", part), "give the order of all that follows the list");
  }
  if (summary != (std::find(term.after_list.begin(), term.after_list.end(), "summary") != term.after_list.end())) {
    row.refuse("after_list", summary ? "\"summary\" has no place in it" : "gives a place to a summary that is forbidden",
               "name the summary here only where it is required or allowed");
  }
  if (!summary && (term.summary_emphasised || term.title_emphasised))
    row.refuse("summary", "is forbidden and emphasised", "leave summary_emphasised and title_emphasised out");
  if (!summary && term.in_list == "none")
    row.refuse("in_list", "shows allergens neither in the list nor in a summary", "allow one of the two");
  return term;
}

RowSays read_group_answer(Fields& row, const RowContext&) {
  GroupAnswerTerm term;
  term.word = needed_text(row, "word");
  term.names = lower_texts(row, "names");
  term.counts_as = needed_texts(row, "counts_as");
  term.ask_which = row.flag("ask_which", true);
  return term;
}

RowSays read_emphasis(Fields& row, const RowContext&) { return EmphasisRow{row.choice("style", {"bold capitals", "bold", "none"})}; }

RowSays read_reference_dose(Fields& row, const RowContext&) {
  ReferenceDoseTerm term;
  term.allergen = needed_text(row, "allergen");
  term.mg_protein = maybe_decimal(row, "mg_protein");
  term.status = row.choice("status", {"recommended", "provisional", "none set"});
  if (term.status == "none set" && term.mg_protein)
    row.refuse("mg_protein", "is given though none is set", "leave it out, or correct the status");
  if ((term.status == "recommended" || term.status == "provisional") && (!term.mg_protein || *term.mg_protein == 0))
    row.refuse("mg_protein", "is missing", "write the milligrams of protein as a text, \"2.0\", or the status none set");
  return term;
}

constexpr std::array<Mechanism, 6> mechanisms{{
    {"label", "allergen", read_allergen},
    {"label", "allergen-exemption", read_exemption},
    {"label", "allergen-form", read_allergen_form},
    {"label", "emphasis", read_emphasis},
    {"label", "group-answer", read_group_answer},
    {"label", "reference-dose", read_reference_dose},
}};

}  // namespace

std::span<const Mechanism> allergen_mechanisms() { return mechanisms; }

}  // namespace tierproof
