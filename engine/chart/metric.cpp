#include "engine/chart/metric.h"

#include <array>
#include <cmath>

#include "engine/chart/arris.h"
#include "engine/chart/fair_border.h"
#include "engine/chart/forms.h"
#include "engine/chart/steady.h"
#include "engine/chart/walk.h"

namespace pontata {

EdgeMeasure& EdgeMeasure::operator+=(const EdgeMeasure& o) {
  area_m2 += o.area_m2, bend_m += o.bend_m, gauss += o.gauss, length_m += o.length_m;
  return *this;
}

// Circulation of the three 1-forms along edge k of triangle t; the neighbour's is the exact negative.
struct Metric::Data {
  std::vector<std::array<Vec3, 3>> circulation;
  std::vector<double> arris;   // what arrises add to a1, by triangle; empty where there are none
  std::vector<Vec3> steady;    // by triangle, see steady.h; empty where the triangles count as they are
  std::vector<double> border;  // by border edge of a fair scan: its length over that of its triangle's side
};

namespace {

struct TriangleFrame {
  Vec3 e1, e2;  // sides from corner 0
  Vec3 f1, f2;  // how the corner normals differ along them
  Vec3 face;    // unit, square to the sides
};

TriangleFrame frame_of(const SurfaceMesh& mesh, std::uint32_t t, const std::vector<Vec3>& steady) {
  const auto& [i, j, k] = mesh.triangles[t];
  const auto& [p, q, r] = mesh.corner_normals[t];
  TriangleFrame f;
  f.e1 = mesh.points[j] - mesh.points[i], f.e2 = mesh.points[k] - mesh.points[i];
  f.f1 = mesh.normals[q] - mesh.normals[p], f.f2 = mesh.normals[r] - mesh.normals[p];
  const Vec3 mean = mesh.normals[p] + mesh.normals[q] + mesh.normals[r];
  const Vec3 own = glm::cross(f.e1, f.e2);
  f.face = glm::normalize(!steady.empty() || own == Vec3{0, 0, 0} ? mean : own);
  if (!steady.empty())  // onto the plane square to `face`
    for (Vec3* side : {&f.e1, &f.e2}) *side -= glm::dot(*side, f.face) / glm::dot(steady[t], f.face) * steady[t];
  return f;
}

// Area of x + s n, seen along `face`: half of face . (e1 + s f1) x (e2 + s f2).
Vec3 terms_of(const TriangleFrame& f) {
  return 0.5 * Vec3{glm::dot(f.face, glm::cross(f.e1, f.e2)),
                    glm::dot(f.face, glm::cross(f.e1, f.f2) + glm::cross(f.f1, f.e2)),
                    glm::dot(f.face, glm::cross(f.f1, f.f2))};
}

// Neumaier's sum: the total stays exact to a few units in the last place.
struct Sum {
  double value = 0, rest = 0;
  void add(double x) {
    const double next = value + x;
    rest += std::abs(value) >= std::abs(x) ? (value - next) + x : (x - next) + value;
    value = next;
  }
  double total() const { return value + rest; }
};

// Fair length of every border edge over that of its side in its triangle.
std::vector<double> border_shares(const Chart& chart, const std::vector<Vec3>& steady) {
  std::vector<double> shares = fair_border_lengths(chart);
  for (std::uint32_t e = 0; e < shares.size(); ++e) {
    const auto& edge = chart.border_edges()[e];
    const auto frame = frame_of(chart.mesh(), edge.triangle, steady);
    const Vec3 side = edge.side == 0 ? frame.e1 : (edge.side == 1 ? frame.e2 - frame.e1 : -frame.e2);
    const double length = glm::length(side);
    shares[e] = length > 0 && chart.across_cut(e) == Chart::kNoTriangle ? shares[e] / length : 1;
  }
  return shares;
}

// The border edge that a piece lies along, to the rounding of seams on it; kNoTriangle for none.
std::uint32_t border_edge_under(const Chart& chart, const Stretch& piece) {
  constexpr double kOn = 1e-5;
  for (int k = 0; k < 3; ++k) {
    const int opposite = (k + 2) % 3;
    if (piece.from[opposite] < kOn && piece.to[opposite] < kOn && chart.across(piece.triangle, k) == Chart::kNoTriangle)
      return chart.border_edge_from(chart.mesh().triangles[piece.triangle][static_cast<std::size_t>(k)]);
  }
  return Chart::kNoTriangle;
}

constexpr std::uint8_t kUnseen = 255;

// The edge of each triangle that leads toward the outer border, breadth first from there, and the order of the visit.
std::vector<std::uint32_t> grow_tree(const Chart& chart, std::vector<std::uint8_t>& outward) {
  outward.assign(chart.mesh().triangles.size(), kUnseen);
  std::vector<std::uint32_t> order;
  order.reserve(outward.size());
  const auto [begin, end] = chart.loop_range(0);
  for (auto e = begin; e < end; ++e) {
    const auto& edge = chart.border_edges()[e];
    if (outward[edge.triangle] != kUnseen) continue;
    outward[edge.triangle] = static_cast<std::uint8_t>(edge.side);
    order.push_back(edge.triangle);
  }
  for (std::size_t i = 0; i < order.size(); ++i) {
    const auto t = order[i];
    for (int k = 0; k < 3; ++k) {
      const auto other = chart.across(t, k);
      if (other == Chart::kNoTriangle || outward[other] != kUnseen) continue;
      for (int j = 0; j < 3; ++j)
        if (chart.across(other, j) == t) outward[other] = static_cast<std::uint8_t>(j);
      order.push_back(other);
    }
  }
  return order;
}

// From the leaves inward each triangle leaves what is missing to its number on its outward edge; all edges off the
// tree, those of holes among them, carry nothing. So a rim round a hole counts the wall inside it only.
std::vector<std::array<Vec3, 3>> fix_circulation(const Chart& chart, const std::vector<Vec3>& terms) {
  std::vector<std::array<Vec3, 3>> circulation(terms.size(), {Vec3{0, 0, 0}, Vec3{0, 0, 0}, Vec3{0, 0, 0}});
  std::vector<std::uint8_t> outward;
  const auto order = grow_tree(chart, outward);
  for (auto i = order.rbegin(); i != order.rend(); ++i) {
    const std::uint32_t t = *i;
    const std::size_t k = outward[t];
    const Vec3 rest = terms[t] - circulation[t][(k + 1) % 3] - circulation[t][(k + 2) % 3];
    circulation[t][k] = rest;
    const auto other = chart.across(t, static_cast<int>(k));
    if (other == Chart::kNoTriangle) continue;
    for (std::size_t j = 0; j < 3; ++j)
      if (chart.across(other, static_cast<int>(j)) == t) circulation[other][j] = -rest;
  }
  return circulation;
}

}  // namespace

Metric::Metric(std::shared_ptr<const Chart> chart, bool fair_scan) : chart_(std::move(chart)) {
  const auto& mesh = chart_->mesh();
  auto data = std::make_shared<Data>();
  if (fair_scan) data->steady = steady_directions(mesh), data->border = border_shares(*chart_, data->steady);
  data->arris = arris_bends(*chart_);
  std::vector<Vec3> terms(mesh.triangles.size());
  Sum area, raw;
  for (std::uint32_t t = 0; t < terms.size(); ++t) {
    const auto frame = frame_of(mesh, t, data->steady);
    terms[t] = terms_of(frame);
    if (!data->arris.empty()) terms[t].y += data->arris[t];
    area.add(terms[t].x);
    const auto& [i, j, k] = mesh.triangles[t];
    const Vec3 corner = mesh.points[i];
    raw.add(0.5 * glm::length(glm::cross(mesh.points[j] - corner, mesh.points[k] - corner)));
  }
  area_ = area.total(), raw_area_ = raw.total();
  data->circulation = fix_circulation(*chart_, terms);
  data_ = std::move(data);
}

EdgeMeasure Metric::measure(LatticePoint a, LatticePoint b) const {
  if (b < a) return -measure(b, a);
  Vec3 sums{0, 0, 0};
  double length = 0;
  for (const auto& piece : walk(*chart_, a, b)) {
    const Vec3 cross = glm::cross(piece.from, piece.to);  // z belongs to edge 0-1, x to 1-2, y to 2-0
    const auto& w = data_->circulation[piece.triangle];
    sums += cross.z * w[0] + cross.x * w[1] + cross.y * w[2];
    const auto frame = frame_of(chart_->mesh(), piece.triangle, data_->steady);
    const double own = glm::length((piece.to.y - piece.from.y) * frame.e1 + (piece.to.z - piece.from.z) * frame.e2);
    const auto edge = data_->border.empty() ? Chart::kNoTriangle : border_edge_under(*chart_, piece);
    length += edge == Chart::kNoTriangle ? own : own * data_->border[edge];
  }
  return {sums.x, sums.y, sums.z, length};
}

EdgeMeter Metric::meter() const {
  return [metric = *this](LatticePoint a, LatticePoint b) { return metric.measure(a, b); };
}

std::vector<WallPoint> Metric::trace(LatticePoint a, LatticePoint b) const {
  std::vector<WallPoint> line;
  for (const auto& piece : walk(*chart_, a, b)) {
    if (line.empty()) line.push_back({piece.triangle, piece.from});
    line.push_back({piece.triangle, piece.to});
  }
  return line;
}

Metric::FirstForm Metric::first_form(std::uint32_t t) const {
  const auto frame = frame_of(chart_->mesh(), t, data_->steady);
  const auto& [i, j, k] = chart_->mesh().triangles[t];
  const ChartPoint a = to_chart(chart_->places()[i]), b = to_chart(chart_->places()[j]),
                   c = to_chart(chart_->places()[k]);
  const auto form = linear_form(frame.e1, frame.e2, {b.u - a.u, b.v - a.v}, {c.u - a.u, c.v - a.v});
  return {form.E, form.F, form.G};
}

Vec3 Metric::triangle_terms(std::uint32_t t) const {
  Vec3 terms = web_terms(t);
  if (!data_->arris.empty()) terms.y += data_->arris[t];
  return terms;
}

Vec3 Metric::web_terms(std::uint32_t t) const { return terms_of(frame_of(chart_->mesh(), t, data_->steady)); }

namespace {

// Thickness at which the coat's upper surface a0 + a1 s + a2 s^2 has shrunk to nothing; `most` where it has not by
// then.
double full_thickness(double a0, double a1, double a2, double most) {
  const double discriminant = a1 * a1 - 4 * a2 * a0;
  if (!(a0 > 0) || discriminant < 0) return most;
  const double q = -0.5 * (a1 + std::copysign(std::sqrt(discriminant), a1));  // roots q / a2 and a0 / q
  double full = most;
  for (const double root : {a2 == 0 ? 0 : q / a2, q == 0 ? 0 : a0 / q})
    if (root > 0 && root < full) full = root;
  return full;
}

}  // namespace

double coat_volume(double area_m2, double bend_m, double gauss, double thickness_m) {
  const double t = full_thickness(area_m2, bend_m, gauss, thickness_m);
  return t * (area_m2 + t * (bend_m / 2 + t * gauss / 3));
}

}  // namespace pontata
