#include "tierproof/app/kept_until.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>

#include "customer_of_cake.h"
#include "old_words.h"
#include "tierproof/app/confirming.h"
#include "tierproof/app/judging.h"
#include "what_holds.h"

namespace tierproof {
namespace {

struct KeptStateSaid {
  KeptState state;
  std::string_view words, term;
};
constexpr std::array kept_states{
    KeptStateSaid{KeptState::must_stay, "must stay", "must_stay"},        KeptStateSaid{KeptState::held, "held", "held"},
    KeptStateSaid{KeptState::not_known, "stays, not known", "not_known"}, KeptStateSaid{KeptState::may_go, "may go", "may_go"},
    KeptStateSaid{KeptState::stays, "time is over", "time_is_over"},      KeptStateSaid{KeptState::gone, "gone", "gone"}};

const KeptStateSaid& kept_said(KeptState state) {
  const auto found = std::find_if(kept_states.begin(), kept_states.end(), [&](const auto& said) { return said.state == state; });
  if (found == kept_states.end()) throw Fault{exit_status::our_bug, "a state of what is kept without words"};
  return *found;
}

/// Lists what is kept, on one day and by one set of rules.
class KeptListing {
 public:
  KeptListing(const Session& session, const RetentionTerms& terms, Date on)
      : session_{session},
        state_{session.state()},
        terms_{terms},
        on_{on},
        holds_{session},
        entries_{entries_of_customers(session)},
        words_{session},
        open_{open_matters_in_words(session.state())} {}

  std::vector<KeptLine> all() {
    std::vector<const Recorded<Cake>*> cakes;
    for (const auto& [id, cake] : state_.cakes) cakes.push_back(&cake);
    std::sort(cakes.begin(), cakes.end(), [](const auto* a, const auto* b) { return a->place < b->place; });
    for (const auto* cake : cakes) of_cake(*cake);
    for (const auto& subject : state_.voided) {
      if (subject.starts_with("cake-")) taken_back(CakeId{subject});
    }
    readings();
    regular_records();
    suppliers();
    people();
    return std::move(lines_);
  }

 private:
  void of_cake(const Recorded<Cake>& cake) {
    const CakeId id{cake.subject};
    const auto* handed = state_.hand_over(id);
    const ZonedInstant now{session_.now(), session_.offset_at(session_.now())};
    std::optional<Judgement> judgement;
    auto judged = judge_cake(session_, id, handed == nullptr ? now : ZonedInstant{handed->happened, handed->offset});
    if (judged) judgement = std::move(judged).value();
    const auto held = holds_.of(id, judgement);
    KeptLine record = line("record", cake.subject, cake.value.name, held);
    KeptLine customer = line("personal data", cake.subject, cake.value.name, held);
    const bool gone = CustomerOfCake{session_, entries_, cake.subject}.gone();
    if (!judgement) {
      record.why = customer.why = fmt::format("its dates cannot be worked out: {}", describe(judged.error().front()));
    } else {
      const auto days = days_of_cake(state_, id, &cake, judgement);
      count(record, days, "it was neither made nor handed over, so there is no food to tell of");
      const auto needed = customer_needed(state_, id, &cake, judgement, terms_, on_);
      customer.last = needed.last();
      customer.kept = needed.kept;
      // Of an order that was never made nobody has to be reached once its day is past.
      customer.why = customer.last ? needed.why() : "its day is past, and it was neither made nor handed over";
      if (customer.last && on_ <= *customer.last) {
        customer.state = KeptState::must_stay;
      } else {
        customer.state = held.empty() ? KeptState::may_go : KeptState::held;
      }
    }
    if (gone) say_gone(customer, id);
    lines_.push_back(std::move(record));
    lines_.push_back(std::move(customer));
  }

  void taken_back(const CakeId& id) {
    const auto held = holds_.of(id, std::nullopt);
    KeptLine customer = line("personal data", id.text(), "order that was taken back", held);
    customer.why = "nobody has to be reached about it";
    customer.state = held.empty() ? KeptState::may_go : KeptState::held;
    if (CustomerOfCake{session_, entries_, id.text()}.gone()) say_gone(customer, id);
    lines_.push_back(std::move(customer));
  }

  void say_gone(KeptLine& customer, const CakeId& id) const {
    customer.state = KeptState::gone;
    customer.why = "nothing of it is kept";
    for (const auto& erasure : state_.erasures) {
      if (erasure.value.cake == id)
        customer.why = fmt::format("erased on {}, note {}", format_date_long(day_of(erasure.happened, erasure.offset)), erasure.sequence);
    }
  }

  static KeptLine line(const std::string& kind, const std::string& thing, const std::string& name, const std::vector<Held>& held) {
    KeptLine one;
    one.kind = kind;
    one.thing = thing;
    one.name = name;
    for (const auto& each : held) one.held_by.push_back(each.words);
    return one;
  }

  /// The time of what is never deleted.
  void count(KeptLine& one, const std::vector<KeptFrom>& days, const std::string& unknown) const {
    if (days.empty()) {
      one.why = unknown;
      return;
    }
    one.kept = keep_until(terms_.rows, one.kind, days);
    if (!one.kept) {
      one.why = fmt::format("no row of the rules \"{}\" says how long {} are kept", terms_.jurisdiction, one.kind);
      if (one.kind == "record") one.why = fmt::format("no row of the rules \"{}\" applies to what is known of it", terms_.jurisdiction);
      return;
    }
    one.last = one.kept->last;
    one.why = counted_in_words(*one.kept);
    one.state = on_ <= *one.last ? KeptState::must_stay : one.held_by.empty() ? KeptState::stays : KeptState::held;
  }

  /// Many notes of one thing: the newest sets its last day.
  void of_notes(const std::string& kind, const std::string& thing, const std::string& name, const std::vector<Date>& days) {
    KeptLine one = line(kind, thing, name, {});
    one.notes = days.size();
    std::vector<KeptFrom> newest;
    if (!days.empty()) newest.push_back({"recorded", *std::max_element(days.begin(), days.end())});
    count(one, newest, "nothing is recorded yet");
    for (const Date day : days) {
      const auto kept = keep_until(terms_.rows, kind, std::vector<KeptFrom>{{"recorded", day}});
      if (kept && on_ > kept->last) ++one.past;
    }
    lines_.push_back(std::move(one));
  }

  void readings() {
    std::map<ProbeId, std::vector<Date>> days;
    for (const auto& block : state_.readings) days[block.value.probe].push_back(day_of(block.happened, block.offset));
    for (const auto& [probe, of_probe] : days) {
      const auto known = state_.probes.find(probe);
      of_notes("temperature readings", probe.text(), known == state_.probes.end() ? "" : known->second.value.name, of_probe);
    }
  }

  void regular_records() {
    std::map<RegularSortId, std::vector<Date>> days;
    for (const auto& done : state_.regular_done) days[done.value.sort].push_back(day_of(done.happened, done.offset));
    for (const auto& record : words_.records()) days[RegularSortId{record.sort}];  // all of a sort may have been taken back
    for (const auto& [sort, of_sort] : days) {
      const auto known = state_.regular_sorts.find(sort);
      of_notes(of_regular_records, sort.text(), known == state_.regular_sorts.end() ? "" : known->second.value.name, of_sort);
      words_of_sort(lines_.back());
    }
  }

  /// Of how many records of a sort what they keep apart may go.
  void words_of_sort(KeptLine& one) const {
    const auto open = unanswered_notes(session_);
    const auto past = words_past(words_, terms_, on_);
    for (const auto* record : past) {
      if (record->sort != one.thing) continue;
      const auto& notes = record->sealed.notes;
      if (!open_.empty()) {
        one.held_by = open_;
      } else if (std::any_of(notes.begin(), notes.end(), [&](std::uint64_t note) { return open.contains(note); })) {
        one.held_by.push_back(fmt::format("nothing answers yet for what note {} tells", *notes.rbegin()));
      } else {
        ++one.words_may_go;
      }
    }
    if (one.state == KeptState::stays && one.words_may_go > 0) one.state = KeptState::may_go;
    if (one.state == KeptState::stays && !one.held_by.empty()) one.state = KeptState::held;
  }

  void suppliers() {
    std::map<SupplierId, Date> last;
    for (const auto& [id, lot] : state_.lots) {
      const Date day = day_of(lot.happened, lot.offset);
      const auto [known, first] = last.emplace(lot.value.supplier, day);
      if (!first) known->second = std::max(known->second, day);
    }
    for (const auto& [id, supplier] : state_.suppliers) {
      KeptLine one = line("supplier evidence", id.text(), supplier.value.firm.name, {});
      const auto known = last.find(id);
      std::vector<KeptFrom> from;
      if (known != last.end()) from.push_back({"last delivery", known->second});
      count(one, from, "nothing was delivered yet");
      lines_.push_back(std::move(one));
    }
  }

  void people() {
    for (const auto& [id, person] : state_.people) this_person(id, person.value.left, "nothing says that they left");
    for (const auto& [id, last] : words_.people()) {  // nobody by that short name works here: their notes were taken back
      if (!state_.people.contains(PersonId{id})) this_person(PersonId{id}, last, "");
    }
  }

  /// @param left  their last day here; of a note that was taken back the day it was
  void this_person(const PersonId& id, std::optional<Date> left, const std::string& unknown) {
    KeptLine one = line(of_people, id.text(), "", {});
    std::vector<KeptFrom> from;
    if (left) from.push_back({"left", *left});
    count(one, from, unknown);
    if (one.last && words_.name_of(id).refs.empty()) {
      one.state = KeptState::gone;
      for (const auto& erasure : state_.erasures) {
        if (erasure.value.what == of_people && erasure.subject == id.text())
          one.why = fmt::format("the name was erased on {}, note {}", format_date_long(day_of(erasure.happened, erasure.offset)),
                                erasure.sequence);
      }
    } else if (one.last) {
      one.held_by = open_;
      if (one.state == KeptState::stays) hold_by_papers(one, id);
      if (one.state == KeptState::stays) one.state = one.held_by.empty() ? KeptState::may_go : KeptState::held;
    }
    lines_.push_back(std::move(one));
  }

  /// The kept record of a cake tells who made and released it: the name stays as long as the record has to.
  void hold_by_papers(KeptLine& one, const PersonId& person) const {
    std::set<std::string> told;
    for (const auto& paper : words_.papers_naming(person)) {
      if (paper.cake.empty() || !told.insert(paper.cake).second) continue;
      const auto record = std::find_if(lines_.begin(), lines_.end(),
                                       [&](const KeptLine& line) { return line.kind == "record" && line.thing == paper.cake; });
      if (record != lines_.end() && record->state == KeptState::stays) continue;
      const auto last = record == lines_.end() ? std::nullopt : record->last;
      one.held_by.push_back(fmt::format("the kept record of {} tells the name, and must stay{}", paper.cake,
                                        last ? " until " + format_date_long(*last) : std::string{}));
    }
  }

  const Session& session_;
  const State& state_;
  const RetentionTerms& terms_;
  Date on_;
  Holds holds_;
  EntriesOfCustomers entries_;
  OldWords words_;
  std::vector<std::string> open_;
  std::vector<KeptLine> lines_;
};

}  // namespace

std::string_view words_of(KeptState state) { return kept_said(state).words; }
std::string_view term_of(KeptState state) { return kept_said(state).term; }

std::vector<std::string> KeptView::customers_that_may_go() const {
  std::vector<std::string> cakes;
  for (const auto& line : lines) {
    if (line.kind == "personal data" && line.state == KeptState::may_go) cakes.push_back(line.thing);
  }
  return cakes;
}

std::size_t KeptView::names_that_may_go() const {
  const auto may_go = [](const KeptLine& line) { return line.kind == of_people && line.state == KeptState::may_go; };
  return static_cast<std::size_t>(std::count_if(lines.begin(), lines.end(), may_go));
}

std::size_t KeptView::records_that_may_go() const {
  std::size_t all = 0;
  for (const auto& line : lines) all += line.words_may_go;
  return all;
}

Result<KeptView> kept_until(const Session& session, Date on) {
  const std::string& code = session.kitchen().retention_rules;
  const auto terms = session.packs().retention_terms(code, on, confirmations_of(session));
  if (!terms) return terms.error();
  return KeptView{on, code, KeptListing{session, *terms, on}.all()};
}

}  // namespace tierproof
