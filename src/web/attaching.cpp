// Pictures and papers: what is attached to a pack, batch, cake, thermometer, trouble or note, shown, and one more attached to it.
#include "tierproof/app/attaching.h"

#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>

#include "deeds.h"
#include "parts.h"
#include "tierproof/imports/file_type.h"
#include "tierproof/log/hash.h"

namespace tierproof::web {
namespace {

/// A file of what was sent, for as long as it is looked at: nobody else can read it, and it is gone afterwards whatever happened.
class PassingFile {
 public:
  /// @throws Fault 74
  explicit PassingFile(const std::string& bytes) : path_{(std::filesystem::temp_directory_path() / "tierproof-sent-XXXXXX").string()} {
    const int file = ::mkstemp(path_.data());  // for its owner alone
    if (file < 0) throw Fault{exit_status::io, fmt::format("{}: what was sent cannot be written there", path_)};
    std::size_t written = 0;
    while (written < bytes.size()) {
      const auto count = ::write(file, bytes.data() + written, bytes.size() - written);
      if (count <= 0) break;
      written += static_cast<std::size_t>(count);
    }
    const bool closed = ::close(file) == 0;
    if (written == bytes.size() && closed) return;
    ::unlink(path_.c_str());
    throw Fault{exit_status::io, fmt::format("{}: what was sent cannot be written there", path_)};
  }
  ~PassingFile() { ::unlink(path_.c_str()); }
  PassingFile(const PassingFile&) = delete;
  PassingFile& operator=(const PassingFile&) = delete;
  const std::string& path() const { return path_; }
  std::string name() const { return std::filesystem::path{path_}.filename().string(); }

 private:
  std::string path_;
};

std::string page_of(const std::string& about) { return "/drawer/attached/" + url_part(about); }

/// Whether anything is recorded under a name, or as a note of this number.
bool on_record(const Session& session, const std::string& about) {
  const bool number = !about.empty() && std::all_of(about.begin(), about.end(), [](char c) { return c >= '0' && c <= '9'; });
  return std::any_of(session.notes().begin(), session.notes().end(),
                     [&](const Note& note) { return note.subject == about || (number && std::to_string(note.sequence) == about); });
}

Html attached_card(Visit& visit, const Attached& one) {
  const Evidence& evidence = one.note->value;
  const std::string shows = evidence.shows.text.value_or("(erased)");
  const std::string at = fmt::format("/drawer/file/{}", one.note->sequence);
  Html inside;
  if (!one.wrong.empty()) {
    inside += el("p", {{"class", "stop"}}, fmt::format("The file {}.", one.wrong));
  } else if (evidence.media_type.starts_with("image/")) {
    inside += el("a", {{"class", "picture"}, {"href", at}}, el("img", {{"src", at}, {"alt", shows}, {"loading", "lazy"}}));
  } else {
    inside += el("p", {}, link_button(at, "Open the PDF"));
  }
  const std::string of = evidence.note ? fmt::format(", of note {}", *evidence.note) : "";
  inside +=
      el("h3", {}, shows) +
      el("p", {}, fmt::format("{}, by {}{}", moment_in_words(visit.records(), one.note->happened), one.note->person.text(), of)) +
      el("p", {}, el("a", {{"href", fmt::format("/drawer/note/{}", one.note->sequence)}}, fmt::format("note {}", one.note->sequence)));
  return el("li", {{"class", "card"}}, inside);
}

WebAnswer attached_page(Visit& visit) {
  if (visit.request.method == "POST") visit.part = visit.typed("about");
  const std::string title = "Pictures and papers";
  if (!on_record(visit.records(), visit.part))
    return not_there(visit, "Nothing of this name is on record, so nothing can be attached to it.");
  const bool note = std::all_of(visit.part.begin(), visit.part.end(), [](char c) { return c >= '0' && c <= '9'; });
  Html main = el("h1", {}, fmt::format("{}: {}{}", title, note ? "note " : "", visit.part));
  const auto found = attached_to(visit.records(), visit.part);
  Html cards;
  if (found) {
    for (auto one = found->rbegin(); one != found->rend(); ++one) cards += attached_card(visit, *one);
  }
  main += cards.empty() ? el("p", {}, "Nothing is attached yet.") : el("ul", {{"class", "cards"}}, cards);
  if (!cards.empty())
    main += el("p", {{"class", "hint"}},
               "A file that is as it was attached was not altered since. That says nothing of whether what it shows is true.");
  if (visit.may_record())
    main += el("h2", {}, "Attach one more") +
            FormView{visit, path_of_files, "attach"}
                .hidden("about", visit.part)
                .text("shows", "What it shows", {.hint = "Kept apart, so that it can be erased.", .needed = true})
                .file("file", "The picture or PDF", "image/jpeg,image/png,image/webp,application/pdf",
                      {.hint = fmt::format("JPEG, PNG, WebP or PDF, up to {} MB", largest_evidence / 1'000'000), .needed = true})
                .finish("Attach it");
  return page(visit, fmt::format("{}: {}", title, visit.part), "drawer", main);
}

std::optional<Booked> attach(Visit& visit) {
  if (!visit.request.file || visit.request.file->field != "file")
    visit.refuse("file", "is missing", "take a picture, or choose a picture or PDF");
  const std::string shows = visit.typed("shows");
  if (shows.empty()) visit.refuse("shows", "is missing", "write what it shows");
  if (!visit.wrong.empty()) return std::nullopt;
  const PassingFile sent{visit.request.file->bytes};
  auto booked = visit.record([&](Session& session) { return attach_files(session, {visit.typed("about"), {sent.path()}, shows}); });
  for (auto& refusal : visit.wrong) {  // of the file that was sent, whose name here means nothing to anybody
    if (refusal.file.ends_with(sent.name())) refusal.file.clear(), refusal.field = "file";
  }
  return booked;
}

WebAnswer gone_file(Visit& visit, int status, const std::string& words) {
  WebAnswer answer = not_there(visit, words);
  answer.status = status;
  return answer;
}

/// The file itself. A picture is shown; a PDF is saved, since a browser shows none without letting it run. Neither can load or run
/// anything.
WebAnswer attached_file(Visit& visit) {
  const auto& all = visit.records().state().evidence;
  const auto evidence =
      std::find_if(all.begin(), all.end(), [&](const Recorded<Evidence>& one) { return std::to_string(one.sequence) == visit.part; });
  const auto found = evidence == all.end() ? Result<std::vector<Attached>>{Refusal{}} : attached_to(visit.records(), visit.part);
  if (!found) return gone_file(visit, 404, "No note of this number attached a file, or it was taken back since.");
  const auto one =
      std::find_if(found->begin(), found->end(), [&](const Attached& each) { return each.note->sequence == evidence->sequence; });
  if (one == found->end()) return gone_file(visit, 404, "No note of this number attached a file.");
  if (!one->wrong.empty()) return gone_file(visit, one->erased ? 410 : 404, fmt::format("The file of note {} {}.", visit.part, one->wrong));
  std::string bytes = load_file(one->place);
  if (to_hex(sha256(bytes)) != evidence->value.file_sha256)
    return gone_file(visit, 404, fmt::format("The file of note {} is not as it was attached.", visit.part));
  const std::string& type = evidence->value.media_type;
  WebAnswer answer{200, type, std::move(bytes), {}};
  // The styles are those of the page that a browser itself makes around a picture.
  answer.headers.emplace_back("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; sandbox; frame-ancestors 'none'");
  answer.headers.emplace_back("Content-Disposition",
                              fmt::format("{}; filename=\"note-{}.{}\"", type.starts_with("image/") ? "inline" : "attachment", visit.part,
                                          ending_of_media_type(type)));
  return answer;
}

}  // namespace

std::vector<Route> attaching_routes() {
  return {{"GET", "/drawer/attached/*", For::reader, attached_page}, {"GET", "/drawer/file/*", For::reader, attached_file}};
}

std::vector<Deed> attaching_deeds() {
  return {{.path = path_of_files,
           .who = For::recorder,
           .what = "A picture or PDF is attached to what is recorded, as multipart/form-data.",
           .fields = {{"about", "a name, pack-3, or the number of a note", true}, {"shows", "what it shows", true}},
           .act = attach,
           .then = [](const Visit& visit, const Booked&) { return page_of(visit.typed("about")); },
           .shown_by = attached_page,
           .takes_file = true}};
}

}  // namespace tierproof::web
