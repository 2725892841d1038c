// Nudge: moves what is drawn already. A seam that is dragged takes its neighbourhood along; a node goes by itself; a
// click on a seam begins a stretch that is drawn anew.
#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <imgui.h>

#include <utility>

#include "editor/tools/guided_stroke.h"
#include "editor/tools/hug_fields.h"
#include "editor/tools/live.h"
#include "editor/tools/seam_form.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"
#include "engine/document/giornata_records.h"
#include "engine/document/seam_edits.h"
#include "engine/seams/seam_follow.h"

namespace pontata {
namespace {

constexpr double kHoldPx = 9;  // of a seam
constexpr double kNodePx = 7;  // of a node

struct Move {
  DocumentRef document;
  WallId wall;
  bool node = false;
  ChartPoint from, to;
  double reach_m = 0;
};

// What it would give, and all seams that it would lay anew.
struct Preview {
  Result<SeamsEdited> made;
  std::vector<std::vector<ChartPoint>> laid;
};

Result<SeamsEdited> moved(const Move& m) {
  return m.node ? move_node(*m.document, m.wall, m.from, m.to)
                : nudge(*m.document, m.wall, m.from, to_vec(m.to) - to_vec(m.from), m.reach_m);
}

Preview preview(const Move& m) {
  Preview out{moved(m), {}};
  if (out.made) out.laid = seams_laid(m.document->wall(m.wall)->network, out.made->document->wall(m.wall)->network);
  return out;
}

class NudgeTool final : public Tool {
 public:
  const char* name() const override { return "Nudge"; }
  char key() const override { return 'N'; }
  std::string hint() const override;
  std::size_t points() const override { return stroke_.points().size(); }
  void move(Workbench& bench, const ToolPointer& at) override;
  void press(Workbench& bench, const ToolPointer& at) override;
  bool grab(Workbench& bench, const ToolPointer& at) override;
  void drag(Workbench& bench, const ToolPointer& at) override;
  void drop(Workbench& bench, const ToolPointer& at) override;
  bool key_down(Workbench& bench, int key, int mods) override;
  void put_down(Workbench&) override { *this = NudgeTool(std::move(form_)); }
  void draw(Workbench& bench, ImDrawList& list, const Pane& pane) override;
  void options(Workbench& bench) override;
  std::string follows(const Workbench& bench) const override { return stroke_.follows(bench); }

  NudgeTool() = default;

 private:
  explicit NudgeTool(SeamForm form) : form_(std::move(form)) {}

  struct Held {
    Move move;
    ChartPoint grip;  // where the pointer took hold
    bool moved = false;
  };
  std::optional<SeamFollow> under(Workbench& bench, const ToolPointer& at) const;
  void begin(Workbench& bench, ChartPoint from);
  void redraw_to(Workbench& bench);
  void take_back() {
    stroke_.take_back();
    end_.reset();
  }
  void give_up_drag() {
    held_.reset();
    live_.forget();
  }
  bool node_key(Workbench& bench, int key);

  SeamForm form_;
  std::optional<SeamFollow> hover_;  // what a drag from under the pointer would take along
  std::optional<Held> held_;
  Live<Move, Preview> live_{preview};
  GuidedStroke stroke_;  // of a stretch drawn anew
  ChartPoint from_;      // where it leaves the seam
  std::optional<ChartPoint> end_;
  HugFields hug_;
};

std::string NudgeTool::hint() const {
  if (points() > 0)
    return "Click on along the new course; a click on a seam, or Enter, ends it. Backspace takes back a point, Esc "
           "gives up.";
  if (held_) return "Let go where it is to lie; Esc leaves it where it was.";
  if (hover_ && hover_->node) return "Drag the node, or take it away with X. Click to draw a stretch anew from here.";
  return "Drag a seam or a node. Click a seam to draw a stretch anew. I puts a node in, X takes one away.";
}

// The seam under the pointer, with what would follow.
std::optional<SeamFollow> NudgeTool::under(Workbench& bench, const ToolPointer& at) const {
  const auto item = bench.session.wall_item();
  const auto reach = form_.reach(), px = px_in_m(bench, at, 1);
  if (!px || !reach) return std::nullopt;
  return seam_follow(*item->wall, item->network, *at.place, {kHoldPx * *px, kNodePx * *px, *reach},
                     held_seams(*bench.session.document()));
}

void NudgeTool::move(Workbench& bench, const ToolPointer& at) {
  hover_ = under(bench, at);
  if (points() == 0 || !stroke_.ready(bench) || !at.place) return stroke_.hide_live();
  stroke_.aim(bench, hover_ ? hover_->from : *at.place, (at.mods & kShift) != 0);
}

bool NudgeTool::grab(Workbench& bench, const ToolPointer& at) {
  if (points() > 0 || !at.place) return false;
  hover_ = under(bench, at);
  const auto reach = form_.reach();
  if (!hover_ || !reach) return false;
  held_ = Held{{bench.session.document(), bench.session.wall(), hover_->node, hover_->from, hover_->from, *reach},
               *at.place};
  return true;
}

void NudgeTool::drag(Workbench& bench, const ToolPointer& at) {
  if (!held_ || !at.place) return;
  if (bench.session.document() != held_->move.document) return give_up_drag();
  held_->moved = true;
  held_->move.to = to_chart(to_vec(held_->move.from) + to_vec(*at.place) - to_vec(held_->grip));
  live_.ask(bench.quick, held_->move);
}

void NudgeTool::drop(Workbench& bench, const ToolPointer&) {
  if (!held_) return;
  const Held held = *held_;
  give_up_drag();
  if (bench.session.document() != held.move.document) return;
  if (!held.moved) return begin(bench, held.move.from);
  if (held.move.node)
    form_.put_node(held.move.from, held.move.to);
  else
    form_.put(held.move.from, to_vec(held.move.to) - to_vec(held.move.from));
  commit_seams(bench, moved(held.move));
}

void NudgeTool::begin(Workbench& bench, ChartPoint from) {
  if (!stroke_.ready(bench)) return;
  const auto& item = stroke_.item();
  if (auto opened = without_seam(*item->wall, item->network, from)) stroke_.follow_instead(std::move(*opened));
  stroke_.add(bench, from, true);
  from_ = from;
  end_.reset();
}

void NudgeTool::press(Workbench& bench, const ToolPointer& at) {
  if (!stroke_.ready(bench) || !at.place) return;
  if (points() == 0) return bench.session.say("Take hold of a seam between giornate, or click one.");
  hover_ = under(bench, at);
  stroke_.add(bench, hover_ ? hover_->from : *at.place, (at.mods & kShift) != 0);
  end_ = hover_ ? std::optional(hover_->from) : std::nullopt;
  if (hover_) redraw_to(bench);
}

void NudgeTool::redraw_to(Workbench& bench) {
  if (points() < 2) return bench.session.say("Click the new course, then the seam where it ends");
  stroke_.finish(bench, std::nullopt, false, [this, &bench](const HuggedLine&) {
    // A hugging end may have been drawn to a contour beside the seam; it lies on the seam all the same.
    HuggedLine line = stroke_.whole();
    if (!(line.line.front() == from_)) line.line.insert(line.line.begin(), from_);
    if (end_ && !(line.line.back() == *end_)) line.line.push_back(*end_);
    const auto made = commit_redraw(*bench.session.document(), stroke_.item()->id, line);
    if (made)
      stroke_.clear();
    else
      take_back();
    commit_seams(bench, made);
  });
}

bool NudgeTool::key_down(Workbench& bench, int key, int) {
  if (key == GLFW_KEY_ESCAPE && held_) return give_up_drag(), bench.session.say("Left where it was"), true;
  if (points() == 0) return node_key(bench, key);
  return line_key(key, {[&] { redraw_to(bench); }, [this] { take_back(); }, [this] { stroke_.clear(); }});
}

bool NudgeTool::node_key(Workbench& bench, int key) {
  const bool take = key == GLFW_KEY_X || key == GLFW_KEY_DELETE;  // Delete: no giornata is meant
  if (held_ || (!take && key != GLFW_KEY_I)) return false;
  if (!hover_ || (take && !hover_->node))
    return bench.session.say(take ? "Point at a node of a seam to take it away" : "Point at a seam to put a node in"),
           true;
  const Document& document = *bench.session.document();
  const WallId wall = bench.session.wall();
  commit_seams(bench, take ? remove_node(document, wall, hover_->from) : add_node(document, wall, hover_->from));
  hover_.reset();
  return true;
}

void NudgeTool::draw(Workbench& bench, ImDrawList& list, const Pane& pane) {
  stroke_.draw(bench, list, pane);
  const bool dragging = held_ && held_->moved;
  if (hover_ && !dragging && points() == 0) draw_follow(list, bench, pane, *hover_);
  if (!dragging) return;
  const auto* answer = live_.answer();
  if (answer && answer->made) {
    draw_strokes(list, bench, pane, answer->laid, kAction);
    draw_dot(list, bench, pane, held_->move.to, true);
  } else {
    draw_stroke(list, bench, pane, {held_->move.from, held_->move.to}, false, answer ? kWarn : kSeamCore);
  }
  if (answer && !answer->made)
    bench.session.complain(answer->made.problem());
  else if (answer)
    bench.session.say("At most " + shown(1000 * answer->made->most_m, 1, "mm"));
}

void NudgeTool::options(Workbench& bench) {
  form_.draw(bench);
  ImGui::Spacing();
  hug_.draw(bench, "nudge");
}

}  // namespace

std::unique_ptr<Tool> make_nudge_tool() { return std::make_unique<NudgeTool>(); }

}  // namespace pontata
