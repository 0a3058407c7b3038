#include "named_bytes.h"

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

std::vector<SealedName> named_sealed(const Entry& entry) {
  std::vector<SealedName> out;
  collect(entry.body, out);
  collect(entry.why, out);
  return out;
}

}  // namespace tierproof::store
