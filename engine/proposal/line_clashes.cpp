#include "engine/proposal/line_clashes.h"

#include <algorithm>
#include <unordered_map>

#include "engine/base/predicates.h"

namespace pontata {

namespace {

struct Piece {
  std::uint32_t line = 0, at = 0;
};

class Pieces {
 public:
  explicit Pieces(std::span<const LatticeLine> lines) : lines_(lines) {
    double length = 0;
    std::size_t count = 0;
    for (const auto& line : lines)
      for (std::size_t k = 0; k + 1 < line.size(); ++k) {
        length +=
            static_cast<double>(std::max(std::abs(line[k + 1].x - line[k].x), std::abs(line[k + 1].y - line[k].y)));
        ++count;
      }
    side_ = std::max<std::int64_t>(1, count ? static_cast<std::int64_t>(2 * length / static_cast<double>(count)) : 1);
  }

  template <class Visit>
  void each_cell(const Piece& p, const Visit& visit) const {
    const auto [a, b] = ends(p);
    for (auto y = floor(std::min(a.y, b.y)); y <= floor(std::max(a.y, b.y)); ++y)
      for (auto x = floor(std::min(a.x, b.x)); x <= floor(std::max(a.x, b.x)); ++x)
        visit(static_cast<std::uint64_t>(y) * 0x9e3779b97f4a7c15u + static_cast<std::uint64_t>(x));
  }
  std::pair<LatticePoint, LatticePoint> ends(const Piece& p) const {
    return {lines_[p.line][p.at], lines_[p.line][p.at + 1]};
  }
  bool is_line_end(std::uint32_t line, LatticePoint p) const {
    return lines_[line].front() == p || lines_[line].back() == p;
  }

  bool clash(const Piece& p, const Piece& q) const {
    const auto [a, b] = ends(p);
    const auto [c, d] = ends(q);
    if (!segments_meet(a, b, c, d)) return false;
    if (p.line == q.line && p.at + 1 == q.at) return on_segment(a, b, d) || on_segment(c, d, a);  // doubles back
    const bool shared = a == c || a == d || b == c || b == d;
    if (!shared) return true;
    const LatticePoint at = a == c || a == d ? a : b;
    if (!is_line_end(p.line, at) || !is_line_end(q.line, at)) return true;
    const LatticePoint one = at == a ? b : a, other = at == c ? d : c;
    return one == other || on_segment(a, b, other) || on_segment(c, d, one);
  }

 private:
  std::int64_t floor(std::int64_t v) const { return v >= 0 ? v / side_ : -((-v + side_ - 1) / side_); }
  std::span<const LatticeLine> lines_;
  std::int64_t side_ = 1;
};

}  // namespace

std::vector<std::pair<std::size_t, std::size_t>> clashes(std::span<const LatticeLine> lines) {
  const Pieces pieces(lines);
  std::unordered_map<std::uint64_t, std::vector<Piece>> cells;
  std::vector<std::pair<std::size_t, std::size_t>> found;
  for (std::uint32_t l = 0; l < lines.size(); ++l)
    for (std::uint32_t k = 0; k + 1 < lines[l].size(); ++k) {
      const Piece piece{l, k};
      pieces.each_cell(piece, [&](std::uint64_t cell) {
        for (const Piece& other : cells[cell])
          if ((other.line != l || other.at != k) && pieces.clash(other, piece)) found.emplace_back(other.line, l);
        cells[cell].push_back(piece);
      });
    }
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end()), found.end());
  return found;
}

bool enters_whole(const LatticeLine& line, std::span<const Zone> zones) {
  for (const Zone& zone : zones) {
    if (zone.kind != ZoneKind::keep_whole || zone.ring.size() < 3) continue;
    for (const Ring& ring : zone.rings())
      for (std::size_t k = 0; k + 1 < line.size(); ++k) {
        if (point_in_ring(ring, line[k]) > 0) return true;
        for (std::size_t i = 0; i < ring.size(); ++i)
          if (segments_cross(line[k], line[k + 1], ring[i], ring[(i + 1) % ring.size()])) return true;
      }
  }
  return false;
}

}  // namespace pontata
