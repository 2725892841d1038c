// Wall: a shape with typed measures, or a scan.
#include <imgui.h>

#include <map>

#include "editor/stages/stage.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

constexpr std::array<ShapeKind, 4> kShapes{ShapeKind::flat, ShapeKind::barrel, ShapeKind::dome, ShapeKind::apse};
constexpr std::array<const char*, 5> kUnits{"mm", "cm", "m", "ft", "in"};

class WallStage final : public StagePage {
 public:
  const char* name() const override { return "Wall"; }
  State state(Workbench& bench) override {
    const auto count = bench.session.document()->walls.size();
    if (count == 0) return {StageMark::not_started, "No wall yet"};
    return {StageMark::checked, count == 1 ? "One wall" : std::to_string(count) + " walls"};
  }
  void draw(Workbench& bench) override;
  void take_file(const std::string& path) override { scan_path_ = path; }

 private:
  void list_walls(Workbench& bench);
  void shape_fields(Workbench& bench);
  void scan_fields(Workbench& bench);
  Result<Placement3> placement() const;
  Result<ShapeSpec> spec() const;
  void add_shape(Workbench& bench);
  void add_scan(Workbench& bench);
  std::string free_name(const Document& doc, const std::string& wish) const;

  std::string name_, scan_path_, at_ = "0 0 0", turn_ = "0";
  int shape_ = 1, unit_ = 2;
  bool y_up_ = true, flip_ = false;
  std::map<std::string, std::string> measures_;
};

void WallStage::draw(Workbench& bench) {
  list_walls(bench);
  ImGui::Separator();
  field_name("Name of the wall");
  text_field("##name", name_);
  control(bench, "wall.name");
  field_name("Stands at X Y Z");
  text_field("##at", at_);
  field_name("Turned, degrees");
  text_field("##turn", turn_);
  ImGui::Spacing();
  heading("A shape");
  shape_fields(bench);
  ImGui::Spacing();
  heading("Or a scan");
  scan_fields(bench);
}

void WallStage::list_walls(Workbench& bench) {
  const Document& doc = *bench.session.document();
  if (doc.walls.empty()) quiet_text("No wall yet. Type a shape's measures, or bring in a scan (GLB, glTF).");
  for (const auto& item : doc.walls) {
    const ChartBox box = item->wall->chart->box();
    const std::string text = item->name + "   " + shown(item->wall->metric->area(), 2, "m²") + "   flat " +
                             shown(box.width, 2, "") + " × " + shown(box.height, 2, "m");
    if (ImGui::Selectable(text.c_str(), item->id == bench.session.wall())) bench.session.choose_wall(item->id);
    if (item->wall->scan && item->id == bench.session.wall())
      for (const std::string& line : item->wall->scan->says) quiet_text(line.c_str());
  }
}

void WallStage::shape_fields(Workbench& bench) {
  field_name("Shape");
  const ShapeKind kind = kShapes[static_cast<std::size_t>(shape_)];
  if (ImGui::BeginCombo("##shape", std::string(shape_name(kind)).c_str())) {
    for (std::size_t i = 0; i < kShapes.size(); ++i)
      if (ImGui::Selectable(std::string(shape_name(kShapes[i])).c_str(), static_cast<int>(i) == shape_))
        shape_ = static_cast<int>(i);
    ImGui::EndCombo();
  }
  control(bench, "wall.shape");
  for (const std::string_view measure : measures_of(kind)) {
    const std::string key(measure);
    std::string label = key;
    label[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(label[0])));
    field_name(label.c_str());
    text_field(("##" + key).c_str(), measures_[key]);
    control(bench, "wall." + key);
  }
  quiet_text("With a unit (4.2m, 30cm) or in metres.");
  if (action_button("Add this wall")) add_shape(bench);
  control(bench, "wall.add");
}

void WallStage::scan_fields(Workbench& bench) {
  if (ImGui::Button("Choose a scan…"))
    bench.browser.ask({FileBrowser::Want::open_file,
                       "Choose a scan",
                       {".glb", ".gltf"},
                       "",
                       [this](const std::string& path) { scan_path_ = path; }},
                      bench.settings.folder);
  control(bench, "wall.scan");
  if (scan_path_.empty()) return;
  quiet_text(scan_path_.c_str());
  field_name("One unit of the file is");
  ImGui::Combo("##unit", &unit_, kUnits.data(), static_cast<int>(kUnits.size()));
  ImGui::Checkbox("The file's Y points up", &y_up_);
  ImGui::Checkbox("The painter stands on the other side", &flip_);
  if (action_button("Bring in the scan")) add_scan(bench);
}

Result<Placement3> WallStage::placement() const {
  Placement3 out;
  const auto turn = parse_angle_deg(turn_);
  if (!turn) return turn.problem();
  out.turn_deg = *turn;
  std::array<double, 3> xyz{};
  std::size_t from = 0;
  for (double& value : xyz) {
    from = at_.find_first_not_of(' ', from);
    const std::size_t to = from == std::string::npos ? from : at_.find(' ', from);
    const auto length =
        from == std::string::npos ? Result<double>(Problem{}) : parse_length(at_.substr(from, to - from));
    if (!length) return Problem{"the place needs three lengths", at_, "Write for example: 0 2.5 1m"};
    value = *length;
    from = to;
  }
  out.at = {xyz[0], xyz[1], xyz[2]};
  return out;
}

Result<ShapeSpec> WallStage::spec() const {
  ShapeSpec out;
  out.kind = kShapes[static_cast<std::size_t>(shape_)];
  const std::map<std::string_view, double ShapeSpec::*> places{{"width", &ShapeSpec::width},
                                                               {"height", &ShapeSpec::height},
                                                               {"span", &ShapeSpec::span},
                                                               {"length", &ShapeSpec::length},
                                                               {"rise", &ShapeSpec::rise}};
  for (const std::string_view measure : measures_of(out.kind)) {
    const auto typed = measures_.find(std::string(measure));
    if (typed == measures_.end() || typed->second.empty())
      return Problem{"the " + std::string(measure) + " is missing", "", "Type it with a unit, such as 4.2m."};
    const auto length = parse_length(typed->second);
    if (!length) return Problem{length.problem().what, std::string(measure), length.problem().remedy};
    out.*places.at(measure) = *length;
  }
  return out;
}

std::string WallStage::free_name(const Document& doc, const std::string& wish) const {
  if (!name_.empty()) return name_;
  std::string name = wish;
  for (int n = 2; doc.wall_named(name); ++n) name = wish + " " + std::to_string(n);
  return name;
}

void WallStage::add_shape(Workbench& bench) {
  const auto shape = spec();
  if (!shape) return bench.session.complain(shape.problem());
  const auto at = placement();
  if (!at) return bench.session.complain(at.problem());
  const DocumentRef document = bench.session.document();
  const std::string name = free_name(*document, std::string(shape_name(shape->kind)));
  bench.worker.start("Building the wall", true,
                     [=, this, &bench, spec = *shape, at3 = *at](Progress&) -> Worker::Apply {
                       auto edit = add_shape_wall(*document, name, spec, at3);
                       return [this, &bench, edit = std::move(edit)] {
                         if (!commit(bench, edit)) return;
                         bench.session.choose_wall(bench.session.document()->walls.back()->id);
                         name_.clear();
                       };
                     });
}

void WallStage::add_scan(Workbench& bench) {
  const auto at = placement();
  if (!at) return bench.session.complain(at.problem());
  const std::string unit = kUnits[static_cast<std::size_t>(unit_)];
  const auto unit_m = scan_unit(unit);
  if (!unit_m) return bench.session.complain(unit_m.problem());
  ScanOptions options;
  options.unit_m = *unit_m;
  options.y_up = y_up_;
  options.flip = flip_;
  options.placement = *at;
  const DocumentRef document = bench.session.document();
  const std::string name = free_name(*document, "scan"), path = scan_path_;
  bench.worker.start("Bringing in the scan", true, [=, this, &bench](Progress& progress) -> Worker::Apply {
    auto edit = add_scan_wall(*document, name, path, unit, options, &progress);
    return [this, &bench, edit = std::move(edit)] {
      if (!commit(bench, edit)) return;
      bench.session.choose_wall(bench.session.document()->walls.back()->id);
      scan_path_.clear();
      name_.clear();
    };
  });
}

}  // namespace

std::unique_ptr<StagePage> make_wall_stage() { return std::make_unique<WallStage>(); }

}  // namespace pontata
