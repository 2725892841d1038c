// The one fair metric: area, its two offset terms and length along chart segments, on the true surface.
//
// Each triangle carries three numbers: its area a0, and the coefficients of the area of the offset triangle
// x + s n (n the corner normals): area(s) = a0 + a1 s + a2 s^2 (Steiner; Bobenko, Pottmann, Wallner, "A curvature
// theory for discrete surfaces based on mesh parallelity", 2010: a1 = -2 H a0, a2 = K a0 with H signed toward the
// painter). Triangles along an arris carry what the coat gains or loses there in their a1 (engine/chart/arris.h).
//
// A scan's triangles are brought onto its fair surface first: each side is carried along a steady direction d (the mean
// over some 100 mm, engine/chart/steady.h) onto the plane square to the triangle's mean smoothed normal n. Seen as a
// graph over d, that is its own footprint with the slope of n, of area (A . d) / (n . d) for the vector area A: the
// scanner's noise enters only by what is left of it in n, squared, while a projection along n itself would let the
// noise in n pick up the triangle's (expand both to second order in the slopes). Lengths are taken on the same sides,
// a1 and a2 from them and the smoothed normals.
//
// Sums over a region come from its rim: for
// each of the three densities a Whitney 1-form (Whitney, "Geometric Integration Theory", 1957) is fixed on the mesh
// edges so that its circulation round every triangle is that triangle's number; along a straight piece p->q inside a
// triangle its integral is sum over edges w_ij (l_i(p) l_j(q) - l_j(p) l_i(q)) in barycentric coordinates l. Any closed
// rim then sums to exactly the area inside (to rounding, about 1e-13 m^2 per metre).
#pragma once

#include <functional>
#include <memory>
#include <vector>

#include "engine/chart/chart.h"

namespace pontata {

// What a directed stretch of seam contributes. Reversing it negates the three sums and keeps the length.
struct EdgeMeasure {
  double area_m2 = 0;   // a0
  double bend_m = 0;    // a1: minus twice the integral of mean curvature
  double gauss = 0;     // a2: integral of Gaussian curvature
  double length_m = 0;  // on the surface

  EdgeMeasure& operator+=(const EdgeMeasure& o);
  EdgeMeasure operator-() const { return {-area_m2, -bend_m, -gauss, length_m}; }
};

// Measures the straight chart segment a->b. What the network takes; tests may pass a flat one.
using EdgeMeter = std::function<EdgeMeasure(LatticePoint a, LatticePoint b)>;

class Metric {
 public:
  // fair_scan: bring the triangles onto the fair surface of their corner normals instead of measuring them as they are.
  Metric(std::shared_ptr<const Chart> chart, bool fair_scan);

  // Walks the triangles under the segment; both ends in the wall (border rounding of a few pitches allowed). What lies
  // outside the wall counts as the stretch of border it cuts off, and holes hold no area, so a closed rim sums to the
  // wall inside it. measure(b, a) is the exact reverse. Lengths of a fair scan are those of its fair surface too.
  EdgeMeasure measure(LatticePoint a, LatticePoint b) const;
  EdgeMeter meter() const;  // keeps what it needs alive

  // The polyline on the surface over segment a->b: every crossing with a mesh edge, ends included, m.
  std::vector<WallPoint> trace(LatticePoint a, LatticePoint b) const;

  // Sums over the whole wall, from the triangles.
  double area() const { return area_; }          // m^2
  double raw_area() const { return raw_area_; }  // m^2 of the triangles themselves

  // First fundamental form at triangle t: surface length^2 of chart step (du, dv) is E du^2 + 2 F du dv + G dv^2.
  struct FirstForm {
    double E = 1, F = 0, G = 1;
  };
  FirstForm first_form(std::uint32_t t) const;
  // a0, a1, a2 of triangle t.
  Vec3 triangle_terms(std::uint32_t t) const;
  // The same without what arrises add to a1: the curvature of the web itself, a1 = -2 H a0.
  Vec3 web_terms(std::uint32_t t) const;

 private:
  std::shared_ptr<const Chart> chart_;
  struct Data;
  std::shared_ptr<const Data> data_;
  double area_ = 0, raw_area_ = 0;
};

// m^3 of a coat of thickness t (m) laid on the painted side of a region with these sums: parallel-surface polynomial
// a0 t + a1 t^2/2 + a2 t^3/3 (Encyclopedia of Mathematics, "Parallel surfaces"). Where a narrow strip in a hollow
// arris fills up, its upper surface a0 + a1 t + a2 t^2 shrinks to nothing: from there on the volume stays as it is.
double coat_volume(double area_m2, double bend_m, double gauss, double thickness_m);

}  // namespace pontata
