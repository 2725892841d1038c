// Drawn lines on standard output, and problems that name the points' file.
#pragma once

#include "editor/verbs/project.h"

namespace pontata {

inline Json line_json(const std::vector<ChartPoint>& line) {
  Json json = Json::array();
  for (const auto& p : line) json.push_back({p.u, p.v});
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
