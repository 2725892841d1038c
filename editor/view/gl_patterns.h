// The patterns of the giornate's states, as a small texture that repeats.
#pragma once

#include "editor/view/gl_objects.h"

namespace pontata {

// One period both ways: dots in red, a fine hatch in green, a cross-hatch in blue.
GlTexture make_patterns();

}  // namespace pontata
