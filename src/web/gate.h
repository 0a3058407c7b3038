#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "message.h"

namespace tierproof::web {

/// The beginning of a request as it came in, before anything of it is believed.
struct RequestHead {
  std::string method;
  std::string target;                                        ///< `/cold?x=1`
  std::string version;                                       ///< `HTTP/1.1`
  std::vector<std::pair<std::string, std::string>> headers;  ///< names in small letters
};

struct GateRules {
  std::vector<std::string> hosts;  ///< as they may stand in `Host`, `kitchen.local:8321`
  std::size_t largest_body = 64 * 1024;
  std::vector<std::string> file_paths{};  ///< where a form may bring a file, written exactly so
  std::size_t largest_with_file = 0;
};

/// Whether a request asks for more to be read than any other form needs. Its body may only be read once its head shows who sends it.
/// @pre it was let in
bool brings_file(const RequestHead& head, const GateRules& rules);

/// Refuses what no browser or sensor of this kitchen would send, before anything looks at where it should go; nothing where it may come in.
///
/// Refused: a method other than GET, HEAD and POST (405); a version other than HTTP/1.0 and 1.1 (505); no `Host`, or more than one (400); a
/// host that is not one of ours (421, against names that somebody else points here); a target that is no path of ours (400); any
/// `Transfer-Encoding` (501: with a `Content-Length` beside it two readers could see two requests); more than one `Content-Length`, or one
/// that is not a plain number (400); a POST without one (411); a body that comes with anything but a POST (400: nobody would read it, and
/// it would be taken for the next request); a body larger than allowed there (413).
std::optional<WebAnswer> refuse_at_gate(const RequestHead& head, const GateRules& rules);

}  // namespace tierproof::web
