#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "held.h"

namespace tierproof {
namespace {

bool is_code(std::string_view text) {
  const auto good = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-'; };
  return !text.empty() && text.front() != '-' && text.back() != '-' && std::all_of(text.begin(), text.end(), good);
}

std::string folder_of(std::string_view path) { return std::string{path.substr(0, std::min(path.find('/'), path.size()))}; }

RuleRow read_row(const Json& json, const std::string& set, const std::string& file, const std::string& path,
                 const std::vector<SourceRow>& sources, const RowContext& context, Refusals& refusals) {
  Fields fields{json, file, path, refusals};
  RuleRow row;
  row.path = path;
  row.line = json.line();
  row.id = fields.text("id");
  if (!row.id.empty() && !is_code(row.id)) fields.refuse("id", fmt::format("\"{}\" is not an id", row.id), "use a-z, 0-9 and - only");
  row.mechanism = fields.text("mechanism");
  row.order = fields.maybe_integer("order", 0, 1'000'000).value_or(0);
  row.from = fields.date("from");
  row.to = fields.maybe_date("to");
  if (row.to && row.from.ok() && row.to->ok() && std::chrono::sys_days{*row.to} < std::chrono::sys_days{row.from}) {
    fields.refuse("to", fmt::format("{} comes before from, {}", format_date(*row.to), format_date(row.from)),
                  "write the last day in force, or null");
  }
  row.source = fields.text("source");
  row.cited.row = row.id;
  row.cited.clause = fields.text("clause");
  if (fields.has("clause") && row.cited.clause.empty()) fields.refuse("clause", "is empty", "say where in the source it stands");
  row.cited.from_memory = fields.choice("basis", {"read", "memory"}) == "memory";
  row.note = fields.maybe_text("note").value_or("");
  const auto source = std::find_if(sources.begin(), sources.end(), [&](const SourceRow& s) { return s.key == row.source; });
  if (!row.source.empty() && source == sources.end()) {
    fields.refuse("source", fmt::format("\"{}\" is not a source of this pack", row.source),
                  "list it under sources, with the day it was read");
  }
  if (source != sources.end() && !source->read_on && !row.cited.from_memory) {
    fields.refuse("basis", fmt::format("is \"read\", but source \"{}\" has no day on which it was read", row.source),
                  "write memory, or read the source and give the day");
  }
  bool known = true;
  row.says = read_mechanism(set, row.mechanism, fields, context, known);
  if (known) {
    fields.done();
  } else if (!row.mechanism.empty() && !set.empty()) {
    fields.refuse("mechanism", fmt::format("\"{}\" is not a mechanism of the {} set", row.mechanism, set),
                  fmt::format("write one of: {}", fmt::join(mechanisms_of(set), ", ")));
  }
  put_citation(row.says, row.cited);
  if (const auto question = question_of(row); !question.empty()) row.question = row.mechanism + "/" + question;
  row.written = &json;
  return row;
}

/// Refuses two rows of one id that are in force on the same day.
void refuse_overlaps(const Pack& pack, Refusals& refusals) {
  for (std::size_t i = 0; i < pack.rows.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      const auto& earlier = pack.rows[j];
      const auto& later = pack.rows[i];
      if (earlier.id != later.id || earlier.id.empty() || !earlier.from.ok() || !later.from.ok()) continue;
      const bool closing = earlier.mechanism == "closed" || later.mechanism == "closed";
      if (earlier.mechanism != later.mechanism && !closing) {
        refusals.push_back({pack.path, later.line, later.path + ".mechanism",
                            fmt::format("\"{}\" was {} in line {}", later.id, earlier.mechanism, earlier.line),
                            "an id keeps its mechanism; give this row an id of its own"});
      }
      if (!in_force_on(earlier, later.from) && !in_force_on(later, earlier.from)) continue;
      refusals.push_back({pack.path, later.line, later.path + ".from",
                          fmt::format("\"{}\" is in force at the same time as in line {}", later.id, earlier.line),
                          "close the older row on the day before, or give this one an id of its own"});
    }
  }
}

std::optional<Pack> read_pack(const PackFile& file, const Tables& tables, Refusals& refusals) {
  auto json = parse_json(file.text, file.path);
  if (!json) {
    refusals.insert(refusals.end(), json.error().begin(), json.error().end());
    return std::nullopt;
  }
  Pack pack;
  pack.document = std::make_shared<const Json>(std::move(json).value());
  Fields top{*pack.document, file.path, "", refusals};
  pack.path = file.path;
  pack.line = pack.document->line();
  pack.jurisdiction = top.text("jurisdiction");
  pack.title = top.text("title");
  pack.set = top.choice("set", rule_sets());
  pack.extends = top.maybe_text("extends").value_or("");
  pack.base = top.flag("base", false);
  top.maybe_text("note");
  if (!pack.jurisdiction.empty() && !pack.set.empty() && file.path != pack.jurisdiction + "/" + pack.set + ".json") {
    top.refuse("jurisdiction", fmt::format("and set do not go with the file's name, {}", file.path),
               fmt::format("call the file {}/{}.json", pack.jurisdiction, pack.set));
  }
  if (!pack.jurisdiction.empty() && !is_code(pack.jurisdiction)) top.refuse("jurisdiction", "is not a code", "use a-z, 0-9 and - only");
  std::map<std::string, std::string> titles;
  pack.sources = read_sources(top, file.path, titles, refusals);
  const auto& rows = top.list("rows");
  top.done();
  const RowContext context{folder_of(file.path), tables, refusals};
  for (std::size_t i = 0; i < rows.size(); ++i) {
    pack.rows.push_back(read_row(rows[i], pack.set, file.path, fmt::format("rows[{}]", i), pack.sources, context, refusals));
    if (const auto* table = std::get_if<AdditiveTableRow>(&pack.rows.back().says)) pack.tables.push_back(table->file);
  }
  if (pack.rows.empty()) top.refuse("rows", "has nothing in it", "write at least one row");
  std::sort(pack.tables.begin(), pack.tables.end());
  pack.tables.erase(std::unique(pack.tables.begin(), pack.tables.end()), pack.tables.end());
  refuse_overlaps(pack, refusals);
  return pack;
}

}  // namespace

std::string told_of(const Pack& pack, const RuleRow& row) {
  Json::Object parameters = row.written->object();
  for (const char* about : {"basis", "clause", "from", "id", "note", "source", "to"}) parameters.erase(about);
  std::string told = write_canonical(Json{parameters});
  const auto table = parameters.find("table");
  if (table == parameters.end() || !table->second.is_text()) return told;
  const auto text = pack.files->find(folder_of(pack.path) + "/" + table->second.text());
  return text == pack.files->end() ? told : told + "\n" + text->second;
}

const std::vector<std::string>& rule_sets() {
  static const std::vector<std::string> sets{"label", "temperature", "retention"};
  return sets;
}

std::vector<SourceRow> read_sources(Fields& top, const std::string& file, std::map<std::string, std::string>& titles, Refusals& refusals) {
  std::vector<SourceRow> sources;
  const auto& list = top.list("sources");
  if (list.empty()) top.refuse("sources", "has nothing in it", "list the law, guidance or book that the rows come from");
  for (std::size_t i = 0; i < list.size(); ++i) {
    Fields fields{list[i], file, fmt::format("sources[{}]", i), refusals};
    SourceRow source;
    source.path = fmt::format("sources[{}]", i);
    source.line = list[i].line();
    source.key = fields.text("key");
    source.title = fields.text("title");
    fields.text("publisher");
    fields.text("edition");
    fields.maybe_text("link");
    source.read_on = fields.maybe_date("read_on");
    source.review_by = fields.date("review_by");
    fields.done();
    if (!titles.emplace(source.key, source.title).second)
      fields.refuse("key", fmt::format("\"{}\" stands there twice", source.key), "give each source a key of its own");
    sources.push_back(std::move(source));
  }
  return sources;
}

/// Refuses a layer that leans on nothing or on itself, and rows that close or replace what they may not.
void RulePacks::Held::check_layers(Refusals& refusals) const {
  for (const auto& [key, pack] : packs) {
    const auto layers = layers_of(pack);
    if (layers.empty()) {
      const auto* beneath = find(pack.set, pack.extends);
      if (beneath != nullptr && !in_a_circle(pack)) continue;  // told of the pack that leans on nothing
      refusals.push_back({pack.path, pack.line, "extends",
                          beneath != nullptr ? fmt::format("\"{}\" leads back to where it started", pack.extends)
                                             : fmt::format("\"{}\" has no {} rules", pack.extends, pack.set),
                          "name a jurisdiction that has the set, or write null"});
      continue;
    }
    for (const auto& row : pack.rows) {
      const RuleRow* beneath = nullptr;
      for (const auto* layer : layers) {
        if (layer == &pack) break;
        for (const auto& other : layer->rows) {
          if (other.id == row.id && !std::holds_alternative<ClosedRow>(other.says)) beneath = &other;
        }
      }
      const bool closes = std::holds_alternative<ClosedRow>(row.says) && row.mechanism == "closed";
      if (closes && beneath == nullptr) {
        refusals.push_back({pack.path, row.line, row.path + ".id", fmt::format("\"{}\" closes nothing", row.id),
                            "name the id of a row in the layer beneath"});
      }
      if (!closes && beneath != nullptr && beneath->mechanism != row.mechanism) {
        refusals.push_back({pack.path, row.line, row.path + ".mechanism",
                            fmt::format("\"{}\" is {} in the layer beneath", row.id, beneath->mechanism),
                            "keep its mechanism, or choose another id"});
      }
    }
    check_questions(layers, refusals);
  }
}

/// Refuses two rows that answer the same question, on every day on which something changes.
void RulePacks::Held::check_questions(const Layers& layers, Refusals& refusals) const {
  std::map<std::string_view, std::set<std::string_view>> rows_by_question;
  std::set<std::chrono::sys_days> days;
  for (const auto* pack : layers) {
    for (const auto& row : pack->rows) {
      if (!row.question.empty()) rows_by_question[row.question].insert(row.id);
      if (!row.from.ok()) continue;
      days.insert(std::chrono::sys_days{row.from});
      if (row.to && row.to->ok()) days.insert(std::chrono::sys_days{*row.to} + std::chrono::days{1});
    }
  }
  if (std::none_of(rows_by_question.begin(), rows_by_question.end(), [](const auto& one) { return one.second.size() > 1; })) return;
  std::set<std::pair<std::string, std::string>> told;
  for (const auto day : days) {
    std::map<std::string_view, InForce> answered;
    for (const auto& found : rows_in_force(layers, Date{day})) {
      if (found.row->question.empty()) continue;
      const auto [first, fresh] = answered.emplace(found.row->question, found);
      const bool mine = found.pack == layers.back() || first->second.pack == layers.back();  // else told of the layer beneath
      if (fresh || !mine || !told.emplace(first->second.row->id, found.row->id).second) continue;
      refusals.push_back(
          {found.pack->path, found.row->line, found.row->path + ".id",
           fmt::format("\"{}\" answers the same question as \"{}\" on {}", found.row->id, first->second.row->id, format_date(Date{day})),
           "keep one of the two, or give them days that do not overlap"});
    }
  }
}

void RulePacks::Held::check_claims(Refusals& refusals) const {
  const ClaimFinder finder{claims};
  for (const auto& [key, pack] : packs) {
    for (const auto& row : pack.rows) {
      for (const auto& [field, text] : printed_texts(row.says)) {
        const auto* claim = finder.in(text);
        if (claim == nullptr) continue;
        refusals.push_back({pack.path, row.line, fmt::format("{}.{}", row.path, field),
                            fmt::format("\"{}\" holds the claim \"{}\"", text, claim->pattern), "say it without: " + claim->why});
      }
    }
  }
}

RulePacks::RulePacks() : held_{std::make_unique<Held>()} {}
RulePacks::RulePacks(RulePacks&&) noexcept = default;
RulePacks& RulePacks::operator=(RulePacks&&) noexcept = default;
RulePacks::~RulePacks() = default;

Result<RulePacks> RulePacks::read(std::span<const PackFile> files) {
  Refusals refusals;
  RulePacks packs;
  Tables tables;
  std::set<std::string, std::less<>> seen;
  for (const auto& file : files) {
    if (!seen.insert(file.path).second) refusals.push_back({file.path, 0, "", "was given twice", "give each file once"});
    packs.held_->texts.emplace(file.path, file.text);
    if (!file.path.ends_with(".json")) tables.emplace(file.path, file.text);
  }
  for (const auto& file : files) {
    if (!file.path.ends_with(".json") || file.path.starts_with("schemas/")) continue;
    const auto folders = std::count(file.path.begin(), file.path.end(), '/');
    if (file.path == "claims.json") {
      for (auto& claim : read_claim_words(file, refusals))
        (claim.nutrition ? packs.held_->nutrition : packs.held_->claims).push_back(claim);
    } else if (file.path == "plan/regular-records.json") {
      continue;  // no rules: sorts that a kitchen may take over, read where it does
    } else if (file.path.starts_with("plan/") && folders == 1) {
      read_plan(file, packs.held_->plan, packs.held_->plan_sources, refusals);
    } else if (folders == 1) {
      auto pack = read_pack(file, tables, refusals);
      if (!pack) continue;
      pack->files = &packs.held_->texts;
      packs.held_->packs.emplace(pack->set + "/" + pack->jurisdiction, std::move(*pack));
    } else {
      refusals.push_back({file.path, 0, "", "is not a rule pack, a plan or the claim words",
                          "call it <jurisdiction>/label.json, /temperature.json or /retention.json"});
    }
  }
  if (!seen.contains("claims.json"))
    refusals.push_back({"claims.json", 0, "", "is missing", "give the list of claim words that are refused"});
  if (std::none_of(seen.begin(), seen.end(), [](const std::string& path) { return path.starts_with("plan/"); })) {
    refusals.push_back({"plan/", 0, "", "holds no hazard plan", "give at least the starting plan"});
  }
  packs.held_->check_layers(refusals);
  packs.held_->check_claims(refusals);
  if (!refusals.empty()) return refusals;
  return packs;
}

std::vector<std::string> RulePacks::with_labels() const { return held_->with("label"); }
std::vector<std::string> RulePacks::with_temperatures() const { return held_->with("temperature"); }
std::vector<std::string> RulePacks::with_retention() const { return held_->with("retention"); }

Result<LabelTerms> RulePacks::label_terms(const std::string& jurisdiction, Date on, const Confirmations& confirmations) const {
  return held_->terms<LabelTerms>("label", jurisdiction, on, confirmations, label_terms_of);
}
Result<TemperatureTerms> RulePacks::temperature_terms(const std::string& jurisdiction, Date on, const Confirmations& confirmations) const {
  return held_->terms<TemperatureTerms>("temperature", jurisdiction, on, confirmations, temperature_terms_of);
}

std::optional<ActivityTable> RulePacks::shared_activity_table(std::string_view food, Date on) const {
  for (const auto& [name, pack] : held_->packs) {
    if (!pack.base) continue;
    for (const RuleRow& row : pack.rows) {
      const auto* table = std::get_if<ActivityTable>(&row.says);
      if (table != nullptr && table->food == food && in_force_on(row, on)) return *table;
    }
  }
  return std::nullopt;
}
Result<RetentionTerms> RulePacks::retention_terms(const std::string& jurisdiction, Date on, const Confirmations& confirmations) const {
  return held_->terms<RetentionTerms>("retention", jurisdiction, on, confirmations, retention_terms_of);
}

const std::vector<ClaimWord>& RulePacks::claim_words() const { return held_->claims; }
const std::vector<ClaimWord>& RulePacks::nutrition_words() const { return held_->nutrition; }
const HazardPlan& RulePacks::starting_plan() const { return held_->plan; }
const std::vector<PlanRow>& RulePacks::plan() const { return held_->plan.rows; }
const PlanRow* RulePacks::plan_row(std::string_view id) const { return held_->plan.row(id); }

std::vector<std::string> RulePacks::files_of(const std::string& jurisdiction) const {
  std::vector<std::string> files;
  const auto add = [&](const std::string& path) {
    if (std::find(files.begin(), files.end(), path) == files.end()) files.push_back(path);
  };
  for (const auto& set : rule_sets()) {
    const auto* top = held_->find(set, jurisdiction);
    if (top == nullptr) continue;
    for (const auto* pack : held_->layers_of(*top)) {
      for (const auto& table : pack->tables) add(table);
      add(pack->path);
    }
  }
  return files;
}

std::vector<std::string> RulePacks::sayings_of(std::string_view row) const {
  std::set<std::string> all;
  for (const auto& [key, pack] : held_->packs) {
    for (const auto& each : pack.rows) {
      if (each.id == row) all.insert(told_of(pack, each));
    }
  }
  return {all.begin(), all.end()};
}

std::string RulePacks::source_title(std::string_view row, std::string_view clause, std::span<const std::string> jurisdictions) const {
  std::string by_id;
  for (const auto& jurisdiction : jurisdictions) {
    for (const auto& set : rule_sets()) {
      const auto* top = held_->find(set, jurisdiction);
      if (top == nullptr) continue;
      Layers layers = held_->layers_of(*top);
      std::reverse(layers.begin(), layers.end());
      for (const auto* pack : layers) {
        for (const auto& known : pack->rows) {
          if (known.id != row) continue;
          const auto source =
              std::find_if(pack->sources.begin(), pack->sources.end(), [&](const auto& s) { return s.key == known.source; });
          if (source == pack->sources.end()) continue;
          if (known.cited.clause == clause) return source->title;
          if (by_id.empty()) by_id = source->title;
        }
      }
    }
  }
  return by_id;
}

const std::string& RulePacks::text_of(const std::string& path) const {
  static const std::string none;
  const auto found = held_->texts.find(path);
  return found == held_->texts.end() ? none : found->second;
}

}  // namespace tierproof
