// The sheets of the cartoon, looked at one by one before they are printed.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "editor/stages/sheet_drawing.h"
#include "editor/view/gl_objects.h"
#include "editor/window/workbench.h"

namespace pontata {

class CartoonSheets {
 public:
  // Counts the sheets of these giornate (empty: all) on the worker, then opens the dialog at the first one. What is
  // drawn is what would be printed; nothing is written and the project does not change.
  void ask(Workbench& bench, const CartoonOptions& options, const std::vector<GiornataId>& only, bool trial);
  // The dialog while it is open: the sheet, its place among the others, the paper they take. Call once a frame.
  void draw(Workbench& bench);

 private:
  void open_with(Workbench& bench, std::shared_ptr<SheetDrawing> drawing, SheetDrawing::Plan plan);
  void turn_to(int sheet);
  void say_place();
  void draw_page(Workbench& bench);
  void fetch(Workbench& bench, double dpi);
  void take(const Image& image);
  const SheetDrawing::Sheet& here() const { return plan_.sheets[static_cast<std::size_t>(at_)]; }

  std::shared_ptr<SheetDrawing> drawing_;  // used on the worker alone
  SheetDrawing::Plan plan_;
  int at_ = 0;
  int there_ = -1, asked_ = -1;  // the sheet in the texture, and the one being drawn
  bool opening_ = false, open_ = false;
  std::string paper_;  // how much of it
  std::string fault_;  // why the sheet cannot be shown
  GlTexture texture_;
};

}  // namespace pontata
