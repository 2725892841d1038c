// Edits of all kinds one after another in projects whose wall has 20,000 seams, each from the document the last one
// left, with all that the window and the verbs do with an edit: the edit itself, the numbers in working order, and the
// step kept for undo. A flat wall of 10 by 10 m with 400 giornate of wavy seams, the same with a cartoon printed of
// every one (numbers frozen, changes flagged), 4,900 of two seams a side, and 400 in a barrel. Prints for each kind the
// thread's processor time at the median, the 95th percentile and the slowest, ms. The aim is 5 ms at the 95th.
//   bench_edits [EDITS]
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <map>
#include <random>
#include <string>
#include <vector>

#include "engine/document/giornata_records.h"
#include "engine/document/history.h"
#include "engine/document/numbering.h"
#include "engine/document/seam_edits.h"
#include "tests/bench/busy_project.h"

namespace {

using namespace pontata;

constexpr double kSize = 10;  // m
const ShapeSpec kFlat{.kind = ShapeKind::flat, .width = kSize, .height = kSize};
const ShapeSpec kBarrel{.kind = ShapeKind::barrel, .span = 2 * kSize / M_PI, .length = kSize, .rise = kSize / M_PI};

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

struct Times {
  std::vector<double> edit, numbers, keep, all;
  int refused = 0;
};

class Sequence {
 public:
  Sequence(const ShapeSpec& shape, int cells, int steps)
      : cells_(cells), history_(busy::project(shape, [&](const EdgeMeter& meter) {
          return network_of(*build_wall(shape, {}, "bench", 0).value(), cells, steps, meter);
        })) {}

  void print() {
    std::vector<GiornataId> all;
    for (const Giornata& g : doc().giornate) all.push_back(g.id);
    history_.push(*cartoon_printed(doc(), all));
  }

  void run(const std::string& what, int edits) {
    fmt::print("{}: {} giornate, {} seams\n{:14} {:>6} {:>8}  {:^24}  {:^16} {:^16} {:^16}\n", what, cells_ * cells_,
               network().live_seams(), "", "edits", "refused", "p50, p95, most", "the edit", "numbers", "kept");
    flow_.plan(doc());
    for (int i = 0; i < edits; ++i) step(i % 14);
    Times all;
    for (const auto& [kind, times] : times_) {
      report(kind, times);
      all.refused += times.refused;
      for (const auto part : {&Times::edit, &Times::numbers, &Times::keep, &Times::all})
        (all.*part).insert((all.*part).end(), (times.*part).begin(), (times.*part).end());
    }
    report("all", all);
    fmt::print("afterwards {} seams, {} faults\n\n", network().live_seams(), network().check().size());
  }

 private:
  static Network network_of(const ChartedWall& wall, int cells, int steps, const EdgeMeter& meter) {
    Network network = Network::from_border(wall.chart->border_rings(), meter).value();
    const double side = kSize / cells;
    std::uint32_t next = 1;
    for (int j = 0; j < cells; ++j)
      for (int i = 0; i < cells; ++i)
        network = insert_outline(network, cell(i, j, side, steps, 0.06 * side), {next++}, meter)->network;
    return network;
  }

  const Document& doc() const { return *history_.current(); }
  const Network& network() const { return doc().walls[0]->network; }
  WallId wall() const { return doc().walls[0]->id; }
  double uniform(double lo, double hi) { return std::uniform_real_distribution<double>(lo, hi)(rng_); }
  double cell_side() const { return kSize / cells_; }
  ChartPoint anywhere() { return {uniform(0.5, kSize - 0.5), uniform(0.5, kSize - 0.5)}; }

  // A giornata anywhere and a place inside it.
  std::pair<GiornataId, ChartPoint> some() {
    for (;;) {
      const auto face = network().face_at(to_lattice(anywhere()));
      if (face && network().face(*face).owner) return {network().face(*face).owner, network().place_inside(*face)};
    }
  }
  // A place on a seam that is no border.
  ChartPoint on_some_seam() {
    const auto [id, at] = some();
    for (const FaceId f : network().faces_of(id))
      for (const HalfEdgeId h : network().cycle(network().face(f).outer)) {
        if (network().on_border(Network::seam_of(h))) continue;
        const ChartPoint a = to_chart(network().origin(h)), b = to_chart(network().target(h));
        return {(a.u + b.u) / 2, (a.v + b.v) / 2};
      }
    return at;
  }
  static std::vector<ChartPoint> round(ChartPoint c, double radius, int corners) {
    std::vector<ChartPoint> ring;
    for (int i = 0; i < corners; ++i) {
      const double angle = 2 * M_PI * i / corners + 0.1;
      ring.push_back({c.u + radius * std::cos(angle), c.v + radius * std::sin(angle)});
    }
    return ring;
  }

  // What the window does with an edit.
  template <class F>
  bool timed(const std::string& kind, F&& edit) {
    Times& times = times_[kind];
    const double begin = thread_ms();
    auto made = edit();
    const double edited = thread_ms();
    if (!made) {
      ++times.refused;
      return false;
    }
    Edited one = std::move(*made);
    number_in_order(doc(), one, flow_);
    const double numbered = thread_ms();
    history_.push(std::move(one));
    const double kept = thread_ms();
    times.edit.push_back(edited - begin);
    times.numbers.push_back(numbered - edited);
    times.keep.push_back(kept - numbered);
    times.all.push_back(kept - begin);
    return true;
  }

  void step(int kind) {
    switch (kind) {
      case 0:
        return outline();
      case 1:
        return divide_and_join(true);
      case 2:
        return divide_and_join(false);
      case 3:
      case 4:
        return bite();
      case 5:
        return enlarge();
      case 6:
      case 7:
        return push();
      case 8:
        return draw_anew();
      case 9:
        return node();
      case 10:
        return zone();
      default:
        return record(kind);
    }
  }

  void outline() {
    const auto [id, at] = some();
    timed("remove", [&, g = id] { return remove_giornata(doc(), g); });
    timed("outline", [&, p = at] { return draw_outline(doc(), wall(), round(p, cell_side(), 100), false, ""); });
  }

  void divide_and_join(bool rejoin) {
    const auto [id, at] = some();
    const double angle = uniform(0, 6), du = cell_side() * std::cos(angle), dv = cell_side() * std::sin(angle);
    const std::vector<ChartPoint> line{{at.u - du, at.v - dv}, at, {at.u + du, at.v + dv}};
    const GiornataId made{static_cast<std::uint32_t>(doc().giornate.size()) + 1};
    if (timed("divide", [&, g = id] { return divide(doc(), g, line, false); }) && rejoin)
      timed("join", [&, g = id] { return join(doc(), g, made); });
  }

  void bite() {
    const auto ring = round(on_some_seam(), cell_side() * uniform(0.1, 0.4), 60);
    timed("take a bite", [&] { return draw_over(doc(), wall(), ring, false); });
  }

  void enlarge() {
    const ChartPoint p = on_some_seam();
    const GiornataId id = network().owner_at(to_lattice({p.u + 0.01 * cell_side(), p.v}));
    BiteChoice choice;
    choice.into = id;
    if (id) timed("add to", [&] { return draw_over(doc(), wall(), round(p, cell_side() * 0.2, 60), false, choice); });
  }

  void push() {
    const ChartPoint p = on_some_seam();
    const double angle = uniform(0, 6), by = 0.1 * cell_side();
    timed("nudge", [&] {
      return nudge(doc(), wall(), p, {by * std::cos(angle), by * std::sin(angle)}, 0.3 * cell_side());
    });
  }

  // A stretch of some rim, drawn anew a little beside it.
  void draw_anew() {
    const auto [id, at] = some();
    const Ring rim = network().rings(network().faces_of(id)[0])[0];
    if (rim.size() < 8) return;
    const ChartPoint a = to_chart(rim[1]), b = to_chart(rim[2 + rim.size() / 6]);
    const ChartPoint middle{(a.u + b.u) / 2 + 0.05 * (b.v - a.v), (a.v + b.v) / 2 - 0.05 * (b.u - a.u)};
    timed("redraw", [&] { return redraw(doc(), wall(), {a, middle, b}, false); });
  }

  void node() {
    const auto [id, at] = some();
    const auto v = network().half_edge(network().face(network().faces_of(id)[0]).outer).origin;
    const ChartPoint p = to_chart(network().vertex(v).place);
    timed("move a node", [&] {
      return move_node(doc(), wall(), p, {p.u + 0.02 * cell_side(), p.v + 0.01 * cell_side()});
    });
    const ChartPoint q = on_some_seam();
    if (timed("add a node", [&] { return add_node(doc(), wall(), q); }))
      timed("remove a node", [&] { return remove_node(doc(), wall(), q); });
  }

  void zone() {
    const auto [id, at] = some();
    const ZoneId made{doc().next_zone};
    timed("zone",
          [&, p = at] { return add_zone(doc(), wall(), ZoneKind::detail, round(p, cell_side(), 40), "", 0.2); });
    ZoneChange change;
    change.points = round({at.u + 0.01, at.v}, cell_side(), 40);
    timed("change a zone", [&] { return change_zone(doc(), made, change); });
    record(13);  // hours in it are asked for here
    timed("remove a zone", [&] { return remove_zone(doc(), made); });
  }

  void record(int kind) {
    std::vector<GiornataId> ids;
    for (int i = 0; i < 5; ++i) ids.push_back(some().first);
    if (kind == 11) timed("mortar of 5", [&] { return set_intonaco(doc(), ids, uniform(3, 9)); });
    if (kind == 12) timed("note", [&] { return set_note(doc(), ids[0], "A remark of some words."); });
    if (kind == 13) timed("state of 5", [&] { return set_state(doc(), ids, GiornataState::ready); });
  }

  static double at(std::vector<double>& sorted, double share) {
    std::sort(sorted.begin(), sorted.end());
    return sorted.empty() ? 0 : sorted[static_cast<std::size_t>(share * static_cast<double>(sorted.size() - 1))];
  }
  static void report(const std::string& kind, Times t) {
    fmt::print("{:14} {:6} {:8}  {:7.2f} {:7.2f} {:7.2f}   {:7.2f} {:7.2f}  {:7.2f} {:7.2f}  {:7.2f} {:7.2f}\n", kind,
               t.all.size(), t.refused, at(t.all, 0.5), at(t.all, 0.95), at(t.all, 1), at(t.edit, 0.5),
               at(t.edit, 0.95), at(t.numbers, 0.5), at(t.numbers, 0.95), at(t.keep, 0.5), at(t.keep, 0.95));
  }

  std::mt19937_64 rng_{7};
  int cells_;
  History history_;
  Flow flow_;
  std::map<std::string, Times> times_;
};

}  // namespace

int main(int count, char** arguments) {
  const int edits = count > 1 ? std::stoi(arguments[1]) : 1000;
  Sequence(kFlat, 20, 24).run("flat", edits);
  Sequence printed(kFlat, 20, 24);
  printed.print();
  printed.run("flat, printed", edits);
  Sequence(kFlat, 70, 2).run("flat, small giornate", edits);
  Sequence(kBarrel, 20, 24).run("barrel", edits);
  return 0;
}
