#include "editor/view/wall_scene.h"

#include <algorithm>
#include <cmath>

namespace pontata {
namespace {

LabelWindow flat_window(const ViewFrame& frame) {
  const ViewSize size{static_cast<double>(frame.width), static_cast<double>(frame.height)};
  const ChartPoint low = frame.flat.from_px({0, size.height}, size);
  return {to_vec(low), Vec2{size.width, size.height} / frame.flat.metre_px, frame.width, frame.height};
}

// Chart box of what a grid of sight lines meets, one cell wider all round; the whole chart when they meet nothing.
std::pair<Vec2, Vec2> seen_box(const ChartedWall& wall, const ViewFrame& frame) {
  constexpr int kLines = 14;
  const ViewSize size{static_cast<double>(frame.width), static_cast<double>(frame.height)};
  Vec2 low{1e300, 1e300}, high{-1e300, -1e300};
  int met = 0;
  for (int j = 0; j <= kLines; ++j)
    for (int i = 0; i <= kLines; ++i) {
      const auto seen = seen_place(wall, frame.space.ray({size.width * i / kLines, size.height * j / kLines}, size));
      if (!seen) continue;
      ++met;
      low = glm::min(low, to_vec(seen->chart));
      high = glm::max(high, to_vec(seen->chart));
    }
  const ChartBox box = wall.chart->box();
  // Partly seen: the rim may run far between two sight lines, so take all of it.
  if (met < (kLines + 1) * (kLines + 1)) return {{0, 0}, {box.width, box.height}};
  const Vec2 cell = (high - low) * (2.0 / kLines);
  return {glm::max(low - cell, Vec2{0, 0}), glm::min(high + cell, Vec2{box.width, box.height})};
}

}  // namespace

LabelWindow label_window(const ChartedWall& wall, const ViewFrame& frame) {
  if (frame.kind == ViewKind::flat) return flat_window(frame);
  const auto [low, high] = seen_box(wall, frame);
  const Vec2 size = glm::max(high - low, Vec2{1e-3, 1e-3});
  const double longest = std::clamp(1.5 * std::max(frame.width, frame.height), 512.0, 3072.0);
  const double per_m = longest / std::max(size.x, size.y);
  const auto count = [&](double m) { return std::max(1, static_cast<int>(std::ceil(m * per_m))); };
  return {low, size, count(size.x), count(size.y)};
}

WallScene::WallScene(std::unique_ptr<Renderer> renderer) : renderer_(std::move(renderer)) {}

bool WallScene::show(std::shared_ptr<const WallItem> item, const DocumentRef& document, GiornataId chosen) {
  if (item == item_ && document == document_ && chosen == chosen_) return false;
  item_ = std::move(item);
  document_ = document;
  chosen_ = chosen;
  load_surface();
  if (!item_) return true;
  load_picture();
  load_network(*document);
  return true;
}

void WallScene::load_surface() {
  const WallRef wall = item_ ? item_->wall : nullptr;
  if (wall == wall_) return;
  wall_ = wall;
  const SurfaceDrawing surface = wall ? draw_surface(*wall) : SurfaceDrawing{};
  origin_ = surface.origin;
  renderer_->set_surface(surface);
}

void WallScene::load_picture() {
  const auto image = item_->picture ? item_->picture->image : nullptr;
  if (image != picture_) renderer_->set_picture(image.get());
  picture_ = image;
  if (image) renderer_->place_picture(item_->picture->frame, *image);
}

void WallScene::load_network(const Document& document) {
  NetworkDrawing drawing = draw_network(*item_, document.giornate, chosen_, origin_);
  faces_ = std::move(drawing.faces);
  for (std::size_t i = 0; i < kLineLayers; ++i) renderer_->set_lines(static_cast<LineLayer>(i), drawing.lines[i]);
}

void WallScene::draw(const ViewFrame& frame) {
  ViewFrame full = frame;
  if (wall_) {
    const LabelWindow window = label_window(*wall_, frame);
    renderer_->set_labels(make_label_map(window, faces_));
    const Ball ball = enclosing_ball(wall_->mesh());
    full.space.enclose(ball.centre, ball.radius);
    const double metre_px =
        frame.kind == ViewKind::flat
            ? frame.flat.metre_px
            : frame.space.metre_px(ball.centre, {static_cast<double>(frame.width), static_cast<double>(frame.height)});
    full.pattern_m = pattern_spacing(metre_px, frame.scale);
  }
  renderer_->draw(full);
}

}  // namespace pontata
