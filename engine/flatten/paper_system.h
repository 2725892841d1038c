// The equations of one Newton step of paper laid flat, and two ways to solve them: for every point, or for moves that
// are smooth over the sheet.
//
// Unknowns: x and y of each point, then angle, x and y of each held body.
#pragma once

#include <Eigen/Dense>
#include <Eigen/Sparse>
#include <array>
#include <memory>
#include <span>
#include <vector>

#include "engine/flatten/held_run.h"
#include "engine/flatten/strain_density.h"

namespace pontata {

// Unknowns of a triangle's corners; of one pull: its point's and its body's.
std::array<Eigen::Index, 6> corner_index(const Triangle& v);
std::array<Eigen::Index, 5> pull_index(Eigen::Index points, std::size_t body, std::uint32_t point);
// The two rows of a pull's error by its unknowns.
std::array<std::array<double, 5>, 2> pull_rows(const Pull& p);

class PaperSystem {
 public:
  virtual ~PaperSystem() = default;
  // The second derivatives anew: clear, then add what the system was made for, in the same order, then factorise.
  virtual void clear() = 0;
  virtual void add(const Triangle& corners, double area, const TriangleTerm& term) = 0;
  virtual void add(std::span<const Eigen::Index> index, const Pull& pull, double stiffness) = 0;
  virtual bool factorise() = 0;  // false: cannot be solved
  // The move that answers these forces, one number per unknown.
  virtual Eigen::VectorXd solve(const Eigen::VectorXd& forces) const = 0;
};

// Every point moves of its own: sparse LDL^T, ordered once.
std::unique_ptr<PaperSystem> every_point(std::span<const Triangle> triangles, std::span<const HeldBody> bodies,
                                         std::size_t points);

// Points move as a biquadratic spline on a grid of about 64 cells over the sheet lets them: dense Cholesky, a few
// milliseconds whatever the number of points. Holds no bodies.
std::unique_ptr<PaperSystem> smooth_moves(const std::vector<Vec2>& flat);

}  // namespace pontata
