#include "engine/cartoon/seam_index.h"

#include <algorithm>

namespace pontata {
namespace {

Vec2 print(const Pattern& p, std::uint32_t v) { return 1000.0 * p.flat.flat[v]; }

// Per position of a rim, whether a slit's mouth lies there.
std::vector<bool> mouths_of(const Patch& patch, std::size_t rim) {
  std::vector<bool> out(patch.rims[rim].size(), false);
  for (const SlitPlace& s : patch.slits)
    if (s.rim == rim) out[s.left] = out[s.right] = true;
  return out;
}

}  // namespace

void SeamIndex::add(const Pattern& pattern) {
  ++patterns_;
  for (std::size_t r = 0; r < pattern.patch.rims.size(); ++r) {
    const auto& rim = pattern.patch.rims[r];
    const auto mouths = mouths_of(pattern.patch, r);
    for (std::size_t i = 0; i < rim.size(); ++i) {
      const std::size_t next = (i + 1) % rim.size();
      const auto& [from, to] = pattern.patch.rim_steps[r][i];
      prints_[{from, to}] = {patterns_, mouths[i], print(pattern, rim[i]), print(pattern, rim[next])};
    }
  }
}

double SeamIndex::mismatch(const Pattern& pattern) const {
  double worst = 0;
  for (std::size_t r = 0; r < pattern.patch.rims.size(); ++r) {
    const auto& rim = pattern.patch.rims[r];
    const std::size_t n = rim.size();
    const auto mouths = mouths_of(pattern.patch, r);
    const auto across = [&](std::size_t i) -> const Print* {
      const auto& [from, to] = pattern.patch.rim_steps[r][i % n];
      const auto it = prints_.find({to, from});
      return it == prints_.end() ? nullptr : &it->second;
    };
    // The step before i and the one at i belong to one stretch: nothing across either, or one print goes on there,
    // without a mouth on either side. Seen from across the rim runs the other way, the step before begins at this
    // point.
    const auto goes_on = [&](std::size_t i) {
      const Print *before = across(i + n - 1), *here = across(i);
      if (!before || !here) return !before && !here;
      return !mouths[i % n] && !before->mouth && before->pattern == here->pattern;
    };
    std::size_t first = 0;  // a stretch is not to be cut where the rim's list begins
    while (first < n && goes_on(first)) ++first;
    std::vector<Vec2> here, there;
    for (std::size_t k = 0; k < n; ++k) {
      const std::size_t i = first + k;
      const Print* p = across(i);
      if (p && here.empty()) here.push_back(print(pattern, rim[i % n])), there.push_back(p->to);
      if (p) here.push_back(print(pattern, rim[(i + 1) % n])), there.push_back(p->from);
      if (k + 1 < n && goes_on(i + 1)) continue;
      if (here.size() > 1) worst = std::max(worst, fit_rigid(here, there).worst);
      here.clear(), there.clear();
    }
  }
  return worst;
}

}  // namespace pontata
