#include "engine/review/heat_line.h"

namespace pontata {

const std::array<HeatGrade, kHeatGrades>& heat_grades() {
  static constexpr std::array<HeatGrade, kHeatGrades> kGrades{{{0, 0xF3DE8A, 1, "hardly shows"},
                                                               {0.10, 0xE0942F, 1.4, "shows a little"},
                                                               {0.25, 0xB03A2E, 1.9, "shows"},
                                                               {0.45, 0x3F1046, 2.5, "shows plainly"}}};
  return kGrades;
}

std::optional<std::size_t> heat_grade(double shows) {
  if (!(shows > 0)) return std::nullopt;
  std::size_t grade = 0;
  while (grade + 1 < kHeatGrades && shows >= heat_grades()[grade + 1].from_shows) ++grade;
  return grade;
}

std::vector<HeatLine> heat_lines(std::span<const SeamSight> sights) {
  std::vector<HeatLine> lines;
  const SeamSight* before = nullptr;
  for (const SeamSight& s : sights) {
    const auto grade = heat_grade(s.shows);
    if (grade) {
      const bool on = before && before->one == s.one && before->other == s.other && lines.back().grade == *grade &&
                      before->line.back() == s.line.front();
      if (!on) lines.push_back({*grade, {s.line.front()}});
      lines.back().line.insert(lines.back().line.end(), s.line.begin() + 1, s.line.end());
    }
    before = grade ? &s : nullptr;
  }
  return lines;
}

}  // namespace pontata
