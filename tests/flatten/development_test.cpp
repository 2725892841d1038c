// Seams developed into the plane, and patches slit from their rim.
#include "engine/flatten/development.h"

#include <catch2/catch.hpp>
#include <numbers>

#include "tests/fixtures/layouts.h"

using namespace pontata;

namespace {

constexpr double kPi = std::numbers::pi;

std::vector<std::vector<bool>> breaks_at(const Patch& patch, const std::vector<LatticePoint>& places) {
  std::vector<std::vector<bool>> out;
  for (std::size_t r = 0; r < patch.rims.size(); ++r) {
    out.emplace_back(patch.rims[r].size(), false);
    for (std::size_t i = 0; i < patch.rims[r].size(); ++i)
      for (const LatticePoint p : places)
        if (patch.rim_steps[r][i].first == p) out[r][i] = true;
  }
  return out;
}

Ring ring_of(const std::vector<ChartPoint>& places) {
  Ring ring;
  for (const ChartPoint p : places) ring.push_back(to_lattice(p));
  return ring;
}

double turning_of(const std::vector<Vec2>& line) {
  double sum = 0;
  for (std::size_t i = 1; i + 1 < line.size(); ++i)
    sum += std::atan2(cross2(line[i] - line[i - 1], line[i + 1] - line[i]),
                      glm::dot(line[i] - line[i - 1], line[i + 1] - line[i]));
  return sum;
}

}  // namespace

TEST_CASE("a seam is developed to the same bits from either side") {
  const auto layout = layouts::on(layouts::dome(3, 1.5), 1e-3);
  const double c = layout.wall->chart->box().width / 2;
  const std::vector<ChartPoint> seam{{c, c - 0.4}, {c + 0.1, c - 0.1}, {c - 0.05, c + 0.1}, {c, c + 0.4}};
  std::vector<ChartPoint> left = seam, right(seam.rbegin(), seam.rend());
  left.insert(left.end(), {{c - 0.5, c + 0.4}, {c - 0.5, c - 0.4}});
  right.insert(right.end(), {{c + 0.5, c - 0.4}, {c + 0.5, c + 0.4}});
  std::vector<std::vector<Vec2>> shapes;
  for (const auto& outline : {left, right}) {
    const auto patch = make_patch(*layout.wall, std::vector<Ring>{ring_of(outline)});
    REQUIRE(patch);
    const auto runs =
        developed_rims(*layout.wall, *patch, breaks_at(*patch, {to_lattice(seam.front()), to_lattice(seam.back())}));
    REQUIRE(runs.open.empty());
    REQUIRE(runs.runs.size() == 2);
    const LatticePoint from = to_lattice(outline.front());
    for (const HeldRun& run : runs.runs)
      if (patch->rim_steps[0][run.first].first == from) shapes.push_back(run.shape);
  }
  REQUIRE(shapes.size() == 2);
  std::reverse(shapes[1].begin(), shapes[1].end());
  CHECK(shapes[0] == shapes[1]);
}

// Geodesic curvature of a circle at distance s round a point of a sphere: cot(s / R) / R (do Carmo, "Differential
// Geometry of Curves and Surfaces", section 4-4).
TEST_CASE("a circle on a sphere is developed with its geodesic curvature") {
  const double r = 2;
  const auto layout = layouts::on(layouts::dome(2 * r, r), 1e-4);
  const double c = layout.wall->chart->box().width / 2, s = 0.8;
  std::vector<ChartPoint> disc;
  constexpr int kCorners = 240;
  for (int k = 0; k < kCorners; ++k)
    disc.push_back({c + s * std::cos(2 * kPi * k / kCorners), c + s * std::sin(2 * kPi * k / kCorners)});
  const auto patch = make_patch(*layout.wall, std::vector<Ring>{ring_of(disc)});
  REQUIRE(patch);
  const auto open = developed_rims(*layout.wall, *patch, {});
  CHECK(open.runs.empty());
  CHECK(open.open.size() == 1);  // it does not close
  const auto runs =
      developed_rims(*layout.wall, *patch, breaks_at(*patch, {to_lattice(disc[0]), to_lattice(disc[kCorners / 2])}));
  REQUIRE(runs.runs.size() == 2);
  for (const HeldRun& run : runs.runs) {
    double length = 0;
    for (std::size_t i = 1; i < run.shape.size(); ++i) length += glm::distance(run.shape[i - 1], run.shape[i]);
    CHECK(length == Approx(kPi * r * std::sin(s / r)).epsilon(1e-4));
    // Half a circle less the turning at its two ends, half a step each.
    const double whole = kPi * std::cos(s / r), steps = static_cast<double>(run.shape.size() - 1);
    CHECK(turning_of(run.shape) == Approx(whole * (steps - 1) / steps).epsilon(2e-3));
  }
}

TEST_CASE("a slit doubles the rim along its line and leaves the wall's area") {
  const auto layout = layouts::on(layouts::dome(3, 1.5), 1e-3);
  const double c = layout.wall->chart->box().width / 2;
  const std::vector<Ring> rings{
      ring_of({{c - 0.3, c - 0.3}, {c + 0.3, c - 0.3}, {c + 0.3, c + 0.3}, {c - 0.3, c + 0.3}})};
  const auto area = [](const Patch& p) {
    double sum = 0;
    for (const Triangle& t : p.triangles)
      sum += 0.5 * glm::length(glm::cross(p.points[t[1]] - p.points[t[0]], p.points[t[2]] - p.points[t[0]]));
    return sum;
  };
  const auto plain = make_patch(*layout.wall, rings);
  REQUIRE(plain);
  PatchOptions options;
  const auto middle = std::find_if(plain->rim_steps[0].begin(), plain->rim_steps[0].end(), [&](const auto& step) {
    return std::abs(to_chart(step.first).u - c) < 0.02 && to_chart(step.first).v < c;
  });
  REQUIRE(middle != plain->rim_steps[0].end());
  options.slits.push_back({middle->first, {to_lattice({c, c - 0.15}), to_lattice({c + 0.05, c})}, {}});
  const auto slit = make_patch(*layout.wall, rings, options);
  REQUIRE(slit);
  REQUIRE(slit->slits.size() == 1);
  const SlitPlace at = slit->slits[0];
  const auto& rim = slit->rims[at.rim];
  CHECK(slit->rims.size() == 1);
  CHECK(at.tip - at.left == at.right - at.tip);
  CHECK(at.tip - at.left >= 10);
  for (std::uint32_t k = 0; k <= at.tip - at.left; ++k)
    CHECK(glm::distance(slit->points[rim[at.left + k]], slit->points[rim[at.right - k]]) < 1e-5);
  CHECK(area(*slit) == Approx(area(*plain)).epsilon(1e-5));
  // Both steps beside the mouth are those of the rim without a slit.
  CHECK(slit->rim_steps[0][(at.left + rim.size() - 1) % rim.size()].second == middle->first);
  CHECK(slit->rim_steps[0][at.right].first == middle->first);
  // An opened one leaves out wall of its width.
  options.slits[0].open_m = {0.02, 0.01};
  const auto open = make_patch(*layout.wall, rings, options);
  REQUIRE(open);
  REQUIRE(open->slits.size() == 1);
  CHECK(area(*plain) - area(*open) == Approx(0.5 * (0.02 + 0.01) * 0.15 + 0.5 * 0.01 * 0.158).epsilon(0.06));
}
