// What the sheets of the cartoon are drawn from, to be looked at: used on the worker, one call at a time.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "engine/cartoon/cartoon.h"
#include "engine/document/document.h"
#include "engine/picture/image.h"

namespace pontata {

class SheetDrawing {
 public:
  struct Sheet {
    GiornataId giornata;
    std::string label;  // of the giornata
    int index = 0;      // among its sheets, from 0
    int count = 0;      // of its sheets
    Vec2 page{0, 0};    // mm
  };
  struct Plan {
    std::vector<Sheet> sheets;  // in the order of printing
    double paper_m2 = 0, roll_m = 0;
  };

  SheetDrawing(DocumentRef document, const CartoonOptions& options);
  ~SheetDrawing();
  const CartoonOptions& options() const;

  // The sheets of these giornate (empty: all). Lays each of them flat. Call it first, once.
  Result<Plan> plan(const std::string& project, const std::vector<GiornataId>& only, bool trial, Progress& progress);
  // One sheet as it would be printed, `dpi` dots an inch; the first of each giornata lays it flat again.
  Result<Image> draw(const Sheet& sheet, double dpi, Progress& progress);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace pontata
