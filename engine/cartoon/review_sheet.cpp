#include "engine/cartoon/review_sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>

#include "engine/base/units.h"
#include "engine/cartoon/day_sheet.h"
#include "engine/cartoon/eye_page.h"
#include "engine/cartoon/heat_picture.h"
#include "engine/cartoon/output_set.h"
#include "engine/cartoon/review_marks.h"
#include "engine/cartoon/wall_sketch.h"
#include "engine/review/rule_words.h"

namespace pontata {

namespace {

constexpr double kWidth = 420, kHeight = 297, kMargin = 12, kHead = 22;  // A3 landscape, ISO 216, mm
constexpr double kBeside = 128, kBetween = 8;                            // of a column; between two, mm
constexpr double kMark = 2.6, kViewMark = 3.0;                           // mm, letters of marks
constexpr double kGround = 0.75;                                         // strength of views
constexpr std::size_t kMostListed = 10;                                  // worst stretches that a page has room for
constexpr std::size_t kMostWalls = 12;                                   // rows of the summary
constexpr std::array kSeverities{Severity::decide, Severity::warn, Severity::note};

void begin(Pages& pages, const std::string& title, const std::string& words) {
  pages.begin_page(kWidth, kHeight);
  const double width = kWidth - 2 * kMargin;
  pages.text({kMargin, kHeight - kMargin - 7}, pages.fitted(title, {7, true}, width), {7, true});
  pages.text({kMargin, kHeight - kMargin - 13}, pages.fitted(words, {3.4}, width - 30), {3.4});
  pages.text({kWidth - kMargin, kHeight - kMargin - 13}, fmt::format("sheet {}", pages.pages()),
             {3.4, false, Align::right});
}

std::vector<TextColumns::Column> columns(int count) {
  std::vector<TextColumns::Column> all;
  const double width = (kWidth - 2 * kMargin - (count - 1) * kBetween) / count;
  for (int k = 0; k < count; ++k)
    all.push_back({kMargin + k * (width + kBetween), width, kHeight - kMargin - kHead, kMargin + 2});
  return all;
}

std::vector<TextColumns::Line> lines_of(const Pages& pages, std::string_view words, double width,
                                        const TextStyle& style, double indent = 0) {
  std::vector<TextColumns::Line> lines;
  for (std::string& line : wrapped(pages, words, width - indent, style))
    lines.push_back({std::move(line), style, indent});
  return lines;
}

void append(std::vector<TextColumns::Line>& to, std::vector<TextColumns::Line> more) {
  std::ranges::move(more, std::back_inserter(to));
}

// --- Summary -------------------------------------------------------------------------------------------------------

struct Counts {
  std::array<std::size_t, 3> open{};  // as kSeverities
  std::size_t accepted = 0;
};
Counts counts_of(const ReviewedWall& wall) {
  Counts counts;
  for (const ReviewedFinding& f : wall.findings) {
    if (f.finding.accepted)
      ++counts.accepted;
    else
      ++counts.open[static_cast<std::size_t>(std::ranges::find(kSeverities, f.finding.severity) - kSeverities.begin())];
  }
  return counts;
}

std::string unseen_from(const ReviewSheetInput& input) {
  std::string words;
  for (const ReviewedWall& wall : input.walls)
    for (const ReviewedView& view : wall.views)
      if (view.heat.empty()) words += fmt::format("{}{} from {}", words.empty() ? "" : ", ", wall.name, view.eye.name);
  return words;
}

void draw_counts(Pages& pages, const ReviewSheetInput& input, double& y) {
  constexpr std::array kRight{150.0, 190.0, 222.0, 250.0, 282.0};
  const auto row = [&](const std::string& first, const std::array<std::string, 5>& cells, bool bold) {
    pages.text({kMargin, y}, pages.fitted(first, {3.6, bold}, 100), {3.6, bold});
    for (std::size_t k = 0; k < cells.size(); ++k) pages.text({kRight[k], y}, cells[k], {3.6, bold, Align::right});
    y -= 6.2;
  };
  row("wall", {"giornate", "to decide first", "warnings", "notes", "accepted"}, true);
  pages.line({kMargin, y + 4.4}, {kRight.back(), y + 4.4}, {0.2, kGrey});
  for (std::size_t k = 0; k < input.walls.size(); ++k) {
    if (k == kMostWalls && input.walls.size() > kMostWalls + 1) {
      pages.text({kMargin, y}, fmt::format("and {} walls more, on their own pages", input.walls.size() - k), {3.6});
      y -= 6.2;
      break;
    }
    const Counts counts = counts_of(input.walls[k]);
    row(input.walls[k].name,
        {std::to_string(input.walls[k].patches.size()), std::to_string(counts.open[0]), std::to_string(counts.open[1]),
         std::to_string(counts.open[2]), std::to_string(counts.accepted)},
        false);
  }
}

// Of stretches of seam: what would not be seen on paper is drawn in grey or black.
Colour line_colour(const SeverityLook& look) {
  return look.fill == kWhite ? kBlack : look.ink == kGrey ? kGrey : look.fill;
}

void draw_looks(Pages& pages, double& y) {
  const auto row = [&](const SeverityLook& look, const std::string& words) {
    draw_mark(pages, {kMargin + 4, y + 1.2}, 1, look, kMark);
    pages.line({kMargin + 10, y + 1.2}, {kMargin + 24, y + 1.2}, {look.stroke_mm, line_colour(look), {}, 0.25});
    pages.text({kMargin + 28, y}, words, {3.4});
    y -= 8;
  };
  row(severity_look(Severity::decide, false), "to decide before any plaster is laid");
  row(severity_look(Severity::warn, false), "a warning: change it, or accept it with a reason");
  row(severity_look(Severity::note, false), "a note");
  row(severity_look(Severity::note, true), "accepted, with the reason in the list; open again if its cause changes");
  number_in_ring(pages, {kMargin + 4, y + 1.2}, "1", kMark);
  pages.line({kMargin + 10, y + 1.2}, {kMargin + 24, y + 1.2}, {0.35});
  pages.text({kMargin + 28, y}, "a giornata, by its number, and its seams", {3.4});
  y -= 8;
}

void draw_summary(Pages& pages, const ReviewSheetInput& input) {
  begin(pages, "Seam review", input.project + " · seams stay for centuries: look at them before the plasterer begins");
  double y = kHeight - kMargin - kHead - 4;
  draw_counts(pages, input, y);
  y -= 6;
  draw_looks(pages, y);
  PageCursor cursor(pages, y - 2);
  const double right = kWidth - kMargin;
  const bool views = std::ranges::any_of(input.walls, [](const ReviewedWall& w) { return !w.views.empty(); });
  cursor.paragraph("From the floor", kMargin, right, {4, true});
  cursor.skip(1);
  if (!views)
    cursor.paragraph(
        "No eye point is set, so how the seams look from the floor is not told here. Set one where people "
        "will stand, 1.6 m above the floor.",
        kMargin, right, {3.4});
  else
    cursor.paragraph(fmt::format("Joints are taken as {} mm wide. {}", format_number(input.settings.joint_mm),
                                 std::string(kFloorCaveat)),
                     kMargin, right, {3.4});
  if (const std::string unseen = unseen_from(input); !unseen.empty())
    cursor.paragraph("No seam is seen of: " + unseen + ".", kMargin, right, {3.4});
  cursor.skip(5);
  cursor.paragraph("Before plaster is laid", kMargin, right, {4, true});
  cursor.skip(1);
  for (const std::string_view caution : cautions())
    cursor.paragraph("· " + std::string(caution), kMargin, right, {3.6});
}

// --- A wall ---------------------------------------------------------------------------------------------------------

void draw_patches(Pages& pages, const ReviewedWall& wall, const SketchFrame& at, double size_mm) {
  for (const ReviewedPatch& patch : wall.patches)
    for (const Ring& ring : patch.rings) pages.path(at(ring), true, {0.35, kBlack, {}, 0.3});
  for (const Ring& ring : wall.wall->chart->border_rings()) pages.path(at(ring), true, {0.7});
  for (const ReviewedPatch& patch : wall.patches) number_in_ring(pages, at(patch.inside), patch.label, size_mm);
}

struct Numbered {
  const ReviewedFinding* found;
  int number;
  SeverityLook look;
};

void draw_plan(Pages& pages, const ReviewedWall& wall, const std::vector<Numbered>& all, Vec2 corner, Vec2 size) {
  const SketchFrame at(*wall.wall, corner, size);
  draw_wall_ground(pages, *wall.wall, wall.draped, at);
  draw_patches(pages, wall, at, std::clamp(size.y / 70, 2.2, 3.6));
  for (const Numbered& n : all)
    for (const auto& stretch : n.found->finding.stretches) {
      std::vector<Vec2> line;
      for (const ChartPoint p : stretch) line.push_back(at(p));
      if (line.size() > 1) pages.path(line, false, {n.look.stroke_mm, line_colour(n.look), {}, 0.3});
    }
  MarkLayer marks(kMark, corner, size);
  for (const ReviewedPatch& patch : wall.patches) marks.keep_free(at(patch.inside));
  for (const Numbered& n : all) marks.add(at(n.found->finding.chart), n.number, n.look);
  marks.draw(pages);
}

void list_finding(Pages& pages, TextColumns& text, const Numbered& n, const ReviewSettings& settings) {
  constexpr double kIndent = 9;
  const Finding& f = n.found->finding;
  const double width = text.width();
  std::vector<TextColumns::Line> lines;
  append(lines,
         lines_of(pages, fmt::format("{}{}", rule_title(f.rule), n.found->who.empty() ? "" : ", " + n.found->who),
                  width, {3, true}, kIndent));
  const std::string value = value_words(f, settings);
  append(lines, lines_of(pages,
                         fmt::format("{}{}{} · at {}, {} m, {} m up · {}", severity_words(f),
                                     value.empty() ? "" : " · ", value, format_fixed(f.chart.u, 2),
                                     format_fixed(f.chart.v, 2), format_fixed(f.at.z, 2), n.found->code),
                         width, {2.6, false, Align::left, 0, kGrey}, kIndent));
  append(lines, lines_of(pages, f.says, width, {2.8}, kIndent));
  if (f.accepted)
    append(lines, lines_of(pages, "Accepted: " + *f.accepted, width, {2.8, true}, kIndent));
  else
    append(lines, lines_of(pages, f.remedy, width, {2.8}, kIndent));
  text.block(lines, 3, [&](Vec2 at) { draw_mark(pages, at + Vec2{3, 1}, n.number, n.look, kMark); });
}

void draw_wall_pages(Pages& pages, const ReviewSheetInput& input, const ReviewedWall& wall, int& next) {
  std::vector<Numbered> all;
  for (const bool accepted : {false, true})
    for (const ReviewedFinding& f : wall.findings)
      if (f.finding.accepted.has_value() == accepted)
        all.push_back({&f, next++, severity_look(f.finding.severity, accepted)});
  const std::string title = fmt::format("Seam review · wall “{}”", wall.name);
  const std::string words =
      fmt::format("{} · {} giornate · the wall laid flat, not to scale; places in m from its lower left corner",
                  input.project, wall.patches.size());
  begin(pages, title, words);
  const double right = kWidth - kMargin - kBeside;
  draw_plan(pages, wall, all, {kMargin, kMargin}, {right - kBetween - kMargin, kHeight - 2 * kMargin - kHead});
  TextColumns text(pages, {{right, kBeside, kHeight - kMargin - kHead, kMargin + 2}}, [&] {
    begin(pages, title, input.project + " · findings, continued");
    return columns(3);
  });
  if (all.empty()) text.block(lines_of(pages, "Nothing to remark.", kBeside, {3.4}), 2);
  for (const Numbered& n : all) list_finding(pages, text, n, input.settings);
}

// --- From the floor -------------------------------------------------------------------------------------------------

// Places of what is seen, to aim at and to hold in view.
std::vector<Vec3> seen_places(const ReviewedWall& wall, const ReviewedView& view) {
  std::vector<Vec3> places;
  for (const HeatLine& heat : view.heat)
    for (const ChartPoint p : heat.line)
      if (const auto at = wall.wall->position(p)) places.push_back(*at);
  return places;
}

// Of a stretch in a view, in the colour of its grade; giornate have their numbers in rings there.
SeverityLook worst_look(const WorstStretch& worst) {
  constexpr double kDark = 0.5;  // of grey: lighter ones bear black numbers
  const Colour fill = heat_stroke(heat_grade(worst.shows).value_or(0)).colour;
  const double grey = 0.3 * fill.red + 0.59 * fill.green + 0.11 * fill.blue;
  return {4, 0, fill, grey < kDark ? kWhite : kBlack, 1};
}

// The middle of what is seen; where that lies all round the eye, the worst of it.
Vec3 aim(const ReviewedView& view, std::span<const Vec3> places) {
  Vec3 middle{0, 0, 0};
  double away = 0;
  for (const Vec3& p : places) {
    middle += p / static_cast<double>(places.size());
    away += glm::distance(p, view.eye.at) / static_cast<double>(places.size());
  }
  const bool round = glm::distance(middle, view.eye.at) < 0.4 * away;
  if (!round) return middle;
  return view.worst.empty() ? places.front() : view.worst.front().stretch.at;
}

void list_worst(Pages& pages, const ReviewedView& view, double joint_mm, const std::vector<bool>& shown, double x,
                double top) {
  PageCursor cursor(pages, top);
  const double right = kWidth - kMargin;
  cursor.paragraph(fmt::format("Eye point {}", view.eye.name), x, right, {4, true});
  cursor.paragraph(fmt::format("{}, {}, {} m in the building", format_fixed(view.eye.at.x, 2),
                               format_fixed(view.eye.at.y, 2), format_fixed(view.eye.at.z, 2)),
                   x, right, {3});
  cursor.skip(4);
  for (std::size_t grade = 0; grade < kHeatGrades; ++grade) {
    cursor.skip(5);
    pages.line({x, cursor.y() + 1}, {x + 16, cursor.y() + 1}, heat_stroke(grade));
    pages.text({x + 20, cursor.y()}, heat_grades()[grade].words, {3});
  }
  cursor.skip(4);
  cursor.paragraph(fmt::format("A joint {} mm wide. {}", format_number(joint_mm), kFloorCaveat), x, right, {2.8});
  cursor.skip(5);
  cursor.paragraph("Worst stretches", x, right, {3.4, true});
  cursor.paragraph("by how much they show and how long they are", x, right, {2.8});
  for (std::size_t k = 0; k < std::min(view.worst.size(), kMostListed); ++k) {
    const auto& worst = view.worst[k];
    cursor.skip(2);
    const double first = cursor.y() - kLeading * 3;
    cursor.paragraph(worst.who + (shown[k] ? "" : " (outside this view)"), x + 9, right, {3, true});
    cursor.paragraph(worst.stretch.says, x + 9, right, {2.8});
    draw_mark(pages, {x + 3, first + 1}, static_cast<int>(k) + 1, worst_look(worst.stretch), kMark);
  }
}

Outcome draw_view(Pages& pages, const ReviewSheetInput& input, const ReviewedWall& wall, const ReviewedView& view,
                  const EyeFrame& frame, std::vector<bool>& shown, Progress* progress) {
  std::vector<SeenWall> seen;
  std::vector<WallRef> others;
  for (const ReviewedWall& w : input.walls) {
    seen.push_back({w.wall, w.draped});
    if (&w != &wall) others.push_back(w.wall);
  }
  for (const SeenWall& w : input.others) seen.push_back(w), others.push_back(w.wall);
  if (const auto ground = draw_eye_ground(pages, seen, frame, kGround, progress); !ground) return ground;
  const EyeDrawer draw(pages, frame, wall.wall, others);
  draw_heat(draw, view.heat);
  MarkLayer marks(kViewMark, frame.corner, frame.size);
  for (const ReviewedPatch& patch : wall.patches)
    if (const auto at = draw.seen(patch.inside)) {
      number_in_ring(pages, *at, patch.label, 2.2);
      marks.keep_free(*at);
    }
  for (std::size_t k = 0; k < std::min(view.worst.size(), kMostListed); ++k)
    if (const auto at = draw.seen(view.worst[k].stretch.place)) {
      shown[k] = true;
      marks.add(*at, static_cast<int>(k) + 1, worst_look(view.worst[k].stretch));
    }
  marks.draw(pages);
  pages.rectangle(frame.corner, frame.size, {0.2, kGrey});
  return Done{};
}

Outcome draw_view_page(Pages& pages, const ReviewSheetInput& input, const ReviewedWall& wall, const ReviewedView& view,
                       Progress* progress) {
  begin(pages, fmt::format("From the floor · wall “{}”", wall.name),
        input.project + " · how much each seam shows; giornate have their numbers in rings");
  const auto places = seen_places(wall, view);
  const Vec3 look = aim(view, places);
  const double right = kWidth - kMargin - kBeside;
  std::vector<bool> shown(view.worst.size(), false);
  const auto frame = eye_frame(view.eye.at, look, places, {kMargin, kMargin},
                               {right - kBetween - kMargin, kHeight - 2 * kMargin - kHead});
  const Outcome drawn = frame ? draw_view(pages, input, wall, view, *frame, shown, progress) : frame.problem();
  if (!drawn) {
    if (is_cancelled(progress)) return drawn;
    pages.text({kMargin, kHeight - kMargin - kHead - 4}, "From here no picture can be drawn of it.", {3.4});
  }
  list_worst(pages, view, input.settings.joint_mm, shown, right, kHeight - kMargin - kHead);
  return Done{};
}

}  // namespace

Outcome write_review_sheet(const ReviewSheetInput& input, const std::string& pdf_path, Progress* progress) {
  const std::filesystem::path path(pdf_path);
  auto files = OutputSet::open(path.has_parent_path() ? path.parent_path().string() : ".");
  if (!files) return files.problem();
  auto pages = PdfPages::create(files->add(path.filename().string()), "Seam review · " + input.project);
  if (!pages) return pages.problem();
  draw_summary(*pages, input);
  int next = 1;
  std::size_t done = 0;
  for (const ReviewedWall& wall : input.walls) {
    report(progress, static_cast<double>(done++) / static_cast<double>(input.walls.size()), "review sheet");
    if (is_cancelled(progress)) return Problem{"stopped", "", ""};
    draw_wall_pages(*pages, input, wall, next);
    for (const ReviewedView& view : wall.views)
      if (!view.heat.empty())
        if (const auto drawn = draw_view_page(*pages, input, wall, view, progress); !drawn) return drawn;
  }
  if (is_cancelled(progress)) return Problem{"stopped", "", ""};
  if (const auto finished = pages->finish(); !finished) return finished;
  const auto written = files->commit();
  return written ? Outcome(Done{}) : written.problem();
}

}  // namespace pontata
