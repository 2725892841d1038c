#include "engine/base/dxf_file.h"

#include <fmt/format.h>

#include <utility>

namespace pontata {

void DxfGroups::put(int code, std::string_view value) { out_ += fmt::format("{:>3}\n{}\n", code, value); }
void DxfGroups::put(int code, int value) { out_ += fmt::format("{:>3}\n{}\n", code, value); }
void DxfGroups::put(int code, double value) { out_ += fmt::format("{:>3}\n{:.10f}\n", code, value == 0 ? 0.0 : value); }

unsigned DxfGroups::handle() {
  put(5, fmt::format("{:X}", next_));
  return next_++;
}

void DxfGroups::owned(unsigned owner) { put(330, fmt::format("{:X}", owner)); }

void DxfGroups::section(std::string_view name) {
  put(0, "SECTION");
  put(2, name);
}

unsigned DxfGroups::table(std::string_view name, int entries) {
  put(0, "TABLE");
  put(2, name);
  const unsigned own = handle();
  owned(0);
  put(100, "AcDbSymbolTable");
  put(70, entries);
  return own;
}

unsigned DxfGroups::entry(std::string_view kind, unsigned table_handle, std::string_view subclass,
                          std::string_view name, int handle_code) {
  put(0, kind);
  const unsigned own = next_++;
  put(handle_code, fmt::format("{:X}", own));
  owned(table_handle);
  put(100, "AcDbSymbolTableRecord");
  put(100, subclass);
  put(2, name);
  if (kind != "BLOCK_RECORD") put(70, 0);
  return own;
}

void DxfGroups::entity(std::string_view kind, unsigned owner, std::string_view layer, std::string_view subclass,
                       std::string_view line_type) {
  put(0, kind);
  handle();
  owned(owner);
  put(100, "AcDbEntity");
  put(8, layer);
  if (!line_type.empty()) put(6, line_type);
  put(100, subclass);
}

namespace {

void header(DxfGroups& w, const DxfFrame& frame, Vec2 low, Vec2 high, unsigned handles) {
  w.section("HEADER");
  w.put(9, "$ACADVER");
  w.put(1, "AC1015");
  w.put(9, "$DWGCODEPAGE");
  w.put(3, "ANSI_1252");
  w.put(9, "$INSUNITS");
  w.put(70, static_cast<int>(frame.unit));
  w.put(9, "$MEASUREMENT");
  w.put(70, 1);
  for (const auto& [name, corner] : {std::pair{"$EXTMIN", low}, {"$EXTMAX", high}}) {
    w.put(9, name);
    w.put(10, corner.x);
    w.put(20, corner.y);
    w.put(30, 0.0);
  }
  w.put(9, "$HANDSEED");
  w.put(5, fmt::format("{:X}", handles));
  w.put(0, "ENDSEC");
}

void line_type(DxfGroups& w, unsigned table, const DxfLineType& type) {
  w.entry("LTYPE", table, "AcDbLinetypeTableRecord", type.name);
  w.put(3, "");
  w.put(72, 65);
  w.put(73, static_cast<int>(type.dashes.size()));
  double length = 0;
  for (const double d : type.dashes) length += d < 0 ? -d : d;
  w.put(40, length);
  for (const double d : type.dashes) {
    w.put(49, d);
    w.put(74, 0);
  }
}

void line_types(DxfGroups& w, const DxfFrame& frame) {
  const unsigned table = w.table("LTYPE", static_cast<int>(3 + frame.line_types.size()));
  for (const char* name : {"ByBlock", "ByLayer", "Continuous"}) line_type(w, table, {name, {}});
  for (const DxfLineType& type : frame.line_types) line_type(w, table, type);
  w.put(0, "ENDTAB");
}

void layers(DxfGroups& w, const DxfFrame& frame) {
  const unsigned table = w.table("LAYER", static_cast<int>(1 + frame.layers.size()));
  const auto layer = [&](const std::string& name, int colour) {
    w.entry("LAYER", table, "AcDbLayerTableRecord", name);
    w.put(62, colour);
    w.put(6, "Continuous");
  };
  layer("0", 7);
  for (const DxfLayer& l : frame.layers) layer(l.name, l.colour);
  w.put(0, "ENDTAB");
}

void styles(DxfGroups& w, const DxfFrame& frame) {
  const unsigned table = w.table("STYLE", 1);
  w.entry("STYLE", table, "AcDbTextStyleTableRecord", "Standard");
  w.put(40, 0.0);
  w.put(41, 1.0);
  w.put(50, 0.0);
  w.put(71, 0);
  w.put(42, 0.2);
  w.put(3, frame.font);
  w.put(4, "");
  w.put(0, "ENDTAB");
}

// The tables; returns the handles of the two spaces' block records.
std::pair<unsigned, unsigned> tables(DxfGroups& w, const DxfFrame& frame) {
  w.section("TABLES");
  w.table("VPORT", 0);
  w.put(0, "ENDTAB");
  line_types(w, frame);
  layers(w, frame);
  styles(w, frame);
  for (const char* name : {"VIEW", "UCS"}) {
    w.table(name, 0);
    w.put(0, "ENDTAB");
  }
  const unsigned applications = w.table("APPID", static_cast<int>(1 + frame.applications.size()));
  w.entry("APPID", applications, "AcDbRegAppTableRecord", "ACAD");
  for (const auto& name : frame.applications) w.entry("APPID", applications, "AcDbRegAppTableRecord", name);
  w.put(0, "ENDTAB");
  const unsigned dimensions = w.table("DIMSTYLE", 1);
  w.put(100, "AcDbDimStyleTable");
  w.entry("DIMSTYLE", dimensions, "AcDbDimStyleTableRecord", "Standard", 105);
  w.put(0, "ENDTAB");
  const unsigned records = w.table("BLOCK_RECORD", 2);
  const unsigned model = w.entry("BLOCK_RECORD", records, "AcDbBlockTableRecord", "*Model_Space");
  const unsigned paper = w.entry("BLOCK_RECORD", records, "AcDbBlockTableRecord", "*Paper_Space");
  w.put(0, "ENDTAB");
  w.put(0, "ENDSEC");
  return {model, paper};
}

// Begin or end of a block, which a record owns.
void block_end(DxfGroups& w, const char* what, const char* subclass, unsigned record, bool on_paper) {
  w.put(0, what);
  w.handle();
  w.owned(record);
  w.put(100, "AcDbEntity");
  if (on_paper) w.put(67, 1);
  w.put(8, "0");
  w.put(100, subclass);
}

void blocks(DxfGroups& w, unsigned model, unsigned paper) {
  w.section("BLOCKS");
  for (const auto& [name, record] : {std::pair{"*Model_Space", model}, {"*Paper_Space", paper}}) {
    block_end(w, "BLOCK", "AcDbBlockBegin", record, record == paper);
    w.put(2, name);
    w.put(70, 0);
    for (const int code : {10, 20, 30}) w.put(code, 0.0);
    w.put(3, name);
    w.put(1, "");
    block_end(w, "ENDBLK", "AcDbBlockEnd", record, record == paper);
  }
  w.put(0, "ENDSEC");
}

void objects(DxfGroups& w) {
  w.section("OBJECTS");
  w.put(0, "DICTIONARY");
  const unsigned root = w.handle();
  w.owned(0);
  w.put(100, "AcDbDictionary");
  w.put(281, 1);
  w.put(3, "ACAD_GROUP");
  w.put(350, fmt::format("{:X}", w.next()));
  w.put(0, "DICTIONARY");
  w.handle();
  w.owned(root);
  w.put(100, "AcDbDictionary");
  w.put(281, 1);
  w.put(0, "ENDSEC");
}

}  // namespace

unsigned begin_dxf(DxfGroups& groups, const DxfFrame& frame) {
  const auto [model, paper] = tables(groups, frame);
  blocks(groups, model, paper);
  groups.section("ENTITIES");
  return model;
}

std::string end_dxf(DxfGroups& groups, const DxfFrame& frame, Vec2 low, Vec2 high) {
  groups.put(0, "ENDSEC");
  objects(groups);
  groups.put(0, "EOF");
  DxfGroups first;
  header(first, frame, low, high, groups.next());
  return first.take() + groups.take();
}

std::string dxf_escaped(std::string_view words) {
  std::string out;
  for (std::size_t i = 0; i < words.size();) {
    const auto c = static_cast<unsigned char>(words[i]);
    const std::size_t length = c < 0x80 ? 1 : c >= 0xF0 ? 4 : c >= 0xE0 ? 3 : 2;
    unsigned code = length == 1 ? c : c & (0x7Fu >> length);
    for (std::size_t k = 1; k < length && i + k < words.size(); ++k)
      code = code << 6 | (static_cast<unsigned char>(words[i + k]) & 0x3Fu);
    i += length;
    if (code > 0xFFFF)
      out += '?';  // the escape has four digits
    else if (code >= 0x7F || code == '\\')
      out += fmt::format("\\U+{:04X}", code);
    else if (code < 0x20)
      out += ' ';
    else if (code == '^')
      out += "^ ";  // "^J" would be a line feed
    else if (code == '%' && out.ends_with('%'))
      out += " %";  // "%%" begins a code, and readers differ on how to write the sign twice
    else
      out += static_cast<char>(code);
  }
  return out;
}

}  // namespace pontata
