// The sheets of one giornata, the same for files, plan and preview.
#pragma once

#include <optional>

#include "engine/cartoon/chart_picture.h"
#include "engine/cartoon/page.h"
#include "engine/cartoon/pattern.h"
#include "engine/cartoon/tiling.h"

namespace pontata {

// How a pattern is spread over the paper: over sheets, or whole where no printer pages it (DXF).
Result<Tiling> tiling_for(const Pattern& pattern, const CartoonOptions& options);

// Keeps what the giornate of one wall share (its picture, read place by place; its squares) until another wall's turn.
class GiornataSheets {
 public:
  // Both must outlive this.
  GiornataSheets(const CartoonInput& input, const CartoonOptions& options) : input_(input), options_(options) {}
  // Draws every sheet of every part. Stops early when cancelled, which is then a Problem.
  Outcome draw(const std::vector<Pattern>& patterns, Pages& pages, Progress* progress);

 private:
  Outcome turn_to(const CartoonWall& wall);
  const CartoonInput& input_;
  const CartoonOptions& options_;
  const CartoonWall* wall_ = nullptr;
  std::optional<ChartPicture> picture_;
  std::optional<Squares> squares_;
};

}  // namespace pontata
