#include "editor/view/flat_sheet.h"

#include <algorithm>
#include <cmath>

namespace pontata {
namespace {

struct Row {
  std::size_t begin = 0, end = 0;
  double width = 0, height = 0;  // px, without gaps round it
};

std::vector<Row> rows_at(double metre_px, std::span<const ChartBox> charts, double width, double gap, double name) {
  std::vector<Row> rows;
  for (std::size_t i = 0; i < charts.size(); ++i) {
    const double w = charts[i].width * metre_px, h = charts[i].height * metre_px + name;
    if (rows.empty() || rows.back().width + gap + w > width - 2 * gap) rows.push_back({i, i, -gap, 0});
    Row& row = rows.back();
    row.end = i + 1;
    row.width += gap + w;
    row.height = std::max(row.height, h);
  }
  return rows;
}

bool fits(const std::vector<Row>& rows, ViewSize picture, double gap) {
  double height = gap;
  for (const Row& row : rows) {
    if (row.width > picture.width - 2 * gap) return false;
    height += row.height + gap;
  }
  return height <= picture.height;
}

}  // namespace

FlatSheet lay_out_charts(std::span<const ChartBox> charts, ViewSize picture, double gap, double name) {
  double least = 0, most = 1e6;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (least + most);
    (fits(rows_at(middle, charts, picture.width, gap, name), picture, gap) ? least : most) = middle;
  }
  FlatSheet sheet{least, {}};
  const auto rows = rows_at(least, charts, picture.width, gap, name);
  double height = -gap;
  for (const Row& row : rows) height += row.height + gap;
  double y = 0.5 * (picture.height - height);
  for (const Row& row : rows) {
    double x = 0.5 * (picture.width - row.width);
    for (std::size_t i = row.begin; i < row.end; ++i) {
      const ViewSize size{charts[i].width * least, charts[i].height * least};
      sheet.cells.push_back({{x, y + row.height - name - size.height}, size});  // standing on one line
      x += size.width + gap;
    }
    y += row.height + gap;
  }
  return sheet;
}

}  // namespace pontata
