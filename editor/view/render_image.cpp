#include "editor/view/render_image.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <exception>
#include <filesystem>

#include "editor/view/flat_sheet.h"
#include "editor/view/fonts.h"
#include "editor/view/gui_painter.h"
#include "editor/view/offscreen.h"
#include "editor/view/state_colours.h"
#include "editor/view/wall_marks.h"
#include "editor/view/wall_scene.h"
#include "engine/document/setting_values.h"
#include "engine/review/heat_line.h"

namespace pontata {
namespace {

constexpr int kLegendPx = 70;

struct GuiContext {
  GuiContext() : context(ImGui::CreateContext()) { ImGui::GetIO().IniFilename = nullptr; }
  ~GuiContext() { ImGui::DestroyContext(context); }
  GuiContext(const GuiContext&) = delete;
  GuiContext& operator=(const GuiContext&) = delete;
  ImGuiContext* context;
};

Result<Walls> wanted_walls(const Document& document, const std::string& name) {
  if (document.walls.empty()) return Problem{"the project has no wall yet", "", "Add one with the verb `wall`."};
  if (name.empty()) return document.walls;
  std::string known;
  for (const auto& wall : document.walls) {
    if (wall->name == name) return Walls{wall};
    known += (known.empty() ? "" : ", ") + wall->name;
  }
  return Problem{"there is no wall of this name", name, "The project has: " + known + "."};
}

Outcome check_options(const RenderOptions& options) {
  if (options.view != "3d" && options.view != "flat") return Problem{"unknown view", options.view, "Give 3d or flat."};
  if (std::min(options.width, options.height) < 16 || std::max(options.width, options.height) > 8192)
    return Problem{"the picture's sides must lie between 16 and 8192 pixels",
                   std::to_string(options.width) + "x" + std::to_string(options.height), "Give --size as 1600x1200."};
  return Done{};
}

// A rectangle of the picture: all walls in 3D, or one wall flat.
struct Part {
  ViewFrame frame;
  Vec2 corner{0, 0};  // px, upper left
  Walls walls;
  bool named = false;
};

void draw_name(ImDrawList& list, const Part& part) {
  const std::string& name = part.walls.front()->name;
  const auto size = static_cast<float>(17 * part.frame.scale);
  const ImVec2 extent = ImGui::GetFont()->CalcTextSizeA(size, 1e9f, 0, name.c_str());
  const auto x = static_cast<float>(part.corner.x + 0.5 * part.frame.width) - extent.x / 2;
  const auto y = static_cast<float>(part.corner.y + part.frame.height + 5 * part.frame.scale);
  list.AddText(ImGui::GetFont(), size, ImVec2(std::round(x), std::round(y)), IM_COL32(kText.r, kText.g, kText.b, 255),
               name.c_str());
}

// Lines and words of the grades, and what the numbers do not promise, along the lower edge.
void draw_legend(ImDrawList& list, ViewSize size, double scale, const EyePoint& eye) {
  constexpr double kRoom = 900;  // px that the row of grades takes at full size; smaller letters on a narrower picture
  const double fit = std::min(1.0, size.width / (kRoom * scale));
  const auto letters = static_cast<float>(13 * scale * fit), pad = static_cast<float>(8 * scale * fit);
  ImFont* font = ImGui::GetFont();
  const auto width = static_cast<float>(size.width), height = static_cast<float>(size.height);
  const std::string caveat(kFloorCaveat);
  const ImVec2 room = font->CalcTextSizeA(letters, 1e9f, width - 2 * pad, caveat.c_str());
  const float top = height - room.y - 3 * pad - letters;
  list.AddRectFilled({0, top}, {width, height}, IM_COL32(kGround.r, kGround.g, kGround.b, 235));
  const ImU32 ink = IM_COL32(kText.r, kText.g, kText.b, 255);
  float x = pad;
  const auto words = [&](const std::string& text) {
    list.AddText(font, letters, {x, top + pad}, ink, text.c_str());
    x += font->CalcTextSizeA(letters, 1e9f, 0, text.c_str()).x + 2 * pad;
  };
  words("seams from " + (eye.name.empty() ? write_place(eye.at) : eye.name) + ":");
  for (const HeatGrade& grade : heat_grades()) {
    const Rgb c = rgb(grade.rgb);
    const float y = top + pad + letters / 2, end = x + 5 * pad;
    const auto thick = static_cast<float>(3 * scale * grade.width);
    list.AddLine({x, y}, {end, y}, ink, thick + static_cast<float>(1.6 * scale));
    list.AddLine({x, y}, {end, y}, IM_COL32(c.r, c.g, c.b, 255), thick);
    x = end + pad;
    words(std::string(grade.words));
  }
  list.AddText(font, letters, {pad, top + 2 * pad + letters}, ink, caveat.c_str(), nullptr, width - 2 * pad);
}

void paint_marks(ViewSize size, const std::vector<Part>& parts, const Document& document, Flow& flow,
                 const std::optional<EyePoint>& seams_from) {
  GuiContext gui;
  ImGui::GetIO().DisplaySize = ImVec2(static_cast<float>(size.width), static_cast<float>(size.height));
  add_fonts(parts.front().frame.scale);
  GuiPainter painter;
  ImGui::NewFrame();
  ImDrawList& list = *ImGui::GetBackgroundDrawList();
  for (const Part& part : parts) {
    std::vector<WallRef> hiding;
    for (const auto& item : part.walls) hiding.push_back(item->wall);
    for (const auto& item : part.walls)
      draw_numbers(list, part.corner, part.frame, *item, hiding, flow.figures(document, item->id)->measure, document,
                   {}, false);
    if (part.named) draw_name(list, part);
  }
  if (seams_from) draw_legend(list, size, parts.front().frame.scale, *seams_from);
  ImGui::Render();
  painter.paint(*ImGui::GetDrawData());
}

// The target's pixels, top row first, each the mean of fine x fine drawn ones.
Image read_back(int width, int height, int fine) {
  const auto stride = static_cast<std::size_t>(width * fine) * 4;
  std::vector<std::uint8_t> rgba(stride * static_cast<std::size_t>(height * fine));
  glPixelStorei(GL_PACK_ALIGNMENT, 4);
  glReadPixels(0, 0, width * fine, height * fine, GL_RGBA, GL_UNSIGNED_BYTE, rgba.data());
  Image image{width, height, {}};
  image.rgb.reserve(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3);
  for (int y = height - 1; y >= 0; --y)
    for (int x = 0; x < width; ++x)
      for (int c = 0; c < 3; ++c) {
        unsigned sum = 0;
        for (int j = 0; j < fine; ++j)
          for (int i = 0; i < fine; ++i)
            sum += rgba[static_cast<std::size_t>(y * fine + j) * stride +
                        static_cast<std::size_t>((x * fine + i) * 4 + c)];
        image.rgb.push_back(static_cast<std::uint8_t>((sum + static_cast<unsigned>(fine * fine) / 2) /
                                                      static_cast<unsigned>(fine * fine)));
      }
  return image;
}

// Whole or not at all: written beside and renamed.
Outcome write_whole(const Image& image, const std::string& path) {
  const std::string part = path + ".part";
  const Outcome written = write_png(image, part);
  std::error_code failed;
  if (written) std::filesystem::rename(part, path, failed);
  if (written && !failed) return Done{};
  std::error_code ignored;
  std::filesystem::remove(part, ignored);
  return Problem{"the picture cannot be written", path,
                 "Check that the folder exists, may be written to and has room."};
}

ViewFrame whole_frame(const RenderOptions& options, int fine) {
  ViewFrame frame;
  frame.kind = options.view == "flat" ? ViewKind::flat : ViewKind::space;
  frame.width = options.width * fine;
  frame.height = options.height * fine;
  frame.scale = fine * std::clamp(std::min(options.width, options.height) / 900.0, 0.75, 3.0);
  return frame;
}

std::vector<Part> chart_parts(const ViewFrame& whole, const Walls& walls) {
  std::vector<ChartBox> boxes;
  for (const auto& item : walls) boxes.push_back(item->wall->chart->box());
  const FlatSheet sheet = lay_out_charts(boxes, whole.size(), 28 * whole.scale, 30 * whole.scale);
  std::vector<Part> parts;
  for (std::size_t i = 0; i < walls.size(); ++i) {
    Part part{whole, glm::floor(sheet.cells[i].corner), {walls[i]}, true};
    part.frame.width = std::max(1, static_cast<int>(std::ceil(sheet.cells[i].size.width)));
    part.frame.height = std::max(1, static_cast<int>(std::ceil(sheet.cells[i].size.height)));
    part.frame.flat = {{boxes[i].width / 2, boxes[i].height / 2}, sheet.metre_px};
    parts.push_back(std::move(part));
  }
  return parts;
}

std::vector<Part> parts_of(const Walls& walls, const RenderOptions& options, int fine) {
  const ViewFrame whole = whole_frame(options, fine);
  if (whole.kind == ViewKind::flat && walls.size() > 1) return chart_parts(whole, walls);
  Part part{whole, {0, 0}, walls, false};
  std::vector<WallRef> surfaces;
  for (const auto& item : walls) surfaces.push_back(item->wall);
  part.frame.flat = flat_fit(surfaces.front()->chart->box(), whole.size());
  part.frame.space = first_view(surfaces, whole.size());
  return {part};
}

ShownOnWall on_wall(const Document& document, Flow& flow, WallId wall, const RenderOptions& options) {
  ShownOnWall shown{flow.draped(document, wall), options.contours ? flow.contours(document, wall) : nullptr,
                    document.settings.squaring.step_m};
  if (options.seams_from)
    shown.heat = std::make_shared<const std::vector<HeatLine>>(
        heat_lines(*flow.from_floor(document, wall, *options.seams_from)));
  return shown;
}

void draw_parts(WallScene& scene, const std::vector<Part>& parts, const Walls& walls, const DocumentRef& document,
                Flow& flow, const RenderOptions& options, int height) {
  scene.clear();
  for (const Part& part : parts) {
    const bool flat = part.frame.kind == ViewKind::flat;
    scene.show(walls, document, flat ? part.walls.front()->id : WallId{}, {},
               [&](WallId wall) { return on_wall(*document, flow, wall, options); });
    glViewport(static_cast<int>(part.corner.x), height - static_cast<int>(part.corner.y) - part.frame.height,
               part.frame.width, part.frame.height);
    scene.draw(part.frame);
  }
}

}  // namespace

Outcome render_image(const Document& document, Flow& flow, const RenderOptions& options, const std::string& out_png) {
  if (const auto checked = check_options(options); !checked) return checked.problem();
  const auto walls = wanted_walls(document, options.wall);
  if (!walls) return walls.problem();
  const auto context = OffscreenContext::make();
  if (!context) return context.problem();
  const int fine = std::max(options.width, options.height) <= 4096 ? 2 : 1;
  try {
    RenderOptions above = options;  // the legend stands beneath the walls
    if (options.seams_from) above.height = std::max(16, options.height - kLegendPx);
    const std::vector<Part> parts = parts_of(*walls, above, fine);
    DrawTarget target;
    target.resize(options.width * fine, options.height * fine);
    WallScene scene(make_gl_renderer());
    target.bind();
    draw_parts(scene, parts, *walls, std::make_shared<const Document>(document), flow, options, target.height());
    target.bind();
    paint_marks(whole_frame(options, fine).size(), parts, document, flow, options.seams_from);
    return write_whole(read_back(options.width, options.height, fine), out_png);
  } catch (const std::exception& e) {
    return Problem{std::string("the picture could not be drawn: ") + e.what(), out_png, ""};
  }
}

}  // namespace pontata
