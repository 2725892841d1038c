#include "engine/cartoon/seam_index.h"

#include <algorithm>

namespace pontata {
namespace {

Vec2 print(const Pattern& p, std::uint32_t v) { return 1000.0 * p.flat.flat[v]; }

}  // namespace

void SeamIndex::add(const Pattern& pattern) {
  for (std::size_t r = 0; r < pattern.patch.rims.size(); ++r) {
    const auto& rim = pattern.patch.rims[r];
    for (std::size_t i = 0; i < rim.size(); ++i) {
      const auto& [from, to] = pattern.patch.rim_steps[r][i];
      prints_[{from, to}] = {&pattern, print(pattern, rim[i]), print(pattern, rim[(i + 1) % rim.size()])};
    }
  }
}

double SeamIndex::mismatch(const Pattern& pattern) const {
  double worst = 0;
  for (std::size_t r = 0; r < pattern.patch.rims.size(); ++r) {
    const auto& rim = pattern.patch.rims[r];
    const std::size_t n = rim.size();
    const auto across = [&](std::size_t i) -> const Print* {
      const auto& [from, to] = pattern.patch.rim_steps[r][i % n];
      const auto it = prints_.find({to, from});
      return it == prints_.end() ? nullptr : &it->second;
    };
    const auto other = [&](std::size_t i) {
      const Print* p = across(i);
      return p ? p->pattern : nullptr;
    };
    std::size_t first = 0;  // a stretch is not to be cut where the rim's list begins
    while (first < n && other(first + n - 1) == other(first)) ++first;
    std::vector<Vec2> here, there;
    for (std::size_t k = 0; k < n; ++k) {
      const std::size_t i = first + k;
      const Print* p = across(i);
      if (p && here.empty()) here.push_back(print(pattern, rim[i % n])), there.push_back(p->to);
      if (p) here.push_back(print(pattern, rim[(i + 1) % n])), there.push_back(p->from);
      if (k + 1 < n && other(i + 1) == other(i)) continue;
      if (here.size() > 1) worst = std::max(worst, fit_rigid(here, there).worst);
      here.clear(), there.clear();
    }
  }
  return worst;
}

}  // namespace pontata
