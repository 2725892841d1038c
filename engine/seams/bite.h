// An outline drawn over giornate that are there already, whose overlap goes to what is drawn.
#pragma once

#include <functional>
#include <span>
#include <vector>

#include "engine/seams/outline_edit.h"
#include "engine/seams/seam_hold.h"
#include "engine/seams/seam_names.h"

namespace pontata {

struct Bite {
  Network network;
  double area_m2 = 0;  // of the giornata that took, as it is now
  struct Taken {
    GiornataId from;
    double area_m2 = 0;
  };
  std::vector<Taken> taken;  // by id
  // A giornata that was cut into pieces keeps its largest; every other of at least 1 cm^2 is a giornata of its own.
  struct Part {
    GiornataId of, id;
    double area_m2 = 0;
  };
  std::vector<Part> parts;
  std::vector<OutlineResult::Dropped> dropped;  // pieces of the outline that stay whose they were
  bool overlap_given_up = false;                // part of the outline lay on held giornate
};

// Gives giornata `id` all that the closed outlines cover: rest and, except from held giornate, what other giornate own.
// Of a new giornata that held ones cut into pieces the largest is kept. Where `id` is in use already the outlines are
// added to it: what is connected with it counts. Held giornate keep their overlap as with insert_outlines; when only
// held ground is left inside, the hold's words are the refusal. Pieces below 1 cm^2 that a bite would leave of a
// giornata go to the taker, and overlaps of no more than rounding's width (kSliverWidth) stay whose they were. Ids for
// parts come from `next_id`, called once for each. Refuses what insert_outlines
// refuses, an `id` that is held, and a bite that leaves less than 1 cm^2 of a giornata. Ids are below 2^31.
// Cost: as insert_outlines, plus the rims of the giornate bitten.
Result<Bite> take_bite(const Network& network, std::span<const Ring> outlines, GiornataId id,
                       const std::function<GiornataId()>& next_id, const EdgeMeter& meter, const Chart* chart = nullptr,
                       const SeamHold& hold = {}, const SeamNames& names = {});

}  // namespace pontata
