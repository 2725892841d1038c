// Coats, mixes and what they need: litres of mortar, putty, sand, marble dust and pozzolana per giornata.
//
// Parts and litres of sand are those of dry loose sand, weights those of dry sand. What is really filled into buckets
// is told beside them (damp_sand_L, damp_sand_kg; sand.h).
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/ids.h"
#include "engine/base/result.h"
#include "engine/giornate/measures.h"

namespace pontata {

enum class MixBasis { by_volume, by_weight };

// Parts of lime putty to parts of sand, marble dust and pozzolana.
struct Mix {
  double putty = 1, sand = 1;
  MixBasis basis = MixBasis::by_volume;
  double marble = 0, pozzolana = 0;
};

// "1:2", "1:2 volume", "1 : 2,5 weight"; with more than sand, a word behind each part: "1 : 1 sand : 0.5 marble
// volume", "1 : 2 sand : 0.5 pozzolana". What describe() says reads back too. Volume when not said. Refuses anything
// else, parts outside 0.01 to 100, and a part told twice.
Result<Mix> parse_mix(std::string_view text);
// "1 lime putty : 2 sand, by volume"; "1 lime putty : 1 sand : 0.5 marble dust, by volume".
std::string describe(const Mix& mix);
// The key's own spelling, reads back to the same mix: "1:2 volume".
std::string format_mix(const Mix& mix);

struct Coat {
  std::string name;  // "rinzaffo", "arriccio", "first", "final"
  double thickness_mm = 0;
  Mix mix;
  double grain_mm = 1;  // greatest grain of its sand
};

// What the wall's surface, as it was measured or entered, is. Coats lie upon it or behind it accordingly (ground.h).
enum class SurfaceIs { bare_wall, arriccio };

// The coats below the intonaco, laid on the whole wall weeks before, first laid first. A thickness of 0: left out.
struct GroundSettings {
  Coat rinzaffo{"rinzaffo", 5, {1, 2.5}, 5};   // thrown on for key; common practice, no source
  Coat arriccio{"arriccio", 12, {1, 2.5}, 3};  // teknoring.com, "Arriccio": 10-15 mm. The mix is common practice
  double keys_L_per_m2 = 0;                    // mortar that goes into joints and keys of the bare wall
  // The face of the arriccio: the intonaco is laid on the surface as it is, the ground lies behind it. For a bare wall
  // the ground comes first and the intonaco lies on that; the arriccio of a scanned one is its levelling coat.
  SurfaceIs surface = SurfaceIs::arriccio;
};

// What is bought, kept and carried.
struct SupplySettings {
  double putty_age_months = 12;            // younger putty is warned of; makers say 1 to 12, 1-2 years for fresco
  std::optional<double> putty_solids;      // share of the putty's weight that is lime: its density follows from it
  double quicklime_purity = 0.95;          // share of burnt lime in quicklime; common practice, no source
  bool slakes_own = false;                 // quicklime is bought instead of putty
  double sand_moisture_pct = 0;            // water in the sand as it is measured, % of its dry weight
  std::optional<double> sand_bulking_pct;  // how much more room damp sand takes, as measured; else found from moisture
  double marble_kg_per_L = 1.5;            // loose; from memory
  double pozzolana_kg_per_L = 1.0;         // loose; from memory
  double marble_voids = 0.4, pozzolana_voids = 0.45;  // from memory
  double bucket_L = 12;                               // what one carries up; common practice, no source
  double reserve_pct = 10;                            // bought beyond what the plan needs; common practice, no source
};

// The arriccio that brings a scanned wall true, see engine/plaster/levelling.h. Its mix is ground.arriccio's.
struct LevelSettings {
  double straightedge_m =
      2;                // hollows and bumps shorter than about this are levelled, longer ones are the wall's shape
  double least_mm = 8;  // thinnest arriccio
};

struct PlasterSettings {
  std::vector<Coat> intonaco{{"first", 4, {1, 1.5}},
                             {"final", 3, {1, 1}, 0.5}};  // common practice, no source; first laid first
  double voids = 1.0 / 3.0;                               // of loose sand, "Building Construction V2" §223
  double putty_kg_per_L = 1.40;                           // roseofjericho.co.uk, "Superfine Lime Putty"
  double sand_kg_per_L = 1.45;                            // dry loose, within 1.281-1.602 kg/L (80-100 lb/ft3)
  double margin_mm = 25;  // beyond open edges only, cut away in the evening; common practice
  double waste_pct = 15;  // common practice, no source
  LevelSettings level;
  GroundSettings ground;
  SupplySettings supply;
};

// Weight of the putty: from its solids where they are told, else as entered.
double putty_density(const PlasterSettings& settings);

// Mortar from putty P and sand S (litres): max(S, S (1 - voids) + P). Building Conservation Directory 2022, p. 53, for
// the lean limit. 1:1 with voids 1/3 gives 1.667 L for 2 L of materials.
double mortar_yield_L(double putty_L, double sand_L, double voids);
// The same for a mix by volume with several aggregates, its parts taken as litres: the grains of each (its litres less
// its voids) and the putty, never less than the aggregates' own litres together. Where the putty more than fills the
// voids, how the grains pack plays no part; of leaner mixes it is the most they can give, as if none lay in the voids
// of another.
double mortar_yield_L(const Mix& by_volume, const PlasterSettings& settings);

// The same mix in parts by volume, 1 of putty. By-weight parts are converted through the densities; by-volume parts
// stay. The Chemistry of Paints and Painting, p. 55: recipes by weight and by volume differ and are never to be
// confused.
Mix by_volume(const Mix& mix, const PlasterSettings& settings);

// Sand, marble dust and pozzolana together, in parts.
double aggregates(const Mix& mix);

// What goes into so many litres of mortar.
struct Materials {
  double putty_L = 0, sand_L = 0, putty_kg = 0, sand_kg = 0;  // sand dry and loose
  double marble_L = 0, pozzolana_L = 0, marble_kg = 0, pozzolana_kg = 0;
  double damp_sand_L = 0, damp_sand_kg = 0;  // the same sand as it is measured out, bulked and heavier by its water
  Materials& operator+=(const Materials& other);
};
Materials materials_for(double mortar_L, const Mix& mix, const PlasterSettings& settings);

// Weight of the mortar as it is carried onto the deck: the putty and all aggregates with the water in them, kg. Lime
// putty mortar is beaten up without adding water; what some add is not in it.
double wet_kg(const Materials& materials);

struct CoatNeed : Materials {
  std::string name;
  double thickness_mm = 0;
  double net_L = 0;     // in place, by the parallel-surface formula
  double mortar_L = 0;  // with keys, margin and waste
  std::string note;     // what was converted, in plain words; empty for a mix by volume
  Mix mix;
  double grain_mm = 0;
};

// A coat of this volume, nothing mixed yet.
CoatNeed coat_in_place(const Coat& coat, double thickness_m, double volume_m3);
// The materials and the note of a coat, from its mortar and mix.
void fill_materials(CoatNeed& coat, const PlasterSettings& settings);

struct GiornataNeed : Materials {
  GiornataId id;
  double open_edge_m = 0;  // seam length that meets unpainted wall on the day it is laid
  std::vector<CoatNeed> coats;
  double mortar_L = 0;
};

// Warnings in plain words, of all coats: richer than 1:1, leaner than 1:3 (putty to all aggregates, by volume), by
// weight, a coat thinner or thicker than is usual, thinner than three grains of its sand, damp sand.
std::vector<std::string> mix_warnings(const PlasterSettings& settings);
// The same limits of thickness for each giornata with an intonaco_mm of its own, naming it; its mixes are the
// project's.
std::vector<std::string> own_coat_warnings(std::span<const Giornata> records, const PlasterSettings& settings);

// Refuses a coat thicker than the least concave radius of the patch lets the surface carry (the offset would fold).
// Each coat is laid on the surface made by the one before, and the first on the arriccio: its volume is the difference
// of the two offsets. Where the measured surface is the bare wall, the arriccio lies ground.rinzaffo and
// ground.arriccio before it. A giornata's own intonaco_mm replaces the coats' sum, shared out in their proportion. The
// margin lies on the open edge only, as wide as margin_mm and as thick as the coat.
Result<GiornataNeed> plaster_need(const GiornataMeasure& giornata, const Giornata& record, double open_edge_m,
                                  const PlasterSettings& settings);

// Refuses settings that no plaster can have: no coats, a thickness that is not positive (of the ground: negative), a
// mix without putty or without aggregate, voids outside 0 to 1, densities that are not positive, a negative margin or
// waste, a bucket without litres.
Outcome validate(const PlasterSettings& settings);

struct PlasterTotals : Materials {
  double mortar_L = 0;
};
PlasterTotals plaster_totals(std::span<const GiornataNeed> needs);

}  // namespace pontata
