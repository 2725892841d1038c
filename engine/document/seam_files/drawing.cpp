#include "engine/document/seam_files/drawing.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <utility>

#include "engine/base/units.h"
#include "engine/document/atomic_file.h"
#include "engine/document/seam_files/joined_strokes.h"
#include "engine/document/sha256.h"
#include "engine/wall/scan.h"

namespace pontata {

namespace {

constexpr double kSameEnd = 1e-5;  // m: ends of a line this near close it

std::string ending_of(const std::string& path) {
  std::string ending = std::filesystem::path(path).extension().string();
  for (char& c : ending)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return ending;
}

// Lines that come back to where they began are outlines.
void close_lines(Drawing& drawing) {
  for (auto& path : drawing.paths)
    for (auto& line : path.lines) {
      const double gap = glm::length(line.points.front() - line.points.back());
      if (line.closed ? gap > 0 || line.points.size() < 2 : gap > kSameEnd || line.points.size() < 4) continue;
      line.points.pop_back();
      line.closed = true;
    }
}

bool is_outline(const DrawnPath& path) {
  return std::any_of(path.lines.begin(), path.lines.end(), [](const DrawnLine& line) { return line.closed; });
}

// An outline without a title takes the name of the layer it has to itself.
void name_by_layer(Drawing& drawing) {
  std::map<std::string, int> outlines;
  for (const auto& path : drawing.paths)
    if (is_outline(path)) ++outlines[path.layer];
  for (auto& path : drawing.paths)
    if (!path.own && path.name.empty() && path.layer != "0" && is_outline(path) && outlines[path.layer] == 1)
      path.name = path.layer;
}

Outcome check_layers(const Drawing& drawing, const DrawingOptions& options, const std::string& file) {
  for (const auto& wanted : options.layers) {
    if (drawing.layers.count(wanted)) continue;
    if (std::any_of(drawing.paths.begin(), drawing.paths.end(), [&](const auto& p) { return p.layer == wanted; }))
      continue;
    std::string known;
    for (const auto& layer : drawing.layers)
      if (known.size() < 200) known += (known.empty() ? "" : ", ") + layer;
    return Problem{"has no layer named " + wanted, file,
                   known.empty() ? "It names no layers." : "Its layers are " + known + "."};
  }
  return Done{};
}

Outcome check_points(const Drawing& drawing, const std::string& file) {
  for (const auto& path : drawing.paths)
    for (const auto& line : path.lines)
      for (const Vec2& p : line.points)
        if (!std::isfinite(p.x) || !std::isfinite(p.y))
          return Problem{"a place of it is no number", file + ": " + path.place, "Save the drawing anew."};
  return Done{};
}

}  // namespace

Result<Drawing> read_drawing(const std::string& path, const DrawingOptions& options, Progress* progress) {
  const std::string ending = ending_of(path);
  if (ending != ".svg" && ending != ".dxf")
    return Problem{"is neither an SVG nor a DXF by its name", path, "Give a file that ends in .svg or .dxf."};
  report(progress, 0, "Reading the drawing");
  auto bytes = read_file(path, kMostDrawingBytes);
  if (!bytes) return bytes.problem();
  auto drawing = ending == ".svg" ? read_svg_drawing(std::move(*bytes), path, options, progress)
                                  : read_dxf_drawing(*bytes, path, options, progress);
  if (!drawing) return drawing;
  if (const auto known = check_layers(*drawing, options, path); !known) return known.problem();
  if (const auto sound = check_points(*drawing, path); !sound) return sound.problem();
  close_lines(*drawing);
  join_strokes(*drawing);
  name_by_layer(*drawing);
  if (drawing->paths.empty())
    return Problem{"holds no outline and no line", path, "Draw the seams as paths or polylines."};
  return drawing;
}

Result<double> drawing_unit(const std::string& text) {
  if (const auto word = scan_unit(text)) return *word;
  const auto length = parse_length(text);
  if (length && *length > 0) return *length;
  return Problem{"\"" + text + "\" is no unit", "", "Give mm, cm, m, in or ft, or the length of one unit, like 10mm."};
}

std::string trace_of(std::vector<Ring> rings) {
  for (Ring& ring : rings) {
    if (ring.empty()) continue;
    const LatticePoint least = *std::min_element(ring.begin(), ring.end());
    Ring best;
    for (auto it = ring.begin(); it != ring.end(); ++it) {
      if (*it != least) continue;
      Ring turned(it, ring.end());
      turned.insert(turned.end(), ring.begin(), it);
      if (best.empty() || turned < best) best = std::move(turned);
    }
    ring = std::move(best);
  }
  std::sort(rings.begin(), rings.end());
  Sha256 sum;
  for (const Ring& ring : rings) {
    for (const auto& p : ring) sum.add(fmt::format("{} {},", p.x, p.y));
    sum.add(";");
  }
  return sum.finish().substr(0, 32);
}

}  // namespace pontata
