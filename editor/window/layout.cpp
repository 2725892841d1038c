#include "editor/window/layout.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace pontata {

namespace {

// px at 100 %, as the theme spaces things: the edges of a region, a row of buttons and what lies between two.
constexpr double kEdgeX = 20, kEdgeY = 16, kRow = 29, kText = 15, kBetween = 7;
constexpr int kTabs = 7;

// Buttons of the tool strip, px at 100 %: with their keys, and by name alone.
constexpr std::array<double, 11> kNamedKeys{67, 86, 80, 83, 66, 71, 69, 66, 70, 73, 114};
constexpr std::array<double, 11> kNamed{45, 62, 56, 58, 44, 48, 47, 38, 40, 44, 85};

// Height of the tool strip at 100 %: its buttons wrap, and so does the hint below them.
double strip_height(double width) {
  const double room = width - kEdgeX;
  double x = 0;
  int rows = 1;
  for (const double button : short_tool_names(width, 1) ? kNamed : kNamedKeys) {
    if (x > 0 && x + button > room) ++rows, x = 0;
    x += button + kBetween;
  }
  return kEdgeY + rows * kRow + (room < 420 ? 3 : 2) * kText;
}

// Widths of the columns beside the views, px.
struct Columns {
  double left = 0, page = 0, right = 0;
  bool stacked = false;  // the page lies below the right column, as wide
};

// All of them, narrowed to seven eighths where needed; then without the pontate, whose giornate the page lists too;
// then the page below the right column.
Columns columns_of(double width, const WindowSettings& s, double scale, double gap, bool page_open) {
  constexpr double kViews = 300, kViewsShare = 0.36, kLeast = 0.875;
  const double room = std::max(60.0, width - std::max(kViews * scale, kViewsShare * width) - 3 * gap);
  const auto share = [&](double wanted) { return std::min(1.0, room / (wanted * scale)); };
  const auto px = [&](double wanted, double part) { return std::round(wanted * scale * part); };
  const double all = share(s.left + s.right + (page_open ? s.page : 0));
  if (!page_open || all >= kLeast) return {px(s.left, all), page_open ? px(s.page, all) : 0, px(s.right, all), false};
  const double without = share(s.right + s.page);
  if (without >= kLeast) return {0, px(s.page, without), px(s.right, without), false};
  return {0, 0, px(s.page, share(s.page)), true};
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

bool short_tool_names(double width, double scale) { return width / scale < 440; }

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
  const auto [left, page, right, stacked] = columns_of(width, settings, scale, gap, page_open);
  const double below = std::max(0.0, height - top - status - gap);  // for the columns and the week
  const double gaps = gap * (1 + (left > 0 ? 1 : 0) + (page > 0 ? 1 : 0));
  const double centre = std::max(1.0, width - left - page - right - gaps);
  const double tools = std::round(strip_height(centre / scale) * scale);
  // The week gives way where the tools take much of the height.
  const double kept = std::max(200 * scale, tools + 160 * scale);
  const double spare = std::round(std::min(settings.bottom * scale, below - kept));
  const double bottom = spare < 60 * scale ? 0 : spare;
  Layout out;
  const double body = top, body_height = below - bottom;
  out.top = {0, 0, width, top};
  double x = 0;
  const auto column = [&](double wide, Divider divider) {
    Region& at = out.dividers[static_cast<std::size_t>(divider)];
    if (wide <= 0) return at = {0, 0, 0, 0};
    const Region region{x, body, wide, body_height};
    at = {x + wide, body, gap, body_height};
    x += wide + gap;
    return region;
  };
  out.left = column(left, Divider::left);
  out.page = column(page, Divider::page);
  const double strip = std::min(tools, 0.6 * body_height);
  out.strip = {x, body, centre, strip};
  out.views = {x, body + strip, centre, std::max(1.0, body_height - strip)};
  out.dividers[static_cast<std::size_t>(Divider::right)] = {x + centre, body, gap, body_height};
  const double upper = stacked ? std::round((body_height - gap) / 2) : body_height;
  out.right = {width - right, body, right, upper};
  if (stacked) out.page = {width - right, body + upper + gap, right, body_height - upper - gap};
  out.dividers[static_cast<std::size_t>(Divider::bottom)] = {0, body + body_height, width, gap};
  out.bottom = {0, body + body_height + gap, width, bottom};
  out.status = {0, height - status, width, status};
  out.picture = out.dividers[static_cast<std::size_t>(Divider::picture)] = {0, 0, 0, 0};
  if (picture_open) split_picture(out, settings.picture, gap);
  out.dividers[static_cast<std::size_t>(Divider::views)] = {0, 0, 0, 0};
  return out;
}

void drag_wide_page(WindowSettings& s, double dx, double scale) {
  s.wide_page = std::clamp(s.wide_page + dx / scale, 200.0, 1200.0);
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
