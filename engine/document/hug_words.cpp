#include "engine/document/hug_words.h"

#include <algorithm>
#include <vector>

#include "engine/base/units.h"

namespace pontata {

namespace {

constexpr double kLeastShare = 0.05;  // of the line

std::string seam_words(const Document& document, const HugStretch& s) {
  const auto label = [&](GiornataId id) {
    const Giornata* g = document.giornata(id);
    return g ? label_of(*g) : std::string();
  };
  const std::string one = label(s.one), other = label(s.other);
  if (one.empty() && other.empty()) return "a seam";
  if (one.empty() || other.empty()) return "the rim of " + one + other;
  return "the seam of " + one + " and " + other;
}

std::string words_of(const Document& document, const HugStretch& s) {
  switch (s.what) {
    case HugTarget::contour:
      return "a contour";
    case HugTarget::seam:
      return seam_words(document, s);
    case HugTarget::edge:
      return "the wall's edge";
    case HugTarget::opening:
      return "the edge of an opening";
    case HugTarget::rib:
      return "an arris";
    case HugTarget::nothing:
      break;
  }
  return "nothing";
}

}  // namespace

std::string hug_words(const Document& document, const HuggedLine& line) {
  std::vector<HugStretch> told;
  for (const HugStretch& s : line.stretches) {
    if (s.what == HugTarget::nothing) continue;
    const auto same = std::find_if(told.begin(), told.end(), [&](const HugStretch& t) {
      return t.what == s.what && t.one == s.one && t.other == s.other;
    });
    if (same == told.end())
      told.push_back(s);
    else
      same->length_m += s.length_m;
  }
  std::erase_if(told, [&](const HugStretch& s) { return s.length_m < kLeastShare * line.length_m; });
  while (told.size() > 2)
    told.erase(std::min_element(told.begin(), told.end(),
                                [](const auto& a, const auto& b) { return a.length_m < b.length_m; }));
  if (told.empty()) return "straight: nothing near to follow";
  std::string says = "follows ";
  for (std::size_t k = 0; k < told.size(); ++k)
    says += (k > 0 ? ", then " : "") + words_of(document, told[k]) + ", " + format_fixed(told[k].length_m, 2) + " m";
  return says;
}

}  // namespace pontata
