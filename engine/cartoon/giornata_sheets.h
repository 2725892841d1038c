// The sheets of one giornata, the same for files, plan and preview.
#pragma once

#include <memory>
#include <optional>

#include "engine/cartoon/chart_picture.h"
#include "engine/cartoon/page.h"
#include "engine/cartoon/pattern.h"
#include "engine/cartoon/registration.h"
#include "engine/cartoon/sheets.h"
#include "engine/cartoon/tiling.h"

namespace pontata {

// How a pattern, mirrored where that is asked for, is spread over the paper: over sheets, or whole where no printer
// pages it (DXF).
Result<Tiling> tiling_for(const Pattern& pattern, const CartoonOptions& options);

// Keeps what the giornate of one wall share (its picture, read place by place; its squares) until another wall's turn.
class GiornataSheets {
 public:
  // Input and options must outlive this.
  GiornataSheets(const CartoonInput& input, const CartoonOptions& options,
                 std::shared_ptr<Registers> registers = std::make_shared<Registers>())
      : input_(input), options_(options), registers_(std::move(registers)) {}
  // Draws every sheet of every part. Stops early when cancelled, which is then a Problem.
  Outcome draw(const std::vector<Pattern>& patterns, Pages& pages, Progress* progress,
               SheetCopy copy = SheetCopy::painting);

 private:
  Outcome turn_to(const CartoonWall& wall);
  const CartoonInput& input_;
  const CartoonOptions& options_;
  std::shared_ptr<Registers> registers_;
  const CartoonWall* wall_ = nullptr;
  std::optional<ChartPicture> picture_;
  std::optional<Squares> squares_;
};

}  // namespace pontata
