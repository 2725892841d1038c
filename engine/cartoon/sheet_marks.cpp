#include "engine/cartoon/sheet_marks.h"

#include <algorithm>

#include "engine/base/units.h"

namespace pontata {
namespace {

constexpr double kInside = 3.0, kOutside = 2.0;           // mm of a match mark's tick
constexpr double kTriangle = 5.0, kHalfBase = 2.2;        // mm
constexpr double kName = 2.6, kNumber = 3.4, kCut = 3.0;  // mm, height of letters

// The first free one of some places; the first of all where none is free.
PlacedWords claim(PageRoom& room, PlacedWords words, const std::vector<Vec2>& places) {
  for (const Vec2& p : places) {
    words.centre = p;
    if (room.claim(discs_of(words.words, p, words.size_mm, words.angle_deg))) return words;
  }
  words.centre = places.front();
  room.take(discs_of(words.words, words.centre, words.size_mm, words.angle_deg));
  return words;
}

// Places behind a mark, ever farther in, straight and to both sides.
std::vector<Vec2> behind(Vec2 at, Vec2 inward, double least) {
  const Vec2 along{inward.y, -inward.x};
  std::vector<Vec2> out;
  for (const double in : {0.0, 2.5, 5.0, 7.5})
    for (const double aside : {0.0, 3.0, -3.0, 6.0, -6.0}) out.push_back(at + (least + in) * inward + aside * along);
  return out;
}

void place_match_marks(const Pattern& pattern, bool trimmed, double turn, PageRoom& room, SheetMarks& out) {
  for (const MatchMark& mark : pattern.marks) {
    const Vec2 foot = trimmed ? mark.at : mark.at - kOutside * mark.inward;
    out.ticks.push_back({foot, mark.at + kInside * mark.inward});
    room.take({{mark.at, 2.0}});
  }
  for (const MatchMark& mark : pattern.marks) {
    const double least = kInside + 0.35 * kName + 0.25 * kName * static_cast<double>(mark.name.size());
    out.mark_words.push_back(
        claim(room, {mark.name, {0, 0}, kName, -turn, false}, behind(mark.at, mark.inward, least)));
  }
}

void place_registration(const Pattern& pattern, const Registration& registration, double turn, PageRoom& room,
                        SheetMarks& out) {
  for (const RegistrationMark& mark : registration.marks) {
    const auto rim = place_on_rim(pattern, mark.place);
    if (!rim) continue;  // on another part
    const Vec2 base = rim->at + kTriangle * rim->inward, along{rim->inward.y, -rim->inward.x};
    out.triangles.push_back({rim->at, base + kHalfBase * along, base - kHalfBase * along});
    room.take({{rim->at + 0.6 * kTriangle * rim->inward, 0.6 * kTriangle}});
    out.mark_words.push_back(claim(room, {std::to_string(mark.number), {0, 0}, kNumber, -turn, true},
                                   behind(rim->at, rim->inward, kTriangle + 0.8 * kNumber)));
  }
}

std::string closing(const PatternCut& cut) {
  const double mm = std::abs(cut.closes_mm);
  return cut.name + (cut.closes_mm < 0 ? ": opens " : ": closes ") + format_fixed(mm, 1) + " mm";
}

// Beside the cut near its mouth, upright on the page.
void place_cut_words(const Pattern& pattern, double turn, PageRoom& room, SheetMarks& out) {
  for (const PatternCut& cut : pattern.cuts) {
    if (cut.right.size() < 2 || cut.left.size() < 2) continue;
    const Vec2 mouth = 0.5 * (cut.right.front() + cut.left.front()), tip = cut.right.back();
    if (!(glm::distance(mouth, tip) > 0)) continue;
    const Vec2 inward = glm::normalize(tip - mouth), aside{-inward.y, inward.x};
    const std::string words = closing(cut);
    const double half = 0.3 * kCut * static_cast<double>(words.size());
    std::vector<Vec2> places;
    for (const double in : {10.0, 16.0, 24.0, 34.0})
      for (const double side : {1.0, -1.0}) {
        const double reach = 0.5 * std::abs(cut.closes_mm) + 3 + half * std::abs(aside.x);
        places.push_back(mouth + in * inward + side * reach * aside);
      }
    out.cut_words.push_back(claim(room, {words, {0, 0}, kCut, -turn, false}, places));
  }
}

void place_snapped(const PatternCarrier& carrier, const std::vector<SnappedLine>& lines, double turn, PageRoom& room,
                   SheetMarks& out) {
  for (const SnappedLine& line : lines)
    for (const auto& piece : line.pieces)
      for (const CarriedLine& part : carrier(piece)) {
        std::vector<Vec2> points = shape_of(part);
        const Vec2 way = points.back() - points.front();
        const double length = glm::length(way);
        if (length < 5) continue;
        std::vector<Vec2> places;
        const Vec2 along = way / length, aside{-along.y, along.x};
        for (const double in : {12.0, 20.0, 30.0, 45.0})
          if (in < length) places.push_back(points.front() + in * along + 2.4 * aside);
        if (!places.empty()) out.mark_words.push_back(claim(room, {line.sign, {0, 0}, kName, -turn, false}, places));
        out.snapped.push_back({line.sign, std::move(points)});
      }
}

}  // namespace

SheetMarks place_marks(const Pattern& pattern, const PatternCarrier& carrier, const Registration* registration,
                       const std::vector<SnappedLine>* lines, bool trimmed, PageRoom& room, double turn_deg) {
  SheetMarks out;
  place_match_marks(pattern, trimmed, turn_deg, room, out);
  if (registration) place_registration(pattern, *registration, turn_deg, room, out);
  place_cut_words(pattern, turn_deg, room, out);
  if (lines) place_snapped(carrier, *lines, turn_deg, room, out);
  return out;
}

namespace {

void draw_words(Pages& pages, const std::vector<PlacedWords>& all, const SheetView& view) {
  for (const PlacedWords& w : all)
    centred(pages, view(w.centre), w.words,
            {w.size_mm, w.bold, Align::centre, w.angle_deg + view.turn_deg(), kBlack, 0.5});
}

}  // namespace

void draw_cuts(Pages& pages, const Pattern& pattern, const SheetMarks& marks, const SheetView& view) {
  for (const PatternCut& cut : pattern.cuts)
    for (const auto* lip : {&cut.right, &cut.left}) pages.path(view(*lip), false, {0.35, kBlack, {}, 0.5});
  draw_words(pages, marks.cut_words, view);
}

void draw_marks(Pages& pages, const SheetMarks& marks, const SheetView& view) {
  for (const PlacedLine& line : marks.snapped)
    pages.path(view(line.points), false, {0.22, kBlack, {6, 1.5, 1, 1.5}, 0.3});
  for (const PlacedTick& tick : marks.ticks) pages.line(view(tick.from), view(tick.to), {0.35, kBlack, {}, 0.4});
  for (const auto& triangle : marks.triangles) {
    const std::vector<std::vector<Vec2>> shape{view(triangle)};
    pages.fill(shape, kWhite);
    pages.path(shape[0], true, {0.3});
  }
  draw_words(pages, marks.mark_words, view);
}

}  // namespace pontata
