#include "tierproof/app/tracing.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "checking.h"
#include "tierproof/app/recording.h"
#include "tierproof/app/stores.h"
#include "tierproof/app/weighings.h"
#include "tierproof/kitchen/edges.h"
#include "where_now.h"

namespace tierproof {
namespace {

/// The records as a graph: packs, batches, cakes, and whatever they name though it was voided.
class Traced {
 public:
  Traced(const State& state, Instant at) : state_{state}, at_{at} {
    for (const auto& [id, lot] : state.lots) thing(id.text(), lot.value.mass);
    for (const auto& [id, batch] : state.batches) thing(id.text(), came_out(batch.value));
    for (const auto& [id, cake] : state.cakes) thing(id.text(), std::nullopt);
    for (const auto& [id, batch] : state.batches) add_uses(id, batch);
    for (const auto& tier : state.tiers) {
      for (const auto& part : tier.value.parts) edge(part.batch.text(), tier.value.cake.text(), true, part.mass);
    }
  }

  /// What a note said that was voided since may be so all the same: food does not vanish with its record.
  void add_voided(const Session& session) {
    for (const Note& note : session.notes()) {
      if (!note.body.is_null() || (note.kind != KindOf<Batch>::kind && note.kind != KindOf<Tier>::kind)) continue;
      const auto said = last_said(session, note);
      for (const Edge& one : graph_edges_of(note, said ? &*said : nullptr, Tubs{state_})) edge(one.parent, one.child, false, std::nullopt);
    }
  }

  const TraceGraph& graph() const { return graph_; }
  std::optional<std::size_t> find(const std::string& id) const {
    const auto found = index_.find(id);
    return found == index_.end() ? std::nullopt : std::optional{found->second};
  }

  std::string words(const std::string& id) const {
    if (state_.lots.contains(LotId{id})) return pack_in_words(state_, LotId{id});
    if (state_.batches.contains(BatchId{id})) return fmt::format("{} ({})", id, name_of_batch(state_, BatchId{id}));
    if (const auto cake = state_.cakes.find(CakeId{id}); cake != state_.cakes.end())
      return fmt::format("{} ({})", id, cake->second.value.name);
    return id + " (voided: the records no longer say what it was)";
  }

  std::string where(const std::string& id) const {
    if (const auto lot = state_.lots.find(LotId{id}); lot != state_.lots.end()) return where_pack(lot->second);
    if (state_.batches.contains(BatchId{id})) return where_now(state_, BatchId{id}, at_);
    if (state_.cakes.contains(CakeId{id})) return where_now(state_, CakeId{id}, at_);
    return "nothing is known of it";
  }

  std::vector<TracedTold> told(const std::vector<TraceStep>& steps, TraceWay way) const {
    std::map<std::size_t, TraceStep> by_thing;
    for (const TraceStep& step : steps) by_thing[step.thing] = step;
    std::vector<TracedTold> told;
    for (const TraceStep& step : steps) {
      const std::string& id = graph_.things[step.thing].id;
      told.push_back({id, words(id), step.certain, step.steps, way_of(step, by_thing, way), where(id), {}});
    }
    return told;
  }

 private:
  /// The last version of a voided note that said something.
  static std::optional<Note> last_said(const Session& session, const Note& note) {
    for (auto sequence = note.replaced.rbegin(); sequence != note.replaced.rend(); ++sequence) {
      for (const Entry& entry : session.store().entries(*sequence, *sequence)) {
        Note before = note_of(entry);
        if (!before.body.is_null()) return before;
      }
    }
    return std::nullopt;
  }

  std::size_t thing(const std::string& id, std::optional<Mass> whole) {
    const auto [place, is_new] = index_.emplace(id, graph_.things.size());
    if (is_new) graph_.things.push_back({id, whole});
    return place->second;
  }

  void edge(const std::string& from, const std::string& to, bool certain, std::optional<Mass> mass) {
    const std::size_t a = thing(from, std::nullopt);
    const std::size_t b = thing(to, std::nullopt);
    graph_.edges.push_back({a, b, certain, mass});
  }

  void add_uses(const BatchId& id, const Recorded<Batch>& batch) {
    for (const auto& use : batch.value.uses) {
      // Which pack of a tub it was is an estimate, unless only one is in it.
      const bool certain = use.tub.empty() || packs_in_tub(state_, use.tub, batch.happened).size() <= 1;
      edge(use.of, id.text(), certain, use.mass);
    }
    for (const auto& possible : possible_in(state_, batch)) edge(possible.lot.text(), id.text(), false, std::nullopt);
  }

  std::string where_pack(const Recorded<Lot>& lot) const {
    const auto supplier = state_.suppliers.find(lot.value.supplier);
    std::string words = fmt::format("from {}, received {}",
                                    supplier == state_.suppliers.end() ? lot.value.supplier.text() : supplier->second.value.firm.name,
                                    format_date_long(day_of(lot.happened, lot.offset)));
    if (state_.withdrawn(LotId{lot.subject})) words += ", WITHDRAWN";
    return words;
  }

  /// The way from the beginning to `step`, in the direction in which the food went.
  std::string way_of(const TraceStep& step, const std::map<std::size_t, TraceStep>& by_thing, TraceWay way) const {
    std::vector<std::string> ids{graph_.things[step.thing].id};
    std::optional<std::size_t> via = step.via;
    while (via) {
      const TraceEdge& edge = graph_.edges[*via];
      const std::size_t before = way == TraceWay::forward ? edge.from : edge.to;
      const std::string& id = graph_.things[before].id;
      if (way == TraceWay::forward) {
        if (!edge.certain) ids.back() = "? " + ids.back();
        ids.push_back(id);
      } else {
        ids.push_back(edge.certain ? id : "? " + id);
      }
      via = by_thing.at(before).via;
    }
    if (way == TraceWay::forward) std::reverse(ids.begin(), ids.end());
    return fmt::format("{}", fmt::join(ids, " → "));
  }

  const State& state_;
  Instant at_;
  TraceGraph graph_;
  std::map<std::string, std::size_t> index_;
};

Refusal nothing_called(const std::string& name) {
  return {"", 0, "thing", fmt::format("there is no pack, batch or cake called \"{}\", and no pack with that code", name),
          "write a number such as pack-3, batch-2 or cake-1, or the code as it was typed"};
}
Refusal several_coded(const std::string& code, const std::vector<std::string>& packs) {
  return {"", 0, "thing", fmt::format("{} packs have the code \"{}\": {}", packs.size(), code, fmt::join(packs, "; ")),
          "say which, by its number; look at the pack if you cannot tell"};
}

/// The thing that a person names: by its id, or a pack by its supplier's code.
std::optional<std::string> named_thing(Checking& checking, const State& state, const Traced& traced, const std::string& name) {
  if (traced.find(name)) return name;
  std::vector<LotId> coded;
  for (const auto& [id, lot] : state.lots) {
    if (lot.value.code == name) coded.push_back(id);
  }
  if (coded.size() == 1) return coded.front().text();
  if (coded.empty()) {
    checking.take({nothing_called(name)});
    return std::nullopt;
  }
  std::vector<std::string> each;
  for (const LotId& id : coded) each.push_back(fmt::format("{}, {}", pack_in_words(state, id), traced.where(id.text())));
  checking.take({several_coded(name, each)});
  return std::nullopt;
}

/// Everything that was used of `id` and thrown away of it, by the notes in force.
MassBalance balance_of(const State& state, const std::string& id, Mass had, std::optional<Mass> counted) {
  MassBalance balance{had, {}, {}, counted};
  for (const auto& disposal : state.disposals) {
    if (disposal.value.what == id && disposal.value.mass) balance.thrown_away += *disposal.value.mass;
  }
  balance.used = had - balance.thrown_away - Mass::milligrams(remaining_mg(state, id));
  return balance;
}

/// What went into something by a note that was corrected or voided since.
std::vector<TakenBack> taken_back_of(const Session& session, const Traced& traced, const std::string& id) {
  std::vector<TakenBack> taken;
  for (const Note& note : session.notes()) {
    if (note.replaced.empty() || (!note.kind.starts_with("batch/") && !note.kind.starts_with("tier/"))) continue;
    const auto now = edges_of(note);
    for (const std::uint64_t sequence : note.replaced) {
      for (const Entry& entry : session.store().entries(sequence, sequence)) {
        for (const Edge& edge : edges_of(note_of(entry))) {
          const auto same = [&](const Edge& other) { return other.parent == edge.parent && other.child == edge.child; };
          if (edge.parent == id && std::none_of(now.begin(), now.end(), same))
            taken.push_back({traced.words(edge.child), sequence, note.sequence});
        }
      }
    }
  }
  return taken;
}

/// The next batch on each piece of kit that a batch of `reached` was on, unless it was reached itself.
std::vector<NextOnKit> next_on_kit(const State& state, const Traced& traced, const std::set<std::string>& reached) {
  std::vector<NextOnKit> found;
  for (const auto& [equipment, recorded] : state.equipment) {
    struct Use {
      Instant at{};
      std::string batch;     ///< empty: a cleaning
      std::string cleaning;  ///< its grade
    };
    std::vector<Use> uses;
    for (const auto& [id, batch] : state.batches) {
      const auto& kit = batch.value.kit;
      if (std::find(kit.begin(), kit.end(), equipment) != kit.end()) uses.push_back({batch.happened, id.text(), ""});
    }
    for (const auto& cleaning : state.cleanings) {
      if (cleaning.value.equipment == equipment) uses.push_back({cleaning.happened, "", cleaning.value.grade});
    }
    std::stable_sort(uses.begin(), uses.end(), [](const Use& a, const Use& b) { return a.at < b.at; });
    std::string last, cleaned;
    for (const Use& use : uses) {
      if (use.batch.empty()) {
        cleaned += (cleaned.empty() ? "" : ", then ") + use.cleaning;
        continue;
      }
      if (!last.empty() && reached.contains(last) && !reached.contains(use.batch))
        found.push_back({recorded.value.name, traced.words(last), traced.words(use.batch), cleaned.empty() ? "nothing recorded" : cleaned});
      last = use.batch;
      cleaned.clear();
    }
  }
  return found;
}

}  // namespace

Result<TraceTold> trace(const Session& session, const std::string& name, std::optional<Mass> counted, ZonedInstant at) {
  const State& state = session.state();
  Traced traced{state, at.at};
  traced.add_voided(session);
  Checking checking{session};
  const auto id = named_thing(checking, state, traced, name);
  if (!id) return checking.refusals();
  const std::size_t start = *traced.find(*id);
  std::optional<Mass> had;
  if (const auto lot = state.lots.find(LotId{*id}); lot != state.lots.end()) had = lot->second.value.mass;
  if (const auto batch = state.batches.find(BatchId{*id}); batch != state.batches.end()) had = batch->second.value.yield;
  if (counted && !had) {
    checking.refuse("--counted", "only what is left of a pack or a batch is weighed", "leave it out for a cake");
    return checking.refusals();
  }
  TraceTold told;
  told.id = *id;
  told.words = traced.words(*id);
  told.into = traced.told(tierproof::traced(traced.graph(), std::span{&start, 1}, TraceWay::forward), TraceWay::forward);
  told.from = traced.told(tierproof::traced(traced.graph(), std::span{&start, 1}, TraceWay::back), TraceWay::back);
  std::set<std::string> reached;
  for (const auto& one : told.into) reached.insert(one.id);
  told.into.erase(told.into.begin());  // itself
  told.from.erase(told.from.begin());
  const auto mg_in = [](const std::vector<TracedAmount>& amounts, std::size_t thing) -> std::optional<Share> {
    for (const auto& amount : amounts) {
      if (amount.thing == thing) return amount.mg;
    }
    return std::nullopt;
  };
  if (had) {
    if (const auto amounts = amounts_of(traced.graph(), start)) {
      for (auto& one : told.into) one.mg = mg_in(*amounts, *traced.find(one.id));
    } else {
      told.amounts_known = false;
    }
    told.balance = balance_of(state, *id, *had, counted);
  }
  for (auto& one : told.from) {
    const std::size_t source = *traced.find(one.id);
    if (const auto amounts = amounts_of(traced.graph(), source)) {
      one.mg = mg_in(*amounts, start);
    } else if (one.certain) {
      told.amounts_known = false;
    }
  }
  told.taken_back = taken_back_of(session, traced, *id);
  told.kit = next_on_kit(state, traced, reached);
  return told;
}

Result<TracedGraph> traced_graph(const Session& session, const std::string& name, ZonedInstant at) {
  Traced traced{session.state(), at.at};
  traced.add_voided(session);
  Checking checking{session};
  const auto id = named_thing(checking, session.state(), traced, name);
  if (!id) return checking.refusals();
  const std::size_t start = *traced.find(*id);
  TracedGraph made;
  made.id = *id;
  std::map<std::size_t, std::size_t> number;                // in the records' graph → in this
  std::map<std::pair<std::size_t, std::size_t>, bool> way;  // certain or not
  for (const TraceWay direction : {TraceWay::back, TraceWay::forward}) {
    const auto steps = tierproof::traced(traced.graph(), std::span{&start, 1}, direction);
    std::set<std::size_t> reached;
    const auto told = traced.told(steps, direction);
    for (std::size_t i = 0; i < steps.size(); ++i) {
      reached.insert(steps[i].thing);
      if (!number.emplace(steps[i].thing, made.things.size()).second) continue;
      made.things.push_back(told[i]);
      made.things.back().way.clear();
      made.graph.things.push_back(traced.graph().things[steps[i].thing]);
    }
    for (const TraceEdge& edge : traced.graph().edges) {
      if (!reached.contains(edge.from) || !reached.contains(edge.to)) continue;
      bool& certain = way[{number.at(edge.from), number.at(edge.to)}];
      certain = certain || edge.certain;
    }
  }
  for (const auto& [ends, certain] : way) made.graph.edges.push_back({ends.first, ends.second, certain, std::nullopt});
  return made;
}

Result<TraceList> trace_list(const RecordStore& store, const std::string& name) {
  for (int tries = 0; tries < 8; ++tries) {
    TraceList list;
    list.head = store.head();
    const auto called = store.things(name);
    if (called.empty()) return Refusals{nothing_called(name)};
    std::vector<std::string> each;
    for (const auto& one : called) each.push_back(fmt::format("{} ({})", one.name, one.words));
    if (called.size() > 1) return Refusals{several_coded(name, each)};
    list.thing = called.front();
    const auto itself = [&](const StoredThing& other) { return other.name == list.thing.name; };
    for (const auto& [way, found] : {std::pair{Reach::into, &list.into}, {Reach::from, &list.from}}) {
      *found = store.reached({list.thing.name}, way);
      std::erase_if(*found, itself);
    }
    if (store.head() == list.head) return list;
  }
  throw Fault{exit_status::try_later, "others kept recording at the same time"};
}

bool goes_into(const State& state, const std::string& thing, const std::string& into) {
  const Traced records{state, Instant{}};
  const auto start = records.find(thing);
  const auto end = records.find(into);
  if (!start || !end) return false;
  const auto steps = traced(records.graph(), std::span{&*start, 1}, TraceWay::forward);
  return std::any_of(steps.begin(), steps.end(), [&](const TraceStep& step) { return step.thing == *end; });
}

std::vector<std::string> reached_at(const Session& session, const std::vector<std::string>& things, std::uint64_t sequence) {
  std::vector<Note> notes;
  for (const Entry& entry : session.store().entries(1, sequence)) notes.push_back(note_of(entry));
  const auto state = fold(in_force(notes), sequence, [](const std::string&) { return std::nullopt; });
  if (!state) return {};
  const Traced records{*state, session.now()};
  std::vector<std::size_t> from;
  for (const auto& thing : things) {
    if (const auto found = records.find(thing)) from.push_back(*found);
  }
  std::vector<std::string> reached;
  for (const TraceStep& step : traced(records.graph(), from, TraceWay::forward)) reached.push_back(records.graph().things[step.thing].id);
  return reached;
}

Result<std::vector<TracedTold>> traced_to_all(const Session& session, std::span<const std::string> names, ZonedInstant at) {
  Traced traced{session.state(), at.at};
  traced.add_voided(session);
  Checking checking{session};
  std::set<std::size_t> things;
  for (const auto& name : names) {
    if (const auto id = named_thing(checking, session.state(), traced, name)) things.insert(*traced.find(*id));
  }
  if (checking.good() && things.size() < 2)
    checking.refuse("thing", "only different things have something in common", "name two or more, such as cake-1 cake-4");
  if (!checking.good()) return checking.refusals();
  const std::vector<std::size_t> asked{things.begin(), things.end()};
  auto told = traced.told(common_sources(traced.graph(), asked), TraceWay::back);
  for (auto& one : told) one.way.clear();
  return told;
}

}  // namespace tierproof
