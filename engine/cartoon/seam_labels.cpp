#include "engine/cartoon/seam_labels.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace pontata {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kEvery = 200, kShortest = 12, kNumber = 7, kMark = 3.2;  // mm

struct Disc {
  Vec2 centre;
  double radius;
};

// Rough place of a line of words, as discs along it; DejaVu Sans is about 0.6 em wide.
std::vector<Disc> discs_of(const SeamLabel& label) {
  const double letters = static_cast<double>(std::count_if(
      label.words.begin(), label.words.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
  const double half = 0.3 * letters * label.size_mm, radius = 0.6 * label.size_mm;
  const double a = label.angle_deg * kPi / 180;
  const Vec2 along{std::cos(a), std::sin(a)};
  std::vector<Disc> out;
  const int n = std::max(1, static_cast<int>(std::ceil(half / radius)));
  for (int i = -n; i <= n; ++i) out.push_back({label.centre + along * (half * i / n), radius});
  return out;
}

class Room {
 public:
  explicit Room(Disc first) : taken_{first} {}
  bool free(const std::vector<Disc>& wanted) const {
    for (const Disc& w : wanted)
      for (const Disc& t : taken_)
        if (glm::distance(w.centre, t.centre) < w.radius + t.radius) return false;
    return true;
  }
  void take(const std::vector<Disc>& discs) { taken_.insert(taken_.end(), discs.begin(), discs.end()); }

 private:
  std::vector<Disc> taken_;
};

// A place along a line, and the line's direction there, over a few centimetres.
struct Spot {
  Vec2 at, along;
};

class Walk {
 public:
  explicit Walk(const std::vector<Vec2>& line) : line_(line) {
    for (std::size_t i = 1; i < line.size(); ++i) at_.push_back(at_.back() + glm::distance(line[i - 1], line[i]));
  }
  double length() const { return at_.back(); }
  Vec2 point(double s) const {
    s = std::clamp(s, 0.0, length());
    const auto i = std::clamp<std::size_t>(
        static_cast<std::size_t>(std::lower_bound(at_.begin(), at_.end(), s) - at_.begin()), 1, line_.size() - 1);
    const double piece = at_[i] - at_[i - 1];
    return line_[i - 1] + (line_[i] - line_[i - 1]) * (piece > 0 ? (s - at_[i - 1]) / piece : 0.0);
  }
  Spot spot(double s) const {
    const double reach = std::min(12.0, 0.4 * length());
    const Vec2 d = point(s + reach) - point(s - reach);
    const double size = glm::length(d);
    return {point(s), size > 0 ? d / size : Vec2{1, 0}};
  }

 private:
  const std::vector<Vec2>& line_;
  std::vector<double> at_{0};
};

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
  l.angle_deg = number ? -turn_deg : upright(std::atan2(at.along.y, at.along.x) * 180 / kPi, turn_deg);
  l.centre = at.at + out * (number ? 7.0 : 3.6);
  return l;
}
SeamLabel inside_label(const RimStretch& s, const Spot& at, double turn_deg) {
  SeamLabel l;
  l.words = inside_words(s);
  l.size_mm = kMark;
  l.angle_deg = upright(std::atan2(at.along.y, at.along.x) * 180 / kPi, turn_deg);
  l.centre = at.at + Vec2{-at.along.y, at.along.x} * 3.6;
  return l;
}

void add_label(std::vector<SeamLabel>& out, Room& room, const SeamLabel& label) {
  if (label.words.empty()) return;
  const auto discs = discs_of(label);
  if (!room.free(discs)) return;
  room.take(discs);
  out.push_back(label);
}

}  // namespace

std::vector<SeamLabel> seam_labels(const Pattern& pattern, Vec2 taken, double taken_radius, double turn_deg) {
  std::vector<SeamLabel> out;
  Room room({taken, taken_radius});
  for (const RimStretch& s : pattern.stretches) {
    const Walk walk(s.line);
    if (walk.length() < kShortest) continue;
    const int n = std::max(1, static_cast<int>(walk.length() / kEvery));
    const double part = walk.length() / n;
    for (int i = 0; i < n; ++i) {
      const std::size_t before = out.size();
      for (const double shift : {0.0, 0.1, -0.1, 0.2, -0.2, 0.3, -0.3}) {  // the outer words first, both if they fit
        const Spot at = walk.spot((i + 0.5 + shift) * part);
        const SeamLabel outer = outside_label(s, at, turn_deg), inner = inside_label(s, at, turn_deg);
        if (!outer.words.empty() && !room.free(discs_of(outer))) continue;
        if (!inner.words.empty() && !room.free(discs_of(inner))) continue;
        add_label(out, room, outer), add_label(out, room, inner);
        break;
      }
      if (out.size() == before) add_label(out, room, outside_label(s, walk.spot((i + 0.5) * part), turn_deg));
    }
  }
  return out;
}

}  // namespace pontata
