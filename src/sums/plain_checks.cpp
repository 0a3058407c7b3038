#include "tierproof/sums/plain_checks.h"

#include <fmt/format.h>

#include <algorithm>

namespace tierproof {
namespace {

Finding finding_of(std::string control, std::string subject, Verdict verdict, Stop stop, std::string message, std::string remedy) {
  Finding finding;
  finding.control = std::move(control);
  finding.subject = std::move(subject);
  finding.verdict = verdict;
  finding.stop = stop;
  finding.message = std::move(message);
  finding.remedy = std::move(remedy);
  return finding;
}

}  // namespace

std::vector<Finding> judge_withdrawn(const std::string& cake, const std::vector<std::string>& withdrawn, std::size_t packs) {
  if (withdrawn.empty()) {
    return {finding_of("lot-withdrawn", cake, Verdict::shown, Stop::none,
                       fmt::format("none of its {} packs is recorded as withdrawn", packs), "")};
  }
  std::vector<Finding> findings;
  for (const auto& pack : withdrawn) {
    findings.push_back(finding_of("lot-withdrawn", cake, Verdict::not_met, Stop::no_override,
                                  fmt::format("{} was withdrawn and is in this cake", pack),
                                  "do not hand over; keep it apart and follow what the supplier and the authority say"));
    findings.back().limit = "no withdrawn pack in it";
  }
  return findings;
}

Finding judge_packs_not_known(const std::string& cake) {
  return finding_of("lot-withdrawn", cake, Verdict::not_shown, Stop::no_override,
                    "the records do not say which packs are in this cake, so nobody can tell whether one was withdrawn",
                    "record its tiers, and anew what was voided");
}

Finding judge_raw_egg_unsaid(const std::string& batch, const std::string& pack, const std::string& egg) {
  return finding_of(
      "egg-heat", batch, Verdict::not_shown, Stop::needs_person,
      fmt::format("{} is shell egg, but by its recipe the egg is \"{}\": nothing shows how it was made fit to eat", pack, egg),
      "correct what is wrong, the recipe or the pack that was used, or remake it");
}

Finding judge_pack_read_again(const std::string& lot, const std::string& pack, Date checked, std::uint64_t note, std::uint64_t received) {
  return finding_of("allergens-known", lot, Verdict::not_shown, Stop::no_override,
                    fmt::format("what {} says was read again on {}, before it came, and recorded as note {} after it was received", pack,
                                format_date_long(checked), note),
                    fmt::format("correct note {} so that the pack stands under the reading that is right", received));
}

std::optional<Finding> judge_pack_used(const std::string& pack, const std::string& name, const std::string& batch, Date used,
                                       std::optional<Date> use_by) {
  if (!use_by || *use_by >= used) return std::nullopt;
  Finding finding = finding_of("use-by", pack, Verdict::not_met, Stop::no_override,
                               fmt::format("{} ({}) went into {} on {}, after its use-by of {}", pack, name, batch, format_date_long(used),
                                           format_date_long(*use_by)),
                               "do not hand over; remake the part with a pack that is in date");
  finding.limit = "used by " + format_date_long(*use_by);
  return finding;
}

std::optional<Finding> judge_shell_egg_used(const std::string& pack, const std::string& name, const std::string& batch, Date used,
                                            std::optional<Date> best_before) {
  if (!best_before || *best_before >= used) return std::nullopt;
  Finding finding =
      finding_of("use-by", pack, Verdict::not_shown, Stop::needs_person,
                 fmt::format("{} ({}), shell eggs, went into {} on {}, after their best-before of {}", pack, name, batch,
                             format_date_long(used), format_date_long(*best_before)),
                 "remake the part with eggs that are in date, or ask your food authority whether it was cooked through enough");
  finding.limit = "best before " + format_date_long(*best_before);
  return finding;
}

Finding judge_inedible(const std::string& cake, const std::vector<std::string>& lines) {
  return finding_of("inedible-parts", cake, Verdict::shown, Stop::none,
                    lines.empty() ? "no part that is not food is recorded"
                                  : fmt::format("the label tells to remove {} before eating", fmt::join(lines, ", ")),
                    "");
}

Finding judge_particulars(const std::string& cake, const std::optional<RouteTerm>& route, const std::vector<std::string>& printed) {
  if (!route) {
    return finding_of("how-sold", cake, Verdict::not_shown, Stop::needs_person,
                      "the rules in force do not say what this way of selling needs", "ask your food authority, and record the answer");
  }
  std::vector<std::string> missing;
  for (const auto& particular : route->on_pack) {
    if (std::find(printed.begin(), printed.end(), particular) == printed.end()) missing.push_back(particular);
  }
  Finding finding;
  if (!missing.empty()) {
    finding = finding_of("how-sold", cake, Verdict::not_shown, Stop::needs_person,
                         fmt::format("the pack must also carry {}, which the label does not print", fmt::join(missing, ", ")),
                         "add them to the pack by hand before it goes to the other business");
  } else {
    finding = finding_of("how-sold", cake, Verdict::shown, Stop::none,
                         route->on_pack.empty() ? "nothing must stand on the pack; what must be told is on the record"
                                                : fmt::format("the label carries {}", fmt::join(route->on_pack, ", ")),
                         "");
  }
  finding.limit = route->words;
  finding.source = cite(route->cited);
  return finding;
}

std::optional<Finding> judge_labels_issued(const std::string& cake, const std::vector<std::uint64_t>& changed) {
  if (changed.empty()) return std::nullopt;
  return finding_of(
      "mixed-records", cake, Verdict::not_shown, Stop::needs_person,
      fmt::format("the records changed since the label of note {} was issued: it no longer tells what they say", fmt::join(changed, ", ")),
      "print the label again and destroy the old one");
}

std::optional<Finding> judge_labels_void(const std::string& cake, const std::vector<std::uint64_t>& labels) {
  if (labels.empty()) return std::nullopt;
  return finding_of("mixed-records", cake, Verdict::not_shown, Stop::needs_person,
                    fmt::format("the label of note {} was printed before the answer to the allergy question changed: it is void",
                                fmt::join(labels, ", ")),
                    "destroy it, look at the cake again, and print a new one");
}

std::optional<Finding> judge_no_contact(const std::string& cake, const Finding& recorded) {
  if (recorded.verdict != Verdict::shown) return std::nullopt;
  Finding finding = finding_of("shared-kit", cake, Verdict::shown, Stop::none,
                               "nothing that it does not declare was on its kit without a tested washing in between, as recorded", "");
  finding.limit = "kit washed and tested between allergens";
  finding.result = "no such meeting recorded";
  return finding;
}

Finding judge_recipe_void(const std::string& batch) {
  return finding_of("egg-heat", batch, Verdict::not_shown, Stop::needs_person,
                    fmt::format("the recipe that {} was made by is void: nothing tells how its egg was made fit to eat", batch),
                    "correct the batch so that it names the recipe it was really made by");
}

Finding judge_not_composed(const std::string& cake, const std::string& why) {
  return finding_of("allergens-known", cake, Verdict::not_shown, Stop::no_override, why,
                    "record what the cake is made of before it leaves");
}

}  // namespace tierproof
