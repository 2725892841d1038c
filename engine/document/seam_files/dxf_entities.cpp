// Based on: "DXF Reference", Autodesk, 2012, chapter "ENTITIES Section" and, for what lies on the back of the plane,
// "Object Coordinate Systems (OCS)".
#include "engine/document/seam_files/dxf_entities.h"

#include <cmath>
#include <numbers>

namespace pontata {

namespace {

constexpr double kTurn = 2 * std::numbers::pi;

Problem broken() { return {"it holds something that is no number", "", "Save the drawing anew as ASCII DXF."}; }

// +1 or -1: the z of the plane it is drawn in; 0: another plane.
int facing(const DxfRecord& e, bool& sound) {
  const double x = e.number(210, 0, sound), y = e.number(220, 0, sound), z = e.number(230, 1, sound);
  if (std::hypot(x, y) > 1e-6 * std::abs(z)) return 0;
  return z > 0 ? 1 : z < 0 ? -1 : 0;
}

Vec2 place(const DxfRecord& e, int code, bool& sound) {
  return {e.number(code, 0, sound), e.number(code + 10, 0, sound)};
}

// A last point that comes back to the first is left out.
void close(DrawnLine& line) {
  line.closed = true;
  while (line.points.size() > 1 && glm::length(line.points.back() - line.points.front()) < 1e-9) line.points.pop_back();
}

DrawnLine arc(const DxfRecord& e, const Affine& map, double tolerance, bool& sound) {
  const Vec2 centre = place(e, 10, sound);
  const double radius = e.number(40, 0, sound);
  const bool whole = e.kind == "CIRCLE";
  const double from = whole ? 0 : e.number(50, 0, sound) * std::numbers::pi / 180;
  double sweep = whole ? kTurn : std::fmod(e.number(51, 0, sound) * std::numbers::pi / 180 - from, kTurn);
  if (sweep <= 0) sweep += kTurn;
  sound &= radius > 0;
  DrawnLine line{{}, false, true};
  const Affine round = map * Affine{radius, 0, 0, radius, centre.x, centre.y};
  line.points.push_back(round({std::cos(from), std::sin(from)}));
  add_arc(line.points, round, from, sweep, tolerance);
  if (whole) close(line);
  return line;
}

DrawnLine ellipse(const DxfRecord& e, const Affine& map, int side, double tolerance, bool& sound) {
  const Vec2 centre = place(e, 10, sound), major = place(e, 11, sound);
  const double ratio = e.number(40, 1, sound) * side, from = e.number(41, 0, sound);
  double sweep = e.number(42, kTurn, sound) - from;
  if (sweep <= 0) sweep += kTurn;
  sound &= glm::length(major) > 0 && ratio != 0 && sweep <= kTurn * (1 + 1e-9);
  DrawnLine line{{}, false, true};
  const Affine round = map * Affine{major.x, major.y, -major.y * ratio, major.x * ratio, centre.x, centre.y};
  line.points.push_back(round({std::cos(from), std::sin(from)}));
  add_arc(line.points, round, from, sweep, tolerance);
  if (sweep > kTurn - 1e-6) close(line);
  return line;
}

struct Corner {
  Vec2 place{0, 0};
  double bulge = 0;
};

DrawnLine joined(const std::vector<Corner>& corners, bool closed, bool turned, const Affine& map, double tolerance) {
  DrawnLine line;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    if (i == 0) line.points.push_back(map(corners[0].place));
    const bool last = i + 1 == corners.size();
    if (last && !closed) break;
    const Corner& next = corners[last ? 0 : i + 1];
    add_bulge(line.points, map(corners[i].place), map(next.place), turned ? -corners[i].bulge : corners[i].bulge,
              tolerance);
  }
  if (closed && !line.points.empty()) close(line);
  return line;
}

DrawnLine light_polyline(const DxfRecord& e, const Affine& map, bool turned, double tolerance, bool& sound) {
  std::vector<Corner> corners;
  for (const auto& group : e.groups) {
    if (group.code != 10 && group.code != 20 && group.code != 42) continue;
    const auto value = dxf_number(group.value);
    sound &= value.has_value() && (group.code == 10 || !corners.empty());
    if (!sound) return {};
    if (group.code == 10) corners.push_back({{*value, 0}, 0});
    if (group.code == 20) corners.back().place.y = *value;
    if (group.code == 42) corners.back().bulge = *value;
  }
  return joined(corners, (e.whole(70, 0, sound) & 1) != 0, turned, map, tolerance);
}

Result<DrawnLine> spline(const DxfRecord& e, const Affine& map, double tolerance, bool& sound) {
  Spline spline;
  spline.degree = e.whole(71, 3, sound);
  for (const auto& group : e.groups) {
    if (group.code != 10 && group.code != 20 && group.code != 40 && group.code != 41) continue;
    const auto value = dxf_number(group.value);
    if (!value || (group.code == 20 && spline.control.empty())) return broken();
    if (group.code == 10) spline.control.emplace_back(*value, 0);
    if (group.code == 20) spline.control.back().y = *value;
    if (group.code == 40) spline.knots.push_back(*value);
    if (group.code == 41) spline.weights.push_back(*value);
  }
  if (spline.control.empty())
    return Problem{"it is a spline by its fit points alone", "", "Save it with its control points, or as a polyline."};
  if (!spline.sound())
    return Problem{"its knots, weights and control points do not fit together", "", "Save it as a polyline."};
  for (auto& p : spline.control) p = map(p);
  DrawnLine line{spline_points(spline, tolerance), false, true};
  if (line.points.size() > 3 && glm::length(line.points.front() - line.points.back()) < 1e-6) {
    line.points.pop_back();
    line.closed = true;
  }
  return line;
}

}  // namespace

Result<DrawnLine> dxf_line(const DxfRecord& e, const Affine& map, double tolerance) {
  bool sound = true;
  const int side = facing(e, sound);
  if (side == 0)
    return Problem{"it does not lie in the plane of the drawing", "", "Turn it into the plane of x and y."};
  const Affine own = map * Affine{static_cast<double>(side), 0, 0, 1, 0, 0};  // of entities with a plane of their own
  Result<DrawnLine> line = DrawnLine{};
  if (e.kind == "LINE")
    line = DrawnLine{{map(place(e, 10, sound)), map(place(e, 11, sound))}, false, true};
  else if (e.kind == "ARC" || e.kind == "CIRCLE")
    line = arc(e, own, tolerance, sound);
  else if (e.kind == "ELLIPSE")
    line = ellipse(e, map, side, tolerance, sound);
  else if (e.kind == "SPLINE")
    line = spline(e, map, tolerance, sound);
  else if (e.kind == "LWPOLYLINE")
    line = light_polyline(e, own, side < 0, tolerance, sound);
  if (!sound) return broken();
  return line;
}

Result<DrawnLine> dxf_polyline(const DxfRecord& e, const std::vector<DxfRecord>& vertices, const Affine& map,
                               double tolerance) {
  constexpr int kClosed = 1, kMesh = 16 | 64, kFrame = 16;
  bool sound = true;
  const int side = facing(e, sound), flags = e.whole(70, 0, sound);
  if (side == 0)
    return Problem{"it does not lie in the plane of the drawing", "", "Turn it into the plane of x and y."};
  std::vector<Corner> corners;
  if ((flags & kMesh) == 0)
    for (const auto& vertex : vertices)
      if ((vertex.whole(70, 0, sound) & kFrame) == 0)
        corners.push_back({place(vertex, 10, sound), vertex.number(42, 0, sound)});
  if (!sound) return broken();
  const Affine own = map * Affine{static_cast<double>(side), 0, 0, 1, 0, 0};
  return joined(corners, (flags & kClosed) != 0, side < 0, own, tolerance);
}

}  // namespace pontata
