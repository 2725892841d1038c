// Damaged GLB files: whatever the bytes, intake answers with a wall or with one problem, and never crashes.
#include <catch2/catch.hpp>
#include <map>
#include <string>

#include "engine/wall/scan.h"
#include "tests/fixtures/glb_writer.h"
#include "tests/fixtures/scans.h"
#include "tests/fuzz/answers.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

GlbMesh small_wall() {
  const Sheet sheet = y_up(flat_sheet(4, 3, 4, 3));
  GlbMesh mesh;
  mesh.points = sheet.points;
  mesh.triangles = sheet.triangles;
  mesh.normals.assign(mesh.points.size(), Vec3{0, 0, 1});
  mesh.translation = {1, 2, 3};
  return mesh;
}

nlohmann::json strange_value(Dice& dice) {
  switch (dice.below(12)) {
    case 0:
      return -1;
    case 1:
      return 0;
    case 2:
      return std::uint64_t{1} << dice.below(64);
    case 3:
      return -(std::int64_t{1} << dice.below(63));
    case 4:
      return 1e308;
    case 5:
      return 0.5;
    case 6:
      return "VEC3";
    case 7:
      return nullptr;
    case 8:
      return nlohmann::json::array({0, 0, 0});
    case 9:
      return nlohmann::json::object({{"count", 1}});
    case 10:
      return true;
    default:
      return static_cast<int>(dice.below(70000));
  }
}

// Any one value in the tree, by a random walk from the root.
nlohmann::json& any_value(nlohmann::json& root, Dice& dice) {
  nlohmann::json* at = &root;
  while (at->is_structured() && !at->empty() && dice.below(6) != 0) {
    auto it = at->begin();
    std::advance(it, static_cast<std::ptrdiff_t>(dice.below(at->size())));
    at = &*it;
  }
  return *at;
}

}  // namespace

TEST_CASE("GLB files with bytes changed, cut or repeated never crash intake") {
  const TestFolder folder;
  const std::string path = folder.file("damaged.glb");
  const auto good = glb_bytes(glb_parts({small_wall()}));
  Dice dice(101);
  for (int round = 0; round < rounds(); ++round) {
    auto bytes = good;
    const std::size_t changes = 1 + dice.below(8);
    for (std::size_t c = 0; c < changes; ++c) {
      const std::size_t at = dice.below(bytes.size());
      switch (dice.below(4)) {
        case 0:
          bytes[at] = static_cast<unsigned char>(dice.next());
          break;
        case 1:
          bytes[at] ^= static_cast<unsigned char>(1u << dice.below(8));
          break;
        case 2:
          bytes.resize(std::max<std::size_t>(1, at));
          break;
        default:
          bytes.insert(bytes.begin() + static_cast<std::ptrdiff_t>(at), bytes.begin(), bytes.begin() + 8);
          break;
      }
    }
    write_bytes(path, bytes);
    check_answer(path);
  }
}

TEST_CASE("well-formed GLB files with strange values never crash intake") {
  const TestFolder folder;
  const std::string path = folder.file("strange.glb");
  GlbOptions spread;
  spread.interleaved = true;
  Dice dice(202);
  for (int round = 0; round < rounds(); ++round) {
    GlbParts parts = glb_parts({small_wall(), small_wall()}, dice.below(2) ? GlbOptions{} : spread);
    parts.json["buffers"] = {{{"byteLength", parts.binary.size()}}};
    parts.json["accessors"][0]["sparse"] = {
        {"count", 2}, {"indices", {{"bufferView", 2}, {"componentType", 5123}}}, {"values", {{"bufferView", 1}}}};
    const std::size_t changes = 1 + dice.below(3);
    for (std::size_t c = 0; c < changes; ++c) any_value(parts.json, dice) = strange_value(dice);
    write_bytes(path, glb_bytes(parts));
    check_answer(path);
  }
}

TEST_CASE("deeply nested text never overflows intake's stack") {
  const TestFolder folder;
  for (const std::size_t depth : {std::size_t{1000}, std::size_t{2'000'000}}) {
    for (const bool closed : {true, false}) {
      std::string text = R"({"asset":{"version":"2.0"},"extras":)" + std::string(depth, '[');
      if (closed) text += std::string(depth, ']') + "}";
      const std::string path = folder.file("deep.gltf");
      write_bytes(path, {text.begin(), text.end()});
      check_answer(path);
    }
  }
}

TEST_CASE("corner soups of every kind give a sheet or a problem") {
  Dice dice(303);
  for (int round = 0; round < rounds() / 5; ++round) {
    const std::size_t n = 3 + dice.below(30);
    std::vector<Vec3> points;
    for (std::size_t i = 0; i < n; ++i)  // many exactly equal or collinear
      points.push_back({double(dice.below(4)), double(dice.below(4)), dice.below(3) ? 0.0 : double(dice.below(3))});
    std::vector<Triangle> triangles;
    for (std::size_t i = 0; i < 3 * n; ++i)
      triangles.push_back({static_cast<std::uint32_t>(dice.below(n)), static_cast<std::uint32_t>(dice.below(n)),
                           static_cast<std::uint32_t>(dice.below(n))});
    const auto result = clean_scan(points, triangles, "soup", {});
    if (!result.ok()) {
      CHECK_FALSE(result.problem().what.empty());
      continue;
    }
    std::map<std::pair<std::uint32_t, std::uint32_t>, int> directed;
    for (const Triangle& t : result->mesh.triangles)
      for (std::size_t k = 0; k < 3; ++k) CHECK(++directed[{t[k], t[(k + 1) % 3]}] == 1);
  }
}
