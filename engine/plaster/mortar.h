// Coats, mixes and what they need: litres of mortar, putty and sand per giornata.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/ids.h"
#include "engine/base/result.h"
#include "engine/giornate/measures.h"

namespace pontata {

enum class MixBasis { by_volume, by_weight };

// Parts of lime putty to parts of sand.
struct Mix {
  double putty = 1, sand = 1;
  MixBasis basis = MixBasis::by_volume;
};

// "1:2", "1:2 volume", "1 : 2,5 weight". Refuses anything else, and parts that are not positive.
Result<Mix> parse_mix(std::string_view text);
// "1 lime putty : 2 sand, by volume".
std::string describe(const Mix& mix);
// The key's own spelling, reads back to the same mix: "1:2 volume".
std::string format_mix(const Mix& mix);

struct Coat {
  std::string name;  // "first intonaco", "final intonaco", "arriccio"
  double thickness_mm = 0;
  Mix mix;
};

// The arriccio that brings a scanned wall true, see engine/plaster/levelling.h.
struct LevelSettings {
  double straightedge_m =
      2;                // hollows and bumps shorter than about this are levelled, longer ones are the wall's shape
  double least_mm = 8;  // thinnest arriccio
  Mix mix{1, 2.5};      // common practice, no source
};

struct PlasterSettings {
  std::vector<Coat> intonaco{{"first", 4, {1, 1.5}},
                             {"final", 3, {1, 1}}};  // common practice, no source; first laid first
  double voids = 1.0 / 3.0;                          // of loose sand, "Building Construction V2" §223
  double putty_kg_per_L = 1.40;                      // roseofjericho.co.uk, "Superfine Lime Putty"
  double sand_kg_per_L = 1.45;                       // dry loose, within 1.281-1.602 kg/L (80-100 lb/ft3)
  double margin_mm = 25;                             // beyond open edges only, cut away in the evening; common practice
  double waste_pct = 15;                             // common practice, no source
  LevelSettings level;
};

// Mortar from putty P and sand S (litres): max(S, S (1 - voids) + P). Building Conservation Directory 2022, p. 53, for
// the lean limit. 1:1 with voids 1/3 gives 1.667 L for 2 L of materials.
double mortar_yield_L(double putty_L, double sand_L, double voids);

// The same mix in parts by volume. By-weight parts are converted through the two densities; by-volume parts stay.
// The Chemistry of Paints and Painting, p. 55: recipes by weight and by volume differ and are never to be confused.
Mix by_volume(const Mix& mix, const PlasterSettings& settings);

// What goes into so many litres of mortar.
struct Materials {
  double putty_L = 0, sand_L = 0, putty_kg = 0, sand_kg = 0;
};
Materials materials_for(double mortar_L, const Mix& mix, const PlasterSettings& settings);

struct CoatNeed {
  std::string name;
  double thickness_mm = 0;
  double net_L = 0;     // in place, by the parallel-surface formula
  double mortar_L = 0;  // with margin and waste
  double putty_L = 0, sand_L = 0, putty_kg = 0, sand_kg = 0;
  std::string note;  // what was converted, in plain words; empty for a mix by volume
};

struct GiornataNeed {
  GiornataId id;
  double open_edge_m = 0;  // seam length that meets unpainted wall on the day it is laid
  std::vector<CoatNeed> coats;
  double mortar_L = 0, putty_L = 0, sand_L = 0, putty_kg = 0, sand_kg = 0;
};

// Warnings in plain words: richer than 1:1, leaner than 1:3, a coat thinner or thicker than is usual.
std::vector<std::string> mix_warnings(const PlasterSettings& settings);
// The same limits of thickness for each giornata with an intonaco_mm of its own, naming it; its mixes are the
// project's.
std::vector<std::string> own_coat_warnings(std::span<const Giornata> records, const PlasterSettings& settings);

// Refuses a coat thicker than the least concave radius of the patch lets the surface carry (the offset would fold).
// The second coat is laid on the surface made by the first: its volume is the difference of the two offsets.
// A giornata's own intonaco_mm replaces the coats' sum, shared out in their proportion. The margin lies on the open
// edge only, as wide as margin_mm and as thick as the coat.
Result<GiornataNeed> plaster_need(const GiornataMeasure& giornata, const Giornata& record, double open_edge_m,
                                  const PlasterSettings& settings);

// Refuses settings that no plaster can have: no coats, a thickness or part that is not positive, voids outside 0 to 1,
// densities that are not positive, a negative margin or waste.
Outcome validate(const PlasterSettings& settings);

struct PlasterTotals {
  double mortar_L = 0, putty_L = 0, sand_L = 0, putty_kg = 0, sand_kg = 0;
};
PlasterTotals plaster_totals(std::span<const GiornataNeed> needs);

}  // namespace pontata
