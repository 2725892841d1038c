#include "engine/document/seam_edits.h"

namespace pontata {

namespace {
Problem not_yet() { return {"this edit cannot be made yet", "", ""}; }
}  // namespace

Result<Edited> set_intonaco(const Document&, std::span<const GiornataId>, std::optional<double>) { return not_yet(); }
Result<Edited> set_state(const Document&, std::span<const GiornataId>, GiornataState) { return not_yet(); }
Result<Edited> set_note(const Document&, GiornataId, const std::string&) { return not_yet(); }

}  // namespace pontata
