#include "old_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "tierproof/app/regular.h"
#include "tierproof/store/named_bytes.h"

namespace tierproof {
namespace {

/// Papers that name who works here.
bool names_people(std::string_view paper) { return paper == "record" || paper == "inspection record" || paper == "records review"; }
/// Papers that tell what regular records say.
bool tells_records(std::string_view paper) { return paper == "inspection record" || paper == "records review"; }

bool some_text(const Json& value, const std::function<bool(const std::string&)>& is) {
  if (value.is_text()) return is(value.text());
  if (value.is_array()) return std::any_of(value.array().begin(), value.array().end(), [&](const Json& one) { return some_text(one, is); });
  if (!value.is_object()) return false;
  const auto& members = value.object();
  return std::any_of(members.begin(), members.end(), [&](const auto& member) { return some_text(member.second, is); });
}

/// Whether `name` stands in `text` as words of its own.
bool has_words(const std::string& text, const std::string& name) {
  const auto in_a_word = [&](std::size_t at) {
    const auto c = static_cast<unsigned char>(text[at]);
    return c >= 0x80 || (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
  };
  for (auto at = text.find(name); at != std::string::npos; at = text.find(name, at + 1)) {
    const std::size_t after = at + name.size();
    if ((at == 0 || !in_a_word(at - 1)) && (after == text.size() || !in_a_word(after))) return true;
  }
  return false;
}

bool names_note(const Json& row, const std::set<std::uint64_t>& notes) {
  const Json* note = row.is_object() ? row.find("note") : nullptr;
  return note != nullptr && note->is_integer() && notes.contains(static_cast<std::uint64_t>(note->integer()));
}

/// Whether a list of rows names one of the notes; one that is no list counts as one that does.
bool some_row(const Json* rows, const std::set<std::uint64_t>& notes) {
  if (rows == nullptr || !rows->is_array()) return true;
  return std::any_of(rows->array().begin(), rows->array().end(), [&](const Json& row) { return names_note(row, notes); });
}

/// Whether the paper of a period tells of one of the regular records.
bool tells_of(const Json& paper, const std::set<std::uint64_t>& notes) {
  const Json* tables = paper.is_object() ? paper.find("tables") : nullptr;
  if (tables == nullptr || !tables->is_array()) return true;
  if (const Json* looks = paper.find("looks"); looks != nullptr && some_row(looks, notes)) return true;
  return std::any_of(tables->array().begin(), tables->array().end(), [&](const Json& table) {
    const Json* list = table.is_object() ? table.find("list") : nullptr;
    if (list == nullptr || !list->is_text()) return true;
    const std::string& name = list->text();
    const bool of_records = name == "regular-records" || name == "training" || name == "records-review" || name == "regular-due";
    return of_records && some_row(table.find("rows"), notes);
  });
}

}  // namespace

OldWords::OldWords(const Session& session) : session_{session} {
  const auto entries = session.store().entries(1, session.head().size);
  std::map<std::uint64_t, std::size_t> chains;
  for (const auto& entry : entries) {
    if (entry.kind == KindOf<Person>::kind || entry.kind == KindOf<PlanReviewed>::kind) of_person(entry);
    if (entry.kind == KindOf<RegularDone>::kind) of_record(entry, chains);
  }
  keep_what_others_use();
  const auto drop_gone = [&](SealedOf& sealed) {
    std::erase_if(sealed.refs, [&](const std::string& ref) { return !session_.store().sealed(ref); });
  };
  for (auto& [person, sealed] : names_) drop_gone(sealed);
  for (auto& record : records_) drop_gone(record.sealed);
  find_papers(entries);
}

void OldWords::of_person(const Entry& entry) {
  if (entry.kind == KindOf<Person>::kind) {
    auto& sealed = names_[entry.subject];
    const Date day = day_of(entry.written, entry.offset);
    const auto [last, fresh] = people_.emplace(entry.subject, day);
    if (!fresh) last->second = std::max(last->second, day);
    sealed.notes.insert(entry.sequence);
    for (auto& named : store::named_sealed(entry)) sealed.refs.insert(std::move(named.ref));
    const Json* name = entry.body.is_object() ? entry.body.find("name") : nullptr;
    const Json* ref = name != nullptr && name->is_object() ? name->find("sealed") : nullptr;
    if (ref != nullptr && ref->is_text()) name_refs_[entry.subject].insert(ref->text());
    return;
  }
  const Json* signature = entry.body.is_object() ? entry.body.find("signed") : nullptr;  // in their own name
  const Json* ref = signature != nullptr && signature->is_object() ? signature->find("sealed") : nullptr;
  if (ref == nullptr || !ref->is_text()) return;
  const auto first = entry.supersedes ? signers_.find(*entry.supersedes) : signers_.end();
  const std::string signer = first == signers_.end() ? entry.person.text() : first->second;
  signers_.emplace(entry.sequence, signer);
  auto& sealed = names_[signer];
  sealed.notes.insert(entry.sequence);
  sealed.refs.insert(ref->text());
}

void OldWords::of_record(const Entry& entry, std::map<std::uint64_t, std::size_t>& chains) {
  const auto before = entry.supersedes ? chains.find(*entry.supersedes) : chains.end();
  std::size_t at = records_.size();
  if (before != chains.end()) {
    at = before->second;
  } else {
    records_.push_back({entry.subject, {}, {}});
  }
  chains.emplace(entry.sequence, at);
  OldRecord& record = records_[at];
  const Date day = day_of(entry.happened, entry.offset);
  if (!record.day.ok() || record.day < day) record.day = day;
  record.sealed.notes.insert(entry.sequence);
  for (auto& named : store::named_sealed(entry)) record.sealed.refs.insert(std::move(named.ref));
}

/// Words that a note in force about something else uses too stay with it.
void OldWords::keep_what_others_use() {
  std::map<std::string, std::uint64_t> used;
  for (const auto& note : session_.notes()) {
    if (note.kind == KindOf<Person>::kind || note.kind == KindOf<RegularDone>::kind || note.kind == KindOf<PlanReviewed>::kind) continue;
    Entry in_force;
    in_force.body = note.body;
    in_force.why = note.why;
    for (const auto& named : store::named_sealed(in_force)) used.emplace(named.ref, note.sequence);
  }
  const auto without_used = [&](SealedOf& sealed) {
    std::erase_if(sealed.refs, [&](const std::string& ref) { return used.contains(ref); });
  };
  for (auto& [person, sealed] : names_) without_used(sealed);
  for (auto& record : records_) without_used(record.sealed);
}

/// Papers that name people, each with its forms; their bytes are read when they are asked about.
void OldWords::find_papers(const std::vector<Entry>& entries) {
  using Issue = std::tuple<std::string, std::string, std::string>;  // paper, cake and head: its forms go together
  std::map<Issue, std::size_t> known;
  for (const auto& entry : entries) {
    if (entry.kind != KindOf<PaperIssued>::kind) continue;
    const auto issued = read_body<PaperIssued>(entry.body, fmt::format("note {}", entry.sequence));
    const auto digest = issued ? digest_from_hex(issued->sha256) : std::nullopt;
    if (!digest || !names_people(issued->paper)) continue;
    const auto [at, fresh] = known.emplace(Issue{issued->paper, issued->cake.text(), issued->head}, papers_.size());
    if (fresh) papers_.push_back({{entry.sequence, issued->paper, issued->cake.text(), {}}, {}});
    papers_[at->second].paper.forms.push_back(*digest);
    if (issued->form == "json") papers_[at->second].json = *digest;
  }
}

std::vector<PaperTelling> OldWords::papers_that(const std::function<bool(const PaperTelling&, const Json&)>& tells) const {
  std::vector<PaperTelling> telling;
  for (const auto& one : papers_) {
    PaperTelling left = one.paper;
    std::erase_if(left.forms, [&](const Digest& form) { return !session_.store().paper(form); });
    if (left.forms.empty()) continue;
    const auto kept = one.json ? session_.store().paper(*one.json) : std::nullopt;
    const auto json = kept ? parse_json(kept->bytes, "paper") : Result<Json>{Refusal{}};
    if (tells(left, json ? *json : Json{})) telling.push_back(std::move(left));
  }
  return telling;
}

const SealedOf& OldWords::name_of(const PersonId& person) const {
  static const SealedOf none;
  const auto known = names_.find(person.text());
  return known == names_.end() ? none : known->second;
}

std::vector<PaperTelling> OldWords::papers_naming(const PersonId& person) const {
  std::vector<std::string> names;
  const auto refs = name_refs_.find(person.text());
  if (refs != name_refs_.end()) {
    for (const auto& ref : refs->second) {
      if (auto name = session_.store().sealed(ref)) names.push_back(std::move(*name));
    }
  }
  if (names.empty()) return {};
  return papers_that([&](const PaperTelling&, const Json& paper) {
    const auto is = [&](const std::string& text) {
      return std::any_of(names.begin(), names.end(), [&](const std::string& name) { return has_words(text, name); });
    };
    return !paper.is_object() || some_text(paper, is);
  });
}

std::vector<PaperTelling> OldWords::papers_telling(const std::set<std::uint64_t>& notes) const {
  return papers_that([&](const PaperTelling& paper, const Json& json) { return tells_records(paper.paper) && tells_of(json, notes); });
}

std::vector<const OldRecord*> words_past(const OldWords& words, const RetentionTerms& terms, Date on) {
  std::vector<const OldRecord*> past;
  for (const auto& record : words.records()) {
    if (record.sealed.refs.empty()) continue;
    const auto kept = keep_until(terms.rows, of_regular_records, std::vector<KeptFrom>{{"recorded", record.day}});
    if (kept && on > kept->last) past.push_back(&record);
  }
  return past;
}

std::set<std::uint64_t> unanswered_notes(const Session& session) {
  std::set<std::uint64_t> open;
  for (const auto& record : records_not_fine(session)) {
    if (record.answered.empty()) open.insert(record.note);
  }
  return open;
}

std::vector<std::string> open_matters_in_words(const State& state) {
  std::vector<std::string> open;
  const auto add = [&](const auto& matters, const auto& counts) {
    for (const auto& [id, matter] : matters) {
      if (counts(matter.value) && state.closed(id) == nullptr) open.push_back(fmt::format("{} is open", id.text()));
    }
  };
  const auto every = [](const auto&) { return true; };
  add(state.complaints, every);
  add(state.recalls, [](const RecallBegun& recall) { return !recall.drill; });
  add(state.deviations, every);
  return open;
}

}  // namespace tierproof
