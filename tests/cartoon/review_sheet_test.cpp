// The review sheet as independent readers (poppler, qpdf) find it.
#include "engine/cartoon/review_sheet.h"

#include <catch2/catch.hpp>
#include <regex>

#include "engine/cartoon/heat_picture.h"
#include "engine/review/rule_words.h"
#include "reader.h"
#include "tests/fixtures/layouts.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

// Two giornate on a barrel seen from its floor, with so many findings of all severities, some of them accepted.
ReviewSheetInput sheet_of(const layouts::Layout& layout, int findings) {
  ReviewSheetInput input;
  input.project = "chapel.pontata";
  input.settings.joint_mm = 2;
  ReviewedWall wall;
  wall.name = "vault";
  wall.wall = layout.wall;
  const WallMeasure measure = layout.measure();
  for (const GiornataMeasure& m : measure.giornate) {
    ReviewedPatch& patch = wall.patches.emplace_back();
    patch.label = std::to_string(m.id.value);
    patch.inside = m.inside;
    for (const FaceId f : layout.network.faces_of(m.id))
      for (Ring& ring : layout.network.rings(f)) patch.rings.push_back(std::move(ring));
  }
  const auto rules = all_rules();
  for (int k = 0; k < findings; ++k) {
    Finding f;
    f.rule = rules[static_cast<std::size_t>(k) % rules.size()].rule;
    f.severity = std::array{Severity::decide, Severity::warn, Severity::note}[static_cast<std::size_t>(k) % 3];
    f.giornate = {GiornataId{1}, GiornataId{2}};
    f.chart = {1.0 + 0.01 * (k % 5), 1 + 0.02 * k};
    f.at = *layout.wall->position(f.chart);
    f.value = 1.25, f.limit = 0.5;
    f.says = "Finding" + std::to_string(k) +
             " says what is wrong here, in words enough to run over several lines of "
             "the narrow column that it stands in, so that they must be wrapped.";
    f.remedy = "Remedy" + std::to_string(k) + " says what to do.";
    f.stretches = {{f.chart, {f.chart.u + 0.3, f.chart.v}}};
    if (k % 7 == 6) f.accepted = "reason" + std::to_string(k) + " of ours";
    wall.findings.push_back({f, "abc123", "giornate 1 and 2"});
  }
  FloorInput floor;
  floor.wall = layout.wall;
  floor.network = &layout.network;
  floor.joint_mm = 2;
  for (const EyePoint& eye : {EyePoint{"door", {0.3, 0, -1.4}}, EyePoint{"roof", {1, 0, 9}}}) {
    const auto sights = seams_from(floor, eye);
    ReviewedView view{eye, heat_lines(sights), {}};
    for (WorstStretch& w : worst_stretches(sights, 5)) view.worst.push_back({std::move(w), "between giornate 1 and 2"});
    wall.views.push_back(std::move(view));
  }
  input.walls.push_back(std::move(wall));
  return input;
}

layouts::Layout two_on_a_barrel() {
  auto layout = layouts::on(layouts::barrel(4, 3, 2), 0.002);
  layouts::add_box(layout, 0.5, 1, 1.5, 4);
  layouts::add_box(layout, 1.5, 1, 2.5, 4);
  return layout;
}

std::string whole_text(const std::string& path) {
  const std::string text = output_of("pdftotext -raw " + path + " -");
  return std::regex_replace(text, std::regex("\\s+"), " ");
}

std::size_t count_of(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++n;
  return n;
}

}  // namespace

TEST_CASE("every finding stands on the review sheet with what it says and what to do") {
  const auto layout = two_on_a_barrel();
  const TempFolder folder;
  const std::string path = folder.file("review.pdf");
  const int findings = 60;
  REQUIRE(write_review_sheet(sheet_of(layout, findings), path).ok());
  const std::string text = whole_text(path);
  for (int k = 0; k < findings; ++k) {
    INFO(k);
    CHECK(count_of(text, "Finding" + std::to_string(k) + " ") == 1);
    const bool accepted = k % 7 == 6;
    CHECK(count_of(text, "Remedy" + std::to_string(k) + " ") == (accepted ? 0 : 1));
    CHECK(count_of(text, "Accepted: reason" + std::to_string(k) + " of ours") == (accepted ? 1 : 0));
  }
  for (const RuleWords& rule : all_rules()) CHECK(text.find(std::string(rule.title)) != std::string::npos);
  // Cautions, the caveat, the eye point; the view from outside shows nothing and has no page.
  for (const char* words : {"H318", "codes", "far below", "Eye point door", "Worst stretches", "minutes of arc",
                            "No seam is seen of: vault from roof"})
    CHECK(text.find(words) != std::string::npos);
  CHECK(text.find("Eye point roof") == std::string::npos);
}

TEST_CASE("pages of the review sheet are sound: A3, fonts embedded, no words over each other or off the page") {
  const auto layout = two_on_a_barrel();
  const TempFolder folder;
  const std::string path = folder.file("review.pdf");
  REQUIRE(write_review_sheet(sheet_of(layout, 40), path).ok());
  CHECK(output_of("qpdf --check " + path).find("No syntax or stream encoding errors") != std::string::npos);
  for (const FontLine& font : fonts_of(path)) CHECK(font.embedded);
  const auto boxes = page_boxes_mm(path);
  REQUIRE(boxes.size() >= 4);
  for (std::size_t page = 0; page < boxes.size(); ++page) {
    CHECK(boxes[page].x == Approx(420).margin(0.2));
    CHECK(boxes[page].y == Approx(297).margin(0.2));
    const auto words = words_of(path, static_cast<int>(page) + 1);
    for (const WordBox& w : words) {
      CHECK(w.left >= 0);
      CHECK(w.right <= 420 / 25.4 * 72);
      CHECK(w.bottom <= 297 / 25.4 * 72);
    }
    const bool list = page >= 2 && page + 2 < boxes.size();  // pages of text alone
    if (list)
      for (std::size_t a = 0; a < words.size(); ++a)
        for (std::size_t b = a + 1; b < words.size(); ++b) {
          INFO(page << ": " << words[a].words << " / " << words[b].words);
          CHECK_FALSE(overlap(words[a], words[b]));
        }
  }
}

TEST_CASE("a review sheet is written whole or not at all, and the same each time") {
  const auto layout = two_on_a_barrel();
  const TempFolder folder;
  const auto input = sheet_of(layout, 3);
  REQUIRE(write_review_sheet(input, folder.file("a.pdf")).ok());
  REQUIRE(write_review_sheet(input, folder.file("b.pdf")).ok());
  CHECK(bytes_of(folder.file("a.pdf")) == bytes_of(folder.file("b.pdf")));
  Progress progress;
  progress.cancelled = true;
  CHECK_FALSE(write_review_sheet(input, folder.file("c.pdf"), &progress).ok());
  CHECK_FALSE(std::filesystem::exists(folder.file("c.pdf")));
  CHECK_FALSE(write_review_sheet(input, "/proc/none/review.pdf").ok());
  auto clean = sheet_of(layout, 0);
  clean.walls[0].views.clear();
  REQUIRE(write_review_sheet(clean, folder.file("clean.pdf")).ok());
  const std::string text = whole_text(folder.file("clean.pdf"));
  CHECK(text.find("Nothing to remark") != std::string::npos);
  CHECK(text.find("No eye point is set") != std::string::npos);
}

TEST_CASE("heat lines over a view: graded, hidden where a wall hides them, with a legend that fits") {
  // The barrel seen from its floor, and from outside, where its back hides every seam.
  const auto layout = two_on_a_barrel();
  FloorInput floor;
  floor.wall = layout.wall;
  floor.network = &layout.network;
  floor.joint_mm = 3;
  const EyePoint eye{"door", {1.5, 0, -1.4}};
  const std::vector<HeatedWall> walls{{layout.wall, heat_lines(seams_from(floor, eye))}};
  const auto dark = [](const Image& image, int rows) {
    int n = 0;
    for (int y = 0; y < rows; ++y)
      for (int x = 0; x < image.width; ++x) {
        const auto at = 3 * static_cast<std::size_t>(y * image.width + x);
        n += image.rgb[at] < 90 && image.rgb[at + 1] < 40 && image.rgb[at + 2] < 100;
      }
    return n;
  };
  for (const bool inside : {true, false}) {
    for (const int width : {600, 1200}) {
      const PictureSize size(width, width * 3 / 4);
      const auto camera = eye_camera(inside ? eye.at : Vec3(1.5, 0, 8), {1.5, 0, 1.5}, {0, 1, 0}, 90, size);
      REQUIRE(camera.ok());
      Image view;
      view.width = size.width;
      view.height = size.height;
      view.rgb.assign(3 * static_cast<std::size_t>(view.width * view.height), 200);
      const auto made = with_heat_lines(view, *camera, walls, "door");
      REQUIRE(made.ok());
      CHECK(made->width == view.width);
      CHECK(made->height == view.height);
      const int above = view.height / 2;  // the legend lies below
      CHECK((dark(*made, above) > 20) == inside);
      // Its last grade is on the picture.
      CHECK(dark(*made, view.height) - dark(*made, above) > 20);
    }
  }
}
