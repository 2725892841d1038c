// Scans with a scanner's noise against the closed forms of the surfaces under it: area, coat, seams, up to the border.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <string>

#include "engine/chart/parameterise.h"
#include "tests/fixtures/layouts.h"
#include "tests/fixtures/noisy_scans.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kCoat = 0.015;  // m

struct Scan {
  Piece piece;
  WallRef wall;
  bool outside = false;

  double coat_below(double t) const { return outside ? -piece.coat_below(t, -kCoat) : piece.coat_below(t, kCoat); }
  Vec2 nearest(const WallPoint& p) const { return piece.nearest(position(wall->mesh(), p)); }
};

// The real way: clean_scan, parameterise, certify, metric.
Scan take(const Piece& piece, double step, std::uint64_t seed, bool outside) {
  const auto sheet = noisy_scan(piece, step, 0.001, seed);
  ScanOptions options;
  options.y_up = false;
  options.flip = outside;
  auto scan = clean_scan(sheet.points, sheet.triangles, piece.name, options).value();
  const auto mesh = std::make_shared<const SurfaceMesh>(std::move(scan.mesh));
  return {piece, chart_wall(mesh, parameterise(*mesh, piece.name).value(), piece.name, true).value(), outside};
}

// Chart place of (s, t); beyond the piece's ends the chart is carried on straight.
ChartPoint chart_place(const Scan& scan, double s, double t) {
  const Piece& p = scan.piece;
  const auto carry_on = [&](double x, double most, auto&& at) -> ChartPoint {
    const double over = x < 0 ? x : (x > most ? x - most : 0);
    if (over == 0) return at(x);
    const double edge = x - over;
    const ChartPoint near = at(edge - over), far = at(edge - 3 * over);
    return {2 * near.u - far.u, 2 * near.v - far.v};
  };
  return carry_on(s, p.width, [&](double x) {
    return carry_on(t, p.height, [&](double y) { return scan.wall->address(p.place(x, y)).place; });
  });
}

struct Box {
  double s0, t0, s1, t1;
};

std::vector<ChartPoint> outline(const Scan& scan, const Box& box) {
  std::vector<ChartPoint> line;
  const auto side = [&](double s0, double t0, double s1, double t1) {
    const int n = static_cast<int>(std::ceil(std::hypot(s1 - s0, t1 - t0) / 0.05));
    for (int i = 0; i < n; ++i) line.push_back(chart_place(scan, s0 + (s1 - s0) * i / n, t0 + (t1 - t0) * i / n));
  };
  side(box.s0, box.t0, box.s1, box.t0), side(box.s1, box.t0, box.s1, box.t1);
  side(box.s1, box.t1, box.s0, box.t1), side(box.s0, box.t1, box.s0, box.t0);
  if (scan.outside) std::reverse(line.begin(), line.end());
  return line;
}

struct Amount {
  double area = 0, coat = 0;
};

// What the surface without noise holds inside a rim of the chart, its places brought to that surface: where the scan
// itself ends off by a millimetre, the wall that it shows ends there. Green's theorem in (s, t), Simpson's rule.
Amount inside_rim(const Scan& scan, const Ring& ring) {
  std::vector<Vec2> line;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const auto way = scan.wall->metric->trace(ring[i], ring[(i + 1) % ring.size()]);
    for (std::size_t k = 0; k + 1 < way.size(); ++k) line.push_back(scan.nearest(way[k]));
  }
  Amount sum;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const Vec2 a = line[i], b = line[(i + 1) % line.size()];
    const double middle = 0.5 * (a.y + b.y), step = scan.outside ? b.x - a.x : a.x - b.x;
    sum.area +=
        step / 6 * (scan.piece.area_below(a.y) + 4 * scan.piece.area_below(middle) + scan.piece.area_below(b.y));
    sum.coat += step / 6 * (scan.coat_below(a.y) + 4 * scan.coat_below(middle) + scan.coat_below(b.y));
  }
  return sum;
}

Amount nominal(const Scan& scan, const Box& box) {
  const double s = std::min(box.s1, scan.piece.width) - std::max(box.s0, 0.0);
  const double low = std::max(box.t0, 0.0), high = std::min(box.t1, scan.piece.height);
  return {s * (scan.piece.area_below(high) - scan.piece.area_below(low)),
          s * (scan.coat_below(high) - scan.coat_below(low))};
}

double per_cent(double measured, double exact) { return 100 * (measured / exact - 1); }

// m on the surface of the line straight in (s, t), midpoint rule.
double exact_length(const Piece& piece, Vec2 from, Vec2 to) {
  constexpr int n = 2000;
  double sum = 0;
  for (int i = 0; i < n; ++i)
    sum +=
        std::hypot((to.x - from.x) * piece.width_factor(from.y + (to.y - from.y) * (i + 0.5) / n), to.y - from.y) / n;
  return sum;
}

// m round the box, as far as it lies on the piece.
double exact_rim(const Scan& scan, const Box& box) {
  const Vec2 low{std::max(box.s0, 0.0), std::max(box.t0, 0.0)};
  const Vec2 high{std::min(box.s1, scan.piece.width), std::min(box.t1, scan.piece.height)};
  return exact_length(scan.piece, low, {high.x, low.y}) + exact_length(scan.piece, {low.x, high.y}, high) +
         2 * (high.y - low.y);
}

double raw_rim(const Scan& scan, const Ring& ring) {
  double sum = 0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const auto way = scan.wall->metric->trace(ring[i], ring[(i + 1) % ring.size()]);
    for (std::size_t k = 1; k < way.size(); ++k)
      sum += glm::length(position(scan.wall->mesh(), way[k]) - position(scan.wall->mesh(), way[k - 1]));
  }
  return sum;
}

// One giornata over the box through the network; prints a row and checks it.
void check_giornata(const Scan& scan, const std::string& where, const Box& box, double nominal_limit) {
  auto network = Network::from_border(scan.wall->chart->border_rings(), scan.wall->metric->meter());
  REQUIRE(network.ok());
  layouts::Layout layout{scan.wall, *network, {}};
  layouts::add(layout, outline(scan, box));
  const auto measure = layout.measure().giornate.at(0);
  const auto rings = layout.network.rings(layout.network.faces_of(GiornataId{1}).at(0));
  REQUIRE(rings.size() == 1);
  const Amount exact = inside_rim(scan, rings[0]), drawn = nominal(scan, box);
  const double coat = coat_volume(measure.area_m2, measure.bend_m, measure.gauss, kCoat);
  std::printf("  %-16s %7.4f m2  area %+.3f %% (drawn %+.3f %%)  coat %+.3f %% (drawn %+.3f %%)\n", where.c_str(),
              exact.area, per_cent(measure.area_m2, exact.area), per_cent(measure.area_m2, drawn.area),
              per_cent(coat, exact.coat), per_cent(coat, drawn.coat));
  const double rim = exact_rim(scan, box);
  std::printf("  %-16s %7.4f m   length %+.3f %%  raw %+.3f %%\n", "  its rim", rim, per_cent(measure.perimeter_m, rim),
              per_cent(raw_rim(scan, rings[0]), rim));
  CHECK(measure.perimeter_m == Approx(rim).epsilon(2e-3));
  CHECK(measure.area_m2 == Approx(exact.area).epsilon(1e-3));
  CHECK(coat == Approx(exact.coat).epsilon(1e-3));
  CHECK(measure.area_m2 == Approx(drawn.area).epsilon(nominal_limit));
  CHECK(coat == Approx(drawn.coat).epsilon(nominal_limit));
}

// A seam along the line straight in (s, t), given every 60 mm.
void check_seam(const Scan& scan, const std::string& where, Vec2 from, Vec2 to) {
  const int n = std::max(1, static_cast<int>(std::hypot(to.x - from.x, to.y - from.y) / 0.06));
  double length = 0, raw = 0;
  std::vector<WallPoint> ends;
  LatticePoint last;
  for (int i = 0; i <= n; ++i) {
    const Vec2 p = from + (to - from) * (double(i) / n);
    const auto here = to_lattice(scan.wall->address(scan.piece.place(p.x, p.y)).place);
    if (i > 0) {
      length += scan.wall->metric->measure(last, here).length_m;
      const auto way = scan.wall->metric->trace(last, here);
      for (std::size_t k = 1; k < way.size(); ++k)
        raw += glm::length(position(scan.wall->mesh(), way[k]) - position(scan.wall->mesh(), way[k - 1]));
      if (i == 1) ends.push_back(way.front());
      if (i == n) ends.push_back(way.back());
    }
    last = here;
  }
  const double exact = exact_length(scan.piece, scan.nearest(ends[0]), scan.nearest(ends[1]));
  std::printf("  %-16s %7.4f m   length %+.3f %%  raw %+.3f %%\n", where.c_str(), exact, per_cent(length, exact),
              per_cent(raw, exact));
  CHECK(length == Approx(exact).epsilon(2e-3));
}

void check_scan(const Scan& scan, double step, std::uint64_t seed) {
  const double w = scan.piece.width, h = scan.piece.height;
  const Amount exact = nominal(scan, {0, 0, w, h});
  const double raw = scan.wall->metric->raw_area();
  std::printf("%s R 0.5 m, painted %s, sides near %.0f mm, seed %d: raw area %+.2f %%, raw area x 15 mm %+.2f %%\n",
              scan.piece.name.c_str(), scan.outside ? "outside" : "inside", 1000 * step, static_cast<int>(seed),
              per_cent(raw, exact.area), per_cent(raw * kCoat, exact.coat));
  CHECK(raw > 1.005 * exact.area);
  constexpr double kBeyond = 0.02;
  // Where a giornata ends with the scan, the scan's own end scatters by a millimetre: three deviations of that.
  const double scatter = 3 * 0.001 * std::sqrt(step) / 0.25;
  check_giornata(scan, "whole", {-kBeyond, -kBeyond, w + kBeyond, h + kBeyond}, 1e-3);
  check_giornata(scan, "inside", {0.2, 0.2, 0.7, 0.7}, 1e-3);
  check_giornata(scan, "in a corner", {-kBeyond, -kBeyond, 0.5, 0.5}, 1e-3 + scatter);
  check_giornata(scan, "along one side", {0.2, -kBeyond, 0.7, 0.5}, 1e-3 + scatter);
  check_giornata(scan, "along another", {w - 0.5, 0.2, w + kBeyond, 0.7}, 1e-3 + scatter);
  check_seam(scan, "seam across", {0, h / 2}, {w, h / 2});
  check_seam(scan, "seam up", {w / 2, 0}, {w / 2, h});
  check_seam(scan, "seam slanting", {0, 0}, {w, h});
  check_seam(scan, "half a metre", {0.3, 0.2}, {0.3, 0.7});
  check_seam(scan, "10 mm inside", {0, 0.01}, {w, 0.01});
  check_seam(scan, "10 mm inside", {0.01, 0}, {0.01, h});
}

}  // namespace

TEST_CASE("area and coat of a noisy scan are right to 0.1 %, seams to 0.2 %, up to the border") {
  // Radii of 0.5 m, noise of 1 mm on every coordinate. Closed forms: cylinder, spherical zone, torus (Pappus); coats as
  // shells between them and their parallel surfaces. "drawn": against the outline as drawn, the piece's true ends.
  const std::vector<Piece> pieces{cylinder_piece(0.5, 1.0, 1.0), sphere_piece(0.5, 1.0, 0.9),
                                  torus_piece(1.5, 0.5, 0.7, 1.1, 1.0)};
  std::uint64_t seed = 0;
  for (const double step : {0.012, 0.017})
    for (const Piece& piece : pieces) {
      const bool outside = ++seed % 2 == 0;
      check_scan(take(piece, step, seed, outside), step, seed);
    }
}
