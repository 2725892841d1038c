// The small languages inside the attributes of an SVG: numbers, lengths, transforms, views, path data.
//
// Based on: "Scalable Vector Graphics (SVG) 1.1 (Second Edition)", W3C Recommendation, 16 August 2011,
// sections 4.2, 7.2, 7.6, 7.8, 8.3 and 9.7.1. https://www.w3.org/TR/SVG11/
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/document/seam_files/curves.h"
#include "engine/document/seam_files/drawing.h"

namespace pontata {

// Each nullopt where the text is not wholly what it should be; numbers are finite.
std::optional<std::vector<double>> svg_numbers(std::string_view text);  // with blanks or a comma between
std::optional<double> svg_length(std::string_view text);  // in px of 1/96 in; units px, pt, pc, mm, cm, in; no % or em
std::optional<Affine> svg_transform(std::string_view text);  // a list, the first outermost

struct SvgView {
  double x = 0, y = 0, width = 0, height = 0;  // viewBox
};
std::optional<SvgView> svg_view(std::string_view text);  // sizes above 0
// Brings the view into a frame of that size at (0, 0), as preserveAspectRatio (empty: its default) says.
std::optional<Affine> svg_fit(const SvgView& view, double width, double height, std::string_view aspect);

// Path data laid by `map`, its subpaths appended. A problem says at which character.
Outcome add_svg_path(std::vector<DrawnLine>& lines, std::string_view data, const Affine& map, double tolerance);

}  // namespace pontata
