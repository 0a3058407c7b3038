#include <fmt/format.h>

#include "tierproof/units/finding.h"
#include "tierproof/units/result.h"

namespace tierproof {

std::string describe(const Refusal& refusal) {
  std::string where = refusal.file;
  if (refusal.line > 0) where += fmt::format("{}{}", where.empty() ? "line " : ":", refusal.line);
  if (!where.empty()) where += ": ";
  if (!refusal.field.empty()) where += refusal.field + ": ";
  where += refusal.message;
  if (!refusal.remedy.empty()) where += "; " + refusal.remedy;
  return where;
}

std::string_view term_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::shown:
      return "shown";
    case Verdict::not_shown:
      return "not shown";
    case Verdict::not_met:
      return "not met";
    case Verdict::outside_model:
      return "outside the model";
  }
  return "not shown";
}

int gravity(Verdict verdict) {
  switch (verdict) {
    case Verdict::shown:
      return 0;
    case Verdict::outside_model:
      return 1;
    case Verdict::not_shown:
      return 2;
    case Verdict::not_met:
      return 3;
  }
  return 3;
}

std::string_view words_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::shown:
      return "limit met as recorded";
    case Verdict::not_shown:
      return "not recorded well enough";
    case Verdict::not_met:
      return "limit missed";
    case Verdict::outside_model:
      return "this sum doesn't fit the mix";
  }
  return "not recorded well enough";
}

}  // namespace tierproof
