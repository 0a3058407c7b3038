#include "composition_graph.h"

#include <fmt/format.h>

#include <algorithm>

namespace tierproof {
namespace {

using boost::multiprecision::cpp_int;

std::string step_of(const BatchFacts& batch) {
  return batch.name.empty() ? batch.id.text() : fmt::format("{} ({})", batch.id.text(), batch.name);
}

Refusal refusal(std::string field, std::string message, std::string remedy) {
  return Refusal{"", 0, std::move(field), std::move(message), std::move(remedy)};
}

void refuse_batch(const CakeParts& parts, std::size_t index, Refusals& all) {
  const BatchFacts& batch = parts.batches[index];
  const std::string field = fmt::format("batches[{}]", index);
  if (batch.yield <= Mass{}) {
    all.push_back(refusal(field + ".yield", step_of(batch) + " has no yield", "weigh it, or estimate it and say that it is estimated"));
  }
  if (batch.uses.empty()) {
    all.push_back(refusal(field + ".uses", "nothing is recorded as put into " + step_of(batch), "record what went into it"));
  }
  for (std::size_t i = 0; i < batch.uses.size(); ++i) {
    const Use& use = batch.uses[i];
    const std::string here = fmt::format("{}.uses[{}]", field, i);
    const std::size_t known = use.of == Use::Of::lot ? parts.lots.size() : parts.batches.size();
    if (use.index >= known) {
      all.push_back(refusal(here + ".index",
                            fmt::format("{} uses {} number {}, and there are {}", step_of(batch), use.of == Use::Of::lot ? "pack" : "batch",
                                        use.index, known),
                            "name one that is recorded"));
    }
    if (use.mass <= Mass{}) {
      all.push_back(refusal(here + ".mass", fmt::format("{} uses a mass of {} mg", step_of(batch), use.mass.to_milligrams()),
                            "write a mass above zero, or leave the line out"));
    }
  }
}

/// One refusal for every way back to a batch that is still open: each loop is told with the batches on it.
void refuse_loops(const CakeParts& parts, Refusals& all) {
  enum class Seen { no, open, done };
  std::vector<Seen> seen(parts.batches.size(), Seen::no);
  struct At {
    std::size_t batch;
    std::size_t next;
  };
  for (std::size_t start = 0; start < parts.batches.size(); ++start) {
    if (seen[start] != Seen::no) continue;
    std::vector<At> way{{start, 0}};
    seen[start] = Seen::open;
    while (!way.empty()) {
      At& at = way.back();
      const std::vector<Use>& uses = parts.batches[at.batch].uses;
      if (at.next == uses.size()) {
        seen[at.batch] = Seen::done;
        way.pop_back();
        continue;
      }
      const Use& use = uses[at.next++];
      if (use.of != Use::Of::batch || use.index >= parts.batches.size()) continue;
      if (seen[use.index] == Seen::no) {
        seen[use.index] = Seen::open;
        way.push_back({use.index, 0});
      } else if (seen[use.index] == Seen::open) {
        std::string loop;
        bool on_it = false;
        for (const At& step : way) {
          on_it = on_it || step.batch == use.index;
          if (on_it) loop += step_of(parts.batches[step.batch]) + " → ";
        }
        all.push_back(refusal(fmt::format("batches[{}].uses", use.index),
                              "a batch contains itself: " + loop + step_of(parts.batches[use.index]),
                              "correct the use that was booked wrongly; left-overs go into a batch of their own"));
      }
    }
  }
}

}  // namespace

Refusals BatchGraph::refusals(const CakeParts& parts) {
  Refusals all;
  if (parts.placed.empty()) {
    all.push_back(refusal("placed", parts.cake.text() + " has nothing in it", "record which batches it is made of, and how much of each"));
  }
  for (std::size_t i = 0; i < parts.placed.size(); ++i) {
    const Placed& placed = parts.placed[i];
    if (placed.batch >= parts.batches.size()) {
      all.push_back(refusal(fmt::format("placed[{}].batch", i),
                            fmt::format("tier {} holds batch number {}, and there are {}", placed.tier, placed.batch, parts.batches.size()),
                            "name one that is recorded"));
    }
    if (placed.mass <= Mass{}) {
      all.push_back(refusal(fmt::format("placed[{}].mass", i),
                            fmt::format("tier {} holds a mass of {} mg", placed.tier, placed.mass.to_milligrams()),
                            "write a mass above zero, or leave the line out"));
    }
  }
  for (std::size_t i = 0; i < parts.batches.size(); ++i) refuse_batch(parts, i, all);
  refuse_loops(parts, all);
  return all;
}

BatchGraph::BatchGraph(const CakeParts& parts) : parts_{parts}, below_(parts.batches.size()) {
  for (const BatchFacts& batch : parts.batches) steps_.push_back(step_of(batch));
  const auto each_once = [&](std::vector<std::size_t>& batches) {
    std::sort(batches.begin(), batches.end());
    batches.erase(std::unique(batches.begin(), batches.end()), batches.end());
    std::stable_sort(batches.begin(), batches.end(), [&](std::size_t a, std::size_t b) { return steps_[a] < steps_[b]; });
  };
  for (std::size_t i = 0; i < parts.batches.size(); ++i) {
    for (const Use& use : parts.batches[i].uses) {
      if (use.of == Use::Of::batch) below_[i].push_back(use.index);
    }
    each_once(below_[i]);
  }
  for (const Placed& placed : parts.placed) roots_.push_back(placed.batch);
  each_once(roots_);

  std::vector<bool> seen(parts.batches.size(), false);
  for (const std::size_t root : roots_) {
    if (seen[root]) continue;
    seen[root] = true;
    std::vector<std::pair<std::size_t, std::size_t>> way{{root, 0}};
    while (!way.empty()) {
      const std::size_t batch = way.back().first;
      if (way.back().second == below_[batch].size()) {
        reached_.push_back(batch);
        way.pop_back();
        continue;
      }
      const std::size_t next = below_[batch][way.back().second++];
      if (!seen[next]) {
        seen[next] = true;
        way.emplace_back(next, 0);
      }
    }
  }
  std::reverse(reached_.begin(), reached_.end());
}

BatchGraph::Ways BatchGraph::ways_to(const std::vector<bool>& ends) const {
  std::vector<cpp_int> count(parts_.batches.size(), 0);
  for (auto batch = reached_.rbegin(); batch != reached_.rend(); ++batch) {
    count[*batch] = ends[*batch] ? 1 : 0;
    for (const std::size_t next : below_[*batch]) count[*batch] += count[next];
  }
  Ways ways;
  cpp_int all = 0;
  for (const std::size_t root : roots_) all += count[root];

  std::vector<std::pair<std::size_t, std::size_t>> way;
  const auto enter = [&](std::size_t batch) {
    way.emplace_back(batch, 0);
    if (!ends[batch] || ways.told.size() == most_ways) return;
    std::string text = parts_.cake.text();
    for (const auto& [step, next] : way) text += " → " + steps_[step];
    ways.told.push_back(std::move(text));
  };
  // Only batches that lead to an end are entered, so every descent tells at least one more way.
  for (const std::size_t root : roots_) {
    if (count[root] == 0 || ways.told.size() == most_ways) continue;
    enter(root);
    while (!way.empty() && ways.told.size() < most_ways) {
      const std::size_t batch = way.back().first;
      if (way.back().second == below_[batch].size()) {
        way.pop_back();
        continue;
      }
      const std::size_t next = below_[batch][way.back().second++];
      if (count[next] != 0) enter(next);
    }
    way.clear();
  }
  ways.more = all - ways.told.size();
  std::sort(ways.told.begin(), ways.told.end());
  return ways;
}

}  // namespace tierproof
