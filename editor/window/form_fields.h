// Rows of a form: a name, a field and its unit. What is typed counts when Enter is pressed or the field is left; a
// number or a day may also be dragged by its name. Either way it counts once.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>

#include "editor/window/number_steps.h"
#include "editor/window/workbench.h"
#include "engine/base/dates.h"

namespace pontata {

struct FieldRow {
  std::string id;     // unique in the form; of the field on screen, and with "drag." before it of its name
  std::string name;   // plain words
  std::string value;  // as it stands
  std::string unit{};
  std::string tip{};
  FieldKind kind = FieldKind::text;
  // A drag passes over values that this does not take; none: it takes all.
  std::function<bool(const std::string&)> takes{};
};

class FormFields {
 public:
  // Draws one row; the new value when it is to be taken.
  std::optional<std::string> draw(Workbench& bench, const FieldRow& row, float share = 0.44f);
  // Of a value that the form itself keeps.
  void edit(Workbench& bench, FieldRow row, std::string& value);
  // The same without a name, `width` px wide; the unit follows.
  std::optional<std::string> draw_bare(Workbench& bench, const FieldRow& row, float width);

  bool typing() const { return !typed_.empty() || !dragged_.empty(); }

 private:
  std::optional<std::string> name(Workbench& bench, const FieldRow& row);
  std::optional<std::string> field(Workbench& bench, const FieldRow& row, float width);

  std::map<std::string, std::string> typed_;  // of fields that are being typed in
  std::string dragged_, now_;                 // the row whose name is being dragged, and its value now
};

// A row with a word of a few to choose from; the one chosen now, where another was.
std::optional<std::string> choice_row(Workbench& bench, const FieldRow& row, const std::vector<std::string>& words);

// What a form holds as text: a number, or nothing where it is empty; `what` names it where it is neither.
Result<std::optional<double>> number_or_none(const std::string& text, const std::string& what);
Result<std::optional<Date>> date_or_none(const std::string& text, const std::string& what);
Date today();

}  // namespace pontata
