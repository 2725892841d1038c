// A DXF's entities as outlines and lines on the chart.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "engine/document/seam_files/drawing.h"
#include "engine/document/seam_files/dxf_entities.h"
#include "engine/document/seam_files/own_marks.h"

namespace pontata {

namespace {

// $INSUNITS (DXF Reference, HEADER section): m in one unit.
constexpr std::array<std::pair<int, double>, 14> kUnits{{{1, 0.0254},
                                                         {2, 0.3048},
                                                         {3, 1609.344},
                                                         {4, 0.001},
                                                         {5, 0.01},
                                                         {6, 1},
                                                         {7, 1000},
                                                         {8, 25.4e-9},
                                                         {9, 25.4e-6},
                                                         {10, 0.9144},
                                                         {13, 1e-6},
                                                         {14, 0.1},
                                                         {15, 10},
                                                         {16, 100}}};
constexpr const char* kAnew = "Save the drawing anew as ASCII DXF.";

class Reader {
 public:
  Reader(std::string_view bytes, const std::string& file, const DrawingOptions& options, Progress* progress)
      : reader_(bytes), file_(file), options_(options), progress_(progress), unit_(options.unit_m) {}

  Result<Drawing> read() {
    for (;;) {
      auto record = reader_.next();
      if (!record) return named(record.problem());
      if (!*record) return Problem{fmt::format("breaks off at line {}", reader_.line()), file_, kAnew};
      if ((*record)->kind == "EOF") break;
      if (const auto taken = take(std::move(**record)); !taken) return named(taken.problem());
      if (is_cancelled(progress_)) return Problem{"was not read to its end", file_, "Begin again when you wish."};
    }
    if (const auto ended = end_polyline(); !ended) return named(ended.problem());
    tell_left_out();
    return std::move(drawing_);
  }

 private:
  Problem named(Problem problem) const {
    problem.where = problem.where.empty() ? file_ : file_ + ": " + problem.where;
    return problem;
  }

  Outcome take(DxfRecord record) {
    if (record.kind == "SECTION") {
      section_ = record.text(2);
      if (section_ == "HEADER") header(record);
      return Done{};
    }
    if (record.kind == "LAYER" && section_ == "TABLES") return layer(record);
    if (section_ != "ENTITIES") return Done{};
    if (record.kind == "VERTEX" && polyline_) return vertices_.push_back(std::move(record)), Done{};
    if (const auto ended = end_polyline(); !ended) return ended;
    if (record.kind == "SEQEND" || record.kind == "ENDSEC") return Done{};
    return entity(std::move(record));
  }

  // $INSUNITS, where no unit was given.
  void header(const DxfRecord& record) {
    for (std::size_t i = 0; i + 1 < record.groups.size(); ++i) {
      if (record.groups[i].code != 9 || record.groups[i].value != "$INSUNITS" || unit_) continue;
      const auto code = dxf_number(record.groups[i + 1].value);
      for (const auto& [number, metres] : kUnits)
        if (code && *code == number) unit_ = metres;
    }
  }

  Outcome layer(const DxfRecord& record) {
    bool sound = true;
    const std::string name = dxf_text(record.text(2));
    const bool off = record.whole(62, 7, sound) < 0 || (record.whole(70, 0, sound) & 1) != 0;
    if (!sound) return Problem{"the layer " + name + " cannot be read", "", kAnew};
    if (drawing_.layers.size() < kMostLayers) drawing_.layers.insert(name);
    if (off) hidden_layers_.insert(name);
    return Done{};
  }

  // Whether an entity is to be brought in at all.
  bool wanted(const DxfRecord& e, bool& sound) {
    const std::string name = layer_of(e);
    if (e.whole(67, 0, sound) == 1) return false;  // on paper
    const auto& asked = options_.layers;
    if (!asked.empty()) return std::find(asked.begin(), asked.end(), name) != asked.end();
    if (!hidden_layers_.count(name) && e.whole(60, 0, sound) == 0) return true;
    ++hidden_;
    return false;
  }

  static std::string layer_of(const DxfRecord& e) { return e.has(8) ? dxf_text(e.text(8)) : "0"; }

  Outcome entity(DxfRecord e) {
    static const std::set<std::string_view> kLines{"ARC", "CIRCLE", "ELLIPSE", "LINE", "LWPOLYLINE", "SPLINE"};
    const bool polyline = e.kind == "POLYLINE";
    if (!polyline && !kLines.count(e.kind))
      return ++left_out_[left_out_.size() < kMostKinds ? e.kind : "other"], Done{};
    ++number_;
    bool sound = true;
    const bool in = wanted(e, sound);
    const std::string place = fmt::format("{} {} (line {})", e.kind, number_, e.line);
    if (!sound) return Problem{"it holds something that is no number", place, kAnew};
    if (!in) return Done{};
    if (!unit_) return Problem{"does not say in what unit it is drawn", "", "Give --unit: mm, cm, m, in or ft."};
    if (polyline) return polyline_.emplace(std::move(e)), polyline_place_ = place, Done{};
    return keep(e, dxf_line(e, map(), kCurveTolerance), place);
  }

  Outcome end_polyline() {
    if (!polyline_) return Done{};
    const DxfRecord e = std::move(*polyline_);
    polyline_.reset();
    return keep(e, dxf_polyline(e, std::exchange(vertices_, {}), map(), kCurveTolerance), polyline_place_);
  }

  Affine map() const { return {*unit_, 0, 0, *unit_, options_.at.u, options_.at.v}; }

  Outcome keep(const DxfRecord& e, Result<DrawnLine> line, const std::string& place) {
    if (!line) return Problem{line.problem().what, place, line.problem().remedy};
    if (line->points.empty()) return Done{};
    points_ += line->points.size();
    if (points_ > kMostDrawingPoints)
      return Problem{fmt::format("holds more than {} points", kMostDrawingPoints), "", "Bring in parts of it."};
    const OwnMarks marks = dxf_marks(e);
    if (!marks.key.empty())
      if (const auto there = own_.find(marks.key); there != own_.end())
        return drawing_.paths[there->second].lines.push_back(std::move(*line)), Done{};
    DrawnPath path;
    path.layer = layer_of(e);
    path.place = place;
    path.even_odd = true;
    if (!marks.key.empty()) {
      own_[marks.key] = drawing_.paths.size();
      path.own = OwnPath{marks.kind, marks.traced, marks.label, marked_rate(marks.rate), marks.subject};
      path.name = marks.name;
    }
    path.lines.push_back(std::move(*line));
    drawing_.paths.push_back(std::move(path));
    return Done{};
  }

  void tell_left_out() {
    for (const auto& [name, count] : left_out_)
      drawing_.notes.push_back(
          fmt::format("{} {} of the drawing left out: it is no outline or line", count, dxf_text(name).substr(0, 40)));
    if (hidden_ > 0)
      drawing_.notes.push_back(fmt::format("{} hidden {} left out: name the layer to bring it in", hidden_,
                                           hidden_ == 1 ? "path was" : "paths were"));
  }

  static constexpr std::size_t kMostLayers = 1000, kMostKinds = 40;
  DxfReader reader_;
  const std::string& file_;
  const DrawingOptions& options_;
  Progress* progress_;
  std::optional<double> unit_;
  Drawing drawing_;
  std::string section_, polyline_place_;
  std::optional<DxfRecord> polyline_;  // waiting for its vertices
  std::vector<DxfRecord> vertices_;
  std::map<std::string, std::size_t> own_;  // paths of ours by key
  std::map<std::string, int> left_out_;
  std::set<std::string> hidden_layers_;
  std::size_t points_ = 0;
  int number_ = 0, hidden_ = 0;
};

}  // namespace

Result<Drawing> read_dxf_drawing(std::string_view bytes, const std::string& file, const DrawingOptions& options,
                                 Progress* progress) {
  if (bytes.substr(0, 22).find("Binary DXF") != std::string_view::npos) return Problem{"is a binary DXF", file, kAnew};
  return Reader(bytes, file, options, progress).read();
}

}  // namespace pontata
