// Numbered marks of findings on a plan, and the list of them in columns. Internal to the review sheet.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "engine/cartoon/page_cursor.h"
#include "engine/cartoon/review_sheet.h"

namespace pontata {

// How a severity is drawn: its own shape and colour, so that it reads without colour.
struct SeverityLook {
  int corners = 4;
  double turn_deg = 0;
  Colour fill, ink;
  double stroke_mm = 1;  // of its stretches of seam
};
SeverityLook severity_look(Severity severity, bool accepted);

// A mark with its number, `size_mm` high letters.
void draw_mark(Pages& pages, Vec2 at, int number, const SeverityLook& look, double size_mm);

// Marks near each other, or near places that are kept free, are moved apart within a box and tied to their places by a
// thin line.
class MarkLayer {
 public:
  MarkLayer(double size_mm, Vec2 lower_left, Vec2 size)
      : size_mm_(size_mm), low_(lower_left), high_(lower_left + size) {}
  void keep_free(Vec2 place);
  void add(Vec2 place, int number, const SeverityLook& look);
  void draw(Pages& pages) const;  // all lines, then all marks

 private:
  struct Mark {
    Vec2 place, at;
    int number = 0;
    SeverityLook look;
  };
  double size_mm_;
  Vec2 low_, high_;
  std::vector<Vec2> taken_;
  std::vector<Mark> marks_;
};

// Blocks of text in columns, from page to page. A block is kept together where it fits into a whole column.
class TextColumns {
 public:
  struct Line {
    std::string words;
    TextStyle style;
    double indent_mm = 0;
  };
  struct Column {
    double x = 0, width = 0, top = 0, floor = 0;  // mm
  };
  // `next_page` begins one and gives its columns.
  TextColumns(Pages& pages, std::vector<Column> columns, std::function<std::vector<Column>()> next_page);
  double width() const { return columns_[at_].width; }
  // Draws the lines below one another; `first` is called with the place left of the block's first line.
  void block(const std::vector<Line>& lines, double after_mm, const std::function<void(Vec2)>& first = {});

 private:
  void advance();
  Pages& pages_;
  std::vector<Column> columns_;
  std::function<std::vector<Column>()> next_page_;
  std::size_t at_ = 0;
  double y_ = 0;
};

}  // namespace pontata
