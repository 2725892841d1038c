#include "engine/proposal/lines.h"

#include <array>
#include <tuple>

namespace pontata {

namespace {

// Corners of cells; seams run between them along the sides of cells.
class Tracer {
 public:
  Tracer(const ProposalGround& ground, const CellGroups& groups)
      : ground_(ground), groups_(groups), taken_(2 * corners(), 0) {}

  std::vector<LayoutLine> lines() {
    each_corner([&](int i, int j) {
      if (is_end(i, j)) leave(i, j);
    });
    // What is left are rims of islands: they begin anywhere, and end half way round for the first time.
    each_corner([&](int i, int j) {
      for (int d = 0; d < 2; ++d)
        if (runs(i, j, d) && !taken(i, j, d)) island(i, j, d);
    });
    return std::move(lines_);
  }

 private:
  static constexpr std::array<std::array<int, 2>, 4> kWays{{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}};

  std::size_t corners() const {
    return static_cast<std::size_t>(ground_.columns + 1) * static_cast<std::size_t>(ground_.rows + 1);
  }
  std::uint32_t group(int i, int j) const {
    return ground_.is_free(i, j) ? groups_.of_cell[ground_.index(i, j)] : kNoAtom;
  }

  // Groups to the left and right of the side that leaves corner (i, j) in direction d.
  std::pair<std::uint32_t, std::uint32_t> sides(int i, int j, int d) const {
    switch (d) {
      case 0:
        return {group(i, j), group(i, j - 1)};
      case 1:
        return {group(i - 1, j), group(i, j)};
      case 2:
        return {group(i - 1, j - 1), group(i - 1, j)};
      default:
        return {group(i, j - 1), group(i - 1, j - 1)};
    }
  }
  bool runs(int i, int j, int d) const {
    const auto [left, right] = sides(i, j, d);
    return left != right && left != kNoAtom && right != kNoAtom;
  }
  int degree(int i, int j) const {
    int n = 0;
    for (int d = 0; d < 4; ++d) n += runs(i, j, d) ? 1 : 0;
    return n;
  }
  bool on_rim(int i, int j) const {
    return group(i, j) == kNoAtom || group(i - 1, j) == kNoAtom || group(i, j - 1) == kNoAtom ||
           group(i - 1, j - 1) == kNoAtom;
  }
  bool is_end(int i, int j) const {
    const int n = degree(i, j);
    return n != 0 && (n != 2 || on_rim(i, j));
  }

  // Each side is known by its lower or left corner.
  std::size_t slot(int i, int j, int d) const {
    if (d == 2) --i;
    if (d == 3) --j;
    return 2 * (static_cast<std::size_t>(j) * static_cast<std::size_t>(ground_.columns + 1) +
                static_cast<std::size_t>(i)) +
           (d % 2 == 0 ? 0 : 1);
  }
  bool taken(int i, int j, int d) const { return taken_[slot(i, j, d)]; }

  template <class Each>
  void each_corner(const Each& each) const {
    for (int j = 0; j <= ground_.rows; ++j)
      for (int i = 0; i <= ground_.columns; ++i) each(i, j);
  }

  void leave(int i, int j) {
    for (int d = 0; d < 4; ++d)
      if (runs(i, j, d) && !taken(i, j, d)) {
        int x = i, y = j, way = d;
        lines_.push_back(walk(x, y, way, 0));
      }
  }

  // On along the seam to the next end; `most` > 0: after so many sides at the latest.
  LayoutLine walk(int& i, int& j, int& d, std::size_t most) {
    LayoutLine line;
    std::tie(line.left, line.right) = sides(i, j, d);
    line.first_open = on_rim(i, j);
    line.at.push_back(ground_.corner(i, j));
    for (;;) {
      taken_[slot(i, j, d)] = 1;
      i += kWays[static_cast<std::size_t>(d)][0];
      j += kWays[static_cast<std::size_t>(d)][1];
      line.at.push_back(ground_.corner(i, j));
      if (is_end(i, j) || line.at.size() == most + 1) break;
      int next = 4;
      for (int e = 0; e < 4; ++e)
        if (e != (d + 2) % 4 && runs(i, j, e) && !taken(i, j, e)) next = e;
      if (next == 4) break;  // round an island
      d = next;
    }
    line.last_open = on_rim(i, j);
    return line;
  }
  void island(int i, int j, int d) {
    const auto before = taken_;
    int x = i, y = j, way = d;
    const std::size_t length = walk(x, y, way, 0).at.size();
    taken_ = before;
    lines_.push_back(walk(i, j, d, length / 2));
    for (int e = 0; e < 4; ++e)
      if (runs(i, j, e) && !taken(i, j, e)) {
        d = e;
        lines_.push_back(walk(i, j, d, 0));
        return;
      }
  }

  const ProposalGround& ground_;
  const CellGroups& groups_;
  std::vector<char> taken_;
  std::vector<LayoutLine> lines_;
};

}  // namespace

std::vector<LayoutLine> trace_lines(const ProposalGround& ground, const CellGroups& groups) {
  return Tracer(ground, groups).lines();
}

}  // namespace pontata
