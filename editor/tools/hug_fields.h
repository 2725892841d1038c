// How widely, how strongly and how closely a stroke hugs: settings of the project, on the tool's strip.
#pragma once

#include <string>

namespace pontata {

struct Workbench;

class HugFields {
 public:
  // The tick box and three fields: width of search in cm, the contrast a contour needs, tolerance of the drawn line in
  // mm. Each that is entered is one undo step of the project, as `set` does it. `tool`: begins the controls' names.
  void draw(Workbench& bench, const std::string& tool);

 private:
  struct Field {
    const char* name;
    std::string key, value;
    const char* unit;
    const char* meaning;
  };
  void field(Workbench& bench, const std::string& control_name, const Field& of);
  std::string editing_, text_;
};

}  // namespace pontata
