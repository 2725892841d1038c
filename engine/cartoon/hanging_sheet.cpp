#include "engine/cartoon/hanging_sheet.h"

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/cartoon/page_cursor.h"
#include "engine/cartoon/wall_sketch.h"

namespace pontata {
namespace {

constexpr double kWidth = 210, kHeight = 297, kMargin = 14;  // A4, ISO 216, mm
constexpr Vec2 kSize{kWidth - 2 * kMargin, 150};             // of the drawing

// The wall about the giornata, seen straight on: mm on the page.
class Elevation {
 public:
  Elevation(const CartoonWall& wall, const CartoonGiornata& g, const Registration& registration)
      : wall_(wall), frame_(surface_frame(*wall.wall, g.measure.inside).value_or(SurfaceFrame{})) {
    ways_ = standing_ways(frame_);
    Vec2 low{1e300, 1e300}, high{-1e300, -1e300};
    const auto grow = [&](ChartPoint p) {
      if (const auto at = flat(p)) low = glm::min(low, *at), high = glm::max(high, *at);
    };
    for (const Ring& ring : g.rings)
      for (const LatticePoint& p : ring) grow(to_chart(p));
    for (const RegistrationMark& mark : registration.marks)
      for (const TapeOffset& offset : mark.offsets) grow(offset.foot);
    if (low.x > high.x) low = high = {0, 0};
    const Vec2 room = glm::max(high - low, Vec2{0.05, 0.05}) * 1.2 + 0.05;
    scale_ = std::min(kSize.x / room.x, kSize.y / room.y);
    middle_ = 0.5 * (low + high);
  }
  std::optional<Vec2> operator()(ChartPoint p) const {
    const auto at = flat(p);
    if (!at) return std::nullopt;
    return corner() + 0.5 * kSize + scale_ * (*at - middle_);
  }
  static Vec2 corner() { return {kMargin, kHeight - kMargin - 16 - kSize.y}; }
  // A line of the chart where it faces the painter, parted where it turns away.
  std::vector<std::vector<Vec2>> operator()(std::span<const ChartPoint> line) const {
    std::vector<std::vector<Vec2>> out(1);
    for (const ChartPoint& p : line) {
      const auto at = (*this)(p);
      if (at)
        out.back().push_back(*at);
      else if (!out.back().empty())
        out.emplace_back();
    }
    return out;
  }

 private:
  std::optional<Vec2> flat(ChartPoint p) const {
    const auto here = surface_frame(*wall_.wall, p);
    if (!here || glm::dot(here->normal, frame_.normal) < 0.05) return std::nullopt;
    const Vec3 off = here->at - frame_.at;
    return Vec2{glm::dot(off, ways_.right), glm::dot(off, ways_.up)};
  }
  const CartoonWall& wall_;
  SurfaceFrame frame_;
  StandingWays ways_;
  double scale_ = 1;  // mm a metre
  Vec2 middle_{0, 0};
};

std::vector<ChartPoint> closed(const Ring& ring) {
  std::vector<ChartPoint> out;
  for (std::size_t i = 0; i <= ring.size(); ++i) {
    const Vec2 a = to_vec(to_chart(ring[i % ring.size()])), b = to_vec(to_chart(ring[(i + 1) % ring.size()]));
    const int n = i == ring.size() ? 1 : std::clamp(static_cast<int>(glm::distance(a, b) / 0.05), 1, 400);
    for (int k = 0; k < n; ++k) out.push_back(to_chart(a + (b - a) * (static_cast<double>(k) / n)));
  }
  return out;
}

bool among(const std::vector<GiornataId>& ids, GiornataId id) {
  return std::find(ids.begin(), ids.end(), id) != ids.end();
}

void draw_giornate(Pages& pages, const CartoonWall& wall, const CartoonGiornata& own, const Elevation& at) {
  for (const CartoonGiornata& g : wall.giornate) {
    const bool neighbour = among(own.measure.neighbours, g.id);
    if (g.id != own.id && !neighbour) continue;
    std::vector<std::vector<Vec2>> rings;
    for (const Ring& ring : g.rings)
      for (auto& piece : at(closed(ring)))
        if (piece.size() > 2) rings.push_back(std::move(piece));
    if (g.id == own.id) pages.fill(rings, {0.96, 0.93, 0.86});
    if (among(own.meets_finished, g.id)) hatch(pages, rings, 45, 3, {0.12, kGrey});
    for (const auto& ring : rings) pages.path(ring, false, {g.id == own.id ? 0.6 : 0.25});
    if (const auto place = at(g.measure.inside)) number_in_ring(pages, *place, label_of(g), g.id == own.id ? 6.0 : 3.6);
  }
}

void draw_lines(Pages& pages, const std::vector<SnappedLine>& lines, const Elevation& at) {
  const Vec2 low = Elevation::corner(), high = low + kSize;
  for (const SnappedLine& line : lines)
    for (const auto& chart : line.pieces)
      for (const auto& piece : at(chart)) {
        if (piece.size() > 1) pages.path(piece, false, {0.2, {0.2, 0.2, 0.2}, {5, 1.2, 0.8, 1.2}});
        const auto inside = std::find_if(piece.begin(), piece.end(), [&](Vec2 p) {
          return p.x > low.x + 2 && p.x < high.x - 8 && p.y > low.y + 2 && p.y < high.y - 4;
        });
        if (inside != piece.end())
          pages.text(*inside + Vec2{0.8, 0.8}, line.sign, {3, true, Align::left, 0, kBlack, 0.5});
      }
}

void draw_tapes(Pages& pages, const Registration& registration, const Elevation& at) {
  for (const RegistrationMark& mark : registration.marks) {
    const auto place = at(mark.place);
    if (!place) continue;
    for (const TapeOffset& offset : mark.offsets) {
      const auto foot = at(offset.foot);
      if (!foot || offset.m < 5e-4) continue;
      pages.line(*foot, *place, {0.5, kBlack, {}, 0.4});
      pages.text(0.5 * (*foot + *place) + Vec2{0, 0.8}, format_fixed(offset.m, 3),
                 {2.8, false, Align::centre, 0, kBlack, 0.6});
    }
  }
  for (const RegistrationMark& mark : registration.marks)
    if (const auto place = at(mark.place)) number_in_ring(pages, *place, std::to_string(mark.number), 3, {1, 1, 0.75});
}

}  // namespace

void draw_hanging_sheet(Pages& pages, const CartoonInput& input, const PrintJob& job, Registers& registers) {
  const CartoonWall& wall = *job.wall;
  const CartoonGiornata& g = *job.giornata;
  const Registration& registration = registers.of(wall, g);
  pages.begin_page(kWidth, kHeight);
  pages.text({kMargin, kHeight - kMargin - 6}, "Giornata " + label_of(g) + " · hanging the sheet", {6, true});
  pages.text({kMargin, kHeight - kMargin - 12},
             pages.fitted(input.project + " · wall “" + wall.name + "” · as one stands before it; not to scale", {3.2},
                          kSize.x),
             {3.2});
  const Elevation at(wall, g, registration);
  pages.clip_rectangle(Elevation::corner(), kSize);
  draw_giornate(pages, wall, g, at);
  draw_lines(pages, registers.lines(wall), at);
  draw_tapes(pages, registration, at);
  pages.unclip();
  pages.rectangle(Elevation::corner(), kSize, {0.2, kGrey});
  PageCursor cursor(pages, Elevation::corner().y - 3);
  cursor.paragraph(
      "Offsets are measured by tape along the wall, the shortest way, from lines snapped on bare arriccio to the "
      "numbered "
      "marks on the sheet's rim. Measure the check bars first: damp paper has grown by what they are longer.",
      kMargin, kWidth - kMargin, {3.2});
  cursor.skip(2);
  for (const std::string& line : registration.words(wall, g)) {
    cursor.paragraph(line, kMargin, kWidth - kMargin, {3.6, line.starts_with("mark ")});
    cursor.skip(1.2);
  }
}

}  // namespace pontata
