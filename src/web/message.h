#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace tierproof::web {

/// Names and values in the order in which they came; a name may come several times.
class Pairs {
 public:
  void add(std::string name, std::string value) { all_.emplace_back(std::move(name), std::move(value)); }
  /// The first value, or nothing of that name: an empty text.
  const std::string& operator[](std::string_view name) const;
  bool has(std::string_view name) const;
  std::vector<std::string> every(std::string_view name) const;
  const std::vector<std::pair<std::string, std::string>>& all() const { return all_; }

 private:
  std::vector<std::pair<std::string, std::string>> all_;
};

/// A file that came with a form. What a browser says of its name and type is not looked at.
struct SentFile {
  std::string field;  ///< name of its field
  std::string bytes;
};

/// What a browser or a script asks, once the gate let it through. Header names are in small letters.
struct WebRequest {
  std::string method;  ///< `GET`, `POST`; a HEAD is asked as a GET, and its answer goes without its body
  std::string path;    ///< `/bench/batch-4`
  Pairs query;
  Pairs headers;
  Pairs form;  ///< of a form as browsers post it
  std::string body;
  bool over_tls = false;
  Pairs cookies{};
  std::optional<SentFile> file{};  ///< of a form that may bring one
};

struct WebAnswer {
  int status = 200;
  std::string type = "text/html; charset=utf-8";
  std::string body;
  std::vector<std::pair<std::string, std::string>> headers{};
};

/// `a=1&b=%20` as it stands in a query or a posted form, at most 400 names; nothing where a percent code or the UTF-8 is broken, or a value
/// holds U+0000. Text comes in NFC.
std::optional<Pairs> parse_urlencoded(std::string_view text);
/// The cookies of a `Cookie` header.
Pairs parse_cookies(std::string_view header);
/// A path with its percent codes resolved; nothing where they are broken, or where a part of it is empty, `.` or `..`.
std::optional<std::string> decoded_path(std::string_view path);

WebAnswer plain_answer(int status, std::string words);
WebAnswer redirect(std::string to);

}  // namespace tierproof::web
