#include "editor/verbs/layout_report.h"

namespace pontata {

Json figures_json(const LayoutFigures& f) {
  Json json = {{"giornate", f.giornate},
               {"over_hours", f.over_hours},
               {"disconnected", f.disconnected},
               {"on_contour", f.contours.on_contour()},
               {"seam_m", f.contours.seam_m},
               {"where_contours", f.contours.where_contours()},
               {"days", f.days ? Json(*f.days) : Json()},
               {"hours", f.hours},
               {"fullest_h", f.fullest_h},
               {"emptiest_h", f.emptiest_h},
               {"thin", f.thin},
               {"decide", f.decide},
               {"warn", f.warn},
               {"note", f.note},
               {"worst", f.worst ? Json(f.worst->says) : Json()}};
  return json;
}

void add_figures_columns(Table& table) {
  for (const auto& [key, title] : {std::pair{"giornate", "giornate"},
                                   {"days", "days"},
                                   {"seam_m", "seam m"},
                                   {"on_contour", "on contours %"},
                                   {"over_hours", "over hours"},
                                   {"fullest_h", "fullest h"},
                                   {"emptiest_h", "emptiest h"},
                                   {"disconnected", "in pieces"},
                                   {"thin", "thin"},
                                   {"decide", "decide first"},
                                   {"warn", "warnings"}})
    table.columns.push_back({key, title});
  table.columns.push_back({"worst", "worst", false});
}

std::vector<Cell> figures_cells(const LayoutFigures& f) {
  const auto whole = [](std::size_t n) { return cell(static_cast<int>(n)); };
  return {whole(f.giornate),
          f.days ? cell(*f.days) : cell(std::string("-")),
          cell(f.contours.seam_m, 1),
          cell(100 * f.contours.on_contour(), 0),
          whole(f.over_hours),
          cell(f.fullest_h, 1),
          cell(f.emptiest_h, 1),
          whole(f.disconnected),
          whole(f.thin),
          whole(f.decide),
          whole(f.warn),
          cell(f.worst ? f.worst->says : std::string())};
}

}  // namespace pontata
