#include "tierproof/text/data_table.h"

#include <fmt/format.h>

#include "tierproof/units/share.h"

namespace tierproof {
namespace {

std::string text_of_decimal(const ExactDecimal& decimal) {
  const bool negative = decimal.digits < 0;
  // Of the smallest number, the magnitude only fits without a sign.
  const std::uint64_t magnitude =
      negative ? std::uint64_t{0} - static_cast<std::uint64_t>(decimal.digits) : static_cast<std::uint64_t>(decimal.digits);
  std::string digits = fmt::format("{:0{}}", magnitude, decimal.places + 1);
  if (decimal.places > 0) {
    digits.insert(digits.size() - static_cast<std::size_t>(decimal.places), 1, '.');
    digits = short_decimal(std::move(digits));
  }
  return negative ? "-" + digits : digits;
}

struct AsText {
  std::string operator()(std::monostate) const { return ""; }
  std::string operator()(const std::string& words) const { return words; }
  std::string operator()(std::int64_t number) const { return std::to_string(number); }
  std::string operator()(const ExactDecimal& decimal) const { return text_of_decimal(decimal); }
  std::string operator()(Date day) const { return format_date(day); }
  std::string operator()(const ZonedInstant& moment) const { return format_zoned(moment.at, moment.offset); }
};

}  // namespace

std::string text_of(const DataCell& cell) { return std::visit(AsText{}, cell); }

bool is_number(const DataCell& cell) { return std::holds_alternative<std::int64_t>(cell) || std::holds_alternative<ExactDecimal>(cell); }

}  // namespace tierproof
