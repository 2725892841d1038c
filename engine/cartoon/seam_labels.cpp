#include "engine/cartoon/seam_labels.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/cartoon/line_walk.h"

namespace pontata {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kEvery = 200, kShortest = 12, kNumber = 7, kMark = 3.2;  // mm

std::vector<Disc> discs_of(const SeamLabel& l) { return pontata::discs_of(l.words, l.centre, l.size_mm, l.angle_deg); }

// A place along a line, and the line's direction there, over a few centimetres.
struct Spot {
  Vec2 at, along;
};

Spot spot(const LineWalk& walk, double s) {
  const double reach = std::min(12.0, 0.4 * walk.length());
  const Vec2 d = walk.point(s + reach) - walk.point(s - reach);
  const double size = glm::length(d);
  return {walk.point(s), size > 0 ? d / size : Vec2{1, 0}};
}

std::string outside_words(const RimStretch& s) {
  if (s.beyond == Beyond::border) return "edge of the wall";
  return s.label;
}
std::string inside_words(const RimStretch& s) {
  if (s.beyond == Beyond::finished) return "meets finished work";
  return s.beyond == Beyond::open || s.beyond == Beyond::rest ? "open" : "";
}

double upright(double angle_deg, double turn_deg) {
  double on_paper = std::remainder(angle_deg + turn_deg, 360);
  if (on_paper > 90 + 1e-9) on_paper -= 180;
  if (on_paper <= -90 + 1e-9) on_paper += 180;
  return on_paper - turn_deg;
}

SeamLabel outside_label(const RimStretch& s, const Spot& at, double turn_deg) {
  const Vec2 out{at.along.y, -at.along.x};  // the giornata is on the left
  SeamLabel l;
  l.words = outside_words(s);
  const bool number = !s.label.empty();
  l.size_mm = number ? kNumber : kMark, l.bold = number;
  l.outside = true;
  l.along_deg = upright(std::atan2(at.along.y, at.along.x) * 180 / kPi, turn_deg);
  l.angle_deg = number ? -turn_deg : l.along_deg;
  l.centre = at.at + out * (number ? 7.0 : 3.6);
  return l;
}
SeamLabel inside_label(const RimStretch& s, const Spot& at, double turn_deg) {
  SeamLabel l;
  l.words = inside_words(s);
  l.size_mm = kMark;
  l.angle_deg = l.along_deg = upright(std::atan2(at.along.y, at.along.x) * 180 / kPi, turn_deg);
  l.centre = at.at + Vec2{-at.along.y, at.along.x} * 3.6;
  return l;
}

void add_label(std::vector<SeamLabel>& out, PageRoom& room, const SeamLabel& label) {
  if (label.words.empty()) return;
  if (room.claim(discs_of(label))) out.push_back(label);
}

}  // namespace

std::vector<SeamLabel> seam_labels(const Pattern& pattern, PageRoom& room, double turn_deg) {
  std::vector<SeamLabel> out;
  for (const RimStretch& s : pattern.stretches) {
    const LineWalk walk(s.line);
    if (walk.length() < kShortest) continue;
    const int n = std::max(1, static_cast<int>(walk.length() / kEvery));
    const double part = walk.length() / n;
    for (int i = 0; i < n; ++i) {
      const std::size_t before = out.size();
      for (const double shift : {0.0, 0.1, -0.1, 0.2, -0.2, 0.3, -0.3}) {  // the outer words first, both if they fit
        const Spot at = spot(walk, (i + 0.5 + shift) * part);
        const SeamLabel outer = outside_label(s, at, turn_deg), inner = inside_label(s, at, turn_deg);
        if (!outer.words.empty() && !room.free(discs_of(outer))) continue;
        if (!inner.words.empty() && !room.free(discs_of(inner))) continue;
        add_label(out, room, outer), add_label(out, room, inner);
        break;
      }
      if (out.size() == before) add_label(out, room, outside_label(s, spot(walk, (i + 0.5) * part), turn_deg));
    }
  }
  return out;
}

}  // namespace pontata
