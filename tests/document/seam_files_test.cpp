// Seams taken out as SVG and DXF and brought in again.
#include "engine/document/edit_parts.h"
#include "engine/document/seam_edits.h"
#include "tests/document/seam_files_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

struct Shape {
  const char* name;
  ShapeSpec spec;
  std::vector<Opening> openings;
};

std::vector<Shape> shapes() {
  const Opening window{OpeningKind::round, {1.7, 1.4}, 0.6, 0, {}};
  return {{"flat", flat_spec(4, 3), {window}},
          {"barrel", barrel_spec(4, 5, 2), {window}},
          {"dome", dome_spec(4, 1.5), {}},
          {"apse", apse_spec(3, 2.5), {}},
          {"groin", {.kind = ShapeKind::groin, .span = 4, .length = 4, .rise = 2}, {}},
          {"drum", {.kind = ShapeKind::drum, .height = 2, .span = 3, .angle_deg = 360}, {}}};
}

// Largest area of rest that lies between giornate, m^2, the largest rest of all left out.
double slivers(const Network& network) {
  std::vector<double> rest;
  for (const FaceId f : network.faces_of(GiornataId{}))
    rest.push_back(static_cast<double>(network.sums(f).area) * kAreaUnit);
  std::sort(rest.rbegin(), rest.rend());
  return rest.size() < 2 ? 0 : rest[1];
}

}  // namespace

TEST_CASE("a layout taken out and brought on to a fresh wall has the same rings, point by point, and the same areas") {
  for (const auto& [name, spec, openings] : shapes()) {
    const auto bare = wall_of(spec, openings);
    const auto doc = scribbled(bare, 7, 14);
    const SeamsTaken taken = take_out_seams(*doc, *doc->walls[0]);
    for (const bool svg : {true, false}) {
      INFO(name << (svg ? " as SVG" : " as DXF"));
      const auto drawing = svg ? drawn("layout.svg", seams_svg(taken)) : drawn("layout.dxf", seams_dxf(taken));
      const auto again = brought(*bare, drawing);
      REQUIRE(all_rings(*again.document).size() > 5);
      CHECK(all_rings(*again.document) == all_rings(*doc));
      // Pieces of a border seam keep its integer together: what rounding puts on which depends on the order of cuts.
      const auto areas = all_areas(*again.document), before = all_areas(*doc);
      REQUIRE(areas.size() == before.size());
      for (std::size_t i = 0; i < areas.size(); ++i)
        CHECK(std::abs(areas[i] - before[i]) <= (spec.kind == ShapeKind::flat ? 0 : 8));
      for (const auto& made : again.made) CHECK_FALSE(made.overlap_given_up);
      for (const auto& g : again.document->giornate) CHECK(g.name.starts_with("Nº "));
    }
  }
}

TEST_CASE("neighbours drawn within half a millimetre of each other share their seam and leave no sliver") {
  // Two figures on either side of one wave, each digitised by itself, with a gap or an overlap of up to 0.4 mm.
  const auto wave = [](int steps, double off, double phase) {
    std::vector<ChartPoint> line;
    for (int i = 0; i <= steps; ++i) {
      const double v = 0.5 + 2.0 * i / steps;
      line.push_back({2 + 0.2 * std::sin(3 * v) + off * std::cos(40 * v + phase), v});
    }
    return line;
  };
  const auto data = [](std::vector<ChartPoint> line, double u) {
    line.push_back({u, 2.5});
    line.push_back({u, 0.5});
    std::string text = "M";
    for (const auto& p : line) text += fmt::format(" {:.6f},{:.6f}", p.u, 3 - p.v);
    return "<path d=\"" + text + "Z\"/>";
  };
  for (const double off : {2e-4, -2e-4, 4e-4}) {
    INFO(off);
    const auto drawing = drawn("two.svg", page(data(wave(300, 0, 0), 0.8) + data(wave(411, off, 1), 3.1)));
    const auto doc = flat_wall();
    const auto together = brought(*doc, drawing);
    const Network& network = together.document->walls[0]->network;
    REQUIRE(together.made.size() == 2);
    CHECK(slivers(network) == 0);
    const auto shared = shared_seams(network);
    const auto pair = std::find_if(shared.begin(), shared.end(), [](const SharedSeam& s) { return s.a && s.b; });
    REQUIRE(pair != shared.end());
    CHECK(pair->length_m > 2.0);  // the wave, all of it
    // Without snapping the same drawing leaves slivers or overlaps: the check above can fail.
    const auto apart = brought(*doc, drawing, {false, false, false, 0});
    const auto half = shared_seams(apart.document->walls[0]->network);
    for (const SharedSeam& s : half)
      if (s.a && s.b) CHECK(s.length_m < 1.9);
  }
}

TEST_CASE("an outline drawn within half a millimetre of the wall's border runs along it") {
  const auto drawing = drawn("edge.svg", page(R"(<path d="M0.0003,2.9996 L1,3.0004 L1,2 L-0.0004,2Z"/>)"));
  const auto made = brought(*flat_wall(), drawing);
  CHECK(all_areas(*made.document) == std::vector<std::int64_t>{1'000'000'000'000});
}

TEST_CASE("an island is a giornata of its own, whichever comes first; a hole stays free") {
  const std::string outer = R"(<rect x="1" y="1" width="2" height="1"/>)";
  const std::string inner = R"(<circle cx="2" cy="1.5" r="0.3"/>)";
  const double circle = std::numbers::pi * 0.09;
  for (const auto& both : {outer + inner, inner + outer}) {
    const auto made = brought(*flat_wall(), drawn("island.svg", page(both)));
    REQUIRE(made.made.size() == 2);
    for (const auto& g : made.made) CHECK(g.area_m2 == Approx(g.area_m2 < 1 ? circle : 2 - circle).epsilon(1e-3));
  }
  // SVG 1.1, 11.3: by evenodd the inner square is a hole whichever way it runs; by nonzero only when it runs against.
  const auto area = [](const std::string& rule, const std::string& inner_way) {
    const auto made = brought(
        *flat_wall(),
        drawn("hole.svg", page("<path fill-rule=\"" + rule + "\" d=\"M1 1h2v1h-2z M1.5 1.2" + inner_way + "\"/>")));
    REQUIRE(made.made.size() == 1);
    CHECK(made.document->walls[0]->network.faces_of(GiornataId{1}).size() == 1);
    return made.made[0].area_m2;
  };
  CHECK(area("evenodd", "h1v0.5h-1z") == Approx(1.5).margin(1e-9));
  CHECK(area("evenodd", "v0.5h1v-0.5z") == Approx(1.5).margin(1e-9));
  CHECK(area("nonzero", "v0.5h1v-0.5z") == Approx(1.5).margin(1e-9));
  CHECK(area("nonzero", "h1v0.5h-1z") == Approx(2.0).margin(1e-9));
}

TEST_CASE("open lines divide every giornata they cross, ends a little short or over are led to the rim") {
  const std::string two = R"(<rect x="1" y="1" width="1" height="1"/><rect x="2" y="1" width="1" height="1"/>)";
  const auto made = brought(*flat_wall(), drawn("cut.svg", page(R"(<path d="M0.998 1.5 L3.002 1.5"/>)" + two)));
  CHECK(made.divided.size() == 2);
  CHECK(all_areas(*made.document) == std::vector<std::int64_t>(4, 500'000'000'000));
  const auto short_of = brought(*flat_wall(), drawn("cut.svg", page(two + R"(<path d="M1.002 1.5 L2.999 1.5"/>)")));
  CHECK(all_areas(*short_of.document) == std::vector<std::int64_t>(4, 500'000'000'000));
  const auto loose =
      bring_in_seams(*flat_wall(), WallId{1}, drawn("cut.svg", page(two + R"(<path d="M0.9 1.5 L2.5 1.5"/>)")));
  REQUIRE_FALSE(loose.ok());
  CHECK(loose.problem().what.find("ends inside") != std::string::npos);
  CHECK(loose.problem().where.find("path 3") != std::string::npos);
}

TEST_CASE("one bad path refuses the whole drawing by its name, or is left out and told") {
  const std::string good = R"(<rect id="good" x="1" y="1" width="1" height="1"/>)";
  const std::vector<std::pair<std::string, std::string>> bad{
      {R"(<path id="knot" d="M2.2 1 L3 2 L3 1 L2.2 2Z"/>)", "crosses"},
      {R"(<path id="speck" d="M3 1 h0.005 v0.005 h-0.005z"/>)", "cm²"},
      {R"(<path id="off" d="M3 1 h2 v1 h-2z"/>)", "outside the wall"},
      {R"(<path id="flat" d="M3 1 h0.5 h-0.5z"/>)", "encloses nothing"},
      {R"(<path id="again" d="M1 1 h1 v1 h-1z"/>)", "belongs to other giornate"},
      {R"(<path id="stray" d="M3 1 L3.5 2"/>)", "crosses no giornata"}};
  for (const auto& [path, says] : bad) {
    INFO(path);
    const auto doc = flat_wall();
    const auto drawing = drawn("bad.svg", page(good + path));
    const auto refused = bring_in_seams(*doc, WallId{1}, drawing);
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.problem().what.find(says) != std::string::npos);
    CHECK(refused.problem().where.find("path 2 (") == 0);
    CHECK_FALSE(refused.problem().remedy.empty());
    const auto kept = brought(*doc, drawing, {false, false, true, 5e-4});
    CHECK(kept.made.size() == 1);
    REQUIRE(kept.left_out.size() == 1);
    CHECK(kept.left_out[0].where == refused.problem().where);
  }
}

TEST_CASE("a drawing in the wrong unit is told as such") {
  const auto problem = [](const std::string& text, DrawingOptions options = {}) {
    const auto refused = bring_in_seams(*flat_wall(), WallId{1}, drawn("unit.dxf", text, options));
    REQUIRE_FALSE(refused.ok());
    return refused.problem();
  };
  const auto square = [](double side, double at) {
    return groups({{0, "LWPOLYLINE"},
                   {8, "a"},
                   {90, "4"},
                   {70, "1"},
                   {10, fmt::format("{}", at)},
                   {20, fmt::format("{}", at)},
                   {10, fmt::format("{}", at + side)},
                   {20, fmt::format("{}", at)},
                   {10, fmt::format("{}", at + side)},
                   {20, fmt::format("{}", at + side)},
                   {10, fmt::format("{}", at)},
                   {20, fmt::format("{}", at + side)}});
  };
  CHECK(problem(dxf(square(1000, 500))).remedy.find("--unit") != std::string::npos);    // mm taken for m
  CHECK(problem(dxf(square(1, 0.5), "4")).remedy.find("--unit") != std::string::npos);  // m taken for mm
  CHECK(problem(dxf(square(1000, -1))).remedy.find("--unit") != std::string::npos);
  const auto unitless = drawing_in("unit.dxf", dxf(square(1, 0.5), "0"));
  REQUIRE_FALSE(unitless.ok());
  CHECK(unitless.problem().what.find("unit") != std::string::npos);
  DrawingOptions millimetres;
  millimetres.unit_m = 0.001;
  const auto made = brought(*flat_wall(), drawn("unit.dxf", dxf(square(1000, 500), "0"), millimetres));
  CHECK(made.made[0].area_m2 == Approx(1.0).epsilon(1e-12));
}

TEST_CASE("a changed drawing of ours is snapped like any other") {
  const auto doc = scribbled(wall_of(flat_spec(4, 3)), 3, 8);
  std::string text = seams_svg(take_out_seams(*doc, *doc->walls[0]));
  // Coordinates to a tenth of a millimetre: every seam is moved, differently on each side.
  std::string coarse;
  for (std::size_t i = 0; i < text.size(); ++i) {
    coarse += text[i];
    if (text[i] != '.' || i == 0 || !std::isdigit(static_cast<unsigned char>(text[i - 1]))) continue;
    std::size_t end = i + 1;
    while (std::isdigit(static_cast<unsigned char>(text[end]))) ++end;
    coarse += text.substr(i + 1, std::min<std::size_t>(end - i - 1, 4));
    i = end - 1;
  }
  const auto again = brought(*wall_of(flat_spec(4, 3)), drawn("coarse.svg", coarse));
  const auto before = all_areas(*doc), after = all_areas(*again.document);
  REQUIRE(before.size() == after.size());
  for (std::size_t i = 0; i < before.size(); ++i)
    CHECK(std::abs(static_cast<double>(before[i] - after[i])) * kAreaUnit < 1e-3);
  CHECK(again.document->walls[0]->network.faces_of(GiornataId{}).size() ==
        doc->walls[0]->network.faces_of(GiornataId{}).size());
}

TEST_CASE("a wall's closed turn takes outlines that leave its chart over the cut") {
  const auto doc = wall_of({.kind = ShapeKind::drum, .height = 2, .span = 3, .angle_deg = 360});
  const double turn = doc->walls[0]->wall->chart->box().width;
  const auto drawing = drawn("over.svg", fmt::format(R"(<svg viewBox="0 0 1 2" width="1000mm" height="2000mm">
      <path d="M{} 0.5 h1 v1 h-1z"/></svg>)",
                                                     turn - 0.5));
  const auto made = brought(*doc, drawing);
  CHECK(made.made[0].area_m2 == Approx(1.0).epsilon(1e-3));
  CHECK(made.document->walls[0]->network.faces_of(made.made[0].id).size() == 2);
}

TEST_CASE("zones come back with outline, kind, name, rate and subject, over a cut too; those that are there stay") {
  for (const auto& spec :
       {flat_spec(6, 3), ShapeSpec{.kind = ShapeKind::drum, .height = 2, .span = 3, .angle_deg = 360}}) {
    const auto bare = wall_of(spec);
    const WallId wall = bare->walls[0]->id;
    const double right = bare->walls[0]->wall->chart->box().width - 0.5;
    auto doc = done(draw_outline(*bare, wall, box(1, 0.5, 1, 1), false, ""));
    doc = done(add_zone(*doc, wall, ZoneKind::detail, {{0, 0.3}, {0.7, 0.25}, {0.4, 0.9}}, "Gesicht <links>", 0.0625,
                        Subject::faces));
    doc = done(add_zone(*doc, wall, ZoneKind::keep_whole, box(right, 0.5, right < 5 ? 1 : 0.4, 0.5), "", std::nullopt));
    const SeamsTaken taken = take_out_seams(*doc, *doc->walls[0]);
    for (const auto& drawing : {drawn("z.svg", seams_svg(taken)), drawn("z.dxf", seams_dxf(taken))}) {
      const auto again = brought(*bare, drawing);
      CHECK(std::ranges::equal(again.document->walls[0]->zones, doc->walls[0]->zones, same_zone));
      CHECK(again.zones.size() == 2);
      CHECK(again.left_out.empty());
      CHECK(again.notes.size() == 1);  // the border

      // Brought on to a wall with one of them, moved: the painter's stays, and it is said.
      ZoneChange moved;
      moved.points = std::vector<ChartPoint>{{0.1, 0.3}, {0.7, 0.25}, {0.4, 0.9}};
      auto other = done(remove_giornata(*doc, GiornataId{1}));
      other = done(change_zone(*other, ZoneId{1}, moved));
      const auto kept = brought(*other, drawing);
      CHECK(std::ranges::equal(kept.document->walls[0]->zones, other->walls[0]->zones, same_zone));
      REQUIRE(kept.left_out.size() == 2);
      CHECK(kept.left_out[0].what.find("Gesicht <links>") != std::string::npos);
      CHECK(kept.left_out[1].what.find("there already") != std::string::npos);
    }
  }
}

TEST_CASE("a brought-in line that hugs follows an arris beside it") {
  const auto bare = wall_of({.kind = ShapeKind::groin, .span = 4, .length = 4, .rise = 2});
  // One centimetre beside the arris u = v.
  const auto drawing = drawn("arris.svg", R"(<svg viewBox="0 0 4 4" width="4000mm" height="4000mm">
      <path d="M0.7 3.29L1.5 2.49L0.7 2.49z"/></svg>)");
  const LatticePoint between = to_lattice({1.1, 1.105});
  for (const bool hug : {false, true}) {
    BringOptions options;
    options.hug = hug;
    const auto made = brought(*bare, drawing, options);
    CHECK(made.document->walls[0]->network.owner_at(between) == (hug ? GiornataId{1} : GiornataId{}));
  }
}
