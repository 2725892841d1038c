// Patches of scanned walls: noise, a computed chart, and a surface that is not ours.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/flatten/flattening.h"
#include "engine/flatten/local_width.h"
#include "tests/fixtures/charted_scans.h"
#include "tests/fixtures/scans.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

Ring blob(ChartPoint c, double r, int n) {
  Ring ring;
  for (int i = 0; i < n; ++i) {
    const double a = 2 * kPi * i / n, s = r * (1 + 0.15 * std::sin(3 * a));
    ring.push_back(to_lattice({c.u + s * std::cos(a), c.v + s * std::sin(a)}));
  }
  return ring;
}

}  // namespace

TEST_CASE("a patch of a rough scan is laid flat like the smooth vault under it") {
  auto sheet = cap_sheet(3, kPi / 9, 45);
  Dice dice(61);
  const WallRef smooth = scanned(sheet);
  for (auto& p : sheet.points) p *= 1 + dice.between(-0.002, 0.002) / 3;
  const WallRef rough = scanned(sheet);
  for (const WallRef& wall : {smooth, rough}) {
    const ChartPoint c = wall->address({0, 0, 3}).place;
    const Ring ring = blob(c, 0.5, 60);
    EdgeMeasure fair;  // on the smoothed surface
    for (std::size_t i = 0; i < ring.size(); ++i) fair += wall->metric->measure(ring[i], ring[(i + 1) % ring.size()]);
    const auto patch = make_patch(*wall, std::vector<Ring>{ring});
    REQUIRE(patch);
    const auto flat = flatten(*patch);
    REQUIRE(flat);
    CHECK_FALSE(flat->folded);
    double sum = 0;
    for (const Triangle& t : patch->triangles)
      sum += 0.5 * cross2(flat->flat[t[1]] - flat->flat[t[0]], flat->flat[t[2]] - flat->flat[t[0]]);
    INFO((wall == rough) << " strain " << flat->max_strain << " misfit " << flat->misfit_mm);
    CHECK(sum == Approx(fair.area_m2).epsilon(5e-3));
    // a disc of half a metre on R 3 m can't be laid flatter than 0.0023 (Milnor; alpha = 1/6)
    CHECK(flat->max_strain < 0.01);
    CHECK(flat->misfit_mm < 0.5);
  }
}

TEST_CASE("a piece of a scanned surface that is not ours is laid flat") {
  for (const char* name : {"elephant.off", "bunny00.off"}) {
    const Sheet whole = read_demo_mesh(name);
    if (whole.points.empty()) {
      WARN("libcgal-demo is not installed: " << name << " skipped");
      continue;
    }
    const Sheet piece = scaled_to(disc_round(whole, static_cast<std::uint32_t>(whole.points.size() / 3), 0.2), 3);
    const WallRef wall = scanned(piece);
    const ChartBox box = wall->chart->box();
    const auto patch = make_patch(*wall, std::vector<Ring>{blob(wall->chart->clamp({box.width / 2, box.height / 2}),
                                                                0.2 * std::min(box.width, box.height), 60)});
    if (!patch) FAIL(patch.problem().message());
    const auto flat = flatten(*patch);
    if (!flat) FAIL(flat.problem().message());
    CHECK(flat->max_strain < 0.1);
    CHECK_FALSE(flat->folded);
  }
}
