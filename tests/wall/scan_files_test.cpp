// Scans as OBJ, PLY and STL: what is read, and what is refused.
#include "engine/wall/scan_files.h"

#include "tests/fixtures/plain_scans.h"
#include "tests/wall/scan_checks.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

std::string write_text(const std::string& path, const std::string& text) {
  return write_bytes(path, {text.begin(), text.end()});
}

Sheet wall() { return flat_sheet(4, 3, 8, 6); }

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("every plain format, text and binary, gives the same wall") {
  const TestFolder folder;
  for (const PlainKind kind : kPlainKinds) {
    const std::string path = write_text(folder.file(std::string("wall") + ending(kind)), plain_bytes(wall(), kind));
    INFO(path << " " << static_cast<int>(kind));
    const auto scan = scanned(path, z_up());
    CHECK(scan.mesh.points.size() == wall().points.size());
    CHECK(scan.mesh.triangles.size() == wall().triangles.size());
    CHECK(scan.raw_area_m2 == Approx(12).epsilon(1e-6));
    CHECK(vector_area(scan.mesh).y == Approx(-12).epsilon(1e-6));
    CHECK(scan.report.says.empty());  // nothing of what a format does counts as a fault of the scan
    check_sheet(scan.mesh);
  }
}

TEST_CASE("what a file is goes by its content, then by its name") {
  const TestFolder folder;
  const std::string path = folder.file("wall.obj");
  for (const PlainKind kind : kPlainKinds) {
    write_text(path, plain_bytes(wall(), kind));
    INFO(static_cast<int>(kind));
    CHECK(std::string(format_name(*scan_format(path))) == (kind == PlainKind::obj        ? "OBJ"
                                                           : kind >= PlainKind::stl_text ? "STL"
                                                                                         : "PLY"));
    CHECK(scanned(path, z_up()).raw_area_m2 == Approx(12).epsilon(1e-6));
  }
  write_glb(path, {glb_mesh(y_up(wall()))});
  CHECK(*scan_format(path) == ScanFormat::gltf);
  write_text(path, "# only words\n");
  CHECK(*scan_format(path) == ScanFormat::obj);
  write_text(folder.file("notes.txt"), "only words\n");
  CHECK_FALSE(scan_format(folder.file("notes.txt")).ok());
  CHECK_FALSE(states_unit(ScanFormat::ply));
  CHECK(states_unit(ScanFormat::gltf));
  CHECK(is_y_up(ScanFormat::gltf));
  CHECK_FALSE(is_y_up(ScanFormat::stl));
}

TEST_CASE("faces of many corners are split, hollow ones too") {
  const TestFolder folder;
  // An L of 3 m2 as one face, its hollow corner first, and a trapezium beside it that shares an edge.
  const std::string path = write_text(folder.file("l.obj"),
                                      "v 1 0 1\nv 1 0 2\nv 0 0 2\nv 0 0 0\nv 2 0 0\nv 2 0 1\nv 3 0 1\nv 3 0 0\n"
                                      "f 1 2 3 4 5 6\nf 5 8 7 6\n");
  const auto scan = scanned(path, z_up());
  CHECK(scan.raw_area_m2 == Approx(4));
  CHECK(scan.mesh.triangles.size() == 6);
  CHECK(vector_area(scan.mesh).y == Approx(-4));
  const std::string star = write_text(
      folder.file("arrow.ply"),
      "ply\nformat ascii 1.0\nelement vertex 4\nproperty double x\nproperty double y\nproperty double z\nelement face "
      "1\nproperty list uchar uint vertex_index\nend_header\n0 0 0\n1 0 0.5\n2 0 0\n1 0 2\n4 0 1 2 3\n");
  CHECK(scanned(star, z_up()).raw_area_m2 == Approx(1.5));  // 2 - 0.5, a hollow arrowhead
}

TEST_CASE("a file's own directions decide the painter's side") {
  const TestFolder folder;
  std::string obj = "v 0 0 0\nv 1 0 0\nv 1 0 1\nv 0 0 1\nvn 0 1 0\nf 1//1 2//1 3//1 4//1\n";
  CHECK(vector_area(scanned(write_text(folder.file("a.obj"), obj), z_up()).mesh).y == Approx(1));
  CHECK(vector_area(scanned(write_text(folder.file("b.obj"), replaced(obj, "vn 0 1 0", "vn 0 -1 0")), z_up()).mesh).y ==
        Approx(-1));
  CHECK(
      vector_area(scanned(write_text(folder.file("c.obj"), replaced(obj, "vn 0 1 0", "vn nan 1 0")), z_up()).mesh).y ==
      Approx(-1));  // by the winding
  std::string stl = stl_bytes(flat_sheet(1, 1, 1, 1), PlainKind::stl_text);
  for (int k = 0; k < 2; ++k) stl = replaced(stl, "normal 0 0 0", "normal 0 1 0");
  CHECK(vector_area(scanned(write_text(folder.file("d.stl"), stl), z_up()).mesh).y == Approx(1));
}

TEST_CASE("OBJ: negative corners, broken lines, textures and other matter are taken in their stride") {
  const TestFolder folder;
  const auto scan = scanned(write_text(folder.file("odd.obj"),
                                       "# words\r\nmtllib x.mtl\r\nv 0 0 0 1 0 0\r\nv 1 0 0\r\nvt 0 0\r\nusemtl y\r\n"
                                       "v 1 \\\r\n 0 1\r\nv 0 0 1e0\r\ng north\r\ns 1\r\nl 1 2\r\np 1\r\n"
                                       "f -4/1 -3/1/ -2\r\nf 1/1 3/1/7 4 # rest\r\n"),
                            z_up());
  CHECK(scan.raw_area_m2 == Approx(1));
  CHECK(scan.mesh.triangles.size() == 2);
}

TEST_CASE("OBJ: what makes no sense is refused by its place") {
  const TestFolder folder;
  const std::string good = obj_text(flat_sheet(1, 1, 1, 1));
  const auto broken = [&](const std::string& text) { return refusal(write_text(folder.file("x.obj"), text), z_up()); };
  CHECK(broken(replaced(good, "f 1 2 4", "f 1 2 5")).find("point 5") != std::string::npos);
  CHECK(broken(replaced(good, "f 1 2 4", "f 0 2 4")).find("does not exist") != std::string::npos);
  CHECK(broken(replaced(good, "f 1 2 4", "f -9 2 4")).find("does not exist") != std::string::npos);
  CHECK(broken(replaced(good, "f 1 2 4", "f a b c")).find("face 1") != std::string::npos);
  CHECK(broken(replaced(good, "f 1 2 4", "f 99999999999999999999 2 4")).find("face 1") != std::string::npos);
  for (const char* bad : {"nan", "inf", "0x10", "1,5", "1e99999", "--1", "."})
    CHECK(broken(replaced(good, "v 1 0 0", std::string("v ") + bad + " 0 0")).find("point 2") != std::string::npos);
  CHECK(broken(replaced(good, "v 1 0 0", "v 1e999 0 0")).find("not a number") != std::string::npos);
  CHECK(broken("v 0 0 0\nv 1 0 0\nv 0 1 0\n").find("loose points") != std::string::npos);
}

TEST_CASE("PLY: loose points, strips and senseless headers are refused") {
  const TestFolder folder;
  const std::string good = ply_bytes(flat_sheet(1, 1, 1, 1), PlainKind::ply_text);
  const auto broken = [&](const std::string& text) { return refusal(write_text(folder.file("x.ply"), text), z_up()); };
  CHECK(broken("ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\nproperty float "
               "z\nend_header\n0 0 0\n")
            .find("loose points") != std::string::npos);
  CHECK(broken(replaced(good, "element face 2\nproperty list uchar int vertex_indices\n",
                        "element tristrips 1\nproperty list int int vertex_indices\n"))
            .find("strips") != std::string::npos);
  CHECK(broken(replaced(good, "element vertex 4", "element vertex 5")).find("face") != std::string::npos);
  CHECK(broken(replaced(good, "element face 2", "element face 3")).find("cut short: it should hold 3 faces") !=
        std::string::npos);
  CHECK(broken(replaced(good, "element face 2", "element face 18446744073709551615")).find("50 million") !=
        std::string::npos);
  CHECK(broken(replaced(good, "element face 2", "element face -1")).find("makes no sense") != std::string::npos);
  CHECK(broken(replaced(good, "property float y\n", "")).find("x, y and z") != std::string::npos);
  CHECK(broken(replaced(good, "list uchar int", "list float int")).find("makes no sense") != std::string::npos);
  CHECK(broken(replaced(good, "list uchar int", "list uchar float")).find("no corners") != std::string::npos);
  CHECK(broken(replaced(good, "format ascii", "format morse")).find("makes no sense") != std::string::npos);
  CHECK(broken(replaced(good, "\n3 0 1 3", "\n3 0 1 4")).find("names point 4") != std::string::npos);
  CHECK(broken(replaced(good, "\n3 0 1 3", "\n3 0 1 -1")).find("names point -1") != std::string::npos);
  CHECK(broken(replaced(good, "\n0 0 0 7", "\n0 nan 0 7")).find("point 1") != std::string::npos);
  CHECK(broken(good.substr(0, good.find("end_header"))).find("ends inside its header") != std::string::npos);
  const std::string faces_first =
      "ply\nformat ascii 1.0\nelement face 1\nproperty list uchar int vertex_indices\nelement vertex 3\nproperty float "
      "x\nproperty float y\nproperty float z\nend_header\n3 0 1 2\n0 0 0\n1 0 0\n0 0 1\n";
  CHECK(broken(faces_first).find("before its points") != std::string::npos);
}

TEST_CASE("PLY: what else a file holds is passed over, whatever it is called") {
  const TestFolder folder;
  std::string text =
      "ply\nformat ascii 1.0\nobj_info by hand\nelement material 1\nproperty int ambient_red\nelement vertex "
      "3\nproperty "
      "double z\nproperty float s\nproperty float t\nproperty float y\nproperty float x\nelement face 1\nproperty list "
      "uchar float texcoord\nproperty list uchar int vertex_indices\nproperty int texnumber\nelement edge 1\nproperty "
      "int vertex1\nproperty int vertex2\nend_header\n3\n0 0 0 0 0\n0 0 0 0 2\n2 0 0 0 0\n9 1 2 3 4 5 6 7 8 9 3 0 1 2 "
      "5\n0 1\n";
  CHECK(scanned(write_text(folder.file("rich.ply"), text), z_up()).raw_area_m2 == Approx(2));
}

TEST_CASE("plain files that are cut short are refused wherever the cut is") {
  const TestFolder folder;
  for (const PlainKind kind : kPlainKinds) {
    if (kind == PlainKind::obj) continue;  // its faces have no count: a cut between lines is a smaller wall
    const std::string whole = plain_bytes(wall(), kind);
    for (std::size_t keep = 1; keep + 12 < whole.size(); keep += whole.size() / 37) {
      INFO(static_cast<int>(kind) << " cut at " << keep);
      if (kind == PlainKind::stl_text && keep > whole.find("endfacet")) continue;  // a solid cut between facets is one
      refusal(write_text(folder.file(std::string("cut") + ending(kind)), whole.substr(0, keep)), z_up());
    }
  }
}

TEST_CASE("STL: a cut facet, a count too large and no facet are refused; bytes beyond the last are not read") {
  const TestFolder folder;
  const auto broken = [&](const std::string& text) { return refusal(write_text(folder.file("x.stl"), text), z_up()); };
  const std::string text = stl_bytes(wall(), PlainKind::stl_text), binary = stl_bytes(wall(), PlainKind::stl_binary);
  CHECK(broken(text.substr(0, text.rfind("vertex"))).find("missing") != std::string::npos);
  CHECK(broken(replaced(text, "vertex 0 0 0", "vertex 0 nan 0")).find("point") != std::string::npos);
  CHECK(broken("solid nothing\nendsolid nothing\n").find("no triangles") != std::string::npos);
  std::string many = binary;
  many[83] = '\x7f';
  CHECK(broken(many).find("cut short") != std::string::npos);
  CHECK(scanned(write_text(folder.file("more.stl"), replaced(binary, "solid", "wall ") + "some words behind"), z_up())
            .raw_area_m2 == Approx(12).epsilon(1e-6));
}

TEST_CASE("a scan too far from its file's origin to be exact says so or is refused") {
  const TestFolder folder;
  const auto moved = [&](double far) {
    Sheet sheet = flat_sheet(4, 3, 2, 2);
    for (Vec3& p : sheet.points) p.x += far;
    return write_text(folder.file("far.obj"), obj_text(sheet));
  };
  CHECK(scanned(moved(100), z_up()).report.says.empty());
  CHECK(says(scanned(moved(2048), z_up()).report, "from its file's origin"));
  const std::string message = refusal(moved(400000), z_up());
  CHECK(message.find("400.0 km") != std::string::npos);
  CHECK(message.find("31.2 mm apart") != std::string::npos);  // float: 24 bits, 2^(18 - 23) m above 2^18 m
}
