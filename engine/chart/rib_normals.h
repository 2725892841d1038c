// Normals of a scan's triangles, freed of noise but sharp at creases.
#pragma once

#include <vector>

#include "engine/chart/chart.h"

namespace pontata {

// One unit normal per triangle: means over the neighbours, those left out that point elsewhere than noise explains
// (four times the median turn between neighbours), repeated the more the noisier the triangles are. Strips one or two
// triangles wide between turns of `least_deg` or more, as a scanner leaves along a crease, then take the normal of the
// side that is nearer to theirs, so that a crease is one line.
//
// Based on: Zheng, Fu, Au, Tai, "Bilateral Normal Filtering for Mesh Denoising", 2011 (the local scheme, here with
// Tukey's biweight in place of a Gaussian of the difference, so that two sides of a crease never mix).
std::vector<Vec3> rib_normals(const Chart& chart, double least_deg);

}  // namespace pontata
