#include "editor/tools/guided_stroke.h"

#include "editor/window/workbench.h"
#include "engine/seams/hug_across.h"

namespace pontata {

bool GuidedStroke::ready(Workbench& bench) {
  const auto item = bench.session.wall_item();
  if (item != item_) clear();
  const auto contours = bench.session.contours();
  if (item && (item != item_ || contours != contours_)) {
    ground_ = std::make_shared<const HugGround>(HugGround{item->wall, contours, item->network, nullptr});
    contours_ = contours;
    stroke_.reset();
  }
  item_ = item;
  return item != nullptr;
}

// The way from the last point to p, in pieces where the shorter one crosses a cut.
std::vector<CutPiece> GuidedStroke::way_to(ChartPoint p) const {
  const std::vector<LatticePoint> places{to_lattice(points_.back()), to_lattice(p)};
  return lead_across(*item_->wall, places, {}, false).value();  // without turns nothing is refused
}

HuggedLine GuidedStroke::straight_to(ChartPoint p) const {
  const auto way = way_to(p);
  HuggedLine line;
  for (const CutPiece& piece : way)
    for (const LatticePoint place : piece.points) line.line.push_back(to_chart(place));
  line.line.front() = points_.back();
  line.line.back() = p;
  line.length_m = length_of(*item_->wall, way, false);
  return line;
}

HuggedLine GuidedStroke::stretch_to(Workbench& bench, ChartPoint p, bool straight) {
  if (straight || !bench.hug_on || points_.back() == p) return straight_to(p);
  if (const auto way = way_to(p); way.size() > 1) {
    const auto hugged = hug_pieces(ground_, way, false, bench.session.document()->settings.hug);
    return hugged ? *hugged : straight_to(p);
  }
  if (!stroke_) {
    const HuggedLine before = whole();
    stroke_.emplace(ground_, points_.back(), bench.session.document()->settings.hug, before.line);
  }
  return stroke_->to(p);
}

void GuidedStroke::add(Workbench& bench, ChartPoint p, bool straight) {
  if (points_.empty()) {
    points_.push_back(p);
  } else {
    HuggedLine stretch = stretch_to(bench, p, straight);
    if (stretch.line.size() < 2 || stretch.line.back() == points_.back()) return;
    if (stretches_.empty()) points_.front() = stretch.line.front();  // it may have been drawn to a seam
    points_.push_back(stretch.line.back());
    stretches_.push_back(std::move(stretch));
  }
  stroke_.reset();
  hide_live();
}

void GuidedStroke::take_back() {
  if (!points_.empty()) points_.pop_back();
  if (!stretches_.empty()) stretches_.pop_back();
  stroke_.reset();
  hide_live();
}

void GuidedStroke::clear() { *this = GuidedStroke{}; }

HuggedLine GuidedStroke::whole(const HuggedLine& last) const {
  HuggedLine all;
  for (const HuggedLine& part : stretches_) append(all, part);
  append(all, last);
  return all;
}

void GuidedStroke::draw(Workbench& bench, ImDrawList& list, const Pane& pane) const {
  for (const HuggedLine& part : stretches_) draw_stroke(list, bench, pane, part.line, false, kAction);
  draw_stroke(list, bench, pane, live_.line, false, live_.share() > 0.5 ? kAction : kSeamCore);
  for (std::size_t i = 0; i < points_.size(); ++i) draw_dot(list, bench, pane, points_[i], i == 0);
}

}  // namespace pontata
