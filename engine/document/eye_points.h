// Eye points as settings: one by one (eye.NAME) and all together as text.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/base/result.h"
#include "engine/review/findings.h"

namespace pontata {

// "door 0.5,0,1.6; altar 4,0,1.6", metres; "none". A name is one word of at most 40 bytes without ;, not "limit", given
// once. Sorted by name. Refused with what is wrong.
Result<std::vector<EyePoint>> read_eyes(const std::string& text);
std::string write_eyes(const std::vector<EyePoint>& eyes);

// The points with this one set to "X,Y,Z" (lengths), or taken away ("none").
Result<std::vector<EyePoint>> with_eye(std::vector<EyePoint> eyes, const std::string& name, const std::string& value);

// "eye.door" gives "door"; empty for any other key.
std::string_view eye_name(std::string_view key);

}  // namespace pontata
