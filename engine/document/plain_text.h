// What may stand in a name or a path of the project file.
#pragma once

#include <string_view>

namespace pontata {

// Well-formed UTF-8 (RFC 3629: no overlong forms, no surrogates) without control characters.
bool is_plain_text(std::string_view text);

}  // namespace pontata
