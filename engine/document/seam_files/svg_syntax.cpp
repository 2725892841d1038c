#include "engine/document/seam_files/svg_syntax.h"

#include <algorithm>
#include <array>
#include <numbers>
#include <utility>

#include "engine/document/seam_files/svg_scan.h"

namespace pontata {

namespace {

constexpr std::array<std::pair<std::string_view, double>, 7> kPixels{
    {{"", 1}, {"px", 1}, {"pt", 96.0 / 72}, {"pc", 16}, {"mm", 96 / 25.4}, {"cm", 960 / 25.4}, {"in", 96}}};

double radians(double degrees) { return degrees * std::numbers::pi / 180; }

Affine rotation(double degrees) {
  const double c = std::cos(radians(degrees)), s = std::sin(radians(degrees));
  return {c, s, -s, c, 0, 0};
}

std::optional<Affine> one_transform(std::string_view kind, const std::vector<double>& n) {
  if (kind == "matrix" && n.size() == 6) return Affine{n[0], n[1], n[2], n[3], n[4], n[5]};
  if (kind == "translate" && (n.size() == 1 || n.size() == 2)) return Affine{1, 0, 0, 1, n[0], n.size() > 1 ? n[1] : 0};
  if (kind == "scale" && (n.size() == 1 || n.size() == 2)) return Affine{n[0], 0, 0, n.back(), 0, 0};
  if (kind == "rotate" && n.size() == 1) return rotation(n[0]);
  if (kind == "rotate" && n.size() == 3)
    return Affine{1, 0, 0, 1, n[1], n[2]} * rotation(n[0]) * Affine{1, 0, 0, 1, -n[1], -n[2]};
  if (kind == "skewX" && n.size() == 1) return Affine{1, 0, std::tan(radians(n[0])), 1, 0, 0};
  if (kind == "skewY" && n.size() == 1) return Affine{1, std::tan(radians(n[0])), 0, 1, 0, 0};
  return std::nullopt;
}

// Numbers as far as they go.
std::vector<double> some_numbers(SvgScan& scan) {
  std::vector<double> numbers;
  scan.blanks();
  for (auto n = scan.number(); n; n = scan.number()) {
    numbers.push_back(*n);
    scan.comma();
  }
  return numbers;
}

}  // namespace

std::optional<std::vector<double>> svg_numbers(std::string_view text) {
  SvgScan scan(text);
  auto numbers = some_numbers(scan);
  if (!scan.done()) return std::nullopt;
  return numbers;
}

std::optional<double> svg_length(std::string_view text) {
  SvgScan scan(text);
  scan.blanks();
  const auto number = scan.number();
  if (!number) return std::nullopt;
  const std::string_view unit = scan.word();
  scan.blanks();
  if (!scan.done()) return std::nullopt;
  for (const auto& [name, pixels] : kPixels)
    if (name == unit) return *number * pixels;
  return std::nullopt;
}

std::optional<Affine> svg_transform(std::string_view text) {
  SvgScan scan(text);
  Affine all;
  for (scan.comma(); !scan.done(); scan.comma()) {
    const std::string_view kind = scan.word();
    scan.blanks();
    if (!scan.take('(')) return std::nullopt;
    const auto numbers = some_numbers(scan);
    if (!scan.take(')')) return std::nullopt;
    const auto one = one_transform(kind, numbers);
    if (!one) return std::nullopt;
    all = all * *one;
  }
  return all;
}

std::optional<SvgView> svg_view(std::string_view text) {
  const auto n = svg_numbers(text);
  if (!n || n->size() != 4 || !((*n)[2] > 0 && (*n)[3] > 0)) return std::nullopt;
  return SvgView{(*n)[0], (*n)[1], (*n)[2], (*n)[3]};
}

std::optional<Affine> svg_fit(const SvgView& view, double width, double height, std::string_view aspect) {
  double sx = width / view.width, sy = height / view.height;
  double share_x = 0.5, share_y = 0.5;
  if (aspect.find("none") == std::string_view::npos) {
    const bool slice = aspect.find("slice") != std::string_view::npos;
    sx = sy = slice ? std::max(sx, sy) : std::min(sx, sy);
    const auto share = [&](std::string_view least, std::string_view most) {
      if (aspect.find(least) != std::string_view::npos) return 0.0;
      return aspect.find(most) != std::string_view::npos ? 1.0 : 0.5;
    };
    share_x = share("xMin", "xMax");
    share_y = share("YMin", "YMax");
  }
  const Affine fit{sx,
                   0,
                   0,
                   sy,
                   share_x * (width - sx * view.width) - sx * view.x,
                   share_y * (height - sy * view.height) - sy * view.y};
  return std::isfinite(sx * sy) && sx > 0 && sy > 0 ? std::optional(fit) : std::nullopt;
}

}  // namespace pontata
