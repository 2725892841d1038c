// Text that runs down a page.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "engine/cartoon/page.h"

namespace pontata {

// Words in lines no wider than `width_mm`, parted at blanks; a word that alone is wider stands in a line of its own.
inline std::vector<std::string> wrapped(const Pages& pages, std::string_view words, double width_mm,
                                        const TextStyle& style) {
  std::vector<std::string> lines;
  std::string line;
  for (std::size_t at = 0; at < words.size();) {
    const std::size_t end = std::min(words.find(' ', at), words.size());
    const std::string word(words.substr(at, end - at));
    const std::string longer = line.empty() ? word : line + " " + word;
    if (!line.empty() && pages.text_width(longer, style) > width_mm) {
      lines.push_back(line);
      line = word;
    } else {
      line = longer;
    }
    at = end + 1;
  }
  if (!line.empty()) lines.push_back(line);
  return lines;
}

inline constexpr double kLeading = 1.3;  // of a line, times the size of its letters

class PageCursor {
 public:
  // Keeps a reference to the pages; `top`: mm, where the text begins.
  PageCursor(Pages& pages, double top) : pages_(pages), y_(top) {}

  // Wrapped text between two x places; the cursor moves below it.
  void paragraph(std::string_view words, double x0, double x1, const TextStyle& style) {
    for (const std::string& line : wrapped(pages_, words, x1 - x0, style)) {
      y_ -= style.size_mm * kLeading;
      pages_.text({x0, y_}, line, style);
    }
  }
  void skip(double mm) { y_ -= mm; }
  Pages& pdf() { return pages_; }
  double& y() { return y_; }

 private:
  Pages& pages_;
  double y_;
};

}  // namespace pontata
