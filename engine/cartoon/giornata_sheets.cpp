#include "engine/cartoon/giornata_sheets.h"

#include "engine/cartoon/pattern_mirrored.h"
#include "engine/cartoon/pattern_squares.h"
#include "engine/cartoon/sheets.h"

namespace pontata {

namespace {

Result<Tiling> tiling_of(const std::vector<Vec2>& corners, const CartoonOptions& options) {
  if (options.format == CartoonFormat::dxf) return whole(corners);
  return tile(corners, options.paper, options.overlap_mm);
}

}  // namespace

Result<Tiling> tiling_for(const Pattern& pattern, const CartoonOptions& options) {
  return tiling_of(pattern_corners(options.print.mirrored ? mirrored(pattern) : pattern), options);
}

Outcome GiornataSheets::turn_to(const CartoonWall& wall) {
  if (wall_ == &wall) return Done{};
  picture_.reset(), squares_.reset();
  const PrintedPicture shown = options_.print.picture;
  if (wall.draped && options_.format != CartoonFormat::dxf && shown != PrintedPicture::contours)
    picture_.emplace(wall.draped, options_.picture_dpi, shown == PrintedPicture::faded ? kFaded : 1.0);
  auto lines = wall_squares(wall);
  if (!lines) return lines.problem();
  squares_ = std::move(*lines);
  wall_ = &wall;
  return Done{};
}

Outcome GiornataSheets::draw(const std::vector<Pattern>& patterns, Pages& pages, Progress* progress, SheetCopy copy) {
  SheetTexts texts{input_.project, input_.trial, options_.print, copy, registers_.get()};
  for (const Pattern& pattern : patterns) {
    if (const Outcome turned = turn_to(*pattern.wall); !turned) return turned.problem();
    std::optional<Pattern> other;
    if (options_.print.mirrored) other = mirrored(pattern);
    const Pattern& printed = other ? *other : pattern;
    const auto tiling = tiling_of(pattern_corners(printed), options_);
    if (!tiling) return tiling.problem();
    draw_sheets(pages, printed, *tiling, picture_ ? &*picture_ : nullptr, squares_ ? &*squares_ : nullptr,
                options_.picture_dpi, texts, progress);
    if (is_cancelled(progress)) return Problem{"stopped", "", ""};
  }
  return Done{};
}

}  // namespace pontata
