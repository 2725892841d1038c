#include "editor/window/session.h"

#include <algorithm>
#include <ctime>
#include <filesystem>

#include "engine/document/edit_parts.h"
#include "engine/document/meeting_names.h"
#include "engine/document/numbering.h"
#include "engine/seams/place_name.h"

namespace pontata {
namespace {

std::string clock_time() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  localtime_r(&now, &local);
  char text[8];
  std::strftime(text, sizeof text, "%H:%M", &local);
  return text;
}

}  // namespace

Session::Session() : history_(std::make_shared<const Document>()) { history_.mark_saved(); }

std::string Session::title() const {
  return path_.empty() ? "New project" : std::filesystem::path(path_).filename().string();
}

void Session::open(DocumentRef document, std::string path, bool recovered) {
  history_ = History(std::move(document));
  if (!recovered) history_.mark_saved();
  recovered_ = recovered;
  path_ = std::move(path);
  saved_time_.clear();
  review.reset();
  cartoon_of.reset();
  wall_ = {};
  picture_ = {};
  chosen_ = {};
  keep_choice_valid();
}

bool Session::apply(Result<Edited> edit) {
  if (!edit) {
    complain(edit.problem());
    return false;
  }
  pontata::number_in_order(*document(), *edit, flow_);
  say(edit->did);
  history_.push(std::move(*edit));
  keep_choice_valid();
  return true;
}

void Session::number_in_order() {
  DocumentRef numbered = numbered_in_order(document(), flow_);
  if (numbered != document()) history_.push({std::move(numbered), "Numbers in working order"});
}

void Session::complain(const Problem& problem) {
  status_ = problem.message();
  fault_ = named_place(problem.where);
  is_error_ = true;
}

void Session::undo() {
  if (!history_.can_undo()) return say("Nothing to undo");
  say("Undone: " + history_.undo_name());
  history_.undo();
  keep_choice_valid();
}
void Session::redo() {
  if (!history_.can_redo()) return say("Nothing to redo");
  say("Done again: " + history_.redo_name());
  history_.redo();
  keep_choice_valid();
}

bool Session::save(const std::string& path) {
  const Outcome outcome = save_project(*document(), path);
  if (!outcome) {
    complain(outcome.problem());
    return false;
  }
  path_ = path;
  recovered_ = false;
  history_.mark_saved();
  saved_time_ = clock_time();
  say("Saved " + path);
  return true;
}

void Session::keep_choice_valid() {
  const Document& doc = *document();
  if (!doc.wall(wall_)) wall_ = doc.walls.empty() ? WallId{} : doc.walls.front()->id;
  std::erase_if(chosen_, [&](GiornataId id) { return !doc.giornata(id); });
  const auto last =
      std::find_if(chosen_.rbegin(), chosen_.rend(), [&](GiornataId id) { return doc.giornata(id)->wall == wall_; });
  if (last == chosen_.rend())
    chosen_.clear();
  else
    std::rotate(last.base() - 1, last.base(), chosen_.end());
  const WallItem* item = doc.wall(wall_);
  if (item && item->picture(picture_)) return;
  picture_ = item && !item->pictures.empty() ? item->pictures.back()->id : PictureId{};
}

std::shared_ptr<const WallItem> Session::wall_item() const {
  for (const auto& item : document()->walls)
    if (item->id == wall_) return item;
  return nullptr;
}
void Session::choose_wall(WallId id) {
  wall_ = id;
  keep_choice_valid();
}
PlacedRef Session::placed() const {
  const auto item = wall_item();
  if (!item) return nullptr;
  for (const PlacedRef& p : item->pictures)
    if (p->id == picture_) return p;
  return nullptr;
}
void Session::choose_picture(PictureId id) {
  picture_ = id;
  keep_choice_valid();
}
bool Session::is_chosen(GiornataId id) const { return std::find(chosen_.begin(), chosen_.end(), id) != chosen_.end(); }
void Session::choose(GiornataId id) { choose_all({&id, 1}); }
void Session::choose_more(GiornataId id) {
  std::vector<GiornataId> ids = chosen_;
  if (std::erase(ids, id) == 0) ids.push_back(id);
  choose_all(ids);
}
void Session::choose_all(std::span<const GiornataId> ids) {
  std::vector<GiornataId> chosen;
  for (const GiornataId id : ids)
    if (document()->giornata(id) && std::find(chosen.begin(), chosen.end(), id) == chosen.end()) chosen.push_back(id);
  chosen_ = std::move(chosen);
  if (!chosen_.empty()) wall_ = document()->giornata(chosen_.back())->wall;
  keep_choice_valid();
}

std::shared_ptr<const ContourField> Session::contours(WallId wall) const {
  const WallItem* item = document()->wall(wall);
  if (!item || item->pictures.empty()) return nullptr;
  const DrapeInput now = drape_input(*document(), *item);
  for (const FoundContours& f : contours_)
    if (f.of == now && f.settings == document()->settings.contours) return f.field;
  return nullptr;
}
std::shared_ptr<const ContourField> Session::last_contours(const WallRef& wall) const {
  const auto found =
      std::find_if(contours_.rbegin(), contours_.rend(), [&](const auto& f) { return f.of.wall == wall; });
  return found == contours_.rend() ? nullptr : found->field;
}
void Session::keep_contours(const DrapeInput& of, const ContourSettings& settings,
                            std::shared_ptr<const ContourField> field) {
  if (contours_.size() >= 6) contours_.erase(contours_.begin());
  contours_.push_back({of, settings, std::move(field)});
}

DrapedRef Session::draped(WallId wall) { return document()->wall(wall) ? flow_.draped(*document(), wall) : nullptr; }

std::shared_ptr<const WallFigures> Session::figures(WallId wall) {
  return document()->wall(wall) ? flow_.figures(*document(), wall) : nullptr;
}
std::shared_ptr<const std::vector<GiornataPlan>> Session::giornate() { return flow_.giornate(*document()); }
std::shared_ptr<const Plan> Session::plan() { return flow_.plan(*document()); }

std::shared_ptr<const Result<PlasterPlan>> Session::plaster() {
  if (plaster_of_ != document())
    plaster_ = std::make_shared<const Result<PlasterPlan>>(plaster_plan(*document(), flow_));
  plaster_of_ = document();
  return plaster_;
}

std::vector<std::string> Session::meets(GiornataId id) { return meeting_lines(*document(), flow_, id); }

const GiornataMeasure* Session::measure(GiornataId id) {
  const Giornata* g = document()->giornata(id);
  const auto all = g ? figures(g->wall) : nullptr;
  if (!all) return nullptr;
  const auto& list = all->measure.giornate;
  const auto found = std::find_if(list.begin(), list.end(), [&](const GiornataMeasure& m) { return m.id == id; });
  return found == list.end() ? nullptr : &*found;
}

}  // namespace pontata
