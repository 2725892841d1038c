#include "engine/cartoon/page.h"

#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>

#include "engine/cartoon/cartoon.h"
#include "engine/cartoon/output_set.h"
#include "reader.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

void draw(const std::string& path) {
  auto pdf = PdfPages::create(path, "Prova è");
  REQUIRE(pdf);
  pdf->begin_page(210, 297);
  pdf->line({20, 20}, {120, 20}, {0.25});
  pdf->line({20, 20}, {20, 120}, {0.25});
  pdf->text({30, 200}, "Fèsta dell’Ànima — žlutý", {6, true, Align::left, 0, kBlack, 0.5});
  pdf->text({30, 150}, "second", {4});
  Image image{40, 20, std::vector<std::uint8_t>(40 * 20 * 3, 120)};
  pdf->picture(image, {100, 200}, {40, 20});
  pdf->begin_page(594, 5000);
  pdf->clip_rectangle({10, 10}, {300, 300});
  const std::vector<std::vector<Vec2>> rings{{{20, 20}, {220, 20}, {220, 120}}};
  pdf->fill(rings, kGrey);
  pdf->path(rings[0], true, {0.5, kBlack, {}, 0.4});
  pdf->unclip();
  CHECK(pdf->pages() == 2);
  REQUIRE(pdf->finish());
}

}  // namespace

TEST_CASE("pages have the wanted size, print unscaled, and say what was written") {
  const TempFolder folder;
  const std::string path = folder.file("page.pdf");
  draw(path);
  const auto boxes = page_boxes_mm(path);
  REQUIRE(boxes.size() == 2);
  CHECK(boxes[0].x == Approx(210).margin(0.05));
  CHECK(boxes[0].y == Approx(297).margin(0.05));
  CHECK(boxes[1].x == Approx(594).margin(0.05));
  CHECK(boxes[1].y == Approx(5000).margin(0.1));
  CHECK(output_of("pdfinfo " + path).find("CreationDate") == std::string::npos);
  CHECK(output_of("qpdf --check " + path).find("No syntax or stream encoding errors") != std::string::npos);
  CHECK(output_of("qpdf --qdf " + path + " -").find("/PrintScaling /None") != std::string::npos);
  const std::string text = output_of("pdftotext " + path + " -");
  CHECK(text.find("Fèsta dell’Ànima — žlutý") != std::string::npos);
  const auto fonts = fonts_of(path);
  CHECK(fonts.size() == 2);
  for (const auto& f : fonts) {
    CHECK(f.name.find("DejaVuSans") != std::string::npos);
    CHECK(f.embedded);
  }
  CHECK(output_of("pdfimages -list " + path).find("jpeg") != std::string::npos);
}

TEST_CASE("lines have the length that was drawn") {
  const TempFolder folder;
  draw(folder.file("page.pdf"));
  const auto paths = drawn_paths(folder.file("page.pdf"), 1);
  int level = 0, upright = 0;
  for (const auto& p : paths) {
    if (p.points.size() != 2) continue;
    const Vec2 d = p.points[1] - p.points[0];
    if (std::abs(d.y) < 0.01 && std::abs(d.x - 100) < 0.01) ++level;
    if (std::abs(d.x) < 0.01 && std::abs(d.y - 100) < 0.01) ++upright;
  }
  CHECK(level == 1);
  CHECK(upright == 1);
}

TEST_CASE("the same pages are the same bytes") {
  const TempFolder folder;
  draw(folder.file("a.pdf"));
  sleep(1);  // a second on, so that a date would show
  draw(folder.file("b.pdf"));
  CHECK(bytes_of(folder.file("a.pdf")) == bytes_of(folder.file("b.pdf")));
}

TEST_CASE("broken letters and line ends do not break a sheet") {
  CHECK(printable("caf\xc3\xa9") == "caf\xc3\xa9");
  CHECK(printable("a\nb\x01") == "a b ");
  CHECK(printable("a\xff\xc3") == "a??");
  CHECK(printable("\xed\xa0\x80") == "???");  // half of a surrogate pair
  CHECK(printable("\xf0\x9f\x8e\xa8") == "\xf0\x9f\x8e\xa8");
}

TEST_CASE("long names are shortened to fit") {
  const TempFolder folder;
  auto pdf = PdfPages::create(folder.file("x.pdf"), "x");
  REQUIRE(pdf);
  pdf->begin_page(100, 100);
  const TextStyle style{4};
  CHECK(pdf->fitted("short", style, 50) == "short");
  const std::string s = pdf->fitted("éééééééééééééééééééééééééééééééééééééééé", style, 30);
  CHECK(s.ends_with("…"));
  CHECK(printable(s) == s);
  CHECK(pdf->text_width(s, style) <= 30);
}

TEST_CASE("papers") {
  CHECK(paper_named("A3")->width_mm == 297);
  CHECK(paper_named("A3")->height_mm == 420);
  CHECK(paper_named("roll914")->roll);
  CHECK(paper_named("roll610")->height_mm / 25.4 * 72 < 14400);
  const auto none = paper_named("A9");
  REQUIRE_FALSE(none);
  CHECK(none.problem().message().find("A0") != std::string::npos);
}

TEST_CASE("files appear together or not at all") {
  const TempFolder folder;
  {
    auto set = OutputSet::open(folder.file("new/inner"));
    REQUIRE(set);
    std::ofstream(set->add("a.pdf")) << "a";
    std::ofstream(set->add("b.pdf")) << "b";
    CHECK_FALSE(std::filesystem::exists(folder.file("new/inner/a.pdf")));
    const auto done = set->commit();
    REQUIRE(done);
    CHECK(*done == std::vector<std::string>{folder.file("new/inner/a.pdf"), folder.file("new/inner/b.pdf")});
    CHECK(bytes_of(folder.file("new/inner/b.pdf")) == "b");
  }
  {
    auto set = OutputSet::open(folder.file("new/inner"));
    REQUIRE(set);
    std::ofstream(set->add("c.pdf")) << "c";
  }
  CHECK(std::distance(std::filesystem::directory_iterator(folder.file("new/inner")), {}) == 2);
  {
    auto set = OutputSet::open(folder.path());
    REQUIRE(set);
    std::ofstream(set->add("first.pdf")) << "1";
    std::ofstream(set->add("new")) << "2";  // a folder has this name
    CHECK_FALSE(set->commit());
  }
  CHECK_FALSE(std::filesystem::exists(folder.file("first.pdf")));
  std::ofstream(folder.file("plain")) << "x";
  const auto bad = OutputSet::open(folder.file("plain"));
  REQUIRE_FALSE(bad);
  CHECK(bad.problem().where == folder.file("plain"));
  if (geteuid() != 0) {
    chmod(folder.file("new").c_str(), 0555);
    CHECK_FALSE(OutputSet::open(folder.file("new")));
    CHECK_FALSE(OutputSet::open(folder.file("new/other")));
    chmod(folder.file("new").c_str(), 0755);
  }
}
