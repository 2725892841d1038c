// The part of the verb `wall` that takes in a scan.
#pragma once

#include <optional>
#include <string>
#include <utility>

#include "editor/verbs/project.h"
#include "engine/wall/known_scale.h"

namespace pontata {

struct ScanArguments {
  std::optional<std::string> file, unit, up, old_plaster;
  bool flip = false;
  std::optional<double> known, fill;
  std::optional<Vec3> from, to, part, cut;
  std::optional<std::pair<Vec3, Vec3>> crop;
};

void declare_scan(Usage& usage, ScanArguments& scan);

// A flag that makes sense for a scan only and was given; none: empty.
std::optional<std::string> scan_flag_given(const ScanArguments& scan);

// Precondition: scan.file. The exit status.
int add_scan(const ReportArguments& a, const std::string& name, const ScanArguments& scan, const Placement3& placement,
             const std::vector<Opening>& openings);

// Tells of the wall just added: size, stretch of its chart, and for a scan what was mended. `known` may be null.
void tell_wall(const Edited& edited, bool json, const KnownScale* known);

}  // namespace pontata
