#include "engine/cartoon/giornata_sheets.h"

#include "engine/cartoon/pattern_squares.h"
#include "engine/cartoon/sheets.h"

namespace pontata {

Result<Tiling> tiling_for(const Pattern& pattern, const CartoonOptions& options) {
  const auto corners = pattern_corners(pattern);
  if (options.format == CartoonFormat::dxf) return whole(corners);
  return tile(corners, options.paper, options.overlap_mm);
}

Outcome GiornataSheets::turn_to(const CartoonWall& wall) {
  if (wall_ == &wall) return Done{};
  picture_.reset(), squares_.reset();
  if (wall.draped && options_.format != CartoonFormat::dxf) picture_.emplace(wall.draped, options_.picture_dpi);
  auto lines = wall_squares(wall);
  if (!lines) return lines.problem();
  squares_ = std::move(*lines);
  wall_ = &wall;
  return Done{};
}

Outcome GiornataSheets::draw(const std::vector<Pattern>& patterns, Pages& pages, Progress* progress) {
  for (const Pattern& pattern : patterns) {
    if (const Outcome turned = turn_to(*pattern.wall); !turned) return turned.problem();
    const auto tiling = tiling_for(pattern, options_);
    if (!tiling) return tiling.problem();
    draw_sheets(pages, pattern, *tiling, picture_ ? &*picture_ : nullptr, squares_ ? &*squares_ : nullptr,
                options_.picture_dpi, {input_.project, input_.trial}, progress);
    if (is_cancelled(progress)) return Problem{"stopped", "", ""};
  }
  return Done{};
}

}  // namespace pontata
