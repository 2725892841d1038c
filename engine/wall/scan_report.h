// What intake says to the painter.
#pragma once

#include <string>
#include <string_view>

#include "engine/wall/scan.h"

namespace pontata {

std::string length_words(double m);                                               // "3.2 km", "4.00 m", "12.5 mm"
std::string area_words(double m2);                                                // "4.00 m²", "12.00 cm²"
std::string place_words(const Vec3& p);                                           // "1.250, 0.000, 3.100", m
std::string counted(std::size_t n, std::string_view one, std::string_view many);  // "1 hole", "3 holes"

// What was mended, as counts of everything intake did.
struct Mended {
  std::size_t crowded_edges = 0, handles = 0, needles = 0;
  bool one_sided = false;
  double left_out_m2 = 0;  // smaller parts
  double longest_handle_m = 0;
  double cropped_m2 = 0;
};

// Appends a plain line to report.says for each thing that was done, from the report's own counts and `mended`.
void say_mended(ScanReport& report, const Mended& mended, const ScanOptions& options);
void say_parts(ScanReport& report, const ScanOptions& options);
// From report.hole_list, longest rim first.
void say_holes(ScanReport& report);

}  // namespace pontata
