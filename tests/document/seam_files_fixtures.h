// Drawings in memory, and walls with seams to take out.
#pragma once

#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "engine/document/seam_files/bring_in.h"
#include "engine/document/seam_files/take_out.h"
#include "tests/document/folders.h"
#include "tests/document/small_project.h"
#include "tests/fixtures/layouts.h"
#include "tests/fixtures/random_places.h"

namespace pontata::fixtures {

inline Result<Drawing> drawing_in(const std::string& name, const std::string& text,
                                  const DrawingOptions& options = {}) {
  const TemporaryFolder folder;
  write_bytes(folder.file(name), text);
  return read_drawing(folder.file(name), options);
}
inline Drawing drawn(const std::string& name, const std::string& text, const DrawingOptions& options = {}) {
  auto drawing = drawing_in(name, text, options);
  INFO((drawing ? std::string() : drawing.problem().message()));
  REQUIRE(drawing.ok());
  return *drawing;
}
// A page of 4 by 3 m, one unit a metre.
inline std::string page(const std::string& inner) {
  return R"(<svg xmlns="http://www.w3.org/2000/svg" width="4000mm" height="3000mm" viewBox="0 0 4 3">)" + inner +
         "</svg>";
}
// Entities in metres.
inline std::string dxf(const std::string& entities, const std::string& units = "6") {
  return "  0\nSECTION\n  2\nHEADER\n  9\n$INSUNITS\n 70\n" + units + "\n  0\nENDSEC\n  0\nSECTION\n  2\nENTITIES\n" +
         entities + "  0\nENDSEC\n  0\nEOF\n";
}
inline std::string groups(const std::vector<std::pair<int, std::string>>& list) {
  std::string text;
  for (const auto& [code, value] : list) text += fmt::format("{:>3}\n{}\n", code, value);
  return text;
}

inline SeamsBrought brought(const Document& doc, const Drawing& drawing, const BringOptions& options = {}) {
  auto result = bring_in_seams(doc, doc.walls[0]->id, drawing, options);
  INFO((result ? std::string() : result.problem().message()));
  REQUIRE(result.ok());
  for (const auto& fault : result->document->walls[0]->network.check()) FAIL(fault.message());
  return std::move(*result);
}

// Twice the area of a path's lines by the shoelace formula, m^2, with the sign of their turn.
inline double shoelace(const DrawnLine& line) {
  double twice = 0;
  for (std::size_t i = 0; i < line.points.size(); ++i)
    twice += cross2(line.points[i], line.points[(i + 1) % line.points.size()]);
  return twice / 2;
}

inline DocumentRef wall_of(const ShapeSpec& shape, const std::vector<Opening>& openings = {}) {
  return done(add_shape_wall(Document{}, "wall", shape, {}, openings));
}

// Wavy outlines over the whole wall, meeting and overlapping; what the wall refuses is left out.
inline DocumentRef scribbled(DocumentRef doc, unsigned seed, int outlines) {
  Random random(seed);
  const WallId wall = doc->walls[0]->id;
  const ChartBox box = doc->walls[0]->wall->chart->box();
  for (int k = 0; k < outlines; ++k) {
    const ChartPoint centre{random.uniform(0, box.width), random.uniform(0, box.height)};
    const auto blob = layouts::blob(centre, random.uniform(0.1, 0.3) * std::min(box.width, box.height), 0.3, 40,
                                    random.uniform(0, 6));
    std::vector<ChartPoint> outline;
    for (const ChartPoint& p : blob) outline.push_back(doc->walls[0]->wall->chart->clamp(p));
    if (auto drawn = draw_outline(*doc, wall, outline, false, fmt::format("Nº {} <&\"'>", k))) doc = drawn->document;
  }
  return doc;
}

// The rings of all giornate in the order of their numbers, each from its least point.
inline std::vector<std::vector<Ring>> all_rings(const Document& doc) {
  std::vector<std::vector<Ring>> all;
  for (const auto& path : take_out_seams(doc, *doc.walls[0]).paths) {
    if (path.kind != "giornata") continue;
    all.push_back(path.rings);
    for (Ring& ring : all.back()) std::rotate(ring.begin(), std::min_element(ring.begin(), ring.end()), ring.end());
    std::sort(all.back().begin(), all.back().end());
  }
  return all;
}

// Areas of giornate in the network's integers, in the order of their numbers.
inline std::vector<std::int64_t> all_areas(const Document& doc) {
  std::vector<std::int64_t> areas;
  const Network& network = doc.walls[0]->network;
  for (const auto& path : take_out_seams(doc, *doc.walls[0]).paths) {
    if (path.kind != "giornata") continue;
    areas.push_back(0);
    for (const FaceId f : network.faces_of(GiornataId{path.id})) areas.back() += network.sums(f).area;
  }
  return areas;
}

}  // namespace pontata::fixtures
