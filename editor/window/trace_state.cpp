#include "editor/window/trace_state.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "editor/stages/stage.h"

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
  return {{"id", g->id.value}, {"number", g->number}, {"name", g->name}, {"area_m2", m->area_m2}};
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
  j["contours"] = session.contours() != nullptr;
  j["walls"] = doc.walls.size();
  j["giornate"] = alive;
  j["wall"] = item ? item->name : "";
  j["chosen"] = chosen(bench);
  j["views"] = {{"space", rect(bench.views->pane(ViewKind::space))}, {"flat", rect(bench.views->pane(ViewKind::flat))}};
  j["flat_map"] = {{"u", rounded(flat.centre.x)}, {"v", rounded(flat.centre.y)}, {"px_per_m", flat.metre_px}};
  j["hover"] = bench.hover ? Json{{"u", rounded(bench.hover->chart.u)},
                                  {"v", rounded(bench.hover->chart.v)},
                                  {"z", rounded(bench.hover->place.z)},
                                  {"wall", name_of(doc, bench.hover->wall)}}
                           : Json();
  j["controls"] = bench.controls;
  j["dialog"] = dialog(bench);
  j["work"] = work ? work->title : "";
  j["status"] = session.status();
  j["error"] = session.status_is_error();
  std::string text = j.dump(-1, ' ', false, Json::error_handler_t::replace);
  return text.substr(1, text.size() - 2);
}

}  // namespace pontata
