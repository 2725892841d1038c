#include "engine/plaster/surface_patches.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace pontata {

namespace {

using Row = Eigen::Matrix<double, 6, 1>;
using Square = Eigen::Matrix<double, 6, 6>;

constexpr double kStandsOut = 4;  // median residuals

double square(double x) { return x * x; }
double cube(double x) { return x * x * x; }

struct Patch {
  Vec3 middle{0, 0, 0}, normal{0, 0, 1};
  glm::dmat3 bend{0};  // S, 1/m
};

// What is left of q above the patch: y - c y^2/2 - S(x,x)/2.
struct Above {
  Vec3 flat;            // x
  double straightened;  // y - c y^2/2
  double height;        // above the patch
};
Above above(const Patch& patch, const Vec3& q) {
  const double y = glm::dot(q, patch.normal);
  const Vec3 x = q - y * patch.normal;
  const Vec3 bent = patch.bend * x;
  const double along = glm::dot(x, bent), turn = glm::dot(bent, bent);
  // Near the directions in which the patch is straight y vanishes, and the term with it.
  const bool curved = along * along > 0.04 * turn * glm::dot(x, x);
  const double straightened = curved ? y - 0.5 * turn / along * y * y : y;
  return {x, straightened, straightened - 0.5 * along};
}

struct Sample {
  double a, b, y;  // in the patch's frame, y straightened
  double weight, residual;
};

class Fitter {
 public:
  Fitter(const SurfaceNodes& nodes, const PatchOptions& options) : nodes_(nodes), options_(options), ball_(nodes) {
    for (const SurfaceNode& n : nodes.nodes) patches_.push_back({n.place, n.normal, glm::dmat3(0)});
  }
  // Fits all patches anew, starting from those of the pass before. False when cancelled.
  bool pass(int number, Progress* progress, double from, double to);
  const std::vector<Patch>& patches() const { return patches_; }

 private:
  void gather(std::uint32_t node, const Patch& start, const Vec3& e1, const Vec3& e2, double reach);
  double full_reach(std::uint32_t node, const Patch& start);
  Row solve() const;
  void stand_out();
  Patch fitted(std::uint32_t node, int pass);

  const SurfaceNodes& nodes_;
  const PatchOptions& options_;
  NodeBall ball_;
  std::vector<Patch> patches_, next_;
  std::vector<Sample> samples_;
  std::vector<double> sorted_;
  std::vector<double> trust_;
};

constexpr int kMostRounds = 12;

// The fit moved by less than anyone could lay.
bool settled(const Row& change, double reach) {
  constexpr double kStill = 1e-5;  // m
  const double r = reach;
  return std::abs(change[0]) + r * (std::abs(change[1]) + std::abs(change[2])) +
             r * r * (std::abs(change[3]) + std::abs(change[4]) + std::abs(change[5])) <
         kStill;
}

double reach_for(double reach, const glm::dmat3& bend) {
  constexpr double kMostTurn = 0.6;  // radians
  double sum = 0;
  for (int k = 0; k < 3; ++k) sum += glm::dot(bend[k], bend[k]);
  const double curvature = std::sqrt(sum);
  return curvature * reach > kMostTurn ? kMostTurn / curvature : reach;
}

// The mean of a node's points lies off a curved surface by half of S : spread; put right with the last known S.
Vec3 on_surface(const SurfaceNode& node, const glm::dmat3& bend) {
  double off = 0;
  for (int k = 0; k < 3; ++k) off += glm::dot(bend[k], node.spread[k]);
  return node.place - 0.5 * off * node.normal;
}

void Fitter::gather(std::uint32_t node, const Patch& start, const Vec3& e1, const Vec3& e2, double reach) {
  samples_.clear();
  for (const std::uint32_t j : ball_.around(node, reach)) {
    const Vec3 q = on_surface(nodes_.nodes[j], patches_[j].bend) - start.middle;
    const double near = glm::length(q) / reach;
    if (near >= 1) continue;
    const Above at = above(start, q);
    samples_.push_back({glm::dot(at.flat, e1), glm::dot(at.flat, e2), at.straightened,
                        cube(1 - cube(near)) * nodes_.nodes[j].area, at.height});
  }
  trust_.assign(samples_.size(), 1);
}

// A straightedge laid at the border lies on the wall with its whole length: there the patch reaches farther, up to
// twice as far, until it covers as much wall as elsewhere.
double Fitter::full_reach(std::uint32_t node, const Patch& start) {
  const double reach = std::max(reach_for(options_.reach, start.bend), 2.2 * options_.spacing);
  double area = 0;
  for (const std::uint32_t j : ball_.around(node, reach)) area += nodes_.nodes[j].area;
  const double wider = std::clamp(std::sqrt(std::numbers::pi * reach * reach / area), 1.0, 2.0);
  return std::max(reach, reach_for(wider * options_.reach, start.bend));
}

// Weights by how far a sample stands out: bisquare of four median residuals.
void Fitter::stand_out() {
  sorted_.clear();
  for (const Sample& s : samples_) sorted_.push_back(std::abs(s.residual));
  const auto middle = sorted_.begin() + static_cast<std::ptrdiff_t>(sorted_.size() / 2);
  std::nth_element(sorted_.begin(), middle, sorted_.end());
  const double limit = kStandsOut * std::max(*middle, options_.floor);
  for (std::size_t i = 0; i < samples_.size(); ++i) {
    const double share = samples_[i].residual / limit;
    trust_[i] = std::abs(share) < 1 ? square(1 - share * share) : 0;
  }
}

// Offset, two slopes and three curvatures; fewer where there are too few samples to tell.
Row Fitter::solve() const {
  Square left = Square::Zero();
  Row right = Row::Zero(), f;
  std::size_t used = 0;
  for (std::size_t i = 0; i < samples_.size(); ++i) {
    const Sample& s = samples_[i];
    const double w = s.weight * trust_[i];
    if (!(w > 0)) continue;
    ++used;
    f << 1, s.a, s.b, 0.5 * s.a * s.a, s.a * s.b, 0.5 * s.b * s.b;
    for (Eigen::Index column = 0; column < 6; ++column)
      for (Eigen::Index row = column; row < 6; ++row) left(row, column) += w * f[column] * f[row];
    right += w * s.y * f;
  }
  const Eigen::Index terms = used >= 8 ? 6 : used >= 5 ? 3 : 1;
  Row out = Row::Zero();
  // In units in which every term has size 1, with a trace of ridge: a row of samples on a line leaves its twin at 0.
  const Row scale = left.diagonal().cwiseMax(1e-300).cwiseSqrt().cwiseInverse();
  const Square scaled = scale.asDiagonal() * left * scale.asDiagonal();  // lower half
  Eigen::MatrixXd part = scaled.topLeftCorner(terms, terms);
  part.diagonal().array() += 1e-10;
  out.head(terms) = scale.head(terms).cwiseProduct(
      part.ldlt().solve(Eigen::VectorXd(scale.head(terms).cwiseProduct(right.head(terms)))));
  return out;
}

Patch Fitter::fitted(std::uint32_t node, int pass) {
  const Patch& start = patches_[node];
  const Vec3 n = start.normal;
  const Vec3 e1 = glm::normalize(glm::cross(n, std::abs(n.x) < 0.6 ? Vec3{1, 0, 0} : Vec3{0, 1, 0}));
  const Vec3 e2 = glm::cross(n, e1);
  gather(node, start, e1, e2, full_reach(node, start));
  const int rounds = options_.robust ? kMostRounds : 1;
  Row c = Row::Zero();
  for (int round = 0; round < rounds; ++round) {
    if (options_.robust && (pass > 0 || round > 0)) stand_out();
    const Row last = c;
    c = solve();
    if (settled(c - last, options_.reach)) break;
    for (Sample& s : samples_)
      s.residual =
          s.y - (c[0] + s.a * c[1] + s.b * c[2] + 0.5 * s.a * s.a * c[3] + s.a * s.b * c[4] + 0.5 * s.b * s.b * c[5]);
  }
  Patch out;
  out.middle = start.middle + c[0] * n;
  out.normal = glm::normalize(n - c[1] * e1 - c[2] * e2);
  out.bend = c[3] * glm::outerProduct(e1, e1) + c[5] * glm::outerProduct(e2, e2) +
             c[4] * (glm::outerProduct(e1, e2) + glm::outerProduct(e2, e1));
  return out;
}

bool Fitter::pass(int number, Progress* progress, double from, double to) {
  next_.resize(patches_.size());
  for (std::uint32_t i = 0; i < patches_.size(); ++i) {
    if (i % 512 == 0) {
      if (is_cancelled(progress)) return false;
      report(progress, from + (to - from) * i / static_cast<double>(patches_.size()), "fitting the fair surface");
    }
    next_[i] = fitted(i, number);
  }
  patches_.swap(next_);
  return true;
}

// Patches round a node blended by nearness over each of its points.
void blend(const PointGraph& graph, const SurfaceNodes& nodes, const std::vector<Patch>& patches, double spacing,
           std::vector<double>& offsets) {
  NodeBall ball(nodes);
  const double reach = 1.7 * spacing;
  for (std::uint32_t i = 0; i < patches.size(); ++i) {
    const auto near = ball.around(i, reach + 1.1 * spacing);
    for (const std::uint32_t p : nodes.points_of(i)) {
      double sum = 0, weights = 0;
      for (const std::uint32_t j : near) {
        const Vec3 step = graph.places[p] - nodes.nodes[j].place;
        const double part = 1 - glm::dot(step, step) / (reach * reach);
        if (part <= 0) continue;
        const double w = part * part;
        sum += w * above(patches[j], graph.places[p] - patches[j].middle).height;
        weights += w;
      }
      offsets[p] = weights > 0 ? sum / weights : above(patches[i], graph.places[p] - patches[i].middle).height;
    }
  }
}

}  // namespace

std::optional<std::vector<double>> offsets_from_patches(const PointGraph& graph, const PatchOptions& options,
                                                        Progress* progress, double from, double to) {
  const SurfaceNodes nodes = surface_nodes(graph, options.spacing);
  Fitter fitter(nodes, options);
  const int passes = options.robust ? 3 : 1;
  for (int k = 0; k < passes; ++k)
    if (!fitter.pass(k, progress, from + (to - from) * k / passes, from + (to - from) * (k + 1) / passes))
      return std::nullopt;
  std::vector<double> offsets(graph.size(), 0);
  blend(graph, nodes, fitter.patches(), options.spacing, offsets);
  return offsets;
}

}  // namespace pontata
