#include "engine/plaster/batches.h"

#include <fmt/format.h>

#include <cmath>
#include <tuple>

#include "engine/base/units.h"

namespace pontata {

namespace {

template <class Need>
void add_to(MortarSum& sum, const Need& need, double area) {
  sum += need;
  sum.mortar_L += need.mortar_L;
  sum.area_m2 += area;
  ++sum.parts;
}

}  // namespace

void MortarSum::add(const GiornataNeed& need, double area) { add_to(*this, need, area); }
void MortarSum::add(const GroundNeed& need, double area) { add_to(*this, need, area); }

double buckets(double litres, const SupplySettings& supply) { return litres / supply.bucket_L; }

int whole_buckets(double litres, const SupplySettings& supply) {
  constexpr double kSpill = 1e-6;  // of a bucket
  return static_cast<int>(std::ceil(std::min(buckets(litres, supply) - kSpill, 1e9)));
}

std::string batch_words(const CoatNeed& coat, const SupplySettings& supply) {
  const std::string sand = std::string(coat.damp_sand_L > coat.sand_L ? "damp sand" : "sand") + " up to " +
                           format_number(coat.grain_mm) + " mm";
  std::string text;
  for (const auto& [litres, kg, name] : {std::tuple{coat.putty_L, coat.putty_kg, std::string("lime putty")},
                                         {coat.damp_sand_L, coat.damp_sand_kg, sand},
                                         {coat.marble_L, coat.marble_kg, std::string("marble dust")},
                                         {coat.pozzolana_L, coat.pozzolana_kg, std::string("pozzolana")}})
    if (litres > 0)
      text += fmt::format("{}{} buckets ({} L, {} kg) of {}", text.empty() ? "" : ", ",
                          format_fixed(buckets(litres, supply), 1), format_fixed(litres, 1), format_fixed(kg, 1), name);
  return text;
}

}  // namespace pontata
