#include <fmt/format.h>

#include <algorithm>

#include "engine/base/dxf_file.h"
#include "engine/base/units.h"
#include "engine/document/seam_files/drawing.h"
#include "engine/document/seam_files/own_marks.h"
#include "engine/document/seam_files/take_out.h"

namespace pontata {

namespace {

std::string layer_of(const TakenPath& path) {
  if (path.kind == "border") return "wall";
  if (path.kind == "giornata") return "giornata " + path.label;
  return path.kind + "s";
}

int colour_of(const std::string& layer) { return layer == "zones" ? 5 : layer.starts_with("giornata") ? 7 : 8; }

void polyline(DxfGroups& w, const Ring& ring, const std::string& layer, const OwnMarks& marks, unsigned model) {
  w.entity("LWPOLYLINE", model, layer, "AcDbPolyline");
  w.put(90, static_cast<int>(ring.size()));
  w.put(70, 1);
  for (const LatticePoint& p : ring) {
    w.put(10, to_chart(p).u);
    w.put(20, to_chart(p).v);
  }
  for (const auto& [code, value] : dxf_mark_groups(marks)) w.put(code, value);
}

void entities(DxfGroups& w, const SeamsTaken& seams, unsigned model) {
  for (const auto& path : seams.paths) {
    const std::string rate = path.rate_m2_per_h ? format_number(*path.rate_m2_per_h) : "";
    const OwnMarks marks{fmt::format("{} {}", path.kind, path.id), path.kind, path.name,   trace_of(path.rings),
                         path.kind == "zone" ? path.label : "",    rate,      path.subject};
    for (const Ring& ring : path.rings) polyline(w, ring, layer_of(path), marks, model);
  }
}

}  // namespace

std::string seams_dxf(const SeamsTaken& seams) {
  DxfFrame frame;
  frame.applications = {"PONTATA"};
  for (const auto& path : seams.paths) {
    const std::string layer = layer_of(path);
    if (std::none_of(frame.layers.begin(), frame.layers.end(), [&](const DxfLayer& l) { return l.name == layer; }))
      frame.layers.push_back({layer, colour_of(layer)});
  }
  DxfGroups groups;
  entities(groups, seams, begin_dxf(groups, frame));
  return end_dxf(groups, frame, {0, 0}, {seams.width, seams.height});
}

}  // namespace pontata
