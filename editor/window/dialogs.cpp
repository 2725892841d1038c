#include <imgui.h>

#include <utility>

#include "editor/window/commands.h"
#include "editor/window/panels.h"
#include "editor/window/theme.h"
#include "engine/document/recovery.h"

namespace pontata {
namespace {

using Dialog = Workbench::Dialog;

bool begin(Workbench& bench, const char* id) {
  if (!ImGui::IsPopupOpen(id)) ImGui::OpenPopup(id);
  ImGui::SetNextWindowSize(ImVec2(460 * static_cast<float>(bench.scale), 0));
  ImGui::SetNextWindowPos(ImGui::GetMainViewport()->GetCenter(), ImGuiCond_Always, ImVec2(0.5f, 0.5f));
  return ImGui::BeginPopupModal(id, nullptr, ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize);
}

void close(Workbench& bench) {
  bench.dialog = Dialog::none;
  ImGui::CloseCurrentPopup();
}

void unsaved_dialog(Workbench& bench) {
  if (!begin(bench, "unsaved")) return;
  heading("There is unsaved work");
  ImGui::TextWrapped("%s has changes that are not saved.", bench.session.title().c_str());
  ImGui::Spacing();
  if (action_button("Save them")) {
    close(bench);  // what was wanted goes on once the work is saved, which may take a name first
    save(bench);
  }
  control(bench, "unsaved.save");
  ImGui::SameLine();
  if (ImGui::Button("Do not save")) {
    remove_recovery(bench.session.path());
    close(bench);
    std::exchange(bench.after_unsaved, nullptr)();
  }
  control(bench, "unsaved.drop");
  ImGui::SameLine();
  if (ImGui::Button("Stay here")) {
    close(bench);
    bench.after_unsaved = nullptr;
  }
  control(bench, "unsaved.stay");
  ImGui::EndPopup();
}

// After the question about unsaved work: does what was wanted once that work is saved, and gives it up when it was not.
void go_on_when_saved(Workbench& bench) {
  if (!bench.after_unsaved || bench.dialog == Dialog::unsaved || bench.browser.open()) return;
  const auto next = std::exchange(bench.after_unsaved, nullptr);
  if (!bench.session.worth_saving()) next();
}

void recover_dialog(Workbench& bench) {
  if (!begin(bench, "recover")) return;
  heading("Unsaved work was kept");
  ImGui::TextWrapped(
      "The program ended before the last changes were saved. A copy was kept. Bring it back? Your own file is not "
      "touched until you save.");
  ImGui::Spacing();
  if (action_button("Bring it back")) {
    load_into(bench, bench.recovery, bench.session.path());
    close(bench);
  }
  control(bench, "recover.take");
  ImGui::SameLine();
  if (ImGui::Button("Leave it out")) {
    remove_recovery(bench.session.path());
    close(bench);
  }
  control(bench, "recover.drop");
  ImGui::EndPopup();
}

void work_dialog(Workbench& bench, const Worker::Shown& work) {
  if (!begin(bench, "work")) return;
  heading(work.title.c_str());
  ImGui::ProgressBar(static_cast<float>(work.fraction), ImVec2(-1, 0));
  quiet_text(work.cancelled ? "stopping…" : work.what.c_str());
  if (ImGui::Button("Cancel")) bench.worker.cancel();
  control(bench, "work.cancel");
  ImGui::EndPopup();
}

}  // namespace

void draw_dialogs(Workbench& bench) {
  const auto work = bench.worker.shown();
  if (work && work->blocking) {
    work_dialog(bench, *work);
  } else if (ImGui::IsPopupOpen("work")) {
    if (begin(bench, "work")) {
      ImGui::CloseCurrentPopup();
      ImGui::EndPopup();
    }
  } else if (bench.dialog == Dialog::unsaved) {
    unsaved_dialog(bench);
  } else if (bench.dialog == Dialog::recover) {
    recover_dialog(bench);
  }
  bench.browser.draw(bench.scale, [&](const char* name) { control(bench, name); });
  go_on_when_saved(bench);
}

}  // namespace pontata
