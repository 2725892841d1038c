#include "engine/cartoon/day_sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/base/units.h"
#include "engine/cartoon/hanging_sheet.h"
#include "engine/cartoon/page.h"
#include "engine/cartoon/page_cursor.h"
#include "engine/cartoon/wall_sketch.h"
#include "engine/cartoon/working_order.h"
#include "engine/plaster/batches.h"

namespace pontata {

namespace {

constexpr double kWidth = 210, kHeight = 297, kMargin = 14;  // A4, ISO 216, mm
constexpr Stroke kRule{0.2, kGrey};

const std::array<std::string_view, 7> kCautions{
    "Lime burns eyes and skin, overhead above all: sealed goggles, gloves, covered arms. In the eye: rinse at once for "
    "20 "
    "minutes and get medical help. Keep an eyewash on the deck.",
    "Calcium hydroxide (lime putty): Danger. Irritates skin (H315), serious eye damage (H318), may irritate the "
    "airways "
    "(H335). Quicklime is the same and violent with water.",
    "Silica and pigment dust when sieving dry, mixing and pouncing: keep it wet or extract it, wear what the "
    "material's "
    "sheet says, keep to your country's limit (for example 50 µg/m³ over 8 h, 29 CFR 1926.1153).",
    "Scaffold: use it only after handover, with guardrails and ties by local rules, loaded by its tag; never climb "
    "from it. "
    "Mortar is heavy: see the weight on the deck.",
    "Low-voltage lamps only. No fuel heaters without ventilation. Mind the weight of buckets.",
    "Old plaster or paint underneath: do not wet, hack or key it until a conservator has tested it and consent is "
    "given; it "
    "may hold lead.",
    "Local codes and licensed practice come first."};

constexpr std::string_view kOldPlaster =
    "Old plaster or paint lies under this wall: do not wet, hack or key it until a conservator has tested it and "
    "consent "
    "is given; it may hold lead.";

constexpr std::string_view kTrial = "Trial print: numbers may still change.";

std::string numbers_of(const CartoonWall& wall, const std::vector<GiornataId>& ids) {
  std::vector<std::string> labels;
  for (const auto& g : wall.giornate)
    if (std::find(ids.begin(), ids.end(), g.id) != ids.end()) labels.push_back(label_of(g));
  std::sort(labels.begin(), labels.end(), label_less);
  return fmt::format("{}", fmt::join(labels, ", "));
}

// "-3 h 30": hours before or after the first paint.
std::string clock(double hours) {
  const int minutes = static_cast<int>(std::lround(std::abs(hours) * 60));
  const char* sign = minutes == 0 ? "" : hours < 0 ? "−" : "+";
  return fmt::format("{}{}:{:02}", sign, minutes / 60, minutes % 60);
}

// Cursor down a day sheet.
class Sheet : public PageCursor {
 public:
  explicit Sheet(Pages& pages) : PageCursor(pages, kHeight - kMargin) {}

  void rule() {
    skip(1.5);
    pdf().line({kMargin, y()}, {kWidth - kMargin, y()}, kRule);
    skip(1.5);
  }
  void heading(std::string_view words) {
    skip(6);
    pdf().text({kMargin, y()}, words, {3.8, true});
    skip(1.5);
  }
};

void head(Sheet& sheet, const CartoonInput& input, const CartoonWall& wall, const CartoonGiornata& g) {
  Pages& pdf = sheet.pdf();
  double& y = sheet.y();
  y -= 7;
  const std::string title = "Giornata " + label_of(g);
  pdf.text({kMargin, y}, title, {8, true});
  const double after = kMargin + pdf.text_width(title, {8, true}) + 4;
  pdf.text({after, y}, pdf.fitted(g.name, {5}, kWidth - kMargin - after), {5});
  y -= 6;
  const std::string planned = g.day.dated ? "planned for " + format_date(g.day.date) : "done";
  pdf.text({kMargin, y},
           pdf.fitted(fmt::format("{} · wall “{}” · pontata {} · {}", input.project, wall.name, g.day.pontata, planned),
                      {3.4}, kWidth - 2 * kMargin - 62),
           {3.4});
  pdf.text({kWidth - kMargin, y}, "painted on  ______________________", {3.4, false, Align::right});
  if (!g.note.empty()) sheet.paragraph("Note: " + g.note, kMargin, kWidth - kMargin, {3.4});
  if (input.trial) sheet.paragraph(kTrial, kMargin, kWidth - kMargin, {3.4, true});
  sheet.rule();
}

void figures(Sheet& sheet, const CartoonInput& input, const CartoonWall& wall, const CartoonGiornata& g) {
  Pages& pdf = sheet.pdf();
  double& y = sheet.y();
  const double sketch_w = 62, sketch_h = 44, x1 = kWidth - kMargin - sketch_w - 5;
  draw_wall_sketch(pdf, wall, g.id, {kWidth - kMargin - sketch_w, y - sketch_h - 2}, {sketch_w, sketch_h});
  const double floor = y - sketch_h - 6;
  const auto row = [&](std::string_view label, const std::string& value) {
    y -= 5;
    pdf.text({kMargin, y}, label, {3.3});
    pdf.text({kMargin + 44, y}, pdf.fitted(value, {3.5, true}, x1 - kMargin - 44), {3.5, true});
  };
  row("area", format_fixed(g.measure.area_m2, 2) + " m²");
  row("outline",
      format_fixed(g.measure.perimeter_m, 2) + " m, of it open " + format_fixed(g.need.open_edge_m, 2) + " m");
  row("heights", format_fixed(g.measure.lowest_m, 2) + " to " + format_fixed(g.measure.highest_m, 2) + " m");
  if (g.day.hours)
    row("painting", format_fixed(*g.day.hours, 1) + " h of " + format_fixed(g.day.window_h, 1) + " h" +
                        (g.day.fits.value_or(true) ? "" : ": TOO LONG FOR THE DAY"));
  else
    row("painting", "no rate set; the day leaves " + format_fixed(g.day.window_h, 1) + " h");
  const std::string finished = numbers_of(wall, g.meets_finished), open = numbers_of(wall, g.stays_open);
  row("press against", finished.empty() ? "none" : finished);
  row("cut first towards", open.empty() ? (g.open_to_rest ? "wall not yet planned" : "none")
                                        : open + (g.open_to_rest ? ", unplanned wall" : ""));
  if (!g.one_wet.empty()) row("wet together with", numbers_of(wall, g.one_wet) + ", no cut between");
  for (const auto& line : g.meets_walls) {
    y -= 5;
    pdf.text({kMargin, y}, pdf.fitted(line, {3.3}, x1 - kMargin), {3.3});
  }
  sheet.paragraph(
      "Against the edges of finished work lay the plaster flush, pressed to them, never over paint. Edges cut first: "
      "lay " +
          format_fixed(input.plaster.margin_mm, 0) +
          " mm beyond the outline and cut them in the evening at a slant of about 45°, foot outward.",
      kMargin, x1, {2.9});
  y = std::min(y, floor);
  sheet.rule();
}

// A column of the mortar's table: what stands over it, and its cell for a coat or for all of them.
struct MortarColumn {
  std::string_view title;
  std::string (*of)(const Materials& m, double mortar_L, double net_L, double thickness_mm);
};

std::vector<MortarColumn> mortar_columns(const GiornataNeed& need) {
  using M = const Materials&;
  std::vector<MortarColumn> columns{
      {"thick, mm", [](M, double, double, double mm) { return mm > 0 ? format_fixed(mm, 1) : std::string(); }},
      {"in place, L", [](M, double, double net, double) { return format_fixed(net, 1); }},
      {"mortar, L", [](M, double mortar, double, double) { return format_fixed(mortar, 1); }},
      {"putty, L", [](M m, double, double, double) { return format_fixed(m.putty_L, 1); }},
      {"putty, kg", [](M m, double, double, double) { return format_fixed(m.putty_kg, 1); }},
      {"sand, L", [](M m, double, double, double) { return format_fixed(m.damp_sand_L, 1); }}};
  if (need.marble_L > 0)
    columns.push_back({"marble, L", [](M m, double, double, double) { return format_fixed(m.marble_L, 1); }});
  if (need.pozzolana_L > 0)
    columns.push_back({"pozzolana, L", [](M m, double, double, double) { return format_fixed(m.pozzolana_L, 1); }});
  columns.push_back({"wet, kg", [](M m, double, double, double) { return format_fixed(wet_kg(m), 1); }});
  return columns;
}

void mortar_table(Sheet& sheet, const GiornataNeed& need) {
  const auto columns = mortar_columns(need);
  const double left = kMargin + 18, step = (kWidth - kMargin - left) / static_cast<double>(columns.size());
  const double size = columns.size() > 7 ? 2.5 : 3.1;  // mm
  const auto row = [&](std::string_view name, bool bold, const auto& cell_of) {
    sheet.y() -= 4.6;
    sheet.pdf().text({kMargin, sheet.y()}, sheet.pdf().fitted(name, {size, bold}, 20), {size, bold});
    for (std::size_t i = 0; i < columns.size(); ++i)
      sheet.pdf().text({left + step * static_cast<double>(i + 1), sheet.y()}, cell_of(columns[i]),
                       {size, bold, Align::right});
  };
  row("coat", true, [](const MortarColumn& c) { return std::string(c.title); });
  double net = 0;
  for (const CoatNeed& coat : need.coats) {
    net += coat.net_L;
    row(coat.name, false,
        [&](const MortarColumn& c) { return c.of(coat, coat.mortar_L, coat.net_L, coat.thickness_mm); });
  }
  row("together", true, [&](const MortarColumn& c) { return c.of(need, need.mortar_L, net, 0); });
}

// The tubs that are ripe on the day, for the plasterer to choose from.
std::string putty_line(const CartoonInput& input, const CartoonGiornata& g) {
  std::string line = "Putty batch:  ______________________";
  if (input.putty.empty() || !g.day.dated) return line;
  std::string ripe;
  for (const PuttyBatch& batch : input.putty)
    if (ripe_on(batch, input.plaster.supply.putty_age_months) <= g.day.date)
      ripe += (ripe.empty() ? "" : ", ") + batch.name + " (slaked " + format_date(batch.slaked) + ")";
  const std::string age = format_number(input.plaster.supply.putty_age_months) + " months";
  return line + (ripe.empty() ? "  None of the tubs noted is " + age + " old on this day."
                              : "  " + age + " old on this day: " + ripe + ".");
}

void mortar(Sheet& sheet, const CartoonInput& input, const CartoonGiornata& g) {
  const SupplySettings& supply = input.plaster.supply;
  sheet.heading("Mortar, with margin and " + format_fixed(input.plaster.waste_pct, 0) + " % waste");
  mortar_table(sheet, g.need);
  sheet.skip(0.8);
  for (std::size_t i = 0; i < g.need.coats.size(); ++i) {
    const CoatNeed& coat = g.need.coats[i];
    const bool pressed = i == 0 && g.need.coats.size() > 1;
    sheet.paragraph(fmt::format("{}{}: {}. Measure out {}.", coat.name, pressed ? ", pressed in for bond" : "",
                                describe(coat.mix), batch_words(coat, supply)),
                    kMargin, kWidth - kMargin, {2.9});
  }
  const int carried = whole_buckets(g.need.mortar_L, supply);
  sheet.paragraph(
      fmt::format("{} {} of {} L to carry up; {} kg of wet mortar on the deck, buckets and people on top.", carried,
                  carried == 1 ? "bucket" : "buckets", format_number(supply.bucket_L), format_fixed(wet_kg(g.need), 0)),
      kMargin, kWidth - kMargin, {3.1, true});
  sheet.paragraph(putty_line(input, g), kMargin, kWidth - kMargin, {3.1});
  sheet.rule();
}

void steps(Sheet& sheet, const CartoonInput& input, const CartoonGiornata& g) {
  Pages& pdf = sheet.pdf();
  double& y = sheet.y();
  sheet.heading("The day, counted from the first paint at  ____ : ____");
  y -= 4.6;
  pdf.text({kMargin, y}, "from – to, h", {2.9, true});
  pdf.text({kMargin + 30, y}, "clock", {2.9, true});
  pdf.text({kMargin + 48, y}, "what", {2.9, true});
  const int coats = static_cast<int>(std::max<std::size_t>(1, g.need.coats.size()));
  const double painting = g.day.hours.value_or(g.day.window_h);
  for (const DayStep& step : day_steps(input.calendar, std::min(painting, g.day.window_h), coats)) {
    y -= 1.1;
    const double top = y;
    sheet.paragraph(step.what, kMargin + 48, kWidth - kMargin, {3.0});
    pdf.text({kMargin, top - 3.9}, clock(step.from_h) + " – " + clock(step.to_h), {3.0});
    pdf.text({kMargin + 30, top - 3.9}, "____:____", {3.0});
  }
  y -= 1;
  sheet.paragraph(
      fmt::format("Stop painting {} h after the last coat at the latest: past that the plaster no longer binds the "
                  "colour. The window of {} h is a plan; heat, wind and dry air shorten it.",
                  format_fixed(input.calendar.window_h - input.calendar.stop_h, 1),
                  format_fixed(input.calendar.window_h, 1)),
      kMargin, kWidth - kMargin, {3.0, true});
  sheet.rule();
}

void foot(Sheet& sheet, const CartoonWall& wall) {
  sheet.heading("Take care");
  if (wall.old_plaster) sheet.paragraph(kOldPlaster, kMargin, kWidth - kMargin, {3.1, true});
  for (const auto caution : kCautions) sheet.paragraph(caution, kMargin, kWidth - kMargin, {2.7});
  sheet.y() -= 7;
  sheet.pdf().text({kMargin, std::max(sheet.y(), kMargin - 4)},
                   "arriccio cured and sound, signed: __________________    plasterer: __________________    painter: "
                   "__________________",
                   {2.9});
}

}  // namespace

std::span<const std::string_view> cautions() { return kCautions; }

std::string_view old_plaster_caution() { return kOldPlaster; }

void draw_day_sheet(Pages& pages, const CartoonInput& input, const PrintJob& job) {
  pages.begin_page(kWidth, kHeight);
  Sheet sheet(pages);
  head(sheet, input, *job.wall, *job.giornata);
  figures(sheet, input, *job.wall, *job.giornata);
  mortar(sheet, input, *job.giornata);
  steps(sheet, input, *job.giornata);
  foot(sheet, *job.wall);
}

Outcome write_day_sheets(const CartoonInput& input, Registers& registers, const std::string& path, Progress* progress) {
  auto pdf = PdfPages::create(path, "Day sheets · " + input.project);
  if (!pdf) return pdf.problem();
  const auto rows = working_order(input);
  for (const PrintJob& row : rows) {
    if (is_cancelled(progress)) return Problem{"stopped", "", ""};
    draw_day_sheet(*pdf, input, row);
    draw_hanging_sheet(*pdf, input, row, registers);
  }
  return pdf->finish();
}

}  // namespace pontata
