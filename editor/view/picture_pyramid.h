// A picture made small enough for the device.
#pragma once

#include <optional>

#include "engine/picture/image.h"

namespace pontata {

// Halved (each pixel the mean of four) until neither side exceeds `limit`; nullopt when it already fits.
std::optional<Image> reduced_to(const Image& image, int limit);

}  // namespace pontata
