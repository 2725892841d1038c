// Path data: SVG 1.1, section 8.3, with the arcs of appendix F.6.
#include <fmt/format.h>

#include <cctype>

#include "engine/document/seam_files/svg_scan.h"
#include "engine/document/seam_files/svg_syntax.h"

namespace pontata {

namespace {

class Pen {
 public:
  Pen(std::vector<DrawnLine>& lines, std::string_view data, const Affine& map, double tolerance)
      : lines_(lines), scan_(data), map_(map), tolerance_(tolerance) {}

  Outcome draw() {
    scan_.blanks();
    char command = scan_.peek();
    if (!scan_.done() && command != 'M' && command != 'm') return broken("does not begin with a move");
    while (!scan_.done()) {
      if (SvgScan::is_letter(scan_.peek())) {
        command = scan_.peek();
        scan_.step();
        scan_.blanks();
      } else if (command == 'Z' || command == 'z') {
        return broken("has a number after the close of an outline");
      } else if (command == 'M' || command == 'm') {
        command = command == 'M' ? 'L' : 'l';  // more places after a move
      }
      if (!step(command)) return broken("cannot be read");
      scan_.comma();
    }
    return Done{};
  }

 private:
  Problem broken(const std::string& what) const {
    return {fmt::format("its path data {} (character {})", what, scan_.at() + 1), "", "Save the drawing anew."};
  }

  bool step(char command) {
    relative_ = std::islower(static_cast<unsigned char>(command)) != 0;
    switch (std::toupper(static_cast<unsigned char>(command))) {
      case 'M':
        return move();
      case 'Z':
        return close();
      case 'L':
      case 'H':
      case 'V':
        return straight(static_cast<char>(std::toupper(static_cast<unsigned char>(command))));
      case 'C':
        return cubic(false);
      case 'S':
        return cubic(true);
      case 'Q':
        return quadratic(false);
      case 'T':
        return quadratic(true);
      case 'A':
        return arc();
      default:
        return false;
    }
  }

  bool number(double& value) {
    const auto read = scan_.number();
    if (!read) return false;
    value = *read;
    scan_.comma();
    return true;
  }
  bool place(Vec2& p) {
    if (!number(p.x) || !number(p.y)) return false;
    if (relative_) p += at_;
    return true;
  }

  bool move() {
    Vec2 p;
    if (!place(p)) return false;
    at_ = start_ = p;
    open_ = false;
    forget();
    return true;
  }
  bool close() {
    if (open_) {
      lines_.back().closed = true;
    }
    open_ = false;
    at_ = start_;
    forget();
    return true;
  }
  bool straight(char kind) {
    Vec2 p = at_;
    if (kind == 'L') {
      if (!place(p)) return false;
    } else {
      double& value = kind == 'H' ? p.x : p.y;
      const double from = value;
      if (!number(value)) return false;
      if (relative_) value += from;
    }
    out().push_back(map_(p));
    at_ = p;
    forget();
    return true;
  }
  bool cubic(bool smooth) {
    Vec2 first = cubic_ ? 2.0 * at_ - control_ : at_, second, p;
    if ((!smooth && !place(first)) || !place(second) || !place(p)) return false;
    add_cubic(out(), {map_(at_), map_(first), map_(second), map_(p)}, tolerance_);
    remember(second, p, true);
    return true;
  }
  bool quadratic(bool smooth) {
    Vec2 control = quadratic_ ? 2.0 * at_ - control_ : at_, p;
    if ((!smooth && !place(control)) || !place(p)) return false;
    add_quadratic(out(), {map_(at_), map_(control), map_(p)}, tolerance_);
    remember(control, p, false);
    return true;
  }
  bool arc() {
    SvgArc arc;
    Vec2 p;
    if (!number(arc.radii.x) || !number(arc.radii.y) || !number(arc.turn_deg)) return false;
    const auto large = scan_.flag();
    scan_.comma();
    const auto sweep = scan_.flag();
    scan_.comma();
    if (!large || !sweep || !place(p)) return false;
    arc.large = *large;
    arc.sweep = *sweep;
    add_svg_arc(out(), at_, p, arc, map_, tolerance_);
    at_ = p;
    forget();
    return true;
  }

  void forget() { cubic_ = quadratic_ = false; }
  void remember(const Vec2& control, const Vec2& p, bool cubic) {
    control_ = control;
    at_ = p;
    cubic_ = cubic;
    quadratic_ = !cubic;
  }
  // The points of the subpath, begun where need be.
  Points& out() {
    if (!open_) {
      lines_.push_back({{map_(at_)}, false, false});
      open_ = true;
    }
    return lines_.back().points;
  }

  std::vector<DrawnLine>& lines_;
  SvgScan scan_;
  const Affine& map_;
  double tolerance_;
  Vec2 at_{0, 0}, start_{0, 0}, control_{0, 0};
  bool relative_ = false, open_ = false, cubic_ = false, quadratic_ = false;
};

}  // namespace

Outcome add_svg_path(std::vector<DrawnLine>& lines, std::string_view data, const Affine& map, double tolerance) {
  return Pen(lines, data, map, tolerance).draw();
}

}  // namespace pontata
