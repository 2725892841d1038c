#include "editor/tools/clicked_points.h"

#include <imgui.h>

#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "editor/window/workbench.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

constexpr double kClosePx = 11;    // a click this near the first point closes
constexpr double kBeside = 0.005;  // m: typed places this far off the wall are brought to its border

Result<std::vector<ChartPoint>> places_on(const Chart& chart, const std::string& text) {
  auto places = read_places(text);
  if (!places) return places.problem();
  for (ChartPoint& p : *places) {
    const ChartPoint at = chart.locate(p) ? p : chart.clamp(p);
    if (glm::length(to_vec(at) - to_vec(p)) > kBeside)
      return Problem{"this place is not on the wall", shown(p.u, 3, "") + " " + shown(p.v, 3, "m"),
                     "Places count right and up from the lower left of the flat view."};
    p = at;
  }
  return places;
}

}  // namespace

std::vector<ChartPoint> ClickedPoints::with_live() const {
  std::vector<ChartPoint> line = points_;
  if (live_ && !line.empty()) line.push_back(*live_);
  return line;
}

bool on_first(const Workbench& bench, const ToolPointer& at, const std::vector<ChartPoint>& points) {
  if (points.size() < 3 || !at.pane) return false;
  const auto away = px_away(bench, *at.pane, points.front(), at.px);
  return away && *away < kClosePx * bench.scale;
}

std::optional<std::vector<ChartPoint>> TypedPlaces::draw(Workbench& bench, const std::string& name,
                                                         const char* button) {
  quiet_text("Or type places, right and up, in m or with units, one a line:");
  text_box(("##" + name + ".places").c_str(), text_, -1, ImGui::GetTextLineHeight() * 4.5f);
  control(bench, name + ".places");
  const bool pressed = ImGui::Button(button);
  control(bench, name + ".add");
  const auto item = bench.session.wall_item();
  if (!pressed || text_.empty() || !item) return std::nullopt;
  auto places = places_on(*item->wall->chart, text_);
  if (!places) return bench.session.complain(places.problem()), std::nullopt;
  text_.clear();
  return std::move(*places);
}

void TypedPlaces::put(const std::vector<ChartPoint>& places) {
  text_.clear();
  for (const ChartPoint p : places) text_ += format_number(p.u) + " " + format_number(p.v) + "\n";
}

}  // namespace pontata
