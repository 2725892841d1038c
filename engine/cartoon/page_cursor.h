// Text that runs down a page.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>

#include "engine/cartoon/page.h"

namespace pontata {

class PageCursor {
 public:
  // Keeps a reference to the pages; `top`: mm, where the text begins.
  PageCursor(Pages& pages, double top) : pages_(pages), y_(top) {}

  // Wrapped text between two x places; the cursor moves below it.
  void paragraph(std::string_view words, double x0, double x1, const TextStyle& style) {
    std::string line;
    const auto flush = [&] {
      y_ -= style.size_mm * 1.3;
      pages_.text({x0, y_}, line, style);
      line.clear();
    };
    for (std::size_t at = 0; at < words.size();) {
      const std::size_t end = std::min(words.find(' ', at), words.size());
      const std::string word(words.substr(at, end - at));
      const std::string longer = line.empty() ? word : line + " " + word;
      if (!line.empty() && pages_.text_width(longer, style) > x1 - x0) {
        flush();
        line = word;
      } else {
        line = longer;
      }
      at = end + 1;
    }
    if (!line.empty()) flush();
  }
  void skip(double mm) { y_ -= mm; }
  Pages& pdf() { return pages_; }
  double& y() { return y_; }

 private:
  Pages& pages_;
  double y_;
};

}  // namespace pontata
