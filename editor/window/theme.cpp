#include "editor/window/theme.h"

namespace pontata {
namespace {

constexpr Rgb kPanel = rgb(0xECE7DC), kField = rgb(0xFBF9F4), kLine = rgb(0xCFC7B6), kQuiet = rgb(0x6B6255);
constexpr Rgb kSoft = rgb(0xDCE3E8), kSofter = rgb(0xC5D3DE), kPressed = rgb(0xAEC3D3);

void set_colours(ImGuiStyle& style) {
  ImGui::StyleColorsLight(&style);
  ImVec4* c = style.Colors;
  c[ImGuiCol_Text] = to_im4(kText);
  c[ImGuiCol_TextDisabled] = to_im4(kQuiet);
  c[ImGuiCol_WindowBg] = to_im4(kGround);
  c[ImGuiCol_ChildBg] = to_im4(kGround, 0);
  c[ImGuiCol_PopupBg] = to_im4(kField);
  c[ImGuiCol_Border] = to_im4(kLine);
  c[ImGuiCol_FrameBg] = to_im4(kField);
  c[ImGuiCol_FrameBgHovered] = to_im4(kSoft);
  c[ImGuiCol_FrameBgActive] = to_im4(kSofter);
  c[ImGuiCol_TitleBg] = c[ImGuiCol_TitleBgActive] = c[ImGuiCol_TitleBgCollapsed] = to_im4(kPanel);
  c[ImGuiCol_MenuBarBg] = to_im4(kPanel);
  c[ImGuiCol_ScrollbarBg] = to_im4(kPanel, 0.5f);
  c[ImGuiCol_ScrollbarGrab] = to_im4(kLine);
  c[ImGuiCol_ScrollbarGrabHovered] = c[ImGuiCol_ScrollbarGrabActive] = to_im4(kQuiet);
  c[ImGuiCol_CheckMark] = c[ImGuiCol_SliderGrab] = c[ImGuiCol_SliderGrabActive] = to_im4(kAction);
  c[ImGuiCol_Button] = to_im4(kPanel);
  c[ImGuiCol_ButtonHovered] = c[ImGuiCol_HeaderHovered] = to_im4(kSofter);
  c[ImGuiCol_ButtonActive] = c[ImGuiCol_HeaderActive] = to_im4(kPressed);
  c[ImGuiCol_Header] = to_im4(kSoft);
  c[ImGuiCol_Separator] = to_im4(kLine);
  c[ImGuiCol_SeparatorHovered] = c[ImGuiCol_SeparatorActive] = to_im4(kAction);
  c[ImGuiCol_PlotHistogram] = to_im4(kAction);
  c[ImGuiCol_TableHeaderBg] = to_im4(kPanel);
  c[ImGuiCol_TableBorderStrong] = c[ImGuiCol_TableBorderLight] = to_im4(kLine);
  c[ImGuiCol_TableRowBgAlt] = to_im4(kPanel, 0.4f);
  c[ImGuiCol_TextSelectedBg] = to_im4(kSofter);
  c[ImGuiCol_DragDropTarget] = c[ImGuiCol_NavHighlight] = to_im4(kAction);
  c[ImGuiCol_ModalWindowDimBg] = to_im4(kText, 0.25f);
}

void coloured_text(const char* text, Rgb colour) {
  ImGui::PushStyleColor(ImGuiCol_Text, to_im(colour));
  ImGui::TextWrapped("%s", text);
  ImGui::PopStyleColor();
}

}  // namespace

ImVec4 to_im4(Rgb c, float alpha) {
  return ImVec4(static_cast<float>(c.r) / 255, static_cast<float>(c.g) / 255, static_cast<float>(c.b) / 255, alpha);
}

void apply_theme(double scale) {
  ImGuiStyle style;
  set_colours(style);
  style.WindowRounding = 0;
  style.FrameRounding = 3;
  style.PopupRounding = 4;
  style.ScrollbarRounding = 3;
  style.GrabRounding = 3;
  style.WindowBorderSize = 1;
  style.FrameBorderSize = 1;
  style.WindowPadding = ImVec2(10, 8);
  style.FramePadding = ImVec2(7, 4);
  style.ItemSpacing = ImVec2(7, 6);
  style.CellPadding = ImVec2(5, 3);
  style.ScrollbarSize = 12;
  style.ScaleAllSizes(static_cast<float>(scale));
  ImGui::GetStyle() = style;
}

void quiet_text(const char* text) { coloured_text(text, kQuiet); }
void warn_text(const char* text) { coloured_text(text, kWarn); }
void heading(const char* text) {
  ImGui::PushFont(ImGui::GetIO().Fonts->Fonts[1]);
  ImGui::TextUnformatted(text);
  ImGui::PopFont();
}

bool action_button(const char* label, float width) {
  ImGui::PushStyleColor(ImGuiCol_Button, to_im(kAction));
  ImGui::PushStyleColor(ImGuiCol_ButtonHovered, to_im(rgb(0x2A639A)));
  ImGui::PushStyleColor(ImGuiCol_ButtonActive, to_im(rgb(0x163A5B)));
  ImGui::PushStyleColor(ImGuiCol_Text, to_im(rgb(0xFFFFFF)));
  const bool pressed = ImGui::Button(label, ImVec2(width, 0));
  ImGui::PopStyleColor(4);
  return pressed;
}

}  // namespace pontata
