#include "engine/cartoon/seam_index.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace pontata;

namespace {

// A square of 4 m whose upper side is a seam of four steps. Its rim starts at the lower left.
Pattern below_seam() {
  Pattern p;
  const std::vector<Vec2> rim{{0, 0}, {4, 0}, {4, 4}, {3, 4}, {2, 4}, {1, 4}, {0, 4}};
  auto& steps = p.patch.rim_steps.emplace_back();
  p.patch.rims.emplace_back();
  for (std::size_t i = 0; i < rim.size(); ++i) {
    p.flat.flat.push_back(rim[i]);
    p.patch.rims[0].push_back(static_cast<std::uint32_t>(i));
    const auto at = [&](std::size_t k) { return to_lattice({rim[k % rim.size()].x, rim[k % rim.size()].y}); };
    steps.emplace_back(at(i), at(i + 1));
  }
  return p;
}

// The square above that seam, slit at the seam's middle down to its own middle. Its halves are turned apart by `open`.
Pattern above_seam(double open, bool slit) {
  Pattern p;
  const std::vector<Vec2> wall{{0, 4}, {1, 4}, {2, 4}, {2, 6}, {2, 4}, {3, 4}, {4, 4}, {4, 8}, {0, 8}};
  auto& steps = p.patch.rim_steps.emplace_back();
  p.patch.rims.emplace_back();
  for (std::size_t i = 0; i < wall.size(); ++i) {
    const double angle = i < 3 ? -open : i > 3 ? open : 0;
    const Vec2 d = wall[i] - Vec2{2, 6};
    p.flat.flat.push_back(
        Vec2{std::cos(angle) * d.x - std::sin(angle) * d.y, std::sin(angle) * d.x + std::cos(angle) * d.y});
    p.patch.rims[0].push_back(static_cast<std::uint32_t>(i));
    const auto at = [&](std::size_t k) { return to_lattice({wall[k % wall.size()].x, wall[k % wall.size()].y}); };
    steps.emplace_back(at(i), at(i + 1));
  }
  if (slit) p.patch.slits.push_back({.rim = 0, .left = 4, .tip = 3, .right = 2});
  return p;
}

}  // namespace

TEST_CASE("seams are compared between the mouths of cuts, also where a pattern has one cut only") {
  const Pattern below = below_seam();
  for (const bool slit : {true, false}) {
    const Pattern above = above_seam(0.05, slit);
    SeamIndex seams;
    seams.add(below), seams.add(above);
    if (slit) {
      CHECK(seams.mismatch(below) < 1e-9);
      continue;
    }
    CHECK(seams.mismatch(below) > 10);  // mm
  }
}

TEST_CASE("a seam bent on one of its prints is told from either side") {
  Pattern below = below_seam();
  below.flat.flat[4].y += 0.003;
  const Pattern above = above_seam(0, false);
  SeamIndex seams;
  seams.add(below), seams.add(above);
  CHECK(seams.mismatch(below) > 1);
  CHECK(seams.mismatch(below) < 3);
}
