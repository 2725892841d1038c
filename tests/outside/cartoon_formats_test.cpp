// Sheets as SVG and DXF, read by independent programs: SVG by python's xml.etree and libxml2's xmllint and drawn by
// librsvg (Debian librsvg2-bin), DXF by ezdxf (Debian python3-ezdxf), PDF by poppler and qpdf.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <numbers>
#include <regex>

#include "engine/cartoon/cartoon.h"
#include "engine/cartoon/dxf_pages.h"
#include "engine/cartoon/svg_pages.h"
#include "tests/cartoon/reader.h"
#include "tests/fixtures/cartoons.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;
const std::string kHostile = R"(<b>&"' %%d %%%%u 5% ^J \U+00E9 \P ]]> è ž —)";

// One line for each thing found: kind, layer, numbers, words.
constexpr const char* kSvgReader = R"py(
import sys, re, xml.etree.ElementTree as E
S = "{http://www.w3.org/2000/svg}"
root = E.parse(sys.argv[1]).getroot()
assert root.get("width").endswith("mm") and root.get("height").endswith("mm")
w, h = float(root.get("width")[:-2]), float(root.get("height")[:-2])
assert [float(x) for x in root.get("viewBox").split()] == [0, 0, w, h]
print("page", "-", w, h)
def walk(e, layer):
    for c in e:
        if c.tag == S + "path" and c.get("stroke"):
            d = c.get("d")
            p = [tuple(map(float, q.split())) for q in re.findall(r"[ML]([-\d. ]+)", d)]
            closed = d.endswith("Z")
            ends = p[1:] + p[:1] if closed else p[1:]
            length = sum(((a[0]-b[0])**2 + (a[1]-b[1])**2)**.5 for a, b in zip(p, ends))
            if c.get("stroke") != "#ffffff":
                print("closed" if closed else "open", layer, repr(length), p[-1][0] - p[0][0], p[0][1] - p[-1][1],
                      c.get("stroke-width"), "dashed" if c.get("stroke-dasharray") else "")
        elif c.tag == S + "circle":
            print("dot", layer, c.get("cx"), h - float(c.get("cy")), 2 * float(c.get("r")))
        elif c.tag == S + "text" and not c.get("aria-hidden"):
            assert "DejaVu Sans" in c.get("font-family")
            m = re.match(r"translate\(([-\d.]+) ([-\d.]+)\)(?: rotate\(([-\d.]+)\))?", c.get("transform"))
            print("text", layer, m[1], h - float(m[2]), c.get("font-size"), -float(m[3] or 0), c.text)
        elif c.tag == S + "image":
            assert c.get("{http://www.w3.org/1999/xlink}href").startswith("data:image/jpeg;base64,")
            print("picture", layer, c.get("x"), h - float(c.get("y")) - float(c.get("height")), c.get("width"),
                  c.get("height"))
        walk(c, layer)
ids = []
for g in root:
    if g.tag == S + "g":
        ids.append(g.get("id"))
        walk(g, g.get("id"))
assert len(ids) == len(set(ids))
for e in root.iter():
    for k, v in e.attrib.items():
        assert not k.endswith("href") or v.startswith("data:"), v
)py";

constexpr const char* kDxfReader = R"py(
import sys, ezdxf
from ezdxf.lldxf.encoding import decode_dxf_unicode
doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
assert not audit.errors and not audit.fixes, [e.message for e in audit.errors + audit.fixes]
assert doc.dxfversion == "AC1015" and doc.units == 4
lo, hi = doc.header["$EXTMIN"], doc.header["$EXTMAX"]
print("page", "-", hi[0] - lo[0], hi[1] - lo[1])
for e in doc.modelspace():
    layer = e.dxf.layer
    assert layer in doc.layers
    if e.dxftype() == "LWPOLYLINE":
        p = [(x, y) for x, y, *_ in e.get_points()]
        ends = p[1:] + p[:1] if e.closed else p[1:]
        length = sum(((a[0]-b[0])**2 + (a[1]-b[1])**2)**.5 for a, b in zip(p, ends))
        print("closed" if e.closed else "open", layer, repr(length), p[-1][0] - p[0][0], p[-1][1] - p[0][1], 0,
              "" if e.dxf.get("linetype", "BYLAYER") == "BYLAYER" else "dashed")
    elif e.dxftype() == "CIRCLE":
        print("dot", layer, e.dxf.center[0], e.dxf.center[1], 2 * e.dxf.radius)
    elif e.dxftype() == "TEXT":
        at = e.dxf.get("align_point", e.dxf.insert) if e.dxf.get("halign", 0) else e.dxf.insert
        print("text", layer, at[0], at[1], e.dxf.height, e.dxf.get("rotation", 0),
              decode_dxf_unicode(e.plain_text()))
    else:
        raise Exception(e.dxftype())
)py";

struct Found {
  std::string kind, layer, rest;
  std::vector<double> n;
};
std::vector<Found> read_by(const char* script, const TempFolder& folder, const std::string& path) {
  std::ofstream(folder.file("read.py")) << script;
  std::istringstream in(output_of("PYTHONIOENCODING=utf-8 /usr/bin/python3 " + folder.file("read.py") + " " + path));
  std::vector<Found> out;
  for (std::string line; std::getline(in, line);) {
    INFO(line);
    std::istringstream words(line);
    Found f;
    words >> f.kind >> f.layer;
    REQUIRE((f.kind == "page" || f.kind == "closed" || f.kind == "open" || f.kind == "dot" || f.kind == "text" ||
             f.kind == "picture"));
    const int numbers = f.kind == "page" ? 2 : f.kind == "dot" ? 3 : 4;
    for (int i = 0; i < numbers; ++i) words >> f.n.emplace_back();
    REQUIRE(words);
    std::getline(words >> std::ws, f.rest);
    out.push_back(std::move(f));
  }
  REQUIRE_FALSE(out.empty());
  return out;
}

std::vector<Found> of(const std::vector<Found>& all, const std::string& kind, const std::string& layer) {
  std::vector<Found> out;
  for (const Found& f : all)
    if (f.kind == kind && (layer.empty() || f.layer == layer)) out.push_back(f);
  return out;
}

bool near(double a, double b) { return std::abs(a - b) <= 0.05 + 1e-4 * std::abs(b); }

// A page with something in every layer, and words that would break a careless writer.
void draw_all(Pages& pages) {
  pages.begin_page(300, 200);
  pages.line({20, 10}, {120, 10}, {0.3});
  pages.line({10, 20}, {10, 120}, {0.3});
  pages.clip_rectangle({20, 20}, {200, 100});
  pages.set_layer(Layer::picture);
  pages.picture(Image{40, 20, std::vector<std::uint8_t>(40 * 20 * 3, 90)}, {60, 50}, {40, 20});
  pages.set_layer(Layer::outline);
  pages.path(std::vector<Vec2>{{50, 30}, {150, 30}, {150, 90}, {50, 90}}, true, {0.4, kBlack, {}, 0.6});
  pages.set_layer(Layer::lines);
  pages.path(std::vector<Vec2>{{0, 60}, {250, 60}}, false, {0.2, kBlack, {4, 1.5}});  // reaches out of the clip
  pages.set_layer(Layer::dots);
  pages.dots(std::vector<Vec2>{{60, 40}, {63, 40}, {66.5, 41.25}}, 1.2, kBlack);
  pages.set_layer(Layer::marks);
  pages.text({100, 70}, kHostile, {4, true, Align::centre, 30, kBlack, 0.5});
  pages.unclip();
  pages.set_layer(Layer::frame);
  pages.text({20, 150}, "12a", {10});
}

void check_all(const std::vector<Found>& all, bool clipped, const std::string& hostile) {
  const auto page = of(all, "page", "-");
  REQUIRE(page.size() == 1);
  CHECK(near(page[0].n[0], 300));
  CHECK(near(page[0].n[1], 200));
  const auto bars = of(all, "open", "frame");
  REQUIRE(bars.size() == 2);
  CHECK((near(bars[0].n[1], 100) && near(bars[1].n[2], 100)));
  const auto outline = of(all, "closed", "outline");
  REQUIRE(outline.size() == 1);
  CHECK(near(outline[0].n[0], 320));
  const auto lines = of(all, "open", "lines");
  REQUIRE(lines.size() == 1);
  CHECK(near(lines[0].n[0], clipped ? 200 : 250));
  CHECK(lines[0].rest == "dashed");
  const auto dots = of(all, "dot", "dots");
  REQUIRE(dots.size() == 3);
  CHECK((near(dots[2].n[0], 66.5) && near(dots[2].n[1], 41.25) && near(dots[2].n[2], 1.2)));
  const auto words = of(all, "text", "marks");
  REQUIRE(words.size() == 1);
  CHECK(words[0].rest == hostile);
  CHECK((near(words[0].n[0], 100) && near(words[0].n[1], 70) && near(words[0].n[3], 30)));
  const auto number = of(all, "text", "frame");
  REQUIRE(number.size() == 1);
  CHECK(number[0].rest == "12a");
  CHECK(number[0].n[3] == 0);  // upright
}

std::vector<std::string> files_in(const std::string& folder, const std::string& ending) {
  std::vector<std::string> out;
  for (const auto& entry : std::filesystem::directory_iterator(folder))
    if (entry.path().extension() == ending) out.push_back(entry.path().string());
  std::sort(out.begin(), out.end());
  return out;
}

CartoonOptions options_of(const std::string& paper, CartoonFormat format) {
  CartoonOptions options{*paper_named(paper)};
  options.format = format;
  return options;
}

// A quarter of a half cylinder (pi r / 2 wide when unrolled; any table of geometric shapes) by 1.2 m, and a box beside.
layouts::Layout barrel_layout() {
  auto layout = layouts::on(layouts::barrel(2.2, 3, 1.1), 0);
  layouts::add_box(layout, 0.4, kPi * 1.1 / 4, 1.6, kPi * 1.1 * 3 / 4);
  layouts::add_box(layout, 1.6, 1.0, 1.9, 1.4);
  return layout;
}
constexpr double kLargeRim = 2 * (1200 + 1000 * kPi * 1.1 / 2), kSmallRim = 2 * (300 + 400);  // mm

bool is_small(const Found& outline) { return outline.n[0] < 2000; }

}  // namespace

TEST_CASE("a page of every kind of content reads back alike from SVG and DXF") {
  const TempFolder folder;
  auto svg = SvgPages::create([&] { return folder.file("page.svg"); }, kHostile);
  REQUIRE(svg);
  draw_all(*svg);
  REQUIRE(svg->finish());
  CHECK(output_of("xmllint --noout --nonet " + folder.file("page.svg")).empty());
  check_all(read_by(kSvgReader, folder, folder.file("page.svg")), false, kHostile);
  auto dxf = DxfPages::create(folder.file("page.dxf"));
  REQUIRE(dxf);
  draw_all(*dxf);
  REQUIRE(dxf->finish());
  const auto read = read_by(kDxfReader, folder, folder.file("page.dxf"));
  check_all(read, true, std::regex_replace(kHostile, std::regex("%(?=%)"), "% "));
  CHECK(of(read, "picture", "").empty());
}

TEST_CASE("SVG sheets: lengths, bars, layers and sizes, and drawn as the PDF is") {
  const auto layout = barrel_layout();
  const auto input = cartoon_input(layout, ruled_picture(900, 1050));
  const TempFolder folder;
  const auto report = write_cartoon(input, folder.file("svg"), options_of("A2", CartoonFormat::svg));
  REQUIRE(report);
  REQUIRE(write_cartoon(input, folder.file("pdf"), options_of("A2", CartoonFormat::pdf)));
  std::vector<std::string> sheets;
  for (const auto& row : report->giornate)
    for (int i = 1; i <= row.sheets; ++i)
      sheets.push_back(folder.file("svg/giornata-" + std::to_string(row.number) + "-" + std::to_string(i) + ".svg"));
  CHECK(files_in(folder.file("svg"), ".svg").size() == sheets.size());
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    CAPTURE(sheets[i]);
    REQUIRE(std::find(report->files.begin(), report->files.end(), sheets[i]) != report->files.end());
    const auto all = read_by(kSvgReader, folder, sheets[i]);
    const auto page = of(all, "page", "-");
    CHECK(near(std::min(page[0].n[0], page[0].n[1]), 420));  // ISO 216
    CHECK(near(std::max(page[0].n[0], page[0].n[1]), 594));
    const auto outline = of(all, "closed", "outline");
    REQUIRE(outline.size() == 1);
    CHECK(near(outline[0].n[0], is_small(outline[0]) ? kSmallRim : kLargeRim));
    int across = 0, up = 0;
    for (const Found& bar : of(all, "open", "frame"))
      across += near(bar.n[1], 100) && near(bar.n[2], 0), up += near(bar.n[2], 100) && near(bar.n[1], 0);
    CHECK((across >= 1 && up >= 1));
    CHECK(of(all, "picture", "picture").size() == 1);
    CHECK_FALSE(of(all, "text", "frame").empty());
    // librsvg and poppler draw the same sheet from the two files
    const std::string number = std::to_string(i + 1);
    const PageImage pdf = render_page(folder.file("pdf/cartoon.pdf"), static_cast<int>(i) + 1, 40);
    output_of("rsvg-convert -b white -w " + std::to_string(pdf.width) + " -h " + std::to_string(pdf.height) + " -o " +
              folder.file("sheet.png") + " " + sheets[i]);
    const std::string rgb = output_of("convert " + folder.file("sheet.png") + " -depth 8 rgb:-");
    REQUIRE(rgb.size() == pdf.rgb.size());
    double apart = 0, ink = 0;
    for (std::size_t k = 0; k < rgb.size(); ++k) {
      const int a = static_cast<unsigned char>(rgb[k]), b = static_cast<unsigned char>(pdf.rgb[k]);
      apart += std::abs(a - b), ink += 255 - b;
    }
    CHECK(ink > 0);
    CHECK(apart < 0.15 * ink);  // poppler draws thin lines darker
  }
}

TEST_CASE("DXF: whole patterns, one a giornata, at true size") {
  const auto layout = barrel_layout();
  const TempFolder folder;
  const auto report =
      write_cartoon(cartoon_input(layout), folder.file("dxf"), options_of("roll610", CartoonFormat::dxf));
  REQUIRE(report);
  const auto files = files_in(folder.file("dxf"), ".dxf");
  REQUIRE(files == std::vector<std::string>{folder.file("dxf/giornata-1.dxf"), folder.file("dxf/giornata-2.dxf")});
  for (const auto& file : files) {
    CAPTURE(file);
    const auto all = read_by(kDxfReader, folder, file);
    const auto outline = of(all, "closed", "outline");
    REQUIRE(outline.size() == 1);
    CHECK(near(outline[0].n[0], is_small(outline[0]) ? kSmallRim : kLargeRim));
    int across = 0, up = 0;
    for (const Found& bar : of(all, "open", "frame"))
      across += near(bar.n[1], 100) && near(bar.n[2], 0), up += near(bar.n[2], 100) && near(bar.n[1], 0);
    CHECK((across >= 1 && up >= 1));
    // the giornata's number stands upright
    const std::string own = file.substr(file.size() - 5, 1);
    const auto words = of(all, "text", "marks");
    CHECK(std::any_of(words.begin(), words.end(), [&](const Found& f) { return f.rest == own && f.n[3] == 0; }));
  }
}

TEST_CASE("PDF layers: every part of a sheet is in the layer of its kind, and the file is sound") {
  const auto layout = barrel_layout();
  const TempFolder folder;
  REQUIRE(write_cartoon(cartoon_input(layout, ruled_picture(300, 200)), folder.path(),
                        options_of("A1", CartoonFormat::pdf)));
  const std::string pdf = folder.file("cartoon.pdf");
  CHECK(output_of("qpdf --check " + pdf).find("No syntax or stream encoding errors") != std::string::npos);
  std::map<std::string, int> layers;
  for (const DrawnPath& p : drawn_paths(pdf, 1)) ++layers[p.layer];
  CHECK(layers["outline"] > 0);
  CHECK(layers["frame"] > 0);
  CHECK(layers.count("") == 0);
  for (const DrawnPath& p : drawn_paths(pdf, 1))
    if (p.layer == "outline" && p.closed && p.points.size() > 2) {
      double length = 0;
      for (std::size_t i = 0; i < p.points.size(); ++i)
        length += glm::distance(p.points[i], p.points[(i + 1) % p.points.size()]);
      CHECK(near(length, length < 2000 ? kSmallRim : kLargeRim));
    }
}
