// A scan: where it lies, in what unit, and all that is asked once before it becomes a wall.
#include <imgui.h>

#include "editor/stages/wall_forms.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"
#include "engine/wall/known_scale.h"
#include "engine/wall/scan_files.h"

namespace pontata {
namespace {

constexpr std::array<const char*, 6> kUnits{"as the file says", "mm", "cm", "m", "ft", "in"};
constexpr std::array<const char*, 3> kUp{"as the file's kind has it", "its Y", "its Z"};
constexpr std::array<const char*, 3> kOld{"not answered yet", "yes", "no"};

template <std::size_t N>
void choose(Workbench& bench, const char* label, const char* id, int& value, const std::array<const char*, N>& words) {
  field_name(label);
  const bool open = ImGui::BeginCombo((std::string("##") + id).c_str(), words[static_cast<std::size_t>(value)]);
  control(bench, std::string("scan.") + id);
  if (!open) return;
  for (std::size_t i = 0; i < N; ++i) {
    if (ImGui::Selectable(words[i], static_cast<int>(i) == value)) value = static_cast<int>(i);
    control(bench, std::string("scan.") + id + "." + words[i]);
  }
  ImGui::EndCombo();
}

void typed(Workbench& bench, const char* label, const char* id, std::string& text, const char* help) {
  field_name(label);
  text_field((std::string("##") + id).c_str(), text);
  if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", help);
  control(bench, std::string("scan.") + id);
}

}  // namespace

void ScanForm::take(const std::string& path) { path_ = path; }

void ScanForm::draw(Workbench& bench, WallTyping& wall) {
  source(bench);
  if (path_.empty()) return;
  choose(bench, "The file's unit", "unit", unit_, kUnits);
  choose(bench, "Up is", "up", up_, kUp);
  ImGui::Checkbox("The painter stands on the other side", &flip_);
  control(bench, "scan.flip");
  choose(bench, "Old plaster there?", "old-plaster", old_plaster_, kOld);
  if (old_plaster_ == 1)
    warn_text(
        "Do not wet, hack or key it until a conservator has tested it and consent is given; it may also hold lead. "
        "This is noted on every day sheet.");
  choices(bench);
  if (action_button("Bring in the scan")) bring_in(bench, wall);
  control(bench, "scan.bring-in");
}

void ScanForm::source(Workbench& bench) {
  if (ImGui::Button("Choose a scan…"))
    bench.browser.ask({FileBrowser::Want::open_file,
                       "Choose a scan",
                       {".glb", ".gltf", ".obj", ".ply", ".stl"},
                       "",
                       [this](const std::string& path) { take(path); }},
                      bench.settings.folder);
  control(bench, "wall.scan");
  if (!path_.empty()) quiet_text(path_.c_str());
}

// What most scans do without, folded away.
void ScanForm::choices(Workbench& bench) {
  if (ImGui::TreeNode("Check one known distance")) {
    typed(bench, "Measured by hand", "known", known_, "One length measured on the real wall, such as 4.00m");
    typed(bench, "from X Y Z", "known-from", known_from_, "One end of it, as the scan stands without scaling");
    typed(bench, "to X Y Z", "known-to", known_to_, "The other end of it");
    quiet_text("The whole scan is scaled so that this length is right.");
    ImGui::TreePop();
  }
  control(bench, "scan.known-fold");
  if (ImGui::TreeNode("Only part of the scan")) {
    typed(bench, "From X Y Z", "crop-low", crop_[0], "Lower corner of a box in the scan's own frame, in metres");
    typed(bench, "to X Y Z", "crop-high", crop_[1], "Upper corner of the box; what lies outside is cut off");
    typed(bench, "The part at X Y Z", "part", part_, "The connected part nearest to this place is the wall");
    ImGui::TreePop();
  }
  control(bench, "scan.part-fold");
  if (ImGui::TreeNode("Holes, and walls that close round")) {
    typed(bench, "Fill holes up to", "fill", fill_, "Holes with a rim up to this length are filled; others stay open");
    typed(bench, "Cut at X Y Z", "cut", cut_,
          "A wall that goes all the way round is cut open along a line through here");
    ImGui::TreePop();
  }
  control(bench, "scan.holes-fold");
}

Result<ScanOptions> ScanForm::options(const Placement3& placement) const {
  ScanOptions out;
  out.placement = placement;
  out.flip = flip_;
  const auto format = scan_format(path_);
  if (!format) return format.problem();
  if (unit_ == 0 && !states_unit(*format))
    return Problem{"a file of this kind does not say its unit", path_, "Choose the unit it was measured in."};
  out.unit_m = *scan_unit(unit_word());
  out.y_up = up_ == 0 ? is_y_up(*format) : up_ == 1;
  const auto place = [](const std::string& text, auto&& set) -> Outcome {
    if (text.empty()) return Done{};
    const auto typed = typed_place(text);
    if (!typed) return typed.problem();
    set(*typed);
    return Done{};
  };
  if (crop_[0].empty() != crop_[1].empty())
    return Problem{"a box needs two corners", "", "Type both corners, or neither."};
  if (!crop_[0].empty()) out.crop = ScanOptions::Box{};
  for (const Outcome& read :
       {place(crop_[0], [&](const Vec3& p) { out.crop->low = p; }),
        place(crop_[1], [&](const Vec3& p) { out.crop->high = p; }),
        place(part_, [&](const Vec3& p) { out.part_at = p; }), place(cut_, [&](const Vec3& p) { out.cut_at = p; })})
    if (!read) return read.problem();
  if (fill_.empty()) return out;
  const auto rim = parse_length(fill_);
  if (!rim) return rim.problem();
  out.fill_rim_m = *rim;
  return out;
}

std::string ScanForm::unit_word() const { return unit_ == 0 ? "m" : kUnits[static_cast<std::size_t>(unit_)]; }

Result<std::optional<KnownLength>> ScanForm::known_length() const {
  if (known_.empty() && known_from_.empty() && known_to_.empty()) return std::optional<KnownLength>{};
  const auto metres = parse_length(known_);
  if (!metres) return Problem{metres.problem().what, "the known distance", metres.problem().remedy};
  const auto from = typed_place(known_from_), to = typed_place(known_to_);
  if (!from) return from.problem();
  if (!to) return to.problem();
  return std::optional(KnownLength{*metres, *from, *to});
}

// The scan as a wall, scaled and its old plaster answered, as one step.
Result<Edited> ScanForm::brought_in(const Document& doc, const Asked& asked, std::string& says, Progress& progress) {
  ScanOptions options = asked.options;
  if (asked.known) {
    const auto scale =
        known_scale(asked.path, options, asked.known->metres, asked.known->from, asked.known->to, &progress);
    if (!scale) return scale.problem();
    options.scale = scale->factor;
    says = scale->says;
  }
  auto added = add_scan_wall(doc, asked.name, asked.path, asked.unit, options, &progress);
  if (!added || !asked.old_plaster) return added;
  auto answered = set_old_plaster(*added->document, added->document->walls.back()->id, asked.old_plaster);
  if (!answered) return answered;
  return Edited{answered->document, added->did};
}

void ScanForm::bring_in(Workbench& bench, WallTyping& wall) {
  const auto at = wall.placement();
  if (!at) return bench.session.complain(at.problem());
  const auto chosen = options(*at);
  if (!chosen) return bench.session.complain(chosen.problem());
  const auto known = known_length();
  if (!known) return bench.session.complain(known.problem());
  const DocumentRef document = bench.session.document();
  const Asked asked{path_,       free_wall_name(*document, wall.name, "scan"),
                    unit_word(), *chosen,
                    *known,      old_plaster_ == 0 ? std::nullopt : std::optional(old_plaster_ == 1)};
  bench.worker.start("Bringing in the scan", true, [=, this, &bench, &wall](Progress& progress) -> Worker::Apply {
    std::string says;
    auto edit = brought_in(*document, asked, says, progress);
    return [this, &bench, &wall, says, edit = std::move(edit)] {
      if (!commit(bench, edit)) return;
      bench.session.choose_wall(bench.session.document()->walls.back()->id);
      if (!says.empty()) bench.session.say(says);
      *this = ScanForm{};
      wall.name.clear();
    };
  });
}

}  // namespace pontata
