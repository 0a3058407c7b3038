#include "forms.h"

#include <fmt/format.h>

#include <algorithm>

#include "tierproof/text/number.h"

namespace tierproof::web {
namespace {

/// `--use-by` and `use-by` are one field, `body: name` is one of a document.
std::string field_name(const std::string& field) {
  std::string name = field.starts_with("--") ? field.substr(2) : field;
  return name;
}

std::string sentence_of(const Refusal& refusal, bool with_field) {
  std::string words = with_field && !refusal.field.empty() ? field_name(refusal.field) + ": " + refusal.message : refusal.message;
  if (const auto remedy = to_do_here(refusal.remedy); !remedy.empty()) words += "; " + remedy;
  if (!words.empty() && words.front() >= 'a' && words.front() <= 'z' && !with_field)
    words.front() = static_cast<char>(words.front() - 'a' + 'A');
  return words + ".";
}

Html refused_box(const Html& lines, bool beside_fields) {
  return el("div", {{"class", "refused"}, {"role", "alert"}, {"tabindex", "-1"}},
            el("p", {}, el("strong", {}, "Nothing was booked."), beside_fields ? " What is wrong stands beside its field." : ""),
            lines.empty() ? Html{} : el("ul", {}, lines));
}

/// Whether a remedy is of the command line.
bool speaks_of_options(std::string_view remedy) {
  return remedy.find("--") != std::string_view::npos || remedy.find('`') != std::string_view::npos ||
         remedy.find("tierproof") != std::string_view::npos;
}

/// Without what only tells the command for it: `(tierproof precaution)`, `: tierproof looked flour --from mill`.
std::string without_commands(std::string part) {
  for (auto open = part.find(" ("); open != std::string::npos; open = part.find(" (", open + 1)) {
    const auto close = part.find(')', open);
    if (close == std::string::npos) break;
    if (speaks_of_options(std::string_view{part}.substr(open, close - open))) part.erase(open, close + 1 - open);
  }
  if (const auto colon = part.find(": tierproof "); colon != std::string::npos)
    part.erase(colon, std::min(part.find(',', colon), part.size()) - colon);
  return part;
}

}  // namespace

std::string to_do_here(const std::string& remedy) {
  std::string kept;
  std::string_view rest = remedy;
  while (!rest.empty()) {
    const auto end = rest.find("; ");
    const std::string part = without_commands(std::string{rest.substr(0, end)});
    rest = end == std::string_view::npos ? std::string_view{} : rest.substr(end + 2);
    if (speaks_of_options(part)) continue;
    kept += (kept.empty() ? "" : "; ") + part;
  }
  return !kept.empty() || remedy.empty() ? kept : "at the kitchen's machine: " + remedy;
}

std::string told_here(const Refusal& refusal) {
  const std::string remedy = to_do_here(refusal.remedy);
  return refusal.message + (remedy.empty() ? "" : "; " + remedy) + ".";
}

void remedies_here(Visit& visit, const std::vector<std::pair<const char*, const char*>>& by_field) {
  for (auto& refusal : visit.wrong) {
    if (!speaks_of_options(refusal.remedy)) continue;
    for (const auto& [field, remedy] : by_field) {
      if (field_name(refusal.field) == field) refusal.remedy = remedy;
    }
  }
}

std::optional<Refusal> unlike_shown(const Visit& visit, const std::vector<std::string>& now) {
  if (visit.request.form.every("shown") == now) return std::nullopt;
  return Refusal{"", 0, "", "what this page showed is not how it is now", "look at it as it stands here now, and send it again"};
}

Html told_nowhere_else(Visit& visit) {
  if (visit.wrong.empty() || visit.wrong_told) return {};
  Html lines;
  for (const auto& refusal : visit.wrong) lines += el("li", {}, sentence_of(refusal, true));
  return refused_box(lines, false);
}

FormView::FormView(Visit& visit, std::string action, std::string id)
    : visit_{visit}, action_{std::move(action)}, id_{std::move(id)}, again_{visit.typed("form") == id_ && !visit.wrong.empty()} {}

std::vector<std::string> FormView::values_of(const char* name, const FieldSaid& said) const {
  if (again_) return visit_.request.form.every(name);
  if (asks_ && visit_.request.query.has(name)) return visit_.request.query.every(name);
  return said.value.empty() ? std::vector<std::string>{} : std::vector{said.value};
}

std::string FormView::value_of(const char* name, const FieldSaid& said) const {
  const auto values = values_of(name, said);
  return values.empty() ? "" : values.front();
}

Html FormView::wrong_with(const char* name) {
  if (!again_) return {};
  Html lines;
  for (std::size_t i = 0; i < visit_.wrong.size(); ++i) {
    if (field_name(visit_.wrong[i].field) != name) continue;
    told_.push_back(i);
    lines += el("span", {}, sentence_of(visit_.wrong[i], false));
  }
  return lines.empty() ? lines : el("p", {{"class", "wrong"}, {"id", id_of(name) + "-wrong"}}, lines);
}

Attributes FormView::described(const char* name, const std::string& hint) const {
  std::string by;
  if (!hint.empty()) by = id_of(name) + "-hint";
  const bool wrong = again_ && std::any_of(visit_.wrong.begin(), visit_.wrong.end(),
                                           [&](const Refusal& refusal) { return field_name(refusal.field) == name; });
  if (wrong) by += (by.empty() ? "" : " ") + id_of(name) + "-wrong";
  Attributes attributes;
  if (!by.empty()) attributes.push_back({"aria-describedby", by});
  if (wrong) attributes.push_back({"aria-invalid", "true"});
  return attributes;
}

void FormView::field(const char* name, const std::string& label, const FieldSaid& said, const Html& input) {
  Html inside = el("label", {{"for", id_of(name)}}, label, said.needed ? Html{} : el("span", {{"class", "may"}}, " (may stay empty)"));
  if (!said.hint.empty()) inside += el("p", {{"class", "hint"}, {"id", id_of(name) + "-hint"}}, said.hint);
  inside += el("div", {{"class", "entry"}}, input, said.unit.empty() ? Html{} : el("span", {{"class", "unit"}}, said.unit));
  inside += wrong_with(name);
  fields_ += el("div", {{"class", "field"}}, inside);
}

namespace {
Attributes joined(Attributes first, const Attributes& second) {
  first.insert(first.end(), second.begin(), second.end());
  return first;
}
}  // namespace

FormView& FormView::asks() {
  asks_ = true;
  return *this;
}

FormView& FormView::text(const char* name, const std::string& label, const FieldSaid& said) {
  field(name, label, said,
        el("input", joined({{"type", "text"},
                            {"id", id_of(name)},
                            {"name", name},
                            {"value", value_of(name, said)},
                            {"autocomplete", said.autocomplete},
                            flag("required", said.needed)},
                           described(name, said.hint))));
  return *this;
}

FormView& FormView::long_text(const char* name, const std::string& label, const FieldSaid& said) {
  field(name, label, said,
        el("textarea",
           joined({{"id", id_of(name)}, {"name", name}, {"rows", "6"}, {"autocomplete", "off"}, flag("required", said.needed)},
                  described(name, said.hint)),
           "\n", value_of(name, said)));
  return *this;
}

FormView& FormView::number(const char* name, const std::string& label, const FieldSaid& said, bool minus) {
  Html input = el("input", joined({{"type", "text"},
                                   {"inputmode", "decimal"},
                                   {"class", "number"},
                                   {"id", id_of(name)},
                                   {"name", name},
                                   {"value", value_of(name, said)},
                                   {"autocomplete", "off"},
                                   flag("required", said.needed)},
                                  described(name, said.hint)));
  if (minus)
    input = el("button",
               {{"type", "button"},
                {"class", "minus with-script"},
                {"data-minus", id_of(name)},
                {"aria-label", label + ": above or below zero"}},
               "±") +
            input;
  field(name, label, said, input);
  return *this;
}

FormView& FormView::day(const char* name, const std::string& label, const FieldSaid& said) {
  field(name, label, said,
        el("input",
           joined({{"type", "date"}, {"id", id_of(name)}, {"name", name}, {"value", value_of(name, said)}, flag("required", said.needed)},
                  described(name, said.hint))));
  return *this;
}

FormView& FormView::pin(const std::string& label) { return secret("pin", label, ""); }

FormView& FormView::secret(const char* name, const std::string& label, const std::string& hint) {
  field(name, label, {.hint = hint, .needed = true},
        el("input", joined({{"type", "password"},
                            {"inputmode", "numeric"},
                            {"class", "number"},
                            {"id", id_of(name)},
                            {"name", name},
                            {"autocomplete", "off"},
                            flag("required")},
                           described(name, hint))));
  return *this;
}

FormView& FormView::file(const char* name, const std::string& label, const char* accept, const FieldSaid& said) {
  with_file_ = true;
  field(name, label, said,
        el("input", joined({{"type", "file"}, {"id", id_of(name)}, {"name", name}, {"accept", accept}, flag("required", said.needed)},
                           described(name, said.hint))));
  return *this;
}

void FormView::group(const char* name, const std::string& label, const Choices& choices, const FieldSaid& said, const char* type) {
  const auto chosen = values_of(name, said);
  Html tiles;
  int number = 0;
  for (const auto& [value, words] : choices) {
    const std::string id = fmt::format("{}-{}", id_of(name), ++number);
    const bool on = std::find(chosen.begin(), chosen.end(), value) != chosen.end();
    tiles += el("div", {{"class", "tile"}},
                el("input", {{"type", type},
                             {"id", id},
                             {"name", name},
                             {"value", value},
                             flag("checked", on),
                             flag("required", said.needed && std::string_view{type} == "radio")}),
                el("label", {{"for", id}}, words));
  }
  Html inside = el("legend", {}, label, said.needed ? Html{} : el("span", {{"class", "may"}}, " (may stay empty)"));
  if (!said.hint.empty()) inside += el("p", {{"class", "hint"}, {"id", id_of(name) + "-hint"}}, said.hint);
  inside += el("div", {{"class", "tiles"}}, tiles) + wrong_with(name);
  fields_ += el("fieldset", joined({{"class", "field"}}, described(name, said.hint)), inside);
}

FormView& FormView::tiles(const char* name, const std::string& label, const Choices& choices, const FieldSaid& said) {
  group(name, label, choices, said, "radio");
  return *this;
}

FormView& FormView::ticks(const char* name, const std::string& label, const Choices& choices, const FieldSaid& said) {
  group(name, label, choices, said, "checkbox");
  return *this;
}

FormView& FormView::pick(const char* name, const std::string& label, const Choices& choices, const FieldSaid& said) {
  const std::string chosen = value_of(name, said);
  Html options = el("option", {{"value", ""}}, said.needed ? "choose" : "");
  for (const auto& [value, words] : choices) options += el("option", {{"value", value}, flag("selected", value == chosen)}, words);
  field(name, label, said,
        el("select", joined({{"id", id_of(name)}, {"name", name}, flag("required", said.needed)}, described(name, said.hint)), options));
  return *this;
}

FormView& FormView::hidden(const char* name, const std::string& value) {
  fields_ += el("input", {{"type", "hidden"}, {"name", name}, {"value", value}});
  return *this;
}

FormView& FormView::shows(const std::vector<std::string>& things) {
  for (const auto& thing : things) hidden("shown", thing);
  return *this;
}

FormView& FormView::add(const Html& markup) {
  fields_ += markup;
  return *this;
}

FormView& FormView::fold_begin(const std::string& label) {
  before_fold_ = std::move(fields_);
  fields_ = {};
  fold_label_ = label;
  told_before_fold_ = told_.size();
  in_fold_ = true;
  return *this;
}

FormView& FormView::fold_end() {
  if (!in_fold_) return *this;
  const bool open = told_.size() > told_before_fold_;
  fields_ = before_fold_ + el("details", {{"class", "fold"}, flag("open", open)}, el("summary", {}, fold_label_), fields_);
  in_fold_ = false;
  return *this;
}

FormView& FormView::kept_without_server() {
  kept_ = true;
  return *this;
}

FormView& FormView::of_what_was_seen() {
  hidden("seen", fmt::format("{}:{}", visit_.records().head().size, visit_.now.time_since_epoch().count()));
  return *this;
}

Html FormView::finish(const std::string& button, const char* kind) {
  fold_end();
  const Html send = el("p", {{"class", "send"}}, el("button", {{"type", "submit"}, {"class", kind}}, button));
  if (asks_) return el("form", {{"method", "get"}, {"action", action_}, {"id", id_}, {"class", "sheet"}}, fields_ + send);
  Html whole;
  if (again_) {
    visit_.wrong_told = true;
    Html lines;
    for (std::size_t i = 0; i < visit_.wrong.size(); ++i) {
      if (std::find(told_.begin(), told_.end(), i) == told_.end()) lines += el("li", {}, sentence_of(visit_.wrong[i], true));
    }
    whole += refused_box(lines, !told_.empty());
  }
  whole += el("input", {{"type", "hidden"}, {"name", "form"}, {"value", id_}});
  if (visit_.who) {
    whole += el("input", {{"type", "hidden"}, {"name", "token"}, {"value", visit_.who->form_token}});
    whole += el("input", {{"type", "hidden"}, {"name", "key"}, {"value", fresh_key()}});
  }
  whole += fields_ + send;
  return el("form",
            {{"method", "post"},
             {"action", action_},
             {"enctype", "multipart/form-data", with_file_},
             {"id", id_},
             {"class", "sheet"},
             {"data-kept", visit_.who ? visit_.who->person : "", kept_}},
            whole);
}

Html button_form(Visit& visit, const std::string& action, const std::string& button,
                 const std::vector<std::pair<const char*, std::string>>& values, const char* kind, bool kept) {
  Html inside;
  if (visit.who) {
    inside += el("input", {{"type", "hidden"}, {"name", "token"}, {"value", visit.who->form_token}});
    inside += el("input", {{"type", "hidden"}, {"name", "key"}, {"value", fresh_key()}});
  }
  for (const auto& [name, value] : values) inside += el("input", {{"type", "hidden"}, {"name", name}, {"value", value}});
  inside += el("button", {{"type", "submit"}, {"class", kind}}, button);
  return el("form", {{"method", "post"}, {"action", action}, {"class", "one"}, {"data-kept", visit.who ? visit.who->person : "", kept}},
            inside);
}

}  // namespace tierproof::web
