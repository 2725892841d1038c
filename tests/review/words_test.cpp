#include <catch2/catch.hpp>

#include "tests/review/reviewed.h"

using namespace pontata;
using namespace pontata::layouts;

namespace {

bool speaks_plainly(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  for (const char* word :
       {"mesh", "polygon", "vertex", "triangle", "half-edge", " uv", "nan", "inf ", "lattice", "normal", "face id"})
    if (text.find(word) != std::string::npos) return false;
  return !text.empty() && text.back() == '.';
}

}  // namespace

TEST_CASE("every finding on every shape lies on the wall and speaks to a painter") {
  std::size_t total = 0;
  for (const ShapeSpec& spec : {flat(5, 3), barrel(4, 5, 2), dome(5, 2.5), apse(4, 1.5)}) {
    INFO(shape_name(spec.kind));
    Reviewed r = on_wall(on(spec));
    const ChartBox b = r.layout.wall->chart->box();
    std::vector<std::uint32_t> upward;
    for (int k = 0; k < 5; ++k) {
      Ring ring;
      for (const ChartPoint& p : blob({(0.3 + 0.1 * k) * b.width, (0.35 + 0.07 * k) * b.height},
                                      0.18 * std::min(b.width, b.height), 0.3, 37, k))
        ring.push_back(to_lattice(p));
      if (try_add(r.layout, ring).ok()) upward.push_back(static_cast<std::uint32_t>(r.layout.giornate.size()));
    }
    r.order = upward;
    r.calendar.rate_m2_per_h = 0.01;
    r.zones = {keep_whole(1, blob({0.4 * b.width, 0.45 * b.height}, 0.1 * b.width, 0.1, 20), "hand")};
    for (const Finding& f : r.findings()) {
      INFO(f.rule << ": " << f.says << " " << f.remedy);
      CHECK(speaks_plainly(f.says));
      CHECK(speaks_plainly(f.remedy));
      CHECK_FALSE(f.giornate.empty());
      CHECK(r.layout.wall->pick.nearest(f.at).distance < 1e-6);
      CHECK(glm::length(*r.layout.wall->position(f.chart) - f.at) < 1e-9);
      CHECK(std::isfinite(f.value));
      ++total;
    }
  }
  CHECK(total > 20);
}
