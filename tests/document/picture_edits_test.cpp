#include "engine/document/picture_edits.h"

#include <algorithm>
#include <random>

#include "engine/document/history.h"
#include "engine/document/picture_parts.h"
#include "engine/document/project_file.h"
#include "tests/document/folders.h"
#include "tests/document/small_project.h"

using namespace pontata;

namespace {

Image plain(int width, int height) {
  Image image{width, height, {}};
  image.rgb.assign(static_cast<std::size_t>(3 * width * height), 120);
  return image;
}

BySize sized(ChartPoint at, double width_m, double turn_deg = 0) {
  BySize size;
  size.at = at;
  size.width_m = width_m;
  size.turn_deg = turn_deg;
  return size;
}

std::string file_of(const TemporaryFolder& folder, const std::string& name, int width, int height) {
  REQUIRE(write_png(plain(width, height), folder.file(name)).ok());
  return folder.file(name);
}

// A flat wall 4 by 3 m with pictures a, b, c, d of 40 by 30 pixels, the lowest first.
struct Four {
  TemporaryFolder folder;
  DocumentRef doc = flat_wall();
  Four() {
    for (const char* name : {"a", "b", "c", "d"})
      doc = done(add_picture(*doc, doc->walls[0]->id, file_of(folder, "one.png", 40, 30), sized({0.5, 0.5}, 1), name));
  }
  const WallItem& wall() const { return *doc->walls[0]; }
  PictureId id(const std::string& name) const { return wall().picture_named(name)->id; }
};

std::string order_of(const Document& doc) {
  std::string names;
  for (const auto& picture : doc.walls[0]->pictures) names += picture->name;
  return names;
}

template <class E>
std::string refusal(const Result<E>& edited) {
  REQUIRE_FALSE(edited.ok());
  return edited.problem().message();
}

PictureChange with_mask(std::vector<Vec2> mask) {
  PictureChange change;
  change.mask = std::move(mask);
  return change;
}

PictureChange with_crop(std::optional<PixelBox> crop) {
  PictureChange change;
  change.crop = crop;
  return change;
}

}  // namespace

TEST_CASE("a new picture lies on top, under a name and id of its own, and its file is read once") {
  const Four four;
  CHECK(order_of(*four.doc) == "abcd");
  for (std::size_t k = 0; k < 4; ++k) {
    CHECK(four.wall().pictures[k]->id.value == k + 1);
    CHECK(four.wall().pictures[k]->pixels == four.wall().pictures[0]->pixels);
  }
  const auto taken = add_picture(*four.doc, four.wall().id, four.folder.file("one.png"), sized({0, 0}, 1), "b");
  CHECK(refusal(taken).find("there is a picture named b") != std::string::npos);
  auto doc = done(add_picture(*four.doc, four.wall().id, four.folder.file("one.png"), sized({0, 0}, 1), ""));
  doc = done(add_picture(*doc, four.wall().id, four.folder.file("one.png"), sized({0, 0}, 1), ""));
  CHECK(doc->walls[0]->pictures[4]->name == "one");
  CHECK(doc->walls[0]->pictures[5]->name == "one 2");
  file_of(four.folder, "one.png", 80, 60);  // no longer the same file
  doc = done(add_picture(*doc, four.wall().id, four.folder.file("one.png"), sized({0, 0}, 1), "e"));
  CHECK(doc->walls[0]->pictures[6]->pixels != doc->walls[0]->pictures[0]->pixels);
}

TEST_CASE("any sequence of orders is what moving names in a list gives") {
  const Four four;
  auto doc = four.doc;
  std::string names = "abcd";
  std::mt19937 random(7);
  for (int k = 0; k < 200; ++k) {
    const std::size_t from = random() % 4, to = random() % 4;
    const char name = names[from];
    names.erase(from, 1);
    names.insert(to, 1, name);
    doc = done(order_picture(*doc, four.id(std::string(1, name)), static_cast<int>(to)));
    REQUIRE(order_of(*doc) == names);
  }
  CHECK_FALSE(order_picture(*doc, four.id("a"), -1).ok());
  CHECK_FALSE(order_picture(*doc, four.id("a"), 4).ok());
  CHECK_FALSE(order_picture(*doc, PictureId{9}, 0).ok());
}

TEST_CASE("each change of a picture is one step, undone to the same bytes, and touches no other picture") {
  const Four four;
  History history(four.doc);
  std::vector<std::string> texts{*project_text(*history.current(), "/")};
  const PictureId b = four.id("b");
  const auto push = [&](auto&& edited, const std::string& did) {
    REQUIRE(edited.ok());
    CHECK(edited->did == did);
    const auto before = history.current()->walls[0]->pictures;
    history.push(*edited);
    for (const auto& picture : history.current()->walls[0]->pictures)
      if (picture->id != b) CHECK(std::find(before.begin(), before.end(), picture) != before.end());
    texts.push_back(*project_text(*history.current(), "/"));
    CHECK(texts.back() != texts[texts.size() - 2]);
  };
  const auto now = [&]() -> const Document& { return *history.current(); };
  PictureChange fade, name, both;
  fade.fade = 0.25;
  name.name = "Border";
  both.fade = 0.5;
  both.crop = PixelBox{0, 0, 20, 30};
  push(change_picture(now(), b, fade), "Fade of picture b");
  push(change_picture(now(), b, with_crop(PixelBox{1, 2, 30, 20})), "Crop of picture b");
  push(change_picture(now(), b, with_mask({{0, 0}, {40, 0}, {20, 30}})), "Mask of picture b");
  push(change_picture(now(), b, name), "Name of picture b");
  push(change_picture(now(), b, both), "Picture Border changed");
  push(shift_picture(now(), b, 0.25, -0.125), "Picture Border moved");
  push(lay_again(now(), b, sized({1, 1}, 2, 30)), "Picture Border laid anew");
  push(order_picture(now(), b, 3), "Order of picture Border");
  push(change_file(now(), b, file_of(four.folder, "finer.png", 400, 300)), "File of picture Border");
  push(change_picture(now(), b, with_crop(std::nullopt)), "Crop of picture Border");
  push(change_picture(now(), b, with_mask({})), "Mask of picture Border");
  push(remove_picture(now(), b), "Picture Border taken away");
  for (std::size_t i = texts.size(); i-- > 1;) {
    CHECK(*project_text(now(), "/") == texts[i]);
    history.undo();
  }
  CHECK(*project_text(now(), "/") == texts[0]);
}

TEST_CASE("moving a picture reads no file and keeps its pixels") {
  const Four four;
  std::filesystem::remove(four.folder.file("one.png"));
  const auto doc = done(shift_picture(*four.doc, four.id("a"), 0.5, 0.75));
  CHECK(std::get<PictureFrame>(doc->walls[0]->pictures[0]->lay).at == ChartPoint{1, 1.25});
  CHECK(doc->walls[0]->pictures[0]->pixels == four.wall().pictures[0]->pixels);
  CHECK(lay_again(*doc, four.id("a"), sized({0, 0}, 2)).ok());
}

TEST_CASE("a picture cannot leave the wall, nor be moved by what is no number") {
  const Four four;
  CHECK(refusal(shift_picture(*four.doc, four.id("a"), 5, 0)).find("beside the wall") != std::string::npos);
  CHECK_FALSE(shift_picture(*four.doc, four.id("a"), std::nan(""), 0).ok());
  CHECK_FALSE(shift_picture(*four.doc, four.id("a"), 1e300, 0).ok());
  CHECK_FALSE(lay_again(*four.doc, four.id("a"), sized({9, 9}, 1)).ok());
  CHECK_FALSE(add_picture(*four.doc, four.wall().id, four.folder.file("one.png"), sized({9, 9}, 1), "e").ok());
}

TEST_CASE("what cannot be shown of a picture is refused, with the reason") {
  const Four four;
  const PictureId a = four.id("a");
  const auto& doc = *four.doc;
  CHECK(refusal(change_picture(doc, a, with_mask({{0, 0}, {30, 30}, {30, 0}, {0, 30}})))
            .find("crosses or touches itself") != std::string::npos);
  CHECK(refusal(change_picture(doc, a, with_mask({{0, 0}, {30, 30}}))).find("3 corners") != std::string::npos);
  CHECK(refusal(change_picture(doc, a, with_mask({{0, 0}, {10, 10}, {20, 20}}))).find("touches itself") !=
        std::string::npos);
  CHECK(refusal(change_picture(doc, a, with_mask({{0, 0}, {0, 0}, {9, 0}, {9, 9}}))).find("twice") !=
        std::string::npos);
  CHECK(refusal(change_picture(doc, a, with_mask({{50, 0}, {60, 0}, {60, 9}}))).find("beside") != std::string::npos);
  CHECK_FALSE(change_picture(doc, a, with_mask({{0, 0}, {std::nan(""), 0}, {9, 9}})).ok());
  CHECK_FALSE(change_picture(doc, a, with_mask(std::vector<Vec2>(kMostMaskPoints + 1))).ok());
  for (const PixelBox& crop : {PixelBox{-1, 0, 9, 9}, PixelBox{0, 0, 41, 9}, PixelBox{9, 9, 9, 20},
                               PixelBox{20, 0, 9, 9}, PixelBox{0, 0, std::nan(""), 9}})
    CHECK(refusal(change_picture(doc, a, with_crop(crop))).find("crop") != std::string::npos);
  for (const double fade : {-0.01, 1.01, std::nan("")}) {
    PictureChange change;
    change.fade = fade;
    CHECK_FALSE(change_picture(doc, a, change).ok());
  }
  for (const std::string name : {"b", "", "  ", "two\nlines"}) {
    PictureChange change;
    change.name = name;
    CHECK_FALSE(change_picture(doc, a, change).ok());
  }
}

TEST_CASE("another file of the same proportions lies where the old one lay, counted in its own pixels") {
  const Four four;
  auto doc = done(change_picture(*four.doc, four.id("a"), with_mask({{0, 0}, {40, 0}, {20, 30}})));
  doc = done(change_picture(*doc, four.id("a"), with_crop(PixelBox{10, 3, 30, 27})));
  const auto finer = done(change_file(*doc, four.id("a"), file_of(four.folder, "finer.png", 400, 300)));
  const auto &was = *doc->walls[0]->pictures[0], &is = *finer->walls[0]->pictures[0];
  CHECK(is.lay == was.lay);
  CHECK(is.size == PictureSize(400, 300));
  CHECK(is.crop == PixelBox{100, 30, 300, 270});
  CHECK(is.mask == std::vector<Vec2>{{0, 0}, {400, 0}, {200, 300}});
  const std::string said = refusal(change_file(*doc, four.id("a"), file_of(four.folder, "tall.png", 30, 40)));
  CHECK(said.find("other proportions") != std::string::npos);
  CHECK(said.find("tall.png") != std::string::npos);
  CHECK_FALSE(change_file(*doc, four.id("a"), four.folder.file("none.png")).ok());
  // Laid anew it may have any proportions.
  const auto tall = done(lay_file(*doc, four.id("a"), four.folder.file("tall.png"), sized({0, 0}, 1)));
  CHECK(order_of(*tall) == "abcd");
  CHECK_FALSE(tall->walls[0]->pictures[0]->crop);
  CHECK(tall->walls[0]->pictures[0]->mask.empty());
  CHECK(std::get<PictureFrame>(tall->walls[0]->pictures[0]->lay).height == Approx(4.0 / 3));
}

TEST_CASE("every lay shows the same place of a finer file of the same proportions") {
  // The pixel of each wall place grows with the file, whatever the lay: checked against pixel_at itself.
  PlacedPicture picture;
  picture.size = {400, 300};
  Camera camera;
  camera.focal_px = 500;
  camera.middle_px = {210, 140};
  camera.k1 = 0.05;
  HomographyLay flat;
  flat.pixel_from_chart = Mat3(100, 2, 0.01, -3, -90, 0.02, 5, 280, 1);
  ThinPlate plate;
  plate.scale_px = 100;
  plate.centres = {{10, 20}, {300, 50}, {200, 250}};
  plate.weights = {{1, -2}, {3, 0.5}, {-1, 2}};
  plate.constant = {2, 1};
  plate.per_x = {0.5, -0.25};
  for (const Lay& lay : {Lay(PictureFrame{{0.1, 0.2}, 4, 3, 20}), Lay(flat), Lay(CameraLay{camera}),
                         Lay(PlaneLay{{0, 2, 0}, {1, 0, 0}, {0, 0, 1}, 4, 3})})
    for (const ThinPlate& correction : {ThinPlate{}, plate}) {
      picture.lay = lay;
      picture.plate = correction;
      PlacedPicture finer = picture;
      count_in_pixels_of(finer, {1000, 750});
      for (const ChartPoint p : {ChartPoint{0.3, 0.4}, ChartPoint{2, 1}, ChartPoint{3.5, 2.5}}) {
        const Vec3 place{p.u - 2, 4, p.v - 1};
        const auto coarse = pixel_at(picture.lay, picture.plate, picture.size, p, place);
        const auto fine = pixel_at(finer.lay, finer.plate, finer.size, p, place);
        REQUIRE((coarse && fine));
        CHECK(glm::length(*coarse * 2.5 - *fine) < 1e-9);
      }
    }
}

TEST_CASE("a design seen from an eye is laid by its camera, and refused where the eye looks past the wall") {
  const TemporaryFolder folder;
  ShapeSpec shape;
  shape.width = 4;
  shape.height = 3;
  auto doc = done(add_shape_wall(Document{}, "wall", shape, {}));
  FromEye from;
  from.eye = {2, -3, 1.6};
  from.look = {2, 0, 1.5};
  const std::string file = file_of(folder, "one.png", 40, 30);
  doc = done(add_picture(*doc, doc->walls[0]->id, file, from, ""));
  const auto& lay = std::get<CameraLay>(doc->walls[0]->pictures[0]->lay);
  CHECK(lay.camera == *eye_camera(from.eye, from.look, from.up, from.angle_deg, {40, 30}));
  CHECK_FALSE(shift_picture(*doc, PictureId{1}, 0.1, 0).ok());
  from.look = {2, -6, 1.5};
  CHECK(refusal(lay_again(*doc, PictureId{1}, from)).find("does not look at the wall") != std::string::npos);
  from.look = from.eye;
  CHECK_FALSE(lay_again(*doc, PictureId{1}, from).ok());
  from.look = {2, 0, 1.5};
  from.angle_deg = 180;
  CHECK_FALSE(lay_again(*doc, PictureId{1}, from).ok());
}
