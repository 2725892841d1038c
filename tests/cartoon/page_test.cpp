#include "engine/cartoon/page.h"

#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <fstream>
#include <map>
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

TEST_CASE("layers are optional content that readers list, show at first and can hide") {
  const TempFolder folder;
  const std::string path = folder.file("page.pdf");
  auto pdf = PdfPages::create(path, "x");
  REQUIRE(pdf);
  for (int page = 0; page < 2; ++page) {
    pdf->begin_page(200, 200);
    pdf->line({10, 10}, {110, 10}, {0.3});
    pdf->clip_rectangle({20, 20}, {150, 150});
    pdf->set_layer(Layer::picture);
    pdf->picture(Image{40, 40, std::vector<std::uint8_t>(40 * 40 * 3, 90)}, {30, 30}, {40, 40});
    pdf->set_layer(Layer::outline);
    pdf->path(std::vector<Vec2>{{100, 100}, {150, 100}, {150, 150}}, true, {0.4, kBlack, {}, 0.6});
    pdf->set_layer(Layer::cuts);  // nothing in it
    pdf->set_layer(Layer::dots);
    pdf->dots(std::vector<Vec2>{{120, 40}, {130, 40}}, 4, kBlack);
    pdf->text({120, 60}, "on dots", {4});
    pdf->unclip();
    pdf->set_layer(Layer::frame);
    pdf->line({10, 12}, {110, 12}, {0.3});
  }
  REQUIRE(pdf->finish());
  CHECK(output_of("qpdf --check " + path).find("No syntax or stream encoding errors") != std::string::npos);
  const std::string qdf = output_of("qpdf --qdf --object-streams=disable " + path + " -");
  for (const char* name : {"frame", "picture", "dots", "outline"})
    CHECK(qdf.find("/Name (" + std::string(name) + ")") != std::string::npos);
  CHECK(qdf.find("/Name (cuts)") == std::string::npos);
  CHECK(qdf.find("/Order [") != std::string::npos);
  CHECK(qdf.find("/MCID") == std::string::npos);
  CHECK(qdf.find("StructTreeRoot") == std::string::npos);
  for (int page = 1; page <= 2; ++page) {
    std::map<std::string, int> paths;
    for (const auto& p : drawn_paths(path, page))
      if (p.width_mm > 0 && p.points.size() > 1) ++paths[p.layer];
    CHECK(paths.size() == 2);
    CHECK(paths["frame"] == 2);
    CHECK(paths["outline"] == 2);  // its casing and itself
    const PageImage all = render_page(path, page, 50);
    const auto dark = [](const PageImage& i, double x, double y) {
      return i.at(x / 25.4 * 50, (200 - y) / 25.4 * 50)[0] < 128;
    };
    CHECK(dark(all, 50, 50));
    CHECK(dark(all, 120, 40));
    // poppler shows no content of a group that is off
    std::string hidden = qdf;
    const std::string off = folder.file("off.pdf");
    const auto at = hidden.find("/BaseState /ON"), on = hidden.find("/ON [");
    REQUIRE(at != std::string::npos);
    REQUIRE(on != std::string::npos);
    hidden.replace(at, 14, "/BaseState /OFF"), hidden.replace(hidden.find("/ON ["), 5, "/No [");
    std::ofstream(off, std::ios::binary) << hidden;
    const PageImage none = render_page(off, page, 50);
    for (const auto& p : {Vec2{50, 50}, Vec2{120, 40}, Vec2{60, 10}}) CHECK_FALSE(dark(none, p.x, p.y));
  }
}

TEST_CASE("a document of one kind of content has no layers") {
  const TempFolder folder;
  draw(folder.file("page.pdf"));
  const std::string qdf = output_of("qpdf --qdf " + folder.file("page.pdf") + " -");
  CHECK(qdf.find("OCProperties") == std::string::npos);
  CHECK(qdf.find("BDC") == std::string::npos);
  CHECK(qdf.find("EMC") == std::string::npos);
}

TEST_CASE("a page can be had as dots without a file") {
  auto page = PdfPages::create_image(25.4);
  REQUIRE(page);
  page->begin_page(60, 40);
  page->fill_rectangle({10, 20}, {20, 10}, kBlack);
  const auto image = page->image();
  REQUIRE(image);
  CHECK(image->width == 60);
  CHECK(image->height == 40);
  const auto red = [&](int x, int y) { return image->rgb[static_cast<std::size_t>(3 * (y * 60 + x))]; };
  CHECK(red(20, 15) == 0);  // rows from the top
  CHECK(red(20, 25) == 255);
  CHECK(red(5, 15) == 255);
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

TEST_CASE("when a file cannot take its name all is as before, and folders made for it are gone") {
  const TempFolder folder;
  std::ofstream(folder.file("a.pdf")) << "old";
  {
    auto set = OutputSet::open(folder.path());
    REQUIRE(set);
    std::ofstream(set->add("a.pdf")) << "new";
    set->add("b.pdf");  // never written, so it cannot be renamed
    CHECK_FALSE(set->commit());
  }
  CHECK(bytes_of(folder.file("a.pdf")) == "old");
  CHECK(std::distance(std::filesystem::directory_iterator(folder.path()), {}) == 1);
  { REQUIRE(OutputSet::open(folder.file("x/y/z"))); }
  CHECK_FALSE(std::filesystem::exists(folder.file("x")));
  {
    auto set = OutputSet::open(folder.path(), [](const std::string& path) -> Outcome {
      if (path.ends_with("a.pdf")) return Problem{"this is the project", path, ""};
      return Done{};
    });
    std::ofstream(set->add("c.pdf")) << "new";
    std::ofstream(set->add("a.pdf")) << "new";
    const auto refused = set->commit();
    REQUIRE_FALSE(refused);
    CHECK(refused.problem().what == "this is the project");
  }
  CHECK(bytes_of(folder.file("a.pdf")) == "old");
  CHECK_FALSE(std::filesystem::exists(folder.file("c.pdf")));
}

TEST_CASE("a shorter row of sheets leaves none of a longer one behind") {
  const TempFolder folder;
  for (const char* name : {"giornata-3-1.svg", "giornata-3-2.svg", "giornata-3-3.svg", "giornata-33-2.svg", "mine.svg"})
    std::ofstream(folder.file(name)) << "old";
  auto set = OutputSet::open(folder.path());
  REQUIRE(set);
  std::ofstream(set->add_numbered("giornata-3", 1, ".svg")) << "new";
  REQUIRE(set->commit());
  CHECK(bytes_of(folder.file("giornata-3-1.svg")) == "new");
  CHECK_FALSE(std::filesystem::exists(folder.file("giornata-3-2.svg")));
  CHECK_FALSE(std::filesystem::exists(folder.file("giornata-3-3.svg")));
  CHECK(bytes_of(folder.file("giornata-33-2.svg")) == "old");
  CHECK(bytes_of(folder.file("mine.svg")) == "old");
}
