#include "engine/document/seam_edits.h"

namespace pontata {

namespace {
Problem not_yet() { return {"this edit cannot be made yet", "", ""}; }
}  // namespace

Result<BiteEdited> draw_over(const Document&, WallId, const std::vector<ChartPoint>&, bool, const BiteChoice&,
                             Progress*) {
  return not_yet();
}
Result<BiteEdited> commit_over(const Document&, WallId, const HuggedLine&, const BiteChoice&) { return not_yet(); }

}  // namespace pontata
