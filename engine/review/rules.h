// The rules one by one, and what they share. See findings.h for what each finds.
#pragma once

#include <map>

#include "engine/giornate/face_locator.h"
#include "engine/review/findings.h"
#include "engine/seams/cut_contacts.h"

namespace pontata {

struct Case {
  const ReviewInput& input;
  const ReviewSettings& settings;
  FaceLocator locator;
  std::map<GiornataId, const Giornata*> records;
  std::map<GiornataId, const GiornataMeasure*> measures;
  std::vector<CutContact> contacts;                 // where the wall was cut open
  std::map<FaceId, std::vector<GiornataId>> hairs;  // rest too narrow to see between giornate: who borders it

  Case(const ReviewInput& in, const ReviewSettings& set);
  const ChartedWall& wall() const { return *input.wall; }
  const Network& network() const { return *input.network; }
  // "giornata 3"; for none "the rest of the wall".
  std::string name(GiornataId id) const;
  // "giornate 3 and 5", "giornata 3 and the rest of the wall".
  std::string names(GiornataId a, GiornataId b) const;
  GiornataId owner_at(ChartPoint p) const;
  // A place drawn beyond a cut as the other side has it; any other place as it is.
  ChartPoint over_cut(ChartPoint p) const;
  // Who lies across a half-edge, looking over a hair of rest to the giornata beyond; none for rest and for the outside.
  GiornataId owner_across(HalfEdgeId h) const;
  // A finding with its place filled in from the chart.
  Finding at(std::string rule, Severity severity, std::vector<GiornataId> giornate, ChartPoint place) const;
};

// m^2: rest smaller than this is a hair left between two outlines, too narrow to see or to plaster.
inline constexpr double kHair = 1e-6;
// Giornate round a face, sorted, each once; those across cuts too.
std::vector<GiornataId> owners_round(const Network& network, std::span<const CutContact> contacts, FaceId face);

using Findings = std::vector<Finding>;
void find_too_large(const Case& c, Findings& out);
void find_crossed_zones(const Case& c, Findings& out);
void find_thin_ends(const Case& c, Findings& out, Progress* progress);
void find_off_contour(const Case& c, Findings& out);
void find_drips(const Case& c, Findings& out, Progress* progress);
void find_gaps(const Case& c, Findings& out);
void find_changed(const Case& c, Findings& out);
void find_across_smooth(const Case& c, Findings& out);
void find_kinks(const Case& c, Findings& out);
void find_four_meets(const Case& c, Findings& out);
void find_in_line(const Case& c, Findings& out);
void find_too_small(const Case& c, Findings& out);
void find_too_wide(const Case& c, Findings& out);
void find_out_of_reach(const Case& c, Findings& out);  // crosses-deck too
void find_lower_first(const Case& c, Findings& out);
void find_impossible_overlaps(const Case& c, Findings& out);
void find_ribs_crossed(const Case& c, Findings& out);  // along-rib and across-rib

// What the surface does at a chart place, by the surface's smoothed normals.
struct Fall {
  std::uint32_t triangle = 0;
  Vec3 position{0, 0, 0};
  Vec3 normal{0, 0, 1};  // toward the painter
  Vec2 down{0, 0},
      level{0, 0};         // chart steps of one surface metre down the slope and along its level line; 0 when level
  double sine = 0;         // of the surface's angle from level
  bool overhangs = false;  // faces down
  // So flat overhead that water may drop off instead of running.
  bool drops() const;
};
std::optional<Fall> fall_at(const ChartedWall& wall, ChartPoint p);

}  // namespace pontata
