// The sums that measures of giornate are made of, gathered along seams and over triangles: for all giornate of a wall,
// or for some of them, bit for bit the same.
#pragma once

#include <limits>
#include <map>
#include <memory>
#include <set>
#include <span>
#include <vector>

#include "engine/base/predicates.h"
#include "engine/chart/charted_wall.h"
#include "engine/giornate/face_locator.h"
#include "engine/giornate/giornata.h"
#include "engine/seams/network.h"

namespace pontata {

// Surface that curves toward the painter with one curvature over one area.
struct Hollow {
  double curvature = 0;  // 1/m, positive toward the painter
  double area = 0;       // m^2
};

// Sums of one giornata while they are made.
struct Gathered {
  std::int64_t area = 0;
  Int128 twice_chart = 0;
  double bend = 0, gauss = 0, perimeter = 0;
  double low = std::numeric_limits<double>::infinity(), high = -std::numeric_limits<double>::infinity();
  std::set<GiornataId> neighbours;
  // m across the fall by which water leaves to a neighbour, less what comes; the same without surface that drops.
  struct Run {
    double all = 0, steep = 0;
  };
  std::map<GiornataId, Run> runs;
  std::vector<Hollow> hollows;        // triangles with a corner inside
  std::set<std::uint32_t> rim;        // triangles under the rim
};

class MeasureGatherer {
 public:
  // Of the giornate that live and have a face here.
  MeasureGatherer(const ChartedWall& wall, const Network& network, std::span<const Giornata> giornate);

  // Those giornate, by id; a giornata's slot is its place in this list.
  const std::vector<GiornataId>& ids() const { return ids_; }
  std::span<const FaceId> faces(std::size_t slot) const;

  // Gathers for all, O(seams + triangles); or for those of these slots, O(their seams + triangles + faces of the wall).
  void gather_all();
  void gather(std::span<const std::size_t> slots);
  const Gathered& at(std::size_t slot) const { return gathered_[slot]; }

 private:
  // Sums of the giornata that a face belongs to, nullptr where there is none.
  Gathered* of(FaceId f) {
    return slot_of_[f.value] < 0 ? nullptr : &gathered_[static_cast<std::size_t>(slot_of_[f.value])];
  }
  bool wanted(const Gathered* g) const { return g && wanted_[static_cast<std::size_t>(g - gathered_.data())]; }
  GiornataId id_of(const Gathered* g) const { return ids_[static_cast<std::size_t>(g - gathered_.data())]; }
  std::vector<SeamId> wanted_seams() const;
  void add_seam(SeamId s);
  void add_half_edge(HalfEdgeId h);
  void add_rim(HalfEdgeId h, Gathered* left, Gathered* right);
  void add_runs(const std::vector<WallPoint>& line, Gathered& left, Gathered& right);
  void add_cuts();
  std::vector<std::uint32_t> wanted_triangles();
  void add_triangle(std::uint32_t t);
  void add_rim_hollows();
  int slot_of_point(std::uint32_t point);
  Hollow hollow_of(std::uint32_t t) const;

  const ChartedWall& wall_;
  const Network& network_;
  std::vector<GiornataId> ids_;
  std::vector<FaceId> faces_;            // of all giornate, one after another
  std::vector<std::size_t> first_face_;  // by slot, and the end
  std::vector<int> slot_of_;             // by face; -1 for none
  std::vector<bool> wanted_;             // by slot
  std::vector<Gathered> gathered_;       // by slot
  std::unique_ptr<FaceLocator> locator_;
  std::vector<int> slot_of_point_;  // by mesh point, where it was asked for
};

}  // namespace pontata
