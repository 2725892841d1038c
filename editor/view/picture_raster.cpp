#include "editor/view/picture_raster.h"

#include <algorithm>
#include <cmath>

#include "engine/base/parallel.h"

namespace pontata {
namespace {

constexpr int kSide = DrapedTile::kSide;
static_assert(kSide == 1 << (RasterSquare::kLevels - 1));

// Each pixel the mean of four; colours are multiplied by opacity already.
std::vector<std::uint8_t> halved(const std::vector<std::uint8_t>& from, int side) {
  const int half = side / 2;
  std::vector<std::uint8_t> to(static_cast<std::size_t>(4 * half * half));
  for (int y = 0; y < half; ++y)
    for (int x = 0; x < half; ++x)
      for (int c = 0; c < 4; ++c) {
        const std::uint8_t* p = from.data() + 4 * (2 * y * side + 2 * x) + c;
        to[static_cast<std::size_t>(4 * (y * half + x) + c)] =
            static_cast<std::uint8_t>((p[0] + p[4] + p[4 * side] + p[4 * side + 4] + 2) / 4);
      }
  return to;
}

RasterSquare square_of(const DrapedTile& tile, int across, int up) {
  RasterSquare out{across, up, {}};
  out.levels[0].reserve(tile.rgba.size());
  for (const std::uint16_t v : tile.rgba) out.levels[0].push_back(static_cast<std::uint8_t>((v + 128) / 257));
  for (std::size_t k = 1; k < out.levels.size(); ++k) out.levels[k] = halved(out.levels[k - 1], kSide >> (k - 1));
  return out;
}

// The contours over the surface; places that the sub-pixel shift brought beyond the wall are left out.
LinePieces contour_pieces(const PictureJob::Contours& of, const std::atomic<bool>& stop) {
  LinePieces out;
  const Chart& chart = *of.wall->chart;
  for (const auto& line : contour_lines(*of.field)) {
    if (stop) return out;
    std::vector<LatticePoint> part;
    const auto close = [&] {
      if (part.size() > 1) add_line(out, *of.wall, of.origin, part, false);
      part.clear();
    };
    for (const ChartPoint p : line) {
      const LatticePoint at = to_lattice(p);
      if (chart.triangle_at(at))
        part.push_back(at);
      else
        close();
    }
    close();
  }
  return out;
}

}  // namespace

PictureRaster make_raster(const Draped& draped, const ShownTiles& before, ShownTiles& now,
                          const std::atomic<bool>& stop) {
  PictureRaster out;
  out.across = draped.tiles_across(), out.up = draped.tiles_up(), out.spacing = draped.spacing();
  const auto count = static_cast<std::size_t>(out.across) * static_cast<std::size_t>(out.up);
  out.whole = before.size() != count;
  now.assign(count, nullptr);
  std::vector<std::optional<RasterSquare>> squares(count);
  for_each_item(count, 4, [&](std::size_t k) {
    if (stop) return;
    const int across = static_cast<int>(k) % out.across, up = static_cast<int>(k) / out.across;
    now[k] = draped.tile(across, up);
    if (!out.whole && now[k] == before[k]) return;
    if (now[k])
      squares[k] = square_of(*now[k], across, up);
    else if (!out.whole)
      squares[k] = RasterSquare{across, up, {}};
  });
  for (auto& square : squares)
    if (square) out.squares.push_back(std::move(*square));
  return out;
}

PictureDetail make_detail(const Draped& draped, const LabelWindow& window) {
  const double spacing = std::max(window.size.x / window.columns, window.size.y / window.rows);
  const int columns = static_cast<int>(std::ceil(window.size.x / spacing)),
            rows = static_cast<int>(std::ceil(window.size.y / spacing));
  Raster raster = draped.draw(to_chart(window.low), spacing, columns, rows);
  PictureDetail out{{window.low, Vec2(columns, rows) * spacing, columns, rows}, {}};
  out.rgba.reserve(raster.rgba.size());
  for (int y = rows - 1; y >= 0; --y) {
    const std::uint8_t* p = raster.rgba.data() + 4 * std::ptrdiff_t{y} * columns;
    for (int x = 0; x < columns; ++x, p += 4) {
      for (int c = 0; c < 3; ++c) out.rgba.push_back(static_cast<std::uint8_t>((p[c] * p[3] + 127) / 255));
      out.rgba.push_back(p[3]);
    }
  }
  return out;
}

MadePicture make_picture(const PictureJob& job, const std::atomic<bool>& stop) {
  MadePicture out{job.wall,           job.draped, {}, {}, std::nullopt, job.detail.value_or(LabelWindow{}),
                  job.contours.field, {}};
  if (job.contours.field)
    out.lines = contour_pieces(job.contours, stop);
  else if (job.detail)
    out.detail = make_detail(*job.draped, *job.detail);
  else
    out.raster = make_raster(*job.draped, job.before, out.now, stop);
  return out;
}

}  // namespace pontata
