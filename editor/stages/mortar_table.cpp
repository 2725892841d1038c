#include "editor/stages/mortar_table.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "editor/stages/calendar_weeks.h"
#include "editor/window/choosing.h"
#include "editor/window/fields.h"
#include "editor/window/theme.h"

namespace pontata {
namespace {

void cells(const PlasterTotals& sum, double bucket_L) {
  const std::string buckets =
      bucket_L > 0 ? std::to_string(static_cast<long>(std::ceil(sum.mortar_L / bucket_L - 1e-9))) : "–";
  for (const std::string& cell : {shown(sum.mortar_L, 1, ""), buckets, shown(sum.putty_L, 1, ""),
                                  shown(sum.putty_kg, 1, ""), shown(sum.sand_L, 1, ""), shown(sum.sand_kg, 1, "")}) {
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(cell.c_str());
  }
}

}  // namespace

void MortarTable::make(const Document& document) {
  heaps_.clear();
  list_.clear();
  std::map<std::string, std::size_t> places;
  std::vector<std::vector<GiornataNeed>> needs;
  for (const GiornataPlan& row : *of_) {
    const Giornata* g = document.giornata(row.id);
    if (!g) continue;
    list_.push_back(row.id);
    const std::string name = by_ == By::giornata  ? label_of(*g)
                             : by_ == By::pontata ? "Pontata " + std::to_string(row.day.pontata)
                             : row.day.dated      ? "from " + format_date(monday_of(row.day.date))
                                                  : std::string("painted");
    const std::string key = by_ == By::giornata ? std::to_string(row.id.value) : name;
    const auto [place, is_new] = places.try_emplace(key, heaps_.size());
    if (is_new) heaps_.push_back({name, {}, {}, ""}), needs.emplace_back();
    heaps_[place->second].ids.push_back(row.id);
    if (row.need)
      needs[place->second].push_back(*row.need);
    else
      heaps_[place->second].refused = row.need.problem().message();
  }
  std::vector<GiornataNeed> every;
  for (std::size_t i = 0; i < heaps_.size(); ++i) {
    heaps_[i].sum = plaster_totals(needs[i]);
    every.insert(every.end(), needs[i].begin(), needs[i].end());
  }
  all_ = plaster_totals(every);
}

void MortarTable::draw(Workbench& bench, const std::shared_ptr<const std::vector<GiornataPlan>>& rows) {
  const auto choice = [&](const char* word, By by, const char* name) {
    if (ImGui::RadioButton(word, by_ == by)) by_ = by;
    control(bench, name);
  };
  choice("by giornata", By::giornata, "mortar.giornata");
  same_row("by pontata", -1, true);
  choice("by pontata", By::pontata, "mortar.pontata");
  same_row("by week", -1, true);
  choice("by week", By::week, "mortar.week");
  if (of_ != rows || made_by_ != by_) of_ = rows, made_by_ = by_, make(*bench.session.document());
  constexpr auto kFlags = ImGuiTableFlags_RowBg | ImGuiTableFlags_BordersInnerH | ImGuiTableFlags_ScrollY |
                          ImGuiTableFlags_SizingStretchProp;
  if (!ImGui::BeginTable("mortar", 7, kFlags, ImVec2(0, table_height(heaps_.size() + 2, 0.45f)))) return;
  ImGui::TableSetupScrollFreeze(0, 1);
  for (const char* column :
       {by_ == By::giornata ? "No" : "", "mortar L", "buckets", "putty L", "putty kg", "sand L", "sand kg"})
    ImGui::TableSetupColumn(column);
  ImGui::TableHeadersRow();
  ImGuiListClipper clipper;
  clipper.Begin(static_cast<int>(heaps_.size()));
  while (clipper.Step())
    for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i)
      row(bench, heaps_[static_cast<std::size_t>(i)], static_cast<std::size_t>(i));
  const double bucket_L = bench.session.document()->settings.plaster.supply.bucket_L;
  const auto sum_row = [&](const char* name, const PlasterTotals& totals) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::TextUnformatted(name);
    cells(totals, bucket_L);
  };
  if (bench.session.all_chosen().size() > 1)
    sum_row("Chosen", sums_of(bench.session, bench.session.all_chosen()).mortar);
  sum_row("All", all_);
  ImGui::EndTable();
}

void MortarTable::row(Workbench& bench, const Heap& heap, std::size_t n) {
  ImGui::TableNextRow();
  ImGui::TableNextColumn();
  const bool chosen = std::ranges::all_of(heap.ids, [&](GiornataId id) { return bench.session.is_chosen(id); });
  if (ImGui::Selectable((heap.name + "##" + std::to_string(n)).c_str(), chosen, ImGuiSelectableFlags_SpanAllColumns)) {
    if (heap.ids.size() == 1)
      choose_in_list(bench, heap.ids.front(), list_);
    else
      bench.session.choose_all(heap.ids);
  }
  control(bench, made_by_ == By::giornata ? "plaster." + std::to_string(heap.ids.front().value)
                                          : "mortar.row." + std::to_string(n));
  if (!heap.refused.empty() && ImGui::IsItemHovered()) ImGui::SetTooltip("%s", heap.refused.c_str());
  if (!heap.refused.empty() && heap.ids.size() == 1) {
    ImGui::TableNextColumn();
    return warn_text("cannot be");
  }
  cells(heap.sum, bench.session.document()->settings.plaster.supply.bucket_L);
}

}  // namespace pontata
