#pragma once

#include "tierproof/text/json.h"

namespace tierproof::web {

/// What `/api/v1` offers, as an OpenAPI 3.1 description: made of the routes and deeds themselves, so that it tells of nothing else.
/// `reference/schemas/kitchen-pages.openapi.json` is its text, which a test holds against it.
Json api_description();

}  // namespace tierproof::web
