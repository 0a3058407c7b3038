#include "web/api_description.h"

#include <gtest/gtest.h>
#include <stdlib.h>

#include <fstream>

#include "tierproof/app/session.h"
#include "web/routes.h"

namespace tierproof::web {
namespace {

const std::string described = std::string{TIERPROOF_SOURCE_DIR} + "/reference/schemas/kitchen-pages.openapi.json";

// `TIERPROOF_UPDATE_API=1` writes the file anew, to be read as a diff.
TEST(ApiDescription, IsTheFileThatScriptsAreWrittenBy) {
  const std::string text = write_pretty(api_description());
  if (::getenv("TIERPROOF_UPDATE_API") != nullptr) std::ofstream{described} << text;
  EXPECT_EQ(load_file(described), text);
}

TEST(ApiDescription, TellsEveryRouteOfTheApiAndNoOther) {
  std::size_t routes_of_api = 0;
  for (const auto& route : routes()) routes_of_api += route.path.starts_with("/api/v1/") ? 1 : 0;
  std::size_t told = 0;
  const Json description = api_description();
  for (const auto& [path, operations] : description.find("paths")->object()) {
    for (const auto& [method, operation] : operations.object()) {
      ++told;
      EXPECT_FALSE(operation.find("description")->text().empty()) << method << " " << path;
      if (method == "post" && path != "/readings") {
        EXPECT_NE(operation.find("requestBody"), nullptr) << path;
        EXPECT_FALSE(operation.find("summary")->text().empty()) << path;
      }
    }
  }
  EXPECT_EQ(told, routes_of_api);
}

}  // namespace
}  // namespace tierproof::web
