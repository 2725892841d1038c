// Walls with a drawn picture, and proposals for them.
#pragma once

#include <algorithm>
#include <cmath>

#include "engine/proposal/proposal.h"
#include "tests/fixtures/layouts.h"
#include "tests/fixtures/pictures.h"

namespace pontata {

// Patches of colour with wavy rims, some hundred pixels wide: regions known by their colours.
inline Image patches(int width, int height, int across, int up) {
  Image image;
  image.width = width;
  image.height = height;
  image.rgb.resize(static_cast<std::size_t>(3) * static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
  static constexpr std::array<std::array<std::uint8_t, 3>, 7> kColours{
      {{200, 60, 50}, {60, 110, 190}, {235, 220, 170}, {70, 140, 80}, {120, 70, 130}, {240, 160, 60}, {90, 90, 90}}};
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x) {
      const double u = static_cast<double>(x) / width, v = static_cast<double>(y) / height;
      const int i = static_cast<int>(std::floor(across * u + 0.25 * std::sin(9 * v + 1))),
                j = static_cast<int>(std::floor(up * v + 0.25 * std::sin(8 * u + 2)));
      const auto& colour = kColours[static_cast<std::size_t>(((3 * i + 5 * j) % 7 + 7) % 7)];
      std::copy(colour.begin(), colour.end(), image.rgb.begin() + 3 * (static_cast<std::ptrdiff_t>(y) * width + x));
    }
  return image;
}

struct Proposed {
  layouts::Layout layout;
  ProposalInput input;

  explicit Proposed(const ShapeSpec& spec, const Placement3& placement = {})
      : layout(layouts::on(spec, 0.002, placement)) {
    input.wall = layout.wall;
    input.calendar.rate_m2_per_h = 0.3;
    input.first_id = 1;
  }
  void lay_picture(int across, int up) {
    const ChartBox box = layout.wall->chart->box();
    const int width = 1400, height = static_cast<int>(1400 * box.height / box.width);
    input.draped = fixtures::draped(layout.wall, patches(width, height, across, up),
                                    PictureFrame{{0, 0}, box.width, box.height, 0});
    input.contours = std::make_shared<const ContourField>(contour_field(*input.draped));
  }
  Result<Proposal> propose(const ProposalSettings& settings = {}) {
    input.network = &layout.network;
    input.giornate = layout.giornate;
    return propose_layout(input, settings);
  }
  WallMeasure measure(const Proposal& proposal) const {
    auto records = layout.giornate;
    for (const GiornataId id : proposal.fresh) {
      Giornata g;
      g.id = id;
      records.push_back(g);
    }
    return measure_wall(*layout.wall, proposal.network, records);
  }
};

}  // namespace pontata
