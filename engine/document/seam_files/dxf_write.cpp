// Based on: "DXF Reference", Autodesk, 2012, for what a file of AC1015 must hold: tables, the two spaces as blocks, the
// root dictionary, a handle for each.
#include <fmt/format.h>

#include <algorithm>

#include "engine/base/units.h"
#include "engine/document/seam_files/drawing.h"
#include "engine/document/seam_files/own_marks.h"
#include "engine/document/seam_files/take_out.h"

namespace pontata {

namespace {

class Writer {
 public:
  void put(int code, std::string_view value) { out_ += fmt::format("{:>3}\n{}\n", code, value); }
  void put(int code, int value) { out_ += fmt::format("{:>3}\n{}\n", code, value); }
  void put(int code, double value) { out_ += fmt::format("{:>3}\n{:.10f}\n", code, value == 0 ? 0.0 : value); }
  unsigned handle() {
    put(5, fmt::format("{:X}", next_));
    return next_++;
  }
  void owned(unsigned owner) { put(330, fmt::format("{:X}", owner)); }
  unsigned next() const { return next_; }
  std::string take() { return std::move(out_); }

  void section(std::string_view name) {
    put(0, "SECTION");
    put(2, name);
  }
  unsigned table(std::string_view name, int entries) {
    put(0, "TABLE");
    put(2, name);
    const unsigned own = handle();
    owned(0);
    put(100, "AcDbSymbolTable");
    put(70, entries);
    return own;
  }
  unsigned entry(std::string_view kind, unsigned table_handle, std::string_view subclass, std::string_view name,
                 int handle_code = 5) {
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

 private:
  std::string out_;
  unsigned next_ = 0x10;
};

std::string layer_of(const TakenPath& path) {
  if (path.kind == "border") return "wall";
  if (path.kind == "giornata") return "giornata " + path.label;
  return path.kind + "s";
}

int colour_of(const std::string& layer) { return layer == "zones" ? 5 : layer.starts_with("giornata") ? 7 : 8; }

void header(Writer& w, const SeamsTaken& seams, const std::string& handles) {
  w.section("HEADER");
  w.put(9, "$ACADVER");
  w.put(1, "AC1015");
  w.put(9, "$DWGCODEPAGE");
  w.put(3, "ANSI_1252");
  w.put(9, "$INSUNITS");
  w.put(70, 6);
  w.put(9, "$MEASUREMENT");
  w.put(70, 1);
  w.put(9, "$EXTMIN");
  for (const int code : {10, 20, 30}) w.put(code, 0.0);
  w.put(9, "$EXTMAX");
  w.put(10, seams.width);
  w.put(20, seams.height);
  w.put(30, 0.0);
  w.put(9, "$HANDSEED");
  w.put(5, handles);
  w.put(0, "ENDSEC");
}

// The tables; returns the handles of the two spaces' block records.
std::pair<unsigned, unsigned> tables(Writer& w, const std::vector<std::string>& layers) {
  w.section("TABLES");
  w.table("VPORT", 0);
  w.put(0, "ENDTAB");
  const unsigned types = w.table("LTYPE", 3);
  for (const char* name : {"ByBlock", "ByLayer", "Continuous"}) {
    w.entry("LTYPE", types, "AcDbLinetypeTableRecord", name);
    w.put(3, "");
    w.put(72, 65);
    w.put(73, 0);
    w.put(40, 0.0);
  }
  w.put(0, "ENDTAB");
  const unsigned all = w.table("LAYER", static_cast<int>(layers.size()));
  for (const auto& layer : layers) {
    w.entry("LAYER", all, "AcDbLayerTableRecord", layer);
    w.put(62, colour_of(layer));
    w.put(6, "Continuous");
  }
  w.put(0, "ENDTAB");
  const unsigned styles = w.table("STYLE", 1);
  w.entry("STYLE", styles, "AcDbTextStyleTableRecord", "Standard");
  w.put(40, 0.0);
  w.put(41, 1.0);
  w.put(50, 0.0);
  w.put(71, 0);
  w.put(42, 0.2);
  w.put(3, "txt");
  w.put(4, "");
  w.put(0, "ENDTAB");
  for (const char* name : {"VIEW", "UCS"}) {
    w.table(name, 0);
    w.put(0, "ENDTAB");
  }
  const unsigned applications = w.table("APPID", 2);
  for (const char* name : {"ACAD", "PONTATA"}) w.entry("APPID", applications, "AcDbRegAppTableRecord", name);
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
void block_end(Writer& w, const char* what, const char* subclass, unsigned record, bool on_paper) {
  w.put(0, what);
  w.handle();
  w.owned(record);
  w.put(100, "AcDbEntity");
  if (on_paper) w.put(67, 1);
  w.put(8, "0");
  w.put(100, subclass);
}

void blocks(Writer& w, unsigned model, unsigned paper) {
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

void polyline(Writer& w, const Ring& ring, const std::string& layer, const OwnMarks& marks, unsigned model) {
  w.put(0, "LWPOLYLINE");
  w.handle();
  w.owned(model);
  w.put(100, "AcDbEntity");
  w.put(8, layer);
  w.put(100, "AcDbPolyline");
  w.put(90, static_cast<int>(ring.size()));
  w.put(70, 1);
  for (const LatticePoint& p : ring) {
    w.put(10, to_chart(p).u);
    w.put(20, to_chart(p).v);
  }
  for (const auto& [code, value] : dxf_mark_groups(marks)) w.put(code, value);
}

void entities(Writer& w, const SeamsTaken& seams, unsigned model) {
  w.section("ENTITIES");
  for (const auto& path : seams.paths) {
    const std::string rate = path.rate_m2_per_h ? format_number(*path.rate_m2_per_h) : "";
    const OwnMarks marks{fmt::format("{} {}", path.kind, path.id), path.kind, path.name, trace_of(path.rings),
                         path.kind == "zone" ? path.label : "",    rate};
    for (const Ring& ring : path.rings) polyline(w, ring, layer_of(path), marks, model);
  }
  w.put(0, "ENDSEC");
}

void objects(Writer& w) {
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

std::string seams_dxf(const SeamsTaken& seams) {
  std::vector<std::string> layers{"0"};
  for (const auto& path : seams.paths)
    if (const std::string layer = layer_of(path); std::find(layers.begin(), layers.end(), layer) == layers.end())
      layers.push_back(layer);
  Writer body;
  const auto [model, paper] = tables(body, layers);
  blocks(body, model, paper);
  entities(body, seams, model);
  objects(body);
  body.put(0, "EOF");
  Writer w;
  header(w, seams, fmt::format("{:X}", body.next()));
  return w.take() + body.take();
}

}  // namespace pontata
