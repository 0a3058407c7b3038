#include "gate.h"

#include <algorithm>
#include <charconv>

#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

bool is_for_files(std::string_view target, const GateRules& rules) {
  const auto path = target.substr(0, target.find('?'));
  return std::find(rules.file_paths.begin(), rules.file_paths.end(), path) != rules.file_paths.end();
}

}  // namespace

bool brings_file(const RequestHead& head, const GateRules& rules) {
  const auto length = std::find_if(head.headers.begin(), head.headers.end(), [](const auto& one) { return one.first == "content-length"; });
  std::size_t bytes = 0;
  if (length != head.headers.end()) std::from_chars(length->second.data(), length->second.data() + length->second.size(), bytes);
  return bytes > rules.largest_body && is_for_files(head.target, rules);
}

std::optional<WebAnswer> refuse_at_gate(const RequestHead& head, const GateRules& rules) {
  const auto all = [&](std::string_view name) {
    std::vector<std::string> values;
    for (const auto& [key, value] : head.headers) {
      if (key == name) values.push_back(value);
    }
    return values;
  };
  if (head.version != "HTTP/1.1" && head.version != "HTTP/1.0") return plain_answer(505, "this version of HTTP is not spoken here");
  if (head.method != "GET" && head.method != "HEAD" && head.method != "POST") {
    WebAnswer answer = plain_answer(405, "this is not asked here");
    answer.headers.emplace_back("Allow", "GET, HEAD, POST");
    return answer;
  }
  const auto hosts = all("host");
  if (hosts.size() != 1) return plain_answer(400, "the request names no host, or several");
  if (std::find(rules.hosts.begin(), rules.hosts.end(), ascii_lower(hosts.front())) == rules.hosts.end())
    return plain_answer(421, "the kitchen does not go by this name");
  if (head.target.empty() || head.target.front() != '/' || head.target.starts_with("//") || head.target.size() > 2000)
    return plain_answer(400, "there is no such address");
  if (!all("transfer-encoding").empty()) return plain_answer(501, "send it whole, with its length");
  const auto lengths = all("content-length");
  if (lengths.size() > 1) return plain_answer(400, "the request gives two lengths");
  if (lengths.empty()) return head.method == "POST" ? std::optional{plain_answer(411, "send it with its length")} : std::nullopt;
  std::size_t length = 0;
  const std::string& text = lengths.front();
  const auto [stop, error] = std::from_chars(text.data(), text.data() + text.size(), length);
  if (text.empty() || error != std::errc{} || stop != text.data() + text.size()) return plain_answer(400, "the length is not a number");
  if (length != 0 && head.method != "POST") return plain_answer(400, "nothing is sent along with this question");
  if (length > (is_for_files(head.target, rules) ? std::max(rules.largest_body, rules.largest_with_file) : rules.largest_body))
    return plain_answer(413, "that is more than fits in here");
  return std::nullopt;
}

}  // namespace tierproof::web
