#include "engine/cartoon/registration.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <set>
#include <tuple>

#include "engine/base/units.h"
#include "engine/chart/geodesic.h"
#include "engine/giornate/face_locator.h"

namespace pontata {
namespace {

constexpr double kReach = 3, kStep = 0.02, kRimStep = 0.05;  // m
constexpr double kOn = 5e-4;                                 // m: a mark this near lies on the line
constexpr double kLevelled = 0.966;  // upright part of the normal where "up" is the picture's, 15 degrees from level

std::string side_of(const SnappedLine& line, const SurfaceFrame& mark, const Vec3& foot) {
  const StandingWays ways = standing_ways(mark);
  const Vec3 off = mark.at - foot;
  if (line.kind == SnappedLine::Kind::plumb) return glm::dot(off, ways.right) > 0 ? "right of" : "left of";
  const bool up = glm::dot(off, ways.up) > 0;
  if (ways.by_height) return up ? "above" : "below";
  return up ? "toward the picture's top from" : "toward the picture's foot from";
}

std::string listed(const std::vector<std::string>& names) {
  std::string out;
  for (std::size_t i = 0; i < names.size(); ++i)
    out += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + names[i];
  return out;
}

}  // namespace

StandingWays standing_ways(const SurfaceFrame& frame) {
  StandingWays out;
  out.by_height = std::abs(frame.normal.z) < kLevelled;
  const Vec3 up = out.by_height ? Vec3{0, 0, 1} : frame.along_v;
  out.up = glm::normalize(up - glm::dot(up, frame.normal) * frame.normal);
  out.right = glm::cross(out.up, frame.normal);
  return out;
}

struct WallRegister::Day {
  GiornataId own;
  std::set<GiornataId> finished;
  bool bare(GiornataId owner) const { return owner != own && !finished.contains(owner); }
};

struct WallRegister::Candidate {
  ChartPoint place;
  Vec3 at{0, 0, 0};
  Foot plumb, across;
  bool clear = true;  // both tapes run clear of finished work, as far as straight ways in the chart tell
};

std::string TapeOffset::words() const {
  if (m < kOn) return "on " + line->name;
  return format_fixed(m, 3) + " m " + side + " " + line->name;
}

bool Registration::taped() const {
  return marks.size() >= 3 &&
         std::all_of(marks.begin(), marks.end(), [](const RegistrationMark& m) { return m.offsets.size() >= 2; });
}

WallRegister::WallRegister(const CartoonWall& wall) : wall_(wall), lines_(snapped_lines(wall)) {
  const auto locator = wall.network ? std::optional<FaceLocator>(*wall.network) : std::nullopt;
  const auto sample = [&](ChartPoint p, Piece& piece) {
    const auto at = wall.wall->position(p);
    if (!at) return;
    const FaceId face = locator ? locator->face_at(to_lattice(p)) : Network::kOutside;
    piece.samples.push_back({p, *at, face == Network::kOutside ? GiornataId{} : wall.network->face(face).owner});
  };
  for (std::size_t l = 0; l < lines_.size(); ++l)
    for (const auto& line : lines_[l].pieces) {
      Piece piece{l, {}};
      for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        const Vec2 a = to_vec(line[i]), d = to_vec(line[i + 1]) - a;
        const int n = std::max(1, static_cast<int>(std::ceil(glm::length(d) / kStep)));
        for (int k = 0; k < n; ++k) sample(to_chart(a + d * (static_cast<double>(k) / n)), piece);
      }
      if (!line.empty()) sample(line.back(), piece);
      if (piece.samples.size() > 1) pieces_.push_back(std::move(piece));
    }
}

// The nearest place of a piece that is bare and square to the mark: never an end of its bare stretch.
WallRegister::Foot WallRegister::foot_on(const Piece& piece, const Vec3& p, const Day& day) const {
  Foot out;
  const auto& s = piece.samples;
  constexpr double kEnd = 1e-6;
  bool passed = false;  // the stretch before is bare and the mark lies square beyond its end
  for (std::size_t i = 1; i < s.size(); ++i) {
    if (!day.bare(s[i - 1].owner) || !day.bare(s[i].owner)) {
      passed = false;
      continue;
    }
    const Vec3 d = s[i].at - s[i - 1].at;
    const double share = glm::dot(p - s[i - 1].at, d) / std::max(glm::dot(d, d), 1e-300);
    const bool square = share <= 1 && (share >= 0 || passed);  // within it, or round the bend at its start
    passed = share > 1;
    const bool at_end = (share < kEnd && (i < 2 || !day.bare(s[i - 2].owner))) ||
                        (share > 1 - kEnd && (i + 1 >= s.size() || !day.bare(s[i + 1].owner)));
    if (!square || at_end) continue;
    const double held = std::max(share, 0.0);
    const double distance = glm::distance(p, s[i - 1].at + held * d);
    if (distance < out.distance) out = {distance, &piece, i, held};
  }
  return out.distance <= kReach ? out : Foot{};
}

std::optional<TapeOffset> WallRegister::tape(ChartPoint mark, const Foot& foot, const Day& day) const {
  const auto& s = foot.piece->samples;
  const Sample &a = s[foot.after - 1], &b = s[foot.after];
  const ChartPoint on = to_chart(to_vec(a.place) + foot.share * (to_vec(b.place) - to_vec(a.place)));
  const auto frame = surface_frame(*wall_.wall, mark);
  if (!frame) return std::nullopt;
  TapeOffset out;
  out.line = &lines_[foot.piece->line];
  out.foot = on;
  out.side = side_of(*out.line, *frame, a.at + foot.share * (b.at - a.at));
  if (foot.distance < kOn) return out.m = foot.distance, out;
  const auto way = stretch_tape(*wall_.wall, on, mark);
  if (!way) return std::nullopt;
  out.m = way->over_m;
  if (!wall_.network) return out;
  for (const auto& piece : way->chart)
    for (std::size_t i = 0; i + 1 < piece.size(); ++i)
      for (const double share : {0.25, 0.5, 0.75}) {
        const Vec2 p = to_vec(piece[i]) + share * (to_vec(piece[i + 1]) - to_vec(piece[i]));
        out.over_finished |= day.finished.contains(wall_.network->owner_at(to_lattice(to_chart(p))));
      }
  return out;
}

bool WallRegister::clear_between(ChartPoint a, ChartPoint b, const Day& day) const {
  if (!wall_.network) return true;
  for (const double share : {0.1, 0.3, 0.5, 0.7, 0.9}) {
    const Vec2 p = to_vec(a) + share * (to_vec(b) - to_vec(a));
    if (day.finished.contains(wall_.network->owner_at(to_lattice(to_chart(p))))) return false;
  }
  return true;
}

std::vector<WallRegister::Candidate> WallRegister::candidates(const CartoonGiornata& g, const Day& day) const {
  std::vector<Candidate> out;
  for (const Ring& ring : g.rings)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 a = to_vec(to_chart(ring[i])), d = to_vec(to_chart(ring[(i + 1) % ring.size()])) - a;
      const int n = std::max(1, static_cast<int>(std::ceil(glm::length(d) / kRimStep)));
      for (int k = 0; k < n; ++k) {
        if (k == 0 && !out.empty() && glm::distance(to_vec(out.back().place), a) < 0.5 * kRimStep) continue;
        const ChartPoint place = to_chart(to_lattice(to_chart(a + d * (static_cast<double>(k) / n))));
        const auto at = wall_.wall->position(place);
        if (!at) continue;
        Candidate c{place, *at, {}, {}};
        for (const Piece& piece : pieces_) {
          const Foot foot = foot_on(piece, *at, day);
          Foot& best = lines_[piece.line].kind == SnappedLine::Kind::plumb ? c.plumb : c.across;
          if (foot.distance < best.distance) best = foot;
        }
        for (const Foot* foot : {&c.plumb, &c.across})
          if (foot->piece) c.clear = c.clear && clear_between(place, foot->piece->samples[foot->after].place, day);
        if (c.plumb.piece || c.across.piece) out.push_back(c);
      }
    }
  return out;
}

// Lines whose bare wall ends at the giornata on both, one or neither side of a stretch within it.
std::vector<BuriedLine> WallRegister::buried(const Day& day) const {
  std::vector<BuriedLine> out;
  for (const Piece& piece : pieces_) {
    const auto& s = piece.samples;
    for (std::size_t i = 0; i < s.size(); ++i) {
      if (s[i].owner != day.own) continue;
      std::size_t end = i;
      while (end + 1 < s.size() && s[end + 1].owner == day.own) ++end;
      const int ends = (i > 0 && day.bare(s[i - 1].owner)) + (end + 1 < s.size() && day.bare(s[end + 1].owner));
      const SnappedLine* line = &lines_[piece.line];
      const bool longer = glm::distance(s[i].at, s[end].at) > 0.05;
      if (!out.empty() && out.back().line == line)
        out.back().bare_ends = std::max(out.back().bare_ends, ends);
      else if (longer)
        out.push_back({line, ends});
      i = end;
    }
  }
  return out;
}

namespace {

// Three of the places, far apart: the first farthest from the middle, the second from the first, the third where the
// triangle is largest.
template <class Places>
std::vector<std::size_t> spread(const Places& places) {
  if (places.size() <= 3) {
    std::vector<std::size_t> all(places.size());
    for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
    return all;
  }
  Vec3 middle{0, 0, 0};
  for (const auto& p : places) middle += p.at;
  middle /= static_cast<double>(places.size());
  const auto farthest = [&](const auto& measure) {
    std::size_t best = 0;
    for (std::size_t i = 1; i < places.size(); ++i)
      if (measure(places[i].at) > measure(places[best].at) + 1e-9) best = i;
    return best;
  };
  const std::size_t a = farthest([&](const Vec3& p) { return glm::distance(p, middle); });
  const std::size_t b = farthest([&](const Vec3& p) { return glm::distance(p, places[a].at); });
  const std::size_t c =
      farthest([&](const Vec3& p) { return glm::length(glm::cross(p - places[a].at, places[b].at - places[a].at)); });
  return {a, b, c};
}

}  // namespace

Registration WallRegister::of(const CartoonGiornata& g) const {
  Day day{g.id, {g.meets_finished.begin(), g.meets_finished.end()}};
  const auto key = [](const PlannedDay& d) { return std::make_tuple(d.dated, d.dated ? d.date : Date{}); };
  for (const CartoonGiornata& other : wall_.giornate)
    if (key(other.day) < key(g.day)) day.finished.insert(other.id);
  Registration out;
  out.enclosed = !g.meets_finished.empty() && g.stays_open.empty() && !g.open_to_rest;
  out.buried = buried(day);
  if (out.enclosed) return out;
  auto all = candidates(g, day);
  const auto prefer = [&](const auto& wanted) {
    std::vector<Candidate> those;
    std::copy_if(all.begin(), all.end(), std::back_inserter(those), wanted);
    if (those.size() >= 3) all = std::move(those);
  };
  prefer([](const Candidate& c) { return c.plumb.piece && c.across.piece; });
  prefer([](const Candidate& c) { return c.clear; });
  for (const std::size_t i : spread(all)) {
    RegistrationMark mark{static_cast<int>(out.marks.size()) + 1, all[i].place, {}};
    for (const Foot* foot : {&all[i].plumb, &all[i].across})
      if (foot->piece)
        if (auto offset = tape(mark.place, *foot, day)) mark.offsets.push_back(std::move(*offset));
    if (!mark.offsets.empty()) out.marks.push_back(std::move(mark));
  }
  for (std::size_t i = 0; i < out.marks.size(); ++i) out.marks[i].number = static_cast<int>(i) + 1;
  return out;
}

std::vector<std::string> Registration::words(const CartoonWall& wall, const CartoonGiornata& g) const {
  std::vector<std::string> out, finished, two, one, none;
  for (const CartoonGiornata& other : wall.giornate)
    if (std::find(g.meets_finished.begin(), g.meets_finished.end(), other.id) != g.meets_finished.end())
      finished.push_back(label_of(other));
  for (const RegistrationMark& mark : marks) {
    std::vector<std::string> offsets;
    bool over = false;
    for (const TapeOffset& offset : mark.offsets) offsets.push_back(offset.words()), over |= offset.over_finished;
    out.push_back(fmt::format("mark {}: {}{}", mark.number, fmt::join(offsets, ", "),
                              over ? "; the tape passes over finished work: hold it clear of the paint" : ""));
  }
  if (enclosed)
    out.push_back("Enclosed by finished work: hang it by the match marks on the edges of giornata " + listed(finished) +
                  "; nothing is snapped or nailed on paint.");
  else if (!taped())
    out.push_back(finished.empty()
                      ? "No three marks can be taped from snapped lines on bare wall: hang it by the wall's "
                        "own edges and by its neighbours' match marks."
                      : "No three marks can be taped from snapped lines on bare wall: hang it also by the "
                        "match marks on the edges of giornata " +
                            listed(finished) + ".");
  for (const BuriedLine& b : buried) (b.bare_ends == 2 ? two : b.bare_ends == 1 ? one : none).push_back(b.line->name);
  if (!two.empty()) out.push_back("Snap again in the fresh intonaco, from end to end: " + listed(two) + ".");
  if (!one.empty())
    out.push_back("Draw again in the fresh intonaco from the end on bare wall, by level or plumb bob: " + listed(one) +
                  ".");
  if (!none.empty())
    out.push_back("Both ends lie under finished work or at the wall's end, not to be snapped: " + listed(none) + ".");
  return out;
}

const WallRegister& Registers::of(const CartoonWall& wall) {
  auto& made = walls_[&wall];
  if (!made) made = std::make_unique<WallRegister>(wall);
  return *made;
}

const Registration& Registers::of(const CartoonWall& wall, const CartoonGiornata& giornata) {
  const auto found = giornate_.find(giornata.id);
  return found != giornate_.end() ? found->second : giornate_[giornata.id] = of(wall).of(giornata);
}

}  // namespace pontata
