#include "message.h"

#include <algorithm>

#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

int hex_digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return -1;
}

std::optional<std::string> decoded(std::string_view text, bool plus_is_space) {
  std::string plain;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '+' && plus_is_space) {
      plain += ' ';
    } else if (text[i] != '%') {
      plain += text[i];
    } else {
      const int high = i + 2 < text.size() ? hex_digit(text[i + 1]) : -1;
      const int low = i + 2 < text.size() ? hex_digit(text[i + 2]) : -1;
      if (high < 0 || low < 0) return std::nullopt;
      plain += static_cast<char>(high * 16 + low);
      i += 2;
    }
  }
  return to_nfc(plain);
}

}  // namespace

const std::string& Pairs::operator[](std::string_view name) const {
  static const std::string nothing;
  const auto found = std::find_if(all_.begin(), all_.end(), [&](const auto& pair) { return pair.first == name; });
  return found == all_.end() ? nothing : found->second;
}

bool Pairs::has(std::string_view name) const {
  return std::any_of(all_.begin(), all_.end(), [&](const auto& pair) { return pair.first == name; });
}

std::vector<std::string> Pairs::every(std::string_view name) const {
  std::vector<std::string> values;
  for (const auto& [key, value] : all_) {
    if (key == name) values.push_back(value);
  }
  return values;
}

std::optional<Pairs> parse_urlencoded(std::string_view text) {
  constexpr std::size_t most = 400;
  Pairs pairs;
  while (!text.empty()) {
    const auto end = text.find('&');
    const auto one = text.substr(0, end);
    text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
    if (one.empty()) continue;
    const auto equals = one.find('=');
    auto name = decoded(one.substr(0, equals), true);
    auto value = equals == std::string_view::npos ? std::optional<std::string>{""} : decoded(one.substr(equals + 1), true);
    if (!name || !value || pairs.all().size() == most) return std::nullopt;
    std::erase(*value, '\r');
    pairs.add(std::move(*name), std::move(*value));
  }
  return pairs;
}

Pairs parse_cookies(std::string_view header) {
  Pairs cookies;
  while (!header.empty()) {
    const auto end = header.find(';');
    const auto one = trimmed(header.substr(0, end));
    header = end == std::string_view::npos ? std::string_view{} : header.substr(end + 1);
    const auto equals = one.find('=');
    if (equals != std::string_view::npos) cookies.add(std::string{one.substr(0, equals)}, std::string{one.substr(equals + 1)});
  }
  return cookies;
}

std::optional<std::string> decoded_path(std::string_view path) {
  if (path.empty() || path.front() != '/') return std::nullopt;
  auto plain = decoded(path, false);
  if (!plain) return std::nullopt;
  if (std::any_of(plain->begin(), plain->end(), [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == '\\'; }))
    return std::nullopt;
  for (std::size_t at = 0; at < plain->size();) {
    const auto end = std::min(plain->find('/', at + 1), plain->size());
    const auto part = std::string_view{*plain}.substr(at + 1, end - at - 1);
    if (part == "." || part == ".." || (part.empty() && plain->size() > 1)) return std::nullopt;
    at = end;
  }
  return plain;
}

WebAnswer plain_answer(int status, std::string words) { return {status, "text/plain; charset=utf-8", std::move(words) + "\n", {}}; }

WebAnswer redirect(std::string to) {
  WebAnswer answer = plain_answer(303, "see " + to);
  answer.headers.emplace_back("Location", std::move(to));
  return answer;
}

}  // namespace tierproof::web
