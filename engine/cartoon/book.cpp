#include "engine/cartoon/book.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/base/units.h"
#include "engine/cartoon/day_sheet.h"
#include "engine/cartoon/hanging_sheet.h"
#include "engine/cartoon/key_plan.h"
#include "engine/cartoon/page_cursor.h"
#include "engine/cartoon/plan_eye.h"
#include "engine/cartoon/working_order.h"

namespace pontata {
namespace {

constexpr double kWidth = 210, kHeight = 297, kMargin = 16;  // A4, ISO 216, mm
constexpr double kRoom = kWidth - 2 * kMargin;
constexpr double kRow = 5.2, kTop = kHeight - kMargin - 24;
constexpr std::size_t kRows = 46;  // of the contents, a page

class Book {
 public:
  Book(Pages& pages, const CartoonInput& input, Registers& registers)
      : pages_(pages), input_(input), registers_(registers), groups_(input), jobs_(working_order(input)) {
    for (const CartoonWall& wall : input.walls)
      if (!wall.giornate.empty()) walls_.push_back(&wall);
  }

  void title();
  void contents();
  void plans();
  Outcome eye(Progress* progress);
  Outcome giornate(Progress* progress);
  void take_care();

 private:
  void begin() {
    pages_.begin_page(kWidth, kHeight);
    number();
  }
  void number() { pages_.text({kWidth - 10, 5.5}, std::to_string(pages_.pages()), {3, false, Align::right, 0, kGrey}); }
  void heading(const std::string& words, const std::string& below) {
    pages_.text({kMargin, kHeight - kMargin - 7}, pages_.fitted(words, {7, true}, kRoom), {7, true});
    pages_.text({kMargin, kHeight - kMargin - 13}, pages_.fitted(below, {3.4}, kRoom), {3.4});
  }
  void row(double y, const std::string& label, const std::string& name, const std::string& facts, int page);
  std::size_t plan_pages() const { return walls_.size() + line_pages() + (input_.plan.eye ? 1 : 0); }
  std::size_t lines_a_page() const { return static_cast<std::size_t>((kTop - kMargin - 4) / 5.4) + 1; }
  std::size_t line_pages() const {
    std::size_t out = 0;
    for (const CartoonWall* wall : walls_)
      out += (registers_.lines(*wall).size() + lines_a_page() - 1) / lines_a_page();
    return out;
  }
  // Rows of the contents: the plans, the giornate, the cautions.
  std::size_t contents_pages() const { return (walls_.size() + 3 + jobs_.size() + kRows - 1) / kRows; }

  Pages& pages_;
  const CartoonInput& input_;
  Registers& registers_;
  PlanGroups groups_;
  std::vector<PrintJob> jobs_;
  std::vector<const CartoonWall*> walls_;
};

void Book::title() {
  begin();
  double y = kHeight - 90;
  pages_.text({kWidth / 2, y}, pages_.fitted(input_.project, {12, true}, kRoom), {12, true, Align::centre});
  y -= 12;
  pages_.text({kWidth / 2, y}, "the giornate in working order", {5, false, Align::centre});
  double area = 0, litres = 0;
  std::optional<Date> first, last;
  for (const PrintJob& job : jobs_) {
    area += job.giornata->measure.area_m2, litres += job.giornata->need.mortar_L;
    if (!job.giornata->day.dated) continue;
    const Date date = job.giornata->day.date;
    first = first ? std::min(*first, date) : date, last = last ? std::max(*last, date) : date;
  }
  y -= 24;
  std::vector<std::string> facts;
  for (const CartoonWall* wall : walls_)
    facts.push_back(fmt::format("wall “{}”, {} giornate", wall->name, wall->giornate.size()));
  facts.push_back(fmt::format("{} giornate here, {} m², {} L of mortar", jobs_.size(), format_fixed(area, 2),
                              format_fixed(litres, 0)));
  if (first) facts.push_back(format_date(*first) + " to " + format_date(*last));
  if (input_.trial) facts.push_back("trial print: numbers may still change");
  for (const std::string& fact : facts) {
    pages_.text({kWidth / 2, y}, pages_.fitted(fact, {4}, kRoom), {4, false, Align::centre});
    y -= 7;
  }
}

void Book::row(double y, const std::string& label, const std::string& name, const std::string& facts, int page) {
  pages_.text({kMargin, y}, label, {3.2, true});
  pages_.text({kMargin + 13, y}, pages_.fitted(name, {3.2}, 88), {3.2});
  pages_.text({kWidth - kMargin - 14, y}, facts, {3.2, false, Align::right});
  pages_.text({kWidth - kMargin, y}, std::to_string(page), {3.2, true, Align::right});
}

void Book::contents() {
  struct Entry {
    std::string label, name, facts;
    int page;
  };
  std::vector<Entry> entries;
  int page = static_cast<int>(1 + contents_pages()) + 1;
  for (const CartoonWall* wall : walls_) {
    const auto pages = 1 + (registers_.lines(*wall).size() + lines_a_page() - 1) / lines_a_page();
    entries.push_back({"", "key plan and lines to snap, wall “" + wall->name + "”", "", page});
    page += static_cast<int>(pages);
  }
  if (input_.plan.eye) entries.push_back({"", "key plan as seen from a place", "", page++});
  for (const PrintJob& job : jobs_) {
    const CartoonGiornata& g = *job.giornata;
    const std::string date = g.day.dated ? format_date(g.day.date) : "done";
    entries.push_back(
        {label_of(g), (g.name.empty() ? "giornata" : g.name) + ", " + job.wall->name,
         fmt::format("{} m² · {} L · {}", format_fixed(g.measure.area_m2, 2), format_fixed(g.need.mortar_L, 1), date),
         page});
    page += 2;  // front and back
  }
  entries.push_back({"", "take care", "", page});
  for (std::size_t k = 0; k < contents_pages(); ++k) {
    begin();
    heading("Contents", "no. · giornata, wall · area · mortar · day · page");
    for (std::size_t i = k * kRows; i < std::min((k + 1) * kRows, entries.size()); ++i)
      row(kTop - kRow * static_cast<double>(i - k * kRows), entries[i].label, entries[i].name, entries[i].facts,
          entries[i].page);
  }
}

void Book::plans() {
  for (const CartoonWall* wall : walls_) {
    begin();
    heading(fmt::format("Key plan · wall “{}”", wall->name), "the wall laid flat, not to scale");
    const double foot = kMargin + 4 + draw_legend(pages_, groups_.on(*wall), {kMargin, kMargin}, kRoom);
    draw_plan(pages_, *wall, groups_, &registers_.lines(*wall), {kMargin, foot}, {kRoom, kTop + 4 - foot});
    const auto& lines = registers_.lines(*wall);
    for (std::size_t from = 0; from < lines.size(); from += lines_a_page()) {
      begin();
      heading(fmt::format("Lines to snap · wall “{}”", wall->name),
              "on the bare arriccio, before the first giornata; sheets are hung by tape from these");
      const std::size_t to = std::min(from + lines_a_page(), lines.size());
      list_lines(pages_,
                 {lines.begin() + static_cast<std::ptrdiff_t>(from), lines.begin() + static_cast<std::ptrdiff_t>(to)},
                 0, {kMargin, kTop}, kRoom, 0);
    }
  }
}

Outcome Book::eye(Progress* progress) {
  if (!input_.plan.eye) return Done{};
  begin();
  heading("Key plan · as seen", "hidden parts left out");
  const double height = kRoom * 3 / 4;
  const auto unseen =
      draw_plan_from(pages_, input_, groups_, *input_.plan.eye, {kMargin, kTop - height}, {kRoom, height}, progress);
  if (!unseen) return unseen.problem();
  pages_.text({kMargin, kTop - height - 7}, pages_.fitted(unseen_words(*unseen), {3}, kRoom), {3});
  draw_legend(pages_, groups_.all(), {kMargin, kMargin}, kRoom);
  return Done{};
}

Outcome Book::giornate(Progress* progress) {
  for (const PrintJob& job : jobs_) {
    if (is_cancelled(progress)) return Problem{"stopped", "", ""};
    draw_day_sheet(pages_, input_, job);
    number();
    draw_hanging_sheet(pages_, input_, job, registers_);
    number();
  }
  return Done{};
}

void Book::take_care() {
  begin();
  heading("Take care", "local codes and licensed practice come first");
  PageCursor cursor(pages_, kTop + 4);
  const bool old = std::any_of(walls_.begin(), walls_.end(), [](const CartoonWall* w) { return w->old_plaster; });
  if (old) cursor.paragraph(old_plaster_caution(), kMargin, kWidth - kMargin, {4, true}), cursor.skip(3);
  for (const std::string_view caution : cautions()) {
    cursor.paragraph(caution, kMargin, kWidth - kMargin, {4});
    cursor.skip(3);
  }
}

}  // namespace

Outcome write_book(const CartoonInput& input, Registers& registers, const std::string& path, Progress* progress) {
  auto pdf = PdfPages::create(path, "Book · " + input.project);
  if (!pdf) return pdf.problem();
  Book book(*pdf, input, registers);
  book.title();
  book.contents();
  book.plans();
  if (const auto drawn = book.eye(progress); !drawn) return drawn;
  if (const auto drawn = book.giornate(progress); !drawn) return drawn;
  book.take_care();
  return pdf->finish();
}

}  // namespace pontata
