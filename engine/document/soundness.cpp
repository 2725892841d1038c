#include "engine/document/soundness.h"

#include <fmt/format.h>

#include <cmath>
#include <set>

#include "engine/base/units.h"
#include "engine/document/job_checks.h"
#include "engine/document/picture_lay.h"
#include "engine/document/picture_parts.h"
#include "engine/seams/cut_contacts.h"

namespace pontata {

namespace {

const char* const kRemedy = "Take a copy from before and report this.";

std::string face_name(const Document& doc, const WallItem& item, const NetworkFace& face) {
  const Giornata* g = doc.giornata(face.owner);
  return g ? fmt::format("{}: giornata {}", item.name, label_of(*g)) : item.name + ": unassigned part";
}

void check_faces(const Document& doc, const WallItem& item, std::vector<Problem>& faults, Progress* progress) {
  const auto faces = item.network.faces();
  for (std::size_t i = 0; i < faces.size(); ++i) {
    report(progress, static_cast<double>(i) / static_cast<double>(faces.size()), "measuring again");
    if (is_cancelled(progress)) return;
    const double summed = static_cast<double>(item.network.sums(faces[i]).area) * kAreaUnit;
    const double clipped = area_by_clipping(*item.wall, item.network.rings(faces[i]));
    if (std::abs(summed - clipped) <= sum_tolerance(*item.wall, item.network, faces[i])) continue;
    faults.push_back({fmt::format("its seams sum to {} m2, measured again it has {} m2", format_number(summed),
                                  format_number(clipped)),
                      face_name(doc, item, item.network.face(faces[i])), kRemedy});
  }
}

// A giornata's faces hang together, across cuts of the chart.
void check_connected(const Document& doc, const WallItem& item, std::vector<Problem>& faults) {
  const auto contacts = cut_contacts(item.network, *item.wall->chart);
  for (const auto& g : doc.giornate) {
    if (!g.alive || g.wall != item.id) continue;
    const auto faces = item.network.faces_of(g.id);
    if (faces.size() < 2 || joined_across(item.network, faces, contacts).size() == 1) continue;
    faults.push_back(
        {"lies in several places that do not touch", fmt::format("{}: giornata {}", item.name, label_of(g)), kRemedy});
  }
}

void add_fault(const Outcome& good, const std::string& where, std::vector<Problem>& faults) {
  if (good) return;
  Problem fault = good.problem();
  fault.where = where;
  faults.push_back(std::move(fault));
}

void check_wall_pictures(const Document& doc, const WallItem& item, std::set<PictureId>& ids,
                         std::vector<Problem>& faults) {
  for (const auto& picture : item.pictures) {
    const std::string where = item.name + ": picture " + picture->name;
    if (!ids.insert(picture->id).second || picture->id.value >= doc.next_picture)
      faults.push_back({"its id is not its own", where, kRemedy});
    add_fault(check_picture_name(item, picture->id, picture->name), where, faults);
    if (picture->crop) add_fault(check_crop(picture->size, *picture->crop), where, faults);
    add_fault(check_mask(picture->size, picture->mask), where, faults);
    add_fault(check_fade(picture->fade), where, faults);
    const auto lay = check_lay(*picture);
    add_fault(lay, where, faults);
    if (lay && !lies_on_wall(*item.wall, *picture))
      faults.push_back({"no part of it falls on the wall", where, "Lay it anew, or take it away."});
  }
}

void check_records(const Document& doc, std::vector<Problem>& faults) {
  std::set<std::string> labels;
  for (const auto& g : doc.giornate) {
    if (!g.alive) continue;
    const WallItem* item = doc.wall(g.wall);
    const std::string name = "giornata " + label_of(g);
    if (!item || item->network.faces_of(g.id).empty())
      faults.push_back({"is listed but lies on no wall", name, kRemedy});
    if (!labels.insert(label_of(g)).second) faults.push_back({"its number is borne twice", name, kRemedy});
  }
}

}  // namespace

std::vector<Problem> document_faults(const Document& doc, Flow& flow, Progress* progress) {
  std::vector<Problem> faults;
  std::set<PictureId> pictures;
  for (const auto& item : doc.walls) {
    for (auto& fault : item->network.check()) {
      fault.where = fault.where.empty() ? item->name : item->name + ": " + fault.where;
      faults.push_back(std::move(fault));
    }
    const double residual = flow.figures(doc, item->id)->measure.residual_m2;
    if (residual != 0)
      faults.push_back({fmt::format("giornate and rest differ from the wall by {} m2", format_number(residual)),
                        item->name, kRemedy});
    check_faces(doc, *item, faults, progress);
    check_connected(doc, *item, faults);
    check_wall_pictures(doc, *item, pictures, faults);
  }
  check_records(doc, faults);
  for (auto& fault : job_faults(doc)) {
    fault.remedy = kRemedy;
    faults.push_back(std::move(fault));
  }
  return faults;
}

}  // namespace pontata
