#include <fmt/format.h>

#include <filesystem>

#include "editor/verbs/control_points_file.h"
#include "editor/verbs/line_output.h"
#include "editor/verbs/picture_arguments.h"
#include "editor/verbs/picture_report.h"
#include "engine/cartoon/squared_picture.h"
#include "engine/cartoon/stretch_map.h"

namespace pontata {

namespace {

// The steps of one asking, made one after the other and saved together.
struct PictureJob : PictureEdited {
  std::vector<int> lines;  // of the points' file
  std::string removed;     // the name of what was taken away
};

struct AskedLaying {
  Laying laying;
  std::vector<int> lines;
};

// What is not asked stays as the picture lies now.
BySize present_size(const WallItem& item, const PlacedPicture* there) {
  BySize size;
  const auto* frame = there ? std::get_if<PictureFrame>(&there->lay) : nullptr;
  if (!frame) return size;
  size.at = frame->at;
  size.turn_deg = frame->turn_deg;
  size.width_m = surface_width(*item.wall, frame->at, frame->width);
  return size;
}

Result<AskedLaying> asked_size(const PictureArguments& a, const WallItem& item, const PlacedPicture* there) {
  BySize size = present_size(item, there);
  if (a.at) size.at = *a.at;
  if (a.width) size.width_m = *a.width;
  if (a.turn) size.turn_deg = *a.turn;
  if (a.lay)
    size.lay = *a.lay == "plan" ? BySize::Lay::plan : *a.lay == "elevation" ? BySize::Lay::elevation : size.lay;
  for (const auto& text : a.align) {
    const auto align = parse_align(text, item);
    if (!align) return align.problem();
    size.also.push_back(*align);
  }
  size.fit_rest = a.fit_rest;
  return AskedLaying{size, {}};
}

Result<AskedLaying> asked_points(const PictureArguments& a, const WallItem& item, const PlacedPicture* there) {
  ByPoints by;
  std::vector<int> lines;
  if (a.points) {
    auto file = read_control_points(*a.points, *item.wall);
    if (!file) return file.problem();
    by.points = std::move(file->points);
    lines = std::move(file->lines);
  } else {
    if (!there || there->points.empty())
      return Problem{"it was not set by points", there ? "picture " + there->name : *a.picture, "Give --points FILE."};
    by.points = there->points;
    by.options = there->fit;
  }
  if (a.fit)
    by.options.kind = *a.fit == "camera"       ? FitKind::camera
                      : *a.fit == "homography" ? FitKind::homography
                                               : FitKind::similarity;
  if (a.thin_plate) by.options.thin_plate = true;
  if (a.pose) by.options.pose = static_cast<int>(*a.pose) - 1;
  if (a.focal) by.options.focal_px = *a.focal;
  return AskedLaying{std::move(by), std::move(lines)};
}

Result<AskedLaying> asked_laying(const PictureArguments& a, const WallItem& item, const PlacedPicture* there) {
  if (!a.fits().empty()) return asked_points(a, item, there);
  if (a.eyes().empty()) return asked_size(a, item, there);
  FromEye from;
  from.eye = *a.eye;
  from.look = *a.look;
  if (a.up) from.up = *a.up;
  if (a.angle) from.angle_deg = *a.angle;
  return AskedLaying{from, {}};
}

Problem no_picture(const PictureArguments& a, const WallItem& item) {
  std::string names;
  for (const auto& picture : item.pictures) names += (names.empty() ? "" : ", ") + picture->name;
  return {"is neither a file nor a picture of wall " + item.name, *a.picture,
          names.empty() ? "Name a PNG or JPEG file." : "Name a file, or one of " + names + "."};
}

Result<PictureEdited> lay_anew(const PictureArguments& a, const Document& doc, const PlacedPicture& there,
                               const AskedLaying& asked, Progress* progress) {
  if (a.file) return change_file(doc, there.id, *a.file, progress);
  if (a.lays()) return lay_again(doc, there.id, asked.laying, progress);
  PictureEdited same;
  same.document = std::make_shared<const Document>(doc);
  same.id = there.id;
  return same;
}

Result<PictureEdited> bring_in(const PictureArguments& a, const Document& doc, const WallItem& item,
                               const AskedLaying& asked, Progress* progress) {
  std::error_code ignored;
  if (!std::filesystem::exists(*a.picture, ignored)) return no_picture(a, item);
  if (a.file || a.move || a.remove)
    return Problem{"is a file; " +
                       std::string(a.file   ? "--file"
                                   : a.move ? "--move"
                                            : "--remove") +
                       " belongs to a picture that lies there",
                   *a.picture, "Give its name."};
  const std::string called = a.name.value_or(std::filesystem::path(*a.picture).stem().string());
  const PlacedPicture* same = item.picture_named(called);
  return same ? lay_file(doc, same->id, *a.picture, asked.laying, progress)
              : add_picture(doc, item.id, *a.picture, asked.laying, called, progress);
}

// One further step on what the steps before made.
template <class E>
Outcome then(PictureJob& job, Result<E> step) {
  if (!step) return step.problem();
  job.document = step->document;
  return Done{};
}

Result<PictureChange> asked_change(const PictureArguments& a, bool may_rename) {
  PictureChange change;
  if (a.crop) change.crop = *parse_crop(*a.crop);
  if (a.fade) change.fade = *a.fade / 100;
  if (a.name && may_rename) change.name = *a.name;
  if (!a.mask) return change;
  auto mask = *a.mask == "none" ? Result<std::vector<Vec2>>(std::vector<Vec2>()) : read_mask(*a.mask);
  if (!mask) return mask.problem();
  if (*a.mask != "none" && mask->empty())
    return Problem{"it holds no corners", *a.mask, "Write lines of x_px,y_px, one corner of the outline each."};
  change.mask = std::move(*mask);
  return change;
}

int place_asked(const std::string& order, std::size_t count) {
  if (order == "bottom") return 0;
  return order == "top" ? static_cast<int>(count) - 1 : std::stoi(order) - 1;
}

Outcome change_rest(const PictureArguments& a, PictureJob& job, bool was_there) {
  auto change = asked_change(a, was_there);
  if (!change) return change.problem();
  Outcome good = Done{};
  if (change->crop || change->mask || change->fade || change->name) {
    auto changed = change_picture(*job.document, job.id, *change);
    good = then(job, a.mask && *a.mask != "none" ? named(std::move(changed), *a.mask) : std::move(changed));
  }
  if (good && a.order) {
    const std::size_t count = picture_on_wall(*job.document, job.id).wall->pictures.size();
    good = then(job, order_picture(*job.document, job.id, place_asked(*a.order, count)));
  }
  if (good && a.move) good = then(job, shift_picture(*job.document, job.id, a.move->u, a.move->v));
  return good;
}

Result<PictureJob> change(const PictureArguments& a, const Document& doc, Progress* progress) {
  const auto wall = find_wall(doc, a.wall);
  if (!wall) return wall.problem();
  const WallItem& item = *doc.wall(*wall);
  const PlacedPicture* there = item.picture_named(*a.picture);
  PictureJob job;
  if (there && a.remove) {
    auto removed = remove_picture(doc, there->id);
    if (!removed) return removed.problem();
    static_cast<Edited&>(job) = *removed;
    job.removed = there->name;
    return job;
  }
  auto asked = asked_laying(a, item, there);
  if (!asked) return asked.problem();
  auto laid = there ? lay_anew(a, doc, *there, *asked, progress) : bring_in(a, doc, item, *asked, progress);
  if (!laid) return a.points ? named(std::move(laid), *a.points).problem() : laid.problem();
  static_cast<PictureEdited&>(job) = std::move(*laid);
  job.lines = std::move(asked->lines);
  if (const auto good = change_rest(a, job, there != nullptr); !good) return good.problem();
  return job;
}

void tell(const PictureArguments& a, const PictureJob& job) {
  if (!job.removed.empty()) {
    print(a.json ? to_text({{"wall", a.wall}, {"removed", job.removed}})
                 : job.removed + " taken away from " + a.wall + "\n");
    return;
  }
  const auto found = picture_on_wall(*job.document, job.id);
  std::optional<PictureFit> fit;
  if (job.fit) fit = PictureFit{*job.fit, job.lines};
  print(a.json ? to_text(picture_json(*found.wall, *found.picture, fit))
               : picture_text(*found.wall, *found.picture, fit));
}

std::optional<PictureFit> fit_of(const Document& doc, const PlacedPicture& picture) {
  auto report = fit_report(doc, picture.id);
  return report ? std::optional(PictureFit{std::move(*report), {}}) : std::nullopt;
}

// Writes the map asked for; nothing where none is.
Result<std::optional<StretchReport>> write_stretch(const PictureArguments& a, const Document& doc, const WallItem& item,
                                                   const PlacedPicture& picture, Progress* progress) {
  if (!a.stretch) return std::optional<StretchReport>();
  if (const auto free = may_be_written(*a.stretch, a.project, doc); !free) return free.problem();
  StretchMap map{std::filesystem::path(a.project).stem().string(),
                 item.name,
                 item.wall,
                 std::make_shared<const PlacedPicture>(picture),
                 {}};
  for (const auto& other : doc.walls)
    if (other->id != item.id) map.others.push_back(other->wall);
  auto report = write_stretch_map(map, *a.stretch, 1600, 1200, progress);
  if (!report) return report.problem();
  return std::optional(std::move(*report));
}

// Writes the picture with the wall's squares; nothing where that is not asked.
Result<std::optional<SquaredPicture>> write_squared(const PictureArguments& a, const Document& doc,
                                                    const WallItem& item, const PlacedPicture& picture,
                                                    Progress* progress) {
  if (!a.squared) return std::optional<SquaredPicture>();
  if (const auto free = may_be_written(*a.squared, a.project, doc); !free) return free.problem();
  const double step = doc.settings.squaring.step_m;
  if (!(step > 0))
    return Problem{"the wall has no squares", item.name,
                   "Give their side first: pontata set PROJECT squaring.step 0.5."};
  auto written = write_squared_picture(*item.wall, picture, step, *a.squared, progress);
  if (!written) return written.problem();
  return std::optional(std::move(*written));
}

int show_one(const PictureArguments& a, const Document& doc, const WallItem& item, const PlacedPicture& picture,
             Progress* progress) {
  const auto stretch = write_stretch(a, doc, item, picture, progress);
  if (!stretch) return fail(stretch.problem(), "");
  const auto squared = write_squared(a, doc, item, picture, progress);
  if (!squared) return fail(squared.problem(), "");
  const auto fit = fit_of(doc, picture);
  if (a.json) {
    Json json = picture_json(item, picture, fit);
    if (*stretch) json["stretch"] = stretch_json(**stretch);
    if (*squared) json["squared"] = squared_json(**squared);
    print(to_text(json));
    return kExitDone;
  }
  std::string text = picture_text(item, picture, fit);
  if (*stretch) text += stretch_text(**stretch);
  if (*squared) text += "  " + words_of((*squared)->squares) + "\n";
  print(text);
  return kExitDone;
}

// The list of the wall's pictures, or one of them; the project is not changed.
int show(const PictureArguments& a) {
  return with_project(a, [&](const Document& doc, Progress* progress) {
    const auto wall = find_wall(doc, a.wall);
    if (!wall) return fail(wall.problem(), a.project);
    const WallItem& item = *doc.wall(*wall);
    const PlacedPicture* one = a.picture ? item.picture_named(*a.picture) : nullptr;
    if (a.picture && !one) return fail(no_picture(a, item), "");
    if (one) return show_one(a, doc, item, *one, progress);
    print(a.json ? to_text(pictures_json(item)) : pictures_text(item));
    return kExitDone;
  });
}

int run(const PictureArguments& a) {
  if (const auto wrong = a.contradiction()) return wrong_usage("picture", *wrong);
  std::error_code ignored;
  const bool asks_nothing = !a.lays() && a.others().empty() && !a.remove;
  if (!a.picture || !a.files().empty() || (asks_nothing && !std::filesystem::exists(*a.picture, ignored)))
    return show(a);
  ChangeOptions options;
  options.load.without_pictures = true;
  return change_project<PictureJob>(
      a, [&](const Document& doc, Progress* progress) { return change(a, doc, progress); },
      [&](const PictureJob& job) { tell(a, job); }, options);
}

}  // namespace

VerbTask picture_verb(Usage& usage) {
  const auto a = std::make_shared<PictureArguments>();
  a->declare(usage);
  return [a] { return run(*a); };
}

}  // namespace pontata
