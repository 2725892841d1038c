// Fields of the project's settings: typed, dragged by their names, ticked or chosen; each change is one undo step.
#pragma once

#include <initializer_list>
#include <memory>
#include <vector>

#include "editor/window/form_fields.h"
#include "engine/document/settings_table.h"

namespace pontata {

class SettingsFields {
 public:
  // Those of one group whose key begins with one of the words (all when none is given), in the table's order.
  void draw(Workbench& bench, SettingGroup group, std::initializer_list<const char*> words = {});
  // Exactly these, in this order.
  void draw_keys(Workbench& bench, std::initializer_list<const char*> keys);  // those there are

 private:
  std::shared_ptr<const std::vector<Setting>> keys(const DocumentRef& document);
  void row(Workbench& bench, const Setting& setting);
  std::optional<std::string> list_rows(Workbench& bench, const Setting& setting, const FieldRow& whole);

  DocumentRef of_;
  std::shared_ptr<const std::vector<Setting>> keys_;  // of that document
  FormFields fields_;
};

// What a setting is called on screen: "Wait after laying".
std::string spoken_setting(const std::string& key);

}  // namespace pontata
