#pragma once

#include <string>
#include <utility>
#include <vector>

#include "visit.h"

namespace tierproof::web {

/// One answer to choose from: what is sent, and what is read.
struct Choice {
  std::string value;
  std::string words;
};
using Choices = std::vector<Choice>;

/// What may be said of a field besides its name and label.
struct FieldSaid {
  std::string hint{};   ///< stands under the label
  std::string value{};  ///< when nothing was typed yet
  std::string unit{};   ///< stands behind the field: `g`, `°C`
  std::string autocomplete{"off"};
  bool needed = false;
};

/// A form as it is shown for the first time, and again with what was typed and what is wrong with it. Every field is named as the use case
/// names it, so that a refusal finds its field.
class FormView {
 public:
  /// @param id  of the form, unique on its page: what was posted belongs to it by this
  FormView(Visit& visit, std::string action, std::string id);

  /// It only asks: nothing is booked, and what was typed stands in the address of the page. @pre called before its fields
  FormView& asks();

  FormView& text(const char* name, const std::string& label, const FieldSaid& said = {});
  FormView& long_text(const char* name, const std::string& label, const FieldSaid& said = {});
  /// A number with a comma or a point; `minus`: may be below nothing, with a button for it.
  FormView& number(const char* name, const std::string& label, const FieldSaid& said = {}, bool minus = false);
  FormView& day(const char* name, const std::string& label, const FieldSaid& said = {});
  FormView& pin(const std::string& label);
  /// What nobody looking on may read; it is never shown again.
  FormView& secret(const char* name, const std::string& label, const std::string& hint);
  /// A file to choose, or a picture to take; the form is then sent as `multipart/form-data`. It has to be chosen anew when the form comes
  /// back.
  FormView& file(const char* name, const std::string& label, const char* accept, const FieldSaid& said);
  /// Tiles to tap, one of which is chosen.
  FormView& tiles(const char* name, const std::string& label, const Choices& choices, const FieldSaid& said = {});
  /// A list to pick one from, where there are too many for tiles.
  FormView& pick(const char* name, const std::string& label, const Choices& choices, const FieldSaid& said = {});
  /// Tiles of which any number may be on.
  FormView& ticks(const char* name, const std::string& label, const Choices& choices, const FieldSaid& said = {});
  FormView& hidden(const char* name, const std::string& value);
  /// What the page shows that the deed is about: `unlike_shown` refuses it where it is another list by then.
  FormView& shows(const std::vector<std::string>& things);
  FormView& add(const Html& markup);
  /// Fields that few need, folded away; open where one of them is wrong.
  FormView& fold_begin(const std::string& label);
  FormView& fold_end();  ///< nothing where none was begun
  /// Kept by the browser and sent later where the server cannot be reached.
  FormView& kept_without_server();
  /// Judged by what was seen: refused where the page is older than two minutes.
  FormView& of_what_was_seen();

  /// The whole form, with its button.
  Html finish(const std::string& button, const char* kind = "main");

 private:
  std::string value_of(const char* name, const FieldSaid& said) const;
  std::vector<std::string> values_of(const char* name, const FieldSaid& said) const;
  Html wrong_with(const char* name);
  Attributes described(const char* name, const std::string& hint) const;
  void field(const char* name, const std::string& label, const FieldSaid& said, const Html& input);
  void group(const char* name, const std::string& label, const Choices& choices, const FieldSaid& said, const char* type);
  std::string id_of(const char* name) const { return id_ + "-" + name; }

  Visit& visit_;
  std::string action_;
  std::string id_;
  bool again_ = false;  ///< it was posted, and could not be used
  bool kept_ = false;
  bool asks_ = false;
  bool with_file_ = false;
  std::vector<std::size_t> told_;  ///< which of `visit.wrong` stand beside a field
  Html before_fold_;
  std::string fold_label_;
  std::size_t told_before_fold_ = 0;
  bool in_fold_ = false;
  Html fields_;
};

/// What to do, in the words of a page: parts that speak of the command line go, unless there are no others.
std::string to_do_here(const std::string& remedy);
/// What cannot be told or done, and what to do about it here, in a sentence.
std::string told_here(const Refusal& refusal);

/// Puts what to do on a page in the place of remedies that name options of the command line, by the field that they are about.
void remedies_here(Visit& visit, const std::vector<std::pair<const char*, const char*>>& by_field);

/// A refusal where `now` is not what the page of the form showed. @pre the form has `shows`
std::optional<Refusal> unlike_shown(const Visit& visit, const std::vector<std::string>& now);

/// What could not be used and that no form on the page tells.
Html told_nowhere_else(Visit& visit);

/// A form that is one button, for what needs no typing.
Html button_form(Visit& visit, const std::string& action, const std::string& button,
                 const std::vector<std::pair<const char*, std::string>>& values, const char* kind = "plain", bool kept = false);

}  // namespace tierproof::web
