#include "engine/wall/openings.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>
#include <numbers>
#include <sstream>

#include "engine/base/predicates.h"
#include "engine/base/text.h"
#include "engine/base/units.h"

namespace pontata {

namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kFarthest = 4096;  // m, no chart is wider
constexpr std::size_t kMostPoints = 100000;

struct KindEntry {
  OpeningKind kind;
  std::string_view name;
  std::size_t numbers;
  std::string_view form;
};
constexpr std::array<KindEntry, 4> kKinds{{{OpeningKind::rect, "rect", 4, "rect:U,V,WIDTH,HEIGHT"},
                                           {OpeningKind::arched, "arched", 4, "arched:U,V,WIDTH,HEIGHT"},
                                           {OpeningKind::round, "round", 3, "round:U,V,DIAMETER"},
                                           {OpeningKind::free, "free", 0, "free:FILE"}}};

Problem refused(const Opening& opening, std::string what, std::string remedy) {
  return {std::move(what), std::string(opening_name(opening.kind)) + " opening", std::move(remedy)};
}

Result<std::vector<double>> read_lengths(std::string_view text, const KindEntry& kind) {
  std::vector<double> values;
  for (const auto& part : split(text, ',')) {
    const auto value = parse_length(part);
    if (!value) return value.problem();
    values.push_back(*value);
  }
  if (values.size() != kind.numbers)
    return Problem{fmt::format("\"{}:{}\" does not have {} lengths", kind.name, text, kind.numbers), "",
                   fmt::format("Write it like {}.", kind.form)};
  return values;
}

// Lines of two lengths; what follows a # is left out.
Result<std::vector<ChartPoint>> read_outline(const std::string& path) {
  std::ifstream file(path);
  if (!file) return Problem{"the outline of the opening cannot be read", path, "Check the file's name."};
  std::vector<ChartPoint> points;
  std::string line;
  for (int number = 1; std::getline(file, line); ++number) {
    std::istringstream words(line.substr(0, line.find('#')));
    std::string u, v, more;
    if (!(words >> u)) continue;
    const auto bad = [&] {
      return Problem{"this line is not two lengths", fmt::format("{} line {}", path, number),
                     "Write \"u v\", in metres or with units."};
    };
    if (!(words >> v) || words >> more || points.size() == kMostPoints) return bad();
    const auto at_u = parse_length(u), at_v = parse_length(v);
    if (!at_u || !at_v) return bad();
    points.push_back({*at_u, *at_v});
  }
  return points;
}

// Radius on which the inner points of an arc in `count` equal chords lie, its first and last point on the arc itself,
// so that the chords hold the arc's area: two outer triangles r q sin(d)/2 and count - 2 triangles q^2 sin(d)/2.
double inner_radius(double r, double turn, int count) {
  const double s = std::sin(turn / count);
  if (count < 3) return turn * r / (2 * s);
  const double inner = count - 2;  // inner q^2 + 2 r q - r^2 turn / s = 0
  return r * (std::sqrt(1 + inner * turn / s) - 1) / inner;
}

int chords(double r, double turn, double sagitta) {
  const double step = std::sqrt(8 * sagitta / r);
  return std::clamp(static_cast<int>(std::ceil(turn / std::max(step, 1e-6))), 8, 100000);
}

void add_circle(std::vector<Vec2>& out, Vec2 centre, double r, double sagitta) {
  const int count = chords(r, 2 * kPi, sagitta);
  const double step = 2 * kPi / count;
  const double q = r * std::sqrt(step / std::sin(step));  // count q^2 sin(step)/2 = pi r^2
  for (int i = 0; i < count; ++i) out.push_back(centre + q * Vec2{std::cos(i * step), std::sin(i * step)});
}

// From the right springing over the crown to the left one, both included.
void add_half_circle(std::vector<Vec2>& out, Vec2 centre, double r, double sagitta) {
  const int count = chords(r, kPi, sagitta);
  const double q = inner_radius(r, kPi, count);
  out.push_back(centre + Vec2{r, 0});
  for (int i = 1; i < count; ++i)
    out.push_back(centre + q * Vec2{std::cos(i * kPi / count), std::sin(i * kPi / count)});
  out.push_back(centre - Vec2{r, 0});
}

bool within_reach(const Opening& o) {
  const auto fine = [](double x) { return std::isfinite(x) && std::abs(x) < kFarthest / 2; };
  bool all = fine(o.at.u) && fine(o.at.v) && fine(o.width) && fine(o.height);
  for (const auto& p : o.outline) all = all && fine(p.u) && fine(p.v);
  return all;
}

Outcome check_sizes(const Opening& o) {
  if (!within_reach(o)) return refused(o, "a length is not a number, or kilometres long", "Check the unit.");
  const bool sized = o.kind == OpeningKind::free || (o.width > 0 && (o.kind == OpeningKind::round || o.height > 0));
  if (!sized) return refused(o, "its size must be more than zero", "Give it in metres, for example 1.2m.");
  if (o.kind == OpeningKind::arched && o.height < o.width / 2)
    return refused(o,
                   fmt::format("it is {} m high, lower than its half circle of {} m", format_number(o.height),
                               format_number(o.width / 2)),
                   "Give the height up to the crown of its arch, at least half the width.");
  return Done{};
}

// Counter-clockwise, without repeated points.
Result<std::vector<Vec2>> free_outline(const Opening& o) {
  std::vector<Vec2> points;
  Ring ring;
  for (const auto& p : o.outline) {
    const LatticePoint place = to_lattice(p);
    if (!ring.empty() && ring.back() == place) continue;
    ring.push_back(place);
    points.push_back(to_vec(p));
  }
  while (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back(), points.pop_back();
  const auto no_area = [&] {
    return refused(o, "its outline has fewer than 3 points that go round an area", "Give at least 3 corners.");
  };
  if (ring.size() < 3) return no_area();
  if (const auto hit = find_self_crossing(ring); hit.first >= 0) {
    const ChartPoint p = to_chart(ring[static_cast<std::size_t>(hit.first)]);
    return refused(
        o, fmt::format("its outline crosses or touches itself near {},{}", format_fixed(p.u, 3), format_fixed(p.v, 3)),
        "Let it go once around the opening.");
  }
  if (twice_area(ring) == 0) return no_area();
  if (twice_area(ring) < 0) std::reverse(points.begin(), points.end());
  return points;
}

}  // namespace

std::string_view opening_name(OpeningKind kind) { return kKinds[static_cast<std::size_t>(kind)].name; }

Result<Opening> parse_opening(std::string_view text) {
  const auto colon = text.find(':');
  const auto kind =
      std::find_if(kKinds.begin(), kKinds.end(), [&](const KindEntry& k) { return k.name == text.substr(0, colon); });
  if (colon == std::string_view::npos || kind == kKinds.end())
    return Problem{fmt::format("\"{}\" is no opening", text), "",
                   "Write rect:U,V,WIDTH,HEIGHT, arched:U,V,WIDTH,HEIGHT, round:U,V,DIAMETER or free:FILE."};
  Opening opening;
  opening.kind = kind->kind;
  const std::string_view rest = text.substr(colon + 1);
  if (opening.kind == OpeningKind::free) {
    auto outline = read_outline(std::string(rest));
    if (!outline) return outline.problem();
    opening.outline = std::move(*outline);
  } else {
    const auto values = read_lengths(rest, *kind);
    if (!values) return values.problem();
    opening.at = {(*values)[0], (*values)[1]};
    opening.width = (*values)[2];
    if (kind->numbers == 4) opening.height = (*values)[3];
  }
  if (const auto sound = opening_outline(opening, 1e-3); !sound) return sound.problem();
  return opening;
}

Result<std::vector<Vec2>> opening_outline(const Opening& o, double sagitta) {
  if (const auto good = check_sizes(o); !good) return good.problem();
  if (o.kind == OpeningKind::free) return free_outline(o);
  std::vector<Vec2> out;
  const Vec2 at = to_vec(o.at);
  const double w = o.width, r = w / 2;
  switch (o.kind) {
    case OpeningKind::rect:
      out = {at, at + Vec2{w, 0}, at + Vec2{w, o.height}, at + Vec2{0, o.height}};
      break;
    case OpeningKind::arched:
      if (o.height > r) out = {at, at + Vec2{w, 0}};
      add_half_circle(out, at + Vec2{r, o.height - r}, r, sagitta);
      break;
    case OpeningKind::round:
      add_circle(out, at, r, sagitta);
      break;
    case OpeningKind::free:
      break;
  }
  return out;
}

}  // namespace pontata
