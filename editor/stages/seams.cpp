// Seams: what the look over the seams found, and where.
#include <fmt/format.h>
#include <imgui.h>

#include <filesystem>

#include "editor/stages/floor_section.h"
#include "editor/stages/seam_findings.h"
#include "editor/stages/section.h"
#include "editor/stages/stage.h"
#include "editor/verbs/output_files.h"
#include "editor/window/commands.h"
#include "editor/window/known_ground.h"
#include "editor/window/theme.h"
#include "engine/document/review_sheet_input.h"

namespace pontata {
namespace {

void write_sheet(Workbench& bench, const std::string& path) {
  const DocumentRef document = bench.session.document();
  const std::string project = bench.session.path();
  if (const auto free = may_be_written(path, project, *document); !free) return bench.session.complain(free.problem());
  const KnownGround known(bench.session);
  bench.worker.start(
      "Writing the review sheet", false, [&bench, known, document, project, path](Progress& progress) -> Worker::Apply {
        Flow flow;
        known.give(flow, *document);
        const Outcome done = write_review_sheet(*document, flow, project, kWorstOnSheet, path, &progress);
        return [&bench, done, path, stopped = progress.cancelled.load()] {
          if (done)
            bench.session.say("Review sheet written: " + std::filesystem::path(path).filename().string());
          else if (stopped)
            bench.session.say("The review sheet was not written");
          else
            bench.session.complain(done.problem());
        };
      });
}

class SeamsStage final : public StagePage {
 public:
  const char* name() const override { return "Seams"; }
  State state(Workbench& bench) override {
    if (!bench.session.review) return {StageMark::not_started, "Not looked over yet"};
    const SeamFindings::Count count = findings_.count(bench);
    if (!count.holds) return {StageMark::begun, "Changed since the last look"};
    if (count.decide == 0)
      return {StageMark::checked, fmt::format("{} found, {} accepted, nothing to decide first",
                                              count.open + count.accepted, count.accepted)};
    return {StageMark::begun, std::to_string(count.decide) + " to decide first"};
  }
  void draw(Workbench& bench) override;

 private:
  void ask_for_sheet(Workbench& bench);

  SeamFindings findings_;
  FloorSection floor_;
  SettingsFields fields_;
};

void SeamsStage::draw(Workbench& bench) {
  if (!bench.session.wall_item()) return quiet_text("Add a wall first.");
  if (action_button("Look over the seams")) review_now(bench);
  control(bench, "seams.review");
  if (ImGui::Button("Write the review sheet…")) ask_for_sheet(bench);
  control(bench, "seams.sheet");
  findings_.draw(bench);
  floor_.draw(bench);
  if (section(bench, "review-limits", "What counts")) fields_.draw(bench, SettingGroup::review);
}

// Plans, findings and views from every eye point, to be handed out.
void SeamsStage::ask_for_sheet(Workbench& bench) {
  bench.browser.ask({FileBrowser::Want::save_file,
                     "Review sheet",
                     {".pdf"},
                     "review.pdf",
                     [&bench](const std::string& path) { write_sheet(bench, path); }},
                    bench.settings.folder);
}

}  // namespace

std::unique_ptr<StagePage> make_seams_stage() { return std::make_unique<SeamsStage>(); }

}  // namespace pontata
