// A wall's surface made ready for drawing: in pieces that are left out while they are out of view, and at several
// degrees of detail. Only for the eye: measures, picking and lines stay on the true surface.
//
// Every level is one whole surface of its own, so that a wall drawn at any one level has no cracks between its pieces.
#pragma once

#include <atomic>

#include "editor/view/wall_drawing.h"

namespace pontata {

// A run of triangles that lie close together.
struct SurfacePiece {
  std::uint32_t first = 0, count = 0;      // indices, into the whole of SurfaceLevels::drawing
  Vec3 low{0, 0, 0}, high{0, 0, 0};        // m, box relative to the drawing's origin
  Vec2 chart_low{0, 0}, chart_high{0, 0};  // chart m
  Vec3 facing{0, 0, 0};                    // unit, toward the painter; mean of the triangles
  double turn = 2;                         // sine of the greatest angle to `facing`; 2 when it is 90 degrees or more
};

struct SurfaceLevel {
  // m: 99 in 100 places of the true surface lie nearer to it, and their picture is moved by less; the others within
  // three times that. 0: it is the true surface.
  double error = 0;
  std::vector<SurfacePiece> pieces;
  std::size_t triangles = 0;
};

struct SurfaceLevels {
  SurfaceDrawing drawing;            // of all levels, one after another
  std::vector<SurfaceLevel> levels;  // finest first; at least one
};

// The surface as it comes, as one piece at one level. O(n).
SurfaceLevels one_level(SurfaceDrawing surface);

inline constexpr std::size_t kFewTriangles = 20'000;  // no level is made of a surface with fewer

// The true surface in pieces, then levels of a third of the triangles each. Based on: Garland and Heckbert, "Surface
// Simplification Using Quadric Error Metrics", 1997, as in the meshoptimizer library; the vertices that remain are
// vertices of the true surface, at their places and chart places, so that a picture stays where it lies. About 1.5 s
// for each million triangles; the error of each level is measured. Ends early, with fewer levels, when `stop` becomes
// true.
SurfaceLevels make_levels(const SurfaceDrawing& surface, const std::atomic<bool>& stop);

}  // namespace pontata
