#pragma once

#include <string>
#include <string_view>

#include "tierproof/units/result.h"

namespace tierproof {

/// The media type of a picture or document by its content, whatever its name says: `image/jpeg`, `image/png`, `image/webp`,
/// `application/pdf`. Looked at is its outline alone, not whether every point of it can be drawn:
///
/// - JPEG (ITU-T T.81, annex B): SOI, then marker segments with their lengths, a frame header and a scan among them, to the EOI.
/// - PNG (W3C PNG, 5): the signature, then chunks with their lengths: IHDR first, with a width and a height, an IDAT, to IEND.
/// - WebP (RFC 9649, 2): RIFF with its length, WEBP, then chunks with their lengths, one of them `VP8 `, `VP8L` or `ANMF`.
/// - PDF (ISO 32000-1, 7.5): `%PDF-` and a version at the very beginning; `startxref` and `%%EOF` in the last 1024 bytes.
///
/// What stands behind the end of a picture is let through: telephones put data of their own there. All from memory of these documents.
/// Refused, naming `file`: nothing in it, another type (text, an office document, HEIC), and one that was cut short or is damaged.
/// @param file  its name, for refusals alone
Result<std::string> media_type_of(std::string_view bytes, const std::string& file);

/// What such a file is called in plain words, `JPEG picture`, and how its name ends, `jpg`.
std::string_view words_of_media_type(std::string_view media_type);
std::string_view ending_of_media_type(std::string_view media_type);

}  // namespace tierproof
