// The key plan by week and from an eye, and the book, as independent readers find them.
#include <catch2/catch.hpp>
#include <regex>
#include <sstream>

#include "reader.h"
#include "tests/fixtures/cartoons.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

// A barrel with a giornata on either side, one behind the eye.
CartoonInput two_sides(const layouts::Layout& layout) {
  auto input = cartoon_input(layout);
  input.walls[0].springing_m = 0;
  for (auto& g : input.walls[0].giornate) g.open_to_rest = true;
  input.walls[0].giornate[0].day.date = {2027, 5, 4};   // a Tuesday
  input.walls[0].giornate[1].day.date = {2027, 5, 10};  // the Monday after
  input.plan = {PlanBy::week, PlanEye{{1.5, 0, 0.2}, {1.5, 1.9, 0.7}}};
  return input;
}

layouts::Layout sides() {
  auto layout = layouts::on(layouts::barrel(4, 3, 2), 0.002);
  layouts::add_box(layout, 1.2, 0.3, 1.8, 0.9);
  layouts::add_box(layout, 1.2, 5.4, 1.8, 5.9);
  return layout;
}

int pages_of(const std::string& path) { return static_cast<int>(page_boxes_mm(path).size()); }

}  // namespace

TEST_CASE("the book's contents give the page of every giornata") {
  const auto layout = sides();
  const auto input = two_sides(layout);
  const TempFolder folder;
  REQUIRE(write_cartoon(input, folder.path(), {*paper_named("A2")}));
  const std::string book = folder.file("book.pdf");
  std::istringstream contents(text_of_page(book, 2));
  int found = 0;
  for (std::string line; std::getline(contents, line);) {
    std::smatch m;
    if (!std::regex_match(line, m, std::regex("\\s*([0-9]+)\\s+giornata.*\\s([0-9]+)\\s*"))) continue;
    ++found;
    CHECK(text_of_page(book, std::stoi(m[2])).find("Giornata " + m[1].str()) != std::string::npos);
    CHECK(text_of_page(book, std::stoi(m[2]) + 1).find("hanging the sheet") != std::string::npos);
  }
  CHECK(found == 2);
  CHECK(text_of_page(book, pages_of(book)).find("Take care") != std::string::npos);
  CHECK(text_of_page(book, pages_of(book)).find("H318") != std::string::npos);
}

TEST_CASE("the key plan tells weeks apart and leaves out what the eye does not see") {
  const auto layout = sides();
  const auto input = two_sides(layout);
  const TempFolder folder;
  REQUIRE(write_cartoon(input, folder.path(), {*paper_named("A2")}));
  const std::string plan = folder.file("key-plan.pdf");
  const std::string flat = text_of_page(plan, 1);
  CHECK(flat.find("week of 2027-05-03") != std::string::npos);
  CHECK(flat.find("week of 2027-05-10") != std::string::npos);
  CHECK(text_of_page(plan, 2).find("plumb line A") != std::string::npos);
  const int eye = pages_of(plan);
  CHECK(text_of_page(plan, eye).find("not seen from here: giornata 2") != std::string::npos);
  // giornata 1 lies straight before the eye: its number in the middle of the page across
  bool there = false;
  for (const WordBox& w : words_of(plan, eye))
    there |= w.words == "1" && std::abs(0.5 * (w.left + w.right) * 25.4 / 72 - 210) < 1;
  CHECK(there);
}

TEST_CASE("no words run off any page") {
  const auto layout = sides();
  auto input = two_sides(layout);
  input.trial = true;
  input.walls[0].old_plaster = true;
  input.walls[0].giornate[0].name = std::string(80, 'm');
  const TempFolder folder;
  CartoonOptions options{*paper_named("A4")};
  options.print.incision = options.print.sinopia = true;
  const auto report = write_cartoon(input, folder.path(), options);
  REQUIRE(report);
  for (const std::string& file : report->files) {
    if (file.substr(file.size() - 4) != ".pdf") continue;
    const auto boxes = page_boxes_mm(file);
    for (int page = 1; page <= std::min<int>(static_cast<int>(boxes.size()), 12); ++page) {
      const Vec2 size = boxes[static_cast<std::size_t>(page) - 1] * (72 / 25.4);
      for (const WordBox& w : words_of(file, page)) {
        INFO(file << " page " << page << ": " << w.words);
        CHECK(w.left > 0);
        CHECK(w.top > 0);
        CHECK(w.right < size.x);
        CHECK(w.bottom < size.y);
      }
    }
  }
}
