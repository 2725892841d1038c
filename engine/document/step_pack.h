// What turns one document into another, in few bytes: what undo keeps of a step.
//
// Networks, records, zones and counters are written (network_step.h); heavy parts that came or went with the step
// (surfaces, pictures, settings) are held as they are. Walls, pictures and surfaces that did not change keep their
// identity, so that nothing that was made from them is made again.
#pragma once

#include <memory>
#include <vector>

#include "engine/document/document.h"

namespace pontata {

struct StepPack {
  std::vector<std::uint8_t> bytes;
  std::vector<std::shared_ptr<const void>> parts;
  std::size_t parts_bytes = 0;  // of the parts, without the surfaces and pictures behind them

  std::size_t size() const { return bytes.capacity() + parts.capacity() * sizeof(parts.front()) + parts_bytes; }
};

// What makes `to` of `from`. Costs what the two do not share, and a measuring of each seam that only `to` has.
StepPack pack_step(const Document& from, const Document& to);

// The document `to`: the same project text to the byte, and the same documents from every edit that follows.
// Precondition: packed for an equal `from`. The same cost.
DocumentRef unpack_step(const Document& from, const StepPack& pack);

}  // namespace pontata
