#include "tierproof/kitchen/edges.h"

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
  for (const auto& parent : parents) out.push_back({parent, child, sequence});
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

}  // namespace tierproof
