#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "routes.h"
#include "tierproof/app/issuing.h"

namespace tierproof::web {

/// A field of what is asked to be booked.
struct DeedField {
  const char* name;   ///< `weighed-*`: every name that begins so
  const char* words;  ///< what it is, with its unit, for whoever writes a script
  bool needed = false;
  bool several = false;
};

/// Something that a form books, and a script too: by the same path, under `/api/v1`, with the same fields. Either way one use case of the
/// `app` does it.
struct Deed {
  const char* path;  ///< `/cold/temperature`
  For who;
  const char* what;  ///< in a sentence
  std::vector<DeedField> fields;
  /// Books it; nothing where it was refused, and `Visit::wrong` says why.
  std::function<std::optional<Booked>(Visit&)> act;
  /// The page that a browser goes to afterwards.
  std::function<std::string(const Visit&, const Booked&)> then;
  /// The page that holds its form, to be shown again with what was wrong.
  std::function<WebAnswer(Visit&)> shown_by;
  bool takes_file = false;  ///< its form is `multipart/form-data` with one file, for a script too
};

std::vector<Deed> cupboard_deeds();
std::vector<Deed> bench_deeds();
std::vector<Deed> cold_deeds();
std::vector<Deed> leaving_deeds();
std::vector<Deed> counter_deeds();
std::vector<Deed> gone_deeds();
std::vector<Deed> drawer_deeds();
std::vector<Deed> note_deeds();
std::vector<Deed> plan_deeds();
std::vector<Deed> keeping_deeds();
std::vector<Deed> kept_deeds();
std::vector<Deed> looking_deeds();
std::vector<Deed> may_contain_deeds();
std::vector<Deed> attaching_deeds();

/// Every deed, by place.
const std::vector<Deed>& deeds();
/// The routes of the pages, and of the API, that the deeds answer.
std::vector<Route> routes_of_deeds();

/// Issues papers, once for the key of the form; the note of the first, the PDF, which is what is printed.
std::optional<Booked> issued_booked(Visit& visit, const std::function<Result<Issued>(Session&)>& act);

/// `then` of a deed that leads to one page always.
std::function<std::string(const Visit&, const Booked&)> to(std::string path);

}  // namespace tierproof::web
