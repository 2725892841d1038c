#include <algorithm>

#include "engine/wall/shape_sizes.h"
#include "engine/wall/tessellate_families.h"

namespace pontata {

double edge_sagitta(const ShapeSpec& spec, double tolerance, double reach) {
  return 0.5 * tolerance * std::min(1.0, 5e-5 * reach / default_tolerance(spec));
}

std::vector<InwardRow> inward_rows(double reach, double step, double edge_step) {
  constexpr double kGrowth = 0.5;
  std::vector<InwardRow> rows;
  double inward = 0;
  while (inward < reach * (1 - 1e-12)) {
    rows.push_back({inward, std::min(step, edge_step + kGrowth * inward)});
    inward += rows.back().step;
  }
  for (auto& row : rows) row.inward *= reach / inward;
  rows.push_back({reach, std::min(step, edge_step + kGrowth * reach)});
  return rows;
}

ShapeMesh tessellate(const ShapeSpec& spec, const Placement3& placement, double tolerance) {
  if (!(tolerance > 0)) tolerance = default_tolerance(spec);
  TriangleRows mesh(placement);
  switch (spec.kind) {
    case ShapeKind::flat:
      add_flat(mesh, spec);
      break;
    case ShapeKind::lunette:
      add_lunette(mesh, spec, tolerance);
      break;
    case ShapeKind::barrel:
    case ShapeKind::elliptical_barrel:
    case ShapeKind::pointed_barrel:
      add_vault(mesh, spec, tolerance);
      break;
    case ShapeKind::groin:
      add_groin(mesh, spec, tolerance);
      break;
    case ShapeKind::cloister:
      add_cloister(mesh, spec, tolerance);
      break;
    case ShapeKind::dome:
      add_dome(mesh, spec, tolerance);
      break;
    case ShapeKind::sail:
      add_sail(mesh, spec, tolerance);
      break;
    case ShapeKind::pendentive:
      add_pendentive(mesh, spec, tolerance);
      break;
    case ShapeKind::drum:
      add_drum(mesh, spec, tolerance);
      break;
    case ShapeKind::cone:
      add_cone(mesh, spec, tolerance);
      break;
    case ShapeKind::apse:
      add_apse(mesh, spec, tolerance);
      break;
    case ShapeKind::annular:
      add_annular(mesh, spec, tolerance);
      break;
  }
  return mesh.take();
}

}  // namespace pontata
