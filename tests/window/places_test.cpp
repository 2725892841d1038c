#include <catch2/catch.hpp>

#include "editor/tools/tool.h"
#include "editor/window/layout.h"

using namespace pontata;

TEST_CASE("typed places: units, comma or point, blank lines") {
  const auto places = read_places("1.25 0,80\n\n  300mm 2ft \n");
  REQUIRE(places);
  REQUIRE(places->size() == 2);
  CHECK((*places)[0].u == Approx(1.25));
  CHECK((*places)[0].v == Approx(0.80));
  CHECK((*places)[1].u == Approx(0.3));
  CHECK((*places)[1].v == Approx(0.6096));
  CHECK(read_places("")->empty());
}

TEST_CASE("typed places: what cannot be read names its line") {
  for (const char* text : {"1 2\n3\n", "1 2\n3 4 5\n", "1 2\nx 4\n", "1 2\n3 inf\n"}) {
    const auto places = read_places(text);
    REQUIRE_FALSE(places);
    CHECK(places.problem().where == "line 2");
  }
}

TEST_CASE("the regions of the window never overlap and never leave it") {
  for (const double width : {700.0, 1280.0, 3840.0})
    for (const double scale : {1.0, 1.5, 3.0})
      for (const int open : {0, 1, 2, 3}) {
        const bool page = (open & 1) != 0, picture = (open & 2) != 0;
        const double height = width * 0.6;
        const Layout l = make_layout(width, height, {}, scale, page, picture);
        const std::array<Region, 9> all{l.top,   l.left,   l.page,   l.strip,  l.views,
                                        l.right, l.bottom, l.status, l.picture};
        for (std::size_t i = 0; i < all.size(); ++i)
          for (std::size_t j = 0; j < i; ++j) {
            const Region &a = all[i], &b = all[j];
            const double over_x = std::min(a.x + a.width, b.x + b.width) - std::max(a.x, b.x);
            const double over_y = std::min(a.y + a.height, b.y + b.height) - std::max(a.y, b.y);
            INFO(width << " " << scale << " " << page << picture << ": regions " << i << " and " << j);
            CHECK((over_x <= 0.01 || over_y <= 0.01));
          }
        CHECK(l.views.x + l.views.width <= width);
        CHECK(l.views.width >= 1);
      }
}
