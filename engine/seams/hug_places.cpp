#include "engine/seams/hug_places.h"

#include <algorithm>
#include <cmath>

#include "engine/chart/first_form.h"
#include "engine/picture/metric_grid.h"
#include "engine/seams/hug_cost.h"

namespace pontata {

namespace {

constexpr std::size_t kMostPlaces = 3;
constexpr double kOnContour = 0.0003;  // m
constexpr double kHalfPiece = 0.6;     // samples of contour to either side of a ridge sample that it stands for
constexpr float kPlain = 8.0f;         // a contour that stands out so far draws clicks from the whole reach
constexpr int kPair = 6;               // samples: how much farther the other edge of a line may lie than its nearer one
constexpr float kAlike = 0.7f;         // of the nearer edge's strength, that the other has at least
constexpr int kApart = 2;              // samples: a place with a nearer one so close by is of the same contour

struct Piece {
  int i = 0, j = 0;
  HugPlace place;
  float strength = 0;
  bool draws = false;  // it stands out enough to draw the click so far
};

// The nearest place of the piece of contour at a ridge sample.
HugPlace nearest_on(const Ridge& ridge, int i, int j, double spacing, const Metric::FirstForm& form, Vec2 p) {
  const auto angle = static_cast<double>(ridge.direction);
  const Vec2 across(std::cos(angle), std::sin(angle)), along(-across.y, across.x);
  const Vec2 middle = (Vec2(i, j) + across * static_cast<double>(ridge.offset)) * spacing;
  const double half = kHalfPiece * spacing;
  const Vec2 at = middle + along * std::clamp(dot(form, p - middle, along) / dot(form, along, along), -half, half);
  return {at, step_length(form, at - p)};
}

std::vector<Piece> pieces_near(const ContourField& field, const Metric::FirstForm& form, Vec2 p, double reach_m,
                               double strength) {
  const double det = form.E * form.G - form.F * form.F;
  const Vec2 box = Vec2(std::sqrt(form.G / det), std::sqrt(form.E / det)) * reach_m + 2 * field.spacing;
  const auto sample = [&](double x, int count) {
    return static_cast<int>(std::clamp(std::floor(x / field.spacing + 0.5), 0.0, count - 1.0));
  };
  std::vector<Piece> pieces;
  for (int j = sample(p.y - box.y, field.rows); j <= sample(p.y + box.y, field.rows); ++j) {
    for (int i = sample(p.x - box.x, field.columns); i <= sample(p.x + box.x, field.columns); ++i) {
      const Ridge ridge = field.at(i, j);
      if (static_cast<double>(ridge.strength) < strength) continue;
      const auto place = nearest_on(ridge, i, j, field.spacing, form, p);
      const float stands = stands_out(ridge, field.busy(i / ContourTile::kBlock, j / ContourTile::kBlock), strength);
      const auto share = static_cast<double>(std::clamp((stands - 1) / (kPlain - 1), 0.0f, 1.0f));
      if (place.off_m <= reach_m)
        pieces.push_back({i, j, place, ridge.strength, place.off_m <= std::max(share * reach_m, kOnContour)});
    }
  }
  std::stable_sort(pieces.begin(), pieces.end(),
                   [](const Piece& a, const Piece& b) { return a.place.off_m < b.place.off_m; });
  // The edges of a dark line draw together, so that a line through several clicks need not change over between them.
  const auto first = std::find_if(pieces.begin(), pieces.end(), [](const Piece& piece) { return piece.draws; });
  if (first == pieces.end()) return {};
  const double most = first->place.off_m + step_length(form, Vec2(kPair * field.spacing, 0));
  const float least = kAlike * first->strength;
  std::erase_if(
      pieces, [&](const Piece& piece) { return !piece.draws && (piece.place.off_m > most || piece.strength < least); });
  return pieces;
}

}  // namespace

std::vector<HugPlace> contour_places(const ChartedWall& wall, const ContourField& field, Vec2 p, double reach_m,
                                     double strength) {
  std::vector<HugPlace> places;
  if (field.columns <= 0 || !(reach_m > 0)) return places;
  const auto pieces = pieces_near(field, form_near(wall, to_chart(p)), p, reach_m, std::max(strength, 1e-3));
  if (!pieces.empty() && pieces[0].place.off_m <= kOnContour) return {{p, 0}};
  for (std::size_t k = 0; k < pieces.size() && places.size() < kMostPlaces; ++k) {
    const auto& piece = pieces[k];
    const bool least = std::none_of(
        pieces.begin(), pieces.begin() + static_cast<std::ptrdiff_t>(k),
        [&](const Piece& n) { return std::abs(n.i - piece.i) <= kApart && std::abs(n.j - piece.j) <= kApart; });
    if (least && wall.chart->triangle_at(to_lattice(to_chart(piece.place.at)))) places.push_back(piece.place);
  }
  return places;
}

}  // namespace pontata
