// What stands on the patterns: contours, marks to prick, copies. Read back from the printed page.
#include <algorithm>
#include <catch2/catch.hpp>
#include <numbers>
#include <regex>

#include "engine/cartoon/pattern_mirrored.h"
#include "engine/cartoon/prick_marks.h"
#include "engine/cartoon/sheets.h"
#include "reader.h"
#include "tests/fixtures/cartoons.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

using ContourList = std::vector<std::vector<ChartPoint>>;

// A barrel of radius 2 m (rise 2, span 4): its chart is its unrolled surface, so places on the print are known.
layouts::Layout barrel() {
  auto l = layouts::on(layouts::barrel(4, 3, 2), 0);
  layouts::add_box(l, 0.5, 0.5, 1.0, 0.9);
  return l;
}

CartoonInput with_contours(const layouts::Layout& layout, ContourList lines) {
  auto input = cartoon_input(layout);
  input.walls[0].contours = std::make_shared<const ContourList>(std::move(lines));
  return input;
}

std::vector<DrawnPath> of_width(const std::vector<DrawnPath>& paths, double mm) {
  std::vector<DrawnPath> out;
  for (const DrawnPath& p : paths)
    if (p.points.size() > 1 && std::abs(p.width_mm - mm) < 0.005 && p.rgb[0] + p.rgb[1] + p.rgb[2] < 0.01)
      out.push_back(p);
  return out;
}

struct Page {
  TempFolder folder;
  std::vector<DrawnPath> paths;
  std::string words, file;
};

std::unique_ptr<Page> printed(const CartoonInput& input, const PrintChoice& print, const std::string& name) {
  auto out = std::make_unique<Page>();
  CartoonOptions options{*paper_named("A1")};
  options.print = print;
  const auto report = write_cartoon(input, out->folder.path(), options);
  if (!report) FAIL(report.problem().message());
  out->file = out->folder.file(name);
  out->paths = drawn_paths(out->file, 1);
  out->words = raw_text_of_page(out->file, 1);
  return out;
}

// The rigid motion of the page against the chart: the outline's corner where the chart's lower left lies, and its
// sides. Turned sheets and mirrored ones are taken as they come.
struct OnPage {
  Vec2 origin{0, 0}, u{1, 0}, v{0, 1};
  Vec2 operator()(ChartPoint p) const { return origin + 1000 * (p.u - 0.5) * u + 1000 * (p.v - 0.5) * v; }
};

// From the corners of the printed box, 500 mm along u and 400 along v.
std::vector<OnPage> ways(const std::vector<DrawnPath>& paths) {
  const auto outline = of_width(paths, 0.4);
  REQUIRE(outline.size() == 1);
  std::vector<Vec2> corners;
  const auto& p = outline[0].points;
  for (std::size_t i = 0; i < p.size(); ++i) {
    const Vec2 a = p[i] - p[(i + p.size() - 1) % p.size()], b = p[(i + 1) % p.size()] - p[i];
    if (std::abs(std::atan2(cross2(a, b), glm::dot(a, b))) > 0.5) corners.push_back(p[i]);
  }
  REQUIRE(corners.size() == 4);
  std::vector<OnPage> out;
  for (std::size_t i = 0; i < 4; ++i)
    for (const std::size_t j : {(i + 1) % 4, (i + 3) % 4}) {
      const std::size_t k = (2 * i - j + 4) % 4;
      if (std::abs(glm::distance(corners[i], corners[j]) - 500) > 1) continue;
      out.push_back({corners[i], (corners[j] - corners[i]) / 500.0, (corners[k] - corners[i]) / 400.0});
    }
  REQUIRE(out.size() == 4);
  return out;
}

double off(const std::vector<Vec2>& line, const std::vector<Vec2>& wanted) {
  double worst = 0;
  for (const Vec2& w : wanted) {
    double least = 1e9;
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
      const Vec2 d = line[i + 1] - line[i];
      const double t = std::clamp(glm::dot(w - line[i], d) / std::max(glm::dot(d, d), 1e-12), 0.0, 1.0);
      least = std::min(least, glm::distance(w, line[i] + t * d));
    }
    worst = std::max(worst, least);
  }
  return worst;
}

// Least distance of the printed contour from where the wall has it, over the ways the sheet may lie; `handed` +1 for a
// true print, -1 for a mirrored one.
double contour_error(const std::vector<DrawnPath>& paths, const std::vector<ChartPoint>& on_wall, double width,
                     double handed) {
  const auto lines = of_width(paths, width);
  double best = 1e9;
  for (const OnPage& way : ways(paths)) {
    if (cross2(way.u, way.v) * handed < 0) continue;
    std::vector<Vec2> wanted;
    for (const ChartPoint& p : on_wall) wanted.push_back(way(p));
    for (const DrawnPath& line : lines) best = std::min(best, off(line.points, wanted));
  }
  return best;
}

const std::vector<ChartPoint> kHook{{0.6, 0.55}, {0.9, 0.55}, {0.9, 0.8}, {0.75, 0.7}};

// Centres of the black round dots: circles whose path begins at the right.
std::vector<Vec2> dots_of(const std::vector<DrawnPath>& paths, double mm) {
  std::vector<Vec2> out;
  for (const DrawnPath& p : paths)
    if (p.layer == "dots" && p.closed && p.rgb[0] + p.rgb[1] + p.rgb[2] < 0.01)
      out.push_back(p.points[0] - Vec2{mm / 2, 0});
  return out;
}

}  // namespace

TEST_CASE("contours are printed as lines at their true places, clipped to the pattern") {
  const auto layout = barrel();
  // the second runs out of the giornata at u = 1
  const auto input = with_contours(layout, {kHook, {{0.95, 0.6}, {1.4, 0.6}}, {{1.2, 1.2}, {1.5, 1.2}}});
  const auto page = printed(input, {}, "cartoon.pdf");
  CHECK(contour_error(page->paths, kHook, 0.2, +1) < 0.1);
  const auto lines = of_width(page->paths, 0.2);
  const auto clipped = std::count_if(lines.begin(), lines.end(), [](const DrawnPath& p) {
    return !p.closed && std::abs(glm::distance(p.points.front(), p.points.back()) - 50) < 0.1;
  });
  CHECK(clipped == 1);
}

TEST_CASE("a mirrored print is the mirror image, its words readable") {
  const auto layout = barrel();
  const auto input = with_contours(layout, {kHook});
  PrintChoice print;
  print.mirrored = true;
  const auto page = printed(input, print, "cartoon.pdf");
  CHECK(contour_error(page->paths, kHook, 0.2, -1) < 0.1);
  CHECK(contour_error(page->paths, kHook, 0.2, +1) > 5);
  CHECK(page->words.find("mirrored · giornata 1") != std::string::npos);
  CHECK(page->words.find("open") != std::string::npos);
}

TEST_CASE("mirroring a pattern twice gives it back") {
  const auto layout = barrel();
  const auto input = cartoon_input(layout);
  auto patterns = make_patterns(input.walls[0], input.walls[0].giornate[0], nullptr);
  REQUIRE(patterns);
  Pattern& p = (*patterns)[0];
  p.cuts.push_back({"a", {{0, 0}, {5, 20}}, {{-2, 0}, {5, 20}}, 2});
  p.marks.push_back({"3", {10, 0}, {0.6, 0.8}, false});
  p.patch.slits.push_back({0, 0, 3, 6, 9});
  const Pattern once = mirrored(p), twice = mirrored(once);
  CHECK(twice.flat.flat == p.flat.flat);
  CHECK(twice.outline == p.outline);
  CHECK(twice.patch.triangles == p.patch.triangles);
  CHECK(twice.patch.rims == p.patch.rims);
  CHECK(twice.patch.rim_steps == p.patch.rim_steps);
  CHECK(twice.patch.corners == p.patch.corners);
  REQUIRE(twice.patch.slits.size() == 1);
  CHECK(twice.patch.slits[0].left == 3);
  CHECK(twice.patch.slits[0].right == 9);
  CHECK(once.patch.rims[0][once.patch.slits[0].left] == p.patch.rims[0][9]);
  CHECK(once.patch.rims[0][once.patch.slits[0].tip] == p.patch.rims[0][6]);
  CHECK(twice.cuts[0].right == p.cuts[0].right);
  CHECK(once.cuts[0].right[0].x == 2);  // the left lip, seen from the other side
  CHECK(once.marks[0].inward.x == -0.6);
  // still counter-clockwise, the rim's steps still those of its points
  const auto& t = once.patch.triangles[0];
  const auto& f = once.flat.flat;
  CHECK(cross2(f[t[1]] - f[t[0]], f[t[2]] - f[t[0]]) > 0);
  for (std::size_t i = 0; i < once.patch.rims[0].size(); ++i) {
    const auto place = place_on_rim(once, to_chart(once.patch.rim_steps[0][i].first));
    REQUIRE(place);
    CHECK(glm::distance(place->at, 1000.0 * f[once.patch.rims[0][i]]) < 1e-6);
  }
}

TEST_CASE("marks to prick stand evenly, nearer in faces, none too near, on the corners") {
  auto layout = barrel();
  auto input = with_contours(layout, {{{0.55, 0.7}, {0.95, 0.7}}, {{0.6, 0.55}, {0.6, 0.65}, {0.7, 0.65}}});
  Zone face;
  face.kind = ZoneKind::keep_whole;
  for (const ChartPoint p : {ChartPoint{0.5, 0.68}, {0.7, 0.68}, {0.7, 0.72}, {0.5, 0.72}})
    face.ring.push_back(to_lattice(p));
  Zone cloth = face;
  cloth.kind = ZoneKind::detail;
  for (LatticePoint& p : cloth.ring) p.x += to_lattice({0.2, 0}).x;  // 0.7 to 0.9
  input.walls[0].zones = {cloth, face};
  const auto page = printed(input, {}, "cartoon.pdf");
  const auto dots = dots_of(page->paths, 0.8);
  // 150 mm at 3, 200 at 6, 50 at 10 and 200 at 10 mm
  CHECK(static_cast<double>(dots.size()) == Approx(50 + 33 + 5 + 20).margin(4));
  double nearest = 1e9;
  for (std::size_t i = 0; i < dots.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) nearest = std::min(nearest, glm::distance(dots[i], dots[j]));
  CHECK(nearest > 2.5);
  double best = 1e9;
  for (const OnPage& way : ways(page->paths)) {
    if (cross2(way.u, way.v) < 0) continue;
    // spacing along the first line, from its left end, and a dot on the hook's corner
    std::vector<double> along;
    double corner = 1e9;
    for (const Vec2& d : dots) {
      const Vec2 from = d - way({0.55, 0.7});
      if (std::abs(glm::dot(from, way.v)) < 0.1) along.push_back(glm::dot(from, way.u));
      corner = std::min(corner, glm::distance(d, way({0.6, 0.65})));
    }
    std::sort(along.begin(), along.end());
    if (along.size() < 80) continue;
    double worst = corner;
    for (std::size_t i = 0; i + 1 < along.size(); ++i) {
      const double middle = 0.5 * (along[i] + along[i + 1]), step = along[i + 1] - along[i];
      const double wanted = middle < 150 ? 3 : middle < 350 ? 6 : 10;
      if (std::abs(middle - 150) > 6 && std::abs(middle - 350) > 10) worst = std::max(worst, std::abs(step - wanted));
    }
    best = std::min(best, worst);
  }
  CHECK(best < 0.15);  // rounded to whole steps over 88 of them
}

TEST_CASE("the incision copy is trimmed to its outline, the sinopia sheets are a set for each pontata") {
  auto layout = layouts::on(layouts::barrel(4, 3, 2), 0);
  layouts::add_box(layout, 0.5, 0.5, 1.0, 0.9);
  layouts::add_box(layout, 1.0, 0.5, 1.5, 0.9);
  auto input = with_contours(layout, {kHook});
  input.walls[0].giornate[1].day.pontata = 2;
  input.walls[0].giornate[1].number = 77;
  PrintChoice print;
  print.incision = print.sinopia = true;
  const TempFolder folder;
  CartoonOptions options{*paper_named("A1")};
  options.print = print;
  const auto report = write_cartoon(input, folder.path(), options);
  REQUIRE(report);
  CHECK(report->incision_sheets == 2);
  CHECK(report->sinopia_sheets == 2);
  CHECK(report->sheets == 6);
  const auto incision = drawn_paths(folder.file("incision.pdf"), 1);
  CHECK(contour_error(incision, kHook, 0.45, +1) < 0.1);
  CHECK(dots_of(incision, 0.8).empty());
  const std::string trimmed = raw_text_of_page(folder.file("incision.pdf"), 1);
  CHECK(trimmed.find("incision · giornata 1") != std::string::npos);
  CHECK(trimmed.find("trim") != std::string::npos);
  CHECK(trimmed.find("77") == std::string::npos);  // no neighbour's number
  CHECK(raw_text_of_page(folder.file("cartoon.pdf"), 1).find("77") != std::string::npos);
  for (const int pontata : {1, 2}) {
    const std::string file = folder.file("sinopia-" + std::to_string(pontata) + ".pdf");
    REQUIRE(page_boxes_mm(file).size() == 2);
    CHECK(text_of_page(file, 1).find("Sinopia · pontata " + std::to_string(pontata)) != std::string::npos);
    CHECK(text_of_page(file, 1).find("by their match marks.") != std::string::npos);  // no line is cut short
    CHECK(text_of_page(file, 1).find("offsets of its day sheet.") != std::string::npos);
    CHECK(text_of_page(file, 2).find(pontata == 1 ? "giornata 1" : "giornata 77") != std::string::npos);
  }
}

TEST_CASE("a faded picture is lighter, contours alone show none") {
  auto layout = layouts::on(layouts::flat(2, 2), 0);
  layouts::add_box(layout, 0.7, 0.7, 1.0, 1.0);
  auto image = std::make_shared<Image>();
  image->width = image->height = 40;
  image->rgb.assign(3 * 1600, 100);
  const auto input = cartoon_input(layout, image);
  for (const auto& [mode, grey] :
       {std::pair{PrintedPicture::full, 100}, {PrintedPicture::faded, 201}, {PrintedPicture::contours, 255}}) {
    PrintChoice print;
    print.picture = mode;
    const auto page = printed(input, print, "cartoon.pdf");
    const auto outline = of_width(page->paths, 0.4);
    REQUIRE(outline.size() == 1);
    Vec2 lo{1e9, 1e9}, hi{-1e9, -1e9};
    for (const Vec2& q : outline[0].points) lo = glm::min(lo, q), hi = glm::max(hi, q);
    const PageImage drawn = render_page(page->file, 1, 50);
    const Vec2 at = lo + 0.2 * (hi - lo);
    CHECK(drawn.at(at.x / 25.4 * 50, drawn.height - at.y / 25.4 * 50)[1] == Approx(grey).margin(6));
  }
}

TEST_CASE("relief cuts and match marks are drawn with their names and what they close") {
  const auto layout = barrel();
  auto input = cartoon_input(layout);
  auto patterns = make_patterns(input.walls[0], input.walls[0].giornate[0], nullptr);
  REQUIRE(patterns);
  Pattern& p = (*patterns)[0];
  const Vec2 foot = p.outline[0][0], middle = 1000.0 * p.flat.flat[p.flat.label];
  const Vec2 in = glm::normalize(middle - foot);
  p.cuts.push_back({"a", {foot, foot + 80.0 * in}, {foot + Vec2{1, 1}, foot + 80.0 * in}, 2.34});
  p.cuts.push_back({"b", {middle, middle + Vec2{0, 30}}, {middle, middle + Vec2{0, 30}}, -1.2});
  p.marks.push_back({"12", p.outline[0][5], {0, 1}, false});
  const TempFolder folder;
  auto pages = PdfPages::create(folder.file("p.pdf"), "p");
  REQUIRE(pages);
  const auto tiling = tile(pattern_corners(p), *paper_named("A1"), 15);
  REQUIRE(tiling);
  draw_sheets(*pages, p, *tiling, nullptr, nullptr, 100, {"p"}, nullptr);
  REQUIRE(pages->finish());
  const std::string words = raw_text_of_page(folder.file("p.pdf"), 1);
  CHECK(words.find("a: closes 2.3 mm") != std::string::npos);
  CHECK(words.find("b: opens 1.2 mm") != std::string::npos);
  CHECK(std::regex_search(words, std::regex("(^|\\s)12(\\s|$)")));
  const auto paths = of_width(drawn_paths(folder.file("p.pdf"), 1), 0.35);
  int lips = 0, ticks = 0;
  for (const DrawnPath& d : paths) {
    const double length = glm::distance(d.points.front(), d.points.back());
    lips += std::abs(length - 80) < 2 || std::abs(length - 30) < 0.1;
    ticks += std::abs(length - 5) < 0.05;
  }
  CHECK(lips == 4);
  CHECK(ticks == 1);
}
