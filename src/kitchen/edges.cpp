#include "tierproof/kitchen/edges.h"

#include <algorithm>
#include <set>
#include <string_view>

namespace tierproof {
namespace {

/// The text member `name` of each object in the list `list` of `body`.
std::set<std::string> texts_in(const Json& body, std::string_view list, std::string_view name) {
  std::set<std::string> out;
  const auto* items = body.find(list);
  if (!items || !items->is_array()) return out;
  for (const auto& item : items->array()) {
    const auto* text = item.is_object() ? item.find(name) : nullptr;
    if (text && text->is_text()) out.insert(text->text());
  }
  return out;
}

std::vector<Edge> edges_into(const std::string& child, const std::set<std::string>& parents, std::uint64_t sequence) {
  std::vector<Edge> out;
  for (const auto& parent : parents) out.push_back({parent, child, sequence, true});
  return out;
}

/// As much of the uses of a `batch/1` as tells where they came from; what is not of the expected shape is passed over, as by `edges_of`.
std::vector<BatchUse> uses_in(const Json& body) {
  std::vector<BatchUse> out;
  const auto* items = body.find("uses");
  if (!items || !items->is_array()) return out;
  for (const auto& item : items->array()) {
    const auto text = [&](std::string_view name) -> std::string {
      const auto* value = item.is_object() ? item.find(name) : nullptr;
      return value && value->is_text() ? value->text() : "";
    };
    const auto* batch = item.is_object() ? item.find("batch") : nullptr;
    BatchUse use;
    use.of = text("of");
    use.batch = batch && *batch == Json{true};
    use.tub = TubId{text("tub")};
    if (!use.of.empty()) out.push_back(std::move(use));
  }
  return out;
}

}  // namespace

std::vector<Edge> edges_of(const Note& note) {
  if (!note.body.is_object()) return {};
  if (note.kind == "batch/1") return edges_into(note.subject, texts_in(note.body, "uses", "of"), note.sequence);
  if (note.kind == "tier/1") {
    const auto* cake = note.body.find("cake");
    if (cake && cake->is_text()) return edges_into(cake->text(), texts_in(note.body, "parts", "batch"), note.sequence);
  }
  return {};
}

std::vector<Edge> graph_edges_of(const Note& tip, const Note* last_said, const Tubs& tubs) {
  if (tip.body.is_null()) {
    if (last_said == nullptr || last_said->body.is_null()) return {};
    auto edges = graph_edges_of(*last_said, nullptr, tubs);
    for (auto& edge : edges) {
      edge.sequence = tip.sequence;
      edge.certain = false;
    }
    std::sort(edges.begin(), edges.end());
    return edges;
  }
  auto edges = edges_of(tip);
  if (tip.kind != "batch/1" || edges.empty()) return edges;
  const auto uses = uses_in(tip.body);
  for (auto& edge : edges) {
    edge.certain = std::any_of(uses.begin(), uses.end(), [&](const BatchUse& use) {
      return use.of == edge.parent && (use.tub.empty() || tubs.packs_in(use.tub, tip.happened).size() <= 1);
    });
  }
  for (const auto& possible : tubs.possible_in(uses, tip.happened))
    edges.push_back({possible.lot.text(), tip.subject, tip.sequence, false});
  std::sort(edges.begin(), edges.end());
  return edges;
}

}  // namespace tierproof
