// Time of a frame of the 3D view, from clearing to glFinish, along a fixed path of the eye through a bumpy vault with
// 36 giornate, their numbers and seams, and a picture of 4096 x 4096 pixels. Needs no display.
//
//   bench_view [TRIANGLES [WIDTHxHEIGHT [FRAMES]]]      (500000 800x600 200)
//
// "adapted" is what the window does while the eye moves: levels of detail true to 0.7 px, fewer triangles while frames
// take longer than 40 ms. "full" draws the true surface in every frame. "at rest" is the frame that follows when the
// eye has stopped, and a redraw of it.
#include <epoxy/gl.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <numbers>
#include <string>

#include "editor/view/fonts.h"
#include "editor/view/gui_painter.h"
#include "editor/view/offscreen.h"
#include "editor/view/wall_marks.h"
#include "editor/view/wall_scene.h"
#include "engine/seams/outline_edit.h"
#include "tests/fixtures/pictures.h"

using namespace pontata;

namespace {

constexpr double kSpan = 4, kLength = 6, kPi = std::numbers::pi;
constexpr int kAcross = 6;  // giornate each way

double seconds() { return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count(); }

// A barrel of 4 x 6 m with bumps of up to 9 mm, 40 cm to 4 cm wide.
double radius_at(double u, double v) {
  return kSpan / 2 - 0.005 * std::sin(16 * u) * std::sin(15 * v) - 0.002 * std::sin(61 * u + 3 * v) -
         0.001 * std::sin(150 * v + 11 * u) - 0.001 * std::sin(157 * u - 20 * v);
}

WallRef bumpy_vault(std::size_t triangles) {
  const double tall = kPi * kSpan / 2;
  const int columns = std::max(4, static_cast<int>(std::sqrt(0.5 * static_cast<double>(triangles) * kLength / tall)));
  const int rows = std::max(4, static_cast<int>(0.5 * static_cast<double>(triangles) / columns));
  auto mesh = std::make_shared<SurfaceMesh>();
  std::vector<Vec2> addresses;
  for (int j = 0; j <= rows; ++j)
    for (int i = 0; i <= columns; ++i) {
      const double u = kLength * i / columns, v = tall * j / rows, a = 2 * v / kSpan, r = radius_at(u, v);
      mesh->points.push_back({u, r * std::cos(a), r * std::sin(a)});
      addresses.push_back({u, v});
    }
  const auto at = [&](int i, int j) { return static_cast<std::uint32_t>(j * (columns + 1) + i); };
  for (int j = 0; j < rows; ++j)
    for (int i = 0; i < columns; ++i) {
      mesh->triangles.push_back({at(i, j), at(i + 1, j), at(i + 1, j + 1)});
      mesh->triangles.push_back({at(i, j), at(i + 1, j + 1), at(i, j + 1)});
    }
  mesh->normals.assign(mesh->points.size(), {0, 0, 0});
  const auto& p = mesh->points;
  for (const Triangle& t : mesh->triangles)
    for (const auto corner : t) mesh->normals[corner] += glm::cross(p[t[1]] - p[t[0]], p[t[2]] - p[t[0]]);
  for (Vec3& n : mesh->normals) n = glm::normalize(n);
  mesh->corner_normals = mesh->triangles;
  auto wall = chart_wall(mesh, addresses, "bumpy vault", false);
  if (!wall) std::fprintf(stderr, "%s\n", wall.problem().message().c_str()), std::exit(1);
  return *wall;
}

std::shared_ptr<const Image> busy_picture() {
  auto image = std::make_shared<Image>(Image{4096, 4096, {}});
  image->rgb.resize(std::size_t{4096} * 4096 * 3);
  std::size_t k = 0;
  for (unsigned y = 0; y < 4096; ++y)
    for (unsigned x = 0; x < 4096; ++x) {
      const unsigned h = (x * 2654435761u) ^ (y * 2246822519u);
      image->rgb[k++] = static_cast<std::uint8_t>(90 + x / 40 + (h >> 27));
      image->rgb[k++] = static_cast<std::uint8_t>(200 - y / 40 + (h >> 28));
      image->rgb[k++] = static_cast<std::uint8_t>(((x >> 6) ^ (y >> 6)) & 1 ? 150 : 110);
    }
  return image;
}

// Wavy line from a to b; the same points whichever neighbour asks.
void add_wave(Ring& ring, Vec2 a, Vec2 b) {
  constexpr int kSteps = 60;
  const bool turned = b.x < a.x - 1e-9 || b.y < a.y - 1e-9;
  if (turned) std::swap(a, b);
  const Vec2 across = 0.06 * Vec2(-(b - a).y, (b - a).x);
  std::vector<LatticePoint> line;
  for (int k = 0; k <= kSteps; ++k) {
    const double s = static_cast<double>(k) / kSteps;
    line.push_back(to_lattice(to_chart(a + s * (b - a) + std::sin(2 * kPi * s * 3) * across)));
  }
  if (turned) std::reverse(line.begin(), line.end());
  ring.insert(ring.end(), line.begin(), line.end() - 1);
}

DocumentRef vault_with_giornate(const WallRef& wall) {
  auto item = std::make_shared<WallItem>();
  item->id = WallId{1};
  item->name = "vault";
  item->wall = wall;
  item->network = Network::from_border(wall->chart->border_rings(), wall->metric->meter()).value();
  item->pictures = {
      fixtures::placed(*busy_picture(), PictureFrame{.at = {0, 0}, .width = kLength, .height = kLength})};
  auto document = std::make_shared<Document>();
  const ChartBox box = wall->chart->box();
  const Vec2 cell = Vec2(box.width, box.height) * 0.92 / static_cast<double>(kAcross);
  for (int row = 0; row < kAcross; ++row)
    for (int column = 0; column < kAcross; ++column) {
      const Vec2 low = 0.04 * Vec2(box.width, box.height) + cell * Vec2(column, row);
      Ring ring;
      add_wave(ring, low, low + Vec2(cell.x, 0));
      add_wave(ring, low + Vec2(cell.x, 0), low + cell);
      add_wave(ring, low + cell, low + Vec2(0, cell.y));
      add_wave(ring, low + Vec2(0, cell.y), low);
      Giornata g;
      g.id = GiornataId{static_cast<std::uint32_t>(document->giornate.size()) + 1};
      g.number = static_cast<int>(g.id.value);
      g.wall = item->id;
      g.state = static_cast<GiornataState>(document->giornate.size() % 5);  // all patterns
      document->giornate.push_back(g);
      item->network = insert_outline(item->network, ring, g.id, wall->metric->meter()).value().network;
    }
  document->walls = {item};
  return document;
}

// In through the open end, along the vault and close to it, looking about.
ViewFrame frame_at(double s, int width, int height) {
  ViewFrame frame;
  frame.width = width;
  frame.height = height;
  frame.space.eye = {-4 + 7 * s, 0.9 * std::sin(2 * kPi * s), 0.3 + 0.7 * std::sin(kPi * s)};
  frame.space.yaw = -kPi / 2 + 0.5 * std::sin(3 * kPi * s);
  frame.space.pitch = 0.15 + 0.5 * s;
  return frame;
}

// Of all threads of this program: what a frame costs whatever else the machine does.
double processor_seconds() {
  timespec t{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

struct Bench {
  int width, height, frames;
  WallScene scene;
  DocumentRef document;
  WallMeasure measure;
  std::vector<WallRef> surfaces;
  DrawTarget target;
  GuiPainter painter;

  double draw(const ViewFrame& frame, DrawnFrame& drawn) {
    const double begin = seconds();
    target.bind();
    scene.clear();
    drawn = scene.draw(frame);
    ImGui::GetIO().DisplaySize = ImVec2(static_cast<float>(width), static_cast<float>(height));
    ImGui::NewFrame();
    draw_numbers(*ImGui::GetBackgroundDrawList(), {0, 0}, frame, *document->walls[0], surfaces, measure, *document, {},
                 false);
    ImGui::Render();
    painter.paint(*ImGui::GetDrawData());
    glFinish();
    return seconds() - begin;
  }

  void along_path(const char* name, bool adapted) {
    DetailBudget budget;
    std::vector<double> times;
    double triangles = 0, error = 0;
    const double processor = processor_seconds();
    for (int i = 0; i < frames; ++i) {
      ViewFrame frame = frame_at(static_cast<double>(i) / std::max(frames - 1, 1), width, height);
      if (adapted) frame.detail = {kUnseenPx, budget.most_triangles()};
      DrawnFrame drawn;
      times.push_back(draw(frame, drawn));
      if (adapted) budget.took(times.back(), drawn.triangles);
      triangles += static_cast<double>(drawn.triangles) / frames;
      error = std::max(error, drawn.error_px);
    }
    std::sort(times.begin(), times.end());
    const auto at = [&](double share) {
      return 1e3 * times[static_cast<std::size_t>(share * static_cast<double>(times.size() - 1) + 0.5)];
    };
    std::printf(
        "%-8s median %8.2f ms   p95 %8.2f ms   p99 %8.2f ms   worst %8.2f ms   processor %7.2f ms   %9.0f triangles   "
        "%.1f px\n",
        name, at(0.5), at(0.95), at(0.99), at(1), 1e3 * (processor_seconds() - processor) / frames, triangles, error);
    std::fflush(stdout);
  }

  void at_rest() {
    const ViewFrame frame = frame_at(0.3, width, height);
    DrawnFrame drawn;
    const double first = draw(frame, drawn), again = draw(frame, drawn);
    std::printf("at rest  first %9.2f ms   again %7.2f ms   %zu triangles\n", 1e3 * first, 1e3 * again,
                drawn.triangles);
  }
};

void run(std::size_t triangles, int width, int height, int frames) {
  double begin = seconds();
  const auto lap = [&] { return seconds() - std::exchange(begin, seconds()); };
  const WallRef wall = bumpy_vault(triangles);
  const DocumentRef document = vault_with_giornate(wall);
  std::printf("%s\n%zu triangles, %d x %d px, %d frames (wall made in %.1f s)\n",
              reinterpret_cast<const char*>(glGetString(GL_RENDERER)), wall->mesh().triangles.size(), width, height,
              frames, lap());
  Bench bench{width,
              height,
              frames,
              WallScene(make_gl_renderer(), [] {}),
              document,
              measure_wall(*wall, document->walls[0]->network, document->giornate),
              surfaces_of(*document),
              {},
              {}};
  bench.target.resize(width, height);
  lap();
  bench.scene.show(document->walls, document, WallId{1}, std::array{GiornataId{2}});
  DrawnFrame drawn;
  bench.draw(frame_at(0, width, height), drawn);
  const double shown = lap();
  bench.scene.finish_made();
  std::printf("shown after %.2f s, levels of detail after %.2f s more\n", shown, lap());
  for (const SurfaceLevel& level : make_levels(draw_surface(*wall), false).levels)
    std::printf("  level of %8zu triangles in %4zu pieces, true to %.2f mm\n", level.triangles, level.pieces.size(),
                1e3 * level.error);
  bench.draw(frame_at(0, width, height), drawn);
  bench.along_path("adapted", true);
  bench.at_rest();
  bench.along_path("full", false);
}

}  // namespace

int main(int argc, char** argv) {
  const std::size_t triangles = argc > 1 ? std::strtoull(argv[1], nullptr, 10) : 500'000;
  int width = 800, height = 600;
  if (argc > 2 && std::sscanf(argv[2], "%dx%d", &width, &height) != 2) return 2;
  const int frames = argc > 3 ? std::atoi(argv[3]) : 200;
  const auto context = OffscreenContext::make();
  if (!context) return std::fprintf(stderr, "%s\n", context.problem().message().c_str()), 1;
  ImGui::CreateContext();
  ImGui::GetIO().IniFilename = nullptr;
  add_fonts(1);
  run(triangles, width, height, frames);
  ImGui::DestroyContext();
  return 0;
}
