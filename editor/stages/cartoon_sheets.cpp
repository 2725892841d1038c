#include "editor/stages/cartoon_sheets.h"

#include <imgui.h>

#include <algorithm>
#include <utility>

#include "editor/window/fields.h"
#include "editor/window/theme.h"

namespace pontata {
namespace {

constexpr double kMmAnInch = 25.4;
constexpr double kLeastDpi = 12;  // of long sheets of a roll, shown smaller still

std::string paper_text(const SheetDrawing::Plan& plan, const CartoonOptions& options) {
  const std::size_t n = plan.sheets.size();
  std::string text = std::to_string(n) + (n == 1 ? " sheet" : " sheets");
  if (plan.roll_m > 0)
    text += ", " + shown(plan.roll_m, 2, "m") + " of " + options.paper.name;
  else
    text += " of " + options.paper.name + ", " + shown(plan.paper_m2, 2, "m²");
  if (options.print.incision || options.print.sinopia)
    text += "; the copies for the stylus and the arriccio come on top";
  return text;
}

bool pressed(ImGuiKey_ key) { return ImGui::IsKeyPressed(ImGui::GetKeyIndex(key)); }

}  // namespace

void CartoonSheets::ask(Workbench& bench, const CartoonOptions& options, const std::vector<GiornataId>& only,
                        bool trial) {
  auto drawing = std::make_shared<SheetDrawing>(bench.session.document(), options);
  bench.worker.start("Laying out the sheets", true,
                     [=, this, &bench, project = bench.session.path()](Progress& progress) -> Worker::Apply {
                       auto plan = drawing->plan(project, only, trial, progress);
                       return [=, this, &bench, plan = std::move(plan)] {
                         if (!plan) return bench.session.complain(plan.problem());
                         open_with(bench, drawing, *plan);
                       };
                     });
}

void CartoonSheets::open_with(Workbench& bench, std::shared_ptr<SheetDrawing> drawing, SheetDrawing::Plan plan) {
  drawing_ = std::move(drawing), plan_ = std::move(plan);
  there_ = asked_ = -1;
  turn_to(0);
  opening_ = open_ = !plan_.sheets.empty();
  paper_ = paper_text(plan_, drawing_->options());
  bench.session.say(paper_);
}

void CartoonSheets::turn_to(int sheet) {
  at_ = std::clamp(sheet, 0, std::max(0, static_cast<int>(plan_.sheets.size()) - 1));
  fault_.clear();
}

void CartoonSheets::draw(Workbench& bench) {
  if (!open_) return;
  if (std::exchange(opening_, false)) ImGui::OpenPopup("sheets");
  constexpr auto kFlags = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoScrollbar |
                          ImGuiWindowFlags_NoScrollWithMouse;
  const ImGuiViewport& window = *ImGui::GetMainViewport();
  ImGui::SetNextWindowSize(ImVec2(0.9f * window.Size.x, 0.92f * window.Size.y));
  ImGui::SetNextWindowPos(window.GetCenter(), ImGuiCond_Always, ImVec2(0.5f, 0.5f));
  if (!ImGui::BeginPopupModal("sheets", nullptr, kFlags)) return;
  heading("The sheets, as they will be printed");
  if (ImGui::Button("Sheet before") || pressed(ImGuiKey_LeftArrow)) turn_to(at_ - 1);
  control(bench, "sheets.before");
  ImGui::SameLine();
  if (ImGui::Button("Next sheet") || pressed(ImGuiKey_RightArrow)) turn_to(at_ + 1);
  control(bench, "sheets.next");
  ImGui::SameLine();
  const bool close = ImGui::Button("Close") || pressed(ImGuiKey_Escape);
  control(bench, "sheets.close");
  say_place();
  draw_page(bench);
  if (close) {
    open_ = false;
    drawing_.reset(), texture_ = GlTexture{};
    ImGui::CloseCurrentPopup();
  }
  ImGui::EndPopup();
}

void CartoonSheets::say_place() {
  const SheetDrawing::Sheet& s = here();
  fitted_text("Sheet " + std::to_string(at_ + 1) + " of " + std::to_string(plan_.sheets.size()) + ": giornata " +
              s.label + ", its sheet " + std::to_string(s.index + 1) + " of " + std::to_string(s.count));
  quiet_text(paper_.c_str());
}

// The sheet as large as the room lets it, or how far its drawing has come.
void CartoonSheets::draw_page(Workbench& bench) {
  const Vec2 page = here().page;
  const ImVec2 room = ImGui::GetContentRegionAvail(), corner = ImGui::GetCursorScreenPos();
  const double scale = std::max(0.01, std::min((room.x - 4) / page.x, (room.y - 4) / page.y));  // px per mm
  if (!fault_.empty()) return warn_text(fault_.c_str());
  if (there_ != at_) {
    fetch(bench, std::max(kLeastDpi, scale * kMmAnInch));
    quiet_text("drawing the sheet…");
    if (ImGui::Button("Cancel")) bench.worker.cancel();
    control(bench, "sheets.cancel");
    return;
  }
  const ImVec2 size(static_cast<float>(scale * page.x), static_cast<float>(scale * page.y));
  ImGui::SetCursorScreenPos(ImVec2(corner.x + 0.5f * (room.x - size.x), corner.y));
  ImGui::Image(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(texture_.get())), size, ImVec2(0, 0),
               ImVec2(1, 1), ImVec4(1, 1, 1, 1), to_im4(kText));
  control(bench, "sheets.page");
}

void CartoonSheets::fetch(Workbench& bench, double dpi) {
  if (asked_ == at_) return;
  if (asked_ >= 0) return bench.worker.cancel();  // another one is wanted now
  asked_ = at_;
  bench.worker.start("Drawing the sheet", false,
                     [=, this, drawing = drawing_, sheet = here(), wanted = at_](Progress& progress) -> Worker::Apply {
                       auto image = drawing->draw(sheet, dpi, progress);
                       const bool stopped = is_cancelled(&progress);
                       return [=, this, image = std::move(image)] {
                         if (drawing != drawing_) return;  // the dialog was closed
                         asked_ = -1;
                         if (image)
                           take(*image), there_ = wanted;
                         else if (at_ == wanted)
                           fault_ = stopped ? "Stopped. Turn to another sheet and back to go on."
                                            : image.problem().message();
                       };
                     });
}

void CartoonSheets::take(const Image& image) {
  texture_ = make_texture();
  glBindTexture(GL_TEXTURE_2D, texture_.get());
  for (const GLenum way : {GL_TEXTURE_WRAP_S, GL_TEXTURE_WRAP_T}) glTexParameteri(GL_TEXTURE_2D, way, GL_CLAMP_TO_EDGE);
  for (const GLenum way : {GL_TEXTURE_MIN_FILTER, GL_TEXTURE_MAG_FILTER})
    glTexParameteri(GL_TEXTURE_2D, way, GL_LINEAR);
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB8, image.width, image.height, 0, GL_RGB, GL_UNSIGNED_BYTE, image.rgb.data());
  glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
}

}  // namespace pontata
