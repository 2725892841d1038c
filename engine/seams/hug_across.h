// Hugging lines over a wall that closes round itself.
#pragma once

#include <memory>
#include <span>

#include "engine/chart/cut_crossing.h"
#include "engine/seams/hug.h"

namespace pontata {

// A line in pieces, each hugging by itself, as one line. Where it crosses a cut it stays where it was led, so that both
// sides meet; those places follow each other in the line. `closed` says of a single piece without ends that it is an
// outline.
Result<HuggedLine> hug_pieces(const std::shared_ptr<const HugGround>& ground, std::span<const CutPiece> pieces,
                              bool closed, const HugOptions& options = {}, Progress* progress = nullptr);

}  // namespace pontata
