#include "parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

/// The shape of a verdict, of lines alone, so that it can be told apart without its colour.
Html shape(const char* kind, const char* path) {
  return el("svg", {{"class", std::string{"shape "} + kind}, {"viewBox", "0 0 24 24"}, {"aria-hidden", "true"}, {"focusable", "false"}},
            el("path", {{"d", path}}));
}
Html shape_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::shown:
      return shape("is-shown", "M3 3h18v18h-18z M7 12l4 4 7-8");
    case Verdict::not_shown:
      return shape("is-not-shown", "M12 2l10 10-10 10-10-10z M12 7v6 M12 16v1");
    case Verdict::not_met:
      return shape("is-not-met", "M8 2h8l6 6v8l-6 6h-8l-6-6v-8z M7 7l10 10 M17 7l-10 10");
    case Verdict::outside_model:
      return shape("is-outside", "M12 3a9 9 0 1 0 .01 0z M6 18l12-12");
  }
  return {};
}

Html mark(const Html& picture, std::string_view words, const char* kind) {
  return el("span", {{"class", std::string{"verdict "} + kind}}, picture, el("span", {}, std::string{words}));
}

}  // namespace

Html verdict_mark(Verdict verdict) {
  switch (verdict) {
    case Verdict::shown:
      return mark(shape_of(verdict), words_of(verdict), "v-shown");
    case Verdict::not_shown:
      return mark(shape_of(verdict), words_of(verdict), "v-not-shown");
    case Verdict::not_met:
      return mark(shape_of(verdict), words_of(verdict), "v-not-met");
    case Verdict::outside_model:
      return mark(shape_of(verdict), words_of(verdict), "v-outside");
  }
  return {};
}

Html leaving_mark(bool nobody_may, bool released, bool against_findings) {
  if (nobody_may) return mark(shape_of(Verdict::not_met), "must not leave", "v-not-met");
  if (!released) return mark(shape_of(Verdict::not_shown), "not decided", "v-not-shown");
  return against_findings ? mark(shape_of(Verdict::not_shown), "released against findings", "v-not-shown")
                          : mark(shape_of(Verdict::shown), "OK to leave", "v-shown");
}

Html standing_mark(ColdStanding standing) {
  switch (standing) {
    case ColdStanding::within:
      return mark(shape_of(Verdict::shown), words_of(standing), "v-shown");
    case ColdStanding::above:
      return mark(shape_of(Verdict::not_met), words_of(standing), "v-not-met");
    case ColdStanding::perhaps_above:
    case ColdStanding::not_relied_on:
    case ColdStanding::not_read:
      return mark(shape_of(Verdict::not_shown), words_of(standing), "v-not-shown");
    case ColdStanding::no_limit:
      return el("span", {{"class", "verdict"}}, std::string{words_of(standing)});
  }
  return {};
}

Html finding_card(const std::string& heading, const Finding& finding) {
  Html inside = el("h3", {}, heading) + verdict_mark(finding.verdict) + el("p", {}, finding.message);
  if (finding.verdict != Verdict::shown) {
    if (!finding.limit.empty()) inside += el("p", {}, el("b", {}, "Must be: "), finding.limit);
    if (!finding.evidence.empty()) inside += el("p", {}, el("b", {}, "Recorded: "), finding.evidence);
    if (!finding.paths.empty()) {
      Html ways;
      for (const auto& path : finding.paths) ways += el("li", {}, path);
      inside += el("ul", {}, ways);
    }
    if (!finding.remedy.empty())
      inside +=
          el("p", {{"class", "todo"}}, el("b", {}, finding.stop == Stop::no_override ? "Nobody can release against this: " : "To do: "),
             to_do_here(finding.remedy));
  }
  for (const auto& advice : finding.advice) inside += el("p", {}, el("b", {}, "Advice: "), advice);
  if (!finding.source.empty()) inside += el("p", {{"class", "source"}}, finding.source);
  return el("article", {{"class", "finding"}}, inside);
}

Html facts(const std::vector<std::pair<std::string, Html>>& pairs) {
  Html lines;
  for (const auto& [name, value] : pairs) lines += el("div", {}, el("dt", {}, name), el("dd", {}, value));
  return el("dl", {{"class", "facts"}}, lines);
}

Html table(const std::string& caption, const std::vector<std::string>& headings, const std::vector<std::vector<Html>>& rows) {
  Html head;
  for (const auto& heading : headings) head += el("th", {{"scope", "col"}}, heading);
  Html body;
  for (const auto& row : rows) {
    Html cells;
    for (std::size_t i = 0; i < row.size(); ++i) cells += el("td", {{"data-of", i < headings.size() ? headings[i] : ""}}, row[i]);
    body += el("tr", {}, cells);
  }
  return el("div", {{"class", "wide"}, {"role", "region"}, {"tabindex", "0"}, {"aria-label", caption}},
            el("table", {}, el("caption", {}, caption), el("thead", {}, el("tr", {}, head)), el("tbody", {}, body)));
}

Html live(const char* id, const Html& inside) { return el("div", {{"id", id}, {"data-live", ""}}, inside); }

Html link_button(const std::string& href, const std::string& words, const char* kind) {
  return el("a", {{"class", std::string{"button "} + kind}, {"href", href}}, words);
}

Html nothing_yet(const std::string& words, const std::string& href, const std::string& action) {
  return el("div", {{"class", "nothing"}}, el("p", {}, words), href.empty() ? Html{} : el("p", {}, link_button(href, action, "main")));
}

Html pictures_of(Visit& visit, const std::string& about) {
  const auto& all = visit.records().state().evidence;
  const auto count = std::count_if(all.begin(), all.end(), [&](const Recorded<Evidence>& one) {
    return one.subject == about || (one.value.note && std::to_string(*one.value.note) == about);
  });
  return el("p", {}, el("a", {{"href", "/drawer/attached/" + url_part(about)}}, fmt::format("Pictures and papers ({})", count)));
}

Html more_about(Visit& visit, const std::string& id) {
  return pictures_of(visit, id) +
         el("p", {}, el("a", {{"href", "/drawer/notes?find=" + url_part(id)}}, "Its notes: look at one, or put it right"));
}

std::string degrees_in_words(Temperature temperature) { return fmt::format("{:.1f} °C", temperature.to_celsius()); }
std::string moment_in_words(const Session& session, Instant at) { return format_moment(at, session.offset_at(at)); }

namespace {
template <class Things, class Words>
Choices choices_of(const Things& things, const Words& words) {
  Choices choices;
  for (const auto& [id, thing] : things) choices.push_back({id.text(), words(thing.value)});
  std::stable_sort(choices.begin(), choices.end(), [](const Choice& a, const Choice& b) { return a.words < b.words; });
  return choices;
}
constexpr auto own_name = [](const auto& thing) { return thing.name; };
}  // namespace

Html issued_papers(const Session& session, std::string_view paper) {
  Html lines;
  for (const auto& issued : session.state().papers) {
    if (issued.value.paper == paper && issued.value.form == "pdf")
      lines += el("p", {},
                  el("a", {{"href", fmt::format("/paper/{}", issued.sequence)}},
                     fmt::format("Issued {}, note {} (PDF)", moment_in_words(session, issued.happened), issued.sequence)));
  }
  return lines;
}

Choices places_of(const Session& session) { return choices_of(session.state().places, own_name); }
Choices thermometers_of(const Session& session) { return choices_of(session.state().probes, own_name); }
Choices foods_of(const Session& session) { return choices_of(session.state().ingredients, own_name); }
Choices suppliers_of(const Session& session) {
  return choices_of(session.state().suppliers, [](const Supplier& supplier) { return supplier.firm.name; });
}
Choices recipes_of(const Session& session) { return choices_of(session.state().recipes, own_name); }
Choices kit_of(const Session& session) { return choices_of(session.state().equipment, own_name); }

Choices allergens_of(const Session& session) {
  Choices choices;
  if (const auto terms = session.label_terms(session.today())) {
    for (const auto& allergen : terms->allergens) choices.push_back({allergen.key, allergen.word});
  }
  return choices;
}

void add_when(FormView& form) {
  form.fold_begin("It happened earlier");
  form.text("at", "When", {.hint = "The day and time on the kitchen's clock, 2026-05-01 08:10. Left empty: now."});
  form.fold_end();
}

DaysAsked days_asked(const Visit& visit) {
  const Pairs& asked = visit.request.method == "POST" ? visit.request.form : visit.request.query;
  DaysAsked days{asked["from"], asked["until"], parse_date(asked["from"]), parse_date(asked["until"]), {}};
  const auto check = [&](const char* name, const std::string& typed, const std::optional<Date>& day) {
    if (!day && !typed.empty()) days.wrong.push_back({"", 0, name, fmt::format("\"{}\" is not a day", typed), "write it as 2026-05-01"});
  };
  check("from", days.from_typed, days.from);
  check("until", days.until_typed, days.until);
  return days;
}

std::string in_plain_words(std::string terms) {
  for (std::size_t at; (at = terms.find('/')) != std::string::npos;)
    terms.erase(at, std::min(terms.find_first_not_of("0123456789", at + 1), terms.size()) - at);
  std::replace_if(
      terms.begin(), terms.end(), [](char c) { return c == '-' || c == '_'; }, ' ');
  return terms;
}

namespace {
/// What the records number by themselves, and what stands for the whole kitchen: a thing of that name would be taken for another.
bool means_something_else(const std::string& id) {
  const auto dash = id.rfind('-');
  static const std::set<std::string, std::less<>> numbered{"pack", "batch", "cake", "trouble", "complaint", "recall"};
  return id == "kitchen" || (dash != std::string::npos && dash + 1 < id.size() && numbered.contains(std::string_view{id}.substr(0, dash)) &&
                             id.find_first_not_of("0123456789", dash + 1) == std::string::npos);
}
}  // namespace

std::string short_name(const std::string& name, const std::function<bool(const std::string&)>& taken) {
  std::string id;
  for (const char c : ascii_lower(name)) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    if (plain) id += c;
    if (!plain && !id.empty() && id.back() != '-' && static_cast<unsigned char>(c) < 0x80) id += '-';
    if (id.size() == 34) break;
  }
  while (!id.empty() && id.back() == '-') id.pop_back();
  if (id.empty()) id = "thing";
  if (!means_something_else(id) && !taken(id)) return id;
  for (int number = 2;; ++number) {
    if (std::string next = fmt::format("{}-{}", id, number); !taken(next)) return next;
  }
}

}  // namespace tierproof::web
