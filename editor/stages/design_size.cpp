#include <imgui.h>

#include <algorithm>

#include "editor/stages/design_forms.h"
#include "editor/window/commands.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "engine/base/units.h"
#include "engine/document/by_size.h"

namespace pontata {
namespace {

constexpr std::array<std::pair<const char*, BySize::Lay>, 3> kWays{
    {{"unrolled", BySize::Lay::unrolled}, {"by plan", BySize::Lay::plan}, {"by elevation", BySize::Lay::elevation}}};
constexpr std::array<std::pair<const char*, Align::Side>, 5> kSides{{{"to the right of", Align::Side::right_of},
                                                                     {"to the left of", Align::Side::left_of},
                                                                     {"above", Align::Side::above},
                                                                     {"below", Align::Side::below},
                                                                     {"over", Align::Side::over}}};

}  // namespace

void SizeForm::follow(const BySize& size) {
  lay_ = size.lay;
  width_ = format_fixed(size.width_m, 4);
  u_ = format_fixed(size.at.u, 4);
  v_ = format_fixed(size.at.v, 4);
  turn_ = format_fixed(size.turn_deg, 3);
}

void SizeForm::draw(Workbench& bench, const WallItem& item, const PlacedRef& picture) {
  if (bench.laying) {
    follow(*bench.laying);
    followed_ = nullptr;
  } else if (picture != followed_) {
    followed_ = picture;
    follow(by_size_of(*item.wall, *picture).value_or(BySize{}));
  }
  fields(bench);
  if (action_button("Lay it so")) {
    if (const auto size = typed())
      lay(bench, *picture, *size);
    else
      bench.session.complain(size.problem());
  }
  control(bench, "design.place");
  picture_tip("Or drag it in the flat view with Lay (A).");
  same_row("Drag it (A)");
  if (ImGui::Button("Drag it (A)")) take_tool(bench, ToolKind::lay);
  control(bench, "design.lay-tool");
  align(bench, item, picture);
}

void SizeForm::fields(Workbench& bench) {
  for (const auto& [word, way] : kWays) {
    if (way != BySize::Lay::unrolled) same_row(word, -1, true);
    if (ImGui::RadioButton(word, lay_ == way)) lay_ = way;
    control(bench, std::string("design.lay.") + word);
    picture_tip(way == BySize::Lay::unrolled
                    ? "Its metres are metres on the surface: nothing is drawn out along an arc."
                : way == BySize::Lay::plan ? "As seen straight from below: its metres are level metres."
                                           : "As seen level from the front: its metres are level and upright metres.");
  }
  const auto field = [&](const char* name, std::string& text, const char* key, const char* says) {
    field_name(name);
    text_field((std::string("##") + key).c_str(), text);
    control(bench, std::string("design.") + key);
    picture_tip(says);
  };
  field("Width on the wall", width_, "width", "With a unit, such as 4m or 350cm; 0: it fills the wall.");
  field("Lower left, right", u_, "u", "From the left of the flat view, such as 1.25m.");
  field("Lower left, up", v_, "v", "From the foot of the flat view, such as 80cm.");
  field("Turned, degrees", turn_, "turn", "About its lower left corner, counter-clockwise.");
}

Result<BySize> SizeForm::typed() const {
  const auto width = width_.empty() ? Result<double>(0.0) : parse_length(width_);
  const auto u = parse_length(u_), v = parse_length(v_), turn = parse_angle_deg(turn_);
  for (const auto* one : {&width, &u, &v, &turn})
    if (!*one) return one->problem();
  BySize out;
  out.lay = lay_;
  out.at = {*u, *v};
  out.width_m = *width;
  out.turn_deg = *turn;
  return out;
}

void SizeForm::lay(Workbench& bench, const PlacedPicture& picture, const BySize& size) {
  const DocumentRef document = bench.session.document();
  edit_picture(bench, "Laying the picture", [document, id = picture.id, size](Progress& progress) {
    return lay_again(*document, id, size, &progress);
  });
}

// Buttons that bring it to something of the wall, at its present size.
void SizeForm::align(Workbench& bench, const WallItem& item, const PlacedRef& picture) {
  const auto bring = [&](const char* word, const char* key, Align align, const char* says, bool first = false) {
    if (!first) same_row(word);
    const bool pressed = ImGui::Button(word);
    control(bench, std::string("design.align.") + key);
    picture_tip(says);
    if (!pressed) return;
    auto size = typed();
    if (!size) return bench.session.complain(size.problem());
    size->align = align;
    lay(bench, *picture, *size);
  };
  quiet_text("Bring it to:");
  bring("springing", "springing", {AlignTo::springing, {}, {}}, "Its foot on the line where the vault springs.", true);
  bring("centre line", "centre", {AlignTo::centre_line, {}, {}}, "Its middle on the wall's upright centre line.");
  bring("crown", "crown", {AlignTo::crown, {}, {}}, "Its middle at the height of the crown.");
  bring("left edge", "left", {AlignTo::left_edge, {}, {}}, "Its left on the wall's left edge.");
  bring("right edge", "right", {AlignTo::right_edge, {}, {}}, "Its right on the wall's right edge.");
  if (item.pictures.size() > 1) {
    if (!item.picture(beside_) || beside_ == picture->id)
      for (const PlacedRef& p : item.pictures)
        if (p->id != picture->id) beside_ = p->id;
    const auto side = std::find_if(kSides.begin(), kSides.end(), [&](const auto& s) { return s.second == side_; });
    const float half = (ImGui::GetContentRegionAvail().x - ImGui::GetStyle().ItemSpacing.x) / 2;
    ImGui::SetNextItemWidth(half);
    if (ImGui::BeginCombo("##side", side->first)) {
      for (const auto& [word, s] : kSides)
        if (ImGui::Selectable(word, s == side_)) side_ = s;
      ImGui::EndCombo();
    }
    control(bench, "design.align.side");
    ImGui::SameLine();
    ImGui::SetNextItemWidth(half);
    if (ImGui::BeginCombo("##beside", item.picture(beside_)->name.c_str())) {
      for (const PlacedRef& p : item.pictures)
        if (p->id != picture->id && ImGui::Selectable(p->name.c_str(), p->id == beside_)) beside_ = p->id;
      ImGui::EndCombo();
    }
    control(bench, "design.align.other");
    bring("Bring it there", "picture", {AlignTo::picture, beside_, side_}, "Edge to edge with the other picture.",
          true);
  }
  if (ImGui::Button("Fit it to the bare wall")) {
    BySize size;
    size.lay = lay_;
    size.fit_rest = true;
    lay(bench, *picture, size);
  }
  control(bench, "design.fit-rest");
  picture_tip("As large as fits into the part of the wall that no giornata covers yet.");
}

}  // namespace pontata
