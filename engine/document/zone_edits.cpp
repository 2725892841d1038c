#include "engine/document/seam_edits.h"

namespace pontata {

Result<Edited> change_zone(const Document&, ZoneId, const ZoneChange&) {
  return Problem{"this edit cannot be made yet", "", ""};
}

}  // namespace pontata
