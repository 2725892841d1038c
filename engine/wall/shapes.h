// Walls with a closed form: frames and charts as in the table of DEVELOPERS.md ("Shapes and their charts").
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/lattice.h"
#include "engine/base/result.h"
#include "engine/wall/surface_mesh.h"

namespace pontata {

enum class ShapeKind {
  flat,
  barrel,
  elliptical_barrel,
  pointed_barrel,
  groin,
  cloister,
  sail,
  dome,
  apse,
  drum,
  lunette,
  pendentive,
  cone,
  annular
};

// Trade measures, lengths in metres; those a shape does not use stay 0.
//   flat: width, height.
//   barrel: span, length, rise (rise = span/2 semicircular, less segmental).
//   elliptical-barrel: span, length, rise (half an ellipse, upright at the springing).
//   pointed-barrel: span, length, radius of its two arcs, at least span/2 (radius = span: equilateral).
//   groin, cloister: span, length, rise (at most span/2). The profile over the span is that of a barrel; over the
//     length it is the same profile drawn out, so that the arrises stand over the diagonals of the plan.
//   sail: side of its square plan; the sphere stands on the four corners.
//   dome: span, rise (rise = span/2 a hemisphere).
//   apse: span, height (drum), half dome of radius span/2 above.
//   drum: span, height, angle of the turn (360: all round).
//   lunette: span, rise (at most span/2).
//   pendentive: side of the square plan under the dome; one of the four.
//   cone: span at the foot, top_span, height, angle.
//   annular: inner and outer radius in plan, angle; semicircular section.
struct ShapeSpec {
  ShapeKind kind = ShapeKind::flat;
  double width = 0, height = 0, span = 0, length = 0, rise = 0;
  double radius = 0, side = 0, top_span = 0, inner = 0, outer = 0;  // m
  double angle_deg = 0;
};

// One measure as the trade calls it: its word ("top-span"; also the flag of the command line and the key in a project),
// where it is kept, and what it is, in plain words.
struct ShapeMeasure {
  std::string_view name;
  double ShapeSpec::*value;
  bool is_angle;  // degrees, otherwise metres
  std::string_view help;
};
std::span<const ShapeMeasure> shape_measures();         // all there are
const ShapeMeasure& shape_measure(std::string_view name);  // precondition: there is one

// Where the wall's own frame stands in the building.
struct Placement3 {
  Vec3 at{0, 0, 0};     // m
  double turn_deg = 0;  // about +z, counter-clockwise seen from above
};
Vec3 apply(const Placement3& placement, const Vec3& own);
Vec3 apply_direction(const Placement3& placement, const Vec3& own);

std::string_view shape_name(ShapeKind kind);
std::span<const ShapeKind> all_shapes();                    // in the order of the trade's lists
Result<ShapeKind> shape_named(std::string_view name);       // unknown: a Problem listing the known ones
std::vector<std::string_view> measures_of(ShapeKind kind);  // what the shape needs: {"span", "length", "rise"}

// Refuses non-finite, non-positive or impossible measures (a barrel's rise above half its span, a side above 500 m).
Outcome validate(const ShapeSpec& spec);

struct ShapeMesh {
  SurfaceMesh mesh;
  std::vector<Vec2> address;  // chart place of every point, m, origin at the lower left of the chart's box
};

// Chord tolerance in m used when none is given: min(0.1 mm, 5e-5 x least radius), or as much more as keeps a huge wall
// to two million triangles; a cone or annular vault that narrows to almost nothing keeps to 5e-6 x its greatest radius.
double default_tolerance(const ShapeSpec& spec);

// Triangles with every vertex exactly on the surface and exact unit normals; greatest distance of a chord from the
// surface at most `tolerance` (m). The area's error falls in proportion to the tolerance.
ShapeMesh tessellate(const ShapeSpec& spec, const Placement3& placement, double tolerance);

// m^2, from the closed form of the named shape.
double closed_form_area(const ShapeSpec& spec);

}  // namespace pontata
