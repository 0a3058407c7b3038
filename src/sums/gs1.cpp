#include "tierproof/sums/gs1.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace tierproof {
namespace {

bool only_digits(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

/// Beginnings of GS1 Prefixes that no company is given. GS1 General Specifications 1.4.2 (from memory).
struct NoCompany {
  std::string_view begins;
  std::string_view is;
};
constexpr std::array no_companies{
    NoCompany{"00000", "of short numbers within one shop"},
    NoCompany{"02", "that counts within one region only"},
    NoCompany{"04", "that counts within one company only"},
    NoCompany{"05", "that is kept free"},
    NoCompany{"2", "that counts within one region only"},
    NoCompany{"951", "of another sort of tag"},
    NoCompany{"977", "of periodicals"},
    NoCompany{"978", "of books"},
    NoCompany{"979", "of books and sheet music"},
    NoCompany{"98", "of refunds and coupons"},
    NoCompany{"99", "of coupons"},
};

/// What is wrong with the digits of a key, if anything.
std::optional<Refusal> not_a_key(std::string_view text, std::string_view field, std::string_view what, std::string_view lengths) {
  const auto refuse = [&](std::string message, std::string remedy) {
    return Refusal{"", 0, std::string{field}, std::move(message), std::move(remedy)};
  };
  if (!only_digits(text))
    return refuse(fmt::format("\"{}\" is no {}", text, what), fmt::format("write its {} digits, without spaces or dashes", lengths));
  if (text.find_first_not_of('0') == std::string_view::npos)
    return refuse(fmt::format("{} is no {}", text, what), "write the number as GS1 gave it");
  if (const char right = gs1_check_digit(text.substr(0, text.size() - 1)); text.back() != right) {
    return refuse(fmt::format("the check digit of {} does not fit: after {} comes {}, not {}", text, text.substr(0, text.size() - 1), right,
                              text.back()),
                  "copy the number anew from the papers of GS1: a digit is wrong, or two stand in each other's place");
  }
  return std::nullopt;
}

}  // namespace

bool gs1_encodable(char c) {  // the 82 characters of ISO/IEC 646 that are the same everywhere
  if ((c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z')) return true;
  return std::string_view{"!\"%&'()*+,-./:;<=>?_"}.find(c) != std::string_view::npos;
}

char gs1_check_digit(std::string_view digits) {
  int sum = 0;
  int weight = 3;
  for (auto digit = digits.rbegin(); digit != digits.rend(); ++digit) {
    sum += (*digit - '0') * weight;
    weight = 4 - weight;
  }
  return static_cast<char>('0' + (10 - sum % 10) % 10);
}

Result<std::string> read_gtin(std::string_view text, std::string_view field) {
  const auto length = text.size();
  if (only_digits(text) && length != 8 && length != 12 && length != 13 && length != 14) {
    return Refusal{"", 0, std::string{field}, fmt::format("{} has {} digits: a GTIN has 8, 12, 13 or 14", text, length),
                   "write all of its digits, the check digit at the end and zeros in front included"};
  }
  if (auto wrong = not_a_key(text, field, "GTIN", "8, 12, 13 or 14")) return std::move(*wrong);
  return std::string(14 - length, '0') + std::string{text};
}

Result<std::string> read_company_prefix(std::string_view text, std::string_view field) {
  const auto refuse = [&](std::string message, std::string remedy) {
    return Refusal{"", 0, std::string{field}, std::move(message), std::move(remedy)};
  };
  if (!only_digits(text) || text.size() < 4 || text.size() > 12) {
    return refuse(fmt::format("\"{}\" is no GS1 Company Prefix", text),
                  "write its 4 to 12 digits as GS1 gave them to the business; before a U.P.C. Company Prefix write a 0");
  }
  for (const auto& other : no_companies) {
    if (text.substr(0, other.begins.size()) == other.begins)
      return refuse(fmt::format("{} begins a number {}: it is no company's", text, other.is),
                    "write the prefix that GS1 gave to the business, or leave it out");
  }
  return std::string{text};
}

Result<std::string> read_own_gtin(std::string_view text, std::string_view prefix, std::string_view field) {
  auto gtin = read_gtin(text, field);
  if (!gtin) return gtin;
  const auto refuse = [&](std::string message, std::string remedy) {
    return Refusal{"", 0, std::string{field}, std::move(message), std::move(remedy)};
  };
  if (prefix.empty())
    return refuse("the kitchen has no GS1 Company Prefix that a GTIN could begin with",
                  "record its prefix first (gs1_prefix of the kitchen), or leave the GTIN out");
  if (text.size() == 8)
    return refuse(fmt::format("{} is a GTIN-8, which holds no company prefix to check it by", text),
                  fmt::format("write a GTIN of 12 or 13 digits that begins with {}", prefix));
  if (gtin->substr(1, prefix.size()) != prefix)
    return refuse(fmt::format("{} does not begin with the kitchen's GS1 Company Prefix {}", text, prefix),
                  "write a GTIN of the kitchen's own: one of another company names that company's goods");
  if (gtin->front() == '9')
    return refuse(fmt::format("{} is of goods sold by weight, whose code has to carry the mass too", text),
                  "write the GTIN of the cake as one piece");
  return gtin;
}

Result<std::string> gs1_element_string(const Gs1Goods& goods, std::string_view field) {
  Refusals refusals;
  const auto refuse = [&](std::string message, std::string remedy) {
    refusals.push_back({"", 0, std::string{field}, std::move(message), std::move(remedy)});
  };
  const auto gtin = read_gtin(goods.gtin, field);
  if (!gtin) refusals = gtin.error();
  if (goods.piece != 0 && (goods.pieces < 1 || goods.pieces > 99 || goods.piece < 1 || goods.piece > goods.pieces)) {
    refuse(fmt::format("piece {} of {} cannot be coded", goods.piece, goods.pieces), "number the pieces from 1, up to 99 of them");
  }
  if (goods.best_before && goods.use_by) refuse("a best-before date stands beside a use-by date", "leave one of the two out");
  std::string elements;
  const auto date = [&](std::string_view identifier, const std::optional<Date>& day) {
    if (!day) return;
    if (!day->ok() || int{day->year()} < 2000 || int{day->year()} > 2099) {
      refuse(fmt::format("the date for ({}) cannot be written with a year of two figures", identifier), "give a day from 2000 to 2099");
      return;
    }
    elements += fmt::format("[{}]{:02}{:02}{:02}", identifier, int{day->year()} % 100, unsigned{day->month()}, unsigned{day->day()});
  };
  const auto text = [&](std::string_view identifier, std::string_view what, const std::string& written) {
    if (written.empty()) return;
    if (written.size() > 20) refuse(fmt::format("the {} \"{}\" is longer than 20 characters", what, written), "shorten it");
    if (!std::all_of(written.begin(), written.end(), gs1_encodable))
      refuse(fmt::format("the {} \"{}\" holds a character that GS1 codes do not carry", what, written),
             "use letters without accents, digits, and ! \" % & ' ( ) * + , - . / : ; < = > ? _");
    elements += fmt::format("[{}]{}", identifier, written);
  };
  date("11", goods.made);
  date("15", goods.best_before);
  date("16", goods.sell_by);
  date("17", goods.use_by);
  text("10", "lot", goods.lot);
  text("21", "serial number", goods.serial);
  if (!refusals.empty()) return refusals;
  if (goods.piece != 0) return fmt::format("[8006]{}{:02}{:02}{}", *gtin, goods.piece, goods.pieces, elements);
  return fmt::format("[01]{}{}", *gtin, elements);
}

}  // namespace tierproof
