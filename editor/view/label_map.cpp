#include "editor/view/label_map.h"

#include <algorithm>
#include <cmath>

namespace pontata {
namespace {

struct Crossing {
  int row;
  double column;
  bool operator<(const Crossing& o) const { return row != o.row ? row < o.row : column < o.column; }
};

// Where the edge a-b (in pixels) crosses the middles of rows.
void add_crossings(Vec2 a, Vec2 b, int rows, std::vector<Crossing>& out) {
  if (a.y > b.y) std::swap(a, b);
  const double first = std::ceil(a.y - 0.5), last = std::ceil(b.y - 0.5);  // rows with a.y <= row + 0.5 < b.y
  const int from = static_cast<int>(std::clamp(first, 0.0, static_cast<double>(rows)));
  const int to = static_cast<int>(std::clamp(last, 0.0, static_cast<double>(rows)));
  for (int row = from; row < to; ++row) {
    const double t = (row + 0.5 - a.y) / (b.y - a.y);
    out.push_back({row, a.x + t * (b.x - a.x)});
  }
}

void fill_spans(LabelMap& map, std::vector<Crossing>& crossings, std::uint8_t label) {
  std::sort(crossings.begin(), crossings.end());
  const auto columns = static_cast<double>(map.window.columns);
  for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
    const int from = static_cast<int>(std::clamp(std::ceil(crossings[i].column - 0.5), 0.0, columns));
    const int to = static_cast<int>(std::clamp(std::ceil(crossings[i + 1].column - 0.5), 0.0, columns));
    const auto row = static_cast<std::ptrdiff_t>(crossings[i].row) * map.window.columns;
    if (to > from) std::fill(map.labels.begin() + row + from, map.labels.begin() + row + to, label);
  }
}

}  // namespace

LabelledFace labelled_face(std::uint8_t label, std::span<const Ring> rings) {
  LabelledFace face;
  face.label = label;
  face.low = {1e300, 1e300};
  face.high = {-1e300, -1e300};
  for (const Ring& ring : rings) {
    auto& out = face.rings.emplace_back();
    out.reserve(ring.size());
    for (const LatticePoint p : ring) {
      out.push_back(to_vec(to_chart(p)));
      face.low = glm::min(face.low, out.back());
      face.high = glm::max(face.high, out.back());
    }
  }
  return face;
}

LabelMap make_label_map(const LabelWindow& window, std::span<const LabelledFace> faces) {
  LabelMap map{window, {}, 0};
  map.labels.assign(static_cast<std::size_t>(window.columns) * static_cast<std::size_t>(window.rows), 0);
  const Vec2 scale{window.columns / window.size.x, window.rows / window.size.y};
  std::vector<Crossing> crossings;
  for (const LabelledFace& face : faces) {
    if (face.high.x < window.low.x || face.low.x > window.low.x + window.size.x) continue;
    if (face.high.y < window.low.y || face.low.y > window.low.y + window.size.y) continue;
    map.states |= 1u << (face.label & (kChosenLabel - 1));
    crossings.clear();
    for (const auto& ring : face.rings)
      for (std::size_t i = 0; i < ring.size(); ++i)
        add_crossings((ring[i] - window.low) * scale, (ring[(i + 1) % ring.size()] - window.low) * scale, window.rows,
                      crossings);
    fill_spans(map, crossings, face.label);
  }
  return map;
}

LabelMap halved(const LabelMap& map) {
  LabelMap out{map.window, {}, map.states};
  out.window.columns = std::max(1, map.window.columns / 2);
  out.window.rows = std::max(1, map.window.rows / 2);
  out.labels.reserve(static_cast<std::size_t>(out.window.columns) * static_cast<std::size_t>(out.window.rows));
  for (int row = 0; row < out.window.rows; ++row)
    for (int column = 0; column < out.window.columns; ++column)
      out.labels.push_back(
          map.at(std::min(2 * column + 1, map.window.columns - 1), std::min(2 * row + 1, map.window.rows - 1)));
  return out;
}

}  // namespace pontata
