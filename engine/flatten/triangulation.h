// Constrained Delaunay triangulation of lattice points, grown point by point.
//
// Based on: Lawson, "Software for C1 surface interpolation", 1977 (insertion and edge flips); Sloan, "A fast algorithm
// for generating constrained Delaunay triangulations", 1993 (recovering a wanted edge by flips). Which side a point
// lies on is exact, so the triangles never overlap; which of two diagonals is better is judged in a sheared plane where
// the chart looks like the wall, in floating point, and only decides quality.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <utility>
#include <vector>

#include "engine/base/lattice.h"
#include "engine/base/vec.h"
#include "engine/wall/surface_mesh.h"

namespace pontata {

// Upper triangular map from chart metres to a plane with the wall's lengths: (xx u + xy v, yy v).
struct Shear {
  double xx = 1, xy = 0, yy = 1;
  Vec2 apply(Vec2 p) const { return {xx * p.x + xy * p.y, yy * p.y}; }
  Vec2 invert(Vec2 p) const { return {(p.x - xy * (p.y / yy)) / xx, p.y / yy}; }
};

class Triangulation {
 public:
  // For points inside the box [lo, hi].
  Triangulation(LatticePoint lo, LatticePoint hi, const Shear& shear);

  // Adds a point and returns it; the point that is already there when there is one.
  std::uint32_t insert(LatticePoint p);
  // Makes a-b an edge (or a chain of edges when points lie exactly on it) that no later flip removes, with the region
  // on its left. False when a fixed edge crosses it.
  bool fix(std::uint32_t a, std::uint32_t b);
  // The region: triangles left of the fixed edges, and all that they reach without crossing one. False when the fixed
  // edges do not close it in. From then on only insert_inside adds points.
  bool find_inside();
  // Adds a point strictly inside the region; nullopt (and nothing added) when p is outside, on its rim or there
  // already.
  std::optional<std::uint32_t> insert_inside(LatticePoint p);

  // Flips free edges inside the region, at most `sweeps` times over all of them, where `better(a, b, c, d)` prefers c-d
  // over a-b; a-b is the diagonal of the convex quadrilateral a d b c.
  using Better = std::function<bool(std::uint32_t a, std::uint32_t b, std::uint32_t c, std::uint32_t d)>;
  void improve(const Better& better, int sweeps);
  void restore_delaunay();

  std::size_t size() const { return places_.size() - kFrame; }
  LatticePoint place(std::uint32_t v) const { return places_[v + kFrame]; }
  // Triangles of the region, and for each the one across side k (corner k to k+1), kNoneAcross outside.
  static constexpr std::uint32_t kNoneAcross = 0xffffffffu;
  struct Region {
    std::vector<Triangle> triangles;
    std::vector<Triangle> across;
  };
  Region region() const;

 private:
  static constexpr std::uint32_t kFrame = 3;  // corners of the frame triangle come first
  using Flags = std::array<bool, 3>;
  struct Spot {
    std::uint32_t triangle;
    int edge = -1;    // p lies on this side
    int corner = -1;  // p is this corner
  };
  struct EdgeRef {
    std::uint32_t triangle = kNoneAcross;
    int side = 0;
  };
  Spot locate(LatticePoint p);
  std::uint32_t insert_at(const Spot& spot, LatticePoint p);
  void split(std::uint32_t t, std::uint32_t p);
  void flip(std::uint32_t t, int k);
  bool can_flip(std::uint32_t t, int k) const;
  bool wants_flip(std::uint32_t t, int k) const;
  void legalise_around(std::uint32_t p);
  void legalise();
  int side_of(std::uint32_t t, std::uint32_t other) const;
  void relink(std::uint32_t t, std::uint32_t from, std::uint32_t to);
  void set_fixed(EdgeRef e);
  EdgeRef edge(std::uint32_t a, std::uint32_t b) const;
  std::uint32_t crossed_until(std::uint32_t a, std::uint32_t b,
                              std::vector<std::pair<std::uint32_t, std::uint32_t>>& crossed) const;
  bool flip_away(std::uint32_t a, std::uint32_t b, std::vector<std::pair<std::uint32_t, std::uint32_t>>& crossed);
  std::uint32_t next_around(std::uint32_t t, std::uint32_t v) const;
  int corner_of(std::uint32_t t, std::uint32_t v) const;

  Shear shear_;
  LatticePoint origin_;
  std::vector<LatticePoint> places_;
  std::vector<Vec2> plane_;
  std::vector<std::uint32_t> some_triangle_;  // one per point
  std::vector<Triangle> triangles_, across_;
  std::vector<Flags> fixed_;
  std::vector<char> inside_;
  std::vector<std::pair<std::uint32_t, std::uint32_t>> left_of_;  // directed fixed edges
  std::vector<EdgeRef> stack_;
  std::uint32_t last_ = 0;
};

}  // namespace pontata
