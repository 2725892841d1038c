// Projected Newton steps for paper laid flat with held runs and a limit to its strain.
//
// Each step solves the patch's equations once (engine/flatten/paper_system.h), stays short of the first triangle
// that would turn over (see engine/flatten/isometry.h), and halves itself until the energy falls. Method: Teran,
// Sifakis, Irving, Fedkiw, "Robust Quasistatic Finite Elements and Flesh Simulation", 2005, section 4.
#pragma once

#include <limits>
#include <span>
#include <vector>

#include "engine/flatten/held_run.h"
#include "engine/flatten/paper_system.h"

namespace pontata {

class PaperSolver {
 public:
  // `flat` (m) has every triangle right side up. The spans must outlive the solver. The system is made for the same
  // triangles and bodies.
  PaperSolver(std::span<const Triangle> triangles, std::span<const RestTriangle> rest, const std::vector<Vec2>& flat,
              std::vector<HeldBody> bodies, std::unique_ptr<PaperSystem> system);

  // From now on no strain of a counted triangle may reach the limit, which is an unknown of its own from here
  // downwards, at a price per strain: the lower the more it costs. The first price is the one at which it would stay
  // where it is. False, and nothing changed, when the map does not lie below the limit.
  bool set_limit(double limit);
  void raise_price(double factor);
  double limit() const { return limit_; }
  // How far the limit is at most, in parts of itself, above the least that can be reached, once steps bring nothing
  // more at this price (for small strains, where the problem is all but convex).
  double gap() const { return 2 * area_ * scale_ / (price_ * limit_); }

  // One step. Returns what it was expected to gain in parts of the energy (of the barrier's scale, where there is a
  // limit); 0 when nothing was found to gain, and nothing has moved then.
  double step();

  // The springs' own give is added to what they pull for.
  void tighten();
  void stiffen(double factor);

  double energy() const { return energy_; }  // m^2: mean density times area, and the springs'
  std::vector<Vec2> flat() const;            // m
  HoldError held() const { return hold_error(bodies_, flat()); }
  double greatest_strain() const;  // over counted triangles

 private:
  Vec2 point(const Eigen::VectorXd& x, std::uint32_t v) const { return {x[2 * v], x[2 * v + 1]}; }
  Density density(std::size_t t, double stretch, double limit) const;
  bool is_limited() const { return price_ > 0; }
  double energy_at(const Eigen::VectorXd& x, double limit) const;
  double longest_step(const Eigen::VectorXd& d) const;
  void assemble();
  template <class Visit>
  void each_pull(Visit&& visit) const;

  std::span<const Triangle> triangles_;
  std::span<const RestTriangle> rest_;
  std::vector<HeldBody> bodies_;
  std::unique_ptr<PaperSystem> system_;
  Eigen::Index points_ = 0;
  Eigen::VectorXd x_;                         // points' x and y, then each body's angle and middle
  Eigen::VectorXd slope_, mixed_;             // of the energy by the unknowns; its change with the limit
  double by_limit_ = 0, by_limit_twice_ = 0;  // the energy's derivatives by the limit
  double limit_ = std::numeric_limits<double>::infinity();
  double scale_ = 1, price_ = 0, area_ = 0;  // price_ 0: no limit
  double energy_ = 0;
};

}  // namespace pontata
