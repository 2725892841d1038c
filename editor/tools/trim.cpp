// Trim: which part of the picture shows. A box is dragged over the picture itself, or an outline clicked round what is
// to stay.
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "editor/tools/marks.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

constexpr double kHoldPx = 9;    // of an edge or a corner
constexpr double kClosePx = 11;  // a click this near the first corner closes
constexpr Rgb kLine = rgb(0x8A1F1F);

ImVec2 to_im2(Vec2 p) { return ImVec2(static_cast<float>(p.x), static_cast<float>(p.y)); }

PixelBox whole_of(const PlacedPicture& p) { return {0, 0, 1.0 * p.size.width, 1.0 * p.size.height}; }

class TrimTool final : public Tool {
 public:
  const char* name() const override { return "Trim"; }
  char key() const override { return 'R'; }
  std::string hint() const override {
    if (!outline_) return "Drag a box over the picture, or one of its edges; only what lies inside shows.";
    return points_.empty() ? "Click round what is to show; corners can be dragged."
                           : "Enter or the first corner closes, Backspace takes one back, Esc gives up.";
  }
  bool wants_picture() const override { return true; }
  std::size_t points() const override { return points_.size(); }

  void move(Workbench&, const ToolPointer& at) override { live_ = at.pixel; }
  void press(Workbench& bench, const ToolPointer& at) override;
  bool grab(Workbench& bench, const ToolPointer& at) override;
  void drag(Workbench& bench, const ToolPointer& at) override;
  void drop(Workbench& bench, const ToolPointer& at) override;
  bool key_down(Workbench& bench, int key, int) override;
  void put_down(Workbench&) override {
    points_.clear();
    held_.reset();
    live_.reset();
  }
  void draw_on_picture(Workbench& bench, ImDrawList& list, const PictureView& view) override;
  void options(Workbench& bench) override;

 private:
  struct Held {
    PlacedRef picture;
    Vec2 from{0, 0};
    std::optional<std::size_t> corner;  // of the outline
    int across = 0, down = 0;           // edges of the box: -1 left or top, 1 right or bottom, 0 neither
    PixelBox box;                       // as it would be
    std::vector<Vec2> mask;
    bool moved = false;
  };
  void close(Workbench& bench);
  void type_outline(Workbench& bench, const PlacedPicture& picture);

  std::string typed_;
  bool outline_ = false;
  std::vector<Vec2> points_;  // of an outline being drawn
  std::optional<Vec2> live_;
  std::optional<Held> held_;
};

Vec2 inside(const PlacedPicture& p, Vec2 pixel) {
  return glm::clamp(pixel, Vec2(0, 0), Vec2(p.size.width, p.size.height));
}

bool TrimTool::grab(Workbench& bench, const ToolPointer& at) {
  const PlacedRef picture = bench.session.placed();
  if (!picture || !at.pixel || !points_.empty()) return false;
  const double hold = kHoldPx * bench.scale / bench.picture->magnified();  // pixels
  Held held{picture, inside(*picture, *at.pixel), {}, 0, 0, picture->crop.value_or(whole_of(*picture)), picture->mask};
  if (outline_) {
    for (std::size_t i = 0; i < held.mask.size(); ++i)
      if (glm::length(held.mask[i] - *at.pixel) < hold) held.corner = i;
    if (!held.corner) return false;
  } else {
    const auto edge = [&](double value, double low, double high) {
      return std::abs(value - low) < hold ? -1 : std::abs(value - high) < hold ? 1 : 0;
    };
    held.across = edge(at.pixel->x, held.box.left, held.box.right);
    held.down = edge(at.pixel->y, held.box.top, held.box.bottom);
  }
  held_ = held;
  return true;
}

void TrimTool::drag(Workbench&, const ToolPointer& at) {
  if (!held_ || !at.pixel) return;
  Held& h = *held_;
  const Vec2 to = inside(*h.picture, *at.pixel);
  h.moved = true;
  if (h.corner) {
    h.mask[*h.corner] = to;
  } else if (h.across == 0 && h.down == 0) {
    const Vec2 low = glm::min(h.from, to), high = glm::max(h.from, to);
    h.box = {std::round(low.x), std::round(low.y), std::round(high.x), std::round(high.y)};
  } else {
    if (h.across < 0) h.box.left = std::round(to.x);
    if (h.across > 0) h.box.right = std::round(to.x);
    if (h.down < 0) h.box.top = std::round(to.y);
    if (h.down > 0) h.box.bottom = std::round(to.y);
  }
}

void TrimTool::drop(Workbench& bench, const ToolPointer&) {
  if (!held_) return;
  const Held held = *std::exchange(held_, std::nullopt);
  if (!held.moved || bench.session.placed() != held.picture) return;
  PictureChange change;
  if (held.corner)
    change.mask = held.mask;
  else
    change.crop = std::optional(held.box);
  commit_picture(bench, change_picture(*bench.session.document(), held.picture->id, change));
}

void TrimTool::press(Workbench& bench, const ToolPointer& at) {
  const PlacedRef picture = bench.session.placed();
  if (!picture || !at.pixel || !outline_) return;
  const auto away = [&](Vec2 p) { return glm::length(bench.picture->to_px(p) - at.px); };
  if (points_.size() >= 3 && away(points_.front()) < kClosePx * bench.scale) return close(bench);
  points_.push_back(inside(*picture, *at.pixel));
}

void TrimTool::close(Workbench& bench) {
  const PlacedRef picture = bench.session.placed();
  if (points_.size() < 3 || !picture) return bench.session.say("An outline needs three corners or more");
  PictureChange change;
  change.mask = points_;
  if (commit_picture(bench, change_picture(*bench.session.document(), picture->id, change))) points_.clear();
}

bool TrimTool::key_down(Workbench& bench, int key, int) {
  if (key == GLFW_KEY_ESCAPE && held_) return held_.reset(), true;
  if (points_.empty()) return key == GLFW_KEY_DELETE;  // nothing on the wall is meant
  return line_key(key, {[&] { close(bench); }, [this] { points_.pop_back(); }, [this] { points_.clear(); }});
}

void draw_line(ImDrawList& list, const PictureView& view, const std::vector<Vec2>& pixels, bool closed, double scale) {
  std::vector<ImVec2> px;
  for (const Vec2 p : pixels) px.push_back(to_im2(view.to_px(p)));
  if (closed && !px.empty()) px.push_back(px.front());
  for (const auto& [colour, width] : {std::pair{to_im(kCasing, 220), 5.0}, std::pair{to_im(kLine), 2.2}})
    list.AddPolyline(px.data(), static_cast<int>(px.size()), colour, 0, static_cast<float>(width * scale));
}

// What the box leaves out lies in shade.
void shade_outside(ImDrawList& list, const PictureView& view, const PixelBox& all, const PixelBox& box) {
  const ImU32 shade = to_im(kText, 120);
  const auto part = [&](double left, double top, double right, double bottom) {
    if (right > left && bottom > top)
      list.AddRectFilled(to_im2(view.to_px({left, top})), to_im2(view.to_px({right, bottom})), shade);
  };
  part(all.left, all.top, all.right, box.top);
  part(all.left, box.bottom, all.right, all.bottom);
  part(all.left, box.top, box.left, box.bottom);
  part(box.right, box.top, all.right, box.bottom);
}

void TrimTool::draw_on_picture(Workbench& bench, ImDrawList& list, const PictureView& view) {
  const PlacedPicture& picture = *view.picture();
  const PixelBox all = whole_of(picture);
  const PixelBox box = held_ ? held_->box : picture.crop.value_or(all);
  shade_outside(list, view, all, box);
  draw_line(list, view, {{box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}},
            true, bench.scale);
  const std::vector<Vec2>& mask = held_ ? held_->mask : picture.mask;
  if (points_.empty() && mask.size() >= 3) {
    draw_line(list, view, mask, true, bench.scale);
    if (outline_)
      for (const Vec2 p : mask) draw_handle(list, view.to_px(p), bench.scale);
  }
  std::vector<Vec2> drawn = points_;
  if (live_ && !points_.empty()) drawn.push_back(inside(picture, *live_));
  if (drawn.size() >= 2) draw_line(list, view, drawn, false, bench.scale);
  for (const Vec2 p : points_) draw_handle(list, view.to_px(p), bench.scale);
}

// Corners of the outline in pixels: those that it has, or others.
void TrimTool::type_outline(Workbench& bench, const PlacedPicture& picture) {
  quiet_text("Or type its corners, right and down in pixels, one a line:");
  text_box("##trim.corners", typed_, -1, ImGui::GetTextLineHeight() * 4.5f);
  control(bench, "trim.corners");
  if (ImGui::Button("Show what lies within")) {
    const auto corners = read_pixels(typed_);
    if (!corners) return bench.session.complain(corners.problem());
    PictureChange change;
    change.mask = *corners;
    if (commit_picture(bench, change_picture(*bench.session.document(), picture.id, change))) typed_.clear();
  }
  control(bench, "trim.set");
  if (picture.mask.empty()) return;
  same_row("Its corners");
  if (ImGui::Button("Its corners")) {
    typed_.clear();
    for (const Vec2 p : picture.mask) typed_ += format_fixed(p.x, 2) + " " + format_fixed(p.y, 2) + "\n";
  }
  control(bench, "trim.its-corners");
}

void TrimTool::options(Workbench& bench) {
  const PlacedRef picture = bench.session.placed();
  if (!picture) return quiet_text("No picture lies on this wall yet.");
  ImGui::TextWrapped("%s", picture->name.c_str());
  if (ImGui::RadioButton("A box", !outline_)) outline_ = false, points_.clear();
  control(bench, "trim.box");
  same_row("A free outline", -1, true);
  if (ImGui::RadioButton("A free outline", outline_)) outline_ = true;
  control(bench, "trim.outline");
  if (ImGui::Button("Whole picture in view")) bench.picture->fit();
  control(bench, "trim.whole-picture");
  const auto apply = [&](const PictureChange& change) {
    return commit_picture(bench, change_picture(*bench.session.document(), picture->id, change));
  };
  if (outline_)
    type_outline(bench, *picture);
  else
    quiet_text("To type the box, go to the Design page: left, top, right and bottom in pixels.");
  PictureChange change;
  if (picture->crop && ImGui::Button("Take the box away")) {
    change.crop = std::optional<PixelBox>();
    apply(change);
  }
  if (!picture->mask.empty() && ImGui::Button("Take the outline away")) {
    change.mask = std::vector<Vec2>();
    apply(change);
  }
}

}  // namespace

std::unique_ptr<Tool> make_trim_tool() { return std::make_unique<TrimTool>(); }

}  // namespace pontata
