#include "editor/view/wall_scene.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/document/edit_parts.h"
#include "engine/picture/squares.h"

namespace pontata {
namespace {

constexpr double kFinerWorthIt = 0.75;  // of the raster's spacing
constexpr double kQuiet = 0.45;         // of the walls that are not chosen

DrapedRef drape(const Document& document, const WallItem& item) {
  auto input = drape_input(document, item);
  return input.pictures.empty() ? nullptr : Draped::make(std::move(input));
}

void add_places(LinePieces& out, const ChartedWall& wall, const Vec3& origin, std::span<const ChartPoint> line) {
  std::vector<LatticePoint> places;
  for (const ChartPoint p : line)
    if (fits_lattice(p)) places.push_back(to_lattice(p));
  add_line(out, wall, origin, places, false);
}

// The whole chart, at 1.5 mm or, where that would be too much, as finely as 4096 columns or rows allow.
LabelWindow whole_window(const ChartedWall& wall) {
  const ChartBox box = wall.chart->box();
  const Vec2 size = glm::max(Vec2{box.width, box.height}, Vec2{1e-3, 1e-3});
  const double per_m = std::min(4096 / std::max(size.x, size.y), 1 / 0.0015);
  const auto count = [&](double m) { return std::max(1, static_cast<int>(std::ceil(m * per_m))); };
  return {{0, 0}, size, count(size.x), count(size.y)};
}

// Whether a cell of the whole chart's labels may be seen as more than a pixel.
bool labels_look_coarse(const LabelWindow& whole, const Ball& ball, const ViewFrame& frame) {
  const double away = std::max(glm::length(ball.centre - frame.space.eye) - ball.radius, 0.1);
  const double metre_px = frame.kind == ViewKind::flat
                              ? frame.flat.metre_px
                              : frame.space.metre_px(frame.space.eye + away * frame.space.forward(), frame.size());
  return metre_px * whole.size.x > whole.columns;
}

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

WallScene::WallScene(std::unique_ptr<Renderer> renderer, std::function<void()> wake) : renderer_(std::move(renderer)) {
  if (!wake) return;
  using Stop = std::atomic<bool>;
  maker_ =
      std::make_unique<LevelMaker>([](const LevelJob& job, const Stop& stop) { return make_levels(job, stop); }, wake);
  pictures_ = std::make_unique<PictureMaker>(make_picture, std::move(wake));
}

bool WallScene::show(const Walls& walls, const DocumentRef& document, WallId chosen_wall,
                     std::span<const GiornataId> chosen, const ShownOnWallOf& on_wall) {
  bool changed = walls.size() != entries_.size() || chosen_wall != chosen_wall_;
  chosen_wall_ = chosen_wall;
  std::vector<Entry> entries;
  for (const auto& item : walls) {
    const auto same = [&](const Entry& e) { return e.item && e.item->id == item->id && e.canvas; };
    const auto found = std::find_if(entries_.begin(), entries_.end(), same);
    Entry entry = found == entries_.end() ? Entry{} : std::move(*found);
    if (!entry.canvas) entry.canvas = renderer_->make_wall();
    const bool anew = entry.item != item;
    changed |= load(entry, item, *document, chosen);
    if (on_wall)
      changed |= load_on_wall(entry, on_wall(item->id));
    else if (anew)
      changed |= load_on_wall(entry, {drape(*document, *item), nullptr, 0});
    entries.push_back(std::move(entry));
  }
  entries_ = std::move(entries);
  return changed;
}

bool WallScene::load(Entry& entry, const std::shared_ptr<const WallItem>& item, const Document& document,
                     std::span<const GiornataId> chosen) {
  std::vector<Entry::Shown> giornate;
  for (const Giornata& g : document.giornate)
    if (g.alive && g.wall == item->id)
      giornate.push_back({g.id, g.state, std::find(chosen.begin(), chosen.end(), g.id) != chosen.end()});
  if (entry.item == item && entry.giornate == giornate) return false;
  if (entry.item != item) load_surface(entry, item->wall);
  entry.item = item;
  entry.giornate = std::move(giornate);
  load_network(entry, document, chosen);
  return true;
}

void WallScene::load_surface(Entry& entry, const WallRef& wall) {
  if (wall == entry.wall) return;
  entry.wall = wall;
  entry.ball = enclosing_ball(wall->mesh());
  SurfaceDrawing surface = draw_surface(*wall);
  entry.origin = surface.origin;
  if (!maker_ || surface.indices.size() < 3 * kFewTriangles)
    return entry.canvas->set_surface(one_level(std::move(surface)));
  const auto kept = std::make_shared<const SurfaceDrawing>(std::move(surface));
  entry.canvas->set_surface(one_level(*kept));
  maker_->start({wall, kept});
}

bool WallScene::load_on_wall(Entry& entry, ShownOnWall on_wall) {
  bool changed = load_pictures(entry, std::move(on_wall.draped));
  changed |= load_heat(entry, std::move(on_wall.heat));
  changed |= load_pointed(entry, std::move(on_wall.pointed));
  changed |= load_contours(entry, std::move(on_wall.contours));
  if (on_wall.squaring_m == entry.squaring_m && entry.squared == entry.wall) return changed;
  load_squares(entry, on_wall.squaring_m);
  return true;
}

void WallScene::load_squares(Entry& entry, double step_m) {
  entry.squaring_m = step_m;
  entry.squared = entry.wall;
  LinePieces pieces;
  const auto squares = squares_on(*entry.wall, step_m);  // a side that cannot be drawn shows none
  if (squares)
    for (const SquareLine& line : squares->lines)
      for (const auto& stretch : line.stretches)
        add_line(pieces, *entry.wall, entry.origin, std::array{to_lattice(stretch.from), to_lattice(stretch.to)},
                 false);
  entry.canvas->set_lines(LineLayer::squares, pieces);
}

bool WallScene::load_heat(Entry& entry, std::shared_ptr<const std::vector<HeatLine>> heat) {
  if (heat == entry.heat) return false;
  entry.heat = std::move(heat);
  std::array<LinePieces, kHeatGrades> pieces;
  if (entry.heat)
    for (const HeatLine& line : *entry.heat) add_places(pieces[line.grade], *entry.wall, entry.origin, line.line);
  for (std::size_t grade = 0; grade < kHeatGrades; ++grade)
    entry.canvas->set_lines(static_cast<LineLayer>(static_cast<std::size_t>(LineLayer::heat0) + grade), pieces[grade]);
  return true;
}

bool WallScene::load_pointed(Entry& entry, std::shared_ptr<const std::vector<std::vector<ChartPoint>>> pointed) {
  if (pointed == entry.pointed) return false;
  entry.pointed = std::move(pointed);
  LinePieces pieces;
  if (entry.pointed)
    for (const auto& line : *entry.pointed) add_places(pieces, *entry.wall, entry.origin, line);
  entry.canvas->set_lines(LineLayer::pointed, pieces);
  return true;
}

bool WallScene::load_contours(Entry& entry, std::shared_ptr<const ContourField> contours) {
  if (contours == entry.contours) return false;
  entry.contours = std::move(contours);
  if (!entry.contours) {
    entry.canvas->set_lines(LineLayer::contours, {});
    return true;
  }
  PictureJob job{entry.item->id, nullptr, {}, std::nullopt, {entry.wall, entry.contours, entry.origin}};
  if (pictures_)
    pictures_->start(std::move(job));
  else
    apply(entry, make_picture(job, std::atomic<bool>(false)));
  return !pictures_;
}

bool WallScene::load_pictures(Entry& entry, DrapedRef draped) {
  if (draped == entry.draped) return false;
  entry.draped = std::move(draped);
  if (entry.draped) {
    make_pictures(entry);
    return !pictures_;
  }
  entry.on_device = nullptr;
  entry.tiles.clear();
  entry.canvas->set_picture(nullptr);
  return true;
}

// One job a wall at a time, so that what changed is told against what the device holds.
void WallScene::make_pictures(Entry& entry) {
  if (entry.making || entry.on_device == entry.draped || !entry.draped) return;
  PictureJob job{entry.item->id, entry.draped, entry.tiles, std::nullopt, {}};
  if (!pictures_) {
    apply(entry, make_picture(job, std::atomic<bool>(false)));
    return;
  }
  entry.making = true;
  pictures_->start(std::move(job));
}

bool WallScene::apply(Entry& entry, MadePicture made) {
  if (made.contours) {
    if (made.contours != entry.contours) return false;  // others are shown by now
    entry.canvas->set_lines(LineLayer::contours, made.lines);
    return true;
  }
  if (made.detail) {
    for (const ViewKind view : {ViewKind::space, ViewKind::flat}) {
      auto& detail = entry.details[static_cast<std::size_t>(view)];
      if (!detail.making || detail.draped != made.draped || !(detail.window == made.asked)) continue;
      detail.making = false;
      entry.canvas->set_detail(view, *made.detail);
    }
    return true;
  }
  entry.making = false;
  if (!entry.draped) return false;  // taken away meanwhile
  entry.on_device = std::move(made.draped);
  entry.tiles = std::move(made.now);
  entry.canvas->set_picture(&made.raster);
  make_pictures(entry);  // what was laid since it was asked for
  return true;
}

void WallScene::load_network(Entry& entry, const Document& document, std::span<const GiornataId> chosen) {
  NetworkDrawing drawing = draw_network(*entry.item, document.giornate, chosen, entry.origin);
  entry.faces = std::move(drawing.faces);
  for (std::size_t i = 0; i < kLineLayers; ++i) {
    const auto layer = static_cast<LineLayer>(i);
    if (layer != LineLayer::squares && layer != LineLayer::contours && layer < LineLayer::heat0)
      entry.canvas->set_lines(layer, drawing.lines[i]);
  }
  entry.whole = whole_window(*entry.wall);
  entry.canvas->set_labels(WallCanvas::LabelUse::whole, make_label_map(entry.whole, entry.faces));
  entry.in_view_valid = false;
}

bool WallScene::take_made() {
  while (maker_) {
    const auto made = maker_->take();
    if (!made) break;
    for (Entry& entry : entries_)
      if (entry.wall == made->wall) entry.canvas->set_surface(made->levels);
  }
  bool changed = false;
  while (pictures_) {
    auto made = pictures_->take();
    if (!made) break;
    for (Entry& entry : entries_)
      if (entry.item->id == made->wall) {
        changed |= apply(entry, std::move(*made));
        break;
      }
  }
  return changed;
}

void WallScene::finish_made() {
  if (maker_) maker_->finish();
  do {
    if (pictures_) pictures_->finish();
  } while (take_made());
}

Ball WallScene::ball() const {
  std::vector<Ball> balls;
  for (const Entry& entry : entries_) balls.push_back(entry.ball);
  return enclosing_ball(balls);
}

void WallScene::clear() { renderer_->clear(); }

DrawnFrame WallScene::draw(const ViewFrame& frame) {
  ViewFrame full = frame;
  const Ball all = ball();
  full.space.enclose(all.centre, all.radius);
  const auto chosen = std::find_if(entries_.begin(), entries_.end(),
                                   [&](const Entry& entry) { return entry.item->id == chosen_wall_; });
  std::vector<WallLook> looks;
  if (frame.kind == ViewKind::flat) {
    if (!entries_.empty()) looks.push_back(look_of(chosen == entries_.end() ? entries_.front() : *chosen, full));
  } else {
    for (Entry& entry : entries_) {
      looks.push_back(look_of(entry, full));
      if (chosen != entries_.end() && entry.item->id != chosen_wall_) looks.back().quiet = kQuiet;
    }
  }
  DrawnFrame drawn = renderer_->draw(full, looks);
  drawn.coarse_labels = frame.detail.reduced() && std::any_of(entries_.begin(), entries_.end(), [&](const Entry& e) {
                          return !e.faces.empty() && labels_look_coarse(e.whole, e.ball, full);
                        });
  return drawn;
}

WallLook WallScene::look_of(Entry& entry, const ViewFrame& frame) {
  WallLook look{entry.canvas.get(), 0, labels_for(entry, frame), detail_for(entry, frame), 0.05};
  const double metre_px =
      frame.kind == ViewKind::flat ? frame.flat.metre_px : frame.space.metre_px(entry.ball.centre, frame.size());
  look.pattern_m = pattern_spacing(metre_px, frame.scale);
  return look;
}

// At rest, where the view is closer than the raster shows and the pictures have more, the part in view is made finely;
// until it is there the raster serves.
bool WallScene::detail_for(Entry& entry, const ViewFrame& frame) {
  if (frame.detail.reduced() || !pictures_ || !entry.on_device || entry.on_device != entry.draped) return false;
  const Draped& draped = *entry.draped;
  if (draped.finest() > kFinerWorthIt * draped.spacing()) return false;
  LabelWindow window = label_window(*entry.wall, frame);
  const double wanted = std::max(window.size.x / window.columns, draped.finest());
  if (wanted > kFinerWorthIt * draped.spacing()) return false;
  window.columns = std::max(1, static_cast<int>(window.size.x / wanted));
  window.rows = std::max(1, static_cast<int>(window.size.y / wanted));
  auto& detail = entry.details[static_cast<std::size_t>(frame.kind)];
  if (detail.draped == entry.draped && detail.window == window) return !detail.making;
  if (detail.making) return false;
  detail = {entry.draped, window, true};
  pictures_->start({entry.item->id, entry.draped, {}, window, {}});
  return false;
}

// While the eye moves the labels of the whole chart serve; at rest a finer raster of what is in view, where that is
// finer at all.
WallCanvas::LabelUse WallScene::labels_for(Entry& entry, const ViewFrame& frame) {
  if (frame.detail.reduced() || entry.faces.empty()) return WallCanvas::LabelUse::whole;
  const LabelWindow window = label_window(*entry.wall, frame);
  if (window.columns / window.size.x <= entry.whole.columns / entry.whole.size.x) return WallCanvas::LabelUse::whole;
  if (!entry.in_view_valid || !(window == entry.in_view))
    entry.canvas->set_labels(WallCanvas::LabelUse::in_view, make_label_map(window, entry.faces));
  entry.in_view = window;
  entry.in_view_valid = true;
  return WallCanvas::LabelUse::in_view;
}

}  // namespace pontata
