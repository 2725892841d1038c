// What is bought for a job.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/plaster/slaking.h"

namespace pontata {

struct PurchaseLine {
  std::string material;            // "lime putty", "quicklime", "water", "sand", "marble dust", "pozzolana"
  std::optional<double> grain_mm;  // of sand: its greatest grain
  double litres = 0, kg = 0;       // sand damp as it comes; quicklime without litres
  double dry_L = 0, dry_kg = 0;    // of sand: the same dry and loose; of the rest as above
  double buckets = 0;              // that the litres fill
  double tonnes() const { return kg / 1000; }
};

struct Purchase {
  std::vector<PurchaseLine> lines;
  std::optional<Slaking> slaking;  // where quicklime is slaked instead of buying putty
};
// For these coats together, with the reserve of the settings on everything: lime putty, or quicklime and the water for
// slaking it; sand by the size of its grains, the coarsest first; marble dust; pozzolana. What is not needed is not
// listed.
Purchase purchase_for(std::span<const CoatNeed> coats, const PlasterSettings& settings);

}  // namespace pontata
