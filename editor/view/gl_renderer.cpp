#include <algorithm>
#include <array>
#include <cmath>
#include <glm/gtc/type_ptr.hpp>
#include <string>

#include "editor/view/gl_patterns.h"
#include "editor/view/gl_wall.h"
#include "editor/view/renderer.h"
#include "editor/view/state_colours.h"
#include "engine/review/heat_line.h"

namespace pontata {
namespace {

struct LineStyle {
  LineLayer layer;
  Rgb core, casing;
  float core_px, casing_px;  // half widths
  float dash_m;
};
Rgb heat_colour(std::size_t grade) { return rgb(heat_grades()[grade].rgb); }
float heat_width(std::size_t grade) { return static_cast<float>(1.5 * heat_grades()[grade].width); }

// Drawn in this order: dark core, light casing; the chosen one above the network, what the review tells above all.
const std::array<LineStyle, kLineLayers> kStyles{{
    {LineLayer::border, rgb(0x6B6255), kCasing, 0.7f, 1.4f, 0},
    {LineLayer::squares, rgb(0x4A4640), kCasing, 0.45f, 1.0f, 0},
    {LineLayer::contours, rgb(0x7A1E5A), kCasing, 0.6f, 1.1f, 0},
    {LineLayer::detail, rgb(0x3B6B35), kCasing, 0.9f, 2.0f, 0.06f},
    {LineLayer::keep_whole, rgb(0x8A1F1F), kCasing, 1.1f, 2.4f, 0.03f},
    {LineLayer::seams, kSeamCore, kCasing, 0.9f, 2.1f, 0},
    {LineLayer::today, rgb(0x8A4A08), kCasing, 2.6f, 3.8f, 0},
    {LineLayer::chosen, kAction, kCasing, 2.1f, 4.0f, 0},
    {LineLayer::heat0, heat_colour(0), kSeamCore, heat_width(0), heat_width(0) + 0.8f, 0},
    {LineLayer::heat1, heat_colour(1), kSeamCore, heat_width(1), heat_width(1) + 0.8f, 0},
    {LineLayer::heat2, heat_colour(2), kCasing, heat_width(2), heat_width(2) + 1.2f, 0},
    {LineLayer::heat3, heat_colour(3), kCasing, heat_width(3), heat_width(3) + 1.2f, 0},
    {LineLayer::pointed, kWarn, kCasing, 2.4f, 4.2f, 0},
}};

// Casing beneath all cores; or both together, which takes half the time and leaves small nicks at sharp corners.
enum class LinePart { casing, core, together };

constexpr unsigned kStatesWithPattern = 1u << 2 | 1u << 4 | 1u << 5;  // ready, done, to redo

constexpr double kVeilPx = 2;  // how true the veil is at least

void set_vec3(GLint at, const Vec3& v) {
  glUniform3f(at, static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z));
}

// One wall, as this frame shows it.
struct Shown {
  const GlWall* wall;
  WallLook look;
  ViewSight sight;
  glm::mat4 clip;
  std::size_t level = 0;
  bool fewer_lines = false;
};

bool patterned(const Shown& shown) { return (shown.wall->labels(shown.look.labels).states & kStatesWithPattern) != 0; }

class GlRenderer final : public Renderer {
 public:
  GlRenderer()
      : veil_program_(make_program("surface.vert", "veil.frag")),
        line_program_(make_program("lines.vert", "lines.frag")) {}

  std::unique_ptr<WallCanvas> make_wall() override { return std::make_unique<GlWall>(); }
  void clear() override;
  DrawnFrame draw(const ViewFrame& frame, std::span<const WallLook> walls) override;

 private:
  const GlProgram& surface_program(const ViewFrame& frame, const Shown& shown);
  std::size_t draw_surface(const ViewFrame& frame, const Shown& shown);
  std::size_t draw_veil(const Shown& shown, double error_px);
  void set_patterns(const GlProgram& program, double pattern_m);
  void draw_lines(const ViewFrame& frame, const Shown& shown, double error_px);
  void draw_layer(const Shown& shown, const LineStyle& style, LinePart part, double scale);

  GlProgram veil_program_, line_program_;
  GlTexture patterns_ = make_patterns();
  std::array<GlProgram, 32> surface_programs_;  // by what is compiled in; made when first needed
};

void GlRenderer::clear() {
  glDisable(GL_SCISSOR_TEST);
  glDepthMask(GL_TRUE);
  glClearColor(0.878f, 0.863f, 0.827f, 1);
  glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
}

DrawnFrame GlRenderer::draw(const ViewFrame& frame, std::span<const WallLook> walls) {
  std::vector<Shown> shown;
  std::vector<SeenSurface> surfaces;
  const bool flat = frame.kind == ViewKind::flat;
  for (const WallLook& look : walls) {
    const auto* wall = static_cast<const GlWall*>(look.wall);
    if (wall->levels().empty() || wall->levels().front().pieces.empty()) continue;
    const ViewSight sight(frame, wall->origin());
    shown.push_back(
        {wall, look, sight, flat ? frame.flat.clip(frame.size()) : frame.space.clip(frame.size(), wall->origin())});
    surfaces.push_back({wall->levels(), sight});
  }
  const ChosenLevels chosen = choose_levels(surfaces, frame.detail);
  DrawnFrame drawn;
  drawn.error_px = chosen.error_px;
  glEnable(GL_DEPTH_TEST);
  glDepthFunc(GL_LEQUAL);
  for (std::size_t i = 0; i < shown.size(); ++i) {
    shown[i].level = chosen.level[i];
    shown[i].fewer_lines =
        frame.detail.reduced() &&
        nearest_metre_px(surfaces[i].levels.front(), surfaces[i].sight) * GlWall::kFewerLinesM < 1.5 * kUnseenPx;
    drawn.true_surface &=
        chosen.level[i] == 0 && !shown[i].fewer_lines && !(frame.detail.reduced() && shown[i].wall->has_picture());
    drawn.triangles += draw_surface(frame, shown[i]);
  }
  if (!flat)
    for (const Shown& s : shown) drawn.triangles += draw_veil(s, std::max(chosen.error_px, kVeilPx));
  for (const Shown& s : shown) draw_lines(frame, s, chosen.error_px);
  glDepthMask(GL_TRUE);
  return drawn;
}

const GlProgram& GlRenderer::surface_program(const ViewFrame& frame, const Shown& shown) {
  const unsigned states = shown.wall->labels(shown.look.labels).states;
  const std::array<std::pair<const char*, bool>, 5> parts{{{"FLAT", frame.kind == ViewKind::flat},
                                                           {"PICTURE", shown.wall->has_picture()},
                                                           {"LABELS", states != 0},
                                                           {"PATTERNS", patterned(shown)},
                                                           {"DETAIL", shown.look.detail}}};
  std::size_t key = 0;
  std::string defines;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (!parts[i].second) continue;
    key |= std::size_t{1} << i;
    defines += std::string("#define ") + parts[i].first + "\n";
  }
  GlProgram& program = surface_programs_[key];
  if (!program) program = make_program("surface.vert", "surface.frag", defines);
  return program;
}

void set_label_looks(const GlProgram& program, float fill) {
  std::array<float, 64> looks{};
  for (std::size_t state = 1; state <= 5; ++state)
    for (const std::size_t chosen : {std::size_t{0}, std::size_t{kChosenLabel}}) {
      const Rgb c = state_look(static_cast<GiornataState>(state - 1)).fill;
      float* look = &looks[4 * (state | chosen)];
      look[0] = static_cast<float>(c.r) / 255;
      look[1] = static_cast<float>(c.g) / 255;
      look[2] = static_cast<float>(c.b) / 255;
      look[3] = chosen ? std::min(fill + 0.2f, 0.85f) : fill;
    }
  glUniform4fv(uniform(program, "label_looks"), 16, looks.data());
}

void set_labels(const GlProgram& program, const GlWall::Labels& labels, double fill) {
  const LabelWindow& w = labels.window;
  glUniform1i(uniform(program, "labels"), 1);
  glUniform4f(uniform(program, "label_window"), static_cast<float>(w.low.x), static_cast<float>(w.low.y),
              static_cast<float>(1 / w.size.x), static_cast<float>(1 / w.size.y));
  set_label_looks(program, static_cast<float>(fill));
  glActiveTexture(GL_TEXTURE1);
  glBindTexture(GL_TEXTURE_2D, labels.texture.get());
}

void set_picture(const GlProgram& program, const GlWall& wall, bool quick) {
  const auto& map = wall.picture_map();
  glUniform1i(uniform(program, "picture"), 0);
  glUniform4f(uniform(program, "picture_from_chart"), map[0], map[1], map[2], map[3]);
  glActiveTexture(GL_TEXTURE0);
  wall.bind_picture(quick);
}

void set_detail(const GlProgram& program, const GlWall::Detail& detail) {
  const LabelWindow& w = detail.window;
  glUniform1i(uniform(program, "detail"), 3);
  glUniform4f(uniform(program, "detail_window"), static_cast<float>(w.low.x), static_cast<float>(w.low.y),
              static_cast<float>(1 / w.size.x), static_cast<float>(1 / w.size.y));
  glActiveTexture(GL_TEXTURE3);
  glBindTexture(GL_TEXTURE_2D, detail.texture.get());
}

// Lines of sight by gl_FragCoord, which counts from the lower left of the framebuffer.
void set_rays(const GlProgram& program, const ViewFrame& frame) {
  const ViewSize size = frame.size();
  const OrbitCamera& c = frame.space;
  const double focal = c.metre_px(c.eye + c.forward(), size);
  set_vec3(uniform(program, "ray_corner"),
           c.forward() - c.right() * (0.5 * size.width / focal) - c.up() * (0.5 * size.height / focal));
  set_vec3(uniform(program, "ray_per_x"), c.right() / focal);
  set_vec3(uniform(program, "ray_per_y"), c.up() / focal);
}

void GlRenderer::set_patterns(const GlProgram& program, double pattern_m) {
  std::array<float, 48> which{};
  for (const std::size_t chosen : {std::size_t{0}, std::size_t{kChosenLabel}}) {
    which[3 * (2 | chosen)] = 1;      // ready: dots
    which[3 * (4 | chosen) + 1] = 1;  // done: fine hatch
    which[3 * (5 | chosen) + 2] = 1;  // to redo: cross-hatch
  }
  glUniform3fv(uniform(program, "label_pattern"), 16, which.data());
  glUniform1f(uniform(program, "pattern_per_m"), static_cast<float>(1 / pattern_m));
  glUniform1i(uniform(program, "patterns"), 2);
  glActiveTexture(GL_TEXTURE2);
  glBindTexture(GL_TEXTURE_2D, patterns_.get());
}

std::size_t GlRenderer::draw_surface(const ViewFrame& frame, const Shown& s) {
  const GlProgram& p = surface_program(frame, s);
  glUseProgram(p.get());
  glUniformMatrix4fv(uniform(p, "clip_from_place"), 1, GL_FALSE, glm::value_ptr(s.clip));
  glUniform1f(uniform(p, "quiet"), static_cast<float>(s.look.quiet));
  if (patterned(s)) set_patterns(p, s.look.pattern_m);
  if (const auto& labels = s.wall->labels(s.look.labels); labels.states != 0) set_labels(p, labels, frame.fill);
  if (s.wall->has_picture()) set_picture(p, *s.wall, frame.detail.reduced());
  if (s.look.detail) set_detail(p, s.wall->detail(frame.kind));
  if (frame.kind == ViewKind::space) set_rays(p, frame);
  glActiveTexture(GL_TEXTURE0);
  glDisable(GL_BLEND);
  glDepthMask(GL_TRUE);
  glEnable(GL_CULL_FACE);
  glCullFace(GL_BACK);
  return s.wall->draw_pieces(s.level, [&](const SurfacePiece& piece) {
    return s.sight.in_view(piece) && s.sight.side(piece) != ViewSight::Side::back;
  });
}

std::size_t GlRenderer::draw_veil(const Shown& s, double error_px) {
  glUseProgram(veil_program_.get());
  glUniformMatrix4fv(uniform(veil_program_, "clip_from_place"), 1, GL_FALSE, glm::value_ptr(s.clip));
  glEnable(GL_CULL_FACE);
  glCullFace(GL_FRONT);
  glEnable(GL_BLEND);
  glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
  glDepthMask(GL_FALSE);
  const SeenSurface seen{s.wall->levels(), s.sight};
  const std::size_t level = std::max(s.level, choose_levels(std::span(&seen, 1), {.error_px = error_px}).level[0]);
  return s.wall->draw_pieces(level, [&](const SurfacePiece& piece) {
    return s.sight.in_view(piece) && s.sight.side(piece) != ViewSight::Side::painted;
  });
}

void GlRenderer::draw_lines(const ViewFrame& frame, const Shown& s, double error_px) {
  const GlProgram& p = line_program_;
  glUseProgram(p.get());
  glUniformMatrix4fv(uniform(p, "clip_from_place"), 1, GL_FALSE, glm::value_ptr(s.clip));
  glUniform1i(uniform(p, "flat_view"), frame.kind == ViewKind::flat);
  glUniform2f(uniform(p, "viewport"), static_cast<float>(frame.width), static_cast<float>(frame.height));
  set_vec3(uniform(p, "eye"), s.sight.eye());
  // Before the surface by a share of the distance that covers what the surface may be off.
  const double focal = frame.space.metre_px(frame.space.eye + frame.space.forward(), frame.size());
  const double share = std::max(0.004, 2.5 * error_px / focal);
  glUniform1f(uniform(p, "toward_eye"), static_cast<float>(2 * frame.space.near * share));
  glDisable(GL_CULL_FACE);
  glEnable(GL_BLEND);
  glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
  glDepthMask(GL_FALSE);
  for (const LineStyle& style : kStyles) {
    if (!s.wall->has_lines(style.layer)) continue;
    if (frame.detail.reduced()) {
      draw_layer(s, style, LinePart::together, frame.scale);
    } else {
      draw_layer(s, style, LinePart::casing, frame.scale);
      draw_layer(s, style, LinePart::core, frame.scale);
    }
  }
}

void GlRenderer::draw_layer(const Shown& s, const LineStyle& style, LinePart part, double scale) {
  const GlProgram& p = line_program_;
  const auto set_tint = [&](const char* name, Rgb c) {
    glUniform4f(uniform(p, name), static_cast<float>(c.r) / 255, static_cast<float>(c.g) / 255,
                static_cast<float>(c.b) / 255, static_cast<float>(1 - s.look.quiet));
  };
  const auto px = static_cast<float>(scale);
  const bool casing = part == LinePart::casing;
  set_tint("tint", casing ? style.casing : style.core);
  set_tint("casing", part == LinePart::together ? style.casing : style.core);
  glUniform1f(uniform(p, "half_width"), (casing ? style.casing_px : style.core_px) * px);
  glUniform1f(uniform(p, "casing_width"), part == LinePart::together ? style.casing_px * px : -1);
  glUniform1f(uniform(p, "dash_m"), casing ? 0 : style.dash_m);
  s.wall->draw_lines(style.layer, s.fewer_lines);
}

}  // namespace

std::unique_ptr<Renderer> make_gl_renderer() { return std::make_unique<GlRenderer>(); }

double pattern_spacing(double metre_px, double scale) {
  return std::exp2(std::round(std::log2(11 * scale / std::max(metre_px, 1e-6))));
}

}  // namespace pontata
