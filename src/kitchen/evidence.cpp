#include "tierproof/kitchen/evidence.h"

#include <fmt/format.h>

#include "members.h"

namespace tierproof {

// clang-format off
template <class V, Describes<Evidence> T> void describe_members(V& v, T& e) {
  v.needed("about", e.about); v.needed("kind", e.kind); v.integer("note", e.note, 1, largest_in_body); v.words("shows", e.shows);
  v.needed("file_sha256", e.file_sha256); v.integer("file_bytes", e.file_bytes, 1, largest_in_body);
  v.one_of("media_type", e.media_type, {"image/jpeg", "image/png", "image/webp", "application/pdf"});
}
// clang-format on

TIERPROOF_BODY(Evidence);

}  // namespace tierproof
