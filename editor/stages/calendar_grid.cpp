#include "editor/stages/calendar_grid.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "editor/window/choosing.h"
#include "editor/window/day_drag.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"

namespace pontata {
namespace {

constexpr Rgb kRest = rgb(0xE4DDCE), kBand = rgb(0xD3C6A6), kGood = rgb(0xC9D8B8);

Rgb band_colour(PlanEventKind kind) {
  switch (kind) {
    case PlanEventKind::sign_off:
      return kGood;
    case PlanEventKind::secco:
      return rgb(0xD8CBE0);
    case PlanEventKind::arriccio:
      return rgb(0xE3D3B4);
    default:
      return kBand;
  }
}

// Where a day is too narrow for what an event says.
const char* brief(PlanEventKind kind) {
  switch (kind) {
    case PlanEventKind::scaffold_move:
      return "scaffold";
    case PlanEventKind::strike:
      return "strike";
    case PlanEventKind::arriccio:
      return "arriccio";
    case PlanEventKind::sign_off:
      return "sign off";
    case PlanEventKind::secco:
      return "dry work";
    default:
      return "no work";
  }
}

// The text within a room, its end cut short; in `colour`.
void text_at(ImVec2 at, float room, const std::string& text, ImU32 colour) {
  ImGui::GetWindowDrawList()->AddText(at, colour, fitted(text, room).c_str());
}

int rows_of(const CalendarDay& day) {
  int rows = 0;
  for (const CalendarChip& chip : day.chips)
    rows += 1 + (chip.hours.empty() ? 0 : 1) + static_cast<int>(chip.marks.size());
  return rows;
}

}  // namespace

struct CalendarGrid::Shape {
  std::array<float, 8> x{};  // left edges of the columns, and the right end
  float line = 0, small = 0, pad = 0, scale = 1;
  ImVec2 corner;            // of the weeks, on screen
  std::vector<float> tops;  // of the weeks, and the end of the last

  Shape(const CalendarWeeks& weeks, float width, float scale_now);
  float head(const CalendarWeek& week) const { return line + (week.weather ? 2 * line : 0) + pad; }
  float lanes(const CalendarWeek& week) const { return static_cast<float>(week.lanes) * (line + pad); }
};

CalendarGrid::Shape::Shape(const CalendarWeeks& weeks, float width, float scale_now) : scale(scale_now) {
  constexpr float kUnused = 0.55f;  // of a day's width, where no one works
  line = ImGui::GetTextLineHeight();
  pad = std::round(3 * scale);
  float parts = 0;
  for (const bool used : weeks.used) parts += used ? 1 : kUnused;
  for (std::size_t i = 0; i < 7; ++i) x[i + 1] = x[i] + width / parts * (weeks.used[i] ? 1 : kUnused);
  tops.push_back(0);
  for (const CalendarWeek& week : weeks.weeks) {
    float most = line;
    for (const CalendarDay& day : week.days)
      most = std::max(most, static_cast<float>(rows_of(day)) * line + static_cast<float>(day.chips.size()) * 3 * pad);
    tops.push_back(tops.back() + std::round(head(week) + lanes(week) + most + 2 * pad));
  }
}

void CalendarGrid::draw(Workbench& bench, const CalendarWeeks& weeks, float height) {
  const auto scale = static_cast<float>(bench.scale);
  const float width = ImGui::GetContentRegionAvail().x - ImGui::GetStyle().ScrollbarSize;
  Shape shape(weeks, width, scale);
  heads(weeks, shape);
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(0, 0));
  ImGui::BeginChild("weeks", ImVec2(0, std::min(height, shape.tops.back() + 2)), false);
  ImGui::PopStyleVar();
  control_region(bench, "calendar.weeks");
  scroll(bench, weeks, shape);
  shape.corner = ImGui::GetCursorScreenPos();
  const float from = ImGui::GetScrollY(), to = from + ImGui::GetWindowHeight();
  for (std::size_t i = 0; i < weeks.weeks.size(); ++i)
    if (shape.tops[i + 1] > from && shape.tops[i] < to) week(bench, weeks.weeks[i], shape, i);
  ImGui::SetCursorScreenPos(shape.corner);
  ImGui::Dummy(ImVec2(1, shape.tops.back()));
  ImGui::EndChild();
}

void CalendarGrid::heads(const CalendarWeeks& weeks, const Shape& shape) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const ImU32 quiet = ImGui::GetColorU32(ImGuiCol_TextDisabled);
  for (std::size_t i = 0; i < 7 && !weeks.weeks.empty(); ++i)
    text_at(ImVec2(at.x + shape.x[i] + shape.pad, at.y), shape.x[i + 1] - shape.x[i] - shape.pad,
            weekday_word(weeks.weeks[0].days[i].date), quiet);
  ImGui::Dummy(ImVec2(1, shape.line));
}

// To the first work when it is shown first; later to the chosen giornata, where it was chosen elsewhere.
void CalendarGrid::scroll(Workbench& bench, const CalendarWeeks& weeks, const Shape& shape) {
  std::optional<std::size_t> to;
  const GiornataId chosen = bench.session.chosen();
  if (!shown_ && !weeks.weeks.empty()) to = weeks.first_work;
  if (shown_ && chosen && chosen != followed_ && !clicked_)
    for (std::size_t i = 0; i < weeks.weeks.size() && !to; ++i)
      for (const CalendarDay& day : weeks.weeks[i].days)
        if (std::ranges::any_of(day.chips, [&](const CalendarChip& c) { return c.id == chosen; })) to = i;
  shown_ = shown_ || !weeks.weeks.empty();
  followed_ = chosen;
  clicked_ = false;
  if (dragging_day()) {  // a day beyond the edge comes into view
    const float edge = 1.5f * shape.line, y = ImGui::GetIO().MousePos.y - ImGui::GetWindowPos().y;
    if (y < edge) ImGui::SetScrollY(std::max(ImGui::GetScrollY() - shape.line / 2, 0.0f));
    if (y > ImGui::GetWindowHeight() - edge) ImGui::SetScrollY(ImGui::GetScrollY() + shape.line / 2);
  }
  if (!to) return;
  const float from = ImGui::GetScrollY(), end = from + ImGui::GetWindowHeight();
  if (shape.tops[*to] < from || shape.tops[*to + 1] > end) ImGui::SetScrollY(shape.tops[*to]);
}

void CalendarGrid::week(Workbench& bench, const CalendarWeek& week, const Shape& shape, std::size_t n) {
  const float y = shape.corner.y + shape.tops[n], height = shape.tops[n + 1] - shape.tops[n];
  for (int i = 0; i < 7; ++i) {
    const auto c = static_cast<std::size_t>(i);
    const CalendarDay& of = week.days[c];
    const ImVec2 low(shape.corner.x + shape.x[c], y), high(shape.corner.x + shape.x[c + 1], y + height);
    ImGui::PushID(days_between({2000, 1, 1}, of.date));
    ground(of, week.weather, shape, low, high);
    float chip_y = y + shape.head(week) + shape.lanes(week);
    for (const CalendarChip& one : of.chips) {
      ImGui::SetCursorScreenPos(ImVec2(low.x + shape.pad, chip_y));
      chip(bench, one, shape, high.x - low.x - 2 * shape.pad);
      chip_y = ImGui::GetItemRectMax().y + shape.pad;
    }
    ImGui::SetCursorScreenPos(low);
    ImGui::InvisibleButton("day", ImVec2(high.x - low.x, height));
    day(bench, of);
    ImGui::PopID();
  }
  for (const CalendarBand& b : week.bands) band(bench, b, shape, y + shape.head(week));
  ImGui::GetWindowDrawList()->AddLine(ImVec2(shape.corner.x, y), ImVec2(shape.corner.x + shape.x[7], y),
                                      ImGui::GetColorU32(ImGuiCol_Border));
}

// What stands in a day besides its giornate.
void CalendarGrid::ground(const CalendarDay& day, bool weather, const Shape& shape, ImVec2 low, ImVec2 high) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImU32 quiet = ImGui::GetColorU32(ImGuiCol_TextDisabled);
  if (!day.worked || day.off) list.AddRectFilled(low, high, to_im(kRest));
  if (chosen_day == day.date) list.AddRect(low, high, to_im(kAction), 0, 0, 1.5f * shape.scale);
  if (weekday(day.date) > 1) list.AddLine(low, ImVec2(low.x, high.y), ImGui::GetColorU32(ImGuiCol_Border));
  const float room = high.x - low.x - 2 * shape.pad;
  float y = low.y + shape.pad / 2;
  const auto line = [&](const std::string& text, ImU32 colour) {
    text_at(ImVec2(low.x + shape.pad, y), room, text, colour);
    y += shape.line;
  };
  const bool named = day.date.day == 1 || weekday(day.date) == 1;
  line(std::to_string(day.date.day) + (named ? std::string(" ") + month_word(day.date.month) : ""), quiet);
  if (weather && day.weather) {
    const ImU32 text = ImGui::GetColorU32(ImGuiCol_Text);
    line(shown(day.weather->air.temperature_c, 0, "°C"), text);
    line(day.alert.empty() ? shown(day.weather->air.humidity_pct, 0, "%") : day.alert,
         day.alert.empty() ? text : to_im(kWarn));
  }
  if (day.off && day.chips.empty())
    text_at(ImVec2(low.x + shape.pad, high.y - shape.line - shape.pad), room, std::string(day_off_name(day.off->why)),
            quiet);
}

// The item drawn last, which lies below the day's giornate.
void CalendarGrid::day(Workbench& bench, const CalendarDay& day) {
  control(bench, "day." + format_date(day.date));
  if (ImGui::IsItemClicked()) chosen_day = day.date;
  day_target(bench, day.date);
  const std::string name = std::string(weekday_word(day.date)) + " " + format_date(day.date);
  if (dragging_day() && ImGui::IsMouseHoveringRect(ImGui::GetItemRectMin(), ImGui::GetItemRectMax()))
    return ImGui::SetTooltip("%s", name.c_str());
  if (!ImGui::IsItemHovered() || day.words.empty()) return;
  std::string all = name;
  for (const std::string& word : day.words) all += "\n" + word;
  ImGui::SetTooltip("%s", all.c_str());
}

void CalendarGrid::chip(Workbench& bench, const CalendarChip& chip, const Shape& shape, float width) {
  std::vector<std::string> rows{chip.number};
  if (!chip.hours.empty()) rows.push_back(chip.hours);
  rows.insert(rows.end(), chip.marks.begin(), chip.marks.end());
  const ImVec2 low = ImGui::GetCursorScreenPos();
  const float height = static_cast<float>(rows.size()) * shape.line + 2 * shape.pad;
  const std::string name = std::to_string(chip.id.value) + (chip.entry ? "." + std::to_string(chip.entry->id) : "");
  if (ImGui::InvisibleButton(("chip" + name).c_str(), ImVec2(std::max(width, 4.0f), height))) {
    clicked_ = true;
    std::vector<GiornataId> list;
    for (const PlannedDay& planned : bench.session.plan()->days) list.push_back(planned.id);
    choose_in_list(bench, chip.id, list);
  }
  control(bench, "chip." + name);
  if (chip.planned) day_source(bench, chip.id);
  if (ImGui::IsItemHovered() && !dragging_day()) ImGui::SetTooltip("%s", chip.all.c_str());
  const StateLook look = state_look(chip.state);
  const ImVec2 high(low.x + width, low.y + height);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float round = 3 * shape.scale;
  const bool chosen = bench.session.is_chosen(chip.id);
  list.AddRectFilled(low, high, to_im(look.fill), round);
  list.AddRect(low, high,
               chosen           ? to_im(kAction)
               : chip.over_full ? to_im(kWarn)
                                : to_im(kSeamCore, 110),
               round, 0, (chosen || chip.over_full ? 2.2f : 1.0f) * shape.scale);
  float y = low.y + shape.pad;
  for (const std::string& row : rows) {
    text_at(ImVec2(low.x + shape.pad, y), width - 2 * shape.pad, row, to_im(look.label));
    y += shape.line;
  }
}

void CalendarGrid::band(Workbench& bench, const CalendarBand& band, const Shape& shape, float top) {
  const ImVec2 low(shape.corner.x + shape.x[static_cast<std::size_t>(band.first)] + 1,
                   top + static_cast<float>(band.lane) * (shape.line + shape.pad));
  const ImVec2 high(shape.corner.x + shape.x[static_cast<std::size_t>(band.last) + 1] - 1, low.y + shape.line + 1);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(low, high, to_im(band_colour(band.event->kind)), 2 * shape.scale);
  const float room = high.x - low.x - 2 * shape.pad;
  const bool fits = band.last > band.first || ImGui::CalcTextSize(band.event->says.c_str()).x <= room;
  text_at(ImVec2(low.x + shape.pad, low.y), room, fits ? band.event->says : brief(band.event->kind), to_im(kText));
  if (!ImGui::IsMouseHoveringRect(low, high) || !ImGui::IsWindowHovered() || dragging_day()) return;
  ImGui::SetTooltip("%s\n%s%s", band.event->says.c_str(), format_date(band.event->from).c_str(),
                    band.event->to == band.event->from ? "" : (" to " + format_date(band.event->to)).c_str());
  if (ImGui::IsMouseClicked(0) && band.event->giornata) bench.session.choose(band.event->giornata);
}

}  // namespace pontata
