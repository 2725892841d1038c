#include "editor/stages/layout_section.h"

#include <fmt/format.h>
#include <imgui.h>

#include <array>
#include <filesystem>

#include "editor/stages/section.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/known_ground.h"
#include "editor/window/theme.h"
#include "engine/document/project_file.h"

namespace pontata {
namespace {

constexpr double kLeastSize = 0.2;
constexpr int kMostLayouts = 12;

// A number from a field, within limits, or what to type.
Result<double> number_in(const std::string& text, const std::string& what, double least, double most) {
  const auto value = number_or_none(text, what);
  if (!value) return value.problem();
  if (*value && **value >= least && **value <= most) return **value;
  return Problem{fmt::format("{} must be a number from {:g} to {:g}", what, least, most), "", ""};
}

}  // namespace

void LayoutSection::draw(Workbench& bench) {
  if (!section(bench, "layout", "A layout to start from")) return;
  quiet_text(
      "Giornate for this wall from its picture, zones, rates, hours and decks. What is painted, being painted, to be "
      "done again or printed stays as it is.");
  fields_.edit(
      bench, {"layout.size", "Size", size_, "of the day's hours", "0.2 to 1: how full a day may be", FieldKind::number},
      size_);
  fields_.edit(bench,
               {"layout.contours", "Along contours", contours_, "", "0: short and straight; 1: never mind length",
                FieldKind::number},
               contours_);
  fields_.edit(bench, {"layout.count", "Layouts", count_, "", "how many to find, 1 to 12", FieldKind::number}, count_);
  ImGui::Checkbox("Begin with the giornate that are there", &improve_);
  control(bench, "layout.improve");
  if (action_button("Find layouts")) seek(bench);
  control(bench, "layout.find");
  result(bench);
}

Result<ProposeOptions> LayoutSection::options() const {
  ProposeOptions options;
  const auto size = number_in(size_, "the size", kLeastSize, 1),
             contours = number_in(contours_, "along contours", 0, 1);
  if (!size) return size.problem();
  if (!contours) return contours.problem();
  options.settings.size = *size;
  options.settings.contours = *contours;
  options.settings.from_existing = improve_;
  return options;
}

void LayoutSection::seek(Workbench& bench) {
  const auto wanted = options();
  if (!wanted) return bench.session.complain(wanted.problem());
  const auto count = number_in(count_, "the number of layouts", 1, kMostLayouts);
  if (!count) return bench.session.complain(count.problem());
  const DocumentRef document = bench.session.document();
  const WallId wall = bench.session.wall();
  const KnownGround known(bench.session);
  bench.worker.start(
      "Finding layouts", false,
      [this, &bench, known, document, wall, wanted = *wanted,
       n = static_cast<int>(*count)](Progress& progress) -> Worker::Apply {
        Flow flow;
        known.give(flow, *document);
        auto layouts = propose_several(*document, wall, wanted, n, flow, &progress);
        if (progress.cancelled) return [&bench] { bench.session.say("No layout was sought further"); };
        if (!layouts) return [&bench, problem = layouts.problem()] { bench.session.complain(problem); };
        const LayoutFigures present = flow.layout(*document, wall, &progress);
        if (progress.cancelled) return [&bench] { bench.session.say("No layout was sought further"); };
        auto found = std::make_shared<const Found>(Found{document, wall, present, std::move(*layouts), {}});
        return [this, &bench, found] {
          found_ = found;
          choose(1);
          bench.session.say(fmt::format("{} {} found", found->layouts.size(),
                                        found->layouts.size() == 1 ? "layout" : "different layouts"));
        };
      });
}

void LayoutSection::compare(Workbench& bench, const std::string& path) {
  const DocumentRef document = bench.session.document();
  const WallId wall = bench.session.wall();
  const std::string name = document->wall(wall)->name;
  bench.worker.start(
      "Comparing layouts", false, [this, &bench, document, wall, name, path](Progress& progress) -> Worker::Apply {
        const auto other = load_project(path, &progress);
        if (!other) return [&bench, problem = other.problem()] { bench.session.complain(problem); };
        WallId there;
        for (const auto& item : (*other)->walls)
          if (item->name == name) there = item->id;
        if (!there)
          return [&bench, name, path] {
            bench.session.complain({"no wall is called " + name + " there", path, "Choose a copy of this project."});
          };
        Flow flow;
        const std::pair other_row{std::filesystem::path(path).stem().string(), flow.layout(**other, there, &progress)};
        const LayoutFigures present = flow.layout(*document, wall, &progress);
        if (progress.cancelled) return [&bench] { bench.session.say("The comparison was stopped"); };
        return [this, document, wall, other_row, present] {
          // Beside layouts that were found meanwhile or before, where there are any.
          Found found = found_ && found_->of == document && found_->wall == wall
                            ? *found_
                            : Found{document, wall, present, {}, {}};
          std::erase_if(found.others, [&](const auto& o) { return o.first == other_row.first; });
          found.others.push_back(other_row);
          if (found.layouts.empty()) choose(0);
          found_ = std::make_shared<const Found>(std::move(found));
        };
      });
}

void LayoutSection::forget() {
  found_.reset();
  lines_.clear();
  worst_.clear();
}

// For this wall, in the project as it is now.
bool LayoutSection::holds(const Workbench& bench) const {
  return found_->wall == bench.session.wall() && found_->of == bench.session.document();
}

void LayoutSection::result(Workbench& bench) {
  const WallItem* item = found_ ? bench.session.document()->wall(found_->wall) : nullptr;
  if (found_ && (!item || item->wall != found_->of->wall(found_->wall)->wall)) forget();  // another project
  if (found_ && found_->wall == bench.session.wall()) {
    if (holds(bench)) {
      table(bench);
      chosen(bench);
    } else {
      quiet_text("The project has changed since layouts were found: find them again.");
      if (ImGui::Button("Drop them")) forget();
      control(bench, "layout.leave");
    }
  }
  if (ImGui::Button("Compare with another project…"))
    bench.browser.ask({FileBrowser::Want::open_file,
                       "Compare with",
                       {".pontata", ".json"},
                       "",
                       [this, &bench](const std::string& path) { compare(bench, path); }},
                      bench.settings.folder);
  control(bench, "layout.compare");
}

void LayoutSection::table(Workbench& bench) {
  constexpr auto kFlags = ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_SizingStretchProp;
  if (!ImGui::BeginTable("layouts", 7, kFlags)) return;
  for (const char* column :
       {"lay-\nout", "gior-\nnate", "days", "seam\nm", "% on\ncontour", "fullest\nh", "decide\n· warn"})
    ImGui::TableSetupColumn(column);
  ImGui::TableHeadersRow();
  if (found_->present.giornate > 0) row(bench, "now", found_->present, 0);
  for (std::size_t k = 0; k < found_->layouts.size(); ++k)
    row(bench, std::to_string(k + 1), found_->layouts[k].figures, static_cast<int>(k) + 1);
  int other = -1;
  for (const auto& [name, figures] : found_->others) row(bench, name, figures, other--);
  ImGui::EndTable();
}

void LayoutSection::row(Workbench& bench, const std::string& name, const LayoutFigures& f, int number) {
  ImGui::TableNextRow();
  ImGui::TableNextColumn();
  const std::string label = fmt::format("{}###layout{}", name, number);
  const bool pressed = ImGui::Selectable(label.c_str(), chosen_ == number, ImGuiSelectableFlags_SpanAllColumns);
  if (ImGui::IsItemHovered())
    ImGui::SetTooltip("%s", f.worst ? ("The worst: " + f.worst->says).c_str() : "Nothing to say against it");
  if (pressed) choose(number);
  if (chosen_ == number) worst_ = f.worst ? f.worst->says : "nothing to say against it";
  control(bench, "layout.row." + std::to_string(number));
  for (const std::string& cell :
       {std::to_string(f.giornate), f.days ? std::to_string(*f.days) : std::string("–"),
        shown(f.contours.seam_m, 1, ""),
        f.contours.judged_m > 0 ? shown(100 * f.contours.on_contour(), 0, "") : std::string("–"),
        f.fullest_h > 0 ? shown(f.fullest_h, 1, "") + (f.over_hours ? ", too much" : "") : std::string("–"),
        fmt::format("{} · {}", f.decide, f.warn)}) {
    ImGui::TableNextColumn();
    fitted_text(cell);
  }
}

void LayoutSection::choose(int number) {
  chosen_ = number;
  lines_.clear();
  worst_.clear();
  const bool one = found_ && number > 0 && static_cast<std::size_t>(number) <= found_->layouts.size();
  if (one) lines_ = seam_lines(found_->layouts[static_cast<std::size_t>(number) - 1].proposal.network);
}

void LayoutSection::chosen(Workbench& bench) {
  if (!worst_.empty()) quiet_text(("The worst: " + worst_).c_str());
  const bool one = chosen_ > 0 && static_cast<std::size_t>(chosen_) <= found_->layouts.size();
  bool take = false;
  if (one) {
    bench.views->point_out(found_->wall, lines_);
    const ProposedLayout& layout = found_->layouts[static_cast<std::size_t>(chosen_) - 1];
    quiet_text(fmt::format("{} giornate of at most {}; by their hours at least {}.", layout.proposal.fresh.size(),
                           shown(layout.proposal.hours_each, 1, "h"), layout.proposal.fewest)
                   .c_str());
    for (const std::string& remark : layout.proposal.remarks) warn_text(remark.c_str());
    if (found_->present.giornate > 0)
      quiet_text(
          "The giornate that do not stay are taken away, with their names, notes and pairs; undo brings them back.");
    take = action_button("Take this layout");
    control(bench, "layout.take");
    same_row("Leave it as it is");
  }
  const bool leave = ImGui::Button("Leave it as it is");
  control(bench, "layout.leave");
  if (take && commit(bench, Edited(found_->layouts[static_cast<std::size_t>(chosen_) - 1].edit))) return forget();
  if (leave) forget();
}

}  // namespace pontata
