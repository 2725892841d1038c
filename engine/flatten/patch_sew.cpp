#include "engine/flatten/patch_sew.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <optional>
#include <set>
#include <tuple>

#include "engine/chart/cut_runs.h"

namespace pontata {
namespace {

class Groups {
 public:
  explicit Groups(std::size_t n) : leader_(n) { std::iota(leader_.begin(), leader_.end(), std::uint32_t{0}); }
  std::uint32_t root(std::uint32_t i) {
    while (leader_[i] != i) i = leader_[i] = leader_[leader_[i]];
    return i;
  }
  void unite(std::uint32_t a, std::uint32_t b) {
    const auto x = root(a), y = root(b);
    leader_[std::max(x, y)] = std::min(x, y);
  }

 private:
  std::vector<std::uint32_t> leader_;
};

// Which region and which of its rims each ring is.
struct Seat {
  std::uint32_t part = 0, rim = 0;
};
std::map<std::size_t, Seat> seats_of(const std::vector<std::vector<std::size_t>>& regions) {
  std::map<std::size_t, Seat> seats;
  for (std::uint32_t p = 0; p < regions.size(); ++p)
    for (std::uint32_t k = 0; k < regions[p].size(); ++k) seats[regions[p][k]] = {p, k};
  return seats;
}

// A step of a part's rim in the sewn patch.
struct Step {
  std::uint32_t part = 0, rim = 0, at = 0;  // from this position of the part's rim
  std::uint32_t from = 0, to = 0;           // points of the sewn patch
  bool gone = false;                        // sewn, or taken into a loop
};

class Sewer {
 public:
  Sewer(const Chart& chart, const std::vector<Patch>& parts, const std::vector<std::vector<std::size_t>>& regions,
        const CutMarks& marks)
      : parts_(parts), marks_(marks), seats_(seats_of(regions)), turns_(parts.size()) {
    std::uint32_t count = 0;
    for (const Patch& part : parts) {
      first_.push_back(count);
      count += static_cast<std::uint32_t>(part.points.size());
    }
    groups_ = Groups(count);
    number_runs(chart);
  }

  Patch sew() {
    unite_points();
    add_points();
    add_triangles();
    collect_steps();
    while (add_loop()) continue;
    outer_first();
    place_slits();
    return std::move(out_);
  }

 private:
  using Turn = std::vector<int>;  // how often each cut was crossed

  void number_runs(const Chart& chart) {
    const auto runs = cut_runs(chart);
    runs_ = runs.size();
    for (std::size_t r = 0; r < runs.size(); ++r)
      for (const auto e : runs[r].edges) run_of_[e] = r;
  }

  std::uint32_t vertex(const RingPoint& p) const {
    const Seat seat = seats_.at(p.ring);
    const Patch& part = parts_[seat.part];
    return first_[seat.part] + part.rims[seat.rim][part.corners[seat.rim][p.point]];
  }

  // Whether the part over the cut lies, or can be laid, one turn on; then the two may be sewn.
  bool lies_next(std::uint32_t here, std::uint32_t there, std::size_t run) {
    if (!turns_[here]) return false;
    Turn beyond = *turns_[here];
    ++beyond[run];
    if (!turns_[there]) turns_[there] = beyond;
    return *turns_[there] == beyond;
  }
  bool lies_before(std::uint32_t here, std::uint32_t there, std::size_t run) {
    if (turns_[here] || !turns_[there]) return false;
    turns_[here] = *turns_[there];
    --(*turns_[here])[run];
    return true;
  }

  void unite_points() {
    for (std::uint32_t p = 0; p < parts_.size(); ++p) {
      if (turns_[p]) continue;
      turns_[p] = Turn(runs_, 0);
      for (bool again = true; again;) {
        again = false;
        for (const RingPair& pair : marks_.pairs) {
          const auto here = seats_.at(pair.here.ring).part, there = seats_.at(pair.there.ring).part;
          const std::size_t run = run_of_.at(pair.edge);
          const bool known = turns_[here] && turns_[there];
          if (!known && (lies_next(here, there, run) || lies_before(here, there, run))) again = true;
        }
      }
    }
    for (const RingPair& pair : marks_.pairs)
      if (lies_next(seats_.at(pair.here.ring).part, seats_.at(pair.there.ring).part, run_of_.at(pair.edge)))
        groups_.unite(vertex(pair.here), vertex(pair.there));
  }

  void add_points() {
    for (std::uint32_t p = 0; p < parts_.size(); ++p)
      for (std::uint32_t v = 0; v < parts_[p].points.size(); ++v) {
        const std::uint32_t g = first_[p] + v;
        if (groups_.root(g) != g) {
          sewn_.push_back(sewn_[groups_.root(g)]);
          continue;
        }
        sewn_.push_back(static_cast<std::uint32_t>(out_.points.size()));
        out_.points.push_back(parts_[p].points[v]);
        out_.places.push_back(parts_[p].places[v]);
      }
  }

  void add_triangles() {
    for (std::uint32_t p = 0; p < parts_.size(); ++p)
      for (std::size_t t = 0; t < parts_[p].triangles.size(); ++t) {
        const Triangle& v = parts_[p].triangles[t];
        const Triangle s{sewn_[first_[p] + v[0]], sewn_[first_[p] + v[1]], sewn_[first_[p] + v[2]]};
        if (s[0] == s[1] || s[1] == s[2] || s[2] == s[0]) continue;
        out_.triangles.push_back(s);
        out_.sides.push_back(parts_[p].sides[t]);
        out_.corner_places.push_back({parts_[p].places[v[0]], parts_[p].places[v[1]], parts_[p].places[v[2]]});
      }
  }

  void collect_steps() {
    std::map<std::pair<std::uint32_t, std::uint32_t>, std::size_t> open;
    for (std::uint32_t p = 0; p < parts_.size(); ++p)
      for (std::uint32_t r = 0; r < parts_[p].rims.size(); ++r) {
        const auto& rim = parts_[p].rims[r];
        for (std::uint32_t i = 0; i < rim.size(); ++i) {
          Step step{p, r, i, sewn_[first_[p] + rim[i]], sewn_[first_[p] + rim[(i + 1) % rim.size()]]};
          const auto back = open.find({step.to, step.from});
          if (step.from == step.to) {
            step.gone = true;
          } else if (back != open.end()) {
            step.gone = steps_[back->second].gone = true;
            open.erase(back);
          } else {
            open[{step.from, step.to}] = steps_.size();
          }
          steps_.push_back(step);
        }
      }
    for (std::size_t s = 0; s < steps_.size(); ++s)
      if (!steps_[s].gone) from_.emplace(steps_[s].from, s);
  }

  bool follows(const Step& a, const Step& b) const {
    return a.part == b.part && a.rim == b.rim && (a.at + 1) % parts_[a.part].rims[a.rim].size() == b.at;
  }

  // The step that leaves where this one ends: along its own rim if that goes on, else along the other side.
  std::optional<std::size_t> next_of(std::size_t s) const {
    std::optional<std::size_t> found;
    const auto [first, last] = from_.equal_range(steps_[s].to);
    for (auto it = first; it != last; ++it) {
      if (steps_[it->second].gone) continue;
      if (follows(steps_[s], steps_[it->second])) return it->second;
      if (!found) found = it->second;
    }
    return found;
  }

  // Ring points at a position of a part's rim, in order.
  void put_corners(const Step& step, std::uint32_t at, std::uint32_t position) {
    const Patch& part = parts_[step.part];
    at %= static_cast<std::uint32_t>(part.rims[step.rim].size());
    for (std::size_t k = 0; k < part.corners[step.rim].size(); ++k)
      if (part.corners[step.rim][k] == at) {
        out_.corners.back().push_back(position);
        out_.outlines.back().push_back(part.outlines[step.rim][k]);
      }
  }

  bool add_loop() {
    const auto begin = std::find_if(steps_.begin(), steps_.end(), [](const Step& s) { return !s.gone; });
    if (begin == steps_.end()) return false;
    std::vector<std::size_t> loop;
    for (std::optional<std::size_t> s = static_cast<std::size_t>(begin - steps_.begin()); s; s = next_of(*s)) {
      steps_[*s].gone = true;
      loop.push_back(*s);
      if (steps_[*s].to == begin->from) break;
    }
    loops_.push_back(loop);
    out_.rims.emplace_back(), out_.rim_lengths.emplace_back(), out_.rim_steps.emplace_back();
    out_.corners.emplace_back(), out_.outlines.emplace_back();
    const auto size = static_cast<std::uint32_t>(loop.size());
    for (std::uint32_t i = 0; i < size; ++i) {
      const Step& step = steps_[loop[i]];
      const Patch& part = parts_[step.part];
      out_.rims.back().push_back(step.from);
      out_.rim_lengths.back().push_back(part.rim_lengths[step.rim][step.at]);
      out_.rim_steps.back().push_back(part.rim_steps[step.rim][step.at]);
      put_corners(step, step.at, i);
      if (!follows(step, steps_[loop[(i + 1) % size]])) put_corners(step, step.at + 1, (i + 1) % size);
    }
    return true;
  }

  // Where the parts' slits have come to, by their steps; one that sewing has taken apart is none any more.
  void place_slits() {
    using Seated = std::tuple<std::uint32_t, std::uint32_t, std::uint32_t>;  // part, rim, position
    std::map<Seated, std::pair<std::uint32_t, std::uint32_t>> now;
    for (std::uint32_t r = 0; r < loops_.size(); ++r)
      for (std::uint32_t i = 0; i < loops_[r].size(); ++i) {
        const Step& step = steps_[loops_[r][i]];
        now[{step.part, step.rim, step.at}] = {r, i};
      }
    for (std::uint32_t p = 0; p < parts_.size(); ++p)
      for (const SlitPlace& slit : parts_[p].slits) {
        const auto left = now.find({p, slit.rim, slit.left}), tip = now.find({p, slit.rim, slit.tip});
        const auto right = now.find({p, slit.rim, slit.right});
        if (left == now.end() || tip == now.end() || right == now.end()) continue;
        out_.slits.push_back(
            {slit.slit, left->second.first, left->second.second, tip->second.second, right->second.second});
      }
    std::sort(out_.slits.begin(), out_.slits.end(),
              [](const SlitPlace& a, const SlitPlace& b) { return a.slit < b.slit; });
  }

  void outer_first() {
    std::size_t outer = 0;
    double longest = 0;
    for (std::size_t r = 0; r < out_.rims.size(); ++r) {
      const double length = std::accumulate(out_.rim_lengths[r].begin(), out_.rim_lengths[r].end(), 0.0);
      if (length > longest) longest = length, outer = r;
    }
    std::swap(loops_[0], loops_[outer]);
    std::swap(out_.rims[0], out_.rims[outer]);
    std::swap(out_.rim_lengths[0], out_.rim_lengths[outer]);
    std::swap(out_.rim_steps[0], out_.rim_steps[outer]);
    std::swap(out_.corners[0], out_.corners[outer]);
    std::swap(out_.outlines[0], out_.outlines[outer]);
  }

  const std::vector<Patch>& parts_;
  const CutMarks& marks_;
  std::map<std::size_t, Seat> seats_;
  std::vector<std::optional<Turn>> turns_;  // of each part, from the first one it hangs together with
  std::size_t runs_ = 0;
  std::map<std::uint32_t, std::size_t> run_of_;  // by border edge
  std::vector<std::uint32_t> first_;             // number of each part's first point
  Groups groups_{0};
  std::vector<std::uint32_t> sewn_;  // points of all parts in the sewn patch
  std::vector<Step> steps_;
  std::multimap<std::uint32_t, std::size_t> from_;
  std::vector<std::vector<std::size_t>> loops_;  // steps of each of the sewn patch's rims
  Patch out_;
};

}  // namespace

Patch sew(const Chart& chart, const std::vector<Patch>& parts, const std::vector<std::vector<std::size_t>>& regions,
          const CutMarks& marks) {
  return Sewer(chart, parts, regions, marks).sew();
}

std::vector<std::vector<std::size_t>> sewn_groups(const std::vector<std::vector<std::size_t>>& regions,
                                                  const CutMarks& marks) {
  const auto seats = seats_of(regions);
  Groups groups(regions.size());
  for (const RingPair& pair : marks.pairs) groups.unite(seats.at(pair.here.ring).part, seats.at(pair.there.ring).part);
  std::map<std::uint32_t, std::vector<std::size_t>> found;
  for (std::uint32_t r = 0; r < regions.size(); ++r) found[groups.root(r)].push_back(r);
  std::vector<std::vector<std::size_t>> out;
  for (auto& [root, list] : found) out.push_back(std::move(list));
  return out;
}

}  // namespace pontata
