#include "reached.h"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <tuple>
#include <utility>

namespace tierproof::sqlite {
namespace {

/// Packs before batches before cakes, and each by its number: the order in which a person looks for them.
struct Place {
  int kind = 0;
  std::uint64_t number = 0;
  std::size_t index = 0;  ///< among the things that are put in order
};

Place place_of(std::string_view name, std::size_t index) {
  const auto dash = name.rfind('-');
  const auto kind = name.substr(0, dash);
  Place place{kind == "pack" ? 0 : kind == "batch" ? 1 : kind == "cake" ? 2 : 3, 0, index};
  if (dash != std::string_view::npos) std::from_chars(name.data() + dash + 1, name.data() + name.size(), place.number);
  return place;
}

std::vector<StoredThing> in_order(std::vector<StoredThing> things) {
  std::vector<Place> places;
  places.reserve(things.size());
  for (std::size_t i = 0; i < things.size(); ++i) places.push_back(place_of(things[i].name, i));
  const auto before = [&](const Place& a, const Place& b) {
    return std::tie(a.kind, a.number, things[a.index].name) < std::tie(b.kind, b.number, things[b.index].name);
  };
  if (!std::is_sorted(places.begin(), places.end(), before)) std::sort(places.begin(), places.end(), before);
  std::vector<StoredThing> ordered;
  ordered.reserve(things.size());
  for (const auto& place : places) ordered.push_back(std::move(things[place.index]));
  return ordered;
}

/// The walk over numbers. Everything that certain edges alone lead to is walked first, so that each thing is seen once and is possible only
/// if there is no certain way to it. A prepared look at each thing's edges takes half the time of one recursive query, and needs no more
/// than each thing once either.
class Walk {
 public:
  Walk(const Database& database, Reach way)
      : next_{database.prepare(way == Reach::into ? "SELECT child, certain FROM view_edge WHERE parent = ?1"
                                                  : "SELECT parent, certain FROM view_edge WHERE child = ?1")} {
    const auto most = database.answer("SELECT max(thing) FROM view_thing");
    std::int64_t things = 0;
    if (most) std::from_chars(most->data(), most->data() + most->size(), things);
    seen_.resize(static_cast<std::size_t>(things) + 1);
  }

  void begin(std::int64_t thing) { see(thing, certain_); }

  struct Found {
    std::int64_t thing = 0;
    bool certain = true;
  };
  std::vector<Found> all() {
    for (std::size_t i = 0; i < certain_.size(); ++i) follow(certain_[i], certain_);
    std::vector<std::int64_t> possible;
    for (const auto thing : perhaps_) see(thing, possible);
    perhaps_.clear();
    for (std::size_t i = 0; i < possible.size(); ++i) {
      follow(possible[i], possible);
      for (const auto thing : perhaps_) see(thing, possible);
      perhaps_.clear();
    }
    std::vector<Found> found;
    found.reserve(certain_.size() + possible.size());
    for (const auto thing : certain_) found.push_back({thing, true});
    for (const auto thing : possible) found.push_back({thing, false});
    return found;
  }

 private:
  void see(std::int64_t thing, std::vector<std::int64_t>& queue) {
    if (thing < 0 || static_cast<std::size_t>(thing) >= seen_.size() || seen_[static_cast<std::size_t>(thing)]) return;
    seen_[static_cast<std::size_t>(thing)] = true;
    queue.push_back(thing);
  }

  void follow(std::int64_t thing, std::vector<std::int64_t>& queue) {
    next_.bind(1, thing);
    while (next_.step()) {
      if (next_.integer(1) == 1) {
        see(next_.integer(0), queue);
      } else {
        perhaps_.push_back(next_.integer(0));
      }
    }
    next_.reset();
  }

  Statement next_;
  std::vector<bool> seen_;  ///< by number; numbers of things are dense
  std::vector<std::int64_t> certain_;
  std::vector<std::int64_t> perhaps_;  ///< what possible edges lead to, not looked at yet
};

}  // namespace

std::vector<StoredThing> things_called(const Database& database, const std::string& kitchen, std::string_view name) {
  std::vector<StoredThing> found;
  for (const char* by : {"name", "code"}) {
    auto rows = database.prepare(fmt::format("SELECT name, words FROM view_thing WHERE kitchen = ?1 AND {} = ?2 AND ?2 <> ''", by));
    rows.bind_text(1, kitchen).bind_text(2, name);
    while (rows.step()) found.push_back({rows.bytes(0), rows.bytes(1)});
    if (!found.empty()) break;
  }
  return in_order(std::move(found));
}

std::vector<StoredThing> reached(const Database& database, const std::string& kitchen, const std::vector<std::string>& names, Reach way) {
  Walk walk{database, way};
  auto number = database.prepare("SELECT thing FROM view_thing WHERE kitchen = ?1 AND name = ?2");
  for (const auto& name : names) {
    number.bind_text(1, kitchen).bind_text(2, name);
    if (number.step()) walk.begin(number.integer(0));
    number.reset();
  }
  auto found = walk.all();
  std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.thing < b.thing; });  // as they lie in the file
  // Those that lie close together are read in one go: to read over a few others is quicker than to look up each.
  constexpr std::int64_t close_by = 8;
  auto said = database.prepare("SELECT thing, name, words FROM view_thing WHERE thing BETWEEN ?1 AND ?2 ORDER BY thing");
  std::vector<StoredThing> things;
  things.reserve(found.size());
  for (std::size_t first = 0; first < found.size();) {
    std::size_t last = first;
    while (last + 1 < found.size() && found[last + 1].thing - found[last].thing <= close_by) ++last;
    said.bind(1, found[first].thing).bind(2, found[last].thing);
    for (std::size_t next = first; said.step();) {
      while (next < last && found[next].thing < said.integer(0)) ++next;
      if (found[next].thing == said.integer(0)) things.push_back({said.bytes(1), said.bytes(2), found[next].certain});
    }
    said.reset();
    first = last + 1;
  }
  return in_order(std::move(things));
}

}  // namespace tierproof::sqlite
