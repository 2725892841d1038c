// Uniform cells over the lattice: which seams (or points) lie near a place. Cell sides are a power of two pitches, so a
// place finds its cell by a shift; cells are numbered along a Z-order curve, so that a block of 4 x 4 cells shares one
// leaf of the persistent vector and an edit copies few of them.
#pragma once

#include <algorithm>
#include <cstdint>
#include <memory>
#include <utility>
#include <vector>

#include "engine/base/lattice.h"
#include "engine/base/persistent_vector.h"

namespace pontata {

// Columns and rows of square cells over a box; places outside the box belong to the nearest cell.
struct CellFrame {
  LatticePoint lo;
  int shift = 0;  // cell side is 2^shift pitches
  int columns = 1, rows = 1;

  // At most `most` cells a side, each at least 2^least_shift pitches.
  static CellFrame over(LatticePoint lo, LatticePoint hi, int most, int least_shift);

  int column(std::int64_t x) const {
    return static_cast<int>(std::clamp<std::int64_t>((x - lo.x) >> shift, 0, columns - 1));
  }
  int row(std::int64_t y) const { return static_cast<int>(std::clamp<std::int64_t>((y - lo.y) >> shift, 0, rows - 1)); }

  std::int64_t lo_y(int r) const { return lo.y + (static_cast<std::int64_t>(r) << shift); }

  // x extent within row r of segment ab grown by `margin` pitches, widened against rounding.
  std::pair<std::int64_t, std::int64_t> extent(LatticePoint a, LatticePoint b, std::int64_t margin, int r) const;

  // Calls f(column, row) for every cell that segment ab, grown by `margin` pitches, passes (and perhaps a few more).
  template <class F>
  void walk(LatticePoint a, LatticePoint b, std::int64_t margin, F&& f) const {
    const int last = row(std::max(a.y, b.y) + margin);
    for (int r = row(std::min(a.y, b.y) - margin); r <= last; ++r) {
      const auto [x0, x1] = extent(a, b, margin, r);
      const int end = column(x1);
      for (int c = column(x0); c <= end; ++c) f(c, r);
    }
  }
};

// Seams by cell, as a value whose copies share their cells.
class SeamGrid {
 public:
  using Bucket = std::shared_ptr<const std::vector<std::uint32_t>>;  // null: empty

  SeamGrid() = default;
  struct Item {
    std::uint32_t seam;
    LatticePoint a, b;
  };
  SeamGrid(LatticePoint lo, LatticePoint hi, const std::vector<Item>& items);

  void add(std::uint32_t seam, LatticePoint a, LatticePoint b);
  void remove(std::uint32_t seam, LatticePoint a, LatticePoint b);
  const CellFrame& frame() const { return frame_; }

  // f(seam) for all in one cell.
  template <class F>
  void in_cell(int column, int row, F&& f) const {
    const Bucket& bucket = buckets_[slot(column, row)];
    if (!bucket) return;
    for (const std::uint32_t seam : *bucket) f(seam);
  }
  // f(seam) for all in the cells along ab grown by margin; a seam may come more than once.
  template <class F>
  void along(LatticePoint a, LatticePoint b, std::int64_t margin, F&& f) const {
    if (buckets_.empty()) return;
    frame_.walk(a, b, margin, [&](int c, int r) { in_cell(c, r, f); });
  }
  // f(seam) for all in the cells of the box; a seam may come more than once.
  template <class F>
  void in_box(LatticePoint lo, LatticePoint hi, F&& f) const {
    if (buckets_.empty()) return;
    for (int r = frame_.row(lo.y); r <= frame_.row(hi.y); ++r)
      for (int c = frame_.column(lo.x); c <= frame_.column(hi.x); ++c) in_cell(c, r, f);
  }
  std::size_t entries() const;

  template <class F>
  void visit_nodes(F&& f) const {
    buckets_.visit_nodes(f);
    for (std::size_t i = 0; i < buckets_.size(); ++i)
      if (const auto& b = buckets_[i])
        f(static_cast<const void*>(b.get()), sizeof(*b) + b->capacity() * sizeof(b->front()));
  }

 private:
  std::size_t slot(int column, int row) const;

  CellFrame frame_;
  PersistentVector<Bucket> buckets_;
};

}  // namespace pontata
