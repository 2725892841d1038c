#include "editor/window/known_ground.h"

namespace pontata {

KnownGround::KnownGround(Session& session) {
  for (const auto& wall : session.document()->walls)
    walls_.push_back({wall->id, session.draped(wall->id), session.contours(wall->id)});
}

void KnownGround::give(Flow& flow, const Document& document) const {
  for (const Wall& wall : walls_) flow.take_over(document, wall.id, wall.draped, wall.contours);
}

}  // namespace pontata
