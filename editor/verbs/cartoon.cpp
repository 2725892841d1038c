#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>

#include "editor/verbs/project.h"
#include "engine/base/units.h"
#include "engine/cartoon/print_doubts.h"
#include "engine/document/cartoon_input.h"
#include "engine/document/giornata_records.h"
#include "engine/document/setting_values.h"

namespace pontata {

namespace {

constexpr std::array<const char*, 6> kCartoonFiles{"cartoon.pdf",  "incision.pdf",   "key-plan.pdf",
                                                   "key-plan.png", "day-sheets.pdf", "book.pdf"};

struct CartoonArguments : ReportArguments {
  std::string out;
  std::optional<std::string> paper, format, picture, copies, by;
  std::optional<Vec3> eye, look;
  std::vector<std::uint32_t> only;
  bool trial = false, mirrored = false;
};

Json row_json(const CartoonReport::Row& row) {
  return {{"id", row.id.value},
          {"number", row.number},
          {"label", label_of(row)},
          {"sheets", row.sheets},
          {"paper_m2", row.paper_m2},
          {"roll_m", row.roll_m},
          {"max_strain", row.max_strain},
          {"least_strain", row.least_strain ? Json(*row.least_strain) : Json()},
          {"misfit_mm", row.misfit_mm},
          {"worst_line_mm", row.worst_line_mm},
          {"most_stretched", row.most_stretched},
          {"most_shrunk", row.most_shrunk},
          {"mean_strain", row.mean_strain},
          {"outline_mm_per_m", row.outline_mm_per_m},
          {"relief_cuts", row.relief_cuts},
          {"seam_mismatch_mm", row.seam_mismatch_mm}};
}

void tell(const CartoonArguments& a, const CartoonReport& report) {
  Json json = {{"sheets", report.sheets},
               {"paper_m2", report.paper_m2},
               {"roll_m", report.roll_m},
               {"trial", a.trial},
               {"giornate", Json::array()}};
  Table table{{{"id", "id"},
               {"number", "no."},
               {"sheets", "sheets"},
               {"relief_cuts", "cuts"},
               {"misfit_mm", "misfit mm"},
               {"seam_mismatch_mm", "seams mm"},
               {"worst_line_mm", "lines mm"}},
              {}};
  for (const auto& row : report.giornate) {
    json["giornate"].push_back(row_json(row));
    table.rows.push_back({cell(static_cast<int>(row.id.value)), cell(label_of(row)), cell(row.sheets),
                          cell(row.relief_cuts), cell(row.misfit_mm, 2), cell(row.seam_mismatch_mm, 2),
                          cell(row.worst_line_mm, 1)});
  }
  json["incision_sheets"] = report.incision_sheets;
  json["sinopia_sheets"] = report.sinopia_sheets;
  json["files"] = report.files;
  const std::string paper = report.roll_m > 0 ? format_fixed(report.roll_m, 2) + " m of roll"
                                              : format_fixed(report.paper_m2, 2) + " m² of paper";
  std::string text =
      table.text() + fmt::format("{} {}, {}\n", report.sheets, report.sheets == 1 ? "sheet" : "sheets", paper);
  for (const auto& file : report.files) text += file + "\n";
  print(a.json ? to_text(json) : text);
}

// Giornate whose cartoon no longer fits and that are not printed now.
void note_changed(const Document& doc, const CartoonReport& report) {
  const auto printed_now = [&](const Giornata& g) {
    return std::any_of(report.giornate.begin(), report.giornate.end(), [&](const auto& row) { return row.id == g.id; });
  };
  for (const Giornata& g : doc.giornate)
    if (g.alive && g.changed && !printed_now(g)) note(changed_since_cartoon(g));
}

void note_doubts(const Document& doc, const CartoonReport& report) {
  for (const std::string& line : print_doubts(report, doc.settings.cartoon.relief_mm)) note(line);
}

CartoonFormat format_named(const std::string& name) {
  return name == "svg" ? CartoonFormat::svg : name == "dxf" ? CartoonFormat::dxf : CartoonFormat::pdf;
}

// The project's settings with what the command line says.
Result<CartoonSettings> chosen_settings(const CartoonArguments& a, const Document& doc) {
  CartoonSettings out = doc.settings.cartoon;
  if (a.picture) out.print.picture = *read_printed_picture(*a.picture);
  if (a.copies) {
    const auto print = read_copies(*a.copies, out.print);
    if (!print) return print.problem();
    out.print = *print;
  }
  out.print.mirrored |= a.mirrored;
  if (a.by) out.plan.by = *read_plan_by(*a.by);
  if (a.eye) out.plan.eye = PlanEye{*a.eye, *a.look};
  return out;
}

Result<CartoonReport> make_cartoon(const CartoonArguments& a, const Document& doc, Flow& flow, Progress* progress) {
  const auto settings = chosen_settings(a, doc);
  if (!settings) return settings.problem();
  const auto paper = paper_named(a.paper.value_or(settings->paper));
  if (!paper) return paper.problem();
  for (const char* name : kCartoonFiles)
    if (auto free = may_be_written((std::filesystem::path(a.out) / name).string(), a.project, doc); !free)
      return free.problem();
  std::vector<GiornataId> only;
  for (const auto id : a.only) only.push_back(GiornataId{id});
  auto input = cartoon_input(doc, flow, a.project, only, progress);
  if (!input) {
    Problem problem = input.problem();
    problem.where = a.project + (problem.where.empty() ? "" : ": " + problem.where);
    return problem;
  }
  input->trial = a.trial;
  input->plan = settings->plan;
  CartoonOptions options{*paper, settings->overlap_mm, settings->picture_dpi, settings->relief_mm};
  options.print = settings->print;
  options.format = format_named(a.format.value_or("pdf"));
  options.may_write = [&](const std::string& path) { return may_be_written(path, a.project, doc); };
  auto report = write_cartoon(*input, a.out, options, progress);
  if (report) return report;
  Problem problem = report.problem();
  if (problem.where.empty()) problem.where = a.out;
  return problem;
}

int print_trial(const CartoonArguments& a) {
  return with_project(a, [&](const Document& doc, Progress* progress) {
    Flow flow;
    const auto report = make_cartoon(a, doc, flow, progress);
    if (!report) return fail(report.problem(), "");
    note_changed(doc, *report);
    note_doubts(doc, *report);
    tell(a, *report);
    return kExitDone;
  });
}

// Prints, then writes into the project that it was printed: from now on its giornate keep their numbers.
int print_cartoon(const CartoonArguments& a) {
  const auto progress = console_progress(a.progress);
  const FolderLock lock(a.project, note_waiting);
  const auto opened = open_for_change(a.project, {}, progress.get());
  if (!opened) return fail(opened.problem(), a.project);
  if (const auto free = check_may_write(a.project); !free)
    return fail({free.problem().what + ", and printing writes into it that numbers are frozen", "",
                 "Make it writable, or print with --trial."},
                a.project);
  Flow flow;
  const DocumentRef doc = numbered_in_order(*opened, flow);
  const auto report = make_cartoon(a, *doc, flow, progress.get());
  if (!report) return fail(report.problem(), "");
  std::vector<GiornataId> printed;
  for (const auto& row : report->giornate) printed.push_back(row.id);
  const auto made = cartoon_printed(*doc, printed);
  if (!made) return fail(made.problem(), a.project);
  if (const int status = save_or_fail(*made->document, a.project); status != kExitDone) return status;
  note_changed(*made->document, *report);
  note_doubts(*doc, *report);
  tell(a, *report);
  return kExitDone;
}

int run(const CartoonArguments& a) {
  if (a.paper)
    if (const auto paper = paper_named(*a.paper); !paper) return wrong_usage("cartoon", paper.problem().message());
  if (a.copies)
    if (const auto copies = read_copies(*a.copies); !copies) return wrong_usage("cartoon", copies.problem().message());
  if (a.eye.has_value() != a.look.has_value())
    return wrong_usage("cartoon", "--eye X,Y,Z and --look X,Y,Z go together: where the eye is, and what it looks at");
  if (a.eye && glm::distance(*a.eye, *a.look) < 0.01)
    return wrong_usage("cartoon", "the eye stands where it looks: give two places a metre or more apart");
  return a.trial ? print_trial(a) : print_cartoon(a);
}

}  // namespace

VerbTask cartoon_verb(Usage& usage) {
  const auto a = std::make_shared<CartoonArguments>();
  a->declare_json(usage);
  usage.text_required(a->out, "--out", "DIR",
                      "the folder for the sheets, key-plan.pdf, key-plan.png, day-sheets.pdf and book.pdf");
  usage.text(a->paper, "--paper", "A4|A3|A2|A1|A0|roll610|roll914", "the paper (the project's setting)");
  usage.choice(a->format, "--format", {"pdf", "svg", "dxf"},
               "sheets as cartoon.pdf, as SVG (a file a sheet) or as DXF (a file a giornata, whole, for cutters)");
  usage.choice(a->picture, "--picture", {"full", "faded", "contours"},
               "what the patterns show of the picture (the project's setting picture.print)");
  usage.text(a->copies, "--copies", "prick,incision,sinopia|none",
             "marks to prick on the patterns, a trimmed copy for the stylus, sheets for the arriccio (setting copies)");
  usage.flag(a->mirrored, "--mirrored", "patterns mirrored, for tracing from behind");
  usage.choice(a->by, "--by", {"pontata", "week"}, "how the key plan tells giornate apart (setting plan.by)");
  usage.place3(a->eye, "--eye", "the key plan also as seen from this place (setting plan.eye)");
  usage.place3(a->look, "--look", "what that eye looks at");
  usage.ids(a->only, "--only", "ids of the giornate wanted (all)");
  usage.flag(a->trial, "--trial",
             "a trial print, which says so: the project is left alone and numbers may still change");
  return [a] { return run(*a); };
}

}  // namespace pontata
