// What giornate are called in refusals.
#pragma once

#include <functional>
#include <string>

#include "engine/base/ids.h"

namespace pontata {

// "giornata 14a". Without one the ids stand for the names.
using SeamNames = std::function<std::string(GiornataId)>;

}  // namespace pontata
