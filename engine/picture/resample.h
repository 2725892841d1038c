// Pictures made smaller.
#pragma once

#include "engine/picture/image.h"

namespace pontata {

// Area-averaged to about `width` x `height` pixels, both at most the image's own: every source pixel counts by the
// share of it that falls into the target pixel, so fine patterns do not alias.
Image reduce(const Image& image, int width, int height);

}  // namespace pontata
