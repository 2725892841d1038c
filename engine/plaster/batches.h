// Batches of mortar: what is mixed for one giornata, one deck, one week.
#pragma once

#include "engine/plaster/ground.h"

namespace pontata {

// Litres of mortar with all that goes into them, over some giornate or some ground.
struct MortarSum : Materials {
  double mortar_L = 0;
  double area_m2 = 0;
  int parts = 0;  // giornate, or parts of walls
  void add(const GiornataNeed& need, double area);
  void add(const GroundNeed& need, double area);
};

// Buckets that so many litres fill, not rounded; whole ones to carry.
double buckets(double litres, const SupplySettings& supply);
int whole_buckets(double litres, const SupplySettings& supply);

// What is measured out for a coat's batch, as a plasterer reads it: "1.2 buckets (14.0 L, 19.6 kg) of lime putty, 1.7
// buckets (20.4 L, 29.6 kg) of sand up to 1 mm". Sand as it is measured out, damp where it is.
std::string batch_words(const CoatNeed& coat, const SupplySettings& supply);

}  // namespace pontata
