// What is known of the chosen wall: what was mended in its scan, what was not answered yet, and its openings.
#include <imgui.h>

#include "editor/stages/wall_forms.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"
#include "engine/cartoon/day_sheet.h"
#include "engine/document/opening_edits.h"
#include "engine/document/wall_edits.h"

namespace pontata {
namespace {

std::string place_text(const Vec3& p) { return shown(p.x, 2, "") + " " + shown(p.y, 2, "") + " " + shown(p.z, 2, "m"); }

void list_holes(const ScanReport& report) {
  if (report.hole_list.empty() || !ImGui::TreeNode("holes", "%zu holes", report.hole_list.size())) return;
  for (const auto& hole : report.hole_list)
    quiet_text(("rim " + shown(hole.rim_m, 2, "m") + " near " + place_text(hole.at) +
                (hole.filled ? ", filled" : ", left open"))
                   .c_str());
  ImGui::TreePop();
}

void list_parts(const ScanReport& report) {
  if (report.parts.size() < 2 || !ImGui::TreeNode("parts", "%zu separate parts", report.parts.size())) return;
  for (const auto& part : report.parts)
    quiet_text((shown(part.area_m2, 2, "m²") + " at " + place_text(part.at)).c_str());
  ImGui::TreePop();
}

constexpr std::array<OpeningKind, 4> kOpenings{OpeningKind::rect, OpeningKind::arched, OpeningKind::round,
                                               OpeningKind::free};
constexpr std::array<const char*, 4> kOpeningWords{"rectangular", "round-headed", "round", "free outline"};

void edit_openings(Workbench& bench, std::function<Result<Edited>(const Document&, Progress&)> edit) {
  const DocumentRef document = bench.session.document();
  bench.worker.start("Cutting the opening", true, [=, &bench](Progress& progress) -> Worker::Apply {
    auto edited = edit(*document, progress);
    return [&bench, edited = std::move(edited)] { commit(bench, edited); };
  });
}

}  // namespace

void WallFacts::draw(Workbench& bench, const WallItem& item) {
  if (item.scan) scan(bench, item);
  openings(bench, item);
}

void WallFacts::scan(Workbench& bench, const WallItem& item) {
  if (item.wall->scan) {
    for (const std::string& line : item.wall->scan->says) quiet_text(line.c_str());
    list_holes(*item.wall->scan);
    list_parts(*item.wall->scan);
  }
  const ChartStretch stretch = item.wall->chart->stretch();
  quiet_text(("Laid flat, it is stretched " + shown(stretch.least, 2, "to ") + shown(stretch.greatest, 2, "times; ") +
              "areas are those of the wall itself.")
                 .c_str());
  if (!item.scan->old_plaster) {
    ImGui::TextWrapped("Does old plaster or paint lie here?");
    for (const bool yes : {true, false}) {
      if (ImGui::Button(yes ? "Yes, it does" : "No"))
        commit(bench, set_old_plaster(*bench.session.document(), item.id, yes));
      control(bench, yes ? "wall.old-plaster.yes" : "wall.old-plaster.no");
      if (yes) ImGui::SameLine();
    }
  } else if (*item.scan->old_plaster) {
    warn_text(std::string(old_plaster_caution()).c_str());
  }
  if (!item.wall->chart->has_cuts()) return;
  field_name("Cut open at X Y Z");
  text_field("##cut", cut_);
  control(bench, "wall.cut");
  if (ImGui::Button("Move the cut there")) move_cut(bench, item);
  control(bench, "wall.move-cut");
}

void WallFacts::move_cut(Workbench& bench, const WallItem& item) {
  const auto place = typed_place(cut_);
  if (!place) return bench.session.complain(place.problem());
  ScanOptions options = item.scan->options;
  options.cut_at = *place;
  const DocumentRef document = bench.session.document();
  bench.worker.start("Cutting the wall open elsewhere", true,
                     [=, &bench, id = item.id](Progress& progress) -> Worker::Apply {
                       auto edit = change_scan(*document, id, options, &progress);
                       return [&bench, edit = std::move(edit)] { commit(bench, edit); };
                     });
}

// Doors, windows and niches: what there is, each with a button that closes it again, and fields for one more.
void WallFacts::openings(Workbench& bench, const WallItem& item) {
  const std::string count =
      item.openings.empty() ? "Openings: none" : "Openings: " + std::to_string(item.openings.size());
  const bool unfolded = ImGui::TreeNode("openings", "%s", count.c_str());
  control(bench, "wall.openings");
  if (!unfolded) return;
  for (std::size_t i = 0; i < item.openings.size(); ++i) {
    ImGui::PushID(static_cast<int>(i));
    if (ImGui::SmallButton("Close it"))
      edit_openings(bench, [id = item.id, i](const Document& doc, Progress& progress) -> Result<Edited> {
        auto edited = remove_opening(doc, id, i, &progress);
        if (!edited) return edited.problem();
        return Edited(*edited);
      });
    control(bench, "opening.close." + std::to_string(i + 1));
    ImGui::PopID();
    ImGui::SameLine();
    quiet_text(opening_words(item.openings[i]).c_str());
  }
  field_name("One more");
  ImGui::Combo("##opening", &kind_, kOpeningWords.data(), static_cast<int>(kOpeningWords.size()));
  control(bench, "opening.kind");
  opening_fields(bench);
  if (ImGui::Button("Cut it out")) add_opening_here(bench, item);
  control(bench, "opening.add");
  ImGui::TreePop();
}

void WallFacts::opening_fields(Workbench& bench) {
  const OpeningKind kind = kOpenings[static_cast<std::size_t>(kind_)];
  if (kind == OpeningKind::free) {
    quiet_text("Its corners on the flat wall, one a line: right and up.");
    text_box("##corners", outline_, -1, 5 * ImGui::GetTextLineHeight());
    control(bench, "opening.corners");
    return;
  }
  const bool round = kind == OpeningKind::round;
  const auto field = [&](const char* label, const char* key) {
    field_name(label);
    text_field((std::string("##") + key).c_str(), typed_[key]);
    control(bench, std::string("opening.") + key);
  };
  field(round ? "Centre, right" : "Lower left, right", "right");
  field(round ? "Centre, up" : "Lower left, up", "up");
  field(round ? "Across" : "Width", "width");
  if (!round) field("Height", "height");
}

Result<Opening> WallFacts::typed_opening() const {
  Opening out;
  out.kind = kOpenings[static_cast<std::size_t>(kind_)];
  if (out.kind == OpeningKind::free) {
    auto corners = read_places(outline_);
    if (!corners) return corners.problem();
    out.outline = std::move(*corners);
    return out;
  }
  const auto read = [&](const char* key, double& value) -> Outcome {
    const auto typed = typed_.find(key);
    const auto length = parse_length(typed == typed_.end() ? "" : typed->second);
    if (!length) return Problem{length.problem().what, key, length.problem().remedy};
    value = *length;
    return Done{};
  };
  for (const Outcome& done : {read("right", out.at.u), read("up", out.at.v), read("width", out.width)})
    if (!done) return done.problem();
  if (out.kind == OpeningKind::round) return out;
  if (const Outcome done = read("height", out.height); !done) return done.problem();
  return out;
}

void WallFacts::add_opening_here(Workbench& bench, const WallItem& item) {
  const auto opening = typed_opening();
  if (!opening) return bench.session.complain(opening.problem());
  edit_openings(bench, [id = item.id, opening = *opening](const Document& doc, Progress&) -> Result<Edited> {
    auto edited = add_opening(doc, id, opening);
    if (!edited) return edited.problem();
    return Edited(*edited);
  });
}

}  // namespace pontata
