#include "tierproof/units/share.h"

#include <cassert>

namespace tierproof {

std::string format_decimal(const Share& share, int places) {
  using boost::multiprecision::cpp_int;
  assert(places >= 0 && places <= 9);
  cpp_int scale = 1;
  for (int i = 0; i < places; ++i) scale *= 10;
  const bool negative = share < 0;
  const cpp_int top = abs(numerator(share));
  const cpp_int bottom = denominator(share);
  const cpp_int rounded = (top * scale * 2 + bottom) / (bottom * 2);
  std::string digits = rounded.str();
  if (places > 0) {
    if (digits.size() <= static_cast<std::size_t>(places)) digits.insert(0, static_cast<std::size_t>(places) + 1 - digits.size(), '0');
    digits.insert(digits.size() - static_cast<std::size_t>(places), ".");
  }
  return negative && rounded != 0 ? "-" + digits : digits;
}

std::string short_decimal(std::string decimal) {
  if (decimal.find('.') == std::string::npos) return decimal;
  decimal.erase(decimal.find_last_not_of('0') + 1);
  if (decimal.back() == '.') decimal.pop_back();
  return decimal;
}

}  // namespace tierproof
