#include "engine/seams/bite.h"

namespace pontata {

Result<Bite> take_bite(const Network&, std::span<const Ring>, GiornataId, const std::function<GiornataId()>&,
                       const EdgeMeter&, const Chart*, const SeamHold&) {
  return Problem{"this edit cannot be made yet", "", ""};
}

}  // namespace pontata
