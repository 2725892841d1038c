// The shaders of assets/shaders, held inside the program.
#pragma once

#include <string_view>

namespace pontata {

// Text of the shader with this file name, e.g. "surface.vert". Throws std::out_of_range for an unknown one.
std::string_view shader_text(std::string_view name);

}  // namespace pontata
