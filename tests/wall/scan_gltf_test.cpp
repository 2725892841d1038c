// Scans as GLB and glTF: what is read, and what is refused.
#include "tests/wall/scan_checks.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

}  // namespace

TEST_CASE("a scan in glTF's axes comes back in ours, in metres, facing the painter") {
  const TestFolder folder;
  const Sheet wall = flat_sheet(4, 3, 8, 6);
  const auto scan = scanned(write_glb(folder.file("wall.glb"), {glb_mesh(y_up(wall))}));
  CHECK(scan.raw_area_m2 == Approx(12).epsilon(1e-6));
  CHECK(scan.mesh.points.size() == wall.points.size());
  CHECK(vector_area(scan.mesh).y == Approx(-12).epsilon(1e-6));  // painter at y < 0
  double top = 0;
  for (const Vec3& p : scan.mesh.points) top = std::max(top, p.z);
  CHECK(top == Approx(3));
  CHECK(scan.report.says.empty());
  check_sheet(scan.mesh);
}

TEST_CASE("indexed with any index width, unindexed and interleaved files give the same surface") {
  const TestFolder folder;
  const Sheet wall = y_up(flat_sheet(4, 3, 8, 6));
  const auto reference = scanned(write_glb(folder.file("int.glb"), {glb_mesh(wall)}));
  for (int variant = 0; variant < 4; ++variant) {
    GlbOptions options;
    if (variant == 0) options.index_type = 5121;
    if (variant == 1) options.index_type = 5123;
    if (variant == 2) options.indexed = false;
    if (variant == 3) options.interleaved = true;
    const auto scan = scanned(write_glb(folder.file("other.glb"), {glb_mesh(wall)}, options));
    CHECK(scan.mesh.points.size() == reference.mesh.points.size());
    CHECK(scan.mesh.triangles.size() == reference.mesh.triangles.size());
    CHECK(scan.raw_area_m2 == Approx(reference.raw_area_m2).epsilon(1e-12));
    CHECK(glm::length(vector_area(scan.mesh) - vector_area(reference.mesh)) < 1e-9);
  }
}

TEST_CASE("strips and fans are read as triangles with the right side out") {
  const TestFolder folder;
  GlbMesh mesh;
  mesh.points = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 0}, {0, 2, 0}, {1, 2, 0}};
  GlbOptions options;
  options.mode = 5;
  options.order = {0, 1, 2, 3, 4, 5};
  const auto strip = scanned(write_glb(folder.file("strip.glb"), {mesh}, options));
  CHECK(strip.mesh.triangles.size() == 4);
  CHECK(strip.raw_area_m2 == Approx(2));
  CHECK(vector_area(strip.mesh).y == Approx(-2));  // +z of the file is -y of ours
  CHECK(strip.report.flipped == 0);
  options.mode = 6;
  options.order = {0, 1, 3, 5, 4, 2};
  const auto fan = scanned(write_glb(folder.file("fan.glb"), {mesh}, options));
  CHECK(fan.mesh.triangles.size() == 3);  // the last of the four has no area
  CHECK(fan.report.dropped_degenerate == 1);
  CHECK(fan.raw_area_m2 == Approx(2));
  CHECK(vector_area(fan.mesh).y < 0);
}

TEST_CASE("node transforms are applied and a mirrored node keeps its painted side") {
  const TestFolder folder;
  GlbMesh mesh = glb_mesh(y_up(flat_sheet(2, 1, 4, 2)));
  mesh.scale = {2, 3, 1};
  mesh.translation = {10, 0, 0};
  const auto scaled = scanned(write_glb(folder.file("scaled.glb"), {mesh}));
  CHECK(scaled.raw_area_m2 == Approx(12).epsilon(1e-6));
  CHECK(vector_area(scaled.mesh).y == Approx(-12).epsilon(1e-6));
  for (const Vec3& p : scaled.mesh.points) CHECK(p.x >= 10 - 1e-6);
  mesh.scale = {-1, 1, 1};
  const auto mirrored = scanned(write_glb(folder.file("mirrored.glb"), {mesh}));
  CHECK(vector_area(mirrored.mesh).y == Approx(-2).epsilon(1e-6));
  mesh.scale.clear(), mesh.translation.clear();
  mesh.rotation = {0, std::sin(kPi / 4), 0, std::cos(kPi / 4)};  // a quarter turn about the vertical
  const auto turned = scanned(write_glb(folder.file("turned.glb"), {mesh}));
  CHECK(vector_area(turned.mesh).x == Approx(2).epsilon(1e-6));
  mesh.rotation.clear();
  mesh.matrix = {0, 0, -1, 0, 0, 1, 0, 0, 1, 0, 0, 0, 5, 6, 7, 1};  // the same turn by columns, then moved
  const auto matrix = scanned(write_glb(folder.file("matrix.glb"), {mesh}));
  CHECK(vector_area(matrix.mesh).x == Approx(2).epsilon(1e-6));
  CHECK(matrix.mesh.points[0].z >= 6 - 1e-6);
}

TEST_CASE("several meshes that share a border are welded into one wall") {
  const TestFolder folder;
  GlbMesh left = glb_mesh(y_up(flat_sheet(2, 3, 4, 6))), right = left;
  right.translation = {2, 0, 0};
  const auto scan = scanned(write_glb(folder.file("two.glb"), {left, right}));
  CHECK(scan.raw_area_m2 == Approx(12).epsilon(1e-6));
  CHECK(scan.report.welded_points == 7);
  CHECK(scan.report.dropped_small_parts == 0);
  check_sheet(scan.mesh);
}

TEST_CASE("given normals decide the painter's side, and flip turns it round") {
  const TestFolder folder;
  GlbMesh mesh = glb_mesh(y_up(flat_sheet(4, 3, 8, 6)));
  mesh.normals.assign(mesh.points.size(), Vec3{0, 0, -1});  // away from what the winding says
  const std::string path = write_glb(folder.file("wall.glb"), {mesh});
  const auto scan = scanned(path);
  CHECK(vector_area(scan.mesh).y == Approx(12).epsilon(1e-6));
  CHECK(scan.report.flipped == 96);
  ScanOptions options;
  options.flip = true;
  CHECK(vector_area(scanned(path, options).mesh).y == Approx(-12).epsilon(1e-6));
}

TEST_CASE("a text glTF with its buffer inside or beside it is read; outside its folder it is not") {
  const TestFolder folder;
  GlbParts parts = glb_parts({glb_mesh(y_up(flat_sheet(4, 3, 2, 2)))});
  const auto write_text = [&](const std::string& uri) {
    parts.json["buffers"] = {{{"byteLength", parts.binary.size()}, {"uri", uri}}};
    const std::string text = parts.json.dump();
    return write_bytes(folder.file("wall.gltf"), {text.begin(), text.end()});
  };
  write_bytes(folder.file("wall.bin"), parts.binary);
  CHECK(scanned(write_text("wall.bin")).raw_area_m2 == Approx(12));
  CHECK(refusal(write_text("other.bin")).find(".bin") != std::string::npos);
  CHECK(refusal(write_text("../" + folder.file("").substr(5) + "wall.bin")).find(".bin") != std::string::npos);
  CHECK(refusal(write_text("$(touch x).bin")).find(".bin") != std::string::npos);
}

TEST_CASE("extensions that change how the surface is stored are refused by name, appearance is ignored") {
  const TestFolder folder;
  const GlbMesh mesh = glb_mesh(flat_sheet(4, 3, 2, 2));
  for (const std::string name :
       {"KHR_draco_mesh_compression", "EXT_meshopt_compression", "KHR_mesh_quantization", "VENDOR_unheard_of"}) {
    GlbOptions options;
    options.required = {"KHR_materials_unlit", name};
    CHECK(refusal(write_glb(folder.file("packed.glb"), {mesh}, options)).find(name) != std::string::npos);
  }
  GlbOptions options;
  options.required = {"KHR_materials_unlit", "KHR_texture_transform"};
  CHECK(scanned(write_glb(folder.file("painted.glb"), {mesh}, options)).raw_area_m2 == Approx(12));
}

TEST_CASE("files that are missing, empty, cut short or something else are refused") {
  const TestFolder folder;
  CHECK(refusal(folder.file("none.glb")).find("no such file") != std::string::npos);
  CHECK(refusal(write_bytes(folder.file("empty.glb"), {})).find("empty") != std::string::npos);
  CHECK(refusal(write_bytes(folder.file("text.glb"), {'h', 'e', 'l', 'l', 'o'})).find("not a glTF") !=
        std::string::npos);
  CHECK(refusal(write_bytes(folder.file("json.gltf"), {'{', '}'})).find("2.0") != std::string::npos);
  const auto whole = glb_bytes(glb_parts({glb_mesh(flat_sheet(4, 3, 8, 6))}));
  for (std::size_t keep = 4; keep + 1 < whole.size(); keep += whole.size() / 40) {
    const std::vector<unsigned char> cut(whole.begin(), whole.begin() + static_cast<std::ptrdiff_t>(keep));
    const std::string message = refusal(write_bytes(folder.file("cut.glb"), cut));
    CHECK((message.find("cut short") != std::string::npos || message.find("ends inside") != std::string::npos));
  }
  auto version1 = whole;
  version1[4] = 1;
  CHECK(refusal(write_bytes(folder.file("old.glb"), version1)).find("version 1") != std::string::npos);
}

TEST_CASE("accessors that point outside their buffers are refused, whatever their numbers") {
  const TestFolder folder;
  const GlbParts good = glb_parts({glb_mesh(flat_sheet(4, 3, 8, 6))});
  const auto broken = [&](auto change) {
    GlbParts parts = good;
    change(parts.json);
    return refusal(write_bytes(folder.file("broken.glb"), glb_bytes(parts)));
  };
  for (const std::uint64_t huge : {std::uint64_t{1000}, std::uint64_t{1} << 31, std::uint64_t{1} << 40,
                                   (std::uint64_t{1} << 63) / 6 * 2, ~std::uint64_t{0}}) {
    broken([&](auto& j) { j["accessors"][0]["count"] = huge; });
    broken([&](auto& j) { j["accessors"][1]["count"] = huge; });
    broken([&](auto& j) { j["accessors"][0]["byteOffset"] = huge; });
    broken([&](auto& j) { j["bufferViews"][0]["byteOffset"] = huge; });
    broken([&](auto& j) { j["bufferViews"][1]["byteLength"] = huge; });
  }
  for (const int index : {-2, 7, 1 << 30}) {
    broken([&](auto& j) { j["accessors"][0]["bufferView"] = index; });
    broken([&](auto& j) { j["bufferViews"][0]["buffer"] = index; });
    broken([&](auto& j) { j["meshes"][0]["primitives"][0]["attributes"]["POSITION"] = index; });
    broken([&](auto& j) { j["scenes"][0]["nodes"] = {index}; });
    broken([&](auto& j) { j["nodes"][0]["children"] = {index}; });
  }
  broken([&](auto& j) { j["nodes"][0]["mesh"] = 3; });
  broken([&](auto& j) { j["nodes"][0]["children"] = {0}; });  // its own child
  broken([&](auto& j) { j["scene"] = 4; });
  broken([&](auto& j) { j["accessors"][0]["type"] = "VEC2"; });
  broken([&](auto& j) { j["accessors"][0]["componentType"] = 5123; });
  broken([&](auto& j) { j["accessors"][1]["componentType"] = 5126; });
  broken([&](auto& j) { j["bufferViews"][0]["byteStride"] = 8; });
  broken([&](auto& j) { j["accessors"][0].erase("bufferView"); });
  broken([&](auto& j) { j["meshes"][0]["primitives"][0]["attributes"].erase("POSITION"); });
}

TEST_CASE("a corner number beyond the points, and coordinates that are no numbers, are refused") {
  const TestFolder folder;
  GlbMesh mesh = glb_mesh(flat_sheet(4, 3, 2, 2));
  mesh.triangles[3][1] = 77;
  CHECK(refusal(write_glb(folder.file("beyond.glb"), {mesh})).find("does not exist") != std::string::npos);
  mesh = glb_mesh(flat_sheet(4, 3, 2, 2));
  for (const double bad : {std::nan(""), HUGE_VAL, -HUGE_VAL}) {
    mesh.points[4].y = bad;
    CHECK(refusal(write_glb(folder.file("nan.glb"), {mesh})).find("point 4") != std::string::npos);
  }
  Sheet sheet = flat_sheet(4, 3, 2, 2);
  sheet.points[5].x = std::nan("");
  CHECK_FALSE(clean_scan(sheet.points, sheet.triangles, "scan", z_up()).ok());
}

TEST_CASE("sparse accessors replace the points they name") {
  const TestFolder folder;
  GlbParts parts = glb_parts({glb_mesh(flat_sheet(4, 3, 1, 1))});
  std::vector<unsigned char> where{3, 0}, what;
  const std::array<float, 3> moved{4, 0, 6};
  append_bytes(what, moved.data(), 12);
  add_accessor(parts, where, 5123, "SCALAR", 1);
  add_accessor(parts, what, 5126, "VEC3", 1);
  parts.json["accessors"][0]["sparse"] = {
      {"count", 1}, {"indices", {{"bufferView", 2}, {"componentType", 5123}}}, {"values", {{"bufferView", 3}}}};
  const auto scan = scanned(write_bytes(folder.file("sparse.glb"), glb_bytes(parts)), z_up());
  CHECK(scan.raw_area_m2 == Approx(4 * 6 / 2.0 + 3 * 4 / 2.0));
  parts.json["accessors"][0]["sparse"]["count"] = 2;
  refusal(write_bytes(folder.file("sparse2.glb"), glb_bytes(parts)));
}

TEST_CASE("a file with points only, or with no triangle of any area, is refused") {
  const TestFolder folder;
  GlbMesh mesh = glb_mesh(flat_sheet(4, 3, 2, 2));
  GlbOptions options;
  options.mode = 0;
  CHECK(refusal(write_glb(folder.file("cloud.glb"), {mesh}, options)).find("no triangles") != std::string::npos);
  for (Vec3& p : mesh.points) p.y = p.z = 0;
  CHECK(refusal(write_glb(folder.file("line.glb"), {mesh})).find("no area") != std::string::npos);
}
