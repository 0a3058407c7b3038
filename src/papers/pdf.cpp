#include "tierproof/papers/pdf.h"

#include <fmt/format.h>
#include <hpdf.h>
#include <hpdf_font.h>
#include <hpdf_fontdef.h>
#include <hpdf_namedict.h>
#include <hpdf_objects.h>
#include <hpdf_streams.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <memory_resource>
#include <new>
#include <optional>
#include <string>
#include <vector>

namespace tierproof {
namespace {

/// Owns one document of the library, one at a time in a thread; the first error it reports wins.
///
/// What the library takes is given back with the document, all at once: it forgets some of it where it fails.
class Pdf {
 public:
  Pdf() {
    if (store_ != nullptr) throw Fault{exit_status::our_bug, "two PDF documents are drawn at once"};
    store_ = &own_;
    document_ = HPDF_NewEx(&Pdf::record, &Pdf::take, &Pdf::keep, 0, this);
    if (document_ != nullptr) return;
    store_ = nullptr;
    throw Fault{exit_status::cannot_create, "the PDF library does not start"};
  }
  ~Pdf() {
    HPDF_Free(document_);
    store_ = nullptr;
  }
  Pdf(const Pdf&) = delete;
  Pdf& operator=(const Pdf&) = delete;

  HPDF_Doc get() const { return document_; }
  void check(const std::string& what) const {
    if (code_ != HPDF_OK) throw Fault{exit_status::cannot_create, fmt::format("{}: the PDF library reports error 0x{:04X}", what, code_)};
  }
  /// @returns nothing where the library cannot cut a font (see `write_pdf`) and `may_fail`
  std::optional<std::string> bytes(bool may_fail) {
    HPDF_SaveToStream(document_);
    if (may_fail && code_ == HPDF_INVALID_OBJECT) return std::nullopt;
    check("saving the PDF");
    HPDF_UINT32 size = HPDF_GetStreamSize(document_);
    std::string bytes(size, '\0');
    HPDF_ResetStream(document_);
    HPDF_ReadFromStream(document_, reinterpret_cast<HPDF_BYTE*>(bytes.data()), &size);
    check("reading the PDF back");
    bytes.resize(size);
    return bytes;
  }

 private:
  static void record(HPDF_STATUS code, HPDF_STATUS, void* self) {
    auto& first = static_cast<Pdf*>(self)->code_;
    if (first == HPDF_OK) first = code;
  }
  static void* take(HPDF_UINT size) {
    try {
      return store_->allocate(size);
    } catch (const std::bad_alloc&) {
      return nullptr;  // the library reports it
    }
  }
  static void keep(void*) {}

  static thread_local std::pmr::memory_resource* store_;
  std::pmr::monotonic_buffer_resource own_;
  HPDF_STATUS code_ = HPDF_OK;
  HPDF_Doc document_ = nullptr;
};
thread_local std::pmr::memory_resource* Pdf::store_ = nullptr;

float points_of(Micrometres length) { return static_cast<float>(static_cast<double>(length) * 72.0 / 25400.0); }
float grey_of(Ink ink) { return static_cast<float>(ink) / 255.0F; }

HPDF_Date date_of(Instant moment) {
  const auto day = std::chrono::floor<std::chrono::days>(moment);
  const Date date{day};
  const std::chrono::hh_mm_ss time{std::chrono::floor<std::chrono::seconds>(moment - day)};
  HPDF_Date out{};
  out.year = static_cast<int>(date.year());
  out.month = static_cast<int>(static_cast<unsigned>(date.month()));
  out.day = static_cast<int>(static_cast<unsigned>(date.day()));
  out.hour = static_cast<int>(time.hours().count());
  out.minutes = static_cast<int>(time.minutes().count());
  out.seconds = static_cast<int>(time.seconds().count());
  out.ind = 'Z';
  return out;
}

/// What each code of a text stands for. The library writes a map that readers complain of (`begincidrange` has no place in it).
std::string to_unicode(const std::vector<bool>& used) {
  std::string map =
      "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
      "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"
      "1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n";
  constexpr std::size_t most = 100;  // entries a block
  auto left = static_cast<std::size_t>(std::count(used.begin(), used.end(), true));
  std::size_t in_block = 0;
  for (std::size_t character = 0; character < used.size(); ++character) {
    if (!used[character]) continue;
    if (in_block == 0) map += fmt::format("{} beginbfchar\n", std::min(left, most));
    map += fmt::format("<{0:04X}> <{0:04X}>\n", character);
    --left;
    if (++in_block == most || left == 0) {
      map += "endbfchar\n";
      in_block = 0;
    }
  }
  return map + "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n";
}

/// Paints pages; loads each face when it is first used.
class Painter {
 public:
  Painter(Pdf& pdf, const Fonts& fonts) : pdf_{pdf}, fonts_{fonts} {}

  void paint(const Page& page) {
    page_ = HPDF_AddPage(pdf_.get());
    pdf_.check("adding a page");
    painted_.push_back({page_, page.height});
    height_ = page.height;
    HPDF_Page_SetWidth(page_, points_of(page.width));
    HPDF_Page_SetHeight(page_, points_of(page.height));
    fills(page.marks.fills);
    for (const Stroke& stroke : page.marks.strokes) paint(stroke);
    dots(page.marks.dots);
    for (const PlacedText& text : page.marks.texts) paint(text);
    pdf_.check("painting a page");
  }

  /// Links and bookmarks, once every page is there to be led to.
  void lead(const Pages& pages) {
    for (std::size_t i = 0; i < pages.pages.size(); ++i) {
      page_ = painted_[i].page;
      height_ = painted_[i].height;
      for (const Link& link : pages.pages[i].links) add(link);
    }
    std::vector<HPDF_Outline> above;  // the last bookmark of each level
    for (const Bookmark& bookmark : pages.bookmarks) {
      above.resize(std::min(above.size(), static_cast<std::size_t>(std::max(bookmark.level, 1) - 1)));
      const HPDF_Outline parent = above.empty() ? nullptr : above.back();
      const HPDF_Outline made = HPDF_CreateOutline(pdf_.get(), parent, bookmark.words.c_str(), HPDF_GetCurrentEncoder(pdf_.get()));
      HPDF_Outline_SetDestination(made, place(bookmark.page, bookmark.y));
      above.push_back(made);
    }
    if (pages.bookmarks.size() > 1 && pages.pages.size() > 1) HPDF_SetPageMode(pdf_.get(), HPDF_PAGE_MODE_USE_OUTLINE);
    pdf_.check("adding links and bookmarks");
  }

  /// Has the fonts keep some glyphs more than are used, the first of each.
  void keep_glyphs(int more) {
    for (HPDF_Font font : loaded_) {
      if (font == nullptr) continue;
      HPDF_FontDef cut = static_cast<HPDF_FontAttr>(font->attr)->fontdef;
      for (int glyph = 1; glyph <= more; ++glyph) static_cast<HPDF_TTFontDefAttr>(cut->attr)->glyph_tbl.flgs[glyph] = 1;
    }
  }

  /// Once everything is painted.
  void write_character_maps() {
    for (std::size_t i = 0; i < loaded_.size(); ++i) {
      if (loaded_[i] == nullptr) continue;
      auto* const map = static_cast<HPDF_Dict>(HPDF_Dict_GetItem(loaded_[i], "ToUnicode", HPDF_OCLASS_DICT));
      if (map == nullptr || map->stream == nullptr)
        throw Fault{exit_status::cannot_create, "the PDF library made a font without a character map"};
      HPDF_MemStream_FreeData(map->stream);
      HPDF_Stream_WriteStr(map->stream, to_unicode(used_[i]).c_str());
      pdf_.check("writing a character map");
    }
  }

 private:
  struct PaintedPage {
    HPDF_Page page;
    Micrometres height;
  };

  /// A place on a page, shown as large as the reader has it.
  HPDF_Destination place(std::size_t page, Micrometres down) const {
    const PaintedPage& to = painted_.at(page);
    const HPDF_Destination made = HPDF_Page_CreateDestination(to.page);
    HPDF_Destination_SetXYZ(made, 0, std::max(0.0F, points_of(to.height - down)), 1);
    pdf_.check("leading to a page");
    // The library takes no zoom of 0, which stands for "unchanged" (ISO 32000-1, table 151).
    static_cast<HPDF_Real>(HPDF_Array_GetItem(made, 4, HPDF_OCLASS_REAL))->value = 0;
    return made;
  }

  void add(const Link& link) {
    const HPDF_Rect box{x(link.x), y(link.y + link.height), x(link.x + link.width), y(link.y)};
    const HPDF_Annotation made = link.address.empty() ? HPDF_Page_CreateLinkAnnot(page_, box, place(link.page, link.to))
                                                      : HPDF_Page_CreateURILinkAnnot(page_, box, link.address.c_str());
    HPDF_LinkAnnot_SetBorderStyle(made, 0, 0, 0);
  }

  float x(Micrometres right) const { return points_of(right); }
  float y(Micrometres down) const { return points_of(height_ - down); }

  /// Neighbours of one ink are filled in one go, so that no seam shows between the modules of a code.
  void fills(const std::vector<Fill>& all) {
    for (std::size_t i = 0; i < all.size();) {
      HPDF_Page_SetGrayFill(page_, grey_of(all[i].ink));
      std::size_t end = i;
      for (; end < all.size() && all[end].ink == all[i].ink; ++end) {
        const Fill& fill = all[end];
        HPDF_Page_Rectangle(page_, x(fill.x), y(fill.y + fill.height), points_of(fill.width), points_of(fill.height));
      }
      HPDF_Page_Fill(page_);
      i = end;
    }
  }

  void paint(const Stroke& stroke) {
    if (stroke.points.size() < 2) return;
    HPDF_Page_SetLineWidth(page_, points_of(stroke.width));
    HPDF_Page_SetGrayStroke(page_, grey_of(stroke.ink));
    HPDF_Page_SetLineJoin(page_, HPDF_ROUND_JOIN);
    set_dash(stroke.dash);
    HPDF_Page_MoveTo(page_, x(stroke.points.front().x), y(stroke.points.front().y));
    for (std::size_t i = 1; i < stroke.points.size(); ++i) HPDF_Page_LineTo(page_, x(stroke.points[i].x), y(stroke.points[i].y));
    HPDF_Page_Stroke(page_);
    set_dash(0);
  }

  void set_dash(Micrometres length) {
    if (length == dash_) return;
    dash_ = length;
    // The library takes dashes in whole points only.
    const HPDF_UINT16 whole[] = {static_cast<HPDF_UINT16>(points_of(length) + 0.5F)};
    HPDF_Page_SetDash(page_, length > 0 ? whole : nullptr, length > 0 ? 1 : 0, 0);
  }

  void dots(const std::vector<Dot>& all) {
    for (const Dot& dot : all) {
      HPDF_Page_SetGrayFill(page_, grey_of(dot.ink));
      HPDF_Page_Circle(page_, x(dot.centre.x), y(dot.centre.y), points_of(dot.radius));
      HPDF_Page_Fill(page_);
    }
  }

  void paint(const PlacedText& text) {
    if (text.text.empty()) return;
    if (text.text.find('\n') != std::string::npos || !check_text(text.text, text.face, fonts_, "").empty()) {
      throw Fault{exit_status::our_bug, fmt::format("`{}` reached the PDF writer unchecked", text.text)};
    }
    const HPDF_Font font = font_of(text.face);
    std::vector<bool>& used = used_[static_cast<std::size_t>(text.face)];
    used.resize(fonts_.of(text.face).advances.size());
    for (const char32_t character : characters_of(text.text)) used[character] = true;
    HPDF_Page_SetGrayFill(page_, grey_of(text.ink));
    HPDF_Page_BeginText(page_);
    HPDF_Page_SetFontAndSize(page_, font, static_cast<float>(text.size.to_points()));
    HPDF_Page_MoveTextPos(page_, x(text.x), y(text.baseline));
    HPDF_Page_ShowText(page_, text.text.c_str());
    HPDF_Page_EndText(page_);
  }

  HPDF_Font font_of(Face face) {
    HPDF_Font& held = loaded_[static_cast<std::size_t>(face)];
    if (held == nullptr) {
      const std::string& path = fonts_.of(face).path;
      const char* name = HPDF_LoadTTFontFromFile(pdf_.get(), path.c_str(), HPDF_TRUE);
      pdf_.check(path);
      held = HPDF_GetFont(pdf_.get(), name, "UTF-8");
      pdf_.check(path);
    }
    return held;
  }

  Pdf& pdf_;
  const Fonts& fonts_;
  std::vector<PaintedPage> painted_;
  HPDF_Page page_ = nullptr;
  Micrometres height_ = 0;
  Micrometres dash_ = 0;
  std::array<HPDF_Font, 4> loaded_{};
  std::array<std::vector<bool>, 4> used_;  ///< by character
};

/// Puts files into the document from memory: the library only takes them from a disk, and then keeps their path.
void attach(Pdf& pdf, std::vector<Attachment> files) {
  if (files.empty()) return;
  // The keys of a name tree stand in order (ISO 32000-1, 7.9.6).
  std::sort(files.begin(), files.end(), [](const Attachment& a, const Attachment& b) { return a.name < b.name; });
  HPDF_MMgr memory = pdf.get()->mmgr;
  HPDF_Xref objects = pdf.get()->xref;
  const HPDF_NameTree tree = HPDF_NameTree_New(memory, objects);
  // The library's own `HPDF_NameTree_Add` loses objects where it has to sort.
  auto* const rows = static_cast<HPDF_Array>(HPDF_Dict_GetItem(tree, "Names", HPDF_OCLASS_ARRAY));
  pdf.check("attaching files");
  std::string before;
  for (const Attachment& file : files) {
    if (file.name.empty() || file.name == before) throw Fault{exit_status::our_bug, "two files inside a PDF have one name, or none"};
    before = file.name;
    const HPDF_Dict contents = HPDF_DictStream_New(memory, objects);
    const HPDF_Dict files_of = HPDF_Dict_New(memory);
    const HPDF_Dict specification = HPDF_Dict_New(memory);
    pdf.check("attaching " + file.name);
    contents->filter = HPDF_STREAM_FILTER_FLATE_DECODE;
    HPDF_Dict_AddName(contents, "Type", "EmbeddedFile");
    HPDF_Stream_Write(contents->stream, reinterpret_cast<const HPDF_BYTE*>(file.bytes.data()), static_cast<HPDF_UINT>(file.bytes.size()));
    HPDF_Xref_Add(objects, specification);
    HPDF_Dict_AddName(specification, "Type", "Filespec");
    HPDF_Dict_Add(specification, "F", HPDF_String_New(memory, file.name.c_str(), nullptr));
    HPDF_Dict_Add(specification, "EF", files_of);
    HPDF_Dict_Add(files_of, "F", contents);
    HPDF_Array_Add(rows, HPDF_String_New(memory, file.name.c_str(), nullptr));
    HPDF_Array_Add(rows, specification);
    pdf.check("attaching " + file.name);
  }
  const HPDF_NameDict names = HPDF_NameDict_New(memory, objects);
  pdf.check("attaching files");
  HPDF_NameDict_SetNameTree(names, HPDF_NAME_EMBEDDED_FILES, tree);
  HPDF_Catalog_SetNames(pdf.get()->catalog, names);
  pdf.check("attaching files");
}

std::optional<std::string> draw(const Pages& pages, const Fonts& fonts, const PdfInfo& info, int more_glyphs, bool may_fail) {
  Pdf pdf;
  HPDF_UseUTFEncodings(pdf.get());
  HPDF_SetCurrentEncoder(pdf.get(), "UTF-8");
  HPDF_SetCompressionMode(pdf.get(), HPDF_COMP_ALL);
  HPDF_SetInfoAttr(pdf.get(), HPDF_INFO_TITLE, info.title.c_str());
  if (!info.author.empty()) HPDF_SetInfoAttr(pdf.get(), HPDF_INFO_AUTHOR, info.author.c_str());
  HPDF_SetInfoAttr(pdf.get(), HPDF_INFO_CREATOR, "tierproof");
  if (info.moment) HPDF_SetInfoDateAttr(pdf.get(), HPDF_INFO_CREATION_DATE, date_of(*info.moment));
  if (!info.language.empty()) HPDF_Dict_Add(pdf.get()->catalog, "Lang", HPDF_String_New(pdf.get()->mmgr, info.language.c_str(), nullptr));
  pdf.get()->pdf_version = HPDF_VER_14;  // the first with a language and with files inside
  pdf.check("starting the PDF");
  Painter painter{pdf, fonts};
  for (const Page& page : pages.pages) painter.paint(page);
  painter.lead(pages);
  painter.write_character_maps();
  painter.keep_glyphs(more_glyphs);
  attach(pdf, info.attachments);
  return pdf.bytes(may_fail);
}

}  // namespace

std::string write_pdf(const Pages& pages, const Fonts& fonts, const PdfInfo& info) {
  constexpr int most = 40;
  // The library cuts a font in memory, block by block, and cannot go to the end of a table that fills its last block: error 0x1033 as it
  // saves (`HPDF_TTFontDef_SaveFontData` of 2.3.0, seen in a debugger). A glyph more makes the table another size.
  for (int more = 0;; ++more) {
    if (auto bytes = draw(pages, fonts, info, more, more < most)) return *std::move(bytes);
  }
}

}  // namespace tierproof
