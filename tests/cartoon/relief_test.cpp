// Patterns cut where the wall is curved: seams keep their lengths and their form on both prints, cuts keep out of
// faces.
#include <catch2/catch.hpp>
#include <map>
#include <numbers>

#include "engine/base/predicates.h"
#include "engine/cartoon/pattern.h"
#include "engine/cartoon/seam_index.h"
#include "tests/fixtures/cartoons.h"
#include "tests/fixtures/charted_scans.h"
#include "tests/fixtures/scans.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

std::vector<std::vector<Pattern>> all_patterns(const CartoonInput& input) {
  WallPlans plans(input.walls[0], 1.5);
  std::vector<std::vector<Pattern>> out;
  for (const CartoonGiornata& g : input.walls[0].giornate) {
    auto made = make_patterns(input.walls[0], g, nullptr, &plans);
    if (!made) FAIL(made.problem().message());
    out.push_back(std::move(*made));
  }
  return out;
}

double cross_angle(Vec2 a, Vec2 b) { return std::atan2(cross2(a, b), glm::dot(a, b)); }

std::vector<bool> lips_of(const Patch& patch, std::size_t rim) {
  std::vector<bool> out(patch.rims[rim].size(), false);
  for (const SlitPlace& s : patch.slits)
    if (s.rim == rim)
      for (std::size_t i = s.left; i != s.right; i = (i + 1) % out.size()) out[i] = true;
  return out;
}

// The place on the wall of a mark, from where it lies along the printed rim.
Vec3 on_wall(const Pattern& p, const MatchMark& mark) {
  double least = 1e300;
  Vec3 place{0, 0, 0};
  for (std::size_t r = 0; r < p.outline.size(); ++r) {
    const auto& line = p.outline[r];
    for (std::size_t i = 0; i < line.size(); ++i) {
      const std::size_t j = (i + 1) % line.size();
      const Vec2 d = line[j] - line[i];
      const double t = std::clamp(glm::dot(mark.at - line[i], d) / std::max(glm::dot(d, d), 1e-12), 0.0, 1.0);
      const double distance = glm::distance(mark.at, line[i] + t * d);
      if (distance < least) {
        least = distance;
        const auto& rim = p.patch.rims[r];
        place = p.patch.points[rim[i]] + t * (p.patch.points[rim[j]] - p.patch.points[rim[i]]);
      }
    }
  }
  CHECK(least < 1e-6);
  return place;
}

// Walks each printed rim from mark to mark: the printed way and the way on the wall (by the seam's own length there),
// m. The greatest difference is how far the rim, folded back onto the wall by its marks, is from closing.
double folded_back_mm(const Pattern& p) {
  double worst = 0;
  for (std::size_t r = 0; r < p.outline.size(); ++r) {
    const auto& line = p.outline[r];
    const auto lips = lips_of(p.patch, r);
    const std::size_t n = line.size();
    std::vector<bool> marked(n, false);
    for (const MatchMark& m : p.marks)
      for (std::size_t i = 0; i < n; ++i)
        if (glm::distance(m.at, line[i]) < 20) marked[i] = true;  // a rim point at hand
    double printed = 0, wall = 0, first = -1;
    const auto close = [&] {
      if (first < 0) first = 0;
      worst = std::max(worst, std::abs(printed - wall));
      printed = wall = 0;
    };
    for (std::size_t i = 0; i < n; ++i) {
      if (lips[i]) {
        close();
        continue;
      }
      const auto& [a, b] = p.patch.rim_steps[r][i];
      printed += glm::distance(line[i], line[(i + 1) % n]);
      wall += 1000 * p.wall->wall->metric->measure(a, b).length_m;
      if (marked[(i + 1) % n]) close();
    }
    close();
  }
  return worst;
}

void check_bounds(const std::vector<std::vector<Pattern>>& all) {
  SeamIndex seams;
  for (const auto& patterns : all)
    for (const Pattern& p : patterns) seams.add(p);
  for (const auto& patterns : all)
    for (const Pattern& p : patterns) {
      INFO("giornata " << p.giornata->number << ", " << p.cuts.size() << " cuts, lines " << p.flat.worst_pair_mm);
      CHECK_FALSE(p.flat.folded);
      CHECK(p.flat.misfit_mm < 0.1);
      CHECK(folded_back_mm(p) < 0.1);
      CHECK(1000 * p.flat.hold_error_m < 0.1);
      CHECK(seams.mismatch(p) < 0.1);
    }
}

// Every mark on a seam stands on both prints, at one place of the wall; lip marks stand twice on their own.
void check_marks(const std::vector<std::vector<Pattern>>& all) {
  struct Found {
    GiornataId giornata;
    Vec3 place;
  };
  std::map<std::string, std::vector<Found>> by_name;
  for (const auto& patterns : all)
    for (const Pattern& p : patterns)
      for (const MatchMark& m : p.marks)
        by_name[m.on_cut ? "cut " + std::to_string(p.giornata->number) + m.name : m.name].push_back(
            {p.giornata->id, on_wall(p, m)});
  CHECK(by_name.size() > 4);
  for (const auto& [name, found] : by_name) {
    INFO("mark " << name);
    const bool number = name.find_first_not_of("0123456789") == std::string::npos;
    CHECK(found.size() >= (name.starts_with("cut") || number ? 2 : 1));  // a mouth on the rest has no neighbour
    if (number) CHECK(found[0].giornata != found.back().giornata);
    for (const Found& f : found) CHECK(glm::distance(f.place, found[0].place) < 1e-4);
  }
}

layouts::Layout on_wall_of(WallRef wall) {
  auto network = Network::from_border(wall->chart->border_rings(), wall->metric->meter());
  REQUIRE(network);
  return {std::move(wall), *network, {}};
}

}  // namespace

TEST_CASE("an apse prints true: seams to 0.1 mm on both sides, cuts clear of faces, marks that meet") {
  auto layout = layouts::on(layouts::apse(3, 1), 5e-4);
  // Chart: the crown of the half dome lies at v = 1 + 1.5 pi/2, its middle at u = 1.5 pi/2.
  const double c = 0.75 * kPi;
  layouts::add_box(layout, c - 0.4, 1.3, c + 0.4, 2.1);
  layouts::add_box(layout, c + 0.4, 1.2, c + 1.0, 2.1);
  layouts::add_box(layout, c - 0.4, 0.6, c + 1.0, 1.3);  // partly drum
  auto input = cartoon_input(layout);
  // A face right where the first giornata's upper edge would be cut, and one across its middle.
  const auto face = [](double u, double v, double r) {
    Ring ring;
    for (int k = 0; k < 16; ++k)
      ring.push_back(to_lattice({u + r * std::cos(kPi * k / 8), v + r * std::sin(kPi * k / 8)}));
    return ring;
  };
  for (const Ring& ring : {face(c, 2.0, 0.08), face(c + 0.05, 1.62, 0.1)}) {
    Zone zone;
    zone.ring = ring;
    input.walls[0].zones.push_back(zone);
  }
  const auto all = all_patterns(input);
  check_bounds(all);
  check_marks(all);
  std::size_t cuts = 0;
  for (const auto& patterns : all)
    for (const Pattern& p : patterns) {
      cuts += p.cuts.size();
      for (const PatternCut& cut : p.cuts) {
        CHECK(cut.closes_mm > 0);
        CHECK(cut.left.back() == cut.right.back());
        CHECK(cut.left.size() == cut.right.size());
      }
      for (const SlitPlace& s : p.patch.slits)
        for (std::size_t i = s.left;; i = (i + 1) % p.patch.rims[s.rim].size()) {
          for (const Zone& zone : input.walls[0].zones)
            CHECK(point_in_ring(zone.ring, p.patch.rim_steps[s.rim][i].first) < 0);
          if (i == s.right) break;
        }
    }
  CHECK(cuts > 0);
  CHECK(all[0][0].cuts.size() >= 2);
  CHECK(all[0][0].flat.worst_pair_mm < 3);
}

TEST_CASE("one giornata printed alone bears the marks it bears among its neighbours") {
  auto layout = layouts::on(layouts::dome(3, 1.5), 1e-3);
  const double c = layout.wall->chart->box().width / 2;
  layouts::add_box(layout, c - 0.4, c - 0.3, c, c + 0.3);
  layouts::add_box(layout, c, c - 0.3, c + 0.4, c + 0.3);
  const auto input = cartoon_input(layout);
  const auto all = all_patterns(input);
  const auto alone = make_patterns(input.walls[0], input.walls[0].giornate[1], nullptr);
  REQUIRE(alone);
  REQUIRE((*alone)[0].marks.size() == all[1][0].marks.size());
  for (std::size_t i = 0; i < all[1][0].marks.size(); ++i) {
    CHECK((*alone)[0].marks[i].name == all[1][0].marks[i].name);
    CHECK((*alone)[0].marks[i].at == all[1][0].marks[i].at);
  }
  CHECK((*alone)[0].outline == all[1][0].outline);
}

// Gauss and Bonnet: the rim of a disc on a sphere turns by 2 pi - A / R^2 on the wall, and by 2 pi on paper.
TEST_CASE("what the cuts of a sphere's disc open by is its curvature") {
  auto layout = layouts::on(layouts::dome(3, 1.5), 2e-4);
  const double c = layout.wall->chart->box().width / 2, s = 0.5, r = 1.5;
  std::vector<ChartPoint> disc;
  for (int k = 0; k < 120; ++k)
    disc.push_back({c + s * std::cos(2 * kPi * k / 120), c + s * std::sin(2 * kPi * k / 120)});
  layouts::add(layout, disc);
  const auto input = cartoon_input(layout);
  const auto all = all_patterns(input);
  const Pattern& p = all[0][0];
  check_bounds(all);
  REQUIRE(p.cuts.size() >= 3);  // a closed rim cannot be held without any
  double opened = 0;
  for (const SlitPlace& at : p.patch.slits) {
    const auto& line = p.outline[at.rim];
    const std::size_t n = line.size();
    opened += cross_angle(line[at.left] - line[(at.left + n - 1) % n], line[(at.right + 1) % n] - line[at.right]);
  }
  // Beside the mouths' own share of the rim's turning: one step's worth of geodesic curvature, cot(s / R) / R, each.
  const double step = 2 * kPi * r * std::sin(s / r) / 120;
  opened -= static_cast<double>(p.cuts.size()) * step * std::cos(s / r) / std::sin(s / r) / r;
  CHECK(opened == Approx(2 * kPi * (1 - std::cos(s / r))).epsilon(0.01));  // A / R^2
}

TEST_CASE("a barrel vault takes no cut") {
  auto layout = layouts::on(layouts::barrel(4, 3, 2), 1e-3);
  layouts::add_box(layout, 0.5, 0.5, 1.7, 2.0);
  layouts::add(layout, layouts::blob({2.2, 2.5}, 0.5, 0.2, 40));
  const auto input = cartoon_input(layout);
  const auto all = all_patterns(input);
  for (const auto& patterns : all) {
    CHECK(patterns[0].cuts.empty());
    CHECK(patterns[0].flat.misfit_mm < 0.05);
    CHECK(patterns[0].flat.worst_pair_mm < 0.2);
  }
  check_bounds(all);
}

TEST_CASE("a saddle is slit and spread: its paper does not overlap, its slits open on the wall") {
  // The inner half of an annular vault curves both ways: K = -cos / (r (R - r cos)) < 0.
  ShapeSpec spec;
  spec.kind = ShapeKind::annular;
  spec.inner = 1.0, spec.outer = 3.0, spec.angle_deg = 120;
  auto layout = layouts::on(spec, 1e-3);
  const auto box = layout.wall->chart->box();
  // The saddle side: whichever third of the section is shorter along u.
  const auto length_at = [&](double v) {
    return layout.wall->metric->measure(to_lattice({0.3 * box.width, v}), to_lattice({0.7 * box.width, v})).length_m;
  };
  const double low = 0.2 * box.height, high = 0.8 * box.height;
  const double v = length_at(low) < length_at(high) ? 0.22 * box.height : 0.78 * box.height;
  layouts::add_box(layout, 0.3 * box.width, v - 0.4, 0.3 * box.width + 0.9, v + 0.4);
  const auto input = cartoon_input(layout);
  const auto all = all_patterns(input);
  const Pattern& p = all[0][0];
  REQUIRE_FALSE(p.cuts.empty());
  double least = 0;
  for (const PatternCut& cut : p.cuts) least = std::min(least, cut.closes_mm);
  CHECK(least < -0.5);
  check_bounds(all);
}

TEST_CASE("a real scan prints with seams that agree") {
  const auto whole = read_demo_mesh("mannequin-devil.off");
  if (whole.triangles.empty()) {
    WARN("skipped: libcgal-demo's mannequin-devil.off is not installed");
    return;
  }
  auto layout = on_wall_of(scanned(disc_round(scaled_to(whole, 4), 0, 2)));
  const auto box = layout.wall->chart->box();
  const double u = box.width / 2, v = box.height / 2;
  layouts::add_box(layout, u - 0.4, v - 0.3, u, v + 0.3);
  layouts::add_box(layout, u, v - 0.3, u + 0.4, v + 0.3);
  const auto input = cartoon_input(layout);
  const auto all = all_patterns(input);
  check_bounds(all);
  check_marks(all);
}
