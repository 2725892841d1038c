// How near Hug comes to contours that people drew on photographs, beside the reference library and a straight line.
// bench_hug_photos [EVERY [FIRST [STROKES [PEER [SNAP [PARTING]]]]]]: every so many photographs beginning with number
// FIRST, of each every so many strokes (1, 0 and 1 where not given); PEER 0 leaves the reference library out; SNAP in
// mm; PARTING: where the contours lie from the maps' pixels, in tenths of a pixel right and down (kParting). Anchors
// lie 60 contour pixels apart; distances are from places half a pixel apart along the line to the nearest pixel on a
// contour of the same person. The dataset's folder is named by PONTATA_BSDS500 (tests/fixtures/human_contours.h).
#include <cstdio>
#include <map>

#include "tests/fixtures/human_contours.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

struct Row {
  std::string name;
  double pixel_m = 0;  // of ours
  std::vector<double> distances;
};

void print(const Row& row) {
  const auto fit = fit_of(row.distances);
  std::printf("%-28s %6.2f %6.2f %6.1f\n", row.name.c_str(), fit.mean, fit.p95, 100 * fit.share);
}

HugOptions options;  // the defaults, but for snap_m

void measure(const DrawnPhotograph& photograph, std::size_t every, bool peer, std::vector<Row>& rows) {
  for (auto& row : rows) {
    std::optional<HungPhotograph> hung;
    std::optional<PeerLine> peer_line;
    if (row.pixel_m > 0) hung.emplace(photograph.image, row.pixel_m);
    if (row.name == "reference library" && peer) peer_line.emplace(photograph.image);
    for (std::size_t k = 0; k < photograph.strokes.size(); k += every) {
      const auto& stroke = photograph.strokes[k];
      const PixelLine line = hung        ? hung->hugged(stroke.from, stroke.to, options)
                             : peer_line ? peer_line->from_to(stroke.from, stroke.to)
                                         : PixelLine{stroke.from, stroke.to};
      add_distances(photograph, stroke.person, line, row.distances);
    }
  }
}

}  // namespace

int main(int count, char** given) {
  const auto folder = photographs_folder();
  if (!folder) {
    std::printf("skipped: PONTATA_BSDS500 names no folder with the photographs\n");
    return 0;
  }
  const auto number = [&](int k, unsigned long otherwise) {
    return k < count ? std::strtoul(given[k], nullptr, 10) : otherwise;
  };
  const std::size_t every = std::max(1ul, number(1, 1)), first = number(2, 0), strokes = std::max(1ul, number(3, 1));
  const bool peer = number(4, 1) != 0;
  options.snap_m =
      0.001 * static_cast<double>(number(5, static_cast<unsigned long>(std::lround(1000 * options.snap_m))));
  const double parting = 0.1 * static_cast<double>(number(6, static_cast<unsigned long>(std::lround(10 * kParting))));
  std::vector<Row> rows{{"1 pixel 1 mm on the wall", 0.001, {}},
                        {"1 pixel 2 mm on the wall", 0.002, {}},
                        {"1 pixel 5 mm on the wall", 0.005, {}},
                        {"1 pixel 10 mm on the wall", 0.010, {}},
                        {"straight line", 0, {}}};
  if (peer) rows.push_back({"reference library", 0, {}});
  std::size_t photographs = 0, total = 0;
  const auto names = photograph_names(*folder);
  for (std::size_t k = first; k < names.size(); k += every) {
    const auto photograph = drawn_photograph(*folder, names[k], parting);
    measure(photograph, strokes, peer, rows);
    ++photographs;
    total += (photograph.strokes.size() + strokes - 1) / strokes;
  }
  std::printf("%zu photographs, %zu strokes\n%-28s %6s %6s %6s\n", photographs, total, "pixels from a person's contour",
              "mean", "p95", "% within 2");
  for (const auto& row : rows) print(row);
}
