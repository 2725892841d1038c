// Seams of a wall as a drawing for other programs: outlines of giornate, the wall's border, openings and zones.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/document/document.h"

namespace pontata {

struct TakenPath {
  std::string kind;   // "giornata", "border", "opening", "zone"
  std::string label;  // of a giornata "14a", of a zone "keep-whole" or "detail"
  std::string name;   // the painter's words
  std::uint32_t id = 0;
  std::vector<Ring> rings;                // outer rings counter-clockwise, holes clockwise
  std::optional<double> rate_m2_per_h{};  // of a detail zone
  std::string subject{};                  // likewise; empty: none
};

struct SeamsTaken {
  std::string wall;
  double width = 0, height = 0;  // of the chart, m
  std::vector<TakenPath> paths;  // border, openings, giornate by number, zones
};

SeamsTaken take_out_seams(const Document& doc, const WallItem& item);

// SVG 1.1. One user unit is 1 m of the chart, the page its true size in mm. Path data are u and v themselves, to 10
// decimals (the lattice's pitch is 3.7e-9 m); one transform round everything turns v up: y = height - v. Groups named
// wall, openings, giornata-14a and zones, with titles; ids, names and kinds and, of zones, rates and subjects in
// attributes of the namespace urn:x-pontata:seams.
std::string seams_svg(const SeamsTaken& seams);

// ASCII DXF of the release of 2000 (AC1015): closed LWPOLYLINE, x = u and y = v in metres ($INSUNITS 6), layers wall,
// openings, "giornata 14a" and zones; ids, names, kinds, rates and subjects in extended data of the application
// PONTATA. Rings of one path share its key.
std::string seams_dxf(const SeamsTaken& seams);

}  // namespace pontata
