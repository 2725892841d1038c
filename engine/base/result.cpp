#include "engine/base/result.h"

namespace pontata {

std::string Problem::message() const {
  std::string text;
  if (!where.empty()) text += where + ": ";
  text += what;
  if (!remedy.empty()) {
    if (!text.empty() && text.back() != '.' && text.back() != '?') text += '.';
    text += " " + remedy;
  }
  return text;
}

}  // namespace pontata
