// Seams of a proposal keep to the picture's contours, on pictures whose regions are known.
#include <catch2/catch.hpp>
#include <numbers>
#include <random>

#include "engine/review/layout_figures.h"
#include "tests/proposal/layout_fixtures.h"
#include "tests/proposal/shifted_lines.h"

using namespace pontata;

TEST_CASE("seams lie on contours where there are any, far more than the same layout moved by 100 mm") {
  struct Kind {
    const char* name;
    ShapeSpec spec;
    int across, up;
  };
  for (const Kind& kind :
       {Kind{"flat", layouts::flat(5, 3.2), 9, 6}, Kind{"flat, finer", layouts::flat(5, 3.2), 15, 10},
        Kind{"barrel", layouts::barrel(4, 5, 2), 9, 8}, Kind{"dome", layouts::dome(5, 2), 9, 9}}) {
    INFO(kind.name);
    Proposed on(kind.spec);
    on.lay_picture(kind.across, kind.up);
    const auto proposal = on.propose();
    if (!proposal) FAIL(proposal.problem().message());
    const auto share_of = [&](Vec2 by) {
      return contour_share(*on.layout.wall, shifted(proposal->network, by), on.input.contours.get(),
                           on.input.draped.get(), on.input.contour_mm);
    };
    const ContourShare share = share_of({0, 0});
    CHECK(share.where_contours() >= 0.85);
    std::mt19937 chance(3);
    double aside = 0;
    constexpr int kTurns = 6;
    for (int k = 0; k < kTurns; ++k) {
      const double turn =
          2 * std::numbers::pi * static_cast<double>(chance()) / static_cast<double>(std::mt19937::max());
      aside += share_of(0.1 * Vec2(std::cos(turn), std::sin(turn))).on_contour() / kTurns;
    }
    CHECK(share.on_contour() >= aside + 0.3);
  }
}
