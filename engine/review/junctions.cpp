// Where seams meet: four giornate in a point, and seams that run on in line past others.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "engine/base/units.h"
#include "engine/picture/metric_grid.h"
#include "engine/review/seam_walk.h"

namespace pontata {

namespace {

using Owners = std::set<GiornataId>;

// Giornate round a vertex.
Owners owners_at(const Network& n, VertexId v) {
  Owners owners;
  const HalfEdgeId first = n.vertex(v).out;
  HalfEdgeId h = first;
  do {
    if (const FaceId f = n.half_edge(h).face; f != Network::kOutside && n.face(f).owner) owners.insert(n.face(f).owner);
    h = n.turn(h);
  } while (h != first);
  return owners;
}

struct Junction {
  Vec2 at{0, 0};
  Owners owners;
};

std::vector<Junction> junctions(const Network& n) {
  std::vector<Junction> found;
  for (std::uint32_t v = 0; v < n.vertex_slots(); ++v) {
    if (!n.alive(VertexId{v})) continue;
    Owners owners = owners_at(n, VertexId{v});
    if (owners.size() >= 3) found.push_back({to_vec(to_chart(n.vertex(VertexId{v}).place)), std::move(owners)});
  }
  std::ranges::sort(found, {}, [](const Junction& j) { return j.at.x; });
  return found;
}

std::string names_of(const Case& c, const Owners& owners) {
  std::string text;
  std::size_t k = 0;
  for (const GiornataId id : owners) {
    const std::string name = c.name(id);
    text += (k == 0 ? "" : k + 1 == owners.size() ? " and " : ", ") + name.substr(name.find(' ') + 1);
    ++k;
  }
  return text;
}

}  // namespace

void find_four_meets(const Case& c, Findings& out) {
  auto all = junctions(c.network());
  const double reach = c.settings.meeting_mm / 1000;
  const double stretch = std::max(1e-6, c.wall().chart->stretch().least);
  std::vector<char> used(all.size(), 0);
  for (std::size_t k = 0; k < all.size(); ++k) {
    if (used[k]) continue;
    Owners owners = all[k].owners;
    std::vector<std::size_t> near{k};
    for (std::size_t i = k + 1; i < all.size() && (all[i].at.x - all[k].at.x) * stretch <= reach; ++i)
      if (step_length(form_near(c.wall(), to_chart(all[k].at)), all[i].at - all[k].at) <= reach) {
        owners.insert(all[i].owners.begin(), all[i].owners.end());
        near.push_back(i);
      }
    if (owners.size() < 4) continue;
    for (const std::size_t i : near) used[i] = 1;
    Finding f = c.at("four-meet", Severity::warn, {owners.begin(), owners.end()}, to_chart(all[k].at));
    f.value = static_cast<double>(owners.size());
    f.limit = 3;
    f.says = fmt::format("Giornate {} meet within {} mm of one point: their corners dry and break there.",
                         names_of(c, owners), format_fixed(c.settings.meeting_mm, 0));
    f.remedy = "Shift one of the seams along the other by a hand's breadth or more.";
    out.push_back(std::move(f));
  }
}

namespace {

constexpr double kStep = 0.05;  // m of seam whose direction counts as one

// A chain run from one of its ends.
struct Run {
  std::size_t chain = 0;
  bool forth = true;
};

class Lines {
 public:
  explicit Lines(const Case& c) : c_(c), chains_(seam_chains(c)) {
    for (std::size_t k = 0; k < chains_.size(); ++k) {
      lines_.push_back(measured_line(c.network(), chains_[k]));
      const MeasuredLine& line = lines_.back();
      if (line.at.front() == line.at.back()) continue;  // an island's rim
      from_[key(line.at.front())].push_back({k, true});
      from_[key(line.at.back())].push_back({k, false});
    }
  }

  struct Straight {
    double length = 0;
    std::vector<std::pair<double, double>> passed;  // junctions
    std::vector<std::vector<ChartPoint>> stretches;
    Owners beside;
    Vec2 middle{0, 0};
  };

  // From every junction where a seam runs on in line, as far as it does both ways.
  std::vector<Straight> straights() const {
    std::vector<Straight> found;
    std::set<std::pair<double, double>> covered;
    for (const auto& [place, runs] : from_) {
      if (runs.size() < 3) continue;  // an end on the wall's border, or a seam that only changes sides
      for (std::size_t a = 0; a < runs.size(); ++a)
        for (std::size_t b = a + 1; b < runs.size(); ++b) {
          if (covered.contains(place) || std::abs(turn_between(runs[a], runs[b])) > limit()) continue;
          Straight line;
          line.passed.push_back(place);
          line.middle = {place.first, place.second};
          follow(runs[a], line);
          follow(runs[b], line);
          if (line.length <= c_.settings.line_m ||
              line.passed.size() < static_cast<std::size_t>(c_.settings.line_meetings))
            continue;
          covered.insert(line.passed.begin(), line.passed.end());
          found.push_back(std::move(line));
        }
    }
    return found;
  }

 private:
  static std::pair<double, double> key(Vec2 p) { return {p.x, p.y}; }
  double limit() const { return c_.settings.line_deg * std::numbers::pi / 180; }
  // Place so many metres from the end that the run begins at.
  Vec2 on(const Run& run, double m) const {
    const MeasuredLine& line = lines_[run.chain];
    return line.place(run.forth ? m : line.total() - m);
  }
  Vec2 leaving(const Run& run) const { return on(run, std::min(kStep, lines_[run.chain].total())) - on(run, 0); }
  // From coming in along one run to going out along another; 0: straight on.
  double turn_between(const Run& in, const Run& out) const {
    return turn_at(c_.wall(), on(in, 0), -leaving(in), leaving(out));
  }

  void follow(Run run, Straight& line) const {
    double turned = 0;
    for (int k = 0; k < 1000; ++k) {
      const double gone = straight_for(run, turned);
      const MeasuredLine& m = lines_[run.chain];
      line.length += gone;
      line.stretches.push_back(run.forth ? m.stretch(0, gone) : m.stretch(m.total() - gone, m.total()));
      if (chains_[run.chain].first) line.beside.insert(chains_[run.chain].first);
      if (chains_[run.chain].second) line.beside.insert(chains_[run.chain].second);
      if (gone < m.total()) return;
      const Run back{run.chain, !run.forth};
      const auto end = key(on(back, 0));
      if (std::ranges::find(line.passed, end) != line.passed.end()) return;
      const auto next = best_on(back, from_.at(end), turned);
      if (!next) return;
      if (from_.at(end).size() >= 3) line.passed.push_back(end);
      run = *next;
    }
  }
  // The run that goes on straightest from where `back` comes in.
  std::optional<Run> best_on(const Run& back, const std::vector<Run>& runs, double& turned) const {
    std::optional<Run> best;
    double least = limit();
    for (const Run& r : runs) {
      if (r.chain == back.chain) continue;
      const double turn = turn_between(back, r);
      if (std::abs(turn) <= least && std::abs(turned + turn) <= limit()) least = std::abs(turn), best = r;
    }
    if (best) turned += turn_between(back, *best);
    return best;
  }
  // Metres that a run goes before it has turned more than allowed.
  double straight_for(const Run& run, double& turned) const {
    const double total = lines_[run.chain].total();
    Vec2 before = leaving(run);
    for (double m = kStep; m + 0.5 * kStep < total; m += kStep) {
      const Vec2 way = on(run, std::min(m + kStep, total)) - on(run, m);
      turned += turn_at(c_.wall(), on(run, m), before, way);
      if (std::abs(turned) > limit()) return m;
      before = way;
    }
    return total;
  }

  const Case& c_;
  std::vector<SeamChain> chains_;
  std::vector<MeasuredLine> lines_;
  std::map<std::pair<double, double>, std::vector<Run>> from_;
};

}  // namespace

void find_in_line(const Case& c, Findings& out) {
  for (const auto& line : Lines(c).straights()) {
    Finding f = c.at("in-line", Severity::warn, {line.beside.begin(), line.beside.end()}, to_chart(line.middle));
    f.value = line.length;
    f.limit = c.settings.line_m;
    f.stretches = line.stretches;
    f.says = fmt::format(
        "Seams of giornate {} run on in one line for {} m, past {} others: the eye reads it as one long crack.",
        names_of(c, line.beside), format_fixed(line.length, 2), line.passed.size());
    f.remedy = "Stagger the seams where others meet them, or lead some along contours.";
    out.push_back(std::move(f));
  }
}

}  // namespace pontata
