// Walls with a drawn picture, and proposals for them.
#pragma once

#include "engine/proposal/proposal.h"
#include "tests/fixtures/layouts.h"
#include "tests/fixtures/pictures.h"
#include "tests/proposal/drawn_patches.h"

namespace pontata {

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
    input.draped = fixtures::draped(layout.wall, drawn_patches(width, height, across, up),
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
