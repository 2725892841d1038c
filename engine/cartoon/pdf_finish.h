// The last hand on a PDF: layers, no print scaling, no dates, ids made from the contents.
#pragma once

#include <array>
#include <string>

#include "engine/base/result.h"
#include "engine/cartoon/page.h"

namespace pontata {

// The standard structure type (ISO 32000-1, 14.8.4) that marks a layer's content in a draft.
const char* layer_tag(Layer layer);

// Reads the draft `from`, writes `to`. Content tagged by `layer_tag` becomes optional content (8.11.3.2), one group for
// each layer that is `used`, in the order of `name_of`; a draft with a frame only gets none. Print scaling is asked off
// (12.2: /ViewerPreferences << /PrintScaling /None >>). Pages are read and written one by one.
Outcome finish_pdf(const std::string& from, const std::string& to, const std::array<bool, kLayers>& used);

}  // namespace pontata
