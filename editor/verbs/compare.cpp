#include "editor/verbs/layout_report.h"

namespace pontata {

namespace {

struct CompareArguments : ReportArguments {
  std::optional<std::string> other;
  std::optional<std::string> wall;
};

// One row a wall that has giornate.
void add_rows(const CompareArguments& a, const std::string& project, const Document& doc, Progress* progress,
              Json& json, Table& table, std::string& text) {
  Flow flow;
  for (const auto& item : doc.walls) {
    if (a.wall && item->name != *a.wall) continue;
    const LayoutFigures figures = flow.layout(doc, item->id, progress);
    if (figures.giornate == 0) continue;
    Json row = figures_json(figures);
    row["project"] = project;
    row["wall"] = item->name;
    json["layouts"].push_back(std::move(row));
    std::vector<Cell> cells{cell(project), cell(item->name)};
    for (Cell& c : figures_cells(figures)) cells.push_back(std::move(c));
    table.rows.push_back(std::move(cells));
    text += project + ", " + item->name + ": " + figures_words(figures) + "\n";
  }
}

int compare(const CompareArguments& a, const Document& doc, Progress* progress) {
  Json json = {{"layouts", Json::array()}};
  Table table{{{"project", "project", false}, {"wall", "wall", false}}, {}};
  add_figures_columns(table);
  std::string text;
  if (a.wall)
    if (const auto known = find_wall(doc, *a.wall); !known) return fail(known.problem(), a.project);
  add_rows(a, a.project, doc, progress, json, table, text);
  if (a.other) {
    const auto other = load_project(*a.other, progress);
    if (!other) return fail(other.problem(), *a.other);
    add_rows(a, *a.other, **other, progress, json, table, text);
  }
  if (text.empty()) text = "no giornate are drawn\n";
  return report_all(a, doc, json, table, text);
}

}  // namespace

VerbTask compare_verb(Usage& usage) {
  const auto a = std::make_shared<CompareArguments>();
  a->declare_json_and_csv(usage);
  usage.may_take(a->other, "OTHER", "another project, its layouts told beside the first one's");
  usage.text(a->wall, "--wall", "NAME", "this wall alone");
  return [a] {
    return with_report("compare", *a,
                       [&](const Document& doc, Progress* progress) { return compare(*a, doc, progress); });
  };
}

}  // namespace pontata
