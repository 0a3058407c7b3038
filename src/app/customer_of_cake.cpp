#include "customer_of_cake.h"

#include <fmt/format.h>

#include <algorithm>

#include "tierproof/store/named_bytes.h"

namespace tierproof {
namespace {

/// Whether a paper tells of all cakes of a period.
bool of_a_period(std::string_view paper) { return paper == "inspection record" || paper == "records review"; }

bool member_names(const Json& body, std::string_view member, const std::string& what) {
  const Json* named = body.is_object() ? body.find(member) : nullptr;
  return named != nullptr && named->is_text() && named->text() == what;
}

}  // namespace

EntriesOfCustomers entries_of_customers(const Session& session) {
  static const std::set<std::string_view> of_a_customer{KindOf<Cake>::kind,      KindOf<AllergyAnswer>::kind,   KindOf<Acceptance>::kind,
                                                        KindOf<Told>::kind,      KindOf<Release>::kind,         KindOf<HandOver>::kind,
                                                        KindOf<Complaint>::kind, KindOf<ComplaintClosed>::kind, KindOf<RecallTick>::kind,
                                                        KindOf<Evidence>::kind,  KindOf<PaperIssued>::kind};
  auto all = session.store().entries(1, session.head().size);
  EntriesOfCustomers entries{{}, files_named(all)};
  for (auto& entry : all) {
    if (of_a_customer.contains(entry.kind)) entries.entries.push_back(std::move(entry));
  }
  return entries;
}

CustomerOfCake::CustomerOfCake(const Session& session, const EntriesOfCustomers& entries, const std::string& cake)
    : session_{session}, cake_{cake} {
  for (const auto& entry : entries.entries) {
    const bool of_many = member_names(entry.body, "paper", "inspection record") || member_names(entry.body, "paper", "records review");
    if (entry.kind == KindOf<PaperIssued>::kind && (of_many || member_names(entry.body, "cake", cake_))) paper(entry);
    if (!tells(entry)) continue;
    told_by_.insert(entry.sequence);
    for (auto& named : store::named_sealed(entry)) refs_.insert(std::move(named.ref));
  }
  keep_what_others_use();
  find_files(entries.files);
}

ToErase CustomerOfCake::left() const {
  ToErase erase;
  for (const auto& ref : refs_) {
    if (session_.store().sealed(ref)) erase.texts.push_back(ref);
  }
  for (const auto& [digest, note] : papers_to_erase()) erase.papers.push_back(digest);
  return erase;
}

std::map<Digest, std::uint64_t> CustomerOfCake::papers_to_erase() const {
  std::map<Digest, std::uint64_t> out;
  for (const auto& [issue, forms] : issues_) {
    const std::string& paper = std::get<0>(issue);
    if (paper == "venue card" || (paper == "label" && !has_stop(forms)) || (of_a_period(paper) && !gives_reasons(forms))) continue;
    for (const auto& form : forms) {
      if (session_.store().paper(form.digest)) out.emplace(form.digest, form.note);
    }
  }
  return out;
}

bool CustomerOfCake::tells(const Entry& entry) {
  if (entry.kind == KindOf<PaperIssued>::kind) return false;
  if (entry.body.is_null()) return entry.supersedes && told_by_.contains(*entry.supersedes);
  if (entry.kind == KindOf<ComplaintClosed>::kind) {
    const Json* complaint = entry.body.is_object() ? entry.body.find("complaint") : nullptr;
    return complaint != nullptr && complaint->is_text() && complaints_.contains(complaint->text());
  }
  if (entry.kind == KindOf<Evidence>::kind && entry.body.is_object()) {
    const Json* about = entry.body.find("about");
    const Json* note = entry.body.find("note");
    return member_names(entry.body, "about", cake_) || (about != nullptr && about->is_text() && complaints_.contains(about->text())) ||
           (note != nullptr && note->is_integer() && told_by_.contains(static_cast<std::uint64_t>(note->integer())));
  }
  const bool about = entry.kind == KindOf<Cake>::kind
                         ? entry.subject == cake_
                         : member_names(entry.body, entry.kind == KindOf<RecallTick>::kind ? "what" : "cake", cake_);
  if (about && entry.kind == KindOf<Complaint>::kind) complaints_.insert(entry.subject);
  return about;
}

void CustomerOfCake::keep_what_others_use() {
  for (const auto& note : session_.notes()) {
    if (told_by_.contains(note.sequence)) continue;
    Entry in_force;
    in_force.body = note.body;
    in_force.why = note.why;
    for (const auto& named : store::named_sealed(in_force)) refs_.erase(named.ref);
  }
}

void CustomerOfCake::find_files(const std::vector<FileNamed>& named) {
  std::map<Digest, std::uint64_t> others;
  for (const auto& file : named) {
    if (file.erased_by) continue;
    if (told_by_.contains(file.sequence)) {
      files_.emplace(file.digest, file.sequence);
    } else if (is_needed(file.sequence)) {
      others.emplace(file.digest, file.sequence);
    }
  }
  for (const auto& [digest, note] : others) {
    if (files_.erase(digest) != 0) files_of_others_.emplace(digest, note);
  }
}

/// Whether a note about something else that attached a file is in force, and not of a customer who was erased since.
bool CustomerOfCake::is_needed(std::uint64_t sequence) const {
  const State& state = session_.state();
  const auto note = std::find_if(state.evidence.begin(), state.evidence.end(), [&](const auto& one) { return one.sequence == sequence; });
  if (note == state.evidence.end()) return false;
  std::string cake = note->value.about;
  const auto complaint = state.complaints.find(ComplaintId{cake});
  if (complaint != state.complaints.end()) cake = complaint->second.value.cake.text();
  for (const auto& tick : state.recall_ticks) {
    if (note->value.note && tick.place == static_cast<std::uint64_t>(*note->value.note)) cake = tick.value.what;
  }
  return std::none_of(state.erasures.begin(), state.erasures.end(),
                      [&](const auto& erasure) { return erasure.value.cake.text() == cake && erasure.sequence > sequence; });
}

void CustomerOfCake::paper(const Entry& entry) {
  const auto issued = read_body<PaperIssued>(entry.body, fmt::format("note {}", entry.sequence));
  const auto digest = issued ? digest_from_hex(issued->sha256) : std::nullopt;
  if (!digest) return;
  issues_[{issued->paper, issued->head, issued->stock, issued->box}].push_back({issued->form, *digest, entry.sequence});
}

/// Whether a label says DO NOT HAND OVER, which may tell of the allergy; one that cannot be read counts as one that does.
bool CustomerOfCake::has_stop(const std::vector<Form>& forms) const {
  for (const auto& form : forms) {
    if (form.form != "json") continue;
    const auto kept = session_.store().paper(form.digest);
    const auto label = kept ? parse_json(kept->bytes, "label") : Result<Json>{Refusal{}};
    const Json* stop = label && label->is_object() ? label->find("stop") : nullptr;
    return stop == nullptr || !stop->is_text() || !stop->text().empty();
  }
  return true;
}

/// Whether a record of a period gives reasons that the cake was released for, which may tell of the allergy; one that cannot be read
/// counts as one that does.
bool CustomerOfCake::gives_reasons(const std::vector<Form>& forms) const {
  for (const auto& form : forms) {
    if (form.form != "json") continue;
    const auto kept = session_.store().paper(form.digest);
    const auto record = kept ? parse_json(kept->bytes, "record") : Result<Json>{Refusal{}};
    const Json* tables = record && record->is_object() ? record->find("tables") : nullptr;
    if (tables == nullptr || !tables->is_array()) return true;
    for (const Json& table : tables->array()) {
      if (!member_names(table, "list", "overrides")) continue;
      const Json* rows = table.find("rows");
      if (rows == nullptr || !rows->is_array()) return true;
      return std::any_of(rows->array().begin(), rows->array().end(), [&](const Json& row) { return member_names(row, "cake", cake_); });
    }
  }
  return true;
}

}  // namespace tierproof
