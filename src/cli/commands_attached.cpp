#include <fmt/format.h>

#include "door.h"
#include "tierproof/app/attaching.h"
#include "tierproof/imports/file_type.h"

namespace tierproof::cli {
namespace {

std::string shown_by(const Evidence& evidence) { return evidence.shows.text.value_or("(erased)"); }

Json json_of(const Attached& attached) {
  const Evidence& evidence = attached.note->value;
  return Json{Json::Object{{"note", Json{static_cast<std::int64_t>(attached.note->sequence)}},
                           {"about", Json{evidence.about}},
                           {"of", Json{evidence.kind}},
                           {"of_note", evidence.note ? Json{*evidence.note} : Json{nullptr}},
                           {"shows", Json{shown_by(evidence)}},
                           {"media_type", Json{evidence.media_type}},
                           {"bytes", Json{evidence.file_bytes}},
                           {"file_sha256", Json{evidence.file_sha256}},
                           {"place", Json{attached.place}},
                           {"as_attached", Json{attached.wrong.empty()}},
                           {"wrong", Json{attached.wrong}}}};
}

constexpr const char* honest =
    "A file that is as it was attached was not altered since; that says nothing of whether what it shows is true.";

int print_attached(const Door& door, const Session& session, const std::vector<Attached>& found) {
  const bool demo = session.kitchen().demo;
  bool all_whole = true;
  for (const auto& one : found) all_whole = all_whole && (one.wrong.empty() || one.erased);
  const int exit = all_whole ? exit_status::done : exit_status::found_wanting;
  if (door.json) {
    Json::Array list;
    for (const auto& one : found) list.push_back(json_of(one));
    door.print(Json{Json::Object{{"schema", Json{"tierproof/attached/1"}}, {"attached", Json{std::move(list)}}}}, demo);
    return exit;
  }
  Door::mark_demo(demo);
  if (found.empty()) {
    Door::say("nothing is attached");
    return exit;
  }
  for (const auto& one : found) {
    const Evidence& evidence = one.note->value;
    Door::say(fmt::format("{:>5}  {}{}: {} ({}, {} bytes)", one.note->sequence, evidence.about,
                          evidence.note ? fmt::format(" (note {})", *evidence.note) : "", shown_by(evidence),
                          words_of_media_type(evidence.media_type), evidence.file_bytes));
    Door::say(fmt::format("       {}: {}", one.place, one.wrong.empty() ? "as it was attached" : one.wrong));
  }
  Door::say(honest);
  return exit;
}

}  // namespace

void attach_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<Attaching>();
  app.add_option("about", options->about, "what it belongs to: its name, such as pack-3, or the number of a note")->required();
  app.add_option("file", options->files, "a picture (JPEG, PNG, WebP) or a PDF, of up to 10 MB; several, if they show one thing")
      ->required();
  app.add_option("--shows", options->shows, "what they show, in a few words; kept apart, so that it can be erased")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.record([&](Session& session) { return attach_files(session, *options); },
                      [](const Session& session, const Booked& booked) {
                        const auto found = attached_to(session, std::to_string(booked.sequences.front()));
                        if (!found) return;
                        const auto folder = found->front().place.substr(0, found->front().place.rfind('/'));
                        Door::say(fmt::format("Kept in {}: copy that folder too whenever you copy the records.", folder));
                      });
    };
  });
}

void attached_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<std::pair<std::string, std::string>>();
  app.add_option("what", options->first, "a name, such as pack-3, or the number of a note; without it, everything");
  app.add_option("--to", options->second, "a new file for what the note of that number attached");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.read([&](Session& session) {
        const auto& [what, to] = *options;
        if (to.empty()) {
          const auto found = attached_to(session, what);
          return found ? print_attached(d, session, *found) : d.refuse(found.error());
        }
        const auto saved = save_attached(session, what, to);
        if (!saved) return d.refuse(saved.error());
        const auto words = words_of_media_type(saved->note->value.media_type);
        if (d.json) {
          d.print(Json{Json::Object{{"schema", Json{"tierproof/attached-file/1"}}, {"file", Json{to}}, {"attached", json_of(*saved)}}},
                  session.kitchen().demo);
        } else {
          Door::mark_demo(session.kitchen().demo);
          Door::say(fmt::format("{} is what note {} attached, as it was then: a {}", to, saved->note->sequence, words));
        }
        return exit_status::done;
      });
    };
  });
}

}  // namespace tierproof::cli
