#include "editor/window/view_area.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

namespace pontata {
namespace {

bool same(const ViewFrame& a, const ViewFrame& b) {
  if (a.width != b.width || a.height != b.height || a.scale != b.scale || a.fill != b.fill) return false;
  if (a.kind == ViewKind::flat) return a.flat.centre == b.flat.centre && a.flat.metre_px == b.flat.metre_px;
  return a.space.eye == b.space.eye && a.space.yaw == b.space.yaw && a.space.pitch == b.space.pitch;
}

}  // namespace

ViewArea::ViewArea(std::unique_ptr<Renderer> renderer) : scene_(std::move(renderer)) {
  frame(ViewKind::space).kind = ViewKind::space;
  frame(ViewKind::flat).kind = ViewKind::flat;
}

void ViewArea::place(Vec2 corner, Vec2 size, double split, double scale) {
  const double gap = std::round(6 * scale);
  side_by_side_ = size.x > 1.15 * size.y;
  const double whole = side_by_side_ ? size.x : size.y;
  const double first = std::round(std::clamp(split * (whole - gap), 40.0, std::max(40.0, whole - gap - 40)));
  const double second = std::max(1.0, whole - gap - first);
  const auto set = [&](ViewKind kind, Vec2 at, double w, double h) {
    Pane& p = panes_[static_cast<std::size_t>(kind)];
    const double before = p.frame.width;
    p.corner = at;
    p.frame.width = std::max(1, static_cast<int>(w));
    p.frame.height = std::max(1, static_cast<int>(h));
    p.frame.scale = scale;
    if (kind == ViewKind::flat && fitted_ && before > 1) p.frame.flat.metre_px *= std::sqrt(p.frame.width / before);
  };
  if (side_by_side_) {
    set(ViewKind::space, corner, first, size.y);
    set(ViewKind::flat, corner + Vec2{first + gap, 0}, second, size.y);
    divider_ = {corner.x + first, corner.y, gap, size.y};
  } else {
    set(ViewKind::space, corner, size.x, first);
    set(ViewKind::flat, corner + Vec2{0, first + gap}, size.x, second);
    divider_ = {corner.x, corner.y + first, size.x, gap};
  }
}

void ViewArea::follow(const Session& session) {
  item_ = session.wall_item();
  if (scene_.show(item_, session.document(), session.chosen())) drawn_ = {};
  const WallRef wall = item_ ? item_->wall : nullptr;
  if (wall && wall != fitted_) fit();
  fitted_ = wall;
}

void ViewArea::fit() {
  if (!item_) return;
  frame(ViewKind::space).space = first_view(*item_->wall, pane(ViewKind::space).size());
  frame(ViewKind::flat).flat = flat_fit(item_->wall->chart->box(), pane(ViewKind::flat).size());
}

void ViewArea::redraw() {
  for (std::size_t i = 0; i < 2; ++i) {
    const ViewFrame& wanted = panes_[i].frame;
    const bool lost = targets_[i].resize(wanted.width, wanted.height);
    if (!lost && drawn_[i] && same(*drawn_[i], wanted)) continue;
    targets_[i].bind();
    scene_.draw(wanted);
    drawn_[i] = wanted;
  }
}

void ViewArea::paint(ImDrawList& list) const {
  for (std::size_t i = 0; i < 2; ++i) {
    const Pane& p = panes_[i];
    const ImVec2 low(static_cast<float>(p.corner.x), static_cast<float>(p.corner.y));
    const ImVec2 high(low.x + static_cast<float>(p.frame.width), low.y + static_cast<float>(p.frame.height));
    const auto id = reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(targets_[i].texture()));
    list.AddImage(id, low, high, ImVec2(0, 1), ImVec2(1, 0));
  }
}

const Pane* ViewArea::pane_at(Vec2 px) const {
  for (const Pane& p : panes_)
    if (p.holds(px)) return &p;
  return nullptr;
}

std::optional<Hover> ViewArea::look(const Pane& pane, Vec2 px) const {
  if (!item_) return std::nullopt;
  const Vec2 at = px - pane.corner;
  if (pane.frame.kind == ViewKind::flat) {
    const ChartPoint chart = pane.frame.flat.from_px(at, pane.size());
    const auto place = item_->wall->position(chart);
    return place ? std::optional(Hover{ViewKind::flat, chart, *place}) : std::nullopt;
  }
  const auto seen = seen_place(*item_->wall, pane.frame.space.ray(at, pane.size()));
  return seen ? std::optional(Hover{ViewKind::space, seen->chart, seen->place}) : std::nullopt;
}

std::optional<ChartPoint> ViewArea::meant(const Pane& pane, Vec2 px) const {
  if (const auto hover = look(pane, px)) return hover->chart;
  if (!item_ || pane.frame.kind != ViewKind::flat) return std::nullopt;
  return item_->wall->chart->clamp(pane.frame.flat.from_px(px - pane.corner, pane.size()));
}

Vec3 ViewArea::pivot(const Pane& pane, Vec2 px) const {
  if (const auto hover = look(pane, px)) return hover->place;
  if (!item_) return {0, 0, 0};
  return enclosing_ball(item_->wall->mesh()).centre;
}

void ViewArea::orbit(Vec2 moved, const Vec3& pivot) {
  frame(ViewKind::space).space.orbit(moved, pivot, pane(ViewKind::space).size());
}
void ViewArea::pan(ViewKind kind, Vec2 moved, const Vec3& pivot) {
  if (kind == ViewKind::flat)
    frame(kind).flat.pan(moved);
  else
    frame(kind).space.pan(moved, pivot, pane(kind).size());
}
void ViewArea::zoom(const Pane& pane, Vec2 px, double factor) {
  const ViewKind kind = pane.frame.kind;
  if (kind == ViewKind::flat)
    frame(kind).flat.zoom(factor, px - pane.corner, pane.size());
  else
    frame(kind).space.zoom(factor, pivot(pane, px));
}

void ViewArea::fly_to(ChartPoint place, double across_m) {
  if (!item_) return;
  FlatCamera& flat = frame(ViewKind::flat).flat;
  const Pane& flat_pane = pane(ViewKind::flat);
  flat.centre = to_vec(place);
  flat.metre_px = std::min(flat_pane.frame.width, flat_pane.frame.height) / across_m;
  OrbitCamera& space = frame(ViewKind::space).space;
  space = view_of(*item_->wall, place, 0.5 * across_m / std::tan(space.angle / 2), space);
}

}  // namespace pontata
