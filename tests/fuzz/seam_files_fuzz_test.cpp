// Damaged SVG and DXF drawings: whatever the bytes, reading and bringing in answer with seams or with one problem,
// never crash, never leave a broken layout, and never take more memory than a small file may need.
#include <array>

#include "tests/document/seam_files_fixtures.h"
#include "tests/fixtures/scans.h"
#include "tests/fuzz/answers.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr std::size_t kMostMemory = std::size_t{2} << 30;

constexpr std::array<const char*, 26> kStrange{"-1",
                                               "0",
                                               "4294967296",
                                               "1e308",
                                               "-1e309",
                                               "nan",
                                               "inf",
                                               "1e-320",
                                               "M",
                                               "z",
                                               "a1 1 0 11 5 5",
                                               "<g>",
                                               "</g>",
                                               "<![CDATA[",
                                               "<!--",
                                               "&amp;",
                                               "&x;",
                                               "%",
                                               "\"",
                                               "matrix(0 0 0 0 0 0)",
                                               "EOF",
                                               "SEQEND",
                                               "POLYLINE",
                                               "999",
                                               "10",
                                               "\xff\xfe"};

std::string damaged(std::string text, Dice& dice) {
  for (std::size_t changes = 1 + dice.below(6); changes > 0 && !text.empty(); --changes) {
    const std::size_t at = dice.below(text.size());
    switch (dice.below(6)) {
      case 0:
        text[at] = static_cast<char>(dice.next());
        break;
      case 1:
        text.resize(at);
        break;
      case 2:
        text.insert(at, text, dice.below(text.size()), 1 + dice.below(60));
        break;
      case 3:
        text.erase(at, 1 + dice.below(20));
        break;
      default: {
        std::size_t to = text.find_first_of(" \n\"<", at);
        text.replace(at, std::min(to, text.size()) - at, kStrange[dice.below(kStrange.size())]);
        break;
      }
    }
  }
  return text;
}

void check_sound(const Problem& problem, const std::string& name) {
  INFO(problem.message());
  CHECK_FALSE(problem.what.empty());
  CHECK_FALSE(problem.remedy.empty());
  CHECK(problem.message().find('\n') == std::string::npos);
  if (!name.empty()) CHECK(problem.where.find(name) != std::string::npos);
}

void check_drawing(const Document& doc, const std::string& path, bool take_what_there_is) {
  DrawingOptions options;
  const auto drawing = read_drawing(path, options);
  if (!drawing) return check_sound(drawing.problem(), path);
  for (const auto& one : drawing->paths)
    for (const auto& line : one.lines)
      for (const Vec2& p : line.points) CHECK(std::isfinite(p.x + p.y));
  BringOptions bring;
  bring.skip_bad = take_what_there_is;
  const auto brought = bring_in_seams(doc, doc.walls[0]->id, *drawing, bring);
  if (!brought) return check_sound(brought.problem(), "");
  const Network& network = brought->document->walls[0]->network;
  CHECK(network.check().empty());
  std::int64_t sum = 0;
  for (const FaceId f : network.faces()) sum += network.sums(f).area;
  CHECK(sum == network.wall_area());
}

std::string some_svg() {
  return page(
      R"svg(<g id="a" transform="translate(.1 .1)"><title>A</title><rect x="1" y="1" width="1" height="1" rx=".1"/>
      <path id="p" fill-rule="evenodd" d="M2.2 1h.8v1h-.8z M2.4 1.2h.2v.2h-.2z"/><path d="M.9 1.5L3.3 1.5"/></g>
      <g style="display:none"><circle cx="1" cy="1" r=".2"/></g><ellipse cx=".5" cy=".5" rx=".3" ry=".2"/>
      <polygon points="1 2.2 1.5 2.2 1.2 2.8"/><path d="M2 2.2c.1 .1 .2 .1 .4 0s.2 .3 0 .4t-.3 .1a.2 .1 20 0 1 -.1 -.3z"/>)svg");
}
std::string some_dxf() {
  return dxf(
      groups({{0, "LWPOLYLINE"}, {8, "a"},      {90, "3"},   {70, "1"},   {10, "1"},     {20, "1"},  {42, ".3"},
              {10, "2"},         {20, "1"},     {10, "1.5"}, {20, "2"},   {0, "CIRCLE"}, {10, "3"},  {20, "1"},
              {40, ".4"},        {0, "SPLINE"}, {71, "2"},   {40, "0"},   {40, "0"},     {40, "0"},  {40, "1"},
              {40, "1"},         {40, "1"},     {10, ".2"},  {20, ".2"},  {10, ".6"},    {20, ".8"}, {10, ".9"},
              {20, ".2"},        {0, "LINE"},   {10, ".2"},  {20, ".2"},  {11, ".9"},    {21, ".2"}, {0, "POLYLINE"},
              {70, "1"},         {0, "VERTEX"}, {10, "1"},   {20, "2.2"}, {0, "VERTEX"}, {10, "2"},  {20, "2.2"},
              {42, "-.2"},       {0, "VERTEX"}, {10, "1.5"}, {20, "2.8"}, {0, "SEQEND"}}));
}

}  // namespace

TEST_CASE("SVG and DXF drawings with bytes changed, cut, repeated or replaced never crash") {
  const TemporaryFolder folder;
  const MemoryLimit limit(kMostMemory);
  const auto doc = flat_wall();
  Dice dice(606);
  const auto ours = scribbled(doc, 5, 3);
  const SeamsTaken taken = take_out_seams(*ours, *ours->walls[0]);
  for (const auto& [name, good] : std::vector<std::pair<std::string, std::string>>{
           {"a.svg", some_svg()}, {"b.dxf", some_dxf()}, {"c.svg", seams_svg(taken)}, {"d.dxf", seams_dxf(taken)}}) {
    write_bytes(folder.file(name), good);
    check_drawing(*doc, folder.file(name), false);
    for (int round = 0; round < rounds() / 3; ++round) {
      write_bytes(folder.file(name), damaged(good, dice));
      check_drawing(*doc, folder.file(name), round % 2 == 0);
    }
  }
}

TEST_CASE("a million points, deep groups, entities that grow and endless numbers are answered") {
  const TemporaryFolder folder;
  const MemoryLimit limit(kMostMemory);
  const auto doc = flat_wall();
  const auto check = [&](const std::string& name, const std::string& text) {
    write_bytes(folder.file(name), text);
    check_drawing(*doc, folder.file(name), false);
  };
  std::string deep, path = "M2 1.5", polyline;
  for (int i = 0; i < 100000; ++i) deep += "<g>";
  check("deep.svg", page(deep));
  deep.clear();
  for (int i = 0; i < 1000; ++i) deep += "<g transform=\"scale(1e9)\">";
  std::string shut;
  for (int i = 0; i < 1000; ++i) shut += "</g>";
  check("deep.svg", page(deep + "<rect width=\"1\" height=\"1\"/>" + shut));
  // Entities that double thirty times are never expanded.
  std::string bomb = "<!DOCTYPE svg [<!ENTITY e0 \"M0 0 L1 1\">";
  for (int i = 1; i < 30; ++i) bomb += fmt::format("<!ENTITY e{} \"&e{};&e{};\">", i, i - 1, i - 1);
  check("bomb.svg", bomb + "]>" + page("<path d=\"&e29;\"/>"));
  for (int i = 0; i < 1000000; ++i) path += " l1e-6 0";
  check("long.svg", page("<path d=\"" + path + " v1 h-1z\"/>"));
  for (int i = 0; i < 1000000; ++i) polyline += fmt::format(" 10\n{}\n 20\n1\n", i * 1e-6);
  check("long.dxf", dxf("  0\nLWPOLYLINE\n" + polyline));
  std::string flood;
  for (int i = 0; i < 70; ++i) flood += "<circle cx=\"2\" cy=\"1\" r=\"1e12\"/>";
  check("flood.svg", page(flood));  // each as fine as a curve may be: more points than a drawing may hold
  check("digits.svg", page("<path d=\"M" + std::string(1000000, '1') + " 0L1 1\"/>"));
  check("digits.dxf", dxf("  0\nCIRCLE\n 10\n" + std::string(1000000, '7') + "\n"));
  check("lines.dxf", std::string(1000000, '\n'));
  std::string strokes;
  for (int i = 0; i < 100000; ++i)
    strokes += fmt::format("  0\nLINE\n 10\n{}\n 20\n1\n 11\n{}\n 21\n1\n", i * 1e-5, (i + 1) * 1e-5);
  check("strokes.dxf", dxf(strokes));
  std::string knots;
  for (int i = 0; i < 100000; ++i) knots += fmt::format(" 40\n{}\n 10\n{}\n 20\n{}\n", i, (i * 7919) % 1000, i % 991);
  check("spline.dxf", dxf("  0\nSPLINE\n 71\n3\n 40\n0\n 40\n0\n 40\n0\n 40\n0\n" + knots));
}
