#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "tierproof/app/session.h"
#include "tierproof/sums/trace.h"

namespace tierproof {

/// One thing that was reached from another.
struct TracedTold {
  std::string id;             ///< `cake-1`
  std::string words;          ///< `cake-1 (Lemon cake)`
  bool certain = true;        ///< false: it may be, as from a topped-up tub
  std::size_t steps = 0;      ///< 0: the thing itself
  std::string way;            ///< `pack-3 → batch-2 → cake-1`; a `?` stands before what only may have gone in
  std::string where;          ///< where it is now, or what became of it; of a pack, who it came from and when
  std::optional<Share> mg{};  ///< forward: how much of the beginning is in it; back: how much of it is in the beginning
};

/// An earlier note said that something went into something, and a later one took that back.
struct TakenBack {
  std::string into;  ///< words
  std::uint64_t said = 0;
  std::uint64_t corrected_by = 0;
};

/// Kit that a batch of those reached was on, and the batch that came on it next.
struct NextOnKit {
  std::string equipment;
  std::string before;    ///< words of the batch that was reached
  std::string after;     ///< words of the batch that came next on it
  std::string cleaning;  ///< between the two, in words; `nothing recorded` where there is none
};

struct TraceTold {
  std::string id, words;
  std::vector<TracedTold> into;  ///< everything it went into; without itself, in order of steps
  std::vector<TracedTold> from;  ///< everything that went into it
  std::vector<TakenBack> taken_back;
  std::vector<NextOnKit> kit;          ///< batches outside `into`, reported apart: what they met is no part of them
  std::optional<MassBalance> balance;  ///< of a pack or a batch
  bool amounts_known = true;           ///< false: a weight on the way is not known, or the records run in a loop
};

/// Where everything of one thing went and what went into it, by the notes in force.
/// @param thing    `pack-3`, `batch-2`, `cake-1`, or a supplier's lot code as typed
/// @param counted  what is left of it, as somebody weighed it
/// Refused: nothing of that name; a code that more than one pack has (they are listed: the person must say which).
Result<TraceTold> trace(const Session& session, const std::string& thing, std::optional<Mass> counted, ZonedInstant at);

/// The things of a trace and how they hang together, for a drawing.
struct TracedGraph {
  std::string id;
  std::vector<TracedTold> things;  ///< what was asked for first; without ways and amounts
  TraceGraph graph;                ///< of these things by the same numbers; between the same two one edge, certain if any was
};
/// What went into a thing, what it went into, and each step between. Refused as `trace`.
Result<TracedGraph> traced_graph(const Session& session, const std::string& thing, ZonedInstant at);

/// The reach of one thing as names alone, from the graph that the file keeps beside the records: quick however long they are.
struct TraceList {
  StoredThing thing;
  std::vector<StoredThing> into, from;  ///< as `RecordStore::reached`; without itself
  Head head;
};
/// Refused as `trace`. @throws Fault 75 if others keep recording in between
Result<TraceList> trace_list(const RecordStore& store, const std::string& thing);

enum class PictureForm { svg, pdf };
/// The same drawn on one sheet (`papers/trace_picture.h`), as the bytes of a file. It names no customer, and is not kept in the records.
/// Refused: as `trace`; more than can be drawn.
Result<std::string> draw_trace(const Session& session, const std::string& thing, PictureForm form, const DataRoot& data, ZonedInstant at);

/// Whether something of `thing` went, or may have gone, into `into`; a thing is in itself.
bool goes_into(const State& state, const std::string& thing, const std::string& into);

/// Everything that some of `things` went into, or may have, by the notes 1 to `sequence` as they were in force then, themselves included.
/// Ids that were not on record then are passed over.
std::vector<std::string> reached_at(const Session& session, const std::vector<std::string>& things, std::uint64_t sequence);

/// What several things have in common: everything that went into each of them. Refused: fewer than two, or as `trace`.
Result<std::vector<TracedTold>> traced_to_all(const Session& session, std::span<const std::string> things, ZonedInstant at);

}  // namespace tierproof
