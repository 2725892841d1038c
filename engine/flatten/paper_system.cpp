#include "engine/flatten/paper_system.h"

#include <algorithm>
#include <stdexcept>

namespace pontata {
namespace {

using Matrix = Eigen::SparseMatrix<double>;

class EveryPoint final : public PaperSystem {
 public:
  EveryPoint(std::span<const Triangle> triangles, std::span<const HeldBody> bodies, std::size_t points) {
    std::vector<std::pair<Eigen::Index, Eigen::Index>> wanted;
    const auto want = [&](std::span<const Eigen::Index> index) {
      for (std::size_t i = 0; i < index.size(); ++i)
        for (std::size_t j = 0; j <= i; ++j)
          wanted.emplace_back(std::max(index[i], index[j]), std::min(index[i], index[j]));
    };
    for (const Triangle& v : triangles) want(corner_index(v));
    for (std::size_t b = 0; b < bodies.size(); ++b)
      for (const std::uint32_t v : bodies[b].points) want(pull_index(static_cast<Eigen::Index>(points), b, v));
    find_slots(wanted, static_cast<Eigen::Index>(2 * points + 3 * bodies.size()));
    factor_.analyzePattern(curvature_);
  }

  void clear() override {
    curvature_.coeffs().setZero();
    next_ = slots_.begin();
  }
  void add(const Triangle&, double area, const TriangleTerm& term) override {
    for (const double c : term.curvature) curvature_.valuePtr()[*next_++] += area * c;
  }
  void add(std::span<const Eigen::Index>, const Pull& pull, double stiffness) override {
    const auto rows = pull_rows(pull);
    for (std::size_t r = 0; r < 5; ++r)
      for (std::size_t c = 0; c <= r; ++c)
        curvature_.valuePtr()[*next_++] += stiffness * (rows[0][r] * rows[0][c] + rows[1][r] * rows[1][c]);
  }
  bool factorise() override {
    // The whole sheet may move freely: a trace of its own stiffness keeps the equations solvable.
    const Eigen::VectorXd diagonal = curvature_.diagonal();
    const double trace = 1e-10 * diagonal.mean();
    for (Eigen::Index i = 0; i < diagonal.size(); ++i) curvature_.coeffRef(i, i) += trace;
    factor_.factorize(curvature_);
    return factor_.info() == Eigen::Success;
  }
  Eigen::VectorXd solve(const Eigen::VectorXd& forces) const override { return factor_.solve(forces); }

 private:
  void find_slots(const std::vector<std::pair<Eigen::Index, Eigen::Index>>& wanted, Eigen::Index unknowns) {
    std::vector<Eigen::Triplet<double>> entries;
    entries.reserve(wanted.size());
    for (const auto& [i, j] : wanted) entries.emplace_back(static_cast<int>(i), static_cast<int>(j), 0.0);
    curvature_.resize(unknowns, unknowns);
    curvature_.setFromTriplets(entries.begin(), entries.end());
    for (const auto& [i, j] : wanted) {
      const int* from = curvature_.innerIndexPtr() + curvature_.outerIndexPtr()[j];
      const int* to = curvature_.innerIndexPtr() + curvature_.outerIndexPtr()[j + 1];
      slots_.push_back(static_cast<std::uint32_t>(std::lower_bound(from, to, i) - curvature_.innerIndexPtr()));
    }
  }

  Matrix curvature_;                  // lower half
  std::vector<std::uint32_t> slots_;  // where each triangle's 21 numbers go, then each pull's 15
  std::vector<std::uint32_t>::const_iterator next_;
  Eigen::SimplicialLDLT<Matrix, Eigen::Lower> factor_;
};

class SmoothMoves final : public PaperSystem {
 public:
  explicit SmoothMoves(const std::vector<Vec2>& flat) {
    constexpr double kCells = 64;
    Vec2 lo = flat.front(), hi = lo;
    for (const Vec2& p : flat) lo = glm::min(lo, p), hi = glm::max(hi, p);
    const Vec2 size = glm::max(hi - lo, Vec2{1e-9, 1e-9});
    const double cell = std::sqrt(size.x * size.y / kCells);
    const Vec2 cells = glm::clamp(glm::round(size / cell), Vec2{2, 2}, Vec2{50, 50});
    across_ = static_cast<Eigen::Index>(cells.x) + 2;
    const auto up = static_cast<Eigen::Index>(cells.y) + 2;
    for (const Vec2& p : flat) {
      const Vec2 at = glm::min((p - lo) / size * cells, cells - 1e-9), corner = glm::floor(at);
      const auto x = weights(at.x - corner.x), y = weights(at.y - corner.y);
      Share s;
      s.first = static_cast<Eigen::Index>(corner.y) * across_ + static_cast<Eigen::Index>(corner.x);
      for (std::size_t j = 0; j < 3; ++j)
        for (std::size_t i = 0; i < 3; ++i) s.weight[3 * j + i] = x[i] * y[j];
      shares_.push_back(s);
    }
    curvature_.resize(2 * across_ * up, 2 * across_ * up);
  }

  void clear() override { curvature_.setZero(); }
  void add(const Triangle& corners, double area, const TriangleTerm& term) override {
    for (std::size_t a = 0; a < 3; ++a)
      for (std::size_t b = 0; b <= a; ++b) {
        std::array<double, 4> block{};
        for (std::size_t k = 0; k < 4; ++k) {
          const std::size_t i = std::max(2 * a + k / 2, 2 * b + k % 2), j = std::min(2 * a + k / 2, 2 * b + k % 2);
          block[k] = area * term.curvature[i * (i + 1) / 2 + j];
        }
        add_block(corners[a], corners[b], block);
        if (a != b) add_block(corners[b], corners[a], {block[0], block[2], block[1], block[3]});
      }
  }
  void add(std::span<const Eigen::Index>, const Pull&, double) override {
    throw std::logic_error("smooth moves hold no bodies");
  }
  bool factorise() override {
    curvature_.diagonal().array() += 1e-9 * curvature_.diagonal().mean();
    factor_.compute(curvature_);
    return factor_.info() == Eigen::Success;
  }
  Eigen::VectorXd solve(const Eigen::VectorXd& forces) const override {
    Eigen::VectorXd nodes = Eigen::VectorXd::Zero(curvature_.rows());
    each_share([&](Eigen::Index p, Eigen::Index n, double w) { nodes.segment<2>(n) += w * forces.segment<2>(p); });
    nodes = factor_.solve(nodes);
    Eigen::VectorXd out = Eigen::VectorXd::Zero(forces.size());
    each_share([&](Eigen::Index p, Eigen::Index n, double w) { out.segment<2>(p) += w * nodes.segment<2>(n); });
    return out;
  }

 private:
  // A point's share in the 3 x 3 nodes from `first` on.
  struct Share {
    Eigen::Index first = 0;
    std::array<double, 9> weight{};
  };
  // Of the uniform quadratic B-spline, t in [0, 1] within the cell.
  static std::array<double, 3> weights(double t) { return {0.5 * (1 - t) * (1 - t), t - t * t + 0.5, 0.5 * t * t}; }
  Eigen::Index node(const Share& s, std::size_t k) const {
    return 2 * (s.first + static_cast<Eigen::Index>(k / 3) * across_ + static_cast<Eigen::Index>(k % 3));
  }
  template <class Visit>
  void each_share(Visit&& visit) const {
    for (std::size_t p = 0; p < shares_.size(); ++p)
      for (std::size_t k = 0; k < 9; ++k)
        visit(2 * static_cast<Eigen::Index>(p), node(shares_[p], k), shares_[p].weight[k]);
  }
  // Only the lower half is kept.
  void add_block(std::uint32_t p, std::uint32_t q, const std::array<double, 4>& block) {
    for (std::size_t l = 0; l < 9; ++l) {
      const Eigen::Index column = node(shares_[q], l);
      for (std::size_t k = 0; k < 9; ++k) {
        const Eigen::Index row = node(shares_[p], k);
        if (row < column) continue;
        const double w = shares_[p].weight[k] * shares_[q].weight[l];
        curvature_(row, column) += w * block[0], curvature_(row + 1, column) += w * block[2];
        curvature_(row, column + 1) += w * block[1], curvature_(row + 1, column + 1) += w * block[3];
      }
    }
  }

  std::vector<Share> shares_;
  Eigen::Index across_ = 0;
  Eigen::MatrixXd curvature_;
  Eigen::LLT<Eigen::MatrixXd, Eigen::Lower> factor_;
};

}  // namespace

std::array<Eigen::Index, 6> corner_index(const Triangle& v) {
  std::array<Eigen::Index, 6> out{};
  for (std::size_t k = 0; k < 3; ++k) out[2 * k] = 2 * Eigen::Index{v[k]}, out[2 * k + 1] = 2 * Eigen::Index{v[k]} + 1;
  return out;
}

std::array<Eigen::Index, 5> pull_index(Eigen::Index points, std::size_t body, std::uint32_t point) {
  const Eigen::Index b = 2 * points + 3 * static_cast<Eigen::Index>(body), p = 2 * static_cast<Eigen::Index>(point);
  return {p, p + 1, b, b + 1, b + 2};
}

std::array<std::array<double, 5>, 2> pull_rows(const Pull& p) {
  return {{{1, 0, -p.turn.x, -1, 0}, {0, 1, -p.turn.y, 0, -1}}};
}

std::unique_ptr<PaperSystem> every_point(std::span<const Triangle> triangles, std::span<const HeldBody> bodies,
                                         std::size_t points) {
  return std::make_unique<EveryPoint>(triangles, bodies, points);
}

std::unique_ptr<PaperSystem> smooth_moves(const std::vector<Vec2>& flat) { return std::make_unique<SmoothMoves>(flat); }

}  // namespace pontata
