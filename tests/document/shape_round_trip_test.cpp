// Every shape saved and loaded: the same bytes, the same wall.
#include <nlohmann/json.hpp>

#include "engine/document/project_file.h"
#include "engine/wall/shape_sketch.h"
#include "tests/document/folders.h"
#include "tests/document/small_project.h"
#include "tests/fixtures/places.h"
#include "tests/fixtures/shapes.h"

using namespace pontata;
using Json = nlohmann::json;

namespace {

// Measures with many digits, and possible together.
ShapeSpec uneven(ShapeKind kind, fixtures::Random& random) {
  ShapeSpec spec = example_of(kind);
  for (const auto name : measures_of(kind))
    spec.*shape_measure(name).value *=
        name == "rise" || name == "inner" ? random.uniform(0.5, 0.7) : random.uniform(0.8, 1);
  return spec;
}

DocumentRef all_walls(fixtures::Random& random) {
  auto doc = std::make_shared<const Document>();
  for (const auto kind : all_shapes()) {
    const auto spec = uneven(kind, random);
    doc = done(add_shape_wall(*doc, std::string(shape_name(kind)), spec, {{1, 2, 3}, random.uniform(0, 360)}));
  }
  return doc;
}

}  // namespace

TEST_CASE("shapes of random measures come back the same from a project") {
  fixtures::Random random(12);
  const TemporaryFolder folder;
  const auto doc = all_walls(random);
  REQUIRE(save_project(*doc, folder.file("a.pontata")).ok());
  const auto loaded = open_project(folder.file("a.pontata"));
  INFO((loaded ? std::string() : loaded.problem().message()));
  REQUIRE(loaded.ok());
  REQUIRE(save_project(*loaded->document, folder.file("b.pontata")).ok());
  CHECK(bytes_of(folder.file("a.pontata")) == bytes_of(folder.file("b.pontata")));
  REQUIRE(loaded->document->walls.size() == doc->walls.size());
  for (std::size_t i = 0; i < doc->walls.size(); ++i) {
    const WallItem &was = *doc->walls[i], &is = *loaded->document->walls[i];
    INFO(fixtures::told(*was.shape));
    CHECK(is.wall->metric->area() == was.wall->metric->area());
    CHECK(is.wall->chart->places() == was.wall->chart->places());
    for (const auto& measure : shape_measures()) CHECK((*is.shape).*measure.value == (*was.shape).*measure.value);
  }
}

TEST_CASE("the schema lists the shapes and their measures, no more and no fewer") {
  const Json shape = Json::parse(
      bytes_of(fixtures::source_folder() +
               "/assets/project.schema.json"))["properties"]["walls"]["items"]["properties"]["shape"]["properties"];
  std::vector<std::string> names, keys{"kind"}, listed;
  for (const auto kind : all_shapes()) names.emplace_back(shape_name(kind));
  CHECK(shape["kind"]["enum"].get<std::vector<std::string>>() == names);
  for (const auto& measure : shape_measures()) keys.emplace_back(measure.name);
  for (const auto& item : shape.items()) listed.push_back(item.key());
  std::sort(keys.begin(), keys.end());
  std::sort(listed.begin(), listed.end());
  CHECK(listed == keys);
}
