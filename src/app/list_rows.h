#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "tierproof/app/lists.h"

// What lists are made of: one description of a kind's headings and of the cells of one thing, from which the whole list follows.
namespace tierproof {

// Any member of a note as a cell.
inline DataCell cell_of(std::string text) { return DataCell{std::move(text)}; }
inline DataCell cell_of(const char* text) { return DataCell{std::string{text}}; }
inline DataCell cell_of(bool flag) { return DataCell{std::string{flag ? "yes" : "no"}}; }
inline DataCell cell_of(std::int64_t number) { return DataCell{number}; }
inline DataCell cell_of(std::uint64_t number) { return DataCell{static_cast<std::int64_t>(number)}; }
inline DataCell cell_of(ExactDecimal decimal) { return DataCell{decimal}; }
inline DataCell cell_of(Mass mass) { return DataCell{ExactDecimal{mass.to_milligrams(), 3}}; }  // grams
inline DataCell cell_of(Date day) { return DataCell{day}; }
inline DataCell cell_of(ZonedInstant moment) { return DataCell{moment}; }
inline DataCell cell_of(const DataCell& cell) { return cell; }
inline DataCell cell_of(const Words& words) { return words.given() ? cell_of(words.text.value_or("(erased)")) : DataCell{}; }
template <class Kind>
DataCell cell_of(const Id<Kind>& id) {
  return cell_of(id.text());
}
template <class Value>
DataCell cell_of(const std::optional<Value>& value) {
  return value ? cell_of(*value) : DataCell{};
}
template <class Kind>
DataCell cell_of(const std::vector<Id<Kind>>& ids) {
  std::string text;
  for (const auto& id : ids) text += (text.empty() ? "" : " ") + id.text();
  return cell_of(std::move(text));
}
inline DataCell cell_of(const std::vector<std::string>& texts) { return cell_of(fmt::format("{}", fmt::join(texts, "; "))); }

template <class... Values>
DataRow cells(const Values&... values) {
  return DataRow{cell_of(values)...};
}

inline DataCell utc(Instant at) { return DataCell{ZonedInstant{at, Offset{}}}; }
/// A number kept in `1/10^places`.
inline DataCell scaled_cell(const std::optional<std::int64_t>& digits, int places) {
  return digits ? DataCell{ExactDecimal{*digits, places}} : DataCell{};
}
/// What a thermometer showed, in its own scale; `unit_cell` tells which.
inline DataCell degrees_cell(const std::optional<Degrees>& degrees) {
  return degrees ? DataCell{ExactDecimal{degrees->hundredths, 2}} : DataCell{};
}
inline DataCell unit_cell(Scale scale) { return cell_of(scale == Scale::celsius ? "C" : "F"); }
inline DataCell unit_cell(const std::optional<Degrees>& degrees) { return degrees ? unit_cell(degrees->scale) : DataCell{}; }

/// How a thing came into the records, under `record_headings()`.
template <class Thing>
DataRow record_cells(const Recorded<Thing>& thing) {
  return cells(thing.sequence, utc(thing.happened), ZonedInstant{thing.happened, thing.offset}, utc(thing.written), thing.person, thing.how,
               thing.corrected());
}

// Every thing of a map, list or single member of `State`, in the order in which they were first recorded.
template <class Thing>
std::vector<const Recorded<Thing>*> in_order(const std::vector<Recorded<Thing>>& things) {
  std::vector<const Recorded<Thing>*> all;
  for (const auto& thing : things) all.push_back(&thing);
  return all;
}
template <class Key, class Thing>
std::vector<const Recorded<Thing>*> in_order(const std::map<Key, Recorded<Thing>>& things) {
  std::vector<const Recorded<Thing>*> all;
  for (const auto& [key, thing] : things) all.push_back(&thing);
  std::sort(all.begin(), all.end(), [](const auto* a, const auto* b) { return a->place < b->place; });
  return all;
}
template <class Thing>
std::vector<const Recorded<Thing>*> in_order(const std::optional<Recorded<Thing>>& thing) {
  return thing ? std::vector<const Recorded<Thing>*>{&*thing} : std::vector<const Recorded<Thing>*>{};
}

/// A list of `member` of the state: `rows_of(session, thing)` gives the rows of one thing, without how it came into the records.
template <class Thing, class Member, class RowsOf>
KitchenList list_of_parts(std::string name, std::string holds, Member State::*member, std::vector<std::string> headings, RowsOf rows_of) {
  const std::size_t own = headings.size();
  headings.insert(headings.end(), record_headings().begin(), record_headings().end());
  return {std::move(name),
          std::move(holds),
          {std::string{KindOf<Thing>::kind}},
          std::move(headings),
          [member, own, rows_of](const Session& session, std::size_t newest) {
            std::vector<DataRow> rows;  // the last first
            const auto things = in_order(session.state().*member);
            for (auto thing = things.rbegin(); thing != things.rend() && rows.size() < newest; ++thing) {
              const DataRow record = record_cells(**thing);
              std::vector<DataRow> parts = rows_of(session, **thing);
              for (auto row = parts.rbegin(); row != parts.rend(); ++row) {
                assert(row->size() == own);
                row->insert(row->end(), record.begin(), record.end());
                rows.push_back(std::move(*row));
              }
            }
            std::reverse(rows.begin(), rows.end());
            return rows;
          }};
}

/// The same with one row a thing.
template <class Thing, class Member, class RowOf>
KitchenList list_of(std::string name, std::string holds, Member State::*member, std::vector<std::string> headings, RowOf row_of) {
  return list_of_parts<Thing>(
      std::move(name), std::move(holds), member, std::move(headings),
      [row_of](const Session& session, const Recorded<Thing>& thing) { return std::vector<DataRow>{row_of(session, thing)}; });
}

/// The list of temperatures, of the readings from `begin` until before `end`.
KitchenList temperatures_between(Instant begin, Instant end);

std::vector<KitchenList> lists_of_things();
std::vector<KitchenList> lists_of_events();
std::vector<KitchenList> lists_of_plan();
std::vector<KitchenList> lists_of_regular();

}  // namespace tierproof
