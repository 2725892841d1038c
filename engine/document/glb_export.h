// The walls with one named primitive per giornata, as binary glTF 2.0 through tinygltf.
#pragma once

#include <string>
#include <vector>

#include "engine/base/progress.h"
#include "engine/document/document.h"

namespace pontata {

struct GlbExport {
  std::string bytes;
  std::vector<std::string> names;  // of the primitives, in order: "vault: giornata 3 Angel", "vault: rest"
  std::size_t triangles = 0;
};

// Metres, Y up as glTF wants it, triangles facing the painter, the draped picture as texture. Each giornata is a node
// and a mesh of one primitive, all three bearing its name; id, number and state stand in the node's extras. Same
// document, same bytes. Refuses a document without walls.
Result<GlbExport> glb_text(const Document& doc, Progress* progress = nullptr);

}  // namespace pontata
