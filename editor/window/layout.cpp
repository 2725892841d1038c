#include "editor/window/layout.h"

#include <algorithm>
#include <cmath>

namespace pontata {

namespace {

// px at 100 %, as the theme spaces things: the edges of a region, a row of buttons and what lies between two.
constexpr double kEdgeX = 20, kEdgeY = 16, kRow = 29, kText = 15, kBetween = 7;
constexpr int kTabs = 7;

// Height of the tool strip at 100 %: its buttons wrap, and so does the hint below them.
double strip_height(double width) {
  const double room = width - kEdgeX;
  double x = 0;
  int rows = 1;
  for (const double button : {67.0, 86.0, 80.0, 83.0, 66.0, 71.0, 69.0, 66.0, 70.0, 73.0, 114.0}) {
    if (x > 0 && x + button > room) ++rows, x = 0;
    x += button + kBetween;
  }
  return kEdgeY + rows * kRow + (room < 420 ? 3 : 2) * kText;
}

// The picture takes its share of the room of the views, along its longer side.
void split_picture(Layout& out, double share, double gap) {
  Region& views = out.views;
  out.picture_beside = views.width > 1.15 * views.height;
  const double whole = out.picture_beside ? views.width : views.height;
  const double own = std::round(std::clamp(share * (whole - gap), 40.0, std::max(40.0, whole - gap - 40)));
  Region& divider = out.dividers[static_cast<std::size_t>(Divider::picture)];
  out.picture = divider = views;
  if (out.picture_beside) {
    out.picture.width = own;
    divider = {views.x + own, views.y, gap, views.height};
    views.x += own + gap;
    views.width = std::max(1.0, whole - own - gap);
  } else {
    out.picture.height = own;
    divider = {views.x, views.y + own, views.width, gap};
    views.y += own + gap;
    views.height = std::max(1.0, whole - own - gap);
  }
}

}  // namespace

TopRows top_rows(double width, double scale) {
  const double room = width / scale - kEdgeX;
  constexpr double kTab = 74.5, kButtons = 480;
  const int fit = std::clamp(static_cast<int>((room + kBetween) / (kTab + kBetween)), 1, kTabs);
  const int rows = (kTabs + fit - 1) / fit;
  return {room < kButtons ? 2 : 1, (kTabs + rows - 1) / rows};
}

Layout make_layout(double width, double height, const WindowSettings& settings, double scale, bool page_open,
                   bool picture_open) {
  const double gap = std::round(6 * scale);
  const TopRows rows = top_rows(width, scale);
  const int bar_rows = rows.button_rows + (kTabs + rows.tabs_in_row - 1) / rows.tabs_in_row;
  const double top = std::round(std::min((12 + kRow * bar_rows) * scale, std::max(70 * scale, height / 2)));
  const double status = std::round(30 * scale);
  const double wanted = (settings.left + settings.right + (page_open ? settings.page : 0)) * scale;
  const double room = std::max(60.0, width - 300 * scale - 3 * gap);
  const double share = std::min(1.0, room / wanted);
  const double left = std::round(settings.left * scale * share), right = std::round(settings.right * scale * share);
  const double page = page_open ? std::round(settings.page * scale * share) : 0;
  const double below = std::max(0.0, height - top - status - gap);  // for the columns and the week
  const double centre = std::max(1.0, width - left - page - right - (page_open ? 3 : 2) * gap);
  const double tools = std::round(strip_height(centre / scale) * scale);
  // The week gives way where the tools take much of the height.
  const double kept = std::max(200 * scale, tools + 120 * scale);
  const double bottom = std::round(std::min(settings.bottom * scale, std::max(0.0, below - kept)));
  Layout out;
  const double body = top, body_height = below - bottom;
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
  const double strip = std::min(tools, 0.6 * body_height);
  out.strip = {x, body, centre, strip};
  out.views = {x, body + strip, centre, std::max(1.0, body_height - strip)};
  out.dividers[static_cast<std::size_t>(Divider::right)] = {x + centre, body, gap, body_height};
  out.right = {width - right, body, right, body_height};
  out.dividers[static_cast<std::size_t>(Divider::bottom)] = {0, body + body_height, width, gap};
  out.bottom = {0, body + body_height + gap, width, bottom};
  out.status = {0, height - status, width, status};
  out.picture = out.dividers[static_cast<std::size_t>(Divider::picture)] = {0, 0, 0, 0};
  if (picture_open) split_picture(out, settings.picture, gap);
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
    case Divider::picture:
    case Divider::views:
      break;
  }
}

}  // namespace pontata
