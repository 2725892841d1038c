#include "editor/stages/seam_files_form.h"

#include <fmt/format.h>
#include <imgui.h>

#include <filesystem>

#include "editor/verbs/output_files.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/document/atomic_file.h"
#include "engine/document/seam_files/bring_in.h"
#include "engine/document/seam_files/take_out.h"

namespace pontata {

namespace {

std::string file_name(const std::string& path) { return std::filesystem::path(path).filename().string(); }

std::string told(const SeamsBrought& brought) {
  const auto count = [](std::size_t n, const char* one, const char* more) {
    return fmt::format("{} {}", n, n == 1 ? one : more);
  };
  std::string text = count(brought.made.size(), "giornata", "giornate") + " brought in";
  if (!brought.divided.empty()) text += ", " + count(brought.divided.size(), "divided", "divided");
  if (!brought.zones.empty()) text += ", " + count(brought.zones.size(), "zone", "zones");
  if (!brought.left_out.empty())
    text += fmt::format("; {} left out, the first: {}", brought.left_out.size(), brought.left_out[0].message());
  for (const auto& note : brought.notes) text += "; " + note;
  return text;
}

void tick(Workbench& bench, const char* label, const char* id, bool& value, const char* help) {
  ImGui::Checkbox(label, &value);
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", help);
  control(bench, id);
}

}  // namespace

void SeamFilesForm::draw(Workbench& bench) {
  if (ImGui::Button("Take seams out…")) ask_out(bench);
  control(bench, "seams.out");
  same_row("Bring seams in…");
  if (ImGui::Button("Bring seams in…")) ask_in(bench);
  control(bench, "seams.in");
  if (!path_.empty()) choices(bench);
}

void SeamFilesForm::ask_out(Workbench& bench) {
  const WallItem* item = bench.session.document()->wall(bench.session.wall());
  if (!item) return;
  bench.browser.ask({FileBrowser::Want::save_file,
                     "Seams as .svg or .dxf",
                     {".svg", ".dxf"},
                     item->name + "-seams.svg",
                     [&bench](const std::string& path) { take_out(bench, path); }},
                    bench.settings.folder);
}

void SeamFilesForm::take_out(Workbench& bench, const std::string& path) {
  const DocumentRef document = bench.session.document();
  const WallId wall = bench.session.wall();
  const bool svg = path.ends_with(".svg");
  if (!svg && !path.ends_with(".dxf"))
    return bench.session.complain({"seams are written as SVG or DXF", path, "End the name in .svg or .dxf."});
  if (const auto free = may_be_written(path, bench.session.path(), *document); !free)
    return bench.session.complain(free.problem());
  bench.worker.start("Taking the seams out", false, [&bench, document, wall, path, svg](Progress&) -> Worker::Apply {
    const SeamsTaken seams = take_out_seams(*document, *document->wall(wall));
    const Outcome wrote = write_file_atomically(path, svg ? seams_svg(seams) : seams_dxf(seams));
    return [&bench, wrote, path] {
      wrote ? bench.session.say("Seams written: " + file_name(path)) : bench.session.complain(wrote.problem());
    };
  });
}

void SeamFilesForm::ask_in(Workbench& bench) {
  bench.browser.ask({FileBrowser::Want::open_file,
                     "Choose a drawing of seams",
                     {".svg", ".dxf"},
                     "",
                     [this](const std::string& path) { path_ = path; }},
                    bench.settings.folder);
}

void SeamFilesForm::choices(Workbench& bench) {
  quiet_text(file_name(path_).c_str());
  field_name("One unit of it is");
  text_field("##seams.unit", unit_);
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("mm, cm, m, in, ft, or a length such as 10mm; empty: as the file says");
  control(bench, "seams.unit");
  field_name("Only the layer");
  text_field("##seams.layer", layer_);
  control(bench, "seams.layer");
  tick(bench, "Overlap goes to what is brought in", "seams.take", take_,
       "Otherwise it stays with the giornate that are there");
  tick(bench, "Follow the picture's contours", "seams.hug", hug_, "Lines hug contours and seams between their points");
  tick(bench, "Leave out what cannot be brought in", "seams.skip", skip_bad_,
       "Otherwise one line that cannot be brought in stops all of them");
  if (action_button("Bring the seams in")) bring_in(bench);
  control(bench, "seams.bring");
  same_row("Not now");
  if (ImGui::Button("Not now")) path_.clear();
  control(bench, "seams.not-now");
}

void SeamFilesForm::bring_in(Workbench& bench) {
  DrawingOptions reading;
  if (!unit_.empty()) {
    const auto unit = drawing_unit(unit_);
    if (!unit) return bench.session.complain(unit.problem());
    reading.unit_m = *unit;
  }
  if (!layer_.empty()) reading.layers = {layer_};
  BringOptions options;
  options.hug = hug_;
  options.take = take_;
  options.skip_bad = skip_bad_;
  const DocumentRef document = bench.session.document();
  const WallId wall = bench.session.wall();
  const std::string path = path_;
  bench.worker.start("Bringing the seams in", true, [=, this, &bench](Progress& progress) -> Worker::Apply {
    Result<SeamsBrought> brought = Problem{};
    if (const auto drawing = read_drawing(path, reading, &progress); drawing)
      brought = bring_in_seams(*document, wall, *drawing, options, &progress);
    else
      brought = drawing.problem();
    if (is_cancelled(&progress)) return [&bench] { bench.session.say("Stopped; nothing has changed"); };
    return [this, &bench, path, brought = std::move(brought)] {
      if (!brought) {
        Problem problem = brought.problem();
        if (problem.where.find(path) == std::string::npos)
          problem.where = file_name(path) + (problem.where.empty() ? "" : ": " + problem.where);
        return bench.session.complain(problem);
      }
      if (!commit(bench, Edited{brought->document, brought->did})) return;
      bench.session.say(told(*brought));
      path_.clear();
    };
  });
}

}  // namespace pontata
