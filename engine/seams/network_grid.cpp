#include "engine/seams/network_grid.h"

#include <cmath>

namespace pontata {

namespace {

constexpr int kCellsPerSide = 128;
constexpr int kLeastShift = 8;

// Spreads the low 16 bits of v to the even bits.
std::uint32_t spread(std::uint32_t v) {
  v = (v | (v << 8)) & 0x00ff00ffu;
  v = (v | (v << 4)) & 0x0f0f0f0fu;
  v = (v | (v << 2)) & 0x33333333u;
  return (v | (v << 1)) & 0x55555555u;
}

}  // namespace

CellFrame CellFrame::over(LatticePoint lo, LatticePoint hi, int most, int least_shift) {
  CellFrame frame{lo, least_shift, 1, 1};
  const std::int64_t side = std::max(hi.x - lo.x, hi.y - lo.y);
  while ((side >> frame.shift) >= most) ++frame.shift;
  frame.columns = static_cast<int>((hi.x - lo.x) >> frame.shift) + 1;
  frame.rows = static_cast<int>((hi.y - lo.y) >> frame.shift) + 1;
  return frame;
}

std::pair<std::int64_t, std::int64_t> CellFrame::extent(LatticePoint a, LatticePoint b, std::int64_t margin,
                                                        int r) const {
  if (a.y > b.y) std::swap(a, b);
  const std::int64_t grow = margin + 2;
  double left = static_cast<double>(std::min(a.x, b.x)), right = static_cast<double>(std::max(a.x, b.x));
  if (a.y != b.y) {
    const double height = static_cast<double>(b.y - a.y), run = static_cast<double>(b.x - a.x);
    const auto x_at = [&](std::int64_t y) {
      return static_cast<double>(a.x) + run * std::clamp(static_cast<double>(y - a.y) / height, 0.0, 1.0);
    };
    const std::int64_t bottom = lo_y(r) - grow, top = lo_y(r + 1) + grow;
    const double p = r == 0 ? static_cast<double>(a.x) : x_at(bottom);
    const double q = r == rows - 1 ? static_cast<double>(b.x) : x_at(top);
    left = std::max(left, std::min(p, q));
    right = std::min(right, std::max(p, q));
  }
  return {static_cast<std::int64_t>(std::floor(left)) - grow, static_cast<std::int64_t>(std::ceil(right)) + grow};
}

SeamGrid::SeamGrid(LatticePoint lo, LatticePoint hi, const std::vector<Item>& items)
    : frame_(CellFrame::over(lo, hi, kCellsPerSide, kLeastShift)) {
  const int side = std::max(frame_.columns, frame_.rows);
  std::vector<std::vector<std::uint32_t>> lists(slot(side - 1, side - 1) + 1);
  for (const Item& item : items)
    frame_.walk(item.a, item.b, 0, [&](int c, int r) { lists[slot(c, r)].push_back(item.seam); });
  for (auto& list : lists) {
    std::sort(list.begin(), list.end());
    buckets_.push_back(list.empty() ? nullptr : std::make_shared<const std::vector<std::uint32_t>>(std::move(list)));
  }
}

std::size_t SeamGrid::slot(int column, int row) const {
  return spread(static_cast<std::uint32_t>(column)) | (spread(static_cast<std::uint32_t>(row)) << 1);
}

// In rising order in each cell, so that what is found first does not hang on the order of the edits before.
void SeamGrid::add(std::uint32_t seam, LatticePoint a, LatticePoint b) {
  frame_.walk(a, b, 0, [&](int c, int r) {
    const std::size_t i = slot(c, r);
    std::vector<std::uint32_t> list;
    if (const auto& old = buckets_[i]) {
      list.reserve(old->size() + 1);
      list = *old;
    }
    list.insert(std::upper_bound(list.begin(), list.end(), seam), seam);
    buckets_.set(i, std::make_shared<const std::vector<std::uint32_t>>(std::move(list)));
  });
}

void SeamGrid::remove(std::uint32_t seam, LatticePoint a, LatticePoint b) {
  frame_.walk(a, b, 0, [&](int c, int r) {
    const std::size_t i = slot(c, r);
    const auto& old = buckets_[i];
    if (!old) return;
    std::vector<std::uint32_t> list;
    list.reserve(old->size());
    for (const std::uint32_t s : *old)
      if (s != seam) list.push_back(s);
    Bucket bucket;
    if (!list.empty()) bucket = std::make_shared<const std::vector<std::uint32_t>>(std::move(list));
    buckets_.set(i, std::move(bucket));
  });
}

std::size_t SeamGrid::entries() const {
  std::size_t n = 0;
  for (std::size_t i = 0; i < buckets_.size(); ++i)
    if (buckets_[i]) n += buckets_[i]->size();
  return n;
}

}  // namespace pontata
