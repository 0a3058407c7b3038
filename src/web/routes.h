#pragma once

#include <functional>
#include <string>
#include <vector>

#include "visit.h"

namespace tierproof::web {

/// Who may ask for something.
enum class For {
  anyone,    ///< whoever can reach the port
  device,    ///< a device that was let in
  reader,    ///< somebody who signed in, the officer too
  recorder,  ///< a person of the kitchen
  owner,
  sensor  ///< a token in `Authorization`
};

/// Where a form brings a file, and how large the whole of it may be: somewhat more than the largest file that is attached, so that one
/// above it is refused on its page and in words.
inline constexpr const char* path_of_files = "/drawer/attach";
inline constexpr std::size_t largest_form_with_file = 16'000'000;

/// One address of the pages or of the API. A part `*` of the path stands for one name, of which `Visit::part` is told.
struct Route {
  const char* method;
  std::string path;
  For who;
  std::function<WebAnswer(Visit& visit)> handle;
};

const std::vector<Route>& routes();

// The handlers, by the page that they belong to.
std::vector<Route> door_routes();
std::vector<Route> beginning_routes();
std::vector<Route> cupboard_routes();
std::vector<Route> bench_routes();
std::vector<Route> cold_routes();
std::vector<Route> leaving_routes();
std::vector<Route> counter_routes();
std::vector<Route> gone_routes();
std::vector<Route> drawer_routes();
std::vector<Route> note_routes();
std::vector<Route> plan_routes();
std::vector<Route> keeping_routes();
std::vector<Route> kept_routes();
std::vector<Route> looking_routes();
std::vector<Route> may_contain_routes();
std::vector<Route> attaching_routes();
std::vector<Route> api_routes();
std::vector<Route> api_view_routes();

}  // namespace tierproof::web
