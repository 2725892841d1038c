#include "engine/wall/scan.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "tests/fixtures/glb_writer.h"
#include "tests/fixtures/scans.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr double kPi = std::numbers::pi;

ScanOptions z_up() {
  ScanOptions options;
  options.y_up = false;
  return options;
}

ScanSurface cleaned(Sheet sheet, const ScanOptions& options = z_up()) {
  auto result = clean_scan(std::move(sheet.points), std::move(sheet.triangles), "scan", options);
  INFO((result ? std::string() : result.problem().message()));
  REQUIRE(result.ok());
  return std::move(*result);
}

ScanSurface scanned(const std::string& path, const ScanOptions& options = {}) {
  auto result = read_scan(path, options);
  INFO((result ? std::string() : result.problem().message()));
  REQUIRE(result.ok());
  return std::move(*result);
}

std::string refusal(const std::string& path, const ScanOptions& options = {}) {
  const auto result = read_scan(path, options);
  REQUIRE_FALSE(result.ok());
  CHECK(result.problem().where.find(path) != std::string::npos);
  CHECK_FALSE(result.problem().remedy.empty());
  return result.problem().message();
}

bool says(const ScanReport& report, const std::string& words) {
  return std::any_of(report.says.begin(), report.says.end(),
                     [&](const std::string& line) { return line.find(words) != std::string::npos; });
}

Vec3 vector_area(const SurfaceMesh& mesh) {
  Vec3 sum{0, 0, 0};
  for (const Triangle& t : mesh.triangles)
    sum += 0.5 * glm::cross(mesh.points[t[1]] - mesh.points[t[0]], mesh.points[t[2]] - mesh.points[t[0]]);
  return sum;
}

// Every edge in one or two triangles, in opposite directions; every border point on one border edge in and one out.
void check_sheet(const SurfaceMesh& mesh) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, int> directed;
  std::vector<int> out(mesh.points.size(), 0);
  for (const Triangle& t : mesh.triangles)
    for (std::size_t k = 0; k < 3; ++k) ++directed[{t[k], t[(k + 1) % 3]}];
  for (const auto& [edge, count] : directed) {
    CHECK(count == 1);
    if (!directed.contains({edge.second, edge.first})) ++out[edge.first];
  }
  CHECK(*std::max_element(out.begin(), out.end()) == 1);
  std::set<std::uint32_t> used;
  for (const Triangle& t : mesh.triangles) used.insert(t.begin(), t.end());
  CHECK(used.size() == mesh.points.size());
  REQUIRE(mesh.normals.size() == mesh.points.size());
  for (const Vec3& n : mesh.normals) CHECK(std::abs(glm::length(n) - 1) < 1e-9);
}

GlbMesh glb_mesh(const Sheet& sheet) {
  GlbMesh mesh;
  mesh.points = sheet.points;
  mesh.triangles = sheet.triangles;
  return mesh;
}

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

TEST_CASE("placement turns and moves the scan") {
  ScanOptions options = z_up();
  options.placement = {{1, 2, 3}, 90};
  const auto scan = cleaned(flat_sheet(4, 3, 4, 3), options);
  CHECK(vector_area(scan.mesh).x == Approx(12));
  CHECK(scan.mesh.points[0].x == Approx(1));
  CHECK(scan.mesh.points[0].z == Approx(3));
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

TEST_CASE("a wall of an absurd size asks for the unit and names the likely one") {
  const TestFolder folder;
  const std::string path = write_glb(folder.file("mm.glb"), {glb_mesh(flat_sheet(3200, 2000, 4, 4))});
  const std::string message = refusal(path);
  CHECK(message.find("3.2 km") != std::string::npos);
  CHECK(message.find("--unit mm") != std::string::npos);
  ScanOptions options;
  options.unit_m = 0.001;
  CHECK(scanned(path, options).raw_area_m2 == Approx(6.4));
  const std::string small = write_glb(folder.file("small.glb"), {glb_mesh(flat_sheet(4, 3, 4, 4))});
  CHECK(refusal(small, options).find("4.0 mm") != std::string::npos);
}

TEST_CASE("units have their lengths and others are refused") {
  CHECK(*scan_unit("mm") == 0.001);
  CHECK(*scan_unit("cm") == 0.01);
  CHECK(*scan_unit("m") == 1);
  CHECK(*scan_unit("ft") == 0.3048);  // international foot, exact by definition
  CHECK(*scan_unit("in") == 0.0254);
  CHECK_FALSE(scan_unit("yard").ok());
  CHECK_FALSE(scan_unit("").ok());
}

TEST_CASE("a damaged dome comes back whole, its area within a thousandth") {
  // Spherical cap 2 pi R h, CHECKS.md: a = 3, h = 1: R = 5.
  const double radius = 5, half_angle = std::asin(3.0 / 5.0), area = 2 * kPi * radius * 1;
  const Sheet dome = cap_sheet(radius, half_angle, 40);
  Dice dice(7);
  Sheet scan = shattered(dome, 4e-6, dice);
  for (std::size_t i = 0; i < scan.triangles.size(); ++i)
    if (dice.unit() < 0.2) std::swap(scan.triangles[i][0], scan.triangles[i][1]);
  for (std::size_t k = 0; k < 200; ++k) {
    Triangle copy = scan.triangles[17 * k];
    std::rotate(copy.begin(), copy.begin() + 1, copy.end());
    scan.triangles.push_back(copy);
    scan.triangles.push_back({copy[0], copy[0], copy[1]});
  }
  append(scan, flat_sheet(0.3, 0.2, 3, 3));
  const auto out = cleaned(scan);
  CHECK(out.raw_area_m2 == Approx(area).epsilon(1e-3));
  CHECK(out.mesh.triangles.size() == dome.triangles.size());
  CHECK(out.mesh.points.size() == dome.points.size());
  CHECK(out.report.dropped_small_parts == 1);
  CHECK(out.report.dropped_duplicate == 200);
  CHECK(out.report.dropped_degenerate == 200);
  CHECK(out.report.flipped > 0);
  CHECK(out.report.holes == 0);
  CHECK(vector_area(out.mesh).z == Approx(-9 * kPi).epsilon(1e-3));  // its plan, seen from below
  CHECK(says(out.report, "loose part"));
  check_sheet(out.mesh);
}

TEST_CASE("holes are counted and the longest rim measured") {
  Sheet wall = flat_sheet(4, 4, 16, 16);
  std::vector<Triangle> kept;
  for (const Triangle& t : wall.triangles) {
    const Vec3 c = (wall.points[t[0]] + wall.points[t[1]] + wall.points[t[2]]) / 3.0;
    const bool window = c.x > 1 && c.x < 2 && c.z > 1 && c.z<3, chip = c.x> 3 && c.x < 3.25 && c.z > 3 && c.z < 3.25;
    if (!window && !chip) kept.push_back(t);
  }
  wall.triangles = kept;
  const auto out = cleaned(wall);
  CHECK(out.report.holes == 2);
  CHECK(out.report.longest_hole_rim_m == Approx(6));
  CHECK(says(out.report, "2 holes"));
  check_sheet(out.mesh);
}

TEST_CASE("a fin standing on the wall is cut off and the wall kept") {
  Sheet wall = flat_sheet(4, 4, 4, 4);
  Sheet fin = grid_sheet(4, 1, [](double s, double t) { return Vec3{4 * s, -0.5 * t, 2}; });
  append(wall, fin);
  const auto out = cleaned(wall);
  CHECK(out.raw_area_m2 == Approx(16));
  CHECK(out.report.dropped_small_parts == 1);
  CHECK(says(out.report, "more than two triangles"));
  check_sheet(out.mesh);
}

TEST_CASE("two sheets that touch in one point stay two borders") {
  Sheet wall = flat_sheet(2, 2, 4, 4);
  std::vector<Triangle> kept;  // a window whose corner touches the wall's corner region: a pinched border
  for (const Triangle& t : wall.triangles) {
    const Vec3 c = (wall.points[t[0]] + wall.points[t[1]] + wall.points[t[2]]) / 3.0;
    if (!(c.x > 0.5 && c.x < 1 && c.z > 0.5 && c.z < 1) && !(c.x > 1 && c.x < 1.5 && c.z > 1 && c.z < 1.5))
      kept.push_back(t);
  }
  wall.triangles = kept;
  const auto out = cleaned(wall);
  CHECK(out.mesh.points.size() == wall.points.size() + 1);  // the shared corner is now two points
  CHECK(out.report.holes == 1);                             // the two windows have become one slot
  check_sheet(out.mesh);
}

TEST_CASE("a twisted band is cut so that it has a front") {
  const int n = 60;
  Sheet band = grid_sheet(n, 2, [](double s, double t) {
    const double a = 2 * kPi * s, w = t - 0.5;
    return Vec3{(2 + w * std::cos(a / 2)) * std::cos(a), (2 + w * std::cos(a / 2)) * std::sin(a), w * std::sin(a / 2)};
  });
  const auto out = cleaned(band);
  CHECK(out.raw_area_m2 == Approx(sheet_area(band)).epsilon(1e-9));
  CHECK(says(out.report, "twists"));
  check_sheet(out.mesh);
}

TEST_CASE("a closed surface is refused in plain words") {
  Sheet ball = cap_sheet(1, kPi / 2, 8), below = ball;
  for (Vec3& p : below.points) p.z = -p.z;
  for (Triangle& t : below.triangles) std::swap(t[1], t[2]);
  append(ball, below);
  const auto result = clean_scan(ball.points, ball.triangles, "ball", z_up());
  REQUIRE_FALSE(result.ok());
  CHECK(result.problem().message().find("closes on itself") != std::string::npos);
}

TEST_CASE("needles and flat triangles are mended without moving the surface") {
  Sheet wall = flat_sheet(4, 4, 8, 8);
  const auto split = [&](std::size_t t, double w0, double w1) {  // a point almost on an edge, or almost at a corner
    const Triangle old = wall.triangles[t];
    const auto p = static_cast<std::uint32_t>(wall.points.size());
    wall.points.push_back(w0 * wall.points[old[0]] + w1 * wall.points[old[1]] + (1 - w0 - w1) * wall.points[old[2]]);
    wall.triangles[t] = {old[0], old[1], p};
    wall.triangles.push_back({old[1], old[2], p});
    wall.triangles.push_back({old[2], old[0], p});
  };
  split(40, 0.5, 0.5 - 1e-7);
  split(61, 1 - 8e-5, 4e-5);
  split(0, 0.5, 0.5 - 1e-7);  // on the border
  const auto out = cleaned(wall);
  CHECK(out.raw_area_m2 == Approx(16).epsilon(1e-6));
  CHECK(says(out.report, "needle-thin"));
  for (const Triangle& t : out.mesh.triangles) {
    const Vec3 a = out.mesh.points[t[0]], b = out.mesh.points[t[1]], c = out.mesh.points[t[2]];
    const double longest = std::max({glm::length(b - a), glm::length(c - b), glm::length(a - c)});
    CHECK(glm::length(glm::cross(b - a, c - a)) / longest > 4e-6);
  }
  check_sheet(out.mesh);
}

TEST_CASE("smoothing keeps of a wave what its length allows") {
  // Two backward Euler steps of the heat flow: (1 + s k^2)^-2 with s = (w / 2 pi)^2 / 2; in closed form (2/3)^2 at the
  // wavelength itself, (1/9)^2 at a quarter of it, (32/33)^2 at four times.
  const double w = 0.060;
  const auto left = [&](double length) {
    const double k = 2 * kPi / length;
    const Sheet wave = grid_sheet(600, 40, [&](double s, double t) {
      return Vec3{8 * length * s, 0.001 * length * std::sin(k * 8 * length * s), 0.3 * length * t};
    });
    const auto normals = smoothed_normals(wave.points, wave.triangles, w);
    double most = 0;
    for (std::size_t i = 150; i <= 450; ++i) most = std::max(most, std::abs(normals[20 * 601 + i].x));
    return most / (0.001 * length * k);
  };
  CHECK(left(w) == Approx(4.0 / 9).epsilon(0.01));
  CHECK(left(w / 4) == Approx(1.0 / 81).epsilon(0.02));
  CHECK(left(4 * w) == Approx(1024.0 / 1089).epsilon(0.01));
}

TEST_CASE("smoothed normals of a rough wall lie near the wall's own, and of a dome on its radii") {
  Dice dice(3);
  const Sheet wall = grid_sheet(100, 100, [&](double s, double t) {
    return Vec3{s, dice.between(-0.002, 0.002), t};  // 1 m, points every 10 mm, 2 mm of noise
  });
  const auto tilt = [](const std::vector<Vec3>& normals) {
    double sum = 0;
    for (const Vec3& n : normals) sum += std::acos(std::min(1.0, -n.y));
    return sum / static_cast<double>(normals.size());
  };
  const double raw = tilt(smoothed_normals(wall.points, wall.triangles, 0));
  CHECK(raw > 0.08);
  CHECK(tilt(smoothed_normals(wall.points, wall.triangles, 0.060)) < raw / 3);
  CHECK(tilt(smoothed_normals(wall.points, wall.triangles, 0.240)) < raw / 10);
  const Sheet dome = cap_sheet(3, 1.0, 60);
  const auto normals = smoothed_normals(dome.points, dome.triangles, 0.060);
  double worst = 0;
  for (std::size_t i = 0; i < normals.size(); ++i)
    worst = std::max(worst, glm::length(normals[i] + dome.points[i] / 3.0));
  CHECK(worst < 0.02);  // at the rim half the neighbours are missing
}

TEST_CASE("iterative and direct smoothing agree") {
  Dice dice(5);
  // 250 x 250 points are above the limit of the direct solve, the quarter is below: inside they must agree.
  const auto rough = [&](int n) {
    return grid_sheet(n, n, [](double s, double t) {
      return Vec3{s, 0.002 * std::sin(900 * s) * std::cos(700 * t), t};
    });
  };
  const Sheet big = rough(250);
  Sheet quarter;
  quarter = grid_sheet(200, 200, [](double s, double t) {
    return Vec3{0.8 * s, 0.002 * std::sin(720 * s) * std::cos(560 * t), 0.8 * t};
  });
  const auto a = smoothed_normals(big.points, big.triangles, 0.060);
  const auto b = smoothed_normals(quarter.points, quarter.triangles, 0.060);
  double worst = 0;
  for (int j = 0; j < 100; ++j)
    for (int i = 0; i < 100; ++i)
      worst = std::max(
          worst, glm::length(a[static_cast<std::size_t>(j * 251 + i)] - b[static_cast<std::size_t>(j * 201 + i)]));
  CHECK(worst < 1e-4);
}

TEST_CASE("the same scan gives the same bytes") {
  Dice dice(11);
  const Sheet rough = shattered(cap_sheet(2, 0.9, 20), 5e-6, dice);
  const auto one = cleaned(rough), two = cleaned(rough);
  CHECK(one.mesh.points == two.mesh.points);
  CHECK(one.mesh.normals == two.mesh.normals);
  CHECK(one.mesh.triangles == two.mesh.triangles);
  CHECK(one.report.says == two.report.says);
}

TEST_CASE("a cancelled scan stops with a problem") {
  Progress progress;
  progress.cancelled = true;
  const Sheet wall = flat_sheet(4, 4, 8, 8);
  CHECK_FALSE(clean_scan(wall.points, wall.triangles, "scan", z_up(), &progress).ok());
}
