#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <charconv>
#include <filesystem>

#include "door.h"
#include "placing.h"
#include "saving.h"
#include "tierproof/app/issuing.h"
#include "tierproof/app/judging.h"
#include "tierproof/app/ordering.h"

namespace tierproof::cli {
namespace {

/// Whether all that is printed under two findings is the same, so that it is printed once under both.
bool same_to_do(const Finding& a, const Finding& b) {
  return a.control == b.control && a.verdict == b.verdict && a.stop == b.stop && a.limit == b.limit && a.evidence == b.evidence &&
         a.paths == b.paths && a.remedy == b.remedy;
}

int print_findings(const Door& door, const Session& session, const Judgement& judged) {
  const bool good = all_shown(judged.findings);
  const bool demo = session.kitchen().demo;
  if (door.json) {
    Json::Array findings;
    for (const auto& finding : judged.findings) {
      Json one = json_of(finding);
      one["plan"] = plan_json(judged.plan.words, judged.plan.note, finding.control);
      findings.push_back(std::move(one));
    }
    door.print(Json{Json::Object{{"schema", Json{"tierproof/check/1"}},
                                 {"cake", Json{judged.cake.text()}},
                                 {"all_shown", Json{good}},
                                 {"findings", Json{std::move(findings)}},
                                 {"plan", plan_json(judged.plan.words, judged.plan.note, "")},
                                 {"head", Json{format_head(session.head())}}}},
               demo);
    return good ? exit_status::done : exit_status::found_wanting;
  }
  Door::say(fmt::format("{}{} {}, from {} notes", demo ? "DEMO  " : "", judged.cake.text(), format_moment(judged.at.at, judged.at.offset),
                        session.head().size));
  std::string sources;
  for (std::size_t i = 0; i < judged.findings.size(); ++i) {
    const auto& finding = judged.findings[i];
    const auto* row = plan_row(session, judged.plan, finding.control);
    Door::say(fmt::format("{:30}{}: {}", words_of(finding.verdict), row == nullptr ? finding.control : row->words, finding.message));
    for (const auto& advice : finding.advice) Door::say(fmt::format("{:30}advice: {}", "", advice));
    if (finding.verdict == Verdict::shown) continue;
    if (!finding.source.empty()) sources += (sources.empty() ? "" : ", ") + finding.source;
    if (i + 1 < judged.findings.size() && same_to_do(finding, judged.findings[i + 1])) continue;
    if (!finding.limit.empty()) Door::say(fmt::format("{:30}must be: {}", "", finding.limit));
    if (!finding.evidence.empty()) Door::say(fmt::format("{:30}recorded: {}", "", finding.evidence));
    for (const auto& path : finding.paths) Door::say(fmt::format("{:30}- {}", "", path));
    Door::say(
        fmt::format("{:30}{}{}", "", finding.stop == Stop::no_override ? "NOBODY CAN RELEASE AGAINST THIS: " : "to do: ", finding.remedy));
    Door::say(fmt::format("{:30}{}", "", sources.empty() ? finding.control : finding.control + " " + sources));
    sources.clear();
  }
  std::vector<std::string> rows;
  for (const auto& finding : judged.findings) {
    if (rows.empty() || rows.back() != finding.control) rows.push_back(finding.control);
  }
  Door::say(fmt::format("Rows of the hazard plan ({}): {}", judged.plan.words, fmt::join(rows, ", ")));
  Door::say("What the records show, not that the cake is safe. Local law and the advice of the food authority come first.");
  return good ? exit_status::done : exit_status::found_wanting;
}

int print_decision(const Door& door, const Session& session, const Decision& decision) {
  if (decision.booked) return door.print_booked(session, *decision.booked);
  door.refuse(decision.stopped);
  return exit_status::found_wanting;
}

}  // namespace

void make_folder(const std::string& folder) {
  std::error_code error;
  std::filesystem::create_directories(folder, error);
  if (!error && ::access(folder.c_str(), W_OK | X_OK) != 0) error = {errno, std::generic_category()};
  if (error)
    throw Fault{exit_status::cannot_create,
                fmt::format("{}: no paper can be put there ({}); name another folder with --into", folder, error.message())};
}

int save_papers(const Door& door, const Session& session, const Issued& issued, const std::string& folder, const std::string& name) {
  Json::Array files;
  for (std::size_t i = 0; i < issued.papers.size(); ++i) {
    const auto& paper = issued.papers[i];
    const std::string box = paper.box > 1 ? fmt::format("-box-{}", paper.box) : "";
    const std::string path = fmt::format("{}/{}{}.{}", folder, name, box, paper.form);
    try {
      save_file(path, paper.bytes);
    } catch (const Fault& fault) {
      throw Fault{fault.exit_status(),
                  fmt::format("{}\nthe paper is kept: tierproof paper {} --to FILE", fault.what(), issued.booked.sequences.at(i))};
    }
    files.emplace_back(path);
    if (!door.json)
      Door::say(fmt::format("{}{} kept as note {}", session.kitchen().demo ? "DEMO  " : "", path, issued.booked.sequences.at(i)));
  }
  if (door.json) {
    Json told{Json::Object{
        {"schema", Json{"tierproof/issued/1"}}, {"files", Json{std::move(files)}}, {"head", Json{format_head(issued.booked.head)}}}};
    Json::Array remarks;
    for (const std::string& remark : issued.remarks) remarks.emplace_back(remark);
    if (!remarks.empty()) told["remarks"] = Json{std::move(remarks)};
    door.print(told, session.kitchen().demo);
  } else {
    for (const std::string& remark : issued.remarks) Door::say(remark);
  }
  return exit_status::done;
}

void tier_options(CLI::App& app, Door& door) {
  struct Options {
    Tiering tiering;
    std::vector<std::string> parts, inedible;
  };
  auto options = std::make_shared<Options>();
  app.add_option("cake", options->tiering.cake, "its number, cake-1")->required();
  app.add_option("tier", options->tiering.tier, "which tier: bottom, middle, top")->required();
  app.add_option("--part", options->parts,
                 "a batch and its mass in this tier, batch-2=900g; batch-2 alone: all that is left of it, not weighed")
      ->required();
  app.add_option("--not-food", options->inedible, "parts to remove before eating, dowel=4");
  app.add_option("--kit", options->tiering.kit, "what it was put together with, such as turntable and bag; one or more");
  app.add_flag("--estimated", options->tiering.estimated, "the masses were not weighed");
  app.add_option("--at", options->tiering.at, "when it was built; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      Tiering tiering = options->tiering;
      for (const auto& text : options->parts) {
        if (text.find('=') == std::string::npos) {
          tiering.parts.emplace_back(text, std::nullopt);
          continue;
        }
        const auto [batch, mass] = pair_of("--part", text, "batch-2=900g");
        tiering.parts.emplace_back(batch, mass_of("--part", mass));
      }
      for (const auto& text : options->inedible) {
        const auto [what, count] = pair_of("--not-food", text, "dowel=4");
        std::int64_t number = 0;
        const auto [stop, error] = std::from_chars(count.data(), count.data() + count.size(), number);
        if (error != std::errc{} || stop != count.data() + count.size() || number < 1 || number > 1000)
          bad_option("--not-food", text, "write what and how many, dowel=4");
        tiering.inedible.emplace_back(what, number);
      }
      return d.record([&](Session& session) { return build_tier(session, tiering); });
    };
  });
}

void check_options(CLI::App& app, Door& door) {
  auto options = std::make_shared<std::pair<std::string, std::string>>();
  app.add_option("cake", options->first, "its number, cake-1")->required();
  app.add_option("--at", options->second, "judged as of this moment; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.read([&](Session& session) {
        const auto at = session.moment(options->second, "--at");
        if (!at) return d.refuse(at.error());
        const auto judged = judge_cake(session, CakeId{options->first}, *at);
        return judged ? print_findings(d, session, *judged) : d.refuse(judged.error());
      });
    };
  });
}

void release_options(CLI::App& app, Door& door) {
  struct Options {
    std::string cake;
    std::vector<std::string> against;
  };
  auto options = std::make_shared<Options>();
  app.add_option("cake", options->cake, "its number, cake-1")->required();
  app.add_option("--against", options->against, "a finding that it is released against, and your reason: cold-hold=\"why\"");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      std::vector<AgainstReason> against;
      for (const auto& text : options->against) {
        auto [control, reason] = pair_of("--against", text, "cold-hold=\"why\"");
        against.push_back({std::move(control), std::move(reason)});
      }
      return d.write<Decision>([&](Session& session) { return release_cake(session, options->cake, against); },
                               [&](Session& session, const Decision& decision) { return print_decision(d, session, decision); });
    };
  });
}

void hand_over_options(CLI::App& app, Door& door) {
  struct Options {
    HandingOver handing;
    std::string degrees;
  };
  auto options = std::make_shared<Options>();
  app.add_option("cake", options->handing.cake, "its number, cake-1")->required();
  app.add_option("--to", options->handing.to, "who took it; kept apart, so that it can be erased")->required();
  app.add_option("--told", options->handing.told, "what was told, in the words told")->required();
  app.add_option("--temperature", options->degrees, "how warm the cake was, 5.2C");
  app.add_option("--at", options->handing.at, "when; else now");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      HandingOver handing = options->handing;
      handing.degrees = maybe_degrees("--temperature", options->degrees);
      return d.write<Decision>([&](Session& session) { return hand_over_cake(session, handing); },
                               [&](Session& session, const Decision& decision) {
                                 const int exit = print_decision(d, session, decision);
                                 for (const auto& words : decision.egg_told) {
                                   if (!d.json) Door::say(fmt::format("  tell of the egg: {}", words));
                                 }
                                 return exit;
                               });
    };
  });
}

void label_options(CLI::App& app, Door& door) {
  struct Options {
    LabelRequest request;
    PlacingTexts placing;
    std::string folder = ".";
  };
  auto options = std::make_shared<Options>();
  app.add_option("cake", options->request.cake, "its number, cake-1")->required();
  app.add_option("--stock", options->request.stock, "label stock, a name in reports/stocks")->required();
  auto* box = app.add_option("--box", options->request.box, "which box")->check(whole_number(1, 100));
  app.add_flag("--every-box", options->request.every_box, "the labels of all its boxes, each a paper of its own")->excludes(box);
  placing_options(app, options->placing);
  app.add_option("--into", options->folder, "folder for the PDF, PNG and JSON");
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      options->request.placing = placing_of(options->placing);
      make_folder(options->folder);
      return d.write<Issued>([&](Session& session) { return issue_label(session, options->request, d.data()); },
                             [&](Session& session, const Issued& issued) {
                               return save_papers(d, session, issued, options->folder, options->request.cake + "-label");
                             });
    };
  });
}

namespace {

/// A paper of one cake on A4.
void sheet_of_cake_options(CLI::App& app, Door& door, const std::string& name,
                           Result<Issued> (*issue)(Session&, const std::string&, const DataRoot&)) {
  auto options = std::make_shared<std::pair<std::string, std::string>>("", ".");
  app.add_option("cake", options->first, "its number, cake-1")->required();
  app.add_option("--into", options->second, "folder for the PDF, a picture of page one, and JSON");
  app.callback([options, name, issue, &door] {
    door.action = [options, name, issue](Door& d) {
      make_folder(options->second);
      return d.write<Issued>([&](Session& session) { return issue(session, options->first, d.data()); },
                             [&](Session& session, const Issued& issued) {
                               return save_papers(d, session, issued, options->second, options->first + "-" + name);
                             });
    };
  });
}

}  // namespace

void record_options(CLI::App& app, Door& door) { sheet_of_cake_options(app, door, "record", issue_record); }
void allergen_sheet_options(CLI::App& app, Door& door) { sheet_of_cake_options(app, door, "allergens", issue_allergen_sheet); }

void paper_options(CLI::App& app, Door& door) {
  struct Options {
    std::uint64_t note = 0;
    std::string to;
  };
  auto options = std::make_shared<Options>();
  app.add_option("note", options->note, "number of the note that issued it")->required()->check(note_number());
  app.add_option("--to", options->to, "file to write")->required();
  app.callback([options, &door] {
    door.action = [options](Door& d) {
      return d.read([&](Session& session) {
        const auto paper = reprint(session, options->note);
        if (!paper) return d.refuse(paper.error());
        save_file(options->to, paper->bytes);
        if (d.json) {
          d.print(Json{Json::Object{{"schema", Json{"tierproof/paper/1"}}, {"file", Json{options->to}}, {"form", Json{paper->form}}}},
                  session.kitchen().demo);
        } else {
          Door::mark_demo(session.kitchen().demo);
          Door::say(fmt::format("{} is the paper of note {}, as it was issued", options->to, options->note));
        }
        return exit_status::done;
      });
    };
  });
}

}  // namespace tierproof::cli
