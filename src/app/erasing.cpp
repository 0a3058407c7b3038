#include "tierproof/app/erasing.h"

#include <algorithm>
#include <set>

#include "checking.h"
#include "customer_of_cake.h"
#include "evidence_folder.h"
#include "old_words.h"
#include "tierproof/app/confirming.h"
#include "tierproof/app/judging.h"
#include "tierproof/app/kept_until.h"
#include "tierproof/app/regular.h"
#include "what_holds.h"

namespace tierproof {
namespace {

/// The time within which the customer must be reachable.
void refuse_while_needed(Checking& checking, const CakeId& id, const CustomerNeeded& needed, Date today) {
  if (needed.order) {
    checking.refuse(
        "cake",
        fmt::format("{} is for {} and has not been handed over: its customer is still needed", id.text(), format_date_long(*needed.order)),
        fmt::format("erase it after that day, from {} on", format_date_long(add_days(*needed.order, 1))));
  }
  if (!needed.reachable || today > *needed.reachable) return;
  CustomerNeeded by_row = needed;
  by_row.order.reset();
  checking.refuse(
      "cake",
      fmt::format("the customer of {} must be reachable until {}, {}", id.text(), format_date_long(*needed.reachable), by_row.why()),
      fmt::format("erase it from {} on", format_date_long(add_days(*needed.reachable, 1))));
}

/// Takes away every attached file that an erasure names, and that nobody attached since: of this erasure, and of one that was cut off.
void take_away_erased(const Session& session, EvidenceFolder& folder) {
  for (const auto& file : files_named(session.store().entries(1, session.head().size))) {
    if (file.erased_by) folder.remove(file.digest);
  }
  folder.remove_unfinished();
}

/// What one erasure tells and deletes.
struct ErasurePlanned {
  Erasure note;
  Erased told;
};

/// What erasures of the same append delete already.
struct ErasedTogether {
  ToErase erase;
  std::set<Digest> files;
};

/// @param taken  what others of the same append erase already; what is planned here is added
ErasurePlanned planned(const CustomerOfCake& customer, const std::string& cake, const std::string& because, const EvidenceFolder& folder,
                       ErasedTogether& taken) {
  ErasurePlanned plan{{CakeId{cake}, because, 0, {}, {}, {}}, {}};
  for (const auto& ref : customer.left().texts) {
    if (std::find(taken.erase.texts.begin(), taken.erase.texts.end(), ref) != taken.erase.texts.end()) continue;
    taken.erase.texts.push_back(ref);
    ++plan.note.texts;
  }
  for (const auto& [digest, note] : customer.papers_to_erase()) {
    if (std::find(taken.erase.papers.begin(), taken.erase.papers.end(), digest) != taken.erase.papers.end()) continue;
    taken.erase.papers.push_back(digest);
    plan.note.papers.push_back(to_hex(digest));
    plan.told.papers.push_back(note);
  }
  for (const auto& [digest, note] : customer.files()) {
    if (!taken.files.insert(digest).second) continue;
    const bool there = folder.holds(digest);
    (there ? plan.note.files : plan.note.files_gone).push_back(to_hex(digest));
    (there ? plan.told.files : plan.told.files_gone).push_back(note);
  }
  plan.told.texts = plan.note.texts;
  for (auto* notes : {&plan.told.papers, &plan.told.files, &plan.told.files_gone}) std::sort(notes->begin(), notes->end());
  for (const auto& [digest, note] : customer.files_of_others()) plan.told.files_of_others.push_back(note);
  return plan;
}

/// Adds what is erased of one person or sort to what goes already; nothing where all of it does.
std::optional<ErasedWords> take_words(const SealedOf& sealed, const std::vector<PaperTelling>& papers, ErasedWords told,
                                      ErasedTogether& taken, std::vector<std::string>& digests) {
  for (const auto& ref : sealed.refs) {
    if (std::find(taken.erase.texts.begin(), taken.erase.texts.end(), ref) != taken.erase.texts.end()) continue;
    taken.erase.texts.push_back(ref);
    ++told.texts;
  }
  for (const auto& paper : papers) {
    bool some = false;
    for (const auto& digest : paper.forms) {
      if (std::find(taken.erase.papers.begin(), taken.erase.papers.end(), digest) != taken.erase.papers.end()) continue;
      taken.erase.papers.push_back(digest);
      digests.push_back(to_hex(digest));
      some = true;
    }
    if (some) told.papers.push_back(paper.note);
  }
  if (told.texts == 0 && digests.empty()) return std::nullopt;
  return told;
}

/// The records of a sort whose words may go on `on`, put together.
SealedOf going_of(const std::vector<const OldRecord*>& past, const std::string& sort, const std::set<std::uint64_t>& open,
                  std::size_t& records) {
  SealedOf all;
  for (const auto* record : past) {
    const auto& notes = record->sealed.notes;
    if (record->sort != sort || std::any_of(notes.begin(), notes.end(), [&](std::uint64_t note) { return open.contains(note); })) continue;
    ++records;
    all.notes.insert(notes.begin(), notes.end());
    all.refs.insert(record->sealed.refs.begin(), record->sealed.refs.end());
  }
  return all;
}

bool tells_nothing(const Erasure& note) { return note.texts == 0 && note.papers.empty() && note.files.empty() && note.files_gone.empty(); }

}  // namespace

Result<Erased> erase_customer(Session& session, const ErasingAsked& asked) {
  EvidenceFolder folder{EvidenceFolder::beside(session.entrance().kitchen_file),
                        EvidenceFolder::Opened::to_erase};  // locked until the files are gone
  if (const auto before = session.booked_before()) {
    take_away_erased(session, folder);
    session.store().scrub();
    return Erased{*before, 0, {}};
  }
  Checking checking{session};
  checking.person();
  checking.choice("--because", asked.because, {"the customer asked", "not needed any more"});
  const CakeId id{asked.cake};
  const bool taken_back = session.state().voided.contains(asked.cake) && asked.cake.starts_with("cake-");
  const auto* cake = taken_back ? nullptr : checking.known("cake", session.state().cakes, asked.cake, "cake");
  if (!checking.good()) return checking.refusals();
  const auto entries = entries_of_customers(session);
  const CustomerOfCake customer{session, entries, asked.cake};
  if (customer.gone()) {
    take_away_erased(session, folder);
    session.store().scrub();  // an erasure that was cut off before that is completed here
    return Refusal{"", 0, "cake", fmt::format("nothing left to erase of the customer of {}", asked.cake), "nothing more to do"};
  }
  const ZonedInstant at{session.now(), session.offset_at(session.now())};
  const auto* handed = session.state().hand_over(id);
  std::optional<Judgement> judgement;
  if (cake != nullptr) {
    auto judged = judge_cake(session, id, handed == nullptr ? at : ZonedInstant{handed->happened, handed->offset});
    if (judged) {
      judgement = std::move(judged).value();
    } else {
      checking.take(judged.error());
    }
  }
  const auto terms = session.packs().retention_terms(session.kitchen().retention_rules, session.today());
  if (!terms) checking.take(terms.error());
  if (!checking.good()) return checking.refusals();
  refuse_while_needed(checking, id, customer_needed(session.state(), id, cake, judgement, *terms, session.today()), session.today());
  for (const auto& held : Holds{session}.of(id, judgement)) checking.refuse("cake", held.words, held.remedy);
  if (!checking.good()) return checking.refusals();
  ErasedTogether together;
  auto plan = planned(customer, asked.cake, asked.because, folder, together);
  // First the note, then the files: one that is there still says so in `verify`, and asking again takes it away.
  plan.told.booked = session.book({session.draft(plan.note, asked.cake, at)}, {}, std::move(together.erase));
  take_away_erased(session, folder);
  session.store().scrub();
  return std::move(plan.told);
}

Result<ErasedAll> erase_old_customers(Session& session, std::size_t confirmed) {
  EvidenceFolder folder{EvidenceFolder::beside(session.entrance().kitchen_file),
                        EvidenceFolder::Opened::to_erase};  // locked until the files are gone
  ErasedAll all;
  if (const auto before = session.booked_before()) {
    take_away_erased(session, folder);
    session.store().scrub();
    all.booked = *before;
    return all;
  }
  Checking checking{session};
  checking.person();
  const auto kept = kept_until(session, session.today());
  if (!kept) checking.take(kept.error());
  if (!checking.good()) return checking.refusals();
  const auto cakes = kept->customers_that_may_go();
  if (cakes.empty()) {
    take_away_erased(session, folder);
    session.store().scrub();  // an erasure that was cut off before that is completed here
    return Refusal{"", 0, "", "what is kept of no customer may go today", "see `tierproof kept-until`"};
  }
  if (cakes.size() != confirmed) {
    return Refusal{"", 0, "--confirm",
                   fmt::format("{} customers may go today ({}), not {}", cakes.size(), fmt::join(cakes, ", "), confirmed),
                   fmt::format("look at `tierproof kept-until --may-go`, then write --confirm {}", cakes.size())};
  }
  const ZonedInstant at{session.now(), session.offset_at(session.now())};
  const auto entries = entries_of_customers(session);
  ErasedTogether together;
  std::vector<Draft> drafts;
  for (const auto& cake : cakes) {
    auto plan = planned(CustomerOfCake{session, entries, cake}, cake, "not needed any more", folder, together);
    if (tells_nothing(plan.note)) continue;  // all of it goes with another cake of the same customer
    drafts.push_back(session.draft(plan.note, cake, at));
    all.cakes.push_back({cake, std::move(plan.told)});
  }
  all.booked = session.book(std::move(drafts), {}, std::move(together.erase));
  take_away_erased(session, folder);
  session.store().scrub();
  return all;
}

Result<ErasedOld> erase_old_words(Session& session, std::size_t confirmed) {
  ErasedOld all;
  if (const auto before = session.booked_before()) {
    session.store().scrub();
    all.booked = *before;
    return all;
  }
  Checking checking{session};
  checking.person();
  const auto kept = kept_until(session, session.today());
  if (!kept) checking.take(kept.error());
  const auto terms = session.packs().retention_terms(session.kitchen().retention_rules, session.today(), confirmations_of(session));
  if (!terms) checking.take(terms.error());
  if (!checking.good()) return checking.refusals();
  const std::size_t may_go = kept->names_that_may_go() + kept->records_that_may_go();
  if (may_go == 0) {
    session.store().scrub();  // an erasure that was cut off before that is completed here
    return Refusal{"", 0, "", "no name of anybody who left, and no words of a regular record, may go today", "see `tierproof kept-until`"};
  }
  if (may_go != confirmed) {
    return Refusal{"", 0, "--confirm",
                   fmt::format("{} may go today, names of people who left and regular records together, not {}", may_go, confirmed),
                   fmt::format("look at `tierproof kept-until --may-go`, then write --confirm {}", may_go)};
  }
  const OldWords words{session};
  const auto past = words_past(words, *terms, session.today());
  const auto open = unanswered_notes(session);
  const ZonedInstant at{session.now(), session.offset_at(session.now())};
  ErasedTogether together;
  std::vector<Draft> drafts;
  for (const auto& line : kept->lines) {
    const bool of_person = line.kind == of_people && line.state == KeptState::may_go;
    if (!of_person && line.words_may_go == 0) continue;
    ErasedWords told{line.kind, line.thing, 0, 0, {}};
    SealedOf sealed;
    std::vector<PaperTelling> papers;
    if (of_person) {
      sealed = words.name_of(PersonId{line.thing});
      papers = words.papers_naming(PersonId{line.thing});
    } else {
      sealed = going_of(past, line.thing, open, told.records);
      papers = words.papers_telling(sealed.notes);
    }
    std::vector<std::string> digests;
    auto one = take_words(sealed, papers, std::move(told), together, digests);
    if (!one) continue;  // all of it goes with another
    Erasure note{CakeId{}, "not needed any more", one->texts, std::move(digests), {}, {}, line.kind};
    drafts.push_back(session.draft(note, line.thing, at));
    all.erased.push_back(std::move(*one));
  }
  all.booked = session.book(std::move(drafts), {}, std::move(together.erase));
  session.store().scrub();
  return all;
}

}  // namespace tierproof
