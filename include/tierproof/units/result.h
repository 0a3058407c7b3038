#pragma once

#include <cassert>
#include <iterator>
#include <stdexcept>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace tierproof {

/// Input that cannot be understood: where it stands, what is wrong, and what to write instead.
struct Refusal {
  std::string file;     ///< file name as given, or empty when the input was not a file
  int line = 0;         ///< 1-based line, 0 when there is none
  std::string field;    ///< field, option or column, `parts[2].share`; may be empty
  std::string message;  ///< what is wrong
  std::string remedy;   ///< what to write or do
  friend bool operator==(const Refusal&, const Refusal&) = default;
};
using Refusals = std::vector<Refusal>;

/// `file:line: field: message; remedy`, leaving out what is empty.
std::string describe(const Refusal& refusal);

/// A value, or every reason why there is none.
template <class T>
class Result {
 public:
  Result(T value) : held_{std::move(value)} {}
  Result(Refusal refusal) : held_{Refusals{std::move(refusal)}} {}
  Result(Refusals refusals) : held_{std::move(refusals)} { assert(!std::get<Refusals>(held_).empty()); }
  bool has_value() const { return std::holds_alternative<T>(held_); }
  explicit operator bool() const { return has_value(); }
  const T& value() const& { return std::get<T>(held_); }
  T& value() & { return std::get<T>(held_); }
  T&& value() && { return std::get<T>(std::move(held_)); }
  const T& operator*() const& { return value(); }
  T& operator*() & { return value(); }
  T&& operator*() && { return std::move(*this).value(); }
  const T* operator->() const { return &value(); }
  T* operator->() { return &value(); }
  const Refusals& error() const { return std::get<Refusals>(held_); }

 private:
  std::variant<T, Refusals> held_;
};

/// The machine failed: disk, database, PDF library. Carries the exit status of `design.md`'s list (70..78).
class Fault : public std::runtime_error {
 public:
  Fault(int exit_status, const std::string& what) : std::runtime_error{what}, exit_status_{exit_status} {}
  int exit_status() const { return exit_status_; }

 private:
  int exit_status_;
};

/// Exit statuses of the program (sysexits numbers from 64 on).
namespace exit_status {
inline constexpr int done = 0;
inline constexpr int found_wanting = 1;
inline constexpr int usage = 64;
inline constexpr int bad_data = 65;
inline constexpr int no_input = 66;
inline constexpr int our_bug = 70;
inline constexpr int cannot_create = 73;
inline constexpr int io = 74;
inline constexpr int try_later = 75;
inline constexpr int not_permitted = 77;
inline constexpr int configuration = 78;
}  // namespace exit_status

}  // namespace tierproof
