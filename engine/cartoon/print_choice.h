// What is printed on the patterns and on the key plan, as the painter chooses it.
#pragma once

#include <optional>

#include "engine/base/vec.h"

namespace pontata {

enum class PrintedPicture { full, faded, contours };

// What the patterns show.
struct PrintChoice {
  PrintedPicture picture = PrintedPicture::full;
  bool prick = true;      // marks to prick along the contours for pouncing
  bool incision = false;  // a second, trimmed copy with solid lines for the stylus
  bool sinopia = false;   // sheets for the arriccio, one set a pontata
  bool mirrored = false;  // for those who trace from behind
  // From mark to mark along a contour, mm: in keep-whole zones, in detail zones, elsewhere. Common practice, no source.
  double prick_face_mm = 3, prick_drapery_mm = 6, prick_architecture_mm = 10;
};

// How the key plan tells giornate apart.
enum class PlanBy { pontata, week };

// Where someone stands, and what he looks at; metres in the building.
struct PlanEye {
  Vec3 at{0, 0, 0}, look{0, 1, 0};
};

struct PlanChoice {
  PlanBy by = PlanBy::pontata;
  std::optional<PlanEye> eye{};  // the key plan also from there
};

}  // namespace pontata
