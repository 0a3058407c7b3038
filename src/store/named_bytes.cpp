#include "tierproof/store/named_bytes.h"

#include "tierproof/kitchen/bodies.h"

namespace tierproof::store {
namespace {

void collect(const Json& value, std::vector<SealedName>& out) {
  if (value.is_array()) {
    for (const auto& item : value.array()) collect(item, out);
  } else if (value.is_object()) {
    const auto* ref = value.find("sealed");
    const auto* hmac = value.find("hmac");
    if (ref && ref->is_text() && hmac && hmac->is_text()) out.push_back({ref->text(), hmac->text()});
    for (const auto& [key, member] : value.object()) collect(member, out);
  }
}

}  // namespace

std::optional<Digest> named_digest(const Entry& entry) {
  const auto* named = entry.body.is_object() ? entry.body.find("sha256") : nullptr;
  return named && named->is_text() ? digest_from_hex(named->text()) : std::nullopt;
}

std::vector<Digest> named_erased(const Entry& entry) {
  std::vector<Digest> out;
  const auto* papers = entry.kind == KindOf<Erasure>::kind && entry.body.is_object() ? entry.body.find("papers") : nullptr;
  if (!papers || !papers->is_array()) return out;
  for (const auto& paper : papers->array()) {
    if (!paper.is_text()) continue;
    if (const auto digest = digest_from_hex(paper.text())) out.push_back(*digest);
  }
  return out;
}

std::vector<SealedName> named_sealed(const Entry& entry) {
  std::vector<SealedName> out;
  collect(entry.body, out);
  collect(entry.why, out);
  return out;
}

}  // namespace tierproof::store
