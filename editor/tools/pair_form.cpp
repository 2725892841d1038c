#include "editor/tools/pair_form.h"

#include <imgui.h>

#include <algorithm>
#include <array>

#include "editor/window/fields.h"
#include "editor/window/theme.h"
#include "editor/window/workbench.h"
#include "engine/base/units.h"

namespace pontata {
namespace {

std::string place_words(const Vec3& at) {
  return "X " + shown(at.x, 3, "") + "  Y " + shown(at.y, 3, "") + "  Z " + shown(at.z, 3, "m");
}

void tip(const char* text) {
  if (!ImGui::IsItemHovered()) return;
  ImGui::BeginTooltip();
  ImGui::PushTextWrapPos(ImGui::GetFontSize() * 22);
  ImGui::TextUnformatted(text);
  ImGui::PopTextWrapPos();
  ImGui::EndTooltip();
}

// ---- which views stand beside the picture

void beside_buttons(Workbench& bench) {
  quiet_text("Beside the picture:");
  const std::array<std::pair<const char*, ViewsShown>, 3> choices{
      {{"3D", ViewsShown::space}, {"flat", ViewsShown::flat}, {"both", ViewsShown::both}}};
  for (const auto& [word, shown] : choices) {
    if (shown != ViewsShown::space) same_row(word, -1, true);
    if (ImGui::RadioButton(word, bench.beside_picture == shown)) bench.beside_picture = shown;
    control(bench, std::string("pair.beside.") + word);
  }
  if (ImGui::Button("Whole picture")) bench.picture->fit();
  control(bench, "pair.whole-picture");
}

// ---- the pairs

// Of the whole pairs, which one this is.
std::size_t whole_before(const std::vector<Pairs::Pair>& all, std::size_t pair) {
  std::size_t n = 0;
  for (std::size_t i = 0; i < pair; ++i) n += all[i].whole();
  return n;
}

const FitReport* report_of(const Pairs& pairs) {
  const Result<Fitted>* fitted = pairs.fitted();
  return fitted && *fitted ? &(*fitted)->report : nullptr;
}

void pair_row(Workbench& bench, std::size_t i) {
  Pairs& pairs = bench.pairs;
  const Pairs::Pair& pair = pairs.all()[i];
  const FitReport* report = report_of(pairs);
  const std::size_t n = whole_before(pairs.all(), i);
  ImGui::TableNextRow();
  ImGui::TableNextColumn();
  if (ImGui::Selectable(std::to_string(i + 1).c_str(), pairs.chosen == i, ImGuiSelectableFlags_SpanAllColumns))
    pairs.chosen = i;
  control(bench, "pair.row." + std::to_string(i + 1));
  ImGui::TableNextColumn();
  if (!pair.whole()) return quiet_text(pair.pixel ? "mark it on the wall" : "mark it on the picture");
  if (!report || n >= report->left_out.size()) return;
  const std::optional<PointError>& error = report->left_out[n];
  ImGui::TextUnformatted(error ? shown(error->px, 2, "").c_str() : "–");
  ImGui::TableNextColumn();
  ImGui::TextUnformatted(error ? shown(error->mm, 1, "").c_str() : "–");
  ImGui::TableNextColumn();
  if (report->suspect == n)
    warn_text("mis-marked?");
  else if (report->worst == n)
    ImGui::TextUnformatted("worst");
}

void pair_table(Workbench& bench) {
  const std::size_t count = bench.pairs.all().size();
  if (count == 0) return quiet_text("No pair yet. Click a place on the picture and the same place on the wall.");
  constexpr ImGuiTableFlags kFlags = ImGuiTableFlags_ScrollY | ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersOuterH;
  if (!ImGui::BeginTable("pairs", 4, kFlags, ImVec2(0, table_height(count, 0.4f)))) return;
  ImGui::TableSetupScrollFreeze(0, 1);
  ImGui::TableSetupColumn("No.", ImGuiTableColumnFlags_WidthFixed);
  ImGui::TableSetupColumn("px", ImGuiTableColumnFlags_WidthFixed, ImGui::CalcTextSize("000.00").x);
  ImGui::TableSetupColumn("mm", ImGuiTableColumnFlags_WidthFixed, ImGui::CalcTextSize("000.0").x);
  ImGui::TableSetupColumn("");
  ImGui::TableHeadersRow();
  for (std::size_t i = 0; i < count; ++i) pair_row(bench, i);
  ImGui::EndTable();
  tip("Each point's own error: how far the setting by all the others misses it, on the picture and on the wall.");
}

void chosen_pair(Workbench& bench) {
  Pairs& pairs = bench.pairs;
  if (!pairs.chosen || *pairs.chosen >= pairs.all().size()) return;
  const Pairs::Pair pair = pairs.all()[*pairs.chosen];
  if (pair.pixel)
    quiet_text(("Picture: right " + shown(pair.pixel->x, 1, "") + ", down " + shown(pair.pixel->y, 1, "px")).c_str());
  if (pair.place)
    quiet_text(("Wall: right " + shown(pair.place->u, 3, "") + ", up " + shown(pair.place->v, 3, "m")).c_str());
  if (ImGui::Button("Go there")) {
    if (pair.pixel) bench.picture->go_to(*pair.pixel);
    if (pair.place) bench.views->fly_to(*pair.place, 1.0);
  }
  control(bench, "pair.go");
  tip("Brings this place into the middle of the views, about 1 m of the wall round it.");
  same_row("Take this pair away");
  if (ImGui::Button("Take this pair away")) pairs.remove(*pairs.chosen);
  control(bench, "pair.remove");
  same_row("Type it");
  if (ImGui::Button("Type it")) {
    pairs.pixel_text = pair.pixel ? format_fixed(pair.pixel->x, 2) + " " + format_fixed(pair.pixel->y, 2) : "";
    pairs.place_text = pair.place ? format_fixed(pair.place->u, 4) + " " + format_fixed(pair.place->v, 4) : "";
  }
  control(bench, "pair.type");
  tip("Puts its places into the fields below, to be corrected there.");
}

// The two places of a pair as typed; nullopt after a complaint.
std::optional<Pairs::Pair> typed_pair(Workbench& bench) {
  const auto pixels = read_pixels(bench.pairs.pixel_text);
  const auto places = read_places(bench.pairs.place_text);
  if (pixels && pixels->size() == 1 && places && places->size() == 1)
    return Pairs::Pair{pixels->front(), places->front()};
  if (!pixels || !places)
    bench.session.complain(!pixels ? pixels.problem() : places.problem());
  else
    bench.session.complain({"a pair needs a place on the picture and one on the wall", "",
                            "Write for example: 640 412.5 on the picture, 1.25 0.80 on the wall."});
  return std::nullopt;
}

// What clicks and drags do, typed: the chosen pair's places to be corrected, or those of a new one.
void type_pair(Workbench& bench) {
  Pairs& pairs = bench.pairs;
  quiet_text("Or type both places, right and down in px, right and up in m or with units:");
  const auto field = [&](const char* name, std::string& text, const char* label, const char* key) {
    field_name(name);
    text_field(label, text);
    control(bench, key);
  };
  field("On the picture", pairs.pixel_text, "##pair-pixel", "pair.pixel");
  field("On the wall", pairs.place_text, "##pair-place", "pair.place");
  const bool chosen = pairs.chosen && *pairs.chosen < pairs.all().size();
  if (ImGui::Button("Add this pair"))
    if (const auto pair = typed_pair(bench)) pairs.add(*pair->pixel, *pair->place);
  control(bench, "pair.add");
  if (!chosen) return;
  same_row("Move the chosen one");
  if (ImGui::Button("Move the chosen one"))
    if (const auto pair = typed_pair(bench)) {
      pairs.begin_move();
      pairs.move(*pairs.chosen, *pair->pixel);
      pairs.move(*pairs.chosen, *pair->place);
      pairs.end_move();
    }
  control(bench, "pair.move");
}

// ---- how it is to be set

// A lens that is known, in pixels; empty: found from the points.
void lens_field(Workbench& bench, FitOptions& options) {
  std::string& typed = bench.pairs.lens;
  field_name("Lens, px", 0.3f);
  text_field("##lens", typed);
  control(bench, "pair.lens");
  const bool left = left_field();
  tip("The lens's focal length in pixels of this picture, where it is known; empty: it is found from the points. With "
      "it "
      "four pairs set a camera.");
  if (!left) return;
  const auto value = typed.empty() ? Result<double>(0.0) : parse_number(typed);
  if (!value || *value < 0)
    return bench.session.complain({"this is no focal length", typed, "Type pixels, such as 2400."});
  options.focal_px = *value > 0 ? std::optional(*value) : std::nullopt;
}

void kind_choice(Workbench& bench) {
  Pairs& pairs = bench.pairs;
  FitOptions options = pairs.options();
  const std::array<std::pair<const char*, FitKind>, 4> kinds{{{"by itself", FitKind::automatic},
                                                              {"size, place, turn", FitKind::similarity},
                                                              {"flat photograph", FitKind::homography},
                                                              {"camera", FitKind::camera}}};
  field_name("Set as", 0.3f);
  const auto now = std::find_if(kinds.begin(), kinds.end(), [&](const auto& k) { return k.second == options.kind; });
  if (ImGui::BeginCombo("##kind", now->first)) {
    for (const auto& [word, kind] : kinds) {
      if (ImGui::Selectable(word, kind == options.kind)) options.kind = kind, options.pose = 0;
      control(bench, std::string("pair.kind.") + word);
    }
    ImGui::EndCombo();
  }
  control(bench, "pair.kind");
  tip("By itself: the way that foretells left-out points best. 2 points give size, place and turn; 4 a flat photograph "
      "on a flat wall; 5 a camera.");
  ImGui::Checkbox("Smooth what is left over", &options.thin_plate);
  control(bench, "pair.smooth");
  tip("Bends the picture a little so that it comes nearer to all points, only as far as left-out points gain by it.");
  lens_field(bench, options);
  pairs.choose_options(options);
}

void camera_choice(Workbench& bench, const FitReport& report) {
  if (report.cameras.size() < 2) return;
  warn_text("These points fit more than one camera place. Choose the true one, or mark points at other depths:");
  for (std::size_t k = 0; k < report.cameras.size(); ++k) {
    ImGui::PushID(static_cast<int>(k));
    if (ImGui::RadioButton(place_words(report.cameras[k].eye).c_str(), report.camera == k)) {
      FitOptions options = bench.pairs.options();
      options.pose = static_cast<int>(k);
      bench.pairs.choose_options(options);
    }
    control(bench, "pair.camera." + std::to_string(k + 1));
    ImGui::PopID();
  }
}

void report(Workbench& bench) {
  const Pairs& pairs = bench.pairs;
  if (pairs.whole() < 2) return quiet_text("Two pairs set its size, place and turn; five a photograph in space.");
  const Result<Fitted>* fitted = pairs.fitted();
  if (!fitted) return quiet_text("Working it out…");
  if (!*fitted) return warn_text(fitted->problem().message().c_str());
  tell_fit((*fitted)->report);
  camera_choice(bench, (*fitted)->report);
}

}  // namespace

void tell_fit(const FitReport& fit) {
  const std::vector<std::string> words = in_words(fit);
  const std::size_t cautions = fit.warnings.size() + (fit.suspect ? 1 : 0);  // the last ones
  for (std::size_t i = 0; i < words.size(); ++i)
    if (i + cautions < words.size())
      ImGui::TextWrapped("%s", words[i].c_str());
    else
      warn_text(words[i].c_str());
}

std::optional<std::size_t> doubtful_pair(const Pairs& pairs) {
  const FitReport* report = report_of(pairs);
  if (!report || !report->suspect) return std::nullopt;
  for (std::size_t i = 0; i < pairs.all().size(); ++i)
    if (pairs.all()[i].whole() && whole_before(pairs.all(), i) == *report->suspect) return i;
  return std::nullopt;
}

void draw_pair_form(Workbench& bench) {
  Pairs& pairs = bench.pairs;
  if (!pairs.ready()) return quiet_text("No picture lies on this wall yet. Add one on the Design page.");
  ImGui::TextWrapped("%s", bench.session.placed()->name.c_str());
  beside_buttons(bench);
  pair_table(bench);
  chosen_pair(bench);
  type_pair(bench);
  kind_choice(bench);
  report(bench);
  ImGui::Spacing();
  if (action_button("Set it") && pairs.changes() > 0) pairs.set(bench);
  control(bench, "pair.set");
  tip("Lays the picture by these pairs; one step that Undo takes back.");
  same_row("Give up changes");
  if (ImGui::Button("Give up changes")) pairs.give_up();
  control(bench, "pair.give-up");
  if (pairs.changes() == 0 && pairs.whole() >= 2) quiet_text("The picture lies by these pairs.");
}

}  // namespace pontata
