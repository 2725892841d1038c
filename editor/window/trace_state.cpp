#include "editor/window/trace_state.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "editor/stages/stage.h"
#include "engine/document/by_size.h"

namespace pontata {
namespace {

using Json = nlohmann::ordered_json;

double rounded(double metres) { return std::round(metres * 1e6) / 1e6; }

Json rect(const Pane& p) {
  return {static_cast<int>(p.corner.x), static_cast<int>(p.corner.y), p.frame.width, p.frame.height};
}

Json chosen(Workbench& bench) {
  const Giornata* g = bench.session.document()->giornata(bench.session.chosen());
  const GiornataMeasure* m = g ? bench.session.measure(g->id) : nullptr;
  if (!m) return nullptr;
  return {{"id", g->id.value},     {"number", g->number},   {"label", label_of(*g)},
          {"name", g->name},       {"note", g->note},       {"state", std::string(state_look(g->state).word)},
          {"printed", g->printed}, {"changed", g->changed}, {"area_m2", m->area_m2}};
}

Json all_chosen(const Session& session) {
  Json ids = Json::array();
  for (const GiornataId id : session.all_chosen()) ids.push_back(id.value);
  return ids;
}

Json zones(const WallItem& item) {
  Json out = Json::array();
  for (const Zone& zone : item.zones)
    out.push_back({{"id", zone.id.value},
                   {"name", zone.name},
                   {"kind", zone.kind == ZoneKind::detail ? "detail" : "keep whole"},
                   {"rate", zone.rate_m2_per_h ? Json(*zone.rate_m2_per_h) : Json()},
                   {"points", zone.ring.size()}});
  return out;
}

const char* dialog(const Workbench& bench) {
  if (bench.browser.open()) return "files";
  switch (bench.dialog) {
    case Workbench::Dialog::unsaved:
      return "unsaved";
    case Workbench::Dialog::recover:
      return "recover";
    case Workbench::Dialog::none:
      break;
  }
  return "";
}

Json size_of(const std::optional<BySize>& size) {
  if (!size) return nullptr;
  constexpr std::array<const char*, 3> kLays{"unrolled", "plan", "elevation"};
  return {{"lay", kLays[static_cast<std::size_t>(size->lay)]},
          {"u", rounded(size->at.u)},
          {"v", rounded(size->at.v)},
          {"width_m", rounded(size->width_m)},
          {"turn", rounded(size->turn_deg)}};
}

Json pictures(const WallItem& item) {
  Json out = Json::array();
  for (const PlacedRef& p : item.pictures) {
    Json one{{"id", p->id.value}, {"name", p->name}, {"fade", p->fade}};
    one["crop"] = p->crop ? Json{p->crop->left, p->crop->top, p->crop->right, p->crop->bottom} : Json();
    one["mask"] = p->mask.size();
    one["points"] = p->points.size();
    one["by_size"] = size_of(by_size_of(*item.wall, *p));
    one["file"] = p->pixels != nullptr;
    out.push_back(one);
  }
  return out;
}

Json picture_view(const Workbench& bench) {
  const PictureView& view = *bench.picture;
  if (!view.shown()) return nullptr;
  const Region& at = view.region();
  const Vec2 middle = view.to_pixel({at.x + at.width / 2, at.y + at.height / 2});
  Json out{{"at", {at.x, at.y, at.width, at.height}},
           {"x", rounded(middle.x)},
           {"y", rounded(middle.y)},
           {"px_per_pixel", view.magnified()}};
  out["hover"] = bench.hover_pixel ? Json{rounded(bench.hover_pixel->x), rounded(bench.hover_pixel->y)} : Json();
  return out;
}

Json pairs(const Workbench& bench) {
  const Pairs& p = bench.pairs;
  Json out{{"count", p.all().size()}, {"whole", p.whole()}, {"changes", p.changes()}, {"working", p.working()}};
  out["chosen"] = p.chosen ? Json(*p.chosen + 1) : Json();
  const Result<Fitted>* fitted = p.fitted();
  out["refused"] = fitted && !*fitted ? fitted->problem().message() : "";
  if (!fitted || !*fitted) return out;
  const FitReport& report = (*fitted)->report;
  constexpr std::array<const char*, 4> kKinds{"automatic", "similarity", "homography", "camera"};
  out["likely_px"] = report.likely ? Json(report.likely->px) : Json();
  out["likely_mm"] = report.likely ? Json(report.likely->mm) : Json();
  out["kind"] = kKinds[static_cast<std::size_t>(report.kind)];
  out["worst"] = report.worst ? Json(*report.worst + 1) : Json();
  out["suspect"] = report.suspect ? Json(*report.suspect + 1) : Json();
  out["cameras"] = report.cameras.size();
  out["camera"] = report.camera + 1;
  out["says"] = in_words(report);
  return out;
}

std::string name_of(const Document& doc, WallId id) {
  const WallItem* item = doc.wall(id);
  return item ? item->name : "";
}

}  // namespace

std::string trace_state(Workbench& bench) {
  Session& session = bench.session;
  const Document& doc = *session.document();
  const History& history = session.history();
  const auto alive = std::count_if(doc.giornate.begin(), doc.giornate.end(), [](const auto& g) { return g.alive; });
  const auto item = session.wall_item();
  const FlatCamera& flat = bench.views->pane(ViewKind::flat).frame.flat;
  const auto work = bench.worker.shown();
  Json j;
  j["file"] = session.path();
  j["saved"] = !session.worth_saving();
  j["undo"] = history.can_undo() ? history.undo_name() : "";
  j["redo"] = history.can_redo() ? history.redo_name() : "";
  j["stage"] = bench.page_open ? bench.pages[static_cast<std::size_t>(bench.stage)]->name() : "";
  j["tool"] = bench.tool().name();
  j["points"] = bench.tool().points();
  j["hug"] = bench.hug_on;
  j["follows"] = bench.tool().follows(bench);
  j["contours"] = session.contours() != nullptr;
  j["walls"] = doc.walls.size();
  j["giornate"] = alive;
  j["wall"] = item ? item->name : "";
  j["chosen"] = chosen(bench);
  j["all_chosen"] = all_chosen(session);
  j["zones"] = item ? zones(*item) : Json::array();
  j["zone"] = bench.zone.value;
  j["views"] = {{"space", rect(bench.views->pane(ViewKind::space))}, {"flat", rect(bench.views->pane(ViewKind::flat))}};
  j["flat_map"] = {{"u", rounded(flat.centre.x)}, {"v", rounded(flat.centre.y)}, {"px_per_m", flat.metre_px}};
  j["hover"] = bench.hover ? Json{{"u", rounded(bench.hover->chart.u)},
                                  {"v", rounded(bench.hover->chart.v)},
                                  {"z", rounded(bench.hover->place.z)},
                                  {"wall", name_of(doc, bench.hover->wall)}}
                           : Json();
  const PlacedRef placed = session.placed();
  j["pictures"] = item ? pictures(*item) : Json::array();
  j["picture"] = placed ? placed->name : "";
  j["laying"] = size_of(bench.laying);
  j["picture_view"] = picture_view(bench);
  j["pairs"] = pairs(bench);
  j["controls"] = bench.controls;
  j["dialog"] = dialog(bench);
  j["work"] = work ? work->title : "";
  j["status"] = session.status();
  j["error"] = session.status_is_error();
  j["fault"] = session.fault() ? Json{rounded(session.fault()->u), rounded(session.fault()->v)} : Json();
  std::string text = j.dump(-1, ' ', false, Json::error_handler_t::replace);
  return text.substr(1, text.size() - 2);
}

}  // namespace pontata
