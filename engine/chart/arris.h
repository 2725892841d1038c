// Arrises: edges at which two webs of a vault meet at an angle, and what a coat gains or loses there.
//
// A coat ends on the bisecting plane of an arris. Where the surface turns by phi between the two normals, a coat of
// thickness t has +- t^2 tan(phi / 2) per metre more than its webs laid one by one, half of it on each side: more where
// the arris juts toward the painter (the wedge between the two webs' coats), less where it is hollow (where they would
// lie double). Elementary geometry of the mitre; at a bent arris the rest is of order t^3 (2e-5 of a 15 mm coat on a
// groin of 2 m). In the parallel-surface polynomial a0 t + a1 t^2/2 + a2 t^3/3 this is a share of a1: tan(phi / 2)
// times the arris's length, on either side; of a triangle cut by a seam each part gets its share by area, so what a
// seam nearer to an arris than one triangle leaves on either side is spread over some centimetres.
#pragma once

#include <vector>

#include "engine/chart/chart.h"

namespace pontata {

// What arrises add to a1 of every triangle, m; empty where the wall has none. An arris is an edge whose two triangles
// have different corner normals at its ends, across a cut too. phi may change along an edge: its two ends' mean counts.
// Edges sharper than 150 degrees between the normals count as 150.
std::vector<double> arris_bends(const Chart& chart);

}  // namespace pontata
