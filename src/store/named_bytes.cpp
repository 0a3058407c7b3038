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

/// Every SHA-256 in the list `member` of the body.
void collect_digests(const Entry& entry, std::string_view member, std::vector<Digest>& out) {
  const auto* list = entry.body.is_object() ? entry.body.find(member) : nullptr;
  if (!list || !list->is_array()) return;
  for (const auto& item : list->array()) {
    if (!item.is_text()) continue;
    if (const auto digest = digest_from_hex(item.text())) out.push_back(*digest);
  }
}

}  // namespace

std::optional<Digest> named_digest(const Entry& entry) {
  const auto* named = entry.body.is_object() ? entry.body.find("sha256") : nullptr;
  return named && named->is_text() ? digest_from_hex(named->text()) : std::nullopt;
}

std::vector<Digest> named_erased(const Entry& entry) {
  std::vector<Digest> out;
  if (entry.kind == KindOf<Erasure>::kind) collect_digests(entry, "papers", out);
  return out;
}

std::optional<FileName> named_file(const Entry& entry) {
  if (entry.kind != KindOf<Evidence>::kind || !entry.body.is_object()) return std::nullopt;
  const auto* sha256 = entry.body.find("file_sha256");
  const auto* bytes = entry.body.find("file_bytes");
  const auto* about = entry.body.find("about");
  const auto digest = sha256 && sha256->is_text() ? digest_from_hex(sha256->text()) : std::nullopt;
  if (!digest || !bytes || !bytes->is_integer() || !about || !about->is_text()) return std::nullopt;
  return FileName{*digest, bytes->integer(), about->text()};
}

std::vector<Digest> named_erased_files(const Entry& entry) {
  std::vector<Digest> out;
  if (entry.kind != KindOf<Erasure>::kind) return out;
  collect_digests(entry, "files", out);
  collect_digests(entry, "files_gone", out);
  return out;
}

std::vector<SealedName> named_sealed(const Entry& entry) {
  std::vector<SealedName> out;
  collect(entry.body, out);
  collect(entry.why, out);
  return out;
}

}  // namespace tierproof::store
