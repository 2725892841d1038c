// Divide: a new seam through the chosen giornata, from rim to rim.
#include <imgui.h>

#include <map>

#include "editor/tools/clicked_points.h"
#include "editor/tools/guided_stroke.h"
#include "editor/tools/hug_fields.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/seams/seam_follow.h"

namespace pontata {
namespace {

constexpr double kHoldPx = 9;  // of a rim

class DivideTool final : public Tool {
 public:
  const char* name() const override { return "Divide"; }
  char key() const override { return 'D'; }
  std::string hint() const override {
    return points() == 0 ? "Click on the rim of a giornata, then across it to the rim on the other side."
                         : "Enter divides, Backspace takes back a point, Esc gives up.";
  }
  std::size_t points() const override { return stroke_.points().size(); }
  void move(Workbench& bench, const ToolPointer& at) override {
    if (!stroke_.ready(bench) || points() == 0 || !at.place) return stroke_.hide_live();
    stroke_.aim(bench, rim_under(bench, at).value_or(*at.place), (at.mods & kShift) != 0);
  }
  void press(Workbench& bench, const ToolPointer& at) override;
  bool key_down(Workbench& bench, int key, int) override {
    return points() > 0 &&
           line_key(key, {[&] { finish(bench); }, [this] { take_back(); }, [this] { stroke_.clear(); }});
  }
  void put_down(Workbench&) override { stroke_.clear(); }
  void draw(Workbench& bench, ImDrawList& list, const Pane& pane) override { stroke_.draw(bench, list, pane); }
  std::string follows(const Workbench& bench) const override { return stroke_.follows(bench); }
  void hand_over(Workbench& bench, std::function<void(const std::vector<ChartPoint>&)> taker) override {
    stroke_.finish(bench, std::nullopt, false, [this, taker = std::move(taker)](const HuggedLine&) {
      const std::vector<ChartPoint> line = from_rim_to_rim().line;
      stroke_.clear();
      taker(line);
    });
  }
  void options(Workbench& bench) override {
    hug_.draw(bench, "divide");
    if (const auto places = typed_.draw(bench, "divide", "Add places"); places && stroke_.ready(bench))
      for (const ChartPoint p : *places) add(bench, p, p, !bench.hug_on);
    ImGui::SameLine();
    if (ImGui::Button("Divide") && points() > 0) finish(bench);
    control(bench, "divide.go");
  }

 private:
  std::optional<ChartPoint> rim_under(const Workbench& bench, const ToolPointer& at) const;
  void add(Workbench& bench, ChartPoint p, std::optional<ChartPoint> rim, bool straight);
  void take_back() {
    stroke_.take_back();
    last_.reset();
  }
  void finish(Workbench& bench);
  HuggedLine from_rim_to_rim() const;
  void divide_along(Workbench& bench, const HuggedLine& line);
  GiornataId crossed(const HuggedLine& line) const;

  GuidedStroke stroke_;
  std::optional<ChartPoint> first_, last_;  // on a rim, as they were placed
  HugFields hug_;
  TypedPlaces typed_;
};

// A place of a rim, where the pointer is by one.
std::optional<ChartPoint> DivideTool::rim_under(const Workbench& bench, const ToolPointer& at) const {
  const auto reach = px_in_m(bench, at, kHoldPx);
  const auto& item = stroke_.item();
  return reach && item ? rim_near(*item->wall, item->network, *at.place, *reach) : std::nullopt;
}

void DivideTool::add(Workbench& bench, ChartPoint p, std::optional<ChartPoint> rim, bool straight) {
  if (points() == 0) first_ = rim;
  last_ = points() == 0 ? std::nullopt : rim;
  stroke_.add(bench, p, straight);
}

void DivideTool::press(Workbench& bench, const ToolPointer& at) {
  if (!stroke_.ready(bench) || !at.place) return;
  const auto rim = rim_under(bench, at);
  add(bench, rim.value_or(*at.place), rim, (at.mods & kShift) != 0);
}

// The giornata that most of the line runs through.
GiornataId DivideTool::crossed(const HuggedLine& line) const {
  std::map<GiornataId, double> inside;
  for (std::size_t i = 0; i + 1 < line.line.size(); ++i) {
    if (is_cut_step(*stroke_.item()->wall, line.line[i], line.line[i + 1])) continue;
    const Vec2 a = to_vec(line.line[i]), b = to_vec(line.line[i + 1]);
    const GiornataId id = stroke_.item()->network.owner_at(to_lattice(to_chart((a + b) / 2.0)));
    if (id) inside[id] += glm::length(b - a);
  }
  GiornataId most;
  for (const auto& [id, length] : inside)
    if (!most || length > inside[most]) most = id;
  return most;
}

void DivideTool::finish(Workbench& bench) {
  if (points() < 2) return bench.session.say("A new seam needs two points or more");
  stroke_.finish(bench, std::nullopt, false,
                 [this, &bench](const HuggedLine&) { divide_along(bench, from_rim_to_rim()); });
}

// A hugging end may have been drawn to a contour beside the rim; it lies on the rim all the same.
HuggedLine DivideTool::from_rim_to_rim() const {
  HuggedLine line = stroke_.whole();
  if (first_ && !(line.line.front() == *first_)) line.line.insert(line.line.begin(), *first_);
  if (last_ && !(line.line.back() == *last_)) line.line.push_back(*last_);
  return line;
}

void DivideTool::divide_along(Workbench& bench, const HuggedLine& line) {
  const GiornataId id = crossed(line);
  if (!id)
    return bench.session.complain({"the line crosses no giornata", "", "Draw it from rim to rim of one giornata."});
  const auto made = divide(*bench.session.document(), id, line.line, false);
  if (!made) return bench.session.complain(made.problem());
  const DivideEdited done = *made;
  stroke_.clear();
  if (commit(bench, Edited{done.document, done.did})) bench.session.choose(done.new_id);
}

}  // namespace

std::unique_ptr<Tool> make_divide_tool() { return std::make_unique<DivideTool>(); }

}  // namespace pontata
