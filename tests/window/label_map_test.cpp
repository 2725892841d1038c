#include "editor/view/label_map.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "engine/base/predicates.h"

using namespace pontata;

namespace {

Ring ring_of(std::initializer_list<ChartPoint> points) {
  Ring ring;
  for (const ChartPoint p : points) ring.push_back(to_lattice(p));
  return ring;
}

}  // namespace

TEST_CASE("a face with a hole fills its inside and leaves the hole free") {
  const std::vector<Ring> rings{ring_of({{0, 0}, {4, 0}, {4, 4}, {0, 4}}), ring_of({{1, 1}, {1, 3}, {3, 3}, {3, 1}})};
  const std::vector<LabelledFace> faces{labelled_face(3, rings)};
  const LabelMap map = make_label_map({{-1, -1}, {6, 6}, 60, 60}, faces);
  CHECK(map.at(15, 15) == 3);  // chart 0.55, 0.55
  CHECK(map.at(30, 30) == 0);  // the hole
  CHECK(map.at(5, 30) == 0);   // outside
  std::size_t filled = 0;
  for (const auto label : map.labels) filled += label == 3;
  CHECK(filled == 1600 - 400);  // 16 - 4 m^2 at 100 pixels a m^2
}

TEST_CASE("every pixel's label agrees with an exact test of its middle") {
  // Outside reference: the exact even-odd predicate on the same ring.
  std::mt19937 random(7);
  std::uniform_real_distribution<double> place(0.0, 5.0);
  for (int trial = 0; trial < 20; ++trial) {
    Ring ring;
    for (int i = 0; i < 12; ++i) {
      const double angle = 2 * 3.14159265358979 * i / 12, reach = 0.4 + place(random) / 2.5;
      ring.push_back(to_lattice(ChartPoint{2.5 + reach * std::cos(angle), 2.5 + reach * std::sin(angle)}));
    }
    const std::vector<LabelledFace> faces{labelled_face(1, std::vector<Ring>{ring})};
    const LabelMap map = make_label_map({{0, 0}, {5, 5}, 83, 71}, faces);
    int wrong = 0;
    for (int row = 0; row < 71; ++row)
      for (int column = 0; column < 83; ++column) {
        const LatticePoint middle = to_lattice(ChartPoint{(column + 0.5) * 5 / 83, (row + 0.5) * 5 / 71});
        const int inside = point_in_ring(ring, middle);
        if (inside != 0) wrong += (map.at(column, row) == 1) != (inside > 0);
      }
    CHECK(wrong == 0);
  }
}

TEST_CASE("faces outside the window and windows outside every face leave it empty") {
  const std::vector<LabelledFace> faces{labelled_face(2, std::vector<Ring>{ring_of({{0, 0}, {1, 0}, {1, 1}})})};
  for (const auto label : make_label_map({{5, 5}, {1, 1}, 8, 8}, faces).labels) CHECK(label == 0);
  for (const auto label : make_label_map({{0, 0}, {1, 1}, 8, 8}, {}).labels) CHECK(label == 0);
}

TEST_CASE("a face that begins left of the window is filled from its edge") {
  const std::vector<LabelledFace> faces{
      labelled_face(1, std::vector<Ring>{ring_of({{-9, -9}, {9, -9}, {9, 9}, {-9, 9}})})};
  for (const auto label : make_label_map({{0, 0}, {1, 1}, 16, 16}, faces).labels) CHECK(label == 1);
}
