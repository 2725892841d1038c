// A whole layout proposed from picture, zones, rates, hours and decks: something to argue with.
//
// The wall is parted into some thousand small pieces whose rims follow the picture's contours (atoms.h). Pieces are
// gathered into giornate pontata by pontata: each connected, within the day's hours, none cutting a keep-whole zone, at
// the least cost of seam, a metre on smooth ground costing many times one on a contour (gather.h). Then every seam
// is led along the contours exactly, as Hug does (lines.h), and all are laid into the network at once.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "engine/calendar/calendar.h"
#include "engine/chart/ribs.h"
#include "engine/picture/contours.h"
#include "engine/seams/network.h"

namespace pontata {

struct ProposalSettings {
  double size = 1.0;           // size preference: share of the day's hours that a giornata may fill, 0.2 to 1
  double contours = 0.9;       // how strictly seams follow contours, 0 (short and straight) to 1
  int atoms = 2000;            // small pieces that the wall is parted into, about
  std::uint32_t seed = 1;      // another one, another layout
  bool from_existing = false;  // improve the giornate that are there instead of starting anew
};

struct ProposalInput {
  WallRef wall;
  const Network* network = nullptr;
  std::span<const Giornata> giornate;  // of the project
  std::span<const Zone> zones;
  std::shared_ptr<const ContourField> contours;  // may be null: seams are short and straight
  DrapedRef draped{};                            // may be null
  std::shared_ptr<const WallRibs> ribs{};        // may be null
  CalendarSettings calendar;                     // rates, window, decks, reach
  std::optional<double> hours;                   // of painting a giornata; default: painting_window_h(calendar)
  std::vector<GiornataId> keep;                  // these stay as they are; all others make room
  double tip_mm = 60, contour_mm = 10;
  std::optional<double> foot_m;  // of the project's walls, for decks that are assumed
  std::uint32_t first_id = 1;    // ids from here on are free
};

// A keep-whole zone that alone needs more than the hours.
struct OverfullZone {
  ZoneId zone;
  std::string name;
  double hours = 0;
};

struct Proposal {
  Network network;                 // the wall with the giornate kept and the new ones
  std::vector<GiornataId> fresh;   // the new ones, from the highest deck down
  std::vector<int> deck;           // of each: index into `decks`
  std::vector<double> decks;       // m, rising
  double hours_each = 0;           // allowed
  std::vector<double> deck_hours;  // by deck: hours of painting of what was laid out there
  std::size_t fewest = 0;          // the sum over decks of their hours over hours_each, rounded up
  std::vector<OverfullZone> overfull;
  double seam_cost = 0;              // of the layout on its atoms, in metres of smooth ground
  std::vector<std::string> remarks;  // what could not be kept to, plain words
};

// Refuses, naming what to do: no rate that tells the hours, hours of 0, a wall with nothing left to lay out. Expected
// 2 s for 2,000 atoms. Cancelled: Problem "stopped". The same input gives the same layout.
Result<Proposal> propose_layout(const ProposalInput& input, const ProposalSettings& settings = {},
                                Progress* progress = nullptr);

}  // namespace pontata
