#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tierproof/kitchen/entities.h"

// What went wrong, and what was done about it.
namespace tierproof {

/// `deviation/1`: something went wrong. It is open until it is closed, and an open one stops what it touches.
struct Deviation {
  std::vector<std::string> about;  ///< subjects: `batch-4`, `cake-1`, `pack-2`, `cake-fridge`, `fork`, `mixer`
  std::string from;                ///< what showed it: `control`, `temperature`, `person`
  std::string control;             ///< id of the plan's row, when a control showed it
  Words what;
};

/// `deviation-closed/1`
struct DeviationClosed {
  DeviationId deviation;
  std::string food;  ///< what became of it: `used`, `remade`, `binned`, `no food touched`
  Words cause;
  Words action;  ///< what was done, so that it does not happen again
};

/// `complaint/1`: it freezes the file of the cake until it is closed.
struct Complaint {
  CakeId cake;
  std::string of;  ///< `illness`, `allergic reaction`, `something in it`, `spoiled`, `damaged`, `other`
  Words from;
  Words what;
};

/// `complaint-closed/1`
struct ComplaintClosed {
  ComplaintId complaint;
  Words outcome;
};

/// `disposal/1`: a pack, batch or cake, or some of it, was thrown away.
struct Disposal {
  std::string what;
  std::optional<Mass> mass;  ///< nothing: all that was left of it
  Words why;
};

/// `recall/1`: a recall, or an exercise of one, from its beginning until it is closed. What it reaches is worked out from the other notes.
struct RecallBegun {
  std::vector<std::string> of;  ///< packs, batches and cakes, `pack-3`; or what a trouble touches, `trouble-2`
  bool drill = false;           ///< an exercise: nobody is told, nothing is set aside
  std::string asked{};          ///< how they were found: `every pack from mill, 1 May to 5 May 2026`; empty: they were named
  Words why;
  std::vector<std::string> reached{};  ///< what it reached when it began: a later correction takes nothing out unseen
};

/// `recall-step/1`: one step of a recall that somebody made, or tried to.
struct RecallTick {
  RecallId recall;
  std::string what;               ///< `cake-1`, `pack-3`; or `authority`, `supplier`, `public`
  std::string did;                ///< `told`, `not reached`, `set aside`, `given back`, `found`, `not found`, `taken out`, `not needed`
  Words note;                     ///< to whom, how, in which words
  std::optional<Mass> weighed{};  ///< what was left of a pack or batch when it was set aside, counted or found
};

/// `recall-closed/1`
struct RecallClosed {
  RecallId recall;
  Words cause;    ///< why it happened
  Words learned;  ///< what is done otherwise from now on
};

/// `missed/1`: a check that was not made, told as such.
struct Missed {
  std::string about;  ///< `cake-fridge`, `fork`, `batch-4`
  Date day{};
  std::string because;  ///< `forgotten`, `nobody worked`, `no thermometer`, `other`; of a scheduler `nobody said`
  Words note;
  std::string of{};  ///< `regular record`: `about` is a sort of these and `day` its due day; empty: a place, thermometer or batch
};

}  // namespace tierproof
