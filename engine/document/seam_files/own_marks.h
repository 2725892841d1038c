// What our own DXF files say of each polyline, as extended data of the application PONTATA. Internal to
// engine/document/seam_files.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/document/seam_files/dxf_groups.h"

namespace pontata {

struct OwnMarks {
  std::string key;      // the polylines of one path have one; empty: not ours
  std::string kind;     // "giornata", "zone", "border", "opening"
  std::string name;     // the painter's words
  std::string traced;   // trace_of the whole path's rings
  std::string label;    // of a zone
  std::string rate;     // m^2/h of a detail zone; may be empty
  std::string subject;  // of a detail zone; may be empty
};

// A rate as it is marked; nullopt for none.
std::optional<double> marked_rate(std::string_view text);

OwnMarks dxf_marks(const DxfRecord& entity);
// The same as groups to write: code and value.
std::vector<std::pair<int, std::string>> dxf_mark_groups(const OwnMarks& marks);

// ASCII for a DXF: what lies beyond is written \U+XXXX; characters beyond the basic plane become '?'.
std::string dxf_ascii(std::string_view utf8);

}  // namespace pontata
