// One function per family of shapes, each adding all the triangles of a valid shape. `tolerance` is the greatest
// distance of a chord from the surface, m.
#pragma once

#include "engine/wall/triangle_rows.h"

namespace pontata {

void add_flat(TriangleRows& mesh, const ShapeSpec& spec);
void add_lunette(TriangleRows& mesh, const ShapeSpec& spec, double tolerance);
void add_vault(TriangleRows& mesh, const ShapeSpec& spec, double tolerance);  // barrels
void add_groin(TriangleRows& mesh, const ShapeSpec& spec, double tolerance);
void add_cloister(TriangleRows& mesh, const ShapeSpec& spec, double tolerance);
void add_dome(TriangleRows& mesh, const ShapeSpec& spec, double tolerance);
void add_sail(TriangleRows& mesh, const ShapeSpec& spec, double tolerance);
void add_pendentive(TriangleRows& mesh, const ShapeSpec& spec, double tolerance);
void add_drum(TriangleRows& mesh, const ShapeSpec& spec, double tolerance);
void add_cone(TriangleRows& mesh, const ShapeSpec& spec, double tolerance);
void add_apse(TriangleRows& mesh, const ShapeSpec& spec, double tolerance);
void add_annular(TriangleRows& mesh, const ShapeSpec& spec, double tolerance);

// Sagitta allowed to the chords of an edge that bends within the surface: the sliver between them is lost or gained
// area. In proportion to the tolerance, at most half of it, and at the default at most 2.5e-5 of `reach` (m), which is
// some two areas by the length of the edge, so that the slivers stay near 3e-5 of the wall.
double edge_sagitta(const ShapeSpec& spec, double tolerance, double reach);

// Distances inward from an edge (0 first, `reach` last) for rows that start fine there and grow: steps begin at
// `edge_step`, grow by half of the way made, and stop growing at `step`.
struct InwardRow {
  double inward, step;
};
std::vector<InwardRow> inward_rows(double reach, double step, double edge_step);

}  // namespace pontata
