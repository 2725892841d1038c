// Zone: closed areas that no seam may enter (faces, hands), or that are painted at another rate.
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include <algorithm>
#include <map>
#include <utility>

#include "editor/tools/clicked_points.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/subject_field.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"
#include "engine/chart/cut_crossing.h"
#include "engine/document/seam_edits.h"

namespace pontata {
namespace {

constexpr double kHoldPx = 9;   // of a corner
constexpr double kNearPx = 90;  // of a corner: then its zone's are shown
constexpr Rgb kLine = rgb(0x8A1F1F);

class ZoneTool final : public Tool {
 public:
  const char* name() const override { return "Zone"; }
  char key() const override { return 'Z'; }
  std::string hint() const override {
    if (over_) return "Drag the corner, or take it away with X.";
    return points_.empty()
               ? "Click round a face or a hand that no seam may enter, or round fine work. Corners of zones "
                 "can be dragged."
               : "Enter or the first point closes, Backspace takes back a point, Esc gives up.";
  }
  std::size_t points() const override { return points_.count(); }
  void move(Workbench& bench, const ToolPointer& at) override {
    points_.follow(at);
    near_ = points_.empty() ? corner_at(bench, at, kNearPx) : std::nullopt;
    over_ = near_ ? corner_at(bench, at, kHoldPx) : std::nullopt;
  }
  void press(Workbench& bench, const ToolPointer& at) override {
    if (!at.place || !at.pane) return;
    if (on_first(bench, at, points_.all())) return close(bench);
    points_.add(*at.place);
  }
  bool grab(Workbench& bench, const ToolPointer& at) override;
  void drag(Workbench& bench, const ToolPointer& at) override {
    if (held_ && at.place) held_->to = bench.session.wall_item()->wall->chart->clamp(*at.place);
  }
  void drop(Workbench& bench, const ToolPointer& at) override;
  bool key_down(Workbench& bench, int key, int) override;
  void put_down(Workbench&) override {
    points_.clear();
    held_.reset();
    over_.reset();
    near_.reset();
  }
  void draw(Workbench& bench, ImDrawList& list, const Pane& pane) override;
  void options(Workbench& bench) override;

 private:
  struct Corner {
    ZoneId zone;
    std::size_t index = 0;
    std::optional<ChartPoint> to;  // where it is being dragged
  };
  void close(Workbench& bench);
  std::optional<Corner> corner_at(const Workbench& bench, const ToolPointer& at, double within_px);
  const std::vector<ChartPoint>& corners_of(const Workbench& bench, const Zone& zone);
  bool take_away(Workbench& bench, const Corner& corner);
  void form(Workbench& bench);

  ClickedPoints points_;
  std::optional<Corner> over_, near_, held_;
  std::shared_ptr<const WallItem> corners_item_;  // whose zones' corners are these
  std::map<ZoneId, std::vector<ChartPoint>> corners_;
  bool detail_ = false;
  std::string name_, rate_;
  Subject subject_ = Subject::none;
  TypedPlaces typed_;
};

// The line as it is drawn: where the shorter way crosses a cut, through the crossing.
std::vector<ChartPoint> led(const Workbench& bench, const std::vector<ChartPoint>& line) {
  const auto item = bench.session.wall_item();
  if (!item || !item->wall->chart->has_cuts() || line.empty()) return line;
  std::vector<LatticePoint> places;
  for (const ChartPoint p : line) places.push_back(to_lattice(p));
  std::vector<ChartPoint> out;
  const auto pieces = lead_across(*item->wall, places, {}, line.size() > 2).value();
  for (const CutPiece& piece : pieces)
    for (const LatticePoint p : piece.points) out.push_back(to_chart(p));
  return out;
}

const Zone* zone_of(const Workbench& bench, ZoneId id) {
  const auto item = bench.session.wall_item();
  if (!item) return nullptr;
  const auto found = std::find_if(item->zones.begin(), item->zones.end(), [&](const Zone& z) { return z.id == id; });
  return found == item->zones.end() ? nullptr : &*found;
}

const std::vector<ChartPoint>& ZoneTool::corners_of(const Workbench& bench, const Zone& zone) {
  const auto item = bench.session.wall_item();
  if (corners_item_ != item) {
    corners_item_ = item;
    corners_.clear();
  }
  const auto [at, fresh] = corners_.try_emplace(zone.id);
  if (fresh) at->second = zone_corners(*item, zone);
  return at->second;
}

std::optional<ZoneTool::Corner> ZoneTool::corner_at(const Workbench& bench, const ToolPointer& at, double within_px) {
  const auto item = bench.session.wall_item();
  if (!item || !at.pane) return std::nullopt;
  std::optional<Corner> nearest;
  double least = within_px * bench.scale;
  for (const Zone& zone : item->zones) {
    const auto& corners = corners_of(bench, zone);
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const auto away = px_away(bench, *at.pane, corners[i], at.px);
      if (away && *away < least) least = *away, nearest = Corner{zone.id, i, std::nullopt};
    }
  }
  return nearest;
}

bool ZoneTool::grab(Workbench& bench, const ToolPointer& at) {
  if (!points_.empty()) return false;
  held_ = corner_at(bench, at, kHoldPx);
  if (held_) bench.zone = held_->zone;
  return held_.has_value();
}

void ZoneTool::drop(Workbench& bench, const ToolPointer&) {
  if (!held_) return;
  const Corner held = *std::exchange(held_, std::nullopt);
  const Zone* zone = zone_of(bench, held.zone);
  if (!zone || !held.to || held.index >= corners_of(bench, *zone).size()) return;
  ZoneChange change;
  change.points = corners_of(bench, *zone);
  (*change.points)[held.index] = *held.to;
  commit(bench, change_zone(*bench.session.document(), held.zone, change));
}

bool ZoneTool::take_away(Workbench& bench, const Corner& corner) {
  const Zone* zone = zone_of(bench, corner.zone);
  if (!zone || corner.index >= corners_of(bench, *zone).size()) return false;
  ZoneChange change;
  change.points = corners_of(bench, *zone);
  change.points->erase(change.points->begin() + static_cast<std::ptrdiff_t>(corner.index));
  over_.reset();
  return commit(bench, change_zone(*bench.session.document(), corner.zone, change));
}

bool ZoneTool::key_down(Workbench& bench, int key, int) {
  if (key == GLFW_KEY_ESCAPE && held_) return held_.reset(), true;
  if (points_.empty()) {
    if (key != GLFW_KEY_X && key != GLFW_KEY_DELETE) return false;
    if (over_) take_away(bench, *over_);
    return true;  // no giornata is meant
  }
  return line_key(key, {[&] { close(bench); }, [this] { points_.take_back(); }, [&] { put_down(bench); }});
}

void ZoneTool::draw(Workbench& bench, ImDrawList& list, const Pane& pane) {
  draw_stroke(list, bench, pane, led(bench, points_.with_live()), points_.count() >= 2, kLine);
  for (std::size_t i = 0; i < points_.count(); ++i) draw_dot(list, bench, pane, points_.all()[i], i == 0);
  const auto item = bench.session.wall_item();
  if (!item || !points_.empty()) return;
  for (const Zone& zone : item->zones) {
    const bool near = near_ && near_->zone == zone.id;
    if (!near && zone.id != bench.zone) continue;  // corners of all would hide what they go round
    std::vector<ChartPoint> corners = corners_of(bench, zone);
    if (held_ && held_->zone == zone.id && held_->to && held_->index < corners.size())
      corners[held_->index] = *held_->to;
    draw_stroke(list, bench, pane, led(bench, corners), true, kLine);
    for (std::size_t i = 0; i < corners.size(); ++i)
      draw_dot(list, bench, pane, corners[i], over_ && over_->zone == zone.id && over_->index == i);
  }
}

void ZoneTool::close(Workbench& bench) {
  if (points_.count() < 3) return bench.session.say("A zone needs three points or more");
  std::optional<double> rate;
  if (detail_ && !(rate_.empty() && subject_ != Subject::none)) {
    const auto typed = parse_number(rate_);
    if (!typed || *typed <= 0)
      return bench.session.complain({"a detail zone needs the painter's rate there", "",
                                     "Type how many m² are painted in an hour, such as 0.15, or say what is painted "
                                     "there: then it goes by that rate."});
    rate = *typed;
  }
  const auto edit =
      add_zone(*bench.session.document(), bench.session.wall(), detail_ ? ZoneKind::detail : ZoneKind::keep_whole,
               points_.all(), name_, rate, detail_ ? subject_ : Subject::none);
  if (!commit(bench, edit)) return;
  put_down(bench);
  name_.clear();
}

void ZoneTool::options(Workbench& bench) {
  if (ImGui::RadioButton("Keep whole", !detail_)) detail_ = false;
  control(bench, "zone.keep");
  same_row("Detail", -1, true);
  if (ImGui::RadioButton("Detail", detail_)) detail_ = true;
  control(bench, "zone.detail");
  field_name("Name");
  text_field("##new-zone-name", name_);
  control(bench, "zone.name");
  if (detail_) {
    subject_field(bench, "zone.subject", subject_);
    field_name("m² an hour");
    text_field("##new-zone-rate", rate_);
    control(bench, "zone.rate");
  }
  form(bench);
}

// Typed places: of a new zone, or of the one chosen on the page.
void ZoneTool::form(Workbench& bench) {
  const Zone* chosen = zone_of(bench, bench.zone);
  const auto places = typed_.draw(bench, "zone", chosen ? "Give it these places" : "Add places");
  same_row("Close the zone");
  if (ImGui::Button("Close the zone")) close(bench);
  control(bench, "zone.close");
  if (chosen) {
    if (ImGui::Button("Its places")) typed_.put(corners_of(bench, *chosen));
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("Puts the corners of the chosen zone into the box");
    control(bench, "zone.corners");
    same_row("A new zone");
    if (ImGui::Button("A new zone")) bench.zone = {};
    control(bench, "zone.new");
  }
  if (!places) return;
  if (!chosen) {
    for (const ChartPoint p : *places) points_.add(p);
    return;
  }
  ZoneChange change;
  change.points = *places;
  commit(bench, change_zone(*bench.session.document(), chosen->id, change));
}

}  // namespace

std::unique_ptr<Tool> make_zone_tool() { return std::make_unique<ZoneTool>(); }

}  // namespace pontata
