// The drawer's last part: until when everything has to be kept, and erasing what may go.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "deeds.h"
#include "parts.h"
#include "signing_in.h"
#include "tierproof/app/erasing.h"
#include "tierproof/app/kept_until.h"
#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

constexpr std::size_t most_kept_lines = 200;

std::string words_of_kept(const std::string& kind) { return kind == "personal data" ? "the customer" : kind; }
std::string customers_in_words(std::size_t number) { return number == 1 ? "1 customer" : fmt::format("{} customers", number); }

Html kept_table(const std::string& caption, const std::vector<const KeptLine*>& lines, bool erasable) {
  std::vector<std::vector<Html>> rows;
  for (const auto* line : lines) {
    if (rows.size() == most_kept_lines) break;
    Html why = el("p", {}, line->why);
    if (line->notes > 0)
      why += el("p", {{"class", "hint"}},
                fmt::format("{} {}, {} past {} own time", line->notes, line->notes == 1 ? "note" : "notes", line->past,
                            line->notes == 1 ? "its" : "their"));
    if (line->words_may_go > 0)
      why += el("p", {}, fmt::format("what {} of them {} apart may go", line->words_may_go, line->words_may_go == 1 ? "keeps" : "keep"));
    for (const auto& held : line->held_by) why += el("p", {{"class", "stop"}}, "held: " + held);
    if (line->kept && line->kept->cited.from_memory)
      why += el("p", {{"class", "hint"}}, "This row is told from memory: ask whoever knows.");
    std::vector<Html> cells{line->name.empty() ? Html{line->thing} : Html{fmt::format("{} ({})", line->name, line->thing)},
                            words_of_kept(line->kind), std::string{words_of(line->state)},
                            line->last ? format_date_long(*line->last) : "not known", why};
    if (erasable)
      cells.push_back(line->kind == "personal data" && line->state == KeptState::may_go
                          ? link_button("/drawer/erase/customer/" + url_part(line->thing), "Erase it")
                          : Html{});
    rows.push_back(std::move(cells));
  }
  std::vector<std::string> headings{"Of", "What", "It", "Until", "Because"};
  if (erasable) headings.push_back("");
  return table(caption, headings, rows) +
         (lines.size() > most_kept_lines
              ? el("p", {{"class", "hint"}}, fmt::format("The first {} of {}: ask about one thing above.", most_kept_lines, lines.size()))
              : Html{});
}

/// What was erased so far, by its notes.
Html erased_so_far(const Session& records) {
  std::vector<std::vector<Html>> rows;
  for (auto one = records.state().erasures.rbegin(); one != records.state().erasures.rend() && rows.size() < most_kept_lines; ++one) {
    const Erasure& erasure = one->value;
    std::string with = erasure.texts == 1 ? "1 text" : fmt::format("{} texts", erasure.texts);
    if (!erasure.papers.empty())
      with += erasure.papers.size() == 1 ? ", 1 kept paper" : fmt::format(", {} kept papers", erasure.papers.size());
    if (!erasure.files.empty()) with += erasure.files.size() == 1 ? ", 1 file" : fmt::format(", {} files", erasure.files.size());
    if (!erasure.files_gone.empty())
      with += fmt::format("; {} not there any more, so it could not be erased here",
                          erasure.files_gone.size() == 1 ? "1 file was" : fmt::format("{} files were", erasure.files_gone.size()));
    rows.push_back({fmt::format("note {}", one->sequence), moment_in_words(records, one->happened), one->subject,
                    erasure.what.empty() ? "the customer" : erasure.what, with, erasure.because});
  }
  return rows.empty() ? Html{}
                      : el("details", {{"class", "fold"}, {"id", "erased"}}, el("summary", {}, "What was erased so far"),
                           table("Erased, the newest first", {"Note", "When", "Of", "What", "With", "Because"}, rows));
}

/// Files that an erasure left, by the numbers of their notes in the address.
Html files_that_stay(const Visit& visit) {
  const std::string& notes = visit.request.query["stays"];
  const bool numbers = !notes.empty() && notes.size() < 200 &&
                       std::all_of(notes.begin(), notes.end(), [](char c) { return (c >= '0' && c <= '9') || c == ','; });
  return numbers ? el("p", {{"class", "warn"}, {"role", "note"}},
                      "NOT erased, since it is attached to something else too: the file that was attached by note " + notes + ".")
                 : Html{};
}

Html what_never_goes() {
  return el(
      "p", {{"class", "hint"}},
      "Notes, packs, batches, readings and what went into what always stay, since the trace leans on them. Only what is kept of customers, "
      "names of people who left and the words of regular records are ever erased, by somebody and with a note of it. Tax and other law may "
      "ask for longer: ask whoever knows.");
}

WebAnswer kept_page(Visit& visit) {
  const Session& records = visit.records();
  const std::string of{trimmed(visit.request.query["of"])}, on_typed{trimmed(visit.request.query["on"])};
  const auto on = on_typed.empty() ? std::optional{visit.today()} : parse_date(on_typed);
  Html main =
      el("h1", {}, "Until when it is kept") +
      el("form", {{"method", "get"}, {"class", "inline"}}, el("label", {{"for", "of"}}, "Of one cake, thermometer, seller or person"),
         el("input", {{"id", "of"}, {"name", "of"}, {"type", "text"}, {"value", of}, {"autocomplete", "off"}}),
         el("label", {{"for", "on"}}, "as on"),
         el("input", {{"id", "on"}, {"name", "on"}, {"type", "date"}, {"value", on ? format_date(*on) : ""}}),
         el("button", {{"type", "submit"}, {"class", "plain"}}, "Show it"));
  if (!on)
    return page(visit, "Until when it is kept", "drawer",
                main + el("p", {{"class", "warn"}}, fmt::format("\"{}\" is not a day; write it as 2026-05-01.", on_typed)));
  const auto view = kept_until(records, *on);
  if (!view) {
    for (const auto& refusal : view.error()) main += el("p", {{"class", "warn"}}, told_here(refusal));
    return page(visit, "Until when it is kept", "drawer", main);
  }
  const bool today = *on == visit.today();
  main += files_that_stay(visit) +
          el("p", {{"class", "date"}},
             fmt::format("{}, by the rules \"{}\" of how long records are kept", format_date_long(view->on), view->rules));
  std::vector<const KeptLine*> may_go, held, must_stay, not_known, over, gone;
  for (const auto& line : view->lines) {
    if (!of.empty() && line.thing != of) continue;
    if (line.state == KeptState::may_go || line.words_may_go > 0) {
      may_go.push_back(&line);
      continue;
    }
    switch (line.state) {
      case KeptState::may_go:
        break;
      case KeptState::held:
        held.push_back(&line);
        break;
      case KeptState::must_stay:
        must_stay.push_back(&line);
        break;
      case KeptState::not_known:
        not_known.push_back(&line);
        break;
      case KeptState::stays:
        over.push_back(&line);
        break;
      case KeptState::gone:
        gone.push_back(&line);
        break;
    }
  }
  const std::size_t customers = view->customers_that_may_go().size(), words = view->names_that_may_go() + view->records_that_may_go();
  main += el("h2", {}, "What may go");
  if (may_go.empty()) main += el("p", {}, of.empty() ? "Nothing may go." : "Nothing of it may go.");
  if (today && customers + words > 0)
    main += el("p", {{"class", "actions"}},
               customers == 0 ? Html{} : link_button("/drawer/erase/customers", fmt::format("Erase {}…", customers_in_words(customers))),
               words == 0 ? Html{} : link_button("/drawer/erase/words", "Erase old names and words…"));
  if (!today && !may_go.empty()) main += el("p", {{"class", "hint"}}, "That is as on that day. Erasing goes by today.");
  if (!may_go.empty()) main += kept_table("What may go, and nobody needs any more", may_go, today);
  if (!held.empty())
    main += el("h2", {}, "Its time is over, and something holds it") + kept_table("What is held, and by what", held, false);
  const bool open = !of.empty();
  for (const auto& [words_said, lines] :
       {std::pair{"Must stay", &must_stay}, std::pair{"Stays, since it is not known from when its time counts", &not_known},
        std::pair{"Its time is over, and it stays all the same", &over}, std::pair{"Gone", &gone}}) {
    if (!lines->empty())
      main += el("details", {{"class", "fold"}, flag("open", open)}, el("summary", {}, fmt::format("{}: {}", words_said, lines->size())),
                 kept_table(words_said, *lines, false));
  }
  if (!of.empty() && may_go.size() + held.size() + must_stay.size() + not_known.size() + over.size() + gone.size() == 0)
    main += el("p", {}, fmt::format("Nothing is kept under \"{}\".", of));
  return page(visit, "Until when it is kept", "drawer", main + what_never_goes() + erased_so_far(records));
}

Html goes_and_stays(const std::vector<std::string>& goes, const std::vector<std::string>& stays) {
  Html going, staying;
  for (const auto& line : goes) going += el("li", {}, line);
  for (const auto& line : stays) staying += el("li", {}, line);
  return el("div", {{"class", "warn"}, {"role", "note"}}, el("h2", {}, "What goes, for good"), el("ul", {}, going),
            el("h2", {}, "What stays"), el("ul", {}, staying), el("p", {}, el("b", {}, "It cannot be undone.")),
            el("p", {}, "What left this machine is not reached: destroy exports, backups and printed papers that tell of it too."));
}

Html of_a_customer() {
  return goes_and_stays(
      {"who ordered and how to reach them; the allergy answer, what they accepted and what they were told; to whom it was handed "
       "over; what they complained of; the reasons of the release; corrected and taken back notes of these too",
       "the kept papers that may tell any of it: the cake's records, allergen sheets, hand-over notes, and labels with a stop on "
       "them",
       "the files that were attached to the cake, to these notes and to complaints"},
      {"the record of the food: packs, batches, the cake and what went into what",
       "the notes themselves, with who recorded them; what went wrong and what was thrown away",
       "venue cards, counter lists and labels without a stop, which hold nothing of a customer",
       "words and files that a note about something else uses too"});
}

Html back_to_kept() { return el("p", {}, el("a", {{"href", "/drawer/kept"}}, "Back, and erase nothing")); }

/// A page about erasing where today's rules can be read.
WebAnswer erasing_page(Visit& visit, const std::string& title, const std::function<Html(const KeptView&)>& inside) {
  const auto view = kept_until(visit.records(), visit.today());
  Html main = el("h1", {}, title);
  if (view) {
    main += inside(*view);
  } else {
    for (const auto& refusal : view.error()) main += el("p", {{"class", "warn"}}, told_here(refusal));
  }
  return page(visit, title, "drawer", main + back_to_kept());
}

WebAnswer erase_customer_page(Visit& visit) {
  return erasing_page(visit, "Erase the customer of " + visit.part, [&](const KeptView& view) {
    const auto line = std::find_if(view.lines.begin(), view.lines.end(),
                                   [&](const KeptLine& one) { return one.thing == visit.part && one.kind == "personal data"; });
    if (line == view.lines.end()) return el("p", {}, "Nothing of a customer is kept under this number.");
    std::vector<std::pair<std::string, Html>> lines{{"Cake", fmt::format("{} ({})", line->name, line->thing)}};
    if (const auto cake = visit.records().state().cakes.find(CakeId{visit.part}); cake != visit.records().state().cakes.end()) {
      if (cake->second.value.customer.given()) lines.push_back({"Customer", cake->second.value.customer.text.value_or("(erased)")});
      lines.push_back({"For", format_date_long(cake->second.value.event)});
    }
    lines.push_back({"It", std::string{words_of(line->state)}});
    lines.push_back({"Kept until", line->last ? format_date_long(*line->last) : "no day"});
    lines.push_back({"Because", line->why});
    for (const auto& held : line->held_by) lines.push_back({"Held", el("b", {}, held)});
    Html told = facts(lines);
    if (line->state != KeptState::may_go)
      return told + (line->state == KeptState::gone ? Html{} : el("p", {{"class", "stop"}}, "It may not go today."));
    return told + of_a_customer() +
           FormView{visit, "/drawer/erase/customer/" + url_part(visit.part), "erase-customer"}
               .tiles("because", "Why", {{"the customer asked", "the customer asked"}, {"not needed any more", "not needed any more"}},
                      {.needed = true})
               .pin("Your PIN")
               .finish("Erase this customer for good", "grave");
  });
}

WebAnswer erase_customers_page(Visit& visit) {
  return erasing_page(visit, "Erase all customers that may go", [&](const KeptView& view) {
    std::vector<std::vector<Html>> rows;
    for (const auto& line : view.lines) {
      if (line.kind == "personal data" && line.state == KeptState::may_go)
        rows.push_back({fmt::format("{} ({})", line.name, line.thing), line.last ? format_date_long(*line.last) : "no day", line.why});
    }
    if (rows.empty()) return el("p", {}, "What is kept of no customer may go today.");
    return el("p", {{"class", "date"}}, fmt::format("{} may go today", customers_in_words(rows.size()))) +
           table("Of which cakes", {"Cake", "Had to be kept until", "Because"}, rows) + of_a_customer() +
           FormView{visit, "/drawer/erase/customers", "erase-customers"}
               .shows(view.customers_that_may_go())
               .number("confirm", "How many customers go", {.hint = "Type the number that stands above.", .needed = true})
               .pin("Your PIN")
               .finish("Erase them for good", "grave");
  });
}

/// What `erase_old_words` would erase, a line each: `people who work here: ben`, `regular records: pests: 3`.
std::vector<std::string> old_words_that_may_go(const KeptView& view) {
  std::vector<std::string> lines;
  for (const auto& line : view.lines) {
    if (line.kind == "people who work here" && line.state == KeptState::may_go)
      lines.push_back(fmt::format("{}: {}", line.kind, line.thing));
    if (line.words_may_go > 0) lines.push_back(fmt::format("{}: {}: {}", line.kind, line.thing, line.words_may_go));
  }
  return lines;
}

/// What may go now, by the records that it would be erased from, unless it is another list than the page showed.
template <class List>
std::optional<Refusals> unlike_the_list(const Visit& visit, const Session& session, const List& list) {
  if (session.booked_before()) return std::nullopt;
  const auto view = kept_until(session, session.today());
  if (!view) return view.error();
  if (const auto refusal = unlike_shown(visit, list(*view))) return Refusals{*refusal};
  return std::nullopt;
}

WebAnswer erase_words_page(Visit& visit) {
  return erasing_page(visit, "Erase old names and words", [&](const KeptView& view) {
    const std::size_t names = view.names_that_may_go(), words = view.records_that_may_go();
    if (names + words == 0) return el("p", {}, "No name of anybody who left, and no words of a regular record, may go today.");
    std::vector<std::vector<Html>> rows;
    for (const auto& line : view.lines) {
      if (line.kind == "people who work here" && line.state == KeptState::may_go)
        rows.push_back({line.thing, "the name of somebody who left", line.why});
      if (line.words_may_go > 0)
        rows.push_back({line.name.empty() ? line.thing : line.name,
                        line.words_may_go == 1 ? "the words of 1 record" : fmt::format("the words of {} records", line.words_may_go),
                        line.why});
    }
    return el("p", {{"class", "date"}},
              fmt::format("{} and {} may go today, {} together", names == 1 ? "1 name" : fmt::format("{} names", names),
                          words == 1 ? "the words of 1 regular record" : fmt::format("the words of {} regular records", words),
                          names + words)) +
           table("Of whom, and of what", {"Of", "What", "Because"}, rows) +
           goes_and_stays(
               {"the names of these people, in every note of them and under their reviews of the plan, with the kept papers that tell them",
                "of these regular records every text, person and answer that is kept apart, and their remarks, with the kept papers of a "
                "period that tell of them"},
               {"the notes themselves, with who recorded what by their short name", "answers that are no words: yes or no, numbers, days",
                "attached files", "words that a note about something else uses too"}) +
           FormView{visit, "/drawer/erase/words", "erase-words"}
               .shows(old_words_that_may_go(view))
               .number("confirm", "How many names and records go, together", {.hint = "Type the number that stands above.", .needed = true})
               .pin("Your PIN")
               .finish("Erase them for good", "grave");
  });
}

void remember_files_of_others(Visit& visit, const std::vector<std::uint64_t>& notes) {
  if (!notes.empty()) visit.remember("stays", fmt::format("{}", fmt::join(notes, ",")));
}

std::optional<Booked> erase_one(Visit& visit) {
  if (!confirmed_by_pin(visit)) return std::nullopt;
  const auto erased = visit.write<Erased>([&](Session& session) { return erase_customer(session, {visit.part, visit.typed("because")}); });
  if (!erased) return std::nullopt;
  remember_files_of_others(visit, erased->files_of_others);
  return erased->booked;
}

std::optional<Booked> erase_customers(Visit& visit) {
  const auto number = visit.count("confirm", 1, 1'000'000, true);
  if (!number || !confirmed_by_pin(visit)) return std::nullopt;
  const auto erased = visit.write<ErasedAll>([&](Session& session) -> Result<ErasedAll> {
    if (auto other = unlike_the_list(visit, session, [](const KeptView& view) { return view.customers_that_may_go(); })) return *other;
    return erase_old_customers(session, static_cast<std::size_t>(*number));
  });
  remedies_here(visit, {{"confirm", "look at the list as it is now, and type its number"}});
  if (!erased) return std::nullopt;
  std::vector<std::uint64_t> stay;
  for (const auto& cake : erased->cakes) stay.insert(stay.end(), cake.erased.files_of_others.begin(), cake.erased.files_of_others.end());
  remember_files_of_others(visit, stay);
  return erased->booked;
}

std::optional<Booked> erase_words(Visit& visit) {
  const auto number = visit.count("confirm", 1, 1'000'000, true);
  if (!number || !confirmed_by_pin(visit)) return std::nullopt;
  const auto erased = visit.write<ErasedOld>([&](Session& session) -> Result<ErasedOld> {
    if (auto other = unlike_the_list(visit, session, old_words_that_may_go)) return *other;
    return erase_old_words(session, static_cast<std::size_t>(*number));
  });
  remedies_here(visit, {{"confirm", "look at the list as it is now, and type its number"}});
  return erased ? std::optional{erased->booked} : std::nullopt;
}

std::string to_kept(const Visit& visit, const Booked&) {
  const std::string& stays = visit.remembered("stays");
  return "/drawer/kept" + (stays.empty() ? "" : "?stays=" + url_part(stays));
}

}  // namespace

std::vector<Route> kept_routes() {
  return {{"GET", "/drawer/kept", For::owner, kept_page},
          {"GET", "/drawer/erase/customer/*", For::owner, erase_customer_page},
          {"GET", "/drawer/erase/customers", For::owner, erase_customers_page},
          {"GET", "/drawer/erase/words", For::owner, erase_words_page}};
}

std::vector<Deed> kept_deeds() {
  return {{"/drawer/erase/customer/*",
           For::owner,
           "What is kept of the customer of a cake is erased for good.",
           {{"because", "the customer asked, or not needed any more", true}},
           erase_one,
           to_kept,
           erase_customer_page},
          {"/drawer/erase/customers",
           For::owner,
           "What is kept of all customers that may go today is erased for good.",
           {{"confirm", "how many may go today", true}, {"shown", "the cake of each, in the order of the records: cake-2", true, true}},
           erase_customers,
           to_kept,
           erase_customers_page},
          {"/drawer/erase/words",
           For::owner,
           "Names of people who left and words of old regular records that may go today are erased for good.",
           {{"confirm", "how many names and records may go today, together", true},
            {"shown", "each of them: people who work here: ben, or regular records: pests: 3", true, true}},
           erase_words,
           to_kept,
           erase_words_page}};
}

}  // namespace tierproof::web
