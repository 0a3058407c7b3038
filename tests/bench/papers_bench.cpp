// How far drawing papers is from a floor measured in the same run: the bare PDF library, with the same cut fonts, putting the same marks in
// the same places. `ratio` is the time over the floor's; `kb` is the size of the PDF.
// Run: build-test/papers_bench
#include <benchmark/benchmark.h>
#include <hpdf.h>

#include <array>
#include <chrono>
#include <cstdlib>
#include <string>
#include <vector>

#include "papers/sample.h"
#include "tierproof/papers/cake_record.h"
#include "tierproof/papers/label.h"
#include "tierproof/papers/pdf.h"

namespace {
using namespace tierproof;
using Clock = std::chrono::steady_clock;

float points(Micrometres length) { return static_cast<float>(static_cast<double>(length) * 72.0 / 25400.0); }

void paint(HPDF_Page page, const Page& laid, const std::array<HPDF_Font, 4>& fonts) {
  HPDF_Page_SetWidth(page, points(laid.width));
  HPDF_Page_SetHeight(page, points(laid.height));
  const auto down = [&](Micrometres y) { return points(laid.height - y); };
  for (const Fill& fill : laid.marks.fills)
    HPDF_Page_Rectangle(page, points(fill.x), down(fill.y + fill.height), points(fill.width), points(fill.height));
  if (!laid.marks.fills.empty()) HPDF_Page_Fill(page);
  for (const Stroke& stroke : laid.marks.strokes) {
    HPDF_Page_SetLineWidth(page, points(stroke.width));
    HPDF_Page_SetGrayStroke(page, static_cast<float>(stroke.ink) / 255.0F);
    HPDF_Page_MoveTo(page, points(stroke.points.front().x), down(stroke.points.front().y));
    for (const Point& point : stroke.points) HPDF_Page_LineTo(page, points(point.x), down(point.y));
    HPDF_Page_Stroke(page);
  }
  for (const Dot& dot : laid.marks.dots) {
    HPDF_Page_Circle(page, points(dot.centre.x), down(dot.centre.y), points(dot.radius));
    HPDF_Page_Fill(page);
  }
  for (const PlacedText& text : laid.marks.texts) {
    HPDF_Page_BeginText(page);
    HPDF_Page_SetFontAndSize(page, fonts[static_cast<std::size_t>(text.face)], static_cast<float>(text.size.to_points()));
    HPDF_Page_MoveTextPos(page, points(text.x), down(text.baseline));
    HPDF_Page_ShowText(page, text.text.c_str());
    HPDF_Page_EndText(page);
  }
}

/// The pages by the bare library: only the faces that are used, bytes taken out.
std::size_t bare(const Pages& pages) {
  const HPDF_Doc document = HPDF_New(nullptr, nullptr);
  HPDF_UseUTFEncodings(document);
  HPDF_SetCurrentEncoder(document, "UTF-8");
  HPDF_SetCompressionMode(document, HPDF_COMP_ALL);
  std::array<HPDF_Font, 4> fonts{};
  for (const Page& page : pages.pages) {
    for (const PlacedText& text : page.marks.texts) {
      HPDF_Font& font = fonts[static_cast<std::size_t>(text.face)];
      if (font == nullptr)
        font = HPDF_GetFont(document, HPDF_LoadTTFontFromFile(document, testdata::fonts().of(text.face).path.c_str(), HPDF_TRUE), "UTF-8");
    }
  }
  for (const Page& page : pages.pages) paint(HPDF_AddPage(document), page, fonts);
  HPDF_SaveToStream(document);
  HPDF_UINT32 size = HPDF_GetStreamSize(document);
  std::string bytes(size, '\0');
  HPDF_ReadFromStream(document, reinterpret_cast<HPDF_BYTE*>(bytes.data()), &size);
  HPDF_Free(document);
  if (bytes.size() < 1000) std::abort();
  return bytes.size();
}

double seconds_since(Clock::time_point start) { return std::chrono::duration<double>(Clock::now() - start).count(); }

/// The best of some runs.
template <class Work>
double seconds_of(int runs, Work work) {
  double best = 1e9;
  for (int i = 0; i < runs; ++i) {
    const auto start = Clock::now();
    work();
    best = std::min(best, seconds_since(start));
  }
  return best;
}

void compare(benchmark::State& state, double floor, std::size_t bytes) {
  state.counters["floor_ms"] = floor * 1000;
  state.counters["kb"] = static_cast<double>(bytes) / 1024.0;
}

/// Runs `work`, which gives the bytes of a PDF, and tells the ratio of its best time to the floor.
template <class Work>
void over(benchmark::State& state, double floor, Work work) {
  double best = 1e9;
  std::size_t bytes = 0;
  for (auto _ : state) {
    const auto start = Clock::now();
    bytes = work();
    best = std::min(best, seconds_since(start));
  }
  compare(state, floor, bytes);
  state.counters["ratio"] = best / floor;
}

Pages a_label_laid_out(const std::string& name = "") {
  LabelContent content = testdata::a_label();
  if (!name.empty()) content.name = name;
  auto pages = lay_out_label(content, testdata::a_sheet_label(), testdata::fonts());
  if (!pages) std::abort();
  return std::move(*pages);
}

const PdfInfo info{"Label of a benchmark", Instant{std::chrono::seconds{1'900'000'000}}, {}, {}, {}};

void OneLabelPainted(benchmark::State& state) {
  const Pages pages = a_label_laid_out();
  const double floor = seconds_of(20, [&] { bare(pages); });
  over(state, floor, [&] { return write_pdf(pages, testdata::fonts(), info).size(); });
}
BENCHMARK(OneLabelPainted)->Iterations(20)->Unit(benchmark::kMillisecond);

void OneLabelLaidOutAndPainted(benchmark::State& state) {
  const Pages pages = a_label_laid_out();
  const double floor = seconds_of(20, [&] { bare(pages); });
  over(state, floor, [&] { return write_pdf(a_label_laid_out(), testdata::fonts(), info).size(); });
}
BENCHMARK(OneLabelLaidOutAndPainted)->Iterations(20)->Unit(benchmark::kMillisecond);

constexpr int many_labels = 1000;

/// Labels with names of their own in one document.
Pages many_labels_laid_out() {
  Pages pages;
  for (int i = 0; i < many_labels; ++i) pages.pages.push_back(a_label_laid_out("Almond sponge " + std::to_string(i)).pages.front());
  return pages;
}

/// A thousand labels over a thousand pages of the bare library.
void AThousandLabelsPainted(benchmark::State& state) {
  const Pages pages = many_labels_laid_out();
  const double floor = seconds_of(3, [&] { bare(pages); });
  over(state, floor, [&] { return write_pdf(pages, testdata::fonts(), info).size(); });
}
BENCHMARK(AThousandLabelsPainted)->Iterations(3)->Unit(benchmark::kMillisecond);

void AThousandLabelsLaidOutAndPainted(benchmark::State& state) {
  const Pages laid = many_labels_laid_out();
  const double floor = seconds_of(3, [&] { bare(laid); });
  over(state, floor, [&] { return write_pdf(many_labels_laid_out(), testdata::fonts(), info).size(); });
}
BENCHMARK(AThousandLabelsLaidOutAndPainted)->Iterations(3)->Unit(benchmark::kMillisecond);

/// A record of about ten pages with five charts.
CakeRecordContent a_long_record() {
  CakeRecordContent record = testdata::a_record();
  record.charts.assign(5, testdata::a_chart_with_a_gap());
  const auto longer = [](auto& rows, std::size_t count) {
    if (rows.empty()) std::abort();
    for (std::size_t i = 0; rows.size() < count; ++i) rows.push_back(rows[i]);
  };
  longer(record.packs, 60);
  longer(record.batches, 30);
  longer(record.entries, 110);
  longer(record.sources, 60);
  return record;
}

void ALongRecordLaidOutAndPainted(benchmark::State& state) {
  const CakeRecordContent record = a_long_record();
  const auto lay = [&] {
    auto pages = lay_out_cake_record(record, testdata::fonts());
    if (!pages) std::abort();
    return std::move(*pages);
  };
  const Pages laid = lay();
  const double floor = seconds_of(10, [&] { bare(laid); });
  over(state, floor, [&] { return write_pdf(lay(), testdata::fonts(), info).size(); });
  state.counters["pages"] = static_cast<double>(laid.pages.size());
}
BENCHMARK(ALongRecordLaidOutAndPainted)->Iterations(10)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
