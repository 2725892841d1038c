#include "editor/window/layout.h"

#include <algorithm>
#include <cmath>

namespace pontata {

Layout make_layout(double width, double height, const WindowSettings& settings, double scale, bool page_open) {
  const double gap = std::round(6 * scale);
  const double top = std::round(70 * scale), status = std::round(30 * scale);
  const double wanted = (settings.left + settings.right + (page_open ? settings.page : 0)) * scale;
  const double room = std::max(60.0, width - 300 * scale - 3 * gap);
  const double share = std::min(1.0, room / wanted);
  const double left = std::round(settings.left * scale * share), right = std::round(settings.right * scale * share);
  const double page = page_open ? std::round(settings.page * scale * share) : 0;
  const double below = std::max(0.0, height - top - status - gap);  // for the columns and the week
  const double bottom = std::round(std::min(settings.bottom * scale, std::max(0.0, below - 200 * scale)));
  Layout out;
  const double body = top, body_height = below - bottom;
  const double strip = std::min(std::round(60 * scale), body_height / 2);
  out.top = {0, 0, width, top};
  out.left = {0, body, left, body_height};
  double x = left + gap;
  out.dividers[static_cast<std::size_t>(Divider::left)] = {left, body, gap, body_height};
  if (page_open) {
    out.page = {x, body, page, body_height};
    out.dividers[static_cast<std::size_t>(Divider::page)] = {x + page, body, gap, body_height};
    x += page + gap;
  } else {
    out.page = out.dividers[static_cast<std::size_t>(Divider::page)] = {0, 0, 0, 0};
  }
  const double centre = std::max(1.0, width - right - gap - x);
  out.strip = {x, body, centre, strip};
  out.views = {x, body + strip, centre, std::max(1.0, body_height - strip)};
  out.dividers[static_cast<std::size_t>(Divider::right)] = {x + centre, body, gap, body_height};
  out.right = {width - right, body, right, body_height};
  out.dividers[static_cast<std::size_t>(Divider::bottom)] = {0, body + body_height, width, gap};
  out.bottom = {0, body + body_height + gap, width, bottom};
  out.status = {0, height - status, width, status};
  out.dividers[static_cast<std::size_t>(Divider::views)] = {0, 0, 0, 0};
  return out;
}

void drag_divider(WindowSettings& s, Divider divider, double dx, double dy, double scale) {
  switch (divider) {
    case Divider::left:
      s.left = std::clamp(s.left + dx / scale, 120.0, 800.0);
      break;
    case Divider::page:
      s.page = std::clamp(s.page + dx / scale, 200.0, 1200.0);
      break;
    case Divider::right:
      s.right = std::clamp(s.right - dx / scale, 120.0, 800.0);
      break;
    case Divider::bottom:
      s.bottom = std::clamp(s.bottom - dy / scale, 60.0, 600.0);
      break;
    case Divider::views:
      break;
  }
}

}  // namespace pontata
