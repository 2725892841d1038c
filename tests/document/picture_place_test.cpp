#include "engine/document/picture_place.h"

#include <cmath>
#include <numbers>

#include "engine/document/atomic_file.h"
#include "engine/document/wall_lines.h"
#include "tests/document/folders.h"
#include "tests/document/small_project.h"
#include "tests/fixtures/plain_scans.h"
#include "tests/fixtures/shapes.h"

using namespace pontata;

namespace {

constexpr double kPi = std::numbers::pi;

struct Laid {
  TemporaryFolder folder;
  DocumentRef doc;
  explicit Laid(const ShapeSpec& shape) : doc(done(add_shape_wall(Document{}, "wall", shape, {{3, -2, 1}, 25}))) {
    Image image{40, 30, {}};
    image.rgb.assign(static_cast<std::size_t>(3 * 40 * 30), 90);
    REQUIRE(write_png(image, folder.file("a.png")).ok());
  }
  Result<PictureEdited> add(BySize size, const std::string& name = "") const {
    return add_picture(*doc, doc->walls[0]->id, folder.file("a.png"), size, name);
  }
  static BySize aligned_to(AlignTo to, ChartPoint at, double width, double turn_deg = 0) {
    BySize size;
    size.at = at;
    size.width_m = width;
    size.turn_deg = turn_deg;
    size.align.to = to;
    return size;
  }
  PlacedPicture picture(const BySize& size) const {
    const auto edited = add(size, "new");
    INFO((edited ? std::string() : edited.problem().message()));
    REQUIRE(edited.ok());
    return *picture_on_wall(*edited->document, edited->id).picture;
  }
  PictureFrame frame(const BySize& size) const { return std::get<PictureFrame>(picture(size).lay); }
  double height_at(ChartPoint p) const {
    return doc->walls[0]->wall->position(doc->walls[0]->wall->chart->clamp(p))->z;
  }
};

// Chart places of the middle of the picture's foot, of its middle and of its head.
ChartPoint foot_of(const PictureFrame& f) { return from_pixel(f, {40, 30}, {20, 30}); }
ChartPoint middle_of(const PictureFrame& f) { return from_pixel(f, {40, 30}, {20, 15}); }
ChartPoint head_of(const PictureFrame& f) { return from_pixel(f, {40, 30}, {20, 0}); }

ShapeSpec shape(ShapeKind kind) {
  for (const auto& spec : fixtures::every_shape())
    if (spec.kind == kind) return spec;
  FAIL("no such example");
  return {};
}

}  // namespace

// The wall's own heights are the measure: a springing lies at the foot of the vault, a crown at its top.
TEST_CASE(
    "a picture's foot is brought to the springing and its middle or head to the crown, by the heights of the wall") {
  using enum ShapeKind;
  for (const ShapeKind kind : {barrel, elliptical_barrel, pointed_barrel, annular, apse, dome, cloister, lunette}) {
    const ShapeSpec spec = shape(kind);
    INFO(shape_name(kind));
    const Laid laid(spec);
    const auto box = laid.doc->walls[0]->wall->chart->box();
    const ChartPoint at{0.3 * box.width, 0.35 * box.height};
    const double width = 0.1 * std::min(box.width, box.height), base = 1 + (kind == apse ? spec.height : 0);
    double top = 0;
    for (const Vec3& p : laid.doc->walls[0]->wall->mesh().points) top = std::max(top, p.z);
    const auto foot = laid.frame(Laid::aligned_to(AlignTo::springing, at, width));
    CHECK(laid.height_at(foot_of(foot)) == Approx(base).margin(2e-4));
    const auto crown = laid.frame(Laid::aligned_to(AlignTo::crown, at, width));
    const bool headed = kind == apse || kind == lunette;
    if (kind == lunette)
      CHECK(head_of(crown).v == Approx(spec.rise));  // beside its middle the head stands free
    else
      CHECK(laid.height_at(headed ? ChartPoint{0.5 * box.width, head_of(crown).v} : middle_of(crown)) ==
            Approx(top).margin(2e-4));
  }
}

TEST_CASE("a picture that stands on its head is brought to the springing on the other side of the vault") {
  // Chart v of a barrel is the arc: the other springing lies pi r further (closed form).
  const Laid laid({.kind = ShapeKind::barrel, .span = 4, .length = 6, .rise = 2});
  const auto upright = laid.frame(Laid::aligned_to(AlignTo::springing, {2, 3}, 1));
  CHECK(foot_of(upright).v == Approx(0).margin(1e-9));
  CHECK(upright.at.u == Approx(2));
  const auto turned = laid.frame(Laid::aligned_to(AlignTo::springing, {2, 3}, 1, 180));
  CHECK(foot_of(turned).v == Approx(2 * kPi));
  const auto crown = laid.frame(Laid::aligned_to(AlignTo::crown, {2, 3}, 1, 30));
  CHECK(middle_of(crown).v == Approx(kPi));
  const auto centre = laid.frame(Laid::aligned_to(AlignTo::centre_line, {2, 3}, 1, 30));
  CHECK(middle_of(centre).u == Approx(3));
  CHECK(centre.at.v == Approx(3));
}

TEST_CASE("walls without springing or crown say so") {
  using enum ShapeKind;
  for (const auto& [kind, crown] : {std::pair{flat, false}, std::pair{drum, false}, std::pair{cone, false},
                                    std::pair{pendentive, false}, std::pair{groin, true}, std::pair{sail, true}}) {
    INFO(shape_name(kind));
    const Laid laid(shape(kind));
    const auto box = laid.doc->walls[0]->wall->chart->box();
    const ChartPoint at{0.5 * box.width, 0.5 * box.height};
    const auto springing = laid.add(Laid::aligned_to(AlignTo::springing, at, 0.3));
    REQUIRE_FALSE(springing.ok());
    CHECK(springing.problem().what.find("no springing") != std::string::npos);
    CHECK(laid.add(Laid::aligned_to(AlignTo::crown, at, 0.3)).ok() == crown);
    if (kind != pendentive) {
      const auto centre = laid.frame(Laid::aligned_to(AlignTo::centre_line, at, 0.3));
      CHECK(middle_of(centre).u == Approx(0.5 * box.width).epsilon(1e-6));
    }
  }
}

TEST_CASE("edges are brought to the wall's edges at the height of the picture, turned or not") {
  const Laid flat({.kind = ShapeKind::flat, .width = 4, .height = 3});
  const double width = flat.doc->walls[0]->wall->chart->box().width;
  for (const double turn : {0.0, 30.0, 90.0, 200.0}) {
    double left = 1e9, right = -1e9;
    const auto at_left = flat.frame(Laid::aligned_to(AlignTo::left_edge, {1, 1}, 0.6, turn));
    const auto at_right = flat.frame(Laid::aligned_to(AlignTo::right_edge, {1, 1}, 0.6, turn));
    for (const Vec2& pixel : {Vec2(0, 0), Vec2(40, 0), Vec2(0, 30), Vec2(40, 30)}) {
      left = std::min(left, from_pixel(at_left, {40, 30}, pixel).u);
      right = std::max(right, from_pixel(at_right, {40, 30}, pixel).u);
    }
    CHECK(left == Approx(0).margin(1e-9));
    CHECK(right == Approx(width));
    CHECK(at_left.at.v == 1);
  }
  // A disc's chord: at the height h above the middle of a dome of arc radius R it ends sqrt(R^2 - h^2) to the side.
  const Laid dome({.kind = ShapeKind::dome, .span = 4, .rise = 2});
  const double radius = kPi;  // a quarter of the great circle of radius 2
  const auto placed = dome.frame(Laid::aligned_to(AlignTo::left_edge, {2, 4}, 0.8));
  const double off = middle_of(placed).v - radius;
  CHECK(placed.at.u == Approx(radius - std::sqrt(radius * radius - off * off)).margin(1e-4));
}

TEST_CASE("several lines at once: standing on the springing in the middle") {
  const Laid laid({.kind = ShapeKind::barrel, .span = 4, .length = 6, .rise = 2});
  auto size = Laid::aligned_to(AlignTo::springing, {0, 0}, 1.5);
  size.also.push_back({AlignTo::centre_line, {}, {}});
  const auto frame = laid.frame(size);
  CHECK(frame.at.u == Approx(2.25));
  CHECK(frame.at.v == Approx(0).margin(1e-9));
}

TEST_CASE("beside another picture the edges meet, by what the crops let show") {
  Laid laid({.kind = ShapeKind::flat, .width = 4, .height = 3});
  BySize size;
  size.at = {1, 1};
  size.width_m = 0.8;
  laid.doc = done(laid.add(size, "one"));
  PictureChange change;
  change.crop = PixelBox{10, 6, 30, 24};  // 0.2 m off each side, 0.12 m off above and below
  laid.doc = done(change_picture(*laid.doc, PictureId{1}, change));
  const auto beside = [&](Align::Side side) {
    auto asked = Laid::aligned_to(AlignTo::picture, {2, 2}, 0.4);
    asked.align.other = PictureId{1};
    asked.align.side = side;
    return laid.frame(asked);
  };
  CHECK(beside(Align::Side::right_of).at.u == Approx(1.6));
  CHECK(beside(Align::Side::right_of).at.v == Approx(2));
  CHECK(beside(Align::Side::left_of).at.u == Approx(0.8));
  CHECK(beside(Align::Side::above).at.v == Approx(1.48));
  CHECK(beside(Align::Side::below).at.v == Approx(0.82));
  CHECK(middle_of(beside(Align::Side::over)).u == Approx(1.4));
  CHECK(middle_of(beside(Align::Side::over)).v == Approx(1.3));
  auto none = Laid::aligned_to(AlignTo::picture, {2, 2}, 0.4);
  none.align.other = PictureId{7};
  CHECK_FALSE(laid.add(none).ok());
}

TEST_CASE("the width along the surface holds where aligning has brought the picture") {
  // On a dome the chart is drawn out sideways away from the crown: 1 m along the surface is more in the chart.
  const Laid laid({.kind = ShapeKind::dome, .span = 4, .rise = 2});
  const auto frame = laid.frame(Laid::aligned_to(AlignTo::left_edge, {3, 1}, 1));
  CHECK(frame.width > 1.01);
  CHECK(surface_width(*laid.doc->walls[0]->wall, frame.at, frame.width) == Approx(1).margin(1e-4));
}

TEST_CASE("by elevation a picture is brought to springing, crown and centre line straight on") {
  const Laid laid({.kind = ShapeKind::apse, .height = 2, .span = 4});
  auto size = Laid::aligned_to(AlignTo::springing, {kPi, 1}, 1);
  size.lay = BySize::Lay::elevation;
  const auto foot = std::get<PlaneLay>(laid.picture(size).lay);
  CHECK(foot.corner.z == Approx(1 + 2).margin(2e-4));  // the wall stands 1 m up, its springing 2 m above
  size.align.to = AlignTo::crown;
  const auto head = std::get<PlaneLay>(laid.picture(size).lay);
  CHECK(head.corner.z + head.height == Approx(1 + 2 + 2).margin(2e-4));
  size.align.to = AlignTo::centre_line;
  const auto centre = std::get<PlaneLay>(laid.picture(size).lay);
  const Vec3 middle = centre.corner + 0.5 * centre.width * centre.right;
  const Vec3 axis = apply({{3, -2, 1}, 25}, {0, 0, 0});  // the apse's own middle
  CHECK(glm::dot(middle - axis, centre.right) == Approx(0).margin(1e-3));
  size.fit_rest = true;
  CHECK_FALSE(laid.add(size).ok());
}

TEST_CASE("a picture fills what no giornata covers, and nothing where all is covered") {
  Laid laid({.kind = ShapeKind::flat, .width = 4, .height = 3});
  BySize size;
  size.fit_rest = true;
  CHECK(laid.frame(size).width == Approx(4).margin(1e-4));
  const WallId wall = laid.doc->walls[0]->id;
  laid.doc = done(draw_outline(*laid.doc, wall, box(0, 0, 4, 1.5), false, ""));
  CHECK(laid.frame(size).width == Approx(2).margin(1e-4));
  CHECK(laid.frame(size).at.v == Approx(1.5).margin(1e-4));
  size.turn_deg = 90;  // stands 1.5 m wide at most
  CHECK(laid.frame(size).width == Approx(1.5).margin(1e-4));
  laid.doc = done(draw_outline(*laid.doc, wall, box(0, 1.5, 4, 1.5), false, ""));
  const auto full = laid.add(size);
  REQUIRE_FALSE(full.ok());
  CHECK(full.problem().what.find("giornate") != std::string::npos);
}

TEST_CASE("of a scan the springing is its lowest edge and the crown its highest line, by its heights") {
  const TemporaryFolder folder;
  // A sheet that stands upright: its foot and its top edge.
  REQUIRE(write_file_atomically(folder.file("a.obj"), fixtures::obj_text(fixtures::flat_sheet(4, 3, 40, 30))).ok());
  ScanOptions options;
  options.y_up = false;
  const auto doc = done(add_scan_wall(Document{}, "wall", folder.file("a.obj"), "m", options));
  const WallItem& item = *doc->walls[0];
  const auto box = item.wall->chart->box();
  const auto springing = wall_line(item, WallLineKind::springing, {0.4 * box.width, 0.5 * box.height}, {0, -1});
  const auto crown = wall_line(item, WallLineKind::crown, {0.4 * box.width, 0.5 * box.height}, {0, -1});
  REQUIRE((springing && crown));
  CHECK(springing->at.v == Approx(0).margin(2e-3));
  CHECK(springing->part == WallLine::Part::foot);
  CHECK(crown->at.v == Approx(box.height).margin(2e-3));
  CHECK(crown->part == WallLine::Part::head);
  const auto beside = wall_line(item, WallLineKind::springing, {-1, 1}, {0, -1});
  CHECK_FALSE(beside.ok());
  const auto centre = wall_line(item, WallLineKind::centre_line, {1, 1}, {0, -1});
  REQUIRE(centre);
  CHECK(centre->at.u == Approx(0.5 * box.width).margin(1e-3));
}
