#include <fmt/format.h>

#include "editor/verbs/project.h"
#include "engine/base/units.h"

namespace pontata {

namespace {

struct PictureArguments : ReportArguments {
  std::string wall, file;
  std::optional<double> width, turn;
  std::optional<ChartPoint> at;
  std::optional<std::string> name;
};

void tell(const PictureArguments& a, const Edited& edited) {
  const auto& picture = *edited.document->wall_named(a.wall)->pictures.back();
  const auto& frame = std::get<PictureFrame>(picture.lay);
  if (a.json) {
    print(to_text({{"wall", a.wall},
                   {"name", picture.name},
                   {"pixels", {picture.size.width, picture.size.height}},
                   {"at", {frame.at.u, frame.at.v}},
                   {"width", frame.width},
                   {"height", frame.height},
                   {"turn_deg", frame.turn_deg}}));
    return;
  }
  print(fmt::format("{}: {} × {} pixels on {}, lower left corner at {},{}, {} × {} m of its chart\n", picture.name,
                    picture.size.width, picture.size.height, a.wall, format_fixed(frame.at.u, 3),
                    format_fixed(frame.at.v, 3), format_fixed(frame.width, 3), format_fixed(frame.height, 3)));
}

int run(const PictureArguments& a) {
  if (a.width && *a.width <= 0) return wrong_usage("picture", "--width must be more than 0");
  ChangeOptions options;
  options.load.without_pictures = true;
  return change_project<Edited>(
      a,
      [&](const Document& doc, Progress* progress) -> Result<Edited> {
        const auto wall = find_wall(doc, a.wall);
        if (!wall) return wall.problem();
        return drape_picture(doc, *wall, a.file, a.at.value_or(ChartPoint{}), a.width.value_or(0), a.turn.value_or(0),
                             a.name.value_or(""), progress);
      },
      [&](const Edited& edited) { tell(a, edited); }, options);
}

}  // namespace

VerbTask picture_verb(Usage& usage) {
  const auto a = std::make_shared<PictureArguments>();
  a->declare_json(usage);
  usage.needs(a->wall, "WALL", "the wall it is draped on");
  usage.needs(a->file, "FILE", "the picture, PNG or JPEG");
  usage.length(a->width, "--width", "its width along the surface (without it, it fills the wall's chart)");
  usage.place(a->at, "--at", "chart place of its lower left corner (0,0)");
  usage.angle(a->turn, "--turn", "turned about that corner, counter-clockwise");
  usage.text(a->name, "--name", "TEXT", "what it is called (the file's name)");
  return [a] { return run(*a); };
}

}  // namespace pontata
