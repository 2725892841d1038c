#include "engine/cartoon/pattern_marks.h"

#include <algorithm>
#include <cmath>

namespace pontata {
namespace {

// A place on a rim: `share` of the way from a position to the next.
struct RimPlace {
  std::size_t position = 0;
  double share = 0;
};

class Rim {
 public:
  Rim(const Pattern& p, std::size_t rim, const RimSides& sides)
      : p_(p), rim_(rim), points_(p.patch.rims[rim]), steps_(steps_of_rim(p.patch, rim, sides)) {}

  std::size_t size() const { return points_.size(); }
  const RimStep& step(std::size_t i) const { return steps_[i % size()]; }
  std::pair<LatticePoint, LatticePoint> places(std::size_t i) const { return p_.patch.rim_steps[rim_][i % size()]; }
  Vec2 flat(std::size_t i) const { return 1000.0 * p_.flat.flat[points_[i % size()]]; }  // mm
  double longer(std::size_t i) const {                                                   // mm, printed less surface
    return glm::distance(flat(i), flat(i + 1)) - 1000 * p_.patch.rim_lengths[rim_][i % size()];
  }
  MatchMark mark(RimPlace at, std::string name, bool on_cut) const {
    const Vec2 a = flat(at.position), b = flat(at.position + 1), d = b - a;
    const double length = glm::length(d);
    MatchMark m;
    m.name = std::move(name);
    m.at = a + at.share * d;
    m.inward = length > 0 ? Vec2{-d.y, d.x} / length : Vec2{0, 1};
    m.on_cut = on_cut;
    return m;
  }

 private:
  const Pattern& p_;
  std::size_t rim_;
  const std::vector<std::uint32_t>& points_;
  std::vector<RimStep> steps_;
};

// Seam marks that lie on a step of the rim.
template <class Found>
void each_seam_mark(const Rim& rim, std::size_t i, const SeamMarks& seams, Found&& found) {
  const RimStep& step = rim.step(i);
  if (step.lip || !step.seam) return;
  const auto [h, from, to] = *step.seam;
  for (const SeamMarks::Mark& m : seams.on(h)) {
    const bool last = to > 1 - 1e-12 && m.share > 1 - 1e-12;
    if (to > from && m.share >= from && (m.share < to || last))
      found(RimPlace{i, std::min((m.share - from) / (to - from), 1.0)}, m.number);
  }
}

// The places over a cut of the chart that are the same as a mouth, where there are any.
std::map<LatticePoint, std::string> over_cuts(const Chart& chart, const MouthNames& mouths) {
  std::map<LatticePoint, std::string> out;
  if (!chart.has_cuts()) return out;
  for (const auto& [mouth, name] : mouths) {
    const auto near = chart.nearest_border(to_chart(mouth));
    const LatticePoint a = chart.border_start(near.edge), b = chart.border_end(near.edge);
    if (!share_on(a, b, mouth)) continue;
    const auto other = chart.other_side(near);
    if (!other) continue;
    const ChartPoint c = to_chart(chart.border_start(other->edge)), d = to_chart(chart.border_end(other->edge));
    out[to_lattice({c.u + other->along * (d.u - c.u), c.v + other->along * (d.v - c.v)})] = name;
  }
  return out;
}

void add_mouths(Pattern& p, const Rim& rim, std::size_t i, const MouthNames& mouths, const MouthNames& over) {
  const auto [from, to] = rim.places(i);
  if (const auto here = mouths.find(from); here != mouths.end()) {
    p.marks.push_back(rim.mark({i, 0}, here->second, false));
  } else {
    for (const auto& [place, name] : over)
      if (const auto share = share_on(from, to, place); share && *share < 1)
        p.marks.push_back(rim.mark({i, *share}, name, false));
  }
  // The mouth of a cut that begins where this step ends, on its left lip.
  if (!rim.step(i + 1).lip) return;
  if (const auto here = mouths.find(to); here != mouths.end()) p.marks.push_back(rim.mark({i, 1}, here->second, false));
}

// Mouths of opened slits are no points of the rim any more: named at either end.
std::string mouth_name(const MouthNames& mouths, const PatternCut& cut, const CartoonGiornata& g) {
  const std::string name = cut.name + label_of(g);
  for (const auto& [mouth, known] : mouths)
    if (known == name) return name;
  return {};
}

// At most 100 mm apart along both lips, the same fractions of each.
void add_lip_marks(Pattern& p) {
  constexpr double kEvery = 100;  // mm
  for (const PatternCut& cut : p.cuts) {
    const auto length = [](const std::vector<Vec2>& line) {
      double sum = 0;
      for (std::size_t i = 1; i < line.size(); ++i) sum += glm::distance(line[i - 1], line[i]);
      return sum;
    };
    const int n = std::max(1, static_cast<int>(length(cut.left) / kEvery));
    for (int k = 1; k <= n; ++k)
      for (const bool left : {true, false}) {
        // Lips are divided alike: the same index is the same place.
        const auto& lip = left ? cut.left : cut.right;
        const double at = static_cast<double>(lip.size() - 1) * k / (n + 1);
        const auto i = std::min(static_cast<std::size_t>(at), lip.size() - 2);
        const Vec2 d = lip[i + 1] - lip[i];
        const double size = glm::length(d);
        MatchMark m;
        m.name = cut.name + "." + std::to_string(k);
        m.at = lip[i] + (at - static_cast<double>(i)) * d;
        m.inward = size > 0 ? (left ? Vec2{-d.y, d.x} : Vec2{d.y, -d.x}) / size : Vec2{0, 1};
        m.on_cut = true;
        p.marks.push_back(std::move(m));
      }
  }
}

}  // namespace

void add_marks(Pattern& p, const RimSides& sides, const SeamMarks& seams, const MouthNames& mouths) {
  const MouthNames over = over_cuts(*p.wall->wall->chart, mouths);
  for (std::size_t r = 0; r < p.patch.rims.size(); ++r) {
    const Rim rim(p, r, sides);
    for (std::size_t i = 0; i < rim.size(); ++i) {
      if (rim.step(i).lip) continue;
      add_mouths(p, rim, i, mouths, over);
      each_seam_mark(rim, i, seams,
                     [&](RimPlace at, int number) { p.marks.push_back(rim.mark(at, std::to_string(number), false)); });
    }
  }
  for (std::size_t c = 0; c < p.cuts.size(); ++c) {
    const SlitPlace& at = p.patch.slits[c];
    const Rim rim(p, at.rim, sides);
    if (rim.places(at.right).first == rim.places(at.left + rim.size() - 1).second) continue;  // a plain cut
    const std::string name = mouth_name(mouths, p.cuts[c], *p.giornata);
    if (name.empty()) continue;
    p.marks.push_back(rim.mark({(at.left + rim.size() - 1) % rim.size(), 1}, name, false));
    p.marks.push_back(rim.mark({at.right, 0}, name, false));
  }
  add_lip_marks(p);
}

double misfit_between_marks(const Pattern& p, const RimSides& sides, const SeamMarks& seams) {
  double worst = 0;
  for (std::size_t r = 0; r < p.patch.rims.size(); ++r) {
    const Rim rim(p, r, sides);
    const std::size_t n = rim.size();
    const auto ends = [&](std::size_t i) {  // a stretch begins at position i
      const RimStep &before = rim.step(i + n - 1), &after = rim.step(i);
      return before.lip != after.lip || (!after.lip && !(before.side == after.side));
    };
    std::size_t first = 0;
    while (first < n && !ends(first)) ++first;
    double difference = 0;
    const auto close = [&] { worst = std::max(worst, std::abs(difference)), difference = 0; };
    for (std::size_t k = 0; k < n; ++k) {
      const std::size_t i = (first + k) % n;
      if (ends(i)) close();
      if (rim.step(i).lip) continue;
      double done = 0;
      each_seam_mark(rim, i, seams, [&](RimPlace at, int) {
        difference += (at.share - done) * rim.longer(i), done = at.share;
        close();
      });
      difference += (1 - done) * rim.longer(i);
    }
    close();
  }
  return worst;
}

}  // namespace pontata
