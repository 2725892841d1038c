// The tree of least costs from an anchor over the cells of a region, grown only as far as it is asked.
//
// Based on: Dijkstra, "A note on two problems in connexion with graphs", 1959; Dial, "Algorithm 360: Shortest-path
// forest with topological ordering", 1969 (buckets in place of a heap).
#pragma once

#include <algorithm>
#include <bitset>
#include <cmath>
#include <optional>
#include <span>
#include <unordered_map>
#include <vector>

#include "engine/base/progress.h"
#include "engine/seams/hug_cost.h"

namespace pontata {

// Places within `half_width` surface metres of the stroke from a to b; `open`: b's side goes on for ever.
struct HugRegion {
  Vec2 a{0, 0}, b{0, 0};
  double half_width = 0;
  bool open = false;
};
// Surface distance from p to the region's stroke under the form near p.
double distance_to_stroke(const HugRegion& region, const Metric::FirstForm& form, Vec2 p);

// A set of cells, held by tiles.
class HugCells {
 public:
  explicit HugCells(const HugCost& cost) : cost_(&cost) {}  // only read for the layout of its cells
  void add(HugCell c) { tiles_[cost_->tile_number(c)].set(HugCost::index_in_tile(c)); }
  void drop(HugCell c) { tiles_[cost_->tile_number(c)].reset(HugCost::index_in_tile(c)); }
  // Cells within `reach` columns and rows of c.
  void add_round(HugCell c, int reach);
  bool has(std::size_t tile, HugCell c) const {
    const auto it = tiles_.find(tile);
    return it != tiles_.end() && it->second.test(HugCost::index_in_tile(c));
  }
  const HugCost& cost() const { return *cost_; }

 private:
  const HugCost* cost_;
  std::unordered_map<std::size_t, std::bitset<HugTile::kCells>> tiles_;
};

// Calls each(cell) for the cells that a line runs through, corners filled so that no way slips through between two of
// them. A cell may come more than once; nothing of a line of less than two points.
template <class Each>
void each_cell_along(const HugCost& cost, std::span<const Vec2> line, const Each& each) {
  for (std::size_t k = 0; k + 1 < line.size(); ++k) {
    const Vec2 d = line[k + 1] - line[k];
    const int parts = std::max(1, static_cast<int>(std::ceil(glm::length(d) / (0.3 * cost.cell()))));
    HugCell last = cost.cell_of(line[k]);
    for (int s = 0; s <= parts; ++s) {
      const HugCell c = cost.cell_of(line[k] + d * (static_cast<double>(s) / parts));
      if (c.i != last.i && c.j != last.j) each(HugCell{c.i, last.j});
      each(c);
      last = c;
    }
  }
}

// Cells that the line drawn so far runs through: no way leads over them, so that a stroke neither crosses the line nor
// runs back along it. Near the gates (the place where the stroke joins on, and the line's beginning) they are open.
class HugBarrier {
 public:
  HugBarrier(const HugCost& cost, std::span<const Vec2> line, std::vector<Vec2> gates);
  bool closed(std::size_t tile, HugCell c) const;
  // A closed cell lies within two of this one: a stroke that ends there means to meet the line.
  bool beside(HugCell c) const;
  // The same line on other cells.
  HugBarrier on(const HugCost& cost) const { return {cost, line_, gates_}; }

 private:
  const HugCost* cost_;
  std::vector<Vec2> line_, gates_;
  HugCells cells_;
};

// A cell that a way may begin at, and what that costs (surface metres of smooth ground).
struct HugRoot {
  HugCell cell;
  double cost = 0;
};

class HugTree {
 public:
  // What is pointed at must outlive this. No way leads over the barrier's cells nor, where they are given, beside those
  // of `within`. At least one root. Once cancelled it finds nothing more.
  HugTree(HugCost& cost, const HugRegion& region, std::span<const HugRoot> roots, const HugBarrier* barrier = nullptr,
          const HugCells* within = nullptr, const Progress* progress = nullptr);

  const HugRegion& region() const { return region_; }
  // The least cost of a way from a root to the target; infinity when the region holds none.
  double least_cost(HugCell target);
  // The cells of that way. Ties keep the parent found first, so the answer for one target never changes.
  std::optional<std::vector<HugCell>> path(HugCell target);
  std::size_t settled() const { return settled_; }  // steps of work so far

 private:
  struct Tile {
    std::array<float, HugTile::kCells> cost;
    std::array<std::uint8_t, HugTile::kCells> parent;  // step that led here
    std::array<float, 8> length;  // surface metres of a step, over the 510 that two factors of 1 sum to
    const HugTile* ground = nullptr;
  };
  struct Entry {
    float cost;
    std::uint32_t cell;  // tile * kCells + index in it
  };
  std::uint32_t number(HugCell c) const;
  Tile& tile(std::size_t t);
  float cost_of(HugCell c) const;
  void push(float cost, std::uint32_t cell);
  void settle(const Entry& e);
  void relax(const Entry& e, const Tile& from, std::size_t k, std::size_t d, std::uint32_t to_tile, std::size_t m);

  HugCost* cost_;
  HugRegion region_;
  const HugBarrier* barrier_;
  const HugCells* within_;
  const Progress* progress_;
  float per_bucket_;  // 1 / width of a bucket
  std::vector<std::vector<Entry>> buckets_;
  std::vector<std::vector<Entry>> spare_;  // emptied buckets, their memory kept
  std::size_t bucket_ = 0, settled_ = 0;
  std::vector<std::unique_ptr<Tile>> tiles_;
};

}  // namespace pontata
