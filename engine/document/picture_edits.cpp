#include "engine/document/picture_edits.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "engine/document/edit_parts.h"
#include "engine/document/picture_lay.h"
#include "engine/document/picture_parts.h"

namespace pontata {

namespace {

Result<PictureOnWall> found_picture(const Document& doc, PictureId id) {
  const PictureOnWall found = picture_on_wall(doc, id);
  if (found.wall) return found;
  return Problem{fmt::format("there is no picture with the id {}", id.value), "", "Choose a picture of this project."};
}

PictureEdited edited(std::shared_ptr<const Document> document, PictureId id, std::string did) {
  PictureEdited out;
  out.document = std::move(document);
  out.did = std::move(did);
  out.id = id;
  return out;
}

// The document with `picture` in place of the one of its id.
PictureEdited with_picture(const Document& doc, const WallItem& item, PlacedRef picture, std::string did) {
  auto changed = std::make_shared<WallItem>(item);
  const PictureId id = picture->id;
  for (auto& one : changed->pictures)
    if (one->id == id) one = picture;
  return edited(with_wall(doc, std::move(changed)), id, std::move(did));
}

std::string name_of_file(const WallItem& item, const std::string& path) {
  const std::string stem = std::filesystem::path(path).stem().string();
  std::string name = stem;
  for (int number = 2; item.picture_named(name); ++number) name = fmt::format("{} {}", stem, number);
  return name;
}

// Lays the picture; the report of a fit by points is handed on.
Result<std::optional<FitReport>> lay_picture(const Document& doc, const WallItem& item, PlacedPicture& picture,
                                             const Laying& laying) {
  auto laid = laid_by(doc, item, picture, laying);
  if (!laid) return laid.problem();
  picture.lay = laid->lay;
  picture.plate = std::move(laid->plate);
  picture.points = std::move(laid->points);
  picture.fit = laid->options;
  if (const auto good = check_lay(picture); !good) return good.problem();
  return std::move(laid->report);
}

PlacedPicture taken_in(const PictureFileRead& file) {
  PlacedPicture picture;
  picture.path = file.path;
  picture.sha256 = file.sha256;
  picture.size = file.pixels->size();
  picture.pixels = file.pixels;
  return picture;
}

std::string change_words(const PlacedPicture& was, const PictureChange& change) {
  const int count =
      change.name.has_value() + change.fade.has_value() + change.crop.has_value() + change.mask.has_value();
  const std::string of = " of picture " + was.name;
  if (count != 1) return "Picture " + was.name + " changed";
  return (change.name ? "Name" : change.fade ? "Fade" : change.crop ? "Crop" : "Mask") + of;
}

Outcome check_change(const WallItem& item, const PlacedPicture& was, const PictureChange& change) {
  Outcome good = Done{};
  if (change.name) good = check_picture_name(item, was.id, *change.name);
  if (good && change.fade) good = check_fade(*change.fade);
  if (good && change.crop && *change.crop) good = check_crop(was.size, **change.crop);
  if (good && change.mask) good = check_mask(was.size, *change.mask);
  return good;
}

}  // namespace

Result<PictureEdited> add_picture(const Document& doc, WallId wall, const std::string& path, const Laying& laying,
                                  const std::string& name, Progress* progress) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  const std::string called = name.empty() ? name_of_file(**item, path) : name;
  const PictureId id{doc.next_picture};
  if (const auto good = check_picture_name(**item, id, called); !good) return good.problem();
  const auto file = read_picture_file(doc, path, progress);
  if (!file) return file.problem();
  auto picture = std::make_shared<PlacedPicture>(taken_in(*file));
  picture->id = id;
  picture->name = called;
  auto fit = lay_picture(doc, **item, *picture, laying);
  if (!fit) return fit.problem();
  auto changed = std::make_shared<WallItem>(**item);
  changed->pictures.push_back(picture);
  auto next = with_wall(doc, std::move(changed));
  ++next->next_picture;
  auto out = edited(std::move(next), id, "Picture " + called + " on " + (*item)->name);
  out.fit = std::move(*fit);
  return out;
}

Result<Edited> drape_picture(const Document& doc, WallId wall, const std::string& path, ChartPoint at, double width_m,
                             double turn_deg, const std::string& name, Progress* progress) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  BySize laying;
  laying.at = at;
  laying.width_m = width_m;
  laying.turn_deg = turn_deg;
  const std::string called = name.empty() ? std::filesystem::path(path).stem().string() : name;
  const PlacedPicture* there = (*item)->picture_named(called);
  auto out =
      there ? lay_file(doc, there->id, path, laying, progress) : add_picture(doc, wall, path, laying, called, progress);
  if (!out) return out.problem();
  return Edited(std::move(*out));
}

Result<PictureEdited> lay_again(const Document& doc, PictureId id, const Laying& laying, Progress*) {
  const auto found = found_picture(doc, id);
  if (!found) return found.problem();
  auto picture = std::make_shared<PlacedPicture>(*found->picture);
  auto fit = lay_picture(doc, *found->wall, *picture, laying);
  if (!fit) return fit.problem();
  auto out = with_picture(doc, *found->wall, picture, "Picture " + picture->name + " laid anew");
  out.fit = std::move(*fit);
  return out;
}

Result<PictureEdited> lay_file(const Document& doc, PictureId id, const std::string& path, const Laying& laying,
                               Progress* progress) {
  const auto found = found_picture(doc, id);
  if (!found) return found.problem();
  const auto file = read_picture_file(doc, path, progress);
  if (!file) return file.problem();
  const PlacedPicture& was = *found->picture;
  auto picture = std::make_shared<PlacedPicture>(taken_in(*file));
  picture->id = id;
  picture->name = was.name;
  picture->fade = was.fade;
  if (same_proportions(was.size, picture->size)) {
    PlacedPicture counted = was;
    count_in_pixels_of(counted, picture->size);
    picture->crop = counted.crop;
    picture->mask = std::move(counted.mask);
  }
  auto fit = lay_picture(doc, *found->wall, *picture, laying);
  if (!fit) return fit.problem();
  auto out = with_picture(doc, *found->wall, picture, "Picture " + was.name + " laid anew");
  out.fit = std::move(*fit);
  return out;
}

Result<PictureEdited> change_file(const Document& doc, PictureId id, const std::string& path, Progress* progress) {
  const auto found = found_picture(doc, id);
  if (!found) return found.problem();
  const auto file = read_picture_file(doc, path, progress);
  if (!file) return file.problem();
  const PictureSize size = file->pixels->size(), was = found->picture->size;
  if (!same_proportions(was, size))
    return Problem{fmt::format("{} × {} pixels have other proportions than the {} × {} that were laid", size.width,
                               size.height, was.width, was.height),
                   path, "Lay it anew as a picture of its own."};
  auto picture = std::make_shared<PlacedPicture>(*found->picture);
  count_in_pixels_of(*picture, size);
  picture->path = file->path;
  picture->sha256 = file->sha256;
  picture->pixels = file->pixels;
  return with_picture(doc, *found->wall, picture, "File of picture " + picture->name);
}

Result<PictureEdited> shift_picture(const Document& doc, PictureId id, double du, double dv) {
  const auto found = found_picture(doc, id);
  if (!found) return found.problem();
  auto picture = std::make_shared<PlacedPicture>(*found->picture);
  const auto moved = shifted(*found->wall, *picture, {du, dv});
  if (!moved) return moved.problem();
  picture->lay = *moved;
  return with_picture(doc, *found->wall, picture, "Picture " + picture->name + " moved");
}

Result<PictureEdited> change_picture(const Document& doc, PictureId id, const PictureChange& change) {
  const auto found = found_picture(doc, id);
  if (!found) return found.problem();
  const PlacedPicture& was = *found->picture;
  if (const auto good = check_change(*found->wall, was, change); !good) return good.problem();
  auto picture = std::make_shared<PlacedPicture>(was);
  if (change.name) picture->name = *change.name;
  if (change.fade) picture->fade = *change.fade;
  if (change.crop) picture->crop = *change.crop;
  if (change.mask) picture->mask = *change.mask;
  return with_picture(doc, *found->wall, picture, change_words(was, change));
}

Result<PictureEdited> order_picture(const Document& doc, PictureId id, int place) {
  const auto found = found_picture(doc, id);
  if (!found) return found.problem();
  const int count = static_cast<int>(found->wall->pictures.size());
  if (place < 0 || place >= count)
    return Problem{fmt::format("there is no place {} in the order of {} pictures", place, count), found->wall->name,
                   "0 is the lowest."};
  auto changed = std::make_shared<WallItem>(*found->wall);
  auto& pictures = changed->pictures;
  std::erase(pictures, found->picture);
  pictures.insert(pictures.begin() + place, found->picture);
  return edited(with_wall(doc, std::move(changed)), id, "Order of picture " + found->picture->name);
}

Result<Edited> remove_picture(const Document& doc, PictureId id) {
  const auto found = found_picture(doc, id);
  if (!found) return found.problem();
  auto changed = std::make_shared<WallItem>(*found->wall);
  std::erase(changed->pictures, found->picture);
  return Edited{with_wall(doc, std::move(changed)), "Picture " + found->picture->name + " taken away"};
}

std::optional<FitReport> fit_report(const Document& doc, PictureId id) {
  const auto found = picture_on_wall(doc, id);
  if (!found.wall || found.picture->points.empty()) return std::nullopt;
  auto fitted = fit_picture(*found.wall->wall, found.picture->size, found.picture->points, found.picture->fit);
  return fitted ? std::optional(std::move(fitted->report)) : std::nullopt;
}

PictureOnWall picture_on_wall(const Document& doc, PictureId id) {
  for (const auto& wall : doc.walls)
    for (const auto& picture : wall->pictures)
      if (picture->id == id) return {wall.get(), picture};
  return {};
}

}  // namespace pontata
