// What is drawn of one wall, as plain data: its surface, the faces of its giornate, and its lines.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include "editor/view/label_map.h"
#include "engine/document/document.h"

namespace pontata {

struct SurfaceVertex {
  std::array<float, 3> place;   // m, relative to the drawing's origin
  std::array<float, 3> facing;  // unit, toward the painter
  std::array<float, 2> chart;   // m
};
// A vertex per pair of point and normal; triangles as in the wall. O(n).
struct SurfaceDrawing {
  Vec3 origin{0, 0, 0};
  std::vector<SurfaceVertex> vertices;
  std::vector<std::uint32_t> indices;
};
SurfaceDrawing draw_surface(const ChartedWall& wall);

// One straight piece of a line that lies on the wall.
struct LinePiece {
  std::array<float, 3> from_place, to_place;  // relative to the same origin
  std::array<float, 2> from_chart, to_chart;
  float along = 0;  // chart m along the line, for dashes
  std::array<float, 3> facing;
};
using LinePieces = std::vector<LinePiece>;

// The same lines in fewer pieces: pieces that follow one another are joined while what they pass through lies within
// `tolerance` (m) of the joined piece. O(n).
LinePieces merged(const LinePieces& pieces, double tolerance);

// heat0 to heat3: how much a seam shows from an eye point (engine/review/heat_line.h); pointed: what a finding is about.
enum class LineLayer {
  border,
  squares,
  contours,
  seams,
  today,
  keep_whole,
  detail,
  chosen,
  heat0,
  heat1,
  heat2,
  heat3,
  pointed
};
inline constexpr std::size_t kLineLayers = 13;

// Follows the surface over each chart segment of a ring or open line.
void add_line(LinePieces& out, const ChartedWall& wall, const Vec3& origin, std::span<const LatticePoint> line,
              bool closed);

struct NetworkDrawing {
  std::vector<LabelledFace> faces;            // giornate only
  std::array<LinePieces, kLineLayers> lines;  // by LineLayer
};
// `giornate` gives the states; `chosen` may be empty. O(seams + crossings with the wall's triangles).
NetworkDrawing draw_network(const WallItem& item, std::span<const Giornata> giornate,
                            std::span<const GiornataId> chosen, const Vec3& origin);

}  // namespace pontata
