#include "engine/seams/partition_edit.h"

#include <algorithm>
#include <map>
#include <set>

#include "engine/base/crossing.h"
#include "engine/base/predicates.h"
#include "engine/seams/network_snap.h"
#include "engine/seams/ring_claim.h"

namespace pontata {

namespace {

LatticePoint low_of(LatticePoint a, LatticePoint b) { return {std::min(a.x, b.x), std::min(a.y, b.y)}; }
LatticePoint high_of(LatticePoint a, LatticePoint b) { return {std::max(a.x, b.x), std::max(a.y, b.y)}; }

double along(LatticePoint a, LatticePoint b, LatticePoint p) {
  return static_cast<double>(p.x - a.x) * static_cast<double>(b.x - a.x) +
         static_cast<double>(p.y - a.y) * static_cast<double>(b.y - a.y);
}

// Lines cut where they cross seams, and the seams' courses through those places.
struct Crossed {
  std::vector<Stretch> stretches;
  Courses courses;
};

Crossed cross_seams(const Network& network, std::span<const std::vector<LatticePoint>> lines) {
  Crossed out;
  std::map<SeamId, std::set<LatticePoint>> through;
  std::set<Stretch> seen;
  for (const auto& line : lines)
    for (std::size_t k = 0; k + 1 < line.size(); ++k) {
      const LatticePoint p = line[k], q = line[k + 1];
      std::vector<LatticePoint> way{p};
      for (const SeamId s : network.seams_near(low_of(p, q), high_of(p, q))) {
        const LatticePoint a = network.origin({s.value << 1}), b = network.target({s.value << 1});
        if (!segments_cross(p, q, a, b)) continue;
        const LatticePoint at = on_seam(a, b, rounded_crossing(p, q, a, b));
        if (at != a && at != b) through[s].insert(at);
        way.push_back(at);
      }
      way.push_back(q);
      std::sort(way.begin() + 1, way.end() - 1,
                [&](LatticePoint x, LatticePoint y) { return along(p, q, x) < along(p, q, y); });
      for (std::size_t i = 0; i + 1 < way.size(); ++i)
        if (way[i] != way[i + 1] && seen.insert(std::minmax(way[i], way[i + 1])).second)
          out.stretches.push_back({way[i], way[i + 1]});
    }
  for (const auto& [s, places] : through) {
    const LatticePoint a = network.origin({s.value << 1}), b = network.target({s.value << 1});
    std::vector<LatticePoint> course(places.begin(), places.end());
    std::sort(course.begin(), course.end(),
              [&](LatticePoint x, LatticePoint y) { return along(a, b, x) < along(a, b, y); });
    course.insert(course.begin(), a);
    course.push_back(b);
    out.courses[s] = std::move(course);
  }
  return out;
}

// Pieces of an owner that came off its largest go to a neighbour.
void give_pieces(NetworkEditor& editor, const std::set<GiornataId>& owners, const Chart* chart) {
  for (const GiornataId owner : owners) {
    const auto pieces = pieces_of(editor.network(), editor.network().faces_of(owner), chart);
    for (std::size_t k = 1; k < pieces.size(); ++k)
      for (const FaceId face : pieces[k].faces)
        if (const auto other = nearest_owner(editor.network(), face); other && owners.contains(*other))
          editor.set_owner(face, *other);
  }
}

}  // namespace

Result<Network> lay_partition(const Network& network, std::span<const std::vector<LatticePoint>> lines,
                              const std::function<GiornataId(ChartPoint)>& owner_of, const EdgeMeter& meter,
                              const Chart* chart) {
  const Crossed crossed = cross_seams(network, lines);
  const Wanted rest = [&](FaceId f) { return f != Network::kOutside && !network.face(f).owner; };
  auto laid = lay_line(network, meter, crossed.courses, crossed.stretches, rest);
  if (!laid) return too_close();
  NetworkEditor& editor = laid->editor;
  if (!editor.settle() || !editor.measure_new()) return too_close();
  std::set<GiornataId> owners;
  for (const FaceId face : editor.network().faces_of(GiornataId{}))
    if (const GiornataId owner = owner_of(editor.network().place_inside(face))) {
      editor.set_owner(face, owner);
      owners.insert(owner);
    }
  give_pieces(editor, owners, chart);
  std::vector<FaceId> faces;
  for (const GiornataId owner : owners)
    for (const FaceId face : editor.network().faces_of(owner)) faces.push_back(face);
  if (!open_seams(editor, idle_seams(editor.network(), faces))) return too_close();
  return editor.take();
}

}  // namespace pontata
