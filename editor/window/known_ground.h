// What the window has of each wall's pictures and contours, for work that would otherwise find them again.
#pragma once

#include <memory>
#include <vector>

#include "editor/window/session.h"
#include "engine/document/flow.h"

namespace pontata {

class KnownGround {
 public:
  // As the session has them now; each may be missing.
  explicit KnownGround(Session& session);
  // To the flow, for the same state of the document.
  void give(Flow& flow, const Document& document) const;

 private:
  struct Wall {
    WallId id;
    DrapedRef draped;
    std::shared_ptr<const ContourField> contours;
  };
  std::vector<Wall> walls_;
};

}  // namespace pontata
