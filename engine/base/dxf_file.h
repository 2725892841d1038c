// The frame of a DXF file: everything but its drawing.
//
// Based on: "DXF Reference", Autodesk, 2012, for what a file of AC1015 must hold: tables, the two spaces as blocks, the
// root dictionary, a handle for each.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/base/vec.h"

namespace pontata {

// Group codes and values, in the order they are put; gives out handles.
class DxfGroups {
 public:
  void put(int code, std::string_view value);  // one line; escape what people wrote by `dxf_escaped`
  void put(int code, int value);
  void put(int code, double value);  // ten decimals
  unsigned handle();                 // puts the next one (code 5)
  void owned(unsigned owner);        // code 330
  unsigned next() const { return next_; }
  std::string take() { return std::move(out_); }

  void section(std::string_view name);
  // Begins a table and gives its handle.
  unsigned table(std::string_view name, int entries);
  unsigned entry(std::string_view kind, unsigned table_handle, std::string_view subclass, std::string_view name,
                 int handle_code = 5);
  // Begins a drawn thing: kind, handle, owner, layer, its line type unless it is the layer's, subclass.
  void entity(std::string_view kind, unsigned owner, std::string_view layer, std::string_view subclass,
              std::string_view line_type = {});

 private:
  std::string out_;
  unsigned next_ = 0x10;
};

struct DxfLayer {
  std::string name;
  int colour = 7;  // of the 255 numbered ones; 7: black on white, white on black
};
struct DxfLineType {
  std::string name;
  std::vector<double> dashes;  // drawing units: on, off, ...; off is negative
};
enum class DxfUnit { millimetres = 4, metres = 6 };  // $INSUNITS

struct DxfFrame {
  DxfUnit unit = DxfUnit::metres;
  std::vector<DxfLayer> layers;  // layer "0" is there in any case
  std::vector<DxfLineType> line_types{};
  std::vector<std::string> applications{};  // names under which things carry data of their own
  std::string font = "txt";
};

// Puts tables and blocks and begins the section of drawn things; the handle that owns them (the model's).
unsigned begin_dxf(DxfGroups& groups, const DxfFrame& frame);
// Ends that section; the whole file. The drawing lies between the two corners.
std::string end_dxf(DxfGroups& groups, const DxfFrame& frame, Vec2 low, Vec2 high);

// Any UTF-8 as the text of a DXF: other than ASCII as \U+XXXX, backslashes too; ^ so that it starts no code, signs of
// per cent one after the other parted by a space.
std::string dxf_escaped(std::string_view words);

}  // namespace pontata
