#include "tierproof/sums/cross_contact.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <optional>
#include <set>
#include <stdexcept>
#include <tuple>

namespace tierproof {
namespace {

bool holds(const std::vector<std::string>& keys, const std::string& key) { return std::find(keys.begin(), keys.end(), key) != keys.end(); }

std::string group_of(const std::string& key) { return key.substr(0, key.find(':')); }

/// `nuts` and `nuts:almond` may be the same thing; `nuts:almond` and `nuts:walnut` are not.
bool may_be_same(const std::string& a, const std::string& b) { return a == b || a == group_of(b) || group_of(a) == b; }

bool names(const std::vector<std::string>& keys, const std::string& key) {
  return std::any_of(keys.begin(), keys.end(), [&](const std::string& one) { return may_be_same(one, key); });
}

/// Whether one of `keys` is `key` or its group: saying yes to almonds is no yes to nuts of another or an unknown kind.
bool covers(const std::vector<std::string>& keys, const std::string& key) { return holds(keys, key) || holds(keys, group_of(key)); }

/// Where an allergen on a piece of equipment came from.
struct Source {
  Instant at{};
  std::string batch;
  std::string told;       ///< the way so far, `stand mixer, almond shells (batch-4) at 10:05`
  std::string cleanings;  ///< recorded since, in words
};

/// What lies on one piece of equipment.
struct Kit {
  std::map<std::string, std::vector<Source>> dirty;  ///< by allergen, the latest last; at most one of a batch
  std::map<std::string, std::vector<Source>> cleaned;

  void leave(const std::string& allergen, bool was_cleaned, const Source& source) {
    auto& sources = (was_cleaned ? cleaned : dirty)[allergen];
    std::erase_if(sources, [&](const Source& s) { return s.batch == source.batch; });
    sources.push_back(source);
    if (sources.size() > 2) sources.erase(sources.begin());  // two: the latest may be the batch that asks
  }

  void clean(const KitUse& cleaning) {
    for (const std::string& allergen : cleaning.clears) {
      dirty.erase(allergen);
      cleaned.erase(allergen);
    }
    for (auto* side : {&dirty, &cleaned}) {
      for (auto& [allergen, sources] : *side) {
        for (Source& s : sources) s.cleanings += (s.cleanings.empty() ? "" : ", then ") + cleaning.cleaning;
      }
    }
    if (!cleaning.washed) return;
    for (auto& [allergen, sources] : dirty) {
      for (const Source& s : sources) leave(allergen, true, s);
    }
    dirty.clear();
  }
};

const Source* latest_not_of(const std::map<std::string, std::vector<Source>>& side, const std::string& allergen, const std::string& batch) {
  const auto found = side.find(allergen);
  if (found == side.end()) return nullptr;
  const auto source = std::find_if(found->second.rbegin(), found->second.rend(), [&](const Source& s) { return s.batch != batch; });
  return source == found->second.rend() ? nullptr : &*source;
}

/// Walks the uses of one instant after those of the instant before.
class Walk {
 public:
  explicit Walk(Offset offset) : offset_{offset} {}

  void step(std::span<const KitUse* const> same_instant) {
    for (const KitUse* use : same_instant) {
      if (use->batch.empty()) kits_[use->equipment].clean(*use);
    }
    // batches of one instant meet each other, and what they met goes wherever they go: repeat until nothing new comes in
    for (const KitUse* use : same_instant) leave_own(*use);
    for (bool more = true; more;) {
      more = false;
      for (const KitUse* use : same_instant) more = meet(*use) || more;
    }
  }

  std::vector<Contact> take() { return std::move(found_); }

 private:
  std::string place(const KitUse& use) const {
    return fmt::format("{}, {} ({}) at {}", use.equipment, use.batch_name, use.batch, format_moment(use.at, offset_));
  }

  void leave_own(const KitUse& use) {
    if (use.batch.empty()) return;
    for (const std::string& allergen : use.traces) kits_[use.equipment].leave(allergen, true, {use.at, use.batch, place(use), ""});
    for (const std::string& allergen : use.allergens) kits_[use.equipment].leave(allergen, false, {use.at, use.batch, place(use), ""});
  }

  bool meet(const KitUse& use) {
    if (use.batch.empty()) return false;
    bool more = false;
    Kit& kit = kits_[use.equipment];
    std::set<std::string> there;
    for (const auto& [allergen, sources] : kit.dirty) there.insert(allergen);
    for (const auto& [allergen, sources] : kit.cleaned) there.insert(allergen);
    for (const std::string& allergen : there) {
      if (holds(use.allergens, allergen) && !holds(use.untold, allergen)) continue;
      const Source* source = latest_not_of(kit.dirty, allergen, use.batch);
      const bool cleaned = source == nullptr;
      if (cleaned) source = latest_not_of(kit.cleaned, allergen, use.batch);
      if (!source) continue;
      if (!told_.emplace(use.batch, allergen, use.equipment, source->batch, cleaned).second) continue;
      more = true;
      const std::string between = source->cleanings.empty() ? "nothing recorded" : source->cleanings;
      found_.push_back({use.batch, allergen, cleaned,
                        fmt::format("{}: {}, {} before {} ({}) at {}", allergen, source->told, between, use.batch_name, use.batch,
                                    format_moment(use.at, offset_))});
      auto& carried = met_[use.batch];
      const auto known = carried.find(allergen);
      if (known == carried.end() || (known->second.cleaned && !cleaned)) {
        carried[allergen] = {cleaned, fmt::format("{}, {} before {} ({})", source->told, between, use.batch_name, use.batch)};
      }
    }
    const auto carried = met_.find(use.batch);
    if (carried != met_.end()) {
      for (const auto& [allergen, met] : carried->second) {
        if (latest_not_of(kit.dirty, allergen, use.batch) || (met.cleaned && latest_not_of(kit.cleaned, allergen, use.batch))) continue;
        if (!left_.emplace(use.batch, use.equipment, allergen, met.cleaned, use.at).second) continue;
        more = true;
        kit.leave(allergen, met.cleaned, {use.at, use.batch, met.told + ", then " + place(use), ""});
      }
    }
    return more;
  }

  struct Met {
    bool cleaned = false;
    std::string told;
  };
  Offset offset_;
  std::map<std::string, Kit> kits_;
  std::map<std::string, std::map<std::string, Met>> met_;  ///< by batch, by allergen
  std::set<std::tuple<std::string, std::string, std::string, std::string, bool>> told_;
  std::set<std::tuple<std::string, std::string, std::string, bool, Instant>> left_;
  std::vector<Contact> found_;
};

}  // namespace

std::vector<Contact> contacts(std::span<const KitUse> uses, Offset offset) {
  std::vector<const KitUse*> sorted;
  for (const KitUse& use : uses) sorted.push_back(&use);
  std::stable_sort(sorted.begin(), sorted.end(), [](const KitUse* a, const KitUse* b) {
    return std::tie(a->at, a->equipment, a->batch) < std::tie(b->at, b->equipment, b->batch);
  });
  Walk walk{offset};
  for (auto first = sorted.begin(); first != sorted.end();) {
    const auto last = std::find_if(first, sorted.end(), [&](const KitUse* use) { return use->at != (*first)->at; });
    walk.step({first, last});
    first = last;
  }
  return walk.take();
}

std::vector<Finding> judge_shared_kit(const std::string& cake, std::span<const Contact> contacts, const std::vector<std::string>& batches,
                                      const std::vector<std::string>& contained, const std::vector<std::string>& allergies,
                                      const std::vector<std::string>& accepted) {
  struct Met {
    bool uncleaned = false;
    std::vector<std::string> paths;
  };
  std::map<std::string, Met> met;
  for (const Contact& contact : contacts) {
    if (!holds(batches, contact.batch) || holds(contained, contact.allergen)) continue;
    Met& one = met[contact.allergen];
    one.uncleaned = one.uncleaned || !contact.cleaned;
    one.paths.push_back(contact.path);
  }
  std::vector<Finding> findings;
  for (const auto& [allergen, how] : met) {
    Finding f;
    f.control = "shared-kit";
    f.subject = allergen;
    f.limit = "kit washed and tested, or cleaned by a validated method, between an allergen and a batch without it";
    f.paths = how.paths;
    f.verdict = Verdict::not_shown;
    f.stop = Stop::no_override;
    f.result = how.uncleaned ? "no washing recorded" : "washed, looked clean";
    const bool named = names(allergies, allergen);
    if (how.uncleaned) {
      f.message = fmt::format("whether {} got into {} from shared kit is not known: no washing is recorded between", allergen, cake);
      f.remedy = fmt::format(
          "do not hand over; record the washing if it was done, or declare {}, or remake it with kit that was washed and tested", allergen);
    } else if (named) {
      f.message = fmt::format(
          "traces of {} may have got into {} from shared kit, which was washed and looked clean but was not tested, and the customer named "
          "it",
          allergen, cake);
      f.remedy = "do not hand over; remake it with kit that was washed and tested, or ask the customer, who may accept it in writing";
      if (covers(accepted, allergen)) {
        f.stop = Stop::needs_person;
        f.remedy = "the customer accepted traces in writing; a named person must answer for handing it over";
      }
    } else {
      f.verdict = Verdict::shown;
      f.stop = Stop::none;
      f.message = fmt::format(
          "traces of {} may have been on kit that {} shared, and the kit was washed and looked clean between; that clears nothing for an "
          "allergy order",
          allergen, cake);
      f.limit = "kit washed and looked clean between, for an order without that allergy";
    }
    findings.push_back(std::move(f));
  }
  return findings;
}

std::vector<std::string> traces_to_decide(std::span<const Contact> contacts, const std::vector<std::string>& batches,
                                          const std::vector<std::string>& contained, const std::vector<std::string>& answered) {
  std::set<std::string> open;
  std::set<std::string> unknown;
  for (const Contact& contact : contacts) {
    if (!holds(batches, contact.batch) || holds(contained, contact.allergen) || holds(answered, contact.allergen)) continue;
    (contact.cleaned ? open : unknown).insert(contact.allergen);
  }
  std::vector<std::string> left;
  std::set_difference(open.begin(), open.end(), unknown.begin(), unknown.end(), std::back_inserter(left));
  return left;
}

Finding judge_kit_recorded(const std::string& cake, std::span<const KitUse> uses, const std::vector<std::string>& batches) {
  std::vector<std::string> without;
  for (const std::string& batch : batches) {
    if (std::none_of(uses.begin(), uses.end(), [&](const KitUse& use) { return use.batch == batch; })) without.push_back(batch);
  }
  Finding f;
  f.control = "kit-recorded";
  f.subject = cake;
  f.limit = "the equipment of every batch is recorded";
  f.result = fmt::format("{} of {} batches", batches.size() - without.size(), batches.size());
  if (without.empty() && !batches.empty()) {
    f.verdict = Verdict::shown;
    f.stop = Stop::none;
    f.message = fmt::format("the equipment of {} batch{} is recorded", batches.size(), batches.size() == 1 ? "" : "es");
    return f;
  }
  f.message = batches.empty() ? "no batch of it is recorded"
                              : fmt::format("which equipment was used is not recorded for {}", fmt::join(without, ", "));
  f.remedy = "record which equipment each batch was made on";
  return f;
}

namespace {

/// Every allergen and piece of kit on which `after` would meet one of `before`.
std::vector<KitMeeting> meetings_of(std::span<const PlannedOnKit> batches, const std::vector<std::size_t>& before, std::size_t after) {
  std::map<std::pair<std::string, std::string>, std::size_t> left;
  for (const std::size_t i : before) {
    for (const auto& kit : batches[i].kit) {
      if (!holds(batches[after].kit, kit)) continue;
      for (const auto& allergen : batches[i].allergens) {
        if (!holds(batches[after].allergens, allergen)) left[{kit, allergen}] = i;
      }
    }
  }
  std::vector<KitMeeting> found;
  for (const auto& [where, by] : left) found.push_back({by, after, where.first, where.second});
  return found;
}

}  // namespace

OrderOfWork fewest_meetings(std::span<const PlannedOnKit> batches) {
  constexpr std::size_t most = 12;
  if (batches.size() > most) throw std::length_error{"more batches than an order is looked for"};
  const std::size_t sets = std::size_t{1} << batches.size();
  const auto members = [&](std::size_t set) {
    std::vector<std::size_t> in;
    for (std::size_t i = 0; i < batches.size(); ++i) {
      if ((set >> i & 1) != 0) in.push_back(i);
    }
    return in;
  };
  // fewest[set]: meetings of what is not in `set` when all of `set` came before
  std::vector<std::size_t> fewest(sets, 0), next(sets, 0);
  for (std::size_t set = sets - 1; set-- > 0;) {
    const auto before = members(set);
    std::size_t best = static_cast<std::size_t>(-1);
    for (std::size_t i = 0; i < batches.size(); ++i) {
      if ((set >> i & 1) != 0) continue;
      const std::size_t count = meetings_of(batches, before, i).size() + fewest[set | std::size_t{1} << i];
      if (count < best) best = count, next[set] = i;
    }
    fewest[set] = best;
  }
  OrderOfWork work;
  for (std::size_t set = 0; set + 1 < sets;) {
    const std::size_t i = next[set];
    for (auto& meeting : meetings_of(batches, work.order, i)) work.meetings.push_back(std::move(meeting));
    work.order.push_back(i);
    set |= std::size_t{1} << i;
  }
  return work;
}

}  // namespace tierproof
