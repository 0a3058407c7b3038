#include "multipart.h"

#include <Poco/Exception.h>
#include <Poco/MemoryStream.h>
#include <Poco/Net/MessageHeader.h>
#include <Poco/Net/MultipartReader.h>

#include <algorithm>
#include <iterator>

#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

constexpr std::size_t most_parts = 40;
constexpr std::size_t most_text = 64 * 1024;

/// RFC 2046, 5.1.1.
bool may_be_boundary(std::string_view text) {
  const auto allowed = [](char c) {
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
           std::string_view{"'()+_,-./:=? "}.find(c) != std::string_view::npos;
  };
  return !text.empty() && text.size() <= 70 && text.back() != ' ' && std::all_of(text.begin(), text.end(), allowed);
}

Refusal refused_form(std::string field, std::string message, std::string remedy) {
  return {"", 0, std::move(field), std::move(message), std::move(remedy)};
}

/// What a part is called, and the name of the file that it holds, if it is one.
struct PartNamed {
  std::string name;
  bool is_file = false;
  std::string file_name;
};

std::optional<PartNamed> named(const Poco::Net::MessageHeader& head) {
  std::string value;
  Poco::Net::NameValueCollection parameters;
  Poco::Net::MessageHeader::splitParameters(head.get("Content-Disposition", ""), value, parameters);
  if (ascii_lower(value) != "form-data" || parameters.get("name", "").empty()) return std::nullopt;
  return PartNamed{parameters.get("name"), parameters.has("filename"), parameters.get("filename", "")};
}

}  // namespace

bool is_multipart(std::string_view content_type) { return ascii_lower(content_type).starts_with("multipart/form-data"); }

Result<FormWithFile> parse_multipart(const std::string& content_type, const std::string& body) {
  const auto cut_short = refused_form("", "the form did not come whole", "send it again");
  std::string type;
  Poco::Net::NameValueCollection parameters;
  Poco::Net::MessageHeader::splitParameters(content_type, type, parameters);
  const std::string boundary = parameters.get("boundary", "");
  if (!may_be_boundary(boundary)) return refused_form("", "the form does not say where its parts end", "send it again");
  const std::string last = "\r\n--" + boundary + "--";
  if (!body.starts_with("--" + boundary + "\r\n") || !(body.ends_with(last) || body.ends_with(last + "\r\n"))) return cut_short;
  FormWithFile form;
  std::size_t parts = 0;
  std::size_t text = 0;
  bool file_field = false;
  try {
    Poco::MemoryInputStream in{body.data(), static_cast<std::streamsize>(body.size())};
    Poco::Net::MultipartReader reader{in, boundary};
    while (reader.hasNextPart()) {
      if (++parts > most_parts) return refused_form("", "the form has too many parts", "send what the page asks for");
      Poco::Net::MessageHeader head;
      head.setFieldLimit(16);
      reader.nextPart(head);
      const auto part = named(head);
      if (!part) return refused_form("", "a part of the form has no name", "send what the page asks for");
      std::string bytes{std::istreambuf_iterator<char>{reader.stream()}, {}};
      if (part->is_file) {
        if (file_field) return refused_form("file", "two files came", "attach one file at a time");
        file_field = true;
        if (!bytes.empty() || !part->file_name.empty()) form.file = SentFile{part->name, std::move(bytes)};
        continue;
      }
      text += bytes.size();
      auto words = to_nfc(bytes);
      if (!words || text > most_text) return refused_form(part->name, "cannot be read as text", "type it again, in a few words");
      std::erase(*words, '\r');
      form.fields.add(part->name, std::move(*words));
    }
  } catch (const Poco::Exception&) {
    return cut_short;
  }
  return form;
}

}  // namespace tierproof::web
