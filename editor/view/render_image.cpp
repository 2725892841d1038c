#include "editor/view/render_image.h"

#include <imgui.h>

#include <algorithm>
#include <exception>
#include <filesystem>

#include "editor/view/fonts.h"
#include "editor/view/gui_painter.h"
#include "editor/view/offscreen.h"
#include "editor/view/wall_marks.h"
#include "editor/view/wall_scene.h"

namespace pontata {
namespace {

struct GuiContext {
  GuiContext() : context(ImGui::CreateContext()) { ImGui::GetIO().IniFilename = nullptr; }
  ~GuiContext() { ImGui::DestroyContext(context); }
  GuiContext(const GuiContext&) = delete;
  GuiContext& operator=(const GuiContext&) = delete;
  ImGuiContext* context;
};

Result<std::shared_ptr<const WallItem>> wanted_wall(const Document& document, const std::string& name) {
  if (document.walls.empty()) return Problem{"the project has no wall yet", "", "Add one with the verb `wall`."};
  if (name.empty()) return document.walls.front();
  std::string known;
  for (const auto& wall : document.walls) {
    if (wall->name == name) return wall;
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

void paint_numbers(const ViewFrame& frame, const WallItem& item, const WallMeasure& measure, const Document& document) {
  GuiContext gui;
  ImGui::GetIO().DisplaySize = ImVec2(static_cast<float>(frame.width), static_cast<float>(frame.height));
  add_fonts(frame.scale);
  GuiPainter painter;
  ImGui::NewFrame();
  draw_numbers(*ImGui::GetBackgroundDrawList(), {0, 0}, frame, item, measure, document, GiornataId{});
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

ViewFrame frame_for(const WallItem& item, const RenderOptions& options, int fine) {
  ViewFrame frame;
  frame.kind = options.view == "flat" ? ViewKind::flat : ViewKind::space;
  frame.width = options.width * fine;
  frame.height = options.height * fine;
  frame.scale = fine * std::clamp(std::min(options.width, options.height) / 900.0, 0.75, 3.0);
  const ViewSize size{static_cast<double>(frame.width), static_cast<double>(frame.height)};
  frame.flat = flat_fit(item.wall->chart->box(), size);
  frame.space = first_view(*item.wall, size);
  return frame;
}

}  // namespace

Outcome render_image(const Document& document, Flow& flow, const RenderOptions& options, const std::string& out_png) {
  if (const auto checked = check_options(options); !checked) return checked.problem();
  const auto item = wanted_wall(document, options.wall);
  if (!item) return item.problem();
  const auto context = OffscreenContext::make();
  if (!context) return context.problem();
  const int fine = std::max(options.width, options.height) <= 4096 ? 2 : 1;
  try {
    const ViewFrame frame = frame_for(**item, options, fine);
    DrawTarget target;
    target.resize(frame.width, frame.height);
    WallScene scene(make_gl_renderer());
    scene.show(*item, std::make_shared<const Document>(document), GiornataId{});
    target.bind();
    scene.draw(frame);
    const auto figures = flow.figures(document, (*item)->id);
    paint_numbers(frame, **item, figures->measure, document);
    return write_whole(read_back(options.width, options.height, fine), out_png);
  } catch (const std::exception& e) {
    return Problem{std::string("the picture could not be drawn: ") + e.what(), out_png, ""};
  }
}

}  // namespace pontata
