#include <fmt/format.h>

#include <array>
#include <filesystem>

#include "editor/verbs/project.h"
#include "engine/base/units.h"
#include "engine/document/cartoon_input.h"

namespace pontata {

namespace {

constexpr std::array<const char*, 4> kCartoonFiles{"cartoon.pdf", "key-plan.pdf", "key-plan.png", "day-sheets.pdf"};

struct CartoonArguments : ReportArguments {
  std::string out;
  std::optional<std::string> paper, format;
  std::vector<std::uint32_t> only;
};

Json row_json(const CartoonReport::Row& row) {
  return {{"id", row.id.value},
          {"number", row.number},
          {"sheets", row.sheets},
          {"max_strain", row.max_strain},
          {"least_strain", row.least_strain ? Json(*row.least_strain) : Json()},
          {"misfit_mm", row.misfit_mm},
          {"relief_cuts", row.relief_cuts},
          {"seam_mismatch_mm", row.seam_mismatch_mm}};
}

void tell(const CartoonArguments& a, const CartoonReport& report) {
  Json json = {{"sheets", report.sheets}, {"giornate", Json::array()}};
  Table table{{{"id", "id"},
               {"number", "no."},
               {"sheets", "sheets"},
               {"max_strain", "stretch %"},
               {"misfit_mm", "misfit mm"},
               {"seam_mismatch_mm", "seams mm"}},
              {}};
  for (const auto& row : report.giornate) {
    json["giornate"].push_back(row_json(row));
    table.rows.push_back({cell(static_cast<int>(row.id.value)), cell(row.number), cell(row.sheets),
                          cell(100 * row.max_strain, 3), cell(row.misfit_mm, 2), cell(row.seam_mismatch_mm, 2)});
  }
  json["files"] = report.files;
  std::string text = table.text() + fmt::format("{} {}\n", report.sheets, report.sheets == 1 ? "sheet" : "sheets");
  for (const auto& file : report.files) text += file + "\n";
  print(a.json ? to_text(json) : text);
}

int make_cartoon(const CartoonArguments& a, const Document& doc, const Paper& paper, Progress* progress) {
  for (const char* name : kCartoonFiles)
    if (const auto free = may_be_written((std::filesystem::path(a.out) / name).string(), a.project, doc); !free)
      return fail(free.problem(), "");
  Flow flow;
  std::vector<GiornataId> only;
  for (const auto id : a.only) only.push_back(GiornataId{id});
  const auto input = cartoon_input(doc, flow, a.project, only);
  if (!input) return fail(input.problem(), a.project);
  const CartoonOptions options{paper, doc.settings.cartoon.overlap_mm, doc.settings.cartoon.picture_dpi};
  const auto report = write_cartoon(*input, a.out, options, progress);
  if (!report) return fail(report.problem(), a.out);
  tell(a, *report);
  return kExitDone;
}

int run(const CartoonArguments& a) {
  if (a.paper)
    if (const auto paper = paper_named(*a.paper); !paper) return wrong_usage("cartoon", paper.problem().message());
  return with_project(a, [&](const Document& doc, Progress* progress) {
    const auto paper = paper_named(a.paper.value_or(doc.settings.cartoon.paper));
    return paper ? make_cartoon(a, doc, *paper, progress) : fail(paper.problem(), a.project);
  });
}

}  // namespace

VerbTask cartoon_verb(Usage& usage) {
  const auto a = std::make_shared<CartoonArguments>();
  a->declare_json(usage);
  usage.text_required(a->out, "--out", "DIR",
                      "the folder for cartoon.pdf, key-plan.pdf, key-plan.png and day-sheets.pdf");
  usage.text(a->paper, "--paper", "A4|A3|A2|A1|A0|roll610|roll914", "the paper (the project's setting)");
  usage.choice(a->format, "--format", {"pdf"}, "the file format");
  usage.ids(a->only, "--only", "ids of the giornate wanted (all)");
  return [a] { return run(*a); };
}

}  // namespace pontata
