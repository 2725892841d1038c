#include "editor/stages/floor_section.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>

#include "editor/stages/section.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/known_ground.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"
#include "engine/document/reviewed.h"
#include "engine/document/setting_values.h"

namespace pontata {
namespace {

constexpr std::size_t kWorst = 8;
constexpr int kPointing = 2;  // ViewArea::pointing

std::string place_words(const Vec3& at) {
  return fmt::format("{}, {}, {} m", format_fixed(at.x, 2), format_fixed(at.y, 2), format_fixed(at.z, 2));
}

}  // namespace

void FloorSection::draw(Workbench& bench) {
  const std::size_t count = bench.session.document()->settings.review.eyes.size();
  if (!section(bench, "floor", "From the floor", false, count ? std::to_string(count) : "")) return;
  if (count == 0) quiet_text("Set the places where people will stand: the eye is some 1.6 m above the floor.");
  eyes(bench);
  add(bench);
  fields_.draw_keys(bench, {"seam.width.mm", "eye.limit"});
  result(bench);
}

void FloorSection::eyes(Workbench& bench) {
  const auto list = bench.session.document()->settings.review.eyes;
  for (const EyePoint& eye : list) {
    ImGui::PushID(eye.name.c_str());
    ImGui::TextUnformatted(eye.name.c_str());
    ImGui::SameLine();
    quiet_text(place_words(eye.at).c_str());
    if (ImGui::SmallButton("Look from here")) look(bench, eye);
    control(bench, "eye.look." + eye.name);
    same_row("Take away");
    if (ImGui::SmallButton("Take away"))
      commit(bench, set_parameter(*bench.session.document(), "eye." + eye.name, "none"));
    control(bench, "eye.remove." + eye.name);
    ImGui::PopID();
  }
}

void FloorSection::add(Workbench& bench) {
  field_name("Name");
  text_field("##eye-name", name_, false, -1);
  control(bench, "eye.name");
  field_name("Place, m");
  text_field("##eye-place", place_, false, -1);
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("x, y, z in the building: 0.5, 0, 1.6");
  control(bench, "eye.place");
  if (ImGui::Button("Where the 3D view stands now")) {
    const Vec3 eye = bench.views->pane(ViewKind::space).frame.space.eye;
    place_ = fmt::format("{},{},{}", format_fixed(eye.x, 2), format_fixed(eye.y, 2), format_fixed(eye.z, 2));
  }
  control(bench, "eye.here");
  same_row("Set eye point");
  if (ImGui::Button("Set eye point")) {
    if (name_.empty() || name_ == "limit")
      return bench.session.complain({"an eye point needs a name of its own", "", "Type one word, such as door."});
    std::string place = place_;
    std::erase(place, ' ');
    commit(bench, set_parameter(*bench.session.document(), "eye." + name_, place));
  }
  control(bench, "eye.set");
}

void FloorSection::look(Workbench& bench, const EyePoint& eye) {
  const DocumentRef document = bench.session.document();
  const KnownGround known(bench.session);
  bench.worker.start(
      "Looking from the floor", false, [this, &bench, document, known, eye](Progress& progress) -> Worker::Apply {
        Flow flow;
        known.give(flow, *document);
        auto seen = std::make_shared<Seen>(Seen{document, eye, {}, {}});
        for (const auto& wall : document->walls) {
          const auto sights = flow.from_floor(*document, wall->id, eye, &progress);
          if (progress.cancelled) return [&bench] { bench.session.say("The look from the floor was stopped"); };
          seen->heat.emplace_back(wall->id, std::make_shared<const std::vector<HeatLine>>(heat_lines(*sights)));
          for (WorstStretch& w : worst_stretches(*sights, kWorst)) {
            std::string who = parted_in_words(*document, w);
            seen->worst.push_back({wall->id, std::move(who), std::move(w)});
          }
        }
        std::ranges::stable_sort(seen->worst, {}, [](const Seen::Worst& w) { return -badness(w.stretch); });
        if (seen->worst.size() > kWorst) seen->worst.resize(kWorst);
        return [this, &bench, seen] {
          seen_ = seen;
          pointed_ = -1;
          bench.session.say("Seams as they look from " + seen->eye.name);
        };
      });
}

// Nothing that was looked at is another since.
bool FloorSection::holds(const Document& now) const {
  if (seen_->of.get() == &now) return true;
  const ReviewSettings &then = seen_->of->settings.review, &today = now.settings.review;
  return seen_->of->walls == now.walls && then.joint_mm == today.joint_mm && then.eye_arcmin == today.eye_arcmin &&
         then.contour_mm == today.contour_mm &&
         settings_text(seen_->of->settings, SettingGroup::contours) ==
             settings_text(now.settings, SettingGroup::contours) &&
         std::ranges::find(today.eyes, seen_->eye) != today.eyes.end();
}

void FloorSection::result(Workbench& bench) {
  if (!seen_) return;
  const bool good = holds(*bench.session.document());
  if (!good) return quiet_text("Something has changed since the seams were looked at: look again.");
  ImGui::Checkbox(("Show it on the walls, from " + seen_->eye.name + "###heat").c_str(), &shown_);
  control(bench, "floor.shown");
  if (shown_)
    for (const auto& [wall, heat] : seen_->heat) bench.views->show_heat(wall, heat);
  legend();
  worst(bench);
  quiet_text(std::string(kFloorCaveat).c_str());
}

void FloorSection::legend() {
  const float height = ImGui::GetTextLineHeight();
  for (const HeatGrade& grade : heat_grades()) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float y = at.y + height / 2, width = 2.5f * height;
    const auto thick = 0.22f * height * static_cast<float>(grade.width);
    ImGui::GetWindowDrawList()->AddLine({at.x, y}, {at.x + width, y}, to_im(kSeamCore), thick + 2);
    ImGui::GetWindowDrawList()->AddLine({at.x, y}, {at.x + width, y}, to_im(rgb(grade.rgb)), thick);
    ImGui::Dummy({width, height});
    ImGui::SameLine();
    ImGui::TextUnformatted(std::string(grade.words).c_str());
  }
}

void FloorSection::worst(Workbench& bench) {
  if (seen_->worst.empty()) return quiet_text("No seam is seen from there.");
  int n = 0;
  for (const Seen::Worst& w : seen_->worst) {
    ImGui::PushID(n);
    ImGui::BeginGroup();
    const WallItem* item = bench.session.document()->wall(w.wall);
    ImGui::TextWrapped("%d. %s, %s", n + 1, item ? item->name.c_str() : "", w.who.c_str());
    quiet_text(w.stretch.says.c_str());
    ImGui::EndGroup();
    if (ImGui::IsItemHovered()) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    if (ImGui::IsItemClicked() && item) {
      bench.session.choose_wall(w.wall);
      bench.views->follow(bench.session);
      bench.views->fly_to(w.stretch.place, 1.0);
      pointed_ = n, bench.views->pointing = kPointing;
    }
    if (pointed_ == n && bench.views->pointing == kPointing) bench.views->point_out(w.wall, {w.stretch.line});
    control(bench, "worst." + std::to_string(n++));
    ImGui::PopID();
  }
}

}  // namespace pontata
