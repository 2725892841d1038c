// Drawn lines on standard output, and problems that name the points' file.
#pragma once

#include <array>

#include "editor/verbs/project.h"
#include "engine/seams/hug.h"

namespace pontata {

inline Json line_json(const std::vector<ChartPoint>& line) {
  Json json = Json::array();
  for (const auto& p : line) json.push_back({p.u, p.v});
  return json;
}

// Metres of a line on each thing that is hugged; "straight" is what follows nothing.
inline Json follows_json(const HuggedLine& line) {
  constexpr std::array<const char*, kHugTargets> kNames{"straight", "contour", "seam", "edge", "opening", "rib"};
  Json json = Json::object();
  const auto metres = metres_by_target(line);
  for (std::size_t k = 0; k < kHugTargets; ++k) json[kNames[k]] = metres[k];
  return json;
}

// A problem about given points names their file.
template <class T>
Result<T> named(Result<T> result, const std::string& points) {
  if (result) return result;
  Problem problem = result.problem();
  const std::string file = points == "-" ? "standard input" : points;
  problem.where = problem.where.empty() ? file : file + ": " + problem.where;
  return problem;
}

}  // namespace pontata
