#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <regex>

#include "engine/cartoon/cartoon.h"
#include "engine/cartoon/pattern.h"
#include "reader.h"
#include "tests/fixtures/cartoons.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

layouts::Layout flat_layout() {
  auto l = layouts::on(layouts::flat(4, 3), 0);
  layouts::add(l, layouts::blob({1.2, 1.4}, 0.5, 0.3, 60));
  layouts::add_box(l, 1.3, 1.0, 2.1, 1.8);
  layouts::add_box(l, 0, 0, 0.5, 0.4);
  l.giornate[1].name = "Drappo dell’angelo è giù";
  return l;
}

// Which page is which sheet, from the words on it.
struct PageTitle {
  int giornata = 0, sheet = 0, sheets = 0;
};
PageTitle title_of(const std::string& text) {
  std::smatch m;
  if (!std::regex_search(text, m, std::regex("giornata ([0-9]+) · sheet ([0-9]+) of ([0-9]+)"))) return {};
  return {std::stoi(m[1]), std::stoi(m[2]), std::stoi(m[3])};
}

// The printed outline: black, 0.4 mm wide, closed.
std::vector<DrawnPath> outlines_of(const std::vector<DrawnPath>& paths) {
  std::vector<DrawnPath> out;
  for (const DrawnPath& p : paths)
    if (p.closed && p.points.size() > 2 && std::abs(p.width_mm - 0.4) < 0.01 && p.rgb[0] + p.rgb[1] + p.rgb[2] < 0.01)
      out.push_back(p);
  return out;
}

double length_of(const DrawnPath& p) {
  double sum = 0;
  for (std::size_t i = 0; i < p.points.size(); ++i)
    sum += glm::distance(p.points[i], p.points[(i + 1) % p.points.size()]);
  return sum;
}
// Without the lips of relief cuts.
double rim_length_of(const DrawnPath& p, const Patch& patch) {
  double sum = length_of(p);
  const std::size_t n = p.points.size();
  for (const SlitPlace& s : patch.slits)
    for (std::size_t i = s.left; i != s.right; i = (i + 1) % n)
      sum -= glm::distance(p.points[i], p.points[(i + 1) % n]);
  return sum;
}
double area_of(const DrawnPath& p) {
  double sum = 0;
  for (std::size_t i = 0; i < p.points.size(); ++i)
    sum += 0.5 * cross2(p.points[i] - p.points[0], p.points[(i + 1) % p.points.size()] - p.points[0]);
  return std::abs(sum);
}

// Points where the line turns by more than half a degree.
std::vector<Vec2> corners_of(const DrawnPath& p) {
  std::vector<Vec2> out;
  const std::size_t n = p.points.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 a = p.points[i] - p.points[(i + n - 1) % n], b = p.points[(i + 1) % n] - p.points[i];
    if (std::abs(std::atan2(cross2(a, b), glm::dot(a, b))) > 0.0087) out.push_back(p.points[i]);
  }
  return out;
}

// Middles of registration crosses: 8 mm lines across and up over one point.
std::vector<Vec2> crosses_of(const std::vector<DrawnPath>& paths) {
  std::vector<Vec2> level, out;
  for (const DrawnPath& p : paths) {
    if (p.points.size() != 2 || p.rgb[0] > 0.5 || std::abs(p.width_mm - 0.2) > 0.01) continue;
    const Vec2 d = p.points[1] - p.points[0], middle = 0.5 * (p.points[0] + p.points[1]);
    if (std::abs(d.y) < 0.01 && std::abs(std::abs(d.x) - 8) < 0.01) level.push_back(middle);
    if (std::abs(d.x) < 0.01 && std::abs(std::abs(d.y) - 8) < 0.01)
      for (const Vec2& q : level)
        if (glm::distance(q, middle) < 0.01) out.push_back(q);
  }
  return out;
}

struct Printed {
  TempFolder folder;
  layouts::Layout layout;
  CartoonInput input;
  CartoonReport report;
  std::string pdf;
};

std::unique_ptr<Printed> print(layouts::Layout layout, const std::string& paper,
                               std::shared_ptr<const Image> image = nullptr) {
  auto p = std::make_unique<Printed>();
  p->layout = std::move(layout);
  p->input = cartoon_input(p->layout, image);
  const auto report = write_cartoon(p->input, p->folder.path(), {*paper_named(paper)});
  if (!report) FAIL(report.problem().message());
  p->report = *report;
  p->pdf = p->folder.file("cartoon.pdf");
  return p;
}

}  // namespace

TEST_CASE("every sheet has the paper's size, its words and two check bars of 100 mm") {
  const auto p = print(flat_layout(), "A2");
  const auto boxes = page_boxes_mm(p->pdf);
  REQUIRE(boxes.size() == static_cast<std::size_t>(p->report.sheets));
  CHECK(std::find(p->report.files.begin(), p->report.files.end(), p->pdf) != p->report.files.end());
  int page = 0;
  for (const auto& row : p->report.giornate) {
    CHECK(row.max_strain < 1e-6);
    CHECK(row.misfit_mm < 1e-4);
    CHECK(row.seam_mismatch_mm < 1e-4);
    CHECK_FALSE(row.least_strain);
    for (int sheet = 1; sheet <= row.sheets; ++sheet) {
      ++page;
      INFO("page " << page);
      const Vec2 box = boxes[static_cast<std::size_t>(page) - 1];  // either way round
      CHECK(std::min(box.x, box.y) == Approx(420).margin(0.1));
      CHECK(std::max(box.x, box.y) == Approx(594).margin(0.1));
      const std::string text = text_of_page(p->pdf, page);
      const PageTitle title = title_of(text);
      CHECK(title.giornata == row.number);
      CHECK(title.sheet == sheet);
      CHECK(title.sheets == row.sheets);
      CHECK(text.find("1:1, print without scaling, measure the bars") != std::string::npos);
      CHECK(text.find("100 mm") != std::string::npos);
      if (row.number == 2) CHECK(text.find("Drappo dell’angelo è giù") != std::string::npos);
      int level = 0, upright = 0;
      for (const DrawnPath& d : drawn_paths(p->pdf, page)) {
        if (d.points.size() != 2 || std::abs(d.width_mm - 0.3) > 0.01) continue;
        const Vec2 by = d.points[1] - d.points[0];
        level += std::abs(std::abs(by.x) - 100) < 0.1 && std::abs(by.y) < 0.01;
        upright += std::abs(std::abs(by.y) - 100) < 0.1 && std::abs(by.x) < 0.01;
      }
      CHECK(level == 1);
      CHECK(upright == 1);
    }
  }
  CHECK(page == p->report.sheets);
  CHECK(output_of("qpdf --qdf " + p->pdf + " -").find("/PrintScaling /None") != std::string::npos);
  for (const auto& f : fonts_of(p->pdf)) CHECK(f.embedded);
  CHECK(output_of("qpdf --check " + p->pdf).find("No syntax or stream encoding errors") != std::string::npos);
}

TEST_CASE("the printed outline has the length and area of the giornata on the wall") {
  struct Case {
    layouts::Layout layout;
    double area, length;  // relative
  };
  auto barrel = layouts::on(layouts::barrel(4, 6, 2), 0);
  layouts::add(barrel, layouts::blob({1.5, 1.5}, 0.55, 0.3, 60));
  auto dome = layouts::on(layouts::dome(6, 3), 0);
  const double c = dome.wall->chart->box().width / 2;
  layouts::add(dome, layouts::blob({c + 1.5, c + 0.4}, 0.5, 0.2, 60));
  // 1/256 pt is what the PDF keeps of a coordinate: 1.4 um on 30 mm. Dome: its area within the strain reported, its
  // seam true.
  for (const auto& [layout, area, length] :
       {Case{flat_layout(), 1e-5, 1e-5}, Case{barrel, 1e-4, 1e-4}, Case{dome, 6e-3, 1e-4}}) {
    const auto p = print(layout, "A1");
    int page = 1;
    for (const auto& row : p->report.giornate) {
      const auto drawn = outlines_of(drawn_paths(p->pdf, page));
      page += row.sheets;
      REQUIRE(drawn.size() == 1);
      const auto& g = p->input.walls[0].giornate[static_cast<std::size_t>(row.number) - 1];
      CHECK(area_of(drawn[0]) * 1e-6 == Approx(g.measure.area_m2).epsilon(area));
      const auto pattern = make_patterns(p->input.walls[0], g, nullptr);
      REQUIRE(pattern);
      CHECK((*pattern)[0].cuts.size() == static_cast<std::size_t>(row.relief_cuts));
      if (row.relief_cuts > 0) REQUIRE(drawn[0].points.size() == (*pattern)[0].outline[0].size());
      CHECK(rim_length_of(drawn[0], (*pattern)[0].patch) * 1e-3 == Approx(g.measure.perimeter_m).epsilon(length));
    }
  }
}

TEST_CASE("the outline read from the PDF goes back onto the wall stretch by stretch") {
  auto dome = layouts::on(layouts::dome(6, 3), 0);
  const double c = dome.wall->chart->box().width / 2;
  layouts::add(dome, layouts::blob({c + 1.2, c + 0.4}, 0.45, 0.2, 40));
  layouts::add(dome, layouts::blob({c + 1.9, c + 0.6}, 0.45, 0.2, 40));
  const auto p = print(dome, "A1");
  int page = 1;
  std::vector<std::vector<Vec2>> shared;  // the common seam as either giornata prints it
  std::vector<std::vector<LatticePoint>> corners;
  for (const auto& row : p->report.giornate) {
    const auto drawn = outlines_of(drawn_paths(p->pdf, page));
    page += row.sheets;
    REQUIRE(drawn.size() == 1);
    const auto& g = p->input.walls[0].giornate[static_cast<std::size_t>(row.number) - 1];
    const auto pattern = make_patterns(p->input.walls[0], g, nullptr);
    REQUIRE(pattern);
    const Patch* patch = &(*pattern)[0].patch;
    REQUIRE(drawn[0].points.size() == patch->rims[0].size());
    const auto lip = [&](std::size_t k) {
      return std::any_of(patch->slits.begin(), patch->slits.end(), [&](const SlitPlace& s) {
        const std::size_t m = drawn[0].points.size();
        return (k + m - s.left) % m < (s.right + m - s.left) % m;
      });
    };
    double worst = 0;
    const std::size_t n = patch->corners[0].size();
    for (std::size_t i = 0; i < n; ++i) {
      const std::size_t from = patch->corners[0][i], to = patch->corners[0][(i + 1) % n];
      double printed = 0;
      for (std::size_t k = from; k != to; k = (k + 1) % drawn[0].points.size())
        if (!lip(k)) printed += glm::distance(drawn[0].points[k], drawn[0].points[(k + 1) % drawn[0].points.size()]);
      const double on_wall = dome.wall->metric->measure(g.rings[0][i], g.rings[0][(i + 1) % n]).length_m;
      worst = std::max(worst, std::abs(printed - 1000 * on_wall));
    }
    CHECK(worst < 0.1);
    CHECK(row.misfit_mm < 0.1);
    CHECK(row.relief_cuts > 0);
    CHECK(row.seam_mismatch_mm < 0.1);
  }
}

TEST_CASE("both prints of a seam are equally long") {
  auto barrel = layouts::on(layouts::barrel(4, 6, 2), 0);
  layouts::add(barrel, std::vector<ChartPoint>{{1, 1}, {1.5, 1}, {1.55, 1.2}, {1.45, 1.35}, {1.5, 1.5}, {1, 1.5}});
  layouts::add_box(barrel, 1.2, 1, 2, 1.5);
  const auto p = print(barrel, "A1");
  // a barrel's chart is its unrolled surface: hypot(0.05, 0.2), hypot(0.1, 0.15), hypot(0.05, 0.15) m, chords of 0.1 mm
  const std::vector<double> seam{206.155, 180.278, 158.114};
  int page = 1;
  std::vector<std::vector<double>> found;
  for (const auto& row : p->report.giornate) {
    const auto drawn = outlines_of(drawn_paths(p->pdf, page));
    page += row.sheets;
    REQUIRE(drawn.size() == 1);
    CHECK(row.seam_mismatch_mm < 0.01);
    auto points = corners_of(drawn[0]);
    for (int way = 0; way < 2; ++way, std::reverse(points.begin(), points.end()))
      for (std::size_t i = 0; i < points.size(); ++i) {
        std::vector<double> run;
        for (std::size_t k = i; k < i + 3; ++k)
          run.push_back(glm::distance(points[k % points.size()], points[(k + 1) % points.size()]));
        bool same = true;
        for (std::size_t k = 0; k < 3; ++k) same &= std::abs(run[k] - seam[k]) < 0.05;
        if (same) found.push_back(run);
      }
  }
  REQUIRE(found.size() == 2);
  for (std::size_t k = 0; k < 3; ++k) CHECK(found[0][k] == Approx(found[1][k]).margin(0.01));
}

TEST_CASE("registration crosses come again on the neighbouring sheet at the same place of the pattern") {
  const auto p = print(flat_layout(), "A2");
  int page = 1, crosses = 0;
  for (const auto& row : p->report.giornate) {
    std::vector<std::vector<Vec2>> on_sheet;  // relative to the outline's first point
    for (int sheet = 0; sheet < row.sheets; ++sheet, ++page) {
      const auto paths = drawn_paths(p->pdf, page);
      const auto drawn = outlines_of(paths);
      REQUIRE(drawn.size() == 1);
      on_sheet.emplace_back();
      for (const Vec2& c : crosses_of(paths)) on_sheet.back().push_back(c - drawn[0].points[0]);
      if (row.sheets > 1) CHECK(on_sheet.back().size() >= 4);
    }
    for (std::size_t i = 0; i < on_sheet.size(); ++i)
      for (const Vec2& c : on_sheet[i]) {
        bool again = false;
        for (std::size_t j = 0; j < on_sheet.size(); ++j)
          for (const Vec2& d : on_sheet[j]) again |= i != j && glm::distance(c, d) < 0.02;
        CHECK(again);
        ++crosses;
      }
  }
  CHECK(crosses > 20);
}

TEST_CASE("all of the pattern is printed, sheets beside it are not") {
  auto l = layouts::on(layouts::flat(4, 3), 0);
  // an L of narrow arms: most of the sheets of its box would be blank
  layouts::add(l, std::vector<ChartPoint>{{0.5, 0.5}, {2.5, 0.5}, {2.5, 0.6}, {0.6, 0.6}, {0.6, 2.5}, {0.5, 2.5}});
  const auto p = print(l, "A3");
  CHECK(p->report.sheets >= 13);
  CHECK(p->report.sheets <= 20);
  // a point every 5 mm along the outline falls into some sheet's window, and each sheet shows some
  const SheetBox window{13, 40, 297 - 9, 420 - 9};
  std::vector<bool> seen;
  for (int page = 1; page <= p->report.sheets; ++page) {
    const auto drawn = outlines_of(drawn_paths(p->pdf, page));
    REQUIRE(drawn.size() == 1);
    bool shows = false;
    std::size_t n = 0;
    for (std::size_t i = 0; i < drawn[0].points.size(); ++i) {
      const Vec2 a = drawn[0].points[i], d = drawn[0].points[(i + 1) % drawn[0].points.size()] - a;
      const int steps = static_cast<int>(glm::length(d) / 5) + 1;
      for (int k = 0; k < steps; ++k, ++n) {
        if (n == seen.size()) seen.push_back(false);
        if (window.holds(a + d * (static_cast<double>(k) / steps))) seen[n] = shows = true;
      }
    }
    CHECK(shows);
  }
  CHECK(seen.size() > 1500);
  CHECK(std::count(seen.begin(), seen.end(), false) == 0);
}

TEST_CASE("neighbours' numbers and what an edge meets stand along the seams") {
  const auto p = print(flat_layout(), "A0");
  std::string words[4];
  int page = 1;
  for (const auto& row : p->report.giornate)
    for (int i = 0; i < row.sheets; ++i) words[row.number] += raw_text_of_page(p->pdf, page++);
  CHECK(words[1].find("open") != std::string::npos);
  CHECK(words[1].find("meets finished work") == std::string::npos);
  CHECK(words[2].find("meets finished work") != std::string::npos);
  CHECK(std::regex_search(words[2], std::regex("(^|\\s)1(\\s|$)")));
  CHECK(std::regex_search(words[1], std::regex("(^|\\s)2(\\s|$)")));
  CHECK(words[3].find("edge of the wall") != std::string::npos);
  CHECK(words[1].find("edge of the wall") == std::string::npos);
}

TEST_CASE("the picture lies inside the outline, in its place") {
  auto l = layouts::on(layouts::flat(2, 2), 0);
  layouts::add_box(l, 0.7, 0.7, 1.0, 1.0);
  auto image = std::make_shared<Image>();
  image->width = image->height = 2000;  // a millimetre a pixel: red grows to the right, green upward
  for (int y = 0; y < 2000; ++y)
    for (int x = 0; x < 2000; ++x) {
      image->rgb.push_back(static_cast<std::uint8_t>(x * 255 / 2000));
      image->rgb.push_back(static_cast<std::uint8_t>(255 - y * 255 / 2000));
      image->rgb.push_back(40);
    }
  const auto p = print(l, "A2", image);
  REQUIRE(p->report.sheets == 1);
  const auto drawn = outlines_of(drawn_paths(p->pdf, 1));
  REQUIRE(drawn.size() == 1);
  Vec2 lo{1e9, 1e9}, hi{-1e9, -1e9};
  for (const Vec2& q : drawn[0].points) lo = glm::min(lo, q), hi = glm::max(hi, q);
  CHECK(hi.x - lo.x == Approx(300).margin(0.01));
  const PageImage page = render_page(p->pdf, 1, 50);
  const auto at = [&](Vec2 mm) { return page.at(mm.x / 25.4 * 50, (594 - mm.y) / 25.4 * 50); };
  for (const Vec2 f : {Vec2{0.2, 0.1}, {0.9, 0.15}, {0.12, 0.85}, {0.85, 0.9}}) {
    const auto rgb = at(lo + f * 300.0);
    CHECK(rgb[0] == Approx((0.7 + 0.3 * f.x) / 2 * 255).margin(6));
    CHECK(rgb[1] == Approx((0.7 + 0.3 * f.y) / 2 * 255).margin(6));
    CHECK(rgb[2] == Approx(40).margin(8));
  }
  CHECK(at(lo - Vec2{5, -50})[2] == 255);  // beyond the bleed nothing
}

TEST_CASE("the same cartoon is the same bytes") {
  auto l = layouts::on(layouts::dome(6, 3), 0);
  const double c = l.wall->chart->box().width / 2;
  layouts::add(l, layouts::blob({c + 1.2, c + 0.4}, 0.15, 0.2, 20));
  layouts::add(l, layouts::blob({c + 1.4, c + 0.4}, 0.15, 0.2, 20));
  const auto a = print(l, "A3", ruled_picture(400, 300));
  sleep(1);
  const auto b = print(l, "A3", ruled_picture(400, 300));
  CHECK(bytes_of(a->pdf) == bytes_of(b->pdf));
}

TEST_CASE("a roll is as long as needed, below the longest page a PDF may have") {
  auto l = layouts::on(layouts::flat(14, 2), 0);
  layouts::add_box(l, 0.5, 0.5, 13.5, 0.9);
  layouts::add_box(l, 0.5, 1.0, 1.5, 1.3);
  const auto p = print(l, "roll610");
  const auto boxes = page_boxes_mm(p->pdf);
  REQUIRE(p->report.giornate.size() == 2);
  CHECK(p->report.giornate[0].sheets == 3);
  CHECK(p->report.giornate[1].sheets == 1);
  for (const Vec2& b : boxes) {
    CHECK(b.x == Approx(610).margin(0.1));
    CHECK(b.y < 5080);
  }
  CHECK(boxes[0].y > 4000);
  CHECK(boxes[3].y < 1150);
}

TEST_CASE("only the chosen giornate are printed, in working order, with their seams still compared") {
  const auto layout = flat_layout();
  auto input = cartoon_input(layout);
  std::swap(input.walls[0].giornate[0], input.walls[0].giornate[2]);
  input.only = {GiornataId{2}, GiornataId{1}};
  const TempFolder folder;
  const auto report = write_cartoon(input, folder.file("deep/er"), {*paper_named("A0")});
  REQUIRE(report);
  REQUIRE(report->giornate.size() == 2);
  CHECK(report->giornate[0].number == 1);
  CHECK(report->giornate[1].number == 2);
  CHECK(page_boxes_mm(folder.file("deep/er/cartoon.pdf")).size() == static_cast<std::size_t>(report->sheets));
}

TEST_CASE("a giornata in two pieces is printed piece by piece, a hole stays with its own") {
  auto l = layouts::on(layouts::flat(4, 3), 0);
  layouts::add_box(l, 0.5, 0.5, 0.7, 0.7);  // a window of the next one
  layouts::add_box(l, 0.4, 0.4, 0.9, 0.9);
  layouts::add_box(l, 2.0, 1.0, 2.3, 1.2);
  auto input = cartoon_input(l);
  auto& giornate = input.walls[0].giornate;
  REQUIRE(giornate[1].rings.size() == 2);
  giornate[1].rings.insert(giornate[1].rings.begin(), giornate[2].rings[0]);
  giornate.pop_back();
  const TempFolder folder;
  const auto report = write_cartoon(input, folder.path(), {*paper_named("A1")});
  REQUIRE(report);
  REQUIRE(report->sheets == 3);
  const std::string pdf = folder.file("cartoon.pdf");
  CHECK(text_of_page(pdf, 2).find("giornata 2, part 1 of 2 · sheet 1 of 1") != std::string::npos);
  CHECK(text_of_page(pdf, 3).find("giornata 2, part 2 of 2 · sheet 1 of 1") != std::string::npos);
  CHECK(outlines_of(drawn_paths(pdf, 2)).size() == 1);
  const auto holed = outlines_of(drawn_paths(pdf, 3));
  REQUIRE(holed.size() == 2);
  CHECK(area_of(holed[0]) == Approx(250000).epsilon(1e-4));
  CHECK(area_of(holed[1]) == Approx(40000).epsilon(1e-4));
}

TEST_CASE("a sheet's words stay clear of each other") {
  const auto p = print(flat_layout(), "A2", ruled_picture(800, 600));
  for (int page = 1; page <= p->report.sheets; ++page) {
    const auto words = words_of(p->pdf, page);
    REQUIRE(words.size() > 10);
    for (std::size_t i = 0; i < words.size(); ++i)
      for (std::size_t j = i + 1; j < words.size(); ++j) {
        INFO(page << ": " << words[i].words << " / " << words[j].words);
        CHECK_FALSE(overlap(words[i], words[j]));
      }
  }
}

TEST_CASE("what cannot be printed is refused and leaves nothing behind") {
  const auto layout = flat_layout();
  auto input = cartoon_input(layout);
  const TempFolder folder;
  const auto files = [&](const std::string& path) {
    return std::distance(std::filesystem::directory_iterator(path), std::filesystem::directory_iterator{});
  };
  SECTION("nothing to print") {
    input.only = {GiornataId{99}};
    CHECK_FALSE(write_cartoon(input, folder.path(), {*paper_named("A3")}));
    CHECK(files(folder.path()) == 0);
  }
  SECTION("an overlap as wide as the paper") {
    CartoonOptions options{*paper_named("A4")};
    options.overlap_mm = 150;
    CHECK_FALSE(write_cartoon(input, folder.path(), options));
    CHECK(files(folder.path()) == 0);
  }
  SECTION("a folder that is a file") {
    std::ofstream(folder.file("taken")) << "x";
    const auto refused = write_cartoon(input, folder.file("taken"), {*paper_named("A3")});
    REQUIRE_FALSE(refused);
    CHECK(refused.problem().where == folder.file("taken"));
    CHECK(bytes_of(folder.file("taken")) == "x");
  }
  SECTION("a folder without permission") {
    if (geteuid() == 0) return;
    chmod(folder.path().c_str(), 0555);
    const auto refused = write_cartoon(input, folder.path(), {*paper_named("A3")});
    chmod(folder.path().c_str(), 0755);
    REQUIRE_FALSE(refused);
    CHECK(refused.problem().where == folder.path());
  }
  SECTION("stopped on the way") {
    Progress progress;
    progress.report = [&](double f, std::string_view) {
      if (f > 0.4) progress.cancelled = true;
    };
    const auto stopped = write_cartoon(input, folder.path(), {*paper_named("A3")}, &progress);
    REQUIRE_FALSE(stopped);
    CHECK(stopped.problem().what == "stopped");
    CHECK(files(folder.path()) == 0);
  }
}
