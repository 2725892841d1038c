#include "editor/verbs/project.h"
#include "editor/view/render_image.h"

namespace pontata {

namespace {

struct RenderArguments : ProjectArguments {
  std::string out;
  std::optional<std::string> wall, view;
  std::optional<std::pair<int, int>> size;
};

bool is_png_name(const std::string& name) {
  if (name.size() < 5) return false;
  std::string end = name.substr(name.size() - 4);
  for (char& c : end) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return end == ".png";
}

int draw(const RenderArguments& a, const Document& doc) {
  if (const auto free = may_be_written(a.out, a.project, doc); !free) return fail(free.problem(), "");
  if (a.wall)
    if (const auto wall = find_wall(doc, *a.wall); !wall) return fail(wall.problem(), a.project);
  RenderOptions options;
  options.wall = a.wall.value_or("");
  options.view = a.view.value_or(options.view);
  if (a.size) std::tie(options.width, options.height) = *a.size;
  Flow flow;
  const auto drawn = render_image(doc, flow, options, a.out);
  return drawn ? kExitDone : fail(drawn.problem(), a.out);
}

int run(const RenderArguments& a) {
  if (!is_png_name(a.out)) return wrong_usage("render", "--out must be a name that ends in .png, like wall.png");
  return with_project(a, [&](const Document& doc, Progress*) { return draw(a, doc); });
}

}  // namespace

VerbTask render_verb(Usage& usage) {
  const auto a = std::make_shared<RenderArguments>();
  a->declare(usage);
  usage.text_required(a->out, "--out", "FILE.png", "the picture");
  usage.text(a->wall, "--wall", "NAME", "only this wall (all walls)");
  usage.choice(a->view, "--view", {"3d", "flat"}, "as they stand in the building, or their charts");
  usage.size(a->size, "--size", "in pixels (1600x1200)");
  return [a] { return run(*a); };
}

}  // namespace pontata
