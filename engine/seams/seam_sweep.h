// What a face gained and lost when seams took other courses: the places that its old and new courses together go round
// an odd number of times. Internal to engine/seams.
#pragma once

#include <algorithm>
#include <vector>

#include "engine/base/predicates.h"

namespace pontata {

class Sweep {
 public:
  void add(LatticePoint a, LatticePoint b) {
    if (b < a) std::swap(a, b);
    if (a.y == b.y) return;  // never met by a level
    pieces_.push_back({a, b});
  }

  // To be called after the last add. Pieces that come twice, as rims that only gained an end do, take each other away.
  void close() {
    std::sort(pieces_.begin(), pieces_.end());
    std::vector<Piece> odd;
    for (std::size_t i = 0; i < pieces_.size();) {
      std::size_t j = i;
      while (j < pieces_.size() && pieces_[j] == pieces_[i]) ++j;
      if ((j - i) % 2 == 1) odd.push_back(pieces_[i]);
      i = j;
    }
    pieces_ = std::move(odd);
    for (const auto& [a, b] : pieces_) {
      lo_ = std::min({lo_, a.y, b.y});
      hi_ = std::max({hi_, a.y, b.y});
    }
    while (((hi_ - lo_) >> shift_) >= kRows) ++shift_;
    rows_.assign(kRows, {});
    for (const auto& piece : pieces_) {
      const auto [low, high] = std::minmax(piece.first.y, piece.second.y);
      for (auto r = (low - lo_) >> shift_; r <= (high - lo_) >> shift_; ++r)
        rows_[static_cast<std::size_t>(r)].push_back(piece);
    }
  }

  // Odd number of pieces to the left of p on its level; p on none of them. Exact.
  bool holds(LatticePoint p) const {
    if (pieces_.empty() || p.y < lo_ || p.y > hi_) return false;
    bool odd = false;
    for (const auto& [a, b] : rows_[static_cast<std::size_t>((p.y - lo_) >> shift_)]) {
      if ((a.y > p.y) == (b.y > p.y)) continue;
      const bool up = a.y < b.y;
      odd ^= side(up ? a : b, up ? b : a, p) < 0;
    }
    return odd;
  }

 private:
  using Piece = std::pair<LatticePoint, LatticePoint>;
  static constexpr std::int64_t kRows = 64;
  std::vector<Piece> pieces_;
  std::vector<std::vector<Piece>> rows_;
  std::int64_t lo_ = kLatticeLimit, hi_ = -kLatticeLimit;
  int shift_ = 0;
};

}  // namespace pontata
