// A drawing of seams as a file holds it, laid on the chart: outlines and lines in chart metres.
#pragma once

#include <cstddef>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/lattice.h"
#include "engine/base/progress.h"
#include "engine/base/result.h"
#include "engine/base/vec.h"

namespace pontata {

inline constexpr double kCurveTolerance = 1e-4;                         // m of chart between a curve and its chords
inline constexpr std::size_t kMostDrawingBytes = std::size_t{1} << 26;  // 64 MiB
inline constexpr std::size_t kMostDrawingPoints = std::size_t{1} << 22;

// What our own files say of a path beyond its lines.
struct OwnPath {
  std::string kind;                     // "giornata", "zone", "border", "opening"
  std::string traced;                   // trace_of its rings when it was taken out
  std::string label;                    // of a zone "keep-whole" or "detail"
  std::optional<double> rate_m2_per_h;  // of a detail zone
  std::string subject;                  // of a detail zone, as in record_names.h; may be empty
};

struct DrawnLine {
  std::vector<Vec2> points;  // chart metres; curves as chords that leave them by at most kCurveTolerance
  bool closed = false;       // then the last point joins the first, which is not repeated
  bool simple = false;       // one stroke of its own (a line, an arc), which may be a part of an outline
};

struct DrawnPath {
  std::vector<DrawnLine> lines;  // subpaths
  bool even_odd = false;         // which of nested outlines are holes: every second, or those that run the other way
  std::string name;              // its title; else that of a group, or the layer, that holds no other outline
  std::string layer;
  std::string place;  // for messages: "path 3 (angel)", "LWPOLYLINE 3 (line 214)"
  std::optional<OwnPath> own;
};

struct Drawing {
  std::vector<DrawnPath> paths;    // in the file's order
  std::vector<std::string> notes;  // what was left out, in plain words
  std::set<std::string> layers;    // all that the file names
};

struct DrawingOptions {
  std::optional<double> unit_m;     // m of wall for one unit of the file; without it, what the file says
  ChartPoint at;                    // where the file's origin comes (of an SVG: the lower left corner of its page)
  std::vector<std::string> layers;  // only these; none: all that are shown
};

// SVG 1.1: path, rect, circle, ellipse, line, polyline, polygon in nested groups with transforms. The page is laid at
// its size on paper (px are 1/96 in), v up from its lower edge; unit_m is the length of one unit of the outermost
// viewBox, or of a px without one. Layers are the titles, labels and ids of groups. Refuses what is no SVG, broken
// numbers and paths, groups nested deeper than 256, more than kMostDrawingPoints.
Result<Drawing> read_svg_drawing(std::string bytes, const std::string& file, const DrawingOptions& options,
                                 Progress* progress = nullptr);

// ASCII DXF, R9 to today: LINE, ARC, CIRCLE, ELLIPSE, SPLINE, LWPOLYLINE, POLYLINE of model space, u = x, v = y, by
// $INSUNITS or unit_m; a file that states no unit and is given none is refused. Refuses binary DXF, broken groups, a
// file cut off before its end, entities turned out of the plane, more than kMostDrawingPoints.
Result<Drawing> read_dxf_drawing(std::string_view bytes, const std::string& file, const DrawingOptions& options,
                                 Progress* progress = nullptr);

// Either, by the file's ending (.svg, .dxf). Strokes of one layer whose ends meet in pairs all the way round are one
// outline. Refuses files that cannot be read or are larger than kMostDrawingBytes.
Result<Drawing> read_drawing(const std::string& path, const DrawingOptions& options, Progress* progress = nullptr);

// "mm", "cm", "m", "ft", "in", or a length ("10mm"): m of wall for one unit of the file.
Result<double> drawing_unit(const std::string& text);

// A fingerprint of rings, whatever point each begins with: tells whether a path is as it was taken out.
std::string trace_of(std::vector<Ring> rings);

}  // namespace pontata
