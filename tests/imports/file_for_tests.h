#pragma once

#include <string>
#include <string_view>

// The smallest files of each sort that pass: made by hand, none of them shows anything.
namespace tierproof::files_for_tests {

inline std::string bytes(std::string_view text) { return std::string{text}; }

/// SOI, APP0, DQT (short), SOF0 of 1 x 1, SOS, four bytes with a stuffed FF and a restart marker, EOI.
inline std::string jpeg(std::string_view data = "\x12") {
  using namespace std::string_view_literals;
  return bytes("\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01\x01\x00\x00\x01\x00\x01\x00\x00"sv) + bytes("\xff\xdb\x00\x04\x00\x10"sv) +
         bytes("\xff\xc0\x00\x0b\x08\x00\x01\x00\x01\x01\x01\x11\x00"sv) + bytes("\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00"sv) +
         bytes(data) + bytes("\xff\x00\xff\xd0\x34\xff\xd9"sv);
}

/// IHDR of 1 x 1 in greys, IDAT, IEND; the checksums are not those of its chunks, since nobody looks at them.
inline std::string png(std::string_view data = "\x01\x02\x03\x04") {
  using namespace std::string_view_literals;
  const std::string length{'\0', '\0', static_cast<char>(data.size() >> 8U), static_cast<char>(data.size() & 0xffU)};
  return bytes("\x89PNG\r\n\x1a\n"sv) + bytes("\x00\x00\x00\x0dIHDR\x00\x00\x00\x01\x00\x00\x00\x01\x08\x00\x00\x00\x00"sv) +
         bytes("crc."sv) + length + "IDAT" + bytes(data) + "crc." + bytes("\x00\x00\x00\x00IEND\xae\x42\x60\x82"sv);
}

/// One lossy picture of 1 x 1, as encoders write it (from memory).
inline std::string webp() {
  using namespace std::string_view_literals;
  return bytes("RIFF\x22\x00\x00\x00WEBPVP8 \x16\x00\x00\x00"sv) +
         bytes("\x30\x01\x00\x9d\x01\x2a\x01\x00\x01\x00\x0e\xc0\xfe\x25\xa4\x00\x03\x70\x00\x00\x00\x00"sv);
}

inline std::string pdf(std::string_view title = "a sheet") {
  return "%PDF-1.4\n1 0 obj <</Title (" + bytes(title) + ")>> endobj\nxref\n0 1\ntrailer <</Root 1 0 R>>\nstartxref\n9\n%%EOF";
}

/// A PDF of exactly `size` bytes. @pre larger than an empty one
inline std::string pdf_of(std::size_t size) { return pdf(std::string(size - pdf("").size(), 'x')); }

}  // namespace tierproof::files_for_tests
