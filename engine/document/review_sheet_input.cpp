#include "engine/document/review_sheet_input.h"

#include <fmt/format.h>

#include <filesystem>

#include "engine/document/job_edits.h"
#include "engine/document/reviewed.h"

namespace pontata {

namespace {

std::vector<ReviewedPatch> patches_of(const Document& doc, Flow& flow, const WallItem& item) {
  std::vector<ReviewedPatch> patches;
  const auto figures = flow.figures(doc, item.id);
  for (const GiornataMeasure& m : figures->measure.giornate) {
    ReviewedPatch& patch = patches.emplace_back();
    patch.label = label_of(*doc.giornata(m.id));
    patch.inside = m.inside;
    for (const FaceId f : item.network.faces_of(m.id))
      for (Ring& ring : item.network.rings(f)) patch.rings.push_back(std::move(ring));
  }
  return patches;
}

ReviewedView view_of(const Document& doc, Flow& flow, const WallItem& item, const EyePoint& eye, std::size_t worst,
                     Progress* progress) {
  const auto sights = flow.from_floor(doc, item.id, eye, progress);
  ReviewedView view{eye, heat_lines(*sights), {}};
  for (WorstStretch& w : worst_stretches(*sights, worst)) {
    std::string who = parted_in_words(doc, w);
    view.worst.push_back({std::move(w), std::move(who)});
  }
  return view;
}

}  // namespace

Result<ReviewSheetInput> review_sheet_input(const Document& doc, Flow& flow, const std::string& project_path,
                                            std::size_t worst, Progress* progress) {
  ReviewSheetInput input;
  input.project = std::filesystem::path(project_path).filename().string();
  input.settings = doc.settings.review;
  for (const auto& item : doc.walls) {
    auto patches = patches_of(doc, flow, *item);
    ReviewedWall wall{item->name, item->wall, flow.draped(doc, item->id), std::move(patches), {}, {}};
    if (wall.patches.empty()) {
      input.others.push_back({item->wall, wall.draped});
      continue;
    }
    for (const Finding& f : *flow.findings(doc, item->id, progress))
      wall.findings.push_back({f, finding_code(item->id, f), giornate_in_words(doc, f.giornate)});
    for (const EyePoint& eye : doc.settings.review.eyes)
      wall.views.push_back(view_of(doc, flow, *item, eye, worst, progress));
    if (is_cancelled(progress)) return Problem{"stopped", "", ""};
    input.walls.push_back(std::move(wall));
  }
  if (input.walls.empty())
    return Problem{"there is no giornata to review", "", "Draw giornate, or have a layout proposed."};
  return input;
}

Outcome write_review_sheet(const Document& doc, Flow& flow, const std::string& project_path, std::size_t worst,
                           const std::string& pdf_path, Progress* progress) {
  const auto input = review_sheet_input(doc, flow, project_path, worst, progress);
  if (!input) return input.problem();
  const auto drawn = write_review_sheet(*input, pdf_path, progress);
  if (drawn || !drawn.problem().where.empty()) return drawn;
  return Problem{drawn.problem().what, pdf_path, drawn.problem().remedy};
}

}  // namespace pontata
