#include "editor/window/view_area.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

namespace pontata {
namespace {

constexpr double kRestSeconds = 0.18;  // after which the true surface is drawn

bool same(const ViewFrame& a, const ViewFrame& b) {
  if (a.width != b.width || a.height != b.height || a.scale != b.scale || a.fill != b.fill) return false;
  if (a.kind == ViewKind::flat) return a.flat.centre == b.flat.centre && a.flat.metre_px == b.flat.metre_px;
  return a.space.eye == b.space.eye && a.space.yaw == b.space.yaw && a.space.pitch == b.space.pitch;
}

// The same but for what rebuilding a wall may change by rounding; an opening leaves them.
bool alike(double a, double b) { return std::abs(a - b) < 1e-4; }

}  // namespace

bool ViewArea::Fitted::same_as(const WallItem& item) const {
  const ChartBox now = item.wall->chart->box();
  return wall == item.id && alike(box.width, now.width) && alike(box.height, now.height);
}

ViewArea::ViewArea(std::unique_ptr<Renderer> renderer, std::function<void()> wake)
    : scene_(std::move(renderer), std::move(wake)) {
  frame(ViewKind::space).kind = ViewKind::space;
  frame(ViewKind::flat).kind = ViewKind::flat;
}

void ViewArea::place(Vec2 corner, Vec2 size, double split, double scale, ViewsShown shown) {
  for (Pane& p : panes_)
    p.shown = shown == ViewsShown::both || (shown == ViewsShown::flat) == (p.frame.kind == ViewKind::flat);
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
    if (kind == ViewKind::flat && fitted_flat_ && before > 1)
      p.frame.flat.metre_px *= std::sqrt(p.frame.width / before);
  };
  divider_ = {};
  if (shown != ViewsShown::both) {
    set(shown == ViewsShown::flat ? ViewKind::flat : ViewKind::space, corner, size.x, size.y);
  } else if (side_by_side_) {
    set(ViewKind::space, corner, first, size.y);
    set(ViewKind::flat, corner + Vec2{first + gap, 0}, second, size.y);
    divider_ = {corner.x + first, corner.y, gap, size.y};
  } else {
    set(ViewKind::space, corner, size.x, first);
    set(ViewKind::flat, corner + Vec2{0, first + gap}, size.x, second);
    divider_ = {corner.x, corner.y + first, size.x, gap};
  }
}

void ViewArea::show_heat(WallId wall, std::shared_ptr<const std::vector<HeatLine>> lines) {
  heat_[wall] = std::move(lines);
}

// The same lines stay the same object, so that they are not loaded again.
void ViewArea::point_out(WallId wall, const std::vector<std::vector<ChartPoint>>& lines) {
  pointed_wall_ = wall;
  if (lines.empty() || (last_pointed_ && *last_pointed_ == lines)) {
    pointed_ = lines.empty() ? nullptr : last_pointed_;
    return;
  }
  pointed_ = last_pointed_ = std::make_shared<const std::vector<std::vector<ChartPoint>>>(lines);
}

void ViewArea::forget_shown() {
  heat_.clear();
  pointed_ = nullptr;
}

void ViewArea::follow(Session& session) {
  item_ = session.wall_item();
  walls_ = session.document()->walls;
  surfaces_ = surfaces_of(*session.document());
  const auto on_wall = [&](WallId wall) -> ShownOnWall {
    const auto hot = heat_.find(wall);
    return {session.draped(wall), show_contours && wall == session.wall() ? session.contours() : nullptr,
            show_squares ? session.document()->settings.squaring.step_m : 0, hot == heat_.end() ? nullptr : hot->second,
            wall == pointed_wall_ ? pointed_ : nullptr};
  };
  if (scene_.show(walls_, session.document(), session.wall(), session.all_chosen(), on_wall)) drawn_ = {};
  if (scene_.take_made()) drawn_ = {};
  const Ball ball = scene_.ball();
  const bool same_place = fitted_space_ && alike(glm::length(fitted_space_->centre - ball.centre), 0) &&
                          alike(fitted_space_->radius, ball.radius);
  if (!surfaces_.empty() && !same_place) fit_all();
  fitted_space_ = surfaces_.empty() ? std::nullopt : std::optional(ball);
  if (item_ && !(fitted_flat_ && fitted_flat_->same_as(*item_))) fit_flat();
  fitted_flat_ = item_ ? std::optional(Fitted{item_->id, item_->wall->chart->box()}) : std::nullopt;
}

bool ViewArea::fit() {
  if (!item_) return false;
  fit_flat();
  OrbitCamera& camera = frame(ViewKind::space).space;
  const OrbitCamera whole = first_view(*item_->wall, pane(ViewKind::space).size());
  const bool there = camera.eye == whole.eye && camera.yaw == whole.yaw && camera.pitch == whole.pitch;
  if (there && walls_.size() > 1) return fit_all(), true;
  camera = whole;
  return false;
}
void ViewArea::fit_flat() {
  frame(ViewKind::flat).flat = flat_fit(item_->wall->chart->box(), pane(ViewKind::flat).size());
}
void ViewArea::fit_all() {
  if (!surfaces_.empty()) frame(ViewKind::space).space = first_view(surfaces_, pane(ViewKind::space).size());
}

void ViewArea::redraw() {
  const auto now = std::chrono::steady_clock::now();
  due_ = 0;
  for (std::size_t i = 0; i < 2; ++i) {
    if (!panes_[i].shown) continue;
    const ViewFrame& wanted = panes_[i].frame;
    const bool lost = targets_[i].resize(wanted.width, wanted.height);
    if (lost || !drawn_[i] || !same(drawn_[i]->frame, wanted)) {
      draw_moving(i);
    } else if (!drawn_[i]->true_surface) {
      const double rested = std::chrono::duration<double>(now - moved_).count();
      if (rested >= kRestSeconds)
        draw_at_rest(i);
      else
        due_ = kRestSeconds - rested;
    }
    if (!drawn_[i]->true_surface && due_ == 0) due_ = kRestSeconds;
  }
}

void ViewArea::draw_moving(std::size_t view) {
  ViewFrame frame = panes_[view].frame;
  frame.detail = {kUnseenPx, budget_.most_triangles()};
  targets_[view].bind();
  const auto begin = std::chrono::steady_clock::now();
  scene_.clear();
  const DrawnFrame drawn = scene_.draw(frame);
  if (drawn.true_surface && !drawn.coarse_labels) {
    drawn_[view] = {panes_[view].frame, true};
    return;
  }
  glFinish();  // so that the time is the device's, not only that of asking it
  moved_ = std::chrono::steady_clock::now();
  budget_.took(std::chrono::duration<double>(moved_ - begin).count(), drawn.triangles);
  drawn_[view] = {panes_[view].frame, false};
}

void ViewArea::draw_at_rest(std::size_t view) {
  targets_[view].bind();
  scene_.clear();
  scene_.draw(panes_[view].frame);
  drawn_[view] = {panes_[view].frame, true};
}

void ViewArea::paint(ImDrawList& list) const {
  for (std::size_t i = 0; i < 2; ++i) {
    const Pane& p = panes_[i];
    if (!p.shown) continue;
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
    return place ? std::optional(Hover{ViewKind::flat, item_->id, chart, *place}) : std::nullopt;
  }
  const auto found = seen_place(surfaces_, pane.frame.space.ray(at, pane.size()));
  if (!found) return std::nullopt;
  return Hover{ViewKind::space, walls_[found->wall]->id, found->seen.chart, found->seen.place};
}

std::optional<ChartPoint> ViewArea::meant(const Pane& pane, Vec2 px) const {
  if (!item_) return std::nullopt;
  if (const auto hover = look(pane, px)) return hover->wall == item_->id ? std::optional(hover->chart) : std::nullopt;
  if (pane.frame.kind != ViewKind::flat) return std::nullopt;
  return item_->wall->chart->clamp(pane.frame.flat.from_px(px - pane.corner, pane.size()));
}

Vec3 ViewArea::pivot(const Pane& pane, Vec2 px) const {
  if (const auto hover = look(pane, px)) return hover->place;
  return scene_.ball().centre;
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
