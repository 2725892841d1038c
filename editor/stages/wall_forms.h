// The forms of the Wall page, each its own file: a shape, a scan, openings. They hold what is typed.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>

#include "editor/window/workbench.h"
#include "engine/document/edits.h"
#include "engine/wall/openings.h"
#include "engine/wall/scan.h"
#include "engine/wall/shapes.h"

namespace pontata {

// Three lengths as typed, "0 2.5 1m".
Result<Vec3> typed_place(const std::string& text);
// A name nobody bears yet: what was typed, else the wish, numbered where need be.
std::string free_wall_name(const Document& doc, const std::string& typed, const std::string& wish);

// What both kinds of wall are asked for.
struct WallTyping {
  std::string name, at = "0 0 0", turn = "0";
  Result<Placement3> placement() const;
};

class ShapeForm {
 public:
  void draw(Workbench& bench, WallTyping& wall);

 private:
  Result<ShapeSpec> spec() const;
  void measures(Workbench& bench);
  void preview(Workbench& bench);
  void add(Workbench& bench, WallTyping& wall);

  ShapeKind kind_ = ShapeKind::barrel;
  bool picking_ = false;  // all shapes are shown
  std::map<std::string, std::string> typed_;
};

// One length measured by hand on the real wall, and where.
struct KnownLength {
  double metres = 0;
  Vec3 from{0, 0, 0}, to{0, 0, 0};
};

class ScanForm {
 public:
  void draw(Workbench& bench, WallTyping& wall);
  void take(const std::string& path);

 private:
  void source(Workbench& bench);
  void choices(Workbench& bench);
  Result<ScanOptions> options(const Placement3& placement) const;
  Result<std::optional<KnownLength>> known_length() const;  // nothing when nothing is typed
  std::string unit_word() const;
  struct Asked {
    std::string path, name, unit;
    ScanOptions options;
    std::optional<KnownLength> known;
    std::optional<bool> old_plaster;
  };
  static Result<Edited> brought_in(const Document& doc, const Asked& asked, std::string& says, Progress& progress);
  void bring_in(Workbench& bench, WallTyping& wall);

  std::string path_;
  std::array<std::string, 2> crop_;
  std::string part_, fill_, cut_, known_, known_from_, known_to_;
  int unit_ = 0, up_ = 0, old_plaster_ = 0;  // 0: not yet answered
  bool flip_ = false;
};

// What the chosen wall is, what was mended, its openings, and what can still be said of it.
class WallFacts {
 public:
  void draw(Workbench& bench, const WallItem& item);

 private:
  void openings(Workbench& bench, const WallItem& item);
  void opening_fields(Workbench& bench);
  Result<Opening> typed_opening() const;
  void add_opening_here(Workbench& bench, const WallItem& item);
  void scan(Workbench& bench, const WallItem& item);
  void move_cut(Workbench& bench, const WallItem& item);

  int kind_ = 0;
  std::map<std::string, std::string> typed_;
  std::string outline_, cut_;
};

}  // namespace pontata
