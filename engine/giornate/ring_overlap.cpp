#include "engine/giornate/ring_overlap.h"

#include <polyclipping/clipper.hpp>

namespace pontata {

namespace {

ClipperLib::Paths to_paths(std::span<const Ring> rings) {
  ClipperLib::Paths paths;
  for (const Ring& ring : rings) {
    ClipperLib::Path path;
    for (const LatticePoint& p : ring) path.emplace_back(p.x, p.y);
    paths.push_back(std::move(path));
  }
  return paths;
}

std::vector<Ring> combine(std::span<const Ring> a, std::span<const Ring> b, ClipperLib::ClipType how) {
  ClipperLib::Clipper clipper;
  clipper.AddPaths(to_paths(a), ClipperLib::ptSubject, true);
  clipper.AddPaths(to_paths(b), ClipperLib::ptClip, true);
  ClipperLib::Paths paths;
  clipper.Execute(how, paths, ClipperLib::pftEvenOdd, ClipperLib::pftEvenOdd);
  std::vector<Ring> rings;
  for (const ClipperLib::Path& path : paths) {
    Ring ring;
    for (const ClipperLib::IntPoint& p : path) ring.push_back({p.X, p.Y});
    rings.push_back(std::move(ring));
  }
  return rings;
}

}  // namespace

std::vector<Ring> overlap(std::span<const Ring> a, std::span<const Ring> b) {
  return combine(a, b, ClipperLib::ctIntersection);
}
std::vector<Ring> without(std::span<const Ring> a, std::span<const Ring> b) {
  return combine(a, b, ClipperLib::ctDifference);
}

}  // namespace pontata
