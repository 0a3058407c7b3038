#include "tierproof/imports/file_type.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>

namespace tierproof {
namespace {

/// Bytes from a place on; what is not there is never read.
class BytesAt {
 public:
  explicit BytesAt(std::string_view bytes) : bytes_{bytes} {}
  std::size_t size() const { return bytes_.size(); }
  bool has(std::size_t at, std::size_t count) const { return at <= bytes_.size() && count <= bytes_.size() - at; }
  /// @pre has(at, 1)
  std::uint8_t byte(std::size_t at) const { return static_cast<std::uint8_t>(bytes_[at]); }
  std::string_view text(std::size_t at, std::size_t count) const { return has(at, count) ? bytes_.substr(at, count) : std::string_view{}; }
  bool says(std::size_t at, std::string_view what) const { return text(at, what.size()) == what; }
  /// Big-endian, as JPEG and PNG write numbers. @pre has(at, count), count <= 4
  std::size_t big(std::size_t at, std::size_t count) const {
    std::size_t value = 0;
    for (std::size_t i = 0; i < count; ++i) value = value << 8U | byte(at + i);
    return value;
  }
  /// Little-endian, four bytes, as RIFF does. @pre has(at, 4)
  std::size_t little(std::size_t at) const {
    std::size_t value = 0;
    for (std::size_t i = 4; i > 0; --i) value = value << 8U | byte(at + i - 1);
    return value;
  }

 private:
  std::string_view bytes_;
};

constexpr std::string_view png_begins{"\x89PNG\r\n\x1a\n", 8};
constexpr std::string_view jpeg_begins{"\xff\xd8\xff", 3};

/// Where the next marker stands that is not part of a scan's data (`FF 00`, `FF D0` to `FF D7`), from `at` on.
std::optional<std::size_t> marker_after_scan(const BytesAt& in, std::size_t at) {
  for (; in.has(at, 2); ++at) {
    const auto next = in.byte(at + 1);
    if (in.byte(at) == 0xff && next != 0x00 && next != 0xff && (next < 0xd0 || next > 0xd7)) return at;
  }
  return std::nullopt;
}

/// @pre begins as a JPEG does
bool whole_jpeg(const BytesAt& in) {
  bool frame = false, scan = false;
  for (std::size_t at = 2; in.has(at, 2);) {
    if (in.byte(at) != 0xff) return false;
    const auto marker = in.byte(at + 1);
    if (marker == 0xff) {  // a fill byte
      ++at;
      continue;
    }
    if (marker == 0xd9) return frame && scan;
    if (marker == 0x00 || marker == 0x01 || (marker >= 0xd0 && marker <= 0xd8)) return false;
    if (!in.has(at + 2, 2)) return false;
    const auto length = in.big(at + 2, 2);
    if (length < 2 || !in.has(at + 2, length)) return false;
    const bool table = marker == 0xc4 || marker == 0xc8 || marker == 0xcc;  // DHT, JPG, DAC among the frame headers
    frame = frame || (marker >= 0xc0 && marker <= 0xcf && !table);
    at += 2 + length;
    if (marker != 0xda) continue;
    scan = true;
    const auto next = marker_after_scan(in, at);
    if (!next) return false;
    at = *next;
  }
  return false;
}

/// @pre begins as a PNG does
bool whole_png(const BytesAt& in) {
  bool data = false;
  for (std::size_t at = png_begins.size(); in.has(at, 12);) {
    const auto length = in.big(at, 4);
    const auto type = in.text(at + 4, 4);
    if (length > 0x7fffffffU || !in.has(at + 8, length + 4)) return false;
    if (at == png_begins.size() && (type != "IHDR" || length != 13 || in.big(at + 8, 4) == 0 || in.big(at + 12, 4) == 0)) return false;
    if (type == "IDAT") data = true;
    if (type == "IEND") return length == 0 && data;
    at += 12 + length;
  }
  return false;
}

/// @pre begins as a WebP does
bool whole_webp(const BytesAt& in) {
  const auto length = in.little(4);  // of all that follows it
  if (length < 4 || !in.has(8, length)) return false;
  const std::size_t end = 8 + length;
  bool picture = false;
  for (std::size_t at = 12; at < end;) {
    if (end - at < 8) return false;
    const auto chunk = in.little(at + 4);
    if (chunk > end - at - 8) return false;
    const auto type = in.text(at, 4);
    picture = picture || ((type == "VP8 " || type == "VP8L" || type == "ANMF") && chunk > 0);
    at += 8 + chunk + chunk % 2;
  }
  return picture;
}

bool begins_as_pdf(const BytesAt& in) {
  const auto digit = [&](std::size_t at) { return in.has(at, 1) && in.byte(at) >= '0' && in.byte(at) <= '9'; };
  return in.says(0, "%PDF-") && digit(5) && in.says(6, ".") && digit(7);
}

/// @pre begins as a PDF does
bool whole_pdf(std::string_view bytes) {
  constexpr std::size_t tail = 1024;
  const auto last = bytes.substr(bytes.size() > tail ? bytes.size() - tail : 0);
  const auto end = last.rfind("%%EOF");
  return end != std::string_view::npos && last.substr(0, end).find("startxref") != std::string_view::npos;
}

struct Known {
  std::string_view media_type, words, ending;
};
constexpr std::array<Known, 4> known_types{{{"image/jpeg", "JPEG picture", "jpg"},
                                            {"image/png", "PNG picture", "png"},
                                            {"image/webp", "WebP picture", "webp"},
                                            {"application/pdf", "PDF", "pdf"}}};

const Known* known_type(std::string_view media_type) {
  for (const auto& known : known_types) {
    if (known.media_type == media_type) return &known;
  }
  return nullptr;
}

}  // namespace

Result<std::string> media_type_of(std::string_view bytes, const std::string& file) {
  const BytesAt in{bytes};
  const auto refuse = [&](std::string message, std::string remedy) { return Refusal{file, 0, "", std::move(message), std::move(remedy)}; };
  const auto whole = [&](bool is_whole, std::string_view media_type) -> Result<std::string> {
    if (is_whole) return std::string{media_type};
    return refuse("begins as a " + std::string{words_of_media_type(media_type)} + ", but is cut short or damaged",
                  "copy it again from where it was made");
  };
  if (bytes.empty()) return refuse("is empty", "copy it again from where it was made");
  if (in.says(0, jpeg_begins)) return whole(whole_jpeg(in), "image/jpeg");
  if (in.says(0, png_begins)) return whole(whole_png(in), "image/png");
  if (in.says(0, "RIFF") && in.says(8, "WEBP")) return whole(whole_webp(in), "image/webp");
  if (begins_as_pdf(in)) return whole(whole_pdf(bytes), "application/pdf");
  for (const std::string_view brand : {"heic", "heix", "hevc", "mif1", "msf1", "avif"}) {
    if (in.says(4, "ftyp") && in.says(8, brand))
      return refuse("is a HEIC or AVIF picture, as some telephones make them", "send or save it as a JPEG, and attach that");
  }
  return refuse("is no JPEG, PNG or WebP picture and no PDF by its content, whatever it is called",
                "take a picture of it, or print it into a PDF, and attach that");
}

std::string_view words_of_media_type(std::string_view media_type) {
  const Known* known = known_type(media_type);
  return known == nullptr ? media_type : known->words;
}

std::string_view ending_of_media_type(std::string_view media_type) {
  const Known* known = known_type(media_type);
  return known == nullptr ? std::string_view{"bin"} : known->ending;
}

}  // namespace tierproof
