#pragma once

#include <boost/multiprecision/cpp_int.hpp>
#include <string>
#include <utility>
#include <vector>

#include "tierproof/sums/composition.h"

namespace tierproof {

/// The batches of a cake as a graph without loops, for the sums of this room alone.
class BatchGraph {
 public:
  /// Everything that is wrong with `parts`; a graph may only be made of parts for which this is empty.
  static Refusals refusals(const CakeParts& parts);

  explicit BatchGraph(const CakeParts& parts);

  /// Batches that reach the cake, each before the batches that go into it.
  const std::vector<std::size_t>& reached() const { return reached_; }
  /// `batch-4 (vanilla sponge)`
  const std::string& step(std::size_t batch) const { return steps_[batch]; }
  /// Sub-batches of a batch, each once, by their step's text.
  const std::vector<std::size_t>& below(std::size_t batch) const { return below_[batch]; }

  /// Ways from the cake down to any batch marked in `ends`.
  struct Ways {
    std::vector<std::string> told;            ///< `cake-1 → batch-4 (vanilla sponge)`, at most `most_ways`, sorted
    boost::multiprecision::cpp_int more = 0;  ///< how many further ones there are
  };
  /// @param ends  one flag a batch
  Ways ways_to(const std::vector<bool>& ends) const;

 private:
  const CakeParts& parts_;
  std::vector<std::string> steps_;
  std::vector<std::vector<std::size_t>> below_;
  std::vector<std::size_t> roots_;  ///< batches placed in the cake, each once, by their step's text
  std::vector<std::size_t> reached_;
};

}  // namespace tierproof
