// Edits of all kinds one after another in networks of 20,000 seams, each from the network the last one left: a wall of
// 10 by 10 m with 400 giornate of wavy seams, or with 4,900 of two seams a side. Prints for each kind the thread's
// processor time at the median, the 95th percentile and the slowest, ms. The aim is 5 ms at the 95th.
//   bench_edits [EDITS]
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <map>
#include <random>
#include <string>
#include <vector>

#include "engine/chart/charted_wall.h"
#include "engine/seams/bite.h"
#include "engine/seams/outline_edit.h"
#include "engine/seams/seam_moves.h"

namespace {

using namespace pontata;

constexpr double kSize = 10;  // m

double thread_ms() {
  timespec t{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) * 1e3 + static_cast<double>(t.tv_nsec) * 1e-6;
}

// Wavy inside, straight on the border; neighbours compute the same points.
LatticePoint place(double u, double v, double wave) {
  const double w = wave * std::sin(9 * u + 7 * v);
  return to_lattice({u + w * std::sin(M_PI * u / kSize), v + w * std::sin(M_PI * v / kSize)});
}

Ring cell(int i, int j, double side, int steps, double wave) {
  const double u = i * side, v = j * side;
  Ring ring;
  for (int k = 0; k < steps; ++k) ring.push_back(place(u + side * k / steps, v, wave));
  for (int k = 0; k < steps; ++k) ring.push_back(place(u + side, v + side * k / steps, wave));
  for (int k = 0; k < steps; ++k) ring.push_back(place(u + side - side * k / steps, v + side, wave));
  for (int k = 0; k < steps; ++k) ring.push_back(place(u, v + side - side * k / steps, wave));
  return ring;
}

class Sequence {
 public:
  Sequence(int cells, int steps) : rng_(7), cells_(cells) {
    wall_ = build_wall({.kind = ShapeKind::flat, .width = kSize, .height = kSize}, {}, "bench", 0).value();
    meter_ = wall_->metric->meter();
    network_ = Network::from_border(wall_->chart->border_rings(), meter_).value();
    const double side = kSize / cells;
    for (int j = 0; j < cells; ++j)
      for (int i = 0; i < cells; ++i)
        network_ = insert_outline(network_, cell(i, j, side, steps, 0.06 * side), {next_++}, meter_)->network;
  }

  void run(int edits) {
    fmt::print("{} giornate, {} seams\n", cells_ * cells_, network_.live_seams());
    for (int i = 0; i < edits; ++i) step(i % 10);
    std::vector<double> all;
    for (auto& [kind, times] : times_) {
      report(kind, times, refused_[kind]);
      all.insert(all.end(), times.begin(), times.end());
    }
    report("all", all, 0);
    fmt::print("afterwards {} seams, {} faults\n\n", network_.live_seams(), network_.check().size());
  }

 private:
  double uniform(double lo, double hi) { return std::uniform_real_distribution<double>(lo, hi)(rng_); }
  double cell_side() const { return kSize / cells_; }
  ChartPoint anywhere() { return {uniform(0.5, kSize - 0.5), uniform(0.5, kSize - 0.5)}; }

  // A giornata anywhere and a place inside it.
  std::pair<GiornataId, ChartPoint> some() {
    for (;;) {
      const auto face = network_.face_at(to_lattice(anywhere()));
      if (face && network_.face(*face).owner) return {network_.face(*face).owner, network_.place_inside(*face)};
    }
  }
  // A place on a seam that is no border.
  ChartPoint on_some_seam() {
    const auto [id, at] = some();
    for (const FaceId f : network_.faces_of(id))
      for (const HalfEdgeId h : network_.cycle(network_.face(f).outer)) {
        if (network_.on_border(Network::seam_of(h))) continue;
        const ChartPoint a = to_chart(network_.origin(h)), b = to_chart(network_.target(h));
        return {(a.u + b.u) / 2, (a.v + b.v) / 2};
      }
    return at;
  }
  static Ring round(ChartPoint c, double radius, int corners) {
    Ring ring;
    for (int i = 0; i < corners; ++i) {
      const double angle = 2 * M_PI * i / corners + 0.1;
      ring.push_back(to_lattice({c.u + radius * std::cos(angle), c.v + radius * std::sin(angle)}));
    }
    return ring;
  }

  template <class F>
  bool timed(const std::string& kind, F&& edit) {
    const double begin = thread_ms();
    auto made = edit();
    times_[kind].push_back(thread_ms() - begin);
    if (!made) {
      ++refused_[kind];
      return false;
    }
    if constexpr (std::is_same_v<std::decay_t<decltype(*made)>, Network>)
      network_ = std::move(*made);
    else
      network_ = std::move(made->network);
    return true;
  }

  void step(int kind) {
    const double side = cell_side();
    const auto next_id = [&] { return GiornataId{next_++}; };
    if (kind == 0) {
      const auto [id, at] = some();
      timed("remove", [&, g = id] { return remove_giornata(network_, g, meter_); });
      const Ring ring = round(at, side, 100);
      timed("outline", [&] { return insert_outline(network_, ring, {next_++}, meter_); });
    } else if (kind == 1 || kind == 2) {
      const auto [id, at] = some();
      const double angle = uniform(0, 6), du = side * std::cos(angle), dv = side * std::sin(angle);
      const std::vector<LatticePoint> line{to_lattice({at.u - du, at.v - dv}), to_lattice(at),
                                           to_lattice({at.u + du, at.v + dv})};
      const GiornataId made{next_++};
      if (timed("divide", [&, g = id] { return divide_giornata(network_, g, line, made, meter_); }) && kind == 1)
        timed("join", [&, g = id] { return join_giornate(network_, g, made, meter_); });
    } else if (kind == 3 || kind == 4) {
      const Ring ring = round(on_some_seam(), side * uniform(0.1, 0.4), 60);
      const GiornataId made{next_++};
      timed("take a bite", [&] { return take_bite(network_, std::span(&ring, 1), made, next_id, meter_); });
    } else if (kind == 5) {
      const ChartPoint p = on_some_seam();
      const Ring ring = round(p, side * 0.2, 60);
      const GiornataId id = network_.owner_at(to_lattice({p.u + 0.01 * side, p.v}));
      if (id) timed("add to", [&] { return take_bite(network_, std::span(&ring, 1), id, next_id, meter_); });
    } else if (kind == 6 || kind == 7) {
      const ChartPoint p = on_some_seam();
      const double angle = uniform(0, 6), by = 0.1 * side;
      timed("nudge", [&] {
        return nudge_seam(*wall_, network_, p, {by * std::cos(angle), by * std::sin(angle)}, 0.3 * side);
      });
    } else if (kind == 8) {
      redraw();
    } else {
      const auto [id, at] = some();
      const auto v = network_.half_edge(network_.face(network_.faces_of(id)[0]).outer).origin;
      const ChartPoint p = to_chart(network_.vertex(v).place);
      timed("move a node", [&] { return move_node(*wall_, network_, p, {p.u + 0.02 * side, p.v + 0.01 * side}); });
    }
  }

  // A stretch of some rim, drawn anew a little beside it.
  void redraw() {
    const auto [id, at] = some();
    const Ring rim = network_.rings(network_.faces_of(id)[0])[0];
    if (rim.size() < 8) return;
    const ChartPoint a = to_chart(rim[1]), b = to_chart(rim[2 + rim.size() / 6]);
    const ChartPoint middle{(a.u + b.u) / 2 + 0.05 * (b.v - a.v), (a.v + b.v) / 2 - 0.05 * (b.u - a.u)};
    timed("redraw", [&] { return redraw_seam(*wall_, network_, {a, middle, b}); });
  }

  static void report(const std::string& kind, std::vector<double> times, int refused) {
    std::sort(times.begin(), times.end());
    const auto at = [&](double share) {
      return times[static_cast<std::size_t>(share * static_cast<double>(times.size() - 1))];
    };
    fmt::print("{:12} {:5} edits, {:3} refused: p50 {:7.3f}  p95 {:7.3f}  most {:7.3f} ms\n", kind, times.size(),
               refused, at(0.5), at(0.95), times.back());
  }

  std::mt19937_64 rng_;
  int cells_;
  WallRef wall_;
  EdgeMeter meter_;
  Network network_;
  std::uint32_t next_ = 1;
  std::map<std::string, std::vector<double>> times_;
  std::map<std::string, int> refused_;
};

}  // namespace

int main(int count, char** arguments) {
  const int edits = count > 1 ? std::stoi(arguments[1]) : 1000;
  Sequence(20, 24).run(edits);
  Sequence(70, 2).run(edits);
  return 0;
}
