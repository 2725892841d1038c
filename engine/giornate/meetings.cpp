#include "engine/giornate/meetings.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <unordered_map>

#include "engine/base/units.h"
#include "engine/giornate/giornata.h"

namespace pontata {

namespace {

constexpr double kLeastLength = 1e-3;  // m: shorter ones are where corners do not quite meet

// A stretch of a border edge and who paints along it.
struct Owned {
  double from = 0, to = 1;
  GiornataId owner;
};
using OwnedEdges = std::vector<std::vector<Owned>>;  // by border edge, in order along it

double fraction(const Chart& chart, std::uint32_t edge, LatticePoint p) {
  const Vec2 a = to_vec(to_chart(chart.border_start(edge))), b = to_vec(to_chart(chart.border_end(edge)));
  const Vec2 along = b - a;
  return std::clamp(glm::dot(to_vec(to_chart(p)) - a, along) / glm::dot(along, along), 0.0, 1.0);
}

// Half-edges along the wall's border with the wall on their left, one list for each loop, in order.
std::vector<std::vector<HalfEdgeId>> border_cycles(const Network& network) {
  auto cycles = network.cycles(Network::kOutside);
  for (auto& cycle : cycles) {
    std::reverse(cycle.begin(), cycle.end());
    for (auto& h : cycle) h = Network::twin(h);
  }
  return cycles;
}

OwnedEdges owned_edges(const Chart& chart, const Network& network) {
  const auto count = static_cast<std::uint32_t>(chart.border_edges().size());
  OwnedEdges owned(count);
  std::unordered_map<LatticePoint, std::uint32_t> starts;
  for (std::uint32_t e = 0; e < count; ++e) starts.emplace(chart.border_start(e), e);
  for (auto& cycle : border_cycles(network)) {
    const auto first =
        std::find_if(cycle.begin(), cycle.end(), [&](HalfEdgeId h) { return starts.contains(network.origin(h)); });
    if (first == cycle.end()) continue;
    std::rotate(cycle.begin(), first, cycle.end());
    std::uint32_t edge = 0;
    double from = 0;
    for (const HalfEdgeId h : cycle) {
      if (const auto it = starts.find(network.origin(h)); it != starts.end()) edge = it->second, from = 0;
      const LatticePoint end = network.target(h);
      const double to = end == chart.border_end(edge) ? 1 : fraction(chart, edge, end);
      if (to > from) owned[edge].push_back({from, to, network.face(network.half_edge(h).face).owner});
      from = std::max(from, to);
    }
  }
  return owned;
}

double edge_length(const Chart& chart, std::uint32_t e) {
  const auto& [t, side, loop] = chart.border_edges()[e];
  const auto& corner = chart.mesh().triangles[t];
  const auto k = static_cast<std::size_t>(side);
  return glm::length(chart.mesh().points[corner[(k + 1) % 3]] - chart.mesh().points[corner[k]]);
}

using Lengths = std::map<std::pair<GiornataId, GiornataId>, double>;  // own, other: m

// Length of a meeting by the owners on both sides.
void add_meeting(const BorderMeeting& m, double length, const std::vector<Owned>& own, const std::vector<Owned>& other,
                 Lengths& lengths) {
  // Fraction along the own edge at which the place on the other one is t.
  const double run = m.other_to - m.other_from;
  const auto own_place = [&](double t) { return m.from + (m.to - m.from) * (t - m.other_from) / run; };
  for (const Owned& o : own) {
    const double from = std::max(o.from, m.from), to = std::min(o.to, m.to);
    if (!(to > from)) continue;
    double told = 0;
    for (const Owned& p : other) {
      if (run == 0) break;
      const auto [lo, hi] = std::minmax({own_place(p.from), own_place(p.to)});
      const double part = std::min(to, hi) - std::max(from, lo);
      if (part > 0) lengths[{o.owner, p.owner}] += part * length, told += part;
    }
    if (to - from > told + 1e-9) lengths[{o.owner, GiornataId{}}] += (to - from - told) * length;
  }
}

}  // namespace

std::vector<std::vector<MeetsWall>> walls_met(std::span<const WallBorder> walls, double reach_m) {
  std::vector<OwnedEdges> owned;
  for (const auto& w : walls) owned.push_back(owned_edges(*w.wall->chart, *w.network));
  std::vector<std::vector<MeetsWall>> met(walls.size());
  for (std::size_t i = 0; i < walls.size(); ++i) {
    for (std::size_t j = 0; j < walls.size(); ++j) {
      if (i == j) continue;
      Lengths lengths;
      for (const auto& m : border_meetings(*walls[i].wall, *walls[j].wall, reach_m))
        add_meeting(m, edge_length(*walls[i].wall->chart, m.edge), owned[i][m.edge], owned[j][m.other_edge], lengths);
      for (const auto& [ids, length] : lengths)
        if (length >= kLeastLength) met[i].push_back({ids.first, j, ids.second, length});
    }
    std::stable_sort(met[i].begin(), met[i].end(),
                     [](const MeetsWall& a, const MeetsWall& b) { return a.giornata < b.giornata; });
  }
  return met;
}

std::vector<WallMet> met_by_wall(std::span<const MeetsWall> met, std::optional<GiornataId> giornata) {
  std::map<std::size_t, WallMet> found;
  for (const MeetsWall& m : met) {
    if (giornata && m.giornata != *giornata) continue;
    WallMet& wall = found[m.wall];
    wall.wall = m.wall;
    wall.length_m += m.length_m;
    if (m.other) wall.giornate.push_back(m.other);
  }
  std::vector<WallMet> list;
  for (auto& [index, wall] : found) {
    std::sort(wall.giornate.begin(), wall.giornate.end());
    wall.giornate.erase(std::unique(wall.giornate.begin(), wall.giornate.end()), wall.giornate.end());
    list.push_back(std::move(wall));
  }
  return list;
}

std::string meeting_words(const std::string& wall, double length_m, std::vector<std::string> labels) {
  std::sort(labels.begin(), labels.end(), label_less);
  const std::string words = fmt::format("meets wall {} here: {} m", wall, format_fixed(length_m, 2));
  if (labels.empty()) return words;
  return fmt::format("{} ({} {})", words, labels.size() == 1 ? "giornata" : "giornate", fmt::join(labels, ", "));
}

}  // namespace pontata
