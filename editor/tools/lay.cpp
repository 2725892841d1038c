// Lay: drags the chosen picture along the wall in the flat view; its corners make it larger or smaller.
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include <cmath>

#include "editor/tools/marks.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/document/by_size.h"

namespace pontata {
namespace {

constexpr double kHoldPx = 11;   // of a corner
constexpr double kLeast = 0.02;  // of the size, in one drag

class LayTool final : public Tool {
 public:
  const char* name() const override { return "Lay"; }
  char key() const override { return 'A'; }
  std::string hint() const override {
    return "Drag the picture in the flat view, or a corner to scale it. Shift: level or upright only.";
  }
  bool drags_view() const override { return true; }
  bool grab(Workbench& bench, const ToolPointer& at) override;
  void drag(Workbench& bench, const ToolPointer& at) override;
  void drop(Workbench& bench, const ToolPointer& at) override;
  void press(Workbench& bench, const ToolPointer& at) override;
  bool key_down(Workbench& bench, int key, int) override {
    if (key != GLFW_KEY_ESCAPE || !held_) return false;
    put_down(bench);
    return true;
  }
  void put_down(Workbench& bench) override {
    held_.reset();
    bench.laying.reset();
  }
  void draw(Workbench& bench, ImDrawList& list, const Pane& pane) override;
  void options(Workbench& bench) override;

 private:
  struct Held {
    std::shared_ptr<const WallItem> item;
    PlacedRef picture;
    ChartPoint from;                    // where it was taken hold of
    std::optional<std::size_t> corner;  // of picture_corners(); none: all of it moves
    PlacedPicture now;                  // as it would lie
    Vec2 by{0, 0};                      // moved: metres of the chart, or of the plan or elevation
    bool moved = false;
  };
  void move_all(ChartPoint to, bool straight);
  void scale(ChartPoint to);

  std::optional<Held> held_;
};

ChartPoint chart_under(const ToolPointer& at) {
  return at.pane->frame.flat.from_px(at.px - at.pane->corner, at.pane->size());
}

std::optional<std::size_t> corner_under(const ToolPointer& at, const ChartedWall& wall, const PlacedPicture& picture) {
  const auto corners = picture_corners(picture.size);
  for (std::size_t k = 0; k < corners.size(); ++k) {
    const auto place = chart_place(wall, picture, corners[k]);
    if (!place) continue;
    const Vec2 px = at.pane->corner + at.pane->frame.flat.to_px(*place, at.pane->size());
    if (glm::length(px - at.px) < kHoldPx * at.pane->frame.scale) return k;
  }
  return std::nullopt;
}

bool lies_there(const ChartedWall& wall, const PlacedPicture& picture, ChartPoint place) {
  const auto pixel = pixel_there(wall, picture, place);
  return pixel && pixel->x >= 0 && pixel->y >= 0 && pixel->x <= picture.size.width && pixel->y <= picture.size.height;
}

bool LayTool::grab(Workbench& bench, const ToolPointer& at) {
  const auto item = bench.session.wall_item();
  const PlacedRef picture = bench.session.placed();
  if (!item || !picture || !at.pane || at.pane->frame.kind != ViewKind::flat) return false;
  const ChartPoint from = chart_under(at);
  const auto corner = corner_under(at, *item->wall, *picture);
  if (!corner && !lies_there(*item->wall, *picture, from)) return false;
  if (!by_size_of(*item->wall, *picture)) return false;
  held_ = Held{item, picture, from, corner, *picture};
  return true;
}

void LayTool::drag(Workbench& bench, const ToolPointer& at) {
  if (!held_ || !at.pane || at.pane->frame.kind != ViewKind::flat) return;
  if (bench.session.placed() != held_->picture) return put_down(bench);
  held_->moved = true;
  if (held_->corner)
    scale(chart_under(at));
  else
    move_all(chart_under(at), (at.mods & kShift) != 0);
  bench.laying = by_size_of(*held_->item->wall, held_->now);
}

void LayTool::move_all(ChartPoint to, bool straight) {
  Vec2 by = to_vec(to) - to_vec(held_->from);
  if (straight) (std::abs(by.x) > std::abs(by.y) ? by.y : by.x) = 0;
  if (const auto moved = moved_along(*held_->item->wall, *held_->picture, held_->from, by)) {
    held_->by = moved->by;
    held_->now.lay = moved->lay;
  }
}

// The corner across stays where it is.
void LayTool::scale(ChartPoint to) {
  const auto corners = picture_corners(held_->picture->size);
  const Vec2 kept = corners[(*held_->corner + 2) % 4], reach = corners[*held_->corner] - kept;
  const auto pixel = pixel_there(*held_->item->wall, *held_->picture, to);
  if (!pixel) return;
  const double factor = std::max(kLeast, glm::dot(*pixel - kept, reach) / glm::dot(reach, reach));
  if (const auto lay = scaled_about(*held_->picture, kept, factor)) held_->now.lay = *lay;
}

void LayTool::drop(Workbench& bench, const ToolPointer& at) {
  if (!held_) return;
  const Held held = *held_;
  put_down(bench);
  if (!held.moved) return press(bench, at);
  if (bench.session.placed() != held.picture) return;
  const Document& doc = *bench.session.document();
  if (held.corner) {
    if (const auto size = by_size_of(*held.item->wall, held.now))
      commit_picture(bench, lay_again(doc, held.picture->id, *size));
  } else {
    commit_picture(bench, shift_picture(doc, held.picture->id, held.by.x, held.by.y));
  }
}

// Chooses the topmost picture there.
void LayTool::press(Workbench& bench, const ToolPointer& at) {
  const auto item = bench.session.wall_item();
  if (!item || !at.place) return;
  for (auto p = item->pictures.rbegin(); p != item->pictures.rend(); ++p) {
    const auto pixel = pixel_there(*item->wall, **p, *at.place);
    if (!pixel || !lies_there(*item->wall, **p, *at.place) || shown_at(**p, *pixel) <= 0) continue;
    bench.session.choose_picture((*p)->id);
    return bench.session.say("Picture " + (*p)->name);
  }
}

void LayTool::draw(Workbench& bench, ImDrawList& list, const Pane& pane) {
  const auto item = bench.session.wall_item();
  const PlacedRef picture = bench.session.placed();
  if (!item || !picture) return;
  const PlacedPicture& shown = held_ && held_->moved ? held_->now : *picture;
  draw_stroke(list, bench, pane, rim_on_wall(*item->wall, shown), true, kAction);
  if (pane.frame.kind != ViewKind::flat || !by_size_of(*item->wall, shown)) return;
  for (const Vec2 corner : picture_corners(shown.size))
    if (const auto place = chart_place(*item->wall, shown, corner))
      draw_handle(list, pane.corner + pane.frame.flat.to_px(*place, pane.size()), bench.scale);
}

void LayTool::options(Workbench& bench) {
  const auto item = bench.session.wall_item();
  const PlacedRef picture = bench.session.placed();
  if (!item || !picture) return quiet_text("No picture lies on this wall yet.");
  ImGui::TextWrapped("%s", picture->name.c_str());
  const auto size = bench.laying ? bench.laying : by_size_of(*item->wall, *picture);
  if (!size)
    return quiet_text(
        "It was set by points, or is seen from a place. It moves with its points (Pair), or when it is "
        "laid by size and place on the Design page.");
  ImGui::TextWrapped("%s", ("Width " + shown(size->width_m, 3, "m")).c_str());
  ImGui::TextWrapped("%s",
                     ("Lower left: right " + shown(size->at.u, 3, "m") + ", up " + shown(size->at.v, 3, "m")).c_str());
  if (size->turn_deg != 0) ImGui::TextWrapped("%s", ("Turned " + shown(size->turn_deg, 2, "°")).c_str());
  if (ImGui::Button("Type it")) bench.stage = Stage::design, bench.page_open = true;
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("Width, place and turn have their fields on the Design page");
  control(bench, "lay.type");
}

}  // namespace

std::unique_ptr<Tool> make_lay_tool() { return std::make_unique<LayTool>(); }

}  // namespace pontata
