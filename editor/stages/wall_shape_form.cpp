// A shape: picked by its picture, its measures typed, drawn as it will be while they are typed.
#include <imgui.h>

#include "editor/stages/shape_picture.h"
#include "editor/stages/wall_forms.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

// "top-span" as a label: "Top span".
std::string label_of(std::string_view measure) {
  std::string label(measure);
  label[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(label[0])));
  for (char& c : label)
    if (c == '-') c = ' ';
  return label;
}

}  // namespace

void ShapeForm::draw(Workbench& bench, WallTyping& wall) {
  field_name("Shape");
  if (ImGui::Button((std::string(shape_name(kind_)) + (picking_ ? "" : "…")).c_str(), ImVec2(-1, 0)))
    picking_ = !picking_;
  control(bench, "wall.shape");
  if (picking_) {
    const bool picked = pick_shape(
        kind_, bench.scale, [&](ShapeKind kind) { control(bench, "wall.shape." + std::string(shape_name(kind))); });
    if (picked) picking_ = false;
  }
  ImGui::Spacing();
  measures(bench);
  preview(bench);
  if (action_button("Add this wall")) add(bench, wall);
  control(bench, "wall.add");
}

void ShapeForm::measures(Workbench& bench) {
  for (const std::string_view measure : measures_of(kind_)) {
    const std::string key(measure);
    field_name(label_of(measure).c_str());
    text_field(("##" + key).c_str(), typed_[key]);
    control(bench, "wall." + key);
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", std::string(shape_measure(measure).help).c_str());
  }
  quiet_text("Lengths with a unit (4.2m, 30cm) or in metres; angles in degrees.");
}

// The wall as typed so far; until it can be built, what is wrong with it.
void ShapeForm::preview(Workbench& bench) {
  const auto s = static_cast<float>(bench.scale);
  const auto shape = spec();
  const Outcome valid = shape ? validate(*shape) : Outcome(shape.problem());
  const ImVec2 size(ImGui::GetContentRegionAvail().x, 150 * s), at = ImGui::GetCursorScreenPos();
  if (valid) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.AddRectFilled(at, ImVec2(at.x + size.x, at.y + size.y), to_im(kCasing), 3 * s);
    draw_shape(list, *shape, ImVec2(at.x + 10 * s, at.y + 10 * s), ImVec2(size.x - 20 * s, size.y - 20 * s),
               ImGui::GetColorU32(ImGuiCol_Text), 1.6f * s);
    ImGui::Dummy(size);
    quiet_text(("Area " + shown(closed_form_area(*shape), 2, "m²")).c_str());
  } else {
    quiet_text(valid.problem().message().c_str());
  }
  control(bench, "wall.preview");
}

Result<ShapeSpec> ShapeForm::spec() const {
  ShapeSpec out;
  out.kind = kind_;
  for (const std::string_view measure : measures_of(kind_)) {
    const auto& entry = shape_measure(measure);
    const auto typed = typed_.find(std::string(measure));
    if (typed == typed_.end() || typed->second.empty())
      return Problem{"the " + std::string(measure) + " is missing", "",
                     entry.is_angle ? "Type it in degrees, such as 180." : "Type it with a unit, such as 4.2m."};
    const auto value = entry.is_angle ? parse_angle_deg(typed->second) : parse_length(typed->second);
    if (!value) return Problem{value.problem().what, std::string(measure), value.problem().remedy};
    out.*entry.value = *value;
  }
  return out;
}

void ShapeForm::add(Workbench& bench, WallTyping& wall) {
  const auto shape = spec();
  if (!shape) return bench.session.complain(shape.problem());
  const auto at = wall.placement();
  if (!at) return bench.session.complain(at.problem());
  const DocumentRef document = bench.session.document();
  const std::string name = free_wall_name(*document, wall.name, std::string(shape_name(shape->kind)));
  bench.worker.start("Building the wall", true,
                     [=, &wall, &bench, spec = *shape, at3 = *at](Progress&) -> Worker::Apply {
                       auto edit = add_shape_wall(*document, name, spec, at3);
                       return [&wall, &bench, edit = std::move(edit)] {
                         if (!commit(bench, edit)) return;
                         bench.session.choose_wall(bench.session.document()->walls.back()->id);
                         wall.name.clear();
                       };
                     });
}

}  // namespace pontata
