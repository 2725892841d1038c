// Seam files read and written by independent programs: DXF by ezdxf (Debian python3-ezdxf), SVG by librsvg
// (Debian librsvg2-bin) and, for soundness, libxml2's xmllint.
#include <sys/wait.h>

#include <cstdio>
#include <cstdlib>
#include <sstream>

#include "engine/picture/image.h"
#include "tests/document/seam_files_fixtures.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

std::string said(const std::string& command, int expected = 0) {
  FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
  REQUIRE(pipe);
  std::string out;
  char buffer[4096];
  while (const std::size_t n = std::fread(buffer, 1, sizeof buffer, pipe)) out.append(buffer, n);
  const int status = ::pclose(pipe);
  INFO(out);
  REQUIRE(WEXITSTATUS(status) == expected);
  return out;
}

DocumentRef layout() {
  const Opening window{OpeningKind::round, {1.7, 1.4}, 0.6, 0, {}};
  auto doc = scribbled(wall_of(flat_spec(4, 3), {window}), 11, 12);
  return done(add_zone(*doc, doc->walls[0]->id, ZoneKind::detail, box(0.7, 0.7, 0.3, 0.3), "face", 0.06));
}

// Dark pixels of a drawing as librsvg fills it, as an area and a centre in metres; v up.
struct Ink {
  double area = 0, u = 0, v = 0;
};
Ink ink(const TemporaryFolder& folder, const std::string& svg, double width, double height, double px_per_m) {
  write_bytes(folder.file("ink.svg"), svg);
  const int w = static_cast<int>(width * px_per_m), h = static_cast<int>(height * px_per_m);
  said(fmt::format("rsvg-convert -w {} -h {} --background-color white -o {} {}", w, h, folder.file("ink.png"),
                   folder.file("ink.svg")));
  said(fmt::format("convert {} -depth 8 gray:{}", folder.file("ink.png"), folder.file("ink.gray")));
  const std::string gray = bytes_of(folder.file("ink.gray"));
  REQUIRE(gray.size() == static_cast<std::size_t>(w) * static_cast<std::size_t>(h));
  Ink sum;
  for (int y = 0; y < h; ++y)
    for (int x = 0; x < w; ++x) {
      const double dark = 1 - static_cast<unsigned char>(gray[static_cast<std::size_t>(y * w + x)]) / 255.0;
      sum.area += dark;
      sum.u += dark * (x + 0.5);
      sum.v += dark * (h - y - 0.5);
    }
  return {sum.area / px_per_m / px_per_m, sum.u / sum.area / px_per_m, sum.v / sum.area / px_per_m};
}

// The same of what we read, by the shoelace sums of its closed lines; holes run against their outlines.
Ink read_ink(const Drawing& drawing) {
  Ink sum;
  for (const auto& path : drawing.paths)
    for (const auto& line : path.lines)
      for (std::size_t i = 0; i < line.points.size(); ++i) {
        const Vec2 a = line.points[i], b = line.points[(i + 1) % line.points.size()];
        const double c = cross2(a, b) / 2;
        sum.area += c;
        sum.u += c * (a.x + b.x) / 3;
        sum.v += c * (a.y + b.y) / 3;
      }
  return {std::abs(sum.area), sum.u / sum.area, sum.v / sum.area};
}

}  // namespace

TEST_CASE("ezdxf reads our DXF without a fault: units, layers, closed polylines, areas") {
  const TemporaryFolder folder;
  const auto doc = layout();
  const SeamsTaken taken = take_out_seams(*doc, *doc->walls[0]);
  write_bytes(folder.file("layout.dxf"), seams_dxf(taken));
  write_bytes(folder.file("read.py"), R"py(
import sys, ezdxf
from ezdxf.math import area
doc = ezdxf.readfile(sys.argv[1])
audit = doc.audit()
print(doc.dxfversion, doc.units, len(audit.errors) + len(audit.fixes), len(doc.modelspace()))
sums = {}
for e in doc.modelspace():
    assert e.dxftype() == "LWPOLYLINE" and e.closed and e.has_xdata("PONTATA")
    p = [(x, y) for x, y, *_ in e.get_points()]
    s = sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(p, p[1:] + p[:1])) / 2
    assert e.dxf.layer in doc.layers
    sums[e.dxf.layer] = sums.get(e.dxf.layer, 0) + s
for layer in sums: print(repr(sums[layer]), layer)
)py");
  std::istringstream out(said("/usr/bin/python3 " + folder.file("read.py") + " " + folder.file("layout.dxf")));
  std::string version, layer;
  int units = 0, faults = 0;
  std::size_t polylines = 0, rings = 0;
  out >> version >> units >> faults >> polylines;
  for (const auto& path : taken.paths) rings += path.rings.size();
  CHECK(version == "AC1015");
  CHECK(units == 6);  // metres
  CHECK(faults == 0);
  CHECK(polylines == rings);
  const auto areas = all_areas(*doc);
  std::size_t seen = 0;
  for (double sum = 0; out >> sum && std::getline(out >> std::ws, layer);) {
    if (!layer.starts_with("giornata ")) continue;
    INFO(layer);
    CHECK(sum == Approx(static_cast<double>(areas[seen++]) * kAreaUnit).margin(1e-9));  // a flat wall's chart is true
  }
  CHECK(seen == areas.size());
}

TEST_CASE("xmllint finds our SVG sound and librsvg draws each giornata at its place and size") {
  const TemporaryFolder folder;
  const auto doc = layout();
  const std::string svg = seams_svg(take_out_seams(*doc, *doc->walls[0]));
  write_bytes(folder.file("layout.svg"), svg);
  said("xmllint --noout --nonet " + folder.file("layout.svg"));
  const auto areas = all_areas(*doc);
  const auto drawing = drawn("layout.svg", svg);
  std::size_t k = 0;
  for (const auto& path : drawing.paths) {
    if (path.own->kind != "giornata") continue;
    // Everything but this giornata is taken out of the picture by librsvg's own hiding.
    std::string alone = svg;
    for (std::size_t at = alone.find("<g id="); at != std::string::npos; at = alone.find("<g id=", at + 1)) {
      const bool wanted = alone.compare(at, 7 + 9 + std::to_string(k + 1).size() + 1,
                                        "<g id=\"giornata-" + std::to_string(k + 1) + "\"") == 0;
      alone.insert(at + 2, wanted ? " stroke=\"none\" style=\"fill:black\"" : " display=\"none\"");
    }
    const Ink seen = ink(folder, alone, 4, 3, 200);
    const double area = static_cast<double>(areas[k++]) * kAreaUnit;
    INFO(path.place);
    // Coverage in 1/255 along the rim of pixels of 5 mm.
    CHECK(seen.area == Approx(area).margin(2e-4 + 0.002 * std::sqrt(area)));
    Drawing one;
    one.paths = {path};
    CHECK(seen.u == Approx(read_ink(one).u).margin(1e-3));
    CHECK(seen.v == Approx(read_ink(one).v).margin(1e-3));
    if (k == 4) break;
  }
  CHECK(k == 4);
}

TEST_CASE("what we read of an SVG lies where librsvg draws it: units, view boxes, transforms, curves") {
  const TemporaryFolder folder;
  const std::string first = R"svg(<g transform="translate(20 30) rotate(20) skewX(15) scale(1.5 .8)">)svg";
  const std::string second = R"svg(<g transform="matrix(.9 .2 -.3 1.1 150 60)">)svg";
  const std::vector<std::string> shapes{
      first + R"svg(<path d="M10 10c30-20 60 20 90 0s20 50 0 70q-30 20-60-5t-20 5a25 15 25 0 1 -10-35z"/></g>)svg",
      second + R"svg(<rect width="60" height="40" rx="12" ry="20"/></g>)svg",
      second + R"svg(<ellipse cx="20" cy="80" rx="30" ry="14"/></g>)svg",
      first + R"svg(<path d="M20 20h40v30h-40zm10 10v10h20v-10z" style="fill-rule: evenodd"/></g>)svg"};
  const auto check = [&](const std::string& head, double width, double height) {
    for (const auto& shape : shapes) {
      INFO(head << shape);
      const std::string svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" " + head + ">" + shape + "</svg>";
      const Ink seen = ink(folder, svg, width, height, 1600 / width), read = read_ink(drawn("s.svg", svg));
      const double pixel = width / 1600;
      CHECK(seen.area == Approx(read.area).epsilon(0.004));
      CHECK(seen.u == Approx(read.u).margin(0.2 * pixel));
      CHECK(seen.v == Approx(read.v).margin(0.2 * pixel));
    }
  };
  check("width=\"400mm\" height=\"300mm\" viewBox=\"0 0 260 200\"", 0.4, 0.3);
  check("width=\"80cm\" height=\"30cm\" viewBox=\"-10 5 260 200\" preserveAspectRatio=\"xMaxYMin meet\"", 0.8, 0.3);
  check("width=\"20in\" height=\"10in\" viewBox=\"0 0 260 200\" preserveAspectRatio=\"none\"", 0.508, 0.254);
}

TEST_CASE("what ezdxf writes is read with its own areas: bulges, arcs, ellipses, splines, both sides of the plane") {
  const TemporaryFolder folder;
  write_bytes(folder.file("write.py"), R"py(
import sys, ezdxf
from ezdxf import path
for version in ("R12", "R2000", "R2018"):
    doc = ezdxf.new(version, units=4)
    m = doc.modelspace()
    if version == "R12":
        m.add_polyline2d([(1000, 1000, 0, 0, .3), (2000, 1200, 0, 0, -.2), (1500, 2200, 0, 0, 0)], format="xyseb", close=True)
        m.add_circle((2500, 1500), 400)
    else:
        doc.header["$INSUNITS"] = 4
        m.add_lwpolyline([(1000, 1000, .3), (2000, 1200, -.2), (1500, 2200, 0)], format="xyb", close=True)
        m.add_lwpolyline([(-1000, 1000, .3), (-2000, 1200, -.2), (-1500, 2200, 0)], format="xyb", close=True,
                         dxfattribs={"extrusion": (0, 0, -1)})
        m.add_circle((-2500, 1500), 400, dxfattribs={"extrusion": (0, 0, -1)})
        m.add_ellipse((2000, 1500), (600, 300), .4)
        m.add_ellipse((2000, 1500), (600, 300), .4, dxfattribs={"extrusion": (0, 0, -1)})
        s = m.add_spline(degree=3)
        s.set_closed([(1000, 1000, 0), (2000, 900, 0), (2600, 1800, 0), (1500, 2500, 0), (700, 1900, 0)])
        s = m.add_spline()
        s.set_open_rational([(1000, 1000, 0), (2000, 1000, 0), (2000, 2000, 0), (1000, 2000, 0), (1000, 1000, 0)], [1, .5, 2, .7, 1])
    doc.saveas(sys.argv[1] + version + ".dxf")
    for e in m:
        if e.dxftype() == "SPLINE" and e.closed:
            # A closed uniform cubic: the matrix of de Boor, A Practical Guide to Splines, 1978 (from memory).
            c = [ezdxf.math.Vec3(q) for q in e.control_points]
            p = [(a * (1 - t) ** 3 + b * (3 * t ** 3 - 6 * t * t + 4) + d * (-3 * t ** 3 + 3 * t * t + 3 * t + 1)
                  + f * t ** 3) / 6 for a, b, d, f in zip(c, c[1:], c[2:], c[3:]) for t in [k / 500 for k in range(500)]]
        else:
            p = list(path.make_path(e).flattening(.002, 64))
        s = sum(a.x * b.y - a.y * b.x for a, b in zip(p, p[1:] + p[:1])) / 2e6
        u = sum((a.x + b.x) * (a.x * b.y - a.y * b.x) for a, b in zip(p, p[1:] + p[:1])) / 6e9 / s
        print(version, e.dxftype(), abs(s), u)
)py");
  std::istringstream out(said("/usr/bin/python3 " + folder.file("write.py") + " " + folder.file("e")));
  std::map<std::string, std::vector<DrawnPath>> read;
  int seen = 0;
  std::string version, kind;
  for (double area = 0, u = 0; out >> version >> kind >> area >> u; ++seen) {
    if (!read.count(version)) {
      DrawingOptions options;
      if (version == "R12") options.unit_m = 0.001;  // states no unit
      const auto drawing = read_drawing(folder.file("e" + version + ".dxf"), options);
      INFO((drawing ? std::string() : drawing.problem().message()));
      REQUIRE(drawing.ok());
      read[version] = drawing->paths;
    }
    INFO(version << " " << kind << " " << seen);
    REQUIRE_FALSE(read[version].empty());
    Drawing one;
    one.paths = {read[version].front()};
    read[version].erase(read[version].begin());
    REQUIRE(one.paths[0].place.starts_with(kind));
    CHECK(one.paths[0].lines[0].closed);
    CHECK(read_ink(one).area == Approx(area).margin(6e-4));  // chords of 0.1 mm over rims of up to 6 m
    CHECK(read_ink(one).u == Approx(u).margin(3e-4));
  }
  CHECK(seen == 2 + 7 + 7);
}
