#include "engine/review/from_floor.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/base/parallel.h"
#include "engine/base/units.h"
#include "engine/picture/contour_distance.h"
#include "engine/picture/draped_colours.h"
#include "engine/picture/metric_grid.h"
#include "engine/picture/sight.h"
#include "engine/review/heat_line.h"
#include "engine/review/seam_chains.h"

namespace pontata {

namespace {

constexpr double kStrength = 0.10;   // weaker contours do not hide a seam
constexpr double kAlong = 0.6;       // radians between a seam and a contour that masks it
constexpr double kMaskStep = 0.01;   // chart m between places that a contour must mask
constexpr double kBeside = 0.008;    // m to either side of a seam, where its colours are compared
constexpr double kPlainStep = 0.25;  // of colour: what differs so much already hides a joint as far as it can
constexpr double kShortest = 0.05;   // m; shorter stretches are not told
// Of what shows: our own choice, no source. What hides a joint by how much is not measured anywhere that we know of.
constexpr double kContourHides = 0.8, kStepHides = 0.6;

double arcmin(double radians) { return radians * 180 * 60 / std::numbers::pi; }

// Lightness and colour of an sRGB colour multiplied by its opacity: CIE 1976 L*a*b* under D65 (CIE 15, IEC 61966-2-1).
Vec3 lab(const SeenColour& seen) {
  const auto linear = [&](std::size_t k) {
    const double c = std::clamp(static_cast<double>(seen[k]) / static_cast<double>(seen[3]), 0.0, 1.0);
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
  };
  const double r = linear(0), g = linear(1), b = linear(2);
  const auto f = [](double t) { return t > 216.0 / 24389 ? std::cbrt(t) : (24389.0 / 27 * t + 16) / 116; };
  const double x = f((0.4124564 * r + 0.3575761 * g + 0.1804375 * b) / 0.95047),
               y = f(0.2126729 * r + 0.7151522 * g + 0.0721750 * b),
               z = f((0.0193339 * r + 0.1191920 * g + 0.9503041 * b) / 1.08883);
  return {116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

// Chart step of one surface metre square to the chart direction d (not 0).
Vec2 square_to(const Metric::FirstForm& form, Vec2 d) {
  const Vec2 across(-(form.F * d.x + form.G * d.y), form.E * d.x + form.F * d.y);
  return across / step_length(form, across);
}

class Looker {
 public:
  Looker(const FloorInput& input, const EyePoint& eye)
      : input_(input), eye_(eye.at), sight_(input.wall, input.others, eye.at) {
    if (input.draped) colours_.emplace(input.draped);
  }

  // Reads colours for one thread: what it read stays at hand for the next stretch.
  using Reader = std::optional<DrapedColours::Reader>;
  Reader reader() { return colours_ ? Reader(std::in_place, *colours_) : std::nullopt; }

  SeamSight look(const SeamChain& chain, const std::vector<ChainPiece>& pieces, Reader& reader) const {
    SeamSight s;
    s.one = chain.second ? std::min(chain.first, chain.second) : GiornataId{};
    s.other = chain.second ? std::max(chain.first, chain.second) : chain.first;
    s.line.push_back(to_chart(pieces.front().from));
    for (const ChainPiece& p : pieces) s.length_m += p.length_m, s.line.push_back(to_chart(p.to));
    const ChainPiece& middle = pieces[pieces.size() / 2];
    const Vec2 direction =
        s.line.back() == s.line.front() ? middle.to - middle.from : to_vec(s.line.back()) - to_vec(s.line.front());
    s.place = to_chart(0.5 * (middle.from + middle.to));
    const auto fall = fall_at(*input_.wall, s.place);
    if (!fall) return s;
    s.at = fall->position;
    const Vec3 to_eye = eye_ - s.at;
    s.distance_m = glm::length(to_eye);
    s.grazing_deg =
        std::asin(std::clamp(glm::dot(to_eye / s.distance_m, fall->normal), -1.0, 1.0)) * 180 / std::numbers::pi;
    const auto form = form_near(*input_.wall, s.place);
    const Vec2 across = square_to(form, direction);
    s.joint_arcmin = joint_angle_arcmin(eye_, s.at, in_space(s, across, fall->normal), input_.joint_mm / 1000);
    s.seen = sight_.sees(s.at, fall->normal);
    read_picture(s, across, reader);
    s.shows = shows(s);
    return s;
  }

 private:
  // The unit vector of the surface that a short chart step runs along.
  Vec3 in_space(const SeamSight& s, Vec2 step, const Vec3& normal) const {
    constexpr double kShort = 1e-3;
    const auto there = input_.wall->position(to_chart(to_vec(s.place) + kShort * step)),
               back = input_.wall->position(to_chart(to_vec(s.place) - kShort * step));
    Vec3 way = (there ? *there : s.at) - (back ? *back : s.at);
    way -= glm::dot(way, normal) * normal;
    const double length = glm::length(way);
    return length > 0 ? way / length : Vec3(1, 0, 0);
  }

  void read_picture(SeamSight& s, Vec2 across, Reader& reader) const {
    if (input_.contours && input_.contours->columns > 0) {
      const double reach = input_.contour_mm / 1000;
      // All along, so that a contour which only crosses it masks nothing.
      s.on_contour = true;
      for (std::size_t k = 0; s.on_contour && k + 1 < s.line.size(); ++k) {
        const Vec2 a = to_vec(s.line[k]), b = to_vec(s.line[k + 1]);
        const int parts = 1 + static_cast<int>(glm::distance(a, b) / kMaskStep);
        for (int n = 0; s.on_contour && n <= parts; ++n)
          s.on_contour = distance_to_contour_along(*input_.wall, *input_.contours,
                                                   to_chart(a + (b - a) * (static_cast<double>(n) / parts)), b - a,
                                                   kAlong, reach, kStrength) < reach;
      }
    }
    if (!reader) return;
    const double footprint = kBeside * glm::length(across);
    const auto one = reader->at(to_chart(to_vec(s.place) + kBeside * across), footprint),
               other = reader->at(to_chart(to_vec(s.place) - kBeside * across), footprint);
    if (one[3] < 0.5f || other[3] < 0.5f) return;
    s.step = std::min(1.0, glm::distance(lab(one), lab(other)) / 100);
  }

  // Half shows at the limit: a joint is never sure to be lost, as fine lines are seen far below it.
  double shows(const SeamSight& s) const {
    if (!s.seen) return 0;
    const double wide = s.joint_arcmin / input_.eye_arcmin;
    const double hidden = std::max(s.on_contour ? kContourHides : 0.0, kStepHides * std::min(1.0, s.step / kPlainStep));
    return wide / (1 + wide) * (1 - hidden);
  }

  const FloorInput& input_;
  Vec3 eye_;
  Sight sight_;
  std::optional<DrapedColours> colours_;
};

// Pieces of a chain gathered into stretches.
std::vector<std::vector<ChainPiece>> stretches(const Network& network, const SeamChain& chain, double stretch_m) {
  std::vector<std::vector<ChainPiece>> found;
  double length = stretch_m;
  for (const ChainPiece& p : pieces_of_chain(network, chain, stretch_m)) {
    if (length + 0.5 * p.length_m > stretch_m) found.emplace_back(), length = 0;
    found.back().push_back(p);
    length += p.length_m;
  }
  return found;
}

std::string sight_words(const WorstStretch& w) {
  std::string says = fmt::format(
      "{} m long; where it shows most {} m from the eye and seen at {}° to the wall: the joint is {} minutes of arc "
      "wide",
      format_fixed(w.length_m, 2), format_fixed(w.distance_m, 1), format_fixed(w.grazing_deg, 0),
      format_fixed(w.joint_arcmin, 2));
  says += w.step < 0.05 ? ", on even ground"
                        : fmt::format(", where the picture steps by {} %", format_fixed(100 * w.step, 0));
  if (w.masked >= 0.05) says += fmt::format("; a contour masks {} % of it", format_fixed(100 * w.masked, 0));
  const auto grade = heat_grade(w.shows);
  return says + (grade ? "; it " + std::string(heat_grades()[*grade].words) + "." : ".");
}

}  // namespace

double joint_angle_arcmin(const Vec3& eye, const Vec3& at, const Vec3& across, double width_m) {
  const Vec3 one = at + 0.5 * width_m * across - eye, other = at - 0.5 * width_m * across - eye;
  return arcmin(std::atan2(glm::length(glm::cross(one, other)), glm::dot(one, other)));
}

std::vector<SeamSight> seams_from(const FloorInput& input, const EyePoint& eye, Progress* progress) {
  const ReviewInput review{.wall = input.wall,
                           .network = input.network,
                           .giornate = {},
                           .zones = {},
                           .contours = nullptr,
                           .measure = nullptr,
                           .hours = {},
                           .plan = nullptr};
  const ReviewSettings settings;
  const Case c(review, settings);
  struct Stretch {
    const SeamChain* chain;
    std::vector<ChainPiece> pieces;
  };
  const auto chains = seam_chains(c);
  std::vector<Stretch> all;
  for (const SeamChain& chain : chains)
    for (auto& pieces : stretches(*input.network, chain, input.stretch_m)) all.push_back({&chain, std::move(pieces)});
  std::vector<SeamSight> sights(all.size());
  Looker looker(input, eye);
  report(progress, 0, "looking from the floor");
  for_blocks(all.size(), 64, [&](std::size_t begin, std::size_t end) {
    auto reader = looker.reader();
    for (std::size_t k = begin; k < end && !is_cancelled(progress); ++k)
      sights[k] = looker.look(*all[k].chain, all[k].pieces, reader);
  });
  if (is_cancelled(progress)) std::erase_if(sights, [](const SeamSight& s) { return s.line.empty(); });
  return sights;
}

double badness(const WorstStretch& w) { return w.shows * std::sqrt(std::min(w.length_m, 1.0)); }

std::vector<WorstStretch> worst_stretches(std::span<const SeamSight> sights, std::size_t most) {
  constexpr double kAlike = 0.12;  // of showing, between the most and the least in a stretch
  std::vector<WorstStretch> found;
  double masked_m = 0, least = 1;
  const auto close = [&] {
    if (!found.empty() && found.back().length_m > 0) found.back().masked = masked_m / found.back().length_m;
  };
  for (std::size_t k = 0; k < sights.size(); ++k) {
    const SeamSight& s = sights[k];
    if (s.shows <= 0) continue;
    const bool on = k > 0 && !found.empty() && sights[k - 1].shows > 0 && sights[k - 1].one == s.one &&
                    sights[k - 1].other == s.other && sights[k - 1].line.back() == s.line.front() &&
                    std::max(found.back().shows, s.shows) - std::min(least, s.shows) <= kAlike;
    if (!on) {
      close();
      masked_m = 0, least = s.shows;
      WorstStretch& w = found.emplace_back();
      w.one = s.one, w.other = s.other;
      w.line.push_back(s.line.front());
    }
    WorstStretch& w = found.back();
    w.line.insert(w.line.end(), s.line.begin() + 1, s.line.end());
    w.length_m += s.length_m;
    least = std::min(least, s.shows);
    if (s.on_contour) masked_m += s.length_m;
    if (s.shows <= w.shows) continue;
    w.shows = s.shows, w.place = s.place, w.at = s.at;
    w.distance_m = s.distance_m, w.grazing_deg = s.grazing_deg, w.joint_arcmin = s.joint_arcmin, w.step = s.step;
  }
  close();
  std::erase_if(found, [](const WorstStretch& w) { return w.length_m < kShortest; });
  std::ranges::stable_sort(found, {}, [](const WorstStretch& w) { return -badness(w); });
  if (found.size() > most) found.resize(most);
  for (WorstStretch& w : found) w.says = sight_words(w);
  return found;
}

}  // namespace pontata
