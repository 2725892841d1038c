#include "editor/verbs/floor_report.h"
#include "editor/verbs/project.h"
#include "editor/view/render_image.h"
#include "engine/cartoon/heat_picture.h"
#include "engine/document/atomic_file.h"
#include "engine/document/seen_walls.h"
#include "engine/document/setting_values.h"

namespace pontata {

namespace {

struct RenderArguments : ProjectArguments {
  std::string out;
  std::optional<std::string> wall, view;
  std::optional<std::pair<int, int>> size;
  bool contours = false;
  std::optional<std::string> seams_from;  // an eye point's name, or X,Y,Z
  std::optional<Vec3> eye, look, up;
  std::optional<double> angle;
  bool from_eye() const { return view && *view == "eye"; }
};

Result<Image> with_heat(const Image& view, const Camera& camera, const Document& doc, Flow& flow, const EyePoint& eye,
                        std::string_view only, Progress* progress) {
  std::vector<HeatedWall> walls;
  for (const auto& item : doc.walls)
    if (only.empty() || item->name == only)
      walls.push_back({item->wall, heat_lines(*flow.from_floor(doc, item->id, eye, progress))});
  return with_heat_lines(view, camera, walls, eye.name.empty() ? write_place(eye.at) : eye.name);
}

// The walls as they look from one place, without any OpenGL.
Outcome draw_from_eye(const RenderArguments& a, const Document& doc, const std::optional<EyePoint>& seams_from,
                      Progress* progress) {
  const auto [width, height] = a.size.value_or(std::pair{1600, 1200});
  const auto camera =
      eye_camera(*a.eye, *a.look, a.up.value_or(Vec3{0, 0, 1}), a.angle.value_or(60), PictureSize(width, height));
  if (!camera) return camera.problem();
  Flow flow;
  const auto image =
      eye_view(seen_walls(doc, flow, a.wall.value_or("")), *camera, PictureSize(width, height), {}, progress);
  if (!image) return image.problem();
  if (seams_from) {
    if (is_cancelled(progress)) return Problem{"stopped", "", ""};
    const auto heated = with_heat(*image, *camera, doc, flow, *seams_from, a.wall.value_or(""), progress);
    if (!heated) return heated.problem();
    if (is_cancelled(progress)) return Problem{"stopped", "", ""};
    return write_file_atomically(a.out, png_text(*heated));
  }
  return write_file_atomically(a.out, png_text(*image));
}

int draw(const RenderArguments& a, const Document& doc, Progress* progress) {
  if (const auto free = may_be_written(a.out, a.project, doc); !free) return fail(free.problem(), "");
  if (a.wall)
    if (const auto wall = find_wall(doc, *a.wall); !wall) return fail(wall.problem(), a.project);
  std::optional<EyePoint> seams_from;
  if (a.seams_from) {
    auto eye = eye_of(doc, *a.seams_from);
    if (!eye) return fail(eye.problem(), a.project);
    seams_from = *eye;
  }
  if (a.from_eye()) {
    const auto drawn = draw_from_eye(a, doc, seams_from, progress);
    return drawn ? kExitDone : fail(drawn.problem(), a.project);
  }
  RenderOptions options;
  options.wall = a.wall.value_or("");
  options.view = a.view.value_or(options.view);
  options.contours = a.contours;
  options.seams_from = seams_from;
  if (a.size) std::tie(options.width, options.height) = *a.size;
  Flow flow;
  const auto drawn = render_image(doc, flow, options, a.out);
  return drawn ? kExitDone : fail(drawn.problem(), a.out);
}

int run(const RenderArguments& a) {
  if (!has_ending(a.out, ".png")) return wrong_usage("render", "--out must be a name that ends in .png, like wall.png");
  if (a.from_eye() && !(a.eye && a.look))
    return wrong_usage("render",
                       "--view eye needs --eye X,Y,Z and --look X,Y,Z: where the eye is, and what it looks at");
  if (!a.from_eye() && (a.eye || a.look || a.up || a.angle))
    return wrong_usage("render", "--eye, --look, --up and --angle go with --view eye");
  return with_project(a, [&](const Document& doc, Progress* progress) { return draw(a, doc, progress); });
}

}  // namespace

VerbTask render_verb(Usage& usage) {
  const auto a = std::make_shared<RenderArguments>();
  a->declare(usage);
  usage.text_required(a->out, "--out", "FILE.png", "the picture");
  usage.text(a->wall, "--wall", "NAME", "only this wall (all walls)");
  usage.choice(a->view, "--view", {"3d", "flat", "eye"},
               "as they stand in the building, their charts, or as they look from one place");
  usage.size(a->size, "--size", "in pixels (1600x1200)");
  usage.flag(a->contours, "--contours", "3d, flat: with the pictures' contours drawn over them");
  usage.text(a->seams_from, "--seams-from", "EYE",
             "also how much the seams show from this eye point: its name, or X,Y,Z");
  usage.place3(a->eye, "--eye", "eye: where it is, in the building");
  usage.place3(a->look, "--look", "eye: what it looks at");
  usage.place3(a->up, "--up", "eye: upward in the picture (0,0,1)");
  usage.angle(a->angle, "--angle", "eye: across the picture's width (60)");
  return [a] { return run(*a); };
}

}  // namespace pontata
