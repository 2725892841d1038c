#include "editor/tools/seam_form.h"

#include <imgui.h>

#include <cmath>

#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

constexpr double kThin = 1.6, kThick = 7.5;  // px, of what follows hardly and of what follows fully

std::string text_of(Vec2 pair) { return format_number(pair.x) + " " + format_number(pair.y); }

// One pair of lengths, "1.25 0.80".
Result<ChartPoint> one_place(const std::string& text, const char* what) {
  const auto places = read_places(text);
  if (!places || places->size() != 1)
    return Problem{"two lengths are needed, right and up", what, "Write for example: 1.25 0.80 or 12mm -3mm"};
  return places->front();
}

void pair_field(Workbench& bench, const char* name, const char* label, std::string& text) {
  field_name(name);
  text_field(label, text);
  control(bench, std::string("nudge.") + (label + 2));
}

}  // namespace

std::optional<double> SeamForm::reach() const {
  const auto reach = parse_length(reach_);
  return reach && *reach > 0 ? std::optional(*reach) : std::nullopt;
}

void SeamForm::put(ChartPoint from, Vec2 by) {
  from_ = text_of(to_vec(from));
  by_ = text_of(by);
}
void SeamForm::put_node(ChartPoint from, ChartPoint to) {
  from_ = text_of(to_vec(from));
  to_ = text_of(to_vec(to));
}

void SeamForm::draw(Workbench& bench) {
  field_name("Reach");
  text_field("##reach", reach_);
  control(bench, "nudge.reach");
  if (ImGui::IsItemHovered())
    ImGui::SetTooltip("How far along the seam, to either side, a drag takes it along: less and less to none");
  if (!reach()) warn_text("A length such as 20cm");
  quiet_text("Or type, right and up, in m or with units:");
  pair_field(bench, "Place", "##from", from_);
  move_fields(bench);
  node_buttons(bench);
  const auto course = course_.draw(bench, "nudge", "Draw this course");
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("A stretch drawn anew: the first and the last place lie on a seam");
  const auto item = bench.session.wall_item();
  if (course && item) {
    const bool hug = bench.hug_on;
    bench.worker.start("Drawing the seam anew", true,
                       [document = bench.session.document(), wall = item->id, points = *course, hug,
                        &bench](Progress& progress) -> Worker::Apply {
                         return [&bench, made = redraw(*document, wall, points, hug, &progress)] {
                           commit_seams(bench, made);
                         };
                       });
  }
}

void SeamForm::move_fields(Workbench& bench) {
  pair_field(bench, "Move by", "##by", by_);
  if (ImGui::Button("Move the stretch") && bench.session.wall_item()) {
    const auto from = one_place(from_, "Place"), by = one_place(by_, "Move by");
    const auto length = parse_length(reach_);
    if (!from || !by || !length)
      bench.session.complain(!from ? from.problem() : !by ? by.problem() : length.problem());
    else
      commit_seams(bench, nudge(*bench.session.document(), bench.session.wall(), *from, to_vec(*by), *length));
  }
  control(bench, "nudge.move");
}

void SeamForm::node_buttons(Workbench& bench) {
  pair_field(bench, "Node to", "##to", to_);
  const Document& document = *bench.session.document();
  const WallId wall = bench.session.wall();
  const auto button = [&](const char* words, const char* name, auto&& edit) {
    if (ImGui::Button(words) && bench.session.wall_item()) {
      const auto at = one_place(from_, "Place");
      if (!at)
        bench.session.complain(at.problem());
      else
        edit(*at);
    }
    control(bench, name);
  };
  button("Move the node", "nudge.node-move", [&](ChartPoint at) {
    const auto to = one_place(to_, "Node to");
    if (!to) return bench.session.complain(to.problem());
    commit_seams(bench, move_node(document, wall, at, *to));
  });
  same_row("Put a node in");
  button("Put a node in", "nudge.node-add", [&](ChartPoint at) { commit_seams(bench, add_node(document, wall, at)); });
  same_row("Take it away");
  button("Take it away", "nudge.node-remove",
         [&](ChartPoint at) { commit_seams(bench, remove_node(document, wall, at)); });
}

bool commit_seams(Workbench& bench, const Result<SeamsEdited>& edit) {
  if (!edit) return bench.session.complain(edit.problem()), false;
  if (!commit(bench, Edited{edit->document, edit->did})) return false;
  if (edit->most_m >= 5e-5) bench.session.say(edit->did + ", " + shown(1000 * edit->most_m, 1, "mm at most"));
  return true;
}

void draw_follow(ImDrawList& list, const Workbench& bench, const Pane& pane, const SeamFollow& follow) {
  const auto item = bench.session.wall_item();
  if (!item) return;
  const auto px = [&](ChartPoint p) -> std::optional<ImVec2> {
    const auto at = projected(*item->wall, pane.frame, p);
    if (!at) return std::nullopt;
    return ImVec2(static_cast<float>(pane.corner.x + at->x), static_cast<float>(pane.corner.y + at->y));
  };
  for (const bool casing : {true, false})
    for (const SeamFollow::Piece& piece : follow.pieces) {
      const auto a = px(piece.from), b = px(piece.to);
      if (!a || !b) continue;
      const double width = kThin + (kThick - kThin) * piece.share + (casing ? 2.5 : 0);
      list.AddLine(*a, *b, casing ? to_im(kCasing, 220) : to_im(kAction), static_cast<float>(width * bench.scale));
    }
  for (const ChartPoint node : follow.nodes) draw_dot(list, bench, pane, node, false);
  draw_dot(list, bench, pane, follow.from, follow.node);
}

}  // namespace pontata
