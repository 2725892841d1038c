#include "engine/base/text.h"

namespace pontata {

std::vector<std::string> split(std::string_view text, char mark) {
  std::vector<std::string> parts(1);
  for (const char c : text) {
    if (c == mark)
      parts.emplace_back();
    else
      parts.back() += c;
  }
  return parts;
}

}  // namespace pontata
