// Leads a closed outline over a surface, splitting the triangles under it. Internal to engine/chart.
#pragma once

#include <optional>
#include <vector>

#include "engine/chart/cut_mesh.h"

namespace pontata {

class OutlineWay {
 public:
  // The ring runs counter-clockwise and does not cross itself.
  OutlineWay(CutMesh& mesh, const Ring& ring) : mesh_(mesh), ring_(ring), border_(mesh.border_points()) {}

  // Marks the way of the ring on the mesh (CutMesh::mark); what lies outside the surface is passed over. False where
  // the surface has no room for it.
  bool run();
  bool met_surface() const { return met_; }  // some of it lies on the surface

 private:
  struct Hit {
    long double along = 2;
    CutMesh::Side edge;
    LatticePoint place;
  };
  bool lead_to(LatticePoint from, LatticePoint target);
  // One point further; false, with nothing done, where the way leaves the surface at once.
  bool step(LatticePoint from, LatticePoint target, bool& arrived, bool& failed);
  bool cross(CutMesh::Side opposite, LatticePoint from, LatticePoint target, bool& failed);
  bool enter(LatticePoint target, bool& arrived);
  void hit_edge(CutMesh::Side edge, LatticePoint target, Hit& best) const;
  bool move_to(std::optional<std::uint32_t> next);
  void come_to(std::uint32_t v);

  CutMesh& mesh_;
  Ring ring_;
  std::vector<std::uint32_t> border_;
  bool outside_ = false, met_ = false;
  std::uint32_t at_ = CutMesh::kNone;  // point of the surface the way has come to; outside: the last one it left
  LatticePoint out_;                   // where the way is outside
};

}  // namespace pontata
