#include "editor/stages/sheet_drawing.h"

#include <optional>
#include <utility>

#include "engine/cartoon/sheet_preview.h"
#include "engine/document/cartoon_input.h"

namespace pontata {

struct SheetDrawing::State {
  DocumentRef document;  // input points into it
  CartoonOptions options;
  Flow flow{};
  CartoonInput input{};
  std::optional<SheetPreview> preview{};
  GiornataId of{};  // whose sheets the preview holds
};

SheetDrawing::SheetDrawing(DocumentRef document, const CartoonOptions& options) : state_(std::make_unique<State>()) {
  state_->document = std::move(document), state_->options = options;
}
SheetDrawing::~SheetDrawing() = default;

const CartoonOptions& SheetDrawing::options() const { return state_->options; }

Result<SheetDrawing::Plan> SheetDrawing::plan(const std::string& project, const std::vector<GiornataId>& only,
                                              bool trial, Progress& progress) {
  auto input = cartoon_input(*state_->document, state_->flow, project, only, &progress);
  if (!input) return input.problem();
  state_->input = std::move(*input);
  state_->input.trial = trial;
  const auto planned = plan_sheets(state_->input, state_->options, &progress);
  if (!planned) return planned.problem();
  Plan out{{}, planned->paper_m2, planned->roll_m};
  for (const PlannedSheets& of : planned->giornate) {
    int index = 0;
    for (const Tiling& tiling : of.tilings)
      for (std::size_t n = 0; n < tiling.tiles.size(); ++n)
        out.sheets.push_back({of.id, label_of(of), index++, of.sheets, tiling.page});
  }
  return out;
}

Result<Image> SheetDrawing::draw(const Sheet& sheet, double dpi, Progress& progress) {
  if (!state_->preview || state_->of != sheet.giornata) {
    state_->preview.reset();
    auto made = SheetPreview::make(state_->input, state_->options, sheet.giornata, &progress);
    if (!made) return made.problem();
    state_->preview.emplace(std::move(*made)), state_->of = sheet.giornata;
  }
  return state_->preview->sheet(sheet.index, dpi, &progress);
}

}  // namespace pontata
