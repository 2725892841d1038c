#include "editor/window/application.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "editor/stages/stage.h"
#include "editor/view/fonts.h"
#include "editor/window/commands.h"
#include "editor/window/panels.h"
#include "editor/window/theme.h"
#include "editor/window/trace_state.h"

namespace pontata {
namespace {

void region(const char* name, const Region& r, Workbench& bench, void (*draw)(Workbench&), bool scrolls = true) {
  if (r.width < 2 || r.height < 2) return;
  ImGui::SetNextWindowPos(ImVec2(static_cast<float>(r.x), static_cast<float>(r.y)));
  ImGui::SetNextWindowSize(ImVec2(static_cast<float>(r.width), static_cast<float>(r.height)));
  ImGuiWindowFlags flags = ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                           ImGuiWindowFlags_NoBringToFrontOnFocus;
  if (scrolls) flags &= ~ImGuiWindowFlags_NoScrollbar;
  if (ImGui::Begin(name, nullptr, flags)) draw(bench);
  ImGui::End();
}

}  // namespace

Application::Application(std::function<void()> wake, double screen_scale) : bench_(wake), screen_scale_(screen_scale) {
  ImGui::GetIO().IniFilename = nullptr;
  ImGui::GetIO().ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
  map_keys(ImGui::GetIO());
  bench_.views = std::make_unique<ViewArea>(make_gl_renderer(), std::move(wake));
  bench_.picture = std::make_unique<PictureView>();
  bench_.scale_changed = true;
  update_scale();
}

void Application::set_screen_scale(double scale) {
  screen_scale_ = scale;
  bench_.scale_changed = true;
}

void Application::update_scale() {
  if (!std::exchange(bench_.scale_changed, false)) return;
  const double wanted = bench_.settings.scale > 0 ? bench_.settings.scale : screen_scale_;
  bench_.scale = std::clamp(wanted, 1.0, 3.0);
  apply_theme(bench_.scale);
  add_fonts(bench_.scale);
  if (painter_)
    painter_->load_fonts();
  else
    painter_ = std::make_unique<GuiPainter>();
  unsettle();
}

void Application::frame(int width, int height, double seconds) {
  ++bench_.frames;
  update_scale();
  for (Worker* worker : {&bench_.worker, &bench_.quick}) {
    if (worker->poll()) unsettle();
    if (const std::string fault = worker->take_fault(); !fault.empty())
      bench_.session.complain({fault, "", "Nothing was changed."});
  }
  if (const bool busy = bench_.worker.busy(); busy != was_busy_) {
    was_busy_ = busy;
    unsettle();
  }
  if (settle_ > 0) --settle_;
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = ImVec2(static_cast<float>(width), static_cast<float>(height));
  io.DeltaTime = static_cast<float>(std::clamp(seconds, 1e-3, 0.2));
  const std::vector<InputEvent> events = queue_.deliver(io);
  if (!events.empty()) unsettle();
  ImGui::NewFrame();
  bench_.controls.clear();
  const bool picture_open = bench_.tool().wants_picture() && bench_.session.placed();
  WindowSettings wanted = bench_.settings;
  if (page_is_wide(bench_)) wanted.page = wanted.wide_page;
  const Layout layout = make_layout(width, height, wanted, bench_.scale, bench_.page_open, picture_open);
  place_views(layout);
  const bool keys_taken = io.WantTextInput || ImGui::IsPopupOpen("", ImGuiPopupFlags_AnyPopup);
  if (events.empty()) {  // what lies under a resting pointer may have changed
    InputEvent rest;
    rest.at = bench_.pointer;
    rest.mods = bench_.mods;
    input_.handle(bench_, layout, rest, io.WantCaptureMouse, keys_taken);
  }
  for (const InputEvent& e : events) input_.handle(bench_, layout, e, io.WantCaptureMouse, keys_taken);
  bench_.views->forget_shown();
  draw_regions(layout);
  draw_dialogs(bench_);
  bench_.views->follow(bench_.session);
  bench_.views->redraw();
  bench_.views->paint(*ImGui::GetBackgroundDrawList());
  draw_picture();
  draw_marks();
  find_cursor(layout);
  ImGui::Render();
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
  glViewport(0, 0, width, height);
  glDisable(GL_SCISSOR_TEST);
  glClearColor(0.81f, 0.78f, 0.71f, 1);
  glClear(GL_COLOR_BUFFER_BIT);
  painter_->paint(*ImGui::GetDrawData());
  seek_contours(bench_);
  due_ = keep_recovery(bench_);
  const auto within = [&](double limit) { due_ = due_ > 0 ? std::min(due_, limit) : limit; };
  if (io.WantTextInput) within(0.4);  // the caret blinks
  if (bench_.views->due() > 0) within(bench_.views->due());
  record();
}

void Application::place_views(const Layout& layout) {
  const bool picture_open = layout.picture.width >= 2;
  bench_.views->place({layout.views.x, layout.views.y}, {layout.views.width, layout.views.height},
                      bench_.settings.split, bench_.scale, picture_open ? bench_.beside_picture : ViewsShown::both);
  bench_.views->follow(bench_.session);
  bench_.picture->place(layout.picture, bench_.session.placed());
  bench_.pairs.follow(bench_);
}

// The chosen picture itself and the tool's marks on it.
void Application::draw_picture() {
  PictureView& view = *bench_.picture;
  if (!view.shown()) return;
  ImDrawList& list = *ImGui::GetBackgroundDrawList();
  if (!view.paint(list)) unsettle();
  const Region& at = view.region();
  list.PushClipRect(ImVec2(static_cast<float>(at.x), static_cast<float>(at.y)),
                    ImVec2(static_cast<float>(at.x + at.width), static_cast<float>(at.y + at.height)));
  bench_.tool().draw_on_picture(bench_, list, view);
  list.PopClipRect();
}

void Application::draw_regions(const Layout& layout) {
  region("top", layout.top, bench_, draw_top_bar, false);
  region("pontate", layout.left, bench_, draw_pontate);
  if (bench_.page_open) region("page", layout.page, bench_, draw_page);
  region("strip", layout.strip, bench_, draw_tool_strip, false);
  region("chosen", layout.right, bench_, draw_chosen);
  region("week", layout.bottom, bench_, draw_week, false);
  region("status", layout.status, bench_, draw_status, false);
}

void Application::draw_wall_numbers(ImDrawList& list, const Pane& pane, const WallItem& item, bool quiet) {
  if (const auto figures = bench_.session.figures(item.id))
    draw_numbers(list, pane.corner, pane.frame, item, bench_.views->surfaces(), figures->measure,
                 *bench_.session.document(), bench_.session.all_chosen(), quiet);
}

// Numbers, the tool's lines and the shared cursor, over both views.
void Application::draw_marks() {
  const auto chosen = bench_.session.wall_item();
  if (!chosen) return;
  ImDrawList& list = *ImGui::GetBackgroundDrawList();
  for (const ViewKind kind : {ViewKind::space, ViewKind::flat}) {
    const Pane& pane = bench_.views->pane(kind);
    if (!pane.shown) continue;
    const ImVec2 low(static_cast<float>(pane.corner.x), static_cast<float>(pane.corner.y));
    list.PushClipRect(
        low, ImVec2(low.x + static_cast<float>(pane.frame.width), low.y + static_cast<float>(pane.frame.height)));
    for (const auto& item : bench_.session.document()->walls)
      if (kind == ViewKind::space || item == chosen) draw_wall_numbers(list, pane, *item, item != chosen);
    bench_.tool().draw(bench_, list, pane);
    if (const auto& fault = bench_.session.fault()) draw_fault(list, bench_, pane, *fault);
    if (bench_.hover && bench_.hover->view != kind && bench_.hover->wall == chosen->id)
      if (const auto px = on_screen(*chosen->wall, bench_.views->surfaces(), pane.frame, bench_.hover->chart)) {
        const Vec2 at = pane.corner + *px;
        const ImVec2 c(static_cast<float>(at.x), static_cast<float>(at.y));
        const auto s = static_cast<float>(bench_.scale);
        list.AddCircle(c, 7 * s, to_im(kCasing), 24, 4 * s);
        list.AddCircle(c, 7 * s, to_im(kAction), 24, 2 * s);
      }
    list.PopClipRect();
  }
}

void Application::find_cursor(const Layout& layout) {
  cursor_ = ImGui::GetMouseCursor();
  if (ImGui::GetIO().WantCaptureMouse) return;
  const auto divider = input_.divider_at(bench_, layout, bench_.pointer);
  if (!divider) return;
  const bool across = *divider == Divider::bottom || (*divider == Divider::views && !bench_.views->side_by_side()) ||
                      (*divider == Divider::picture && !layout.picture_beside);
  cursor_ = across ? kTall : kWide;
}

void Application::record() {
  if (bench_.trace.on()) bench_.trace.record(trace_state(bench_), bench_.frames);
}

}  // namespace pontata
