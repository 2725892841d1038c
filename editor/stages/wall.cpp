// Wall: the walls of the job, what is known of the chosen one, and forms for a new one.
#include <imgui.h>

#include "editor/stages/stage.h"
#include "editor/stages/wall_forms.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"

namespace pontata {

Result<Vec3> typed_place(const std::string& text) {
  std::array<double, 3> xyz{};
  std::size_t from = 0;
  for (double& value : xyz) {
    from = text.find_first_not_of(' ', from);
    const std::size_t to = from == std::string::npos ? from : text.find(' ', from);
    const auto length =
        from == std::string::npos ? Result<double>(Problem{}) : parse_length(text.substr(from, to - from));
    if (!length) return Problem{"the place needs three lengths", text, "Write for example: 0 2.5 1m"};
    value = *length;
    from = to;
  }
  return Vec3{xyz[0], xyz[1], xyz[2]};
}

std::string free_wall_name(const Document& doc, const std::string& typed, const std::string& wish) {
  if (!typed.empty()) return typed;
  std::string name = wish;
  for (int n = 2; doc.wall_named(name); ++n) name = wish + " " + std::to_string(n);
  return name;
}

Result<Placement3> WallTyping::placement() const {
  const auto place = typed_place(at);
  if (!place) return place.problem();
  const auto degrees = parse_angle_deg(turn);
  if (!degrees) return degrees.problem();
  return Placement3{*place, *degrees};
}

namespace {

class WallStage final : public StagePage {
 public:
  const char* name() const override { return "Wall"; }
  State state(Workbench& bench) override {
    const auto count = bench.session.document()->walls.size();
    if (count == 0) return {StageMark::not_started, "No wall yet"};
    return {StageMark::checked, count == 1 ? "One wall" : std::to_string(count) + " walls"};
  }
  void draw(Workbench& bench) override;
  void take_file(const std::string& path) override {
    scan_.take(path);
    asked_ = Asked::scan;
  }

 private:
  enum class Asked { shape, scan };
  void list_walls(Workbench& bench);
  void kind_buttons(Workbench& bench);

  Asked asked_ = Asked::shape;
  WallTyping typing_;
  ShapeForm shape_;
  ScanForm scan_;
  WallFacts facts_;
};

void WallStage::draw(Workbench& bench) {
  list_walls(bench);
  if (const auto item = bench.session.wall_item()) facts_.draw(bench, *item);
  ImGui::Spacing();
  ImGui::Separator();
  heading("A new wall");
  field_name("Name");
  text_field("##name", typing_.name);
  control(bench, "wall.name");
  field_name("Stands at X Y Z");
  text_field("##at", typing_.at);
  control(bench, "wall.at");
  field_name("Turned, degrees");
  text_field("##turn", typing_.turn);
  control(bench, "wall.turn");
  kind_buttons(bench);
  if (asked_ == Asked::shape)
    shape_.draw(bench, typing_);
  else
    scan_.draw(bench, typing_);
}

void WallStage::kind_buttons(Workbench& bench) {
  if (ImGui::RadioButton("of a known shape", asked_ == Asked::shape)) asked_ = Asked::shape;
  control(bench, "wall.by-shape");
  ImGui::SameLine();
  if (ImGui::RadioButton("from a scan", asked_ == Asked::scan)) asked_ = Asked::scan;
  control(bench, "wall.by-scan");
}

void WallStage::list_walls(Workbench& bench) {
  const Document& doc = *bench.session.document();
  if (doc.walls.empty()) quiet_text("No wall yet. Pick a shape and type its measures, or bring in a scan.");
  double whole = 0;
  for (const auto& item : doc.walls) {
    const ChartBox box = item->wall->chart->box();
    whole += item->wall->metric->area();
    const std::string text = item->name + "   " + shown(item->wall->metric->area(), 2, "m²") + "   flat " +
                             shown(box.width, 2, "") + " × " + shown(box.height, 2, "m");
    ImGui::PushID(static_cast<int>(item->id.value));
    if (ImGui::Selectable(text.c_str(), item->id == bench.session.wall())) bench.session.choose_wall(item->id);
    ImGui::PopID();
    control(bench, "wall.choose." + item->name);
  }
  if (doc.walls.size() > 1) quiet_text(("All walls together " + shown(whole, 2, "m²")).c_str());
}

}  // namespace

std::unique_ptr<StagePage> make_wall_stage() { return std::make_unique<WallStage>(); }

}  // namespace pontata
