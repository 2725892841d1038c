// Walls that close round themselves (a round tower, a tunnel, a room with a pier) are cut open along a line before they
// are charted.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/base/result.h"
#include "engine/wall/surface_mesh.h"

namespace pontata {

struct CutLine {
  Vec3 at{0, 0, 0};     // a place half way along it, building frame
  double length_m = 0;  // along the surface's edges
  bool loop = false;    // a cut round or through a bridge, not one from rim to rim
};

struct CutReport {
  std::vector<CutLine> lines;             // in the order they were made
  std::vector<std::string> says() const;  // in plain words for the painter, one sentence a line
};

// Cuts along existing edges; every point of a cut is doubled with the same bits (Chart::across_cut joins the two
// sides), new points come last, no triangle changes its place, and corner_normals stay as they are. A wall that needs
// no cut is left alone.
//
// What is cut: first every bridge or tunnel, along the shortest loop through or round it. Then a wall that goes all the
// way round, by the geodesic turning of its rims (Gauss and Bonnet: 2 pi for the outer rim of a disc, -2 pi for a
// window in it, 0 for the end of a tube). Rims that turn by less than half a round either way are ends of a tube,
// unless one rim turns like a disc's or the difference of two ends' lengths speaks for a dish rather than a tube (more
// than half of 2 pi times the way between them). The line from end to end keeps near the plane along the tube through
// `cut_at` (building frame, m; the nearest point of the wall), straight up where the tube stands upright; without it,
// on the -X side as a drum's, for a lying tube at its lowest. It may run through a window. Several ends: a line from
// each. Turning and lengths are taken on 64 chords, against the noise of a scan. Deterministic.
//
// Precondition: one sheet as scan intake makes it. Fails, with the place, where a bridge cannot be opened.
Result<CutReport> cut_round_walls(SurfaceMesh& mesh, const std::string& name, const std::optional<Vec3>& cut_at);

}  // namespace pontata
