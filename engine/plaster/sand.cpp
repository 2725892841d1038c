#include "engine/plaster/sand.h"

#include <algorithm>
#include <array>
#include <utility>

namespace pontata {

double usual_bulking_pct(double moisture_pct) {
  constexpr std::array<std::pair<double, double>, 9> kTable{
      {{0, 0}, {1, 8}, {2, 15}, {3, 20}, {4, 25}, {5, 30}, {6, 30}, {10, 20}, {20, 0}}};
  if (!(moisture_pct > 0)) return 0;
  const auto* const above =
      std::find_if(kTable.begin(), kTable.end(), [&](auto& at) { return at.first >= moisture_pct; });
  if (above == kTable.end()) return 0;
  const auto& [w1, b1] = *above;
  const auto& [w0, b0] = *(above - 1);
  return b0 + (b1 - b0) * (moisture_pct - w0) / (w1 - w0);
}

double bulking_pct(const SupplySettings& supply) {
  return supply.sand_bulking_pct.value_or(usual_bulking_pct(supply.sand_moisture_pct));
}

}  // namespace pontata
