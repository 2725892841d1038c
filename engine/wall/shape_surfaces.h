// The exact surfaces behind shape_point and tessellate: place, normal and chart place of a point told by the natural
// coordinates of its shape, all in the wall's own frame. Angles in radians, lengths in m; `side` is +1 or -1.
#pragma once

#include "engine/wall/shape_profile.h"
#include "engine/wall/shapes.h"

namespace pontata {

struct SurfacePoint {
  Vec3 place, normal;
  Vec2 address;
};

SurfacePoint plane_point(double x, double z);  // flat, lunette

// Barrels: chi on the side of y > 0 (side +1) or y < 0.
SurfacePoint vault_point(const HalfProfile& profile, double x, double side, double chi);

// Groin and cloister stand over a plan |x| <= a, |y| <= b. A web is `over x` when its height depends on x alone, so
// that its straight lines run along y; `line` is the place on them.
struct CrossVault {
  double a = 0, b = 0;
  HalfProfile over_length, over_span;
  const HalfProfile& over(bool x) const { return x ? over_length : over_span; }
};
CrossVault cross_vault(const ShapeSpec& spec);
// Share of the half side where chi stands, the same on both profiles.
double plan_share(const CrossVault& vault, double chi);
SurfacePoint groin_point(const CrossVault& vault, bool over_x, double side, double chi, double line);
SurfacePoint cloister_point(const CrossVault& vault, bool over_x, double side, double chi, double line);

// Dome, sail, pendentive: theta from the crown, phi about the axis. The springing stands at `foot` from the crown;
// `origin` is the crown's chart place.
struct SphereFrame {
  double radius = 0, foot = 0;
  Vec2 origin;
};
SphereFrame sphere_frame(const ShapeSpec& spec);
SurfacePoint sphere_point(const SphereFrame& frame, double theta, double phi);
SurfacePoint sphere_point(const SphereFrame& frame, const Vec3& from_centre);  // z up, |from_centre| = radius

// A direction in plan, phi from the side of x < 0 over y > 0. At the end of a full turn it is the very direction of its
// beginning, so that both sides of the cut have the same places.
struct Turn {
  double phi = 0, cosine = 1, sine = 0;
  Vec3 out(double r, double z) const { return {-r * cosine, r * sine, z}; }
};
Turn turn_at(double angle, double fraction);

SurfacePoint drum_point(double radius, double z, const Turn& turn);
SurfacePoint cone_point(const ShapeSpec& spec, double fraction_up, const Turn& turn);
// Half dome above a half drum: theta is the elevation.
SurfacePoint apse_dome_point(const ShapeSpec& spec, double theta, const Turn& turn);
// side +1: the half of the section toward the outer springing.
SurfacePoint annular_point(const ShapeSpec& spec, double side, double chi, const Turn& turn);

}  // namespace pontata
