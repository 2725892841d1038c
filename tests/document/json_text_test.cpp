#include "engine/document/json_text.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

using namespace pontata;
using Json = nlohmann::ordered_json;

TEST_CASE("keys keep their order and rows of numbers one line") {
  const Json json = {{"b", 1}, {"a", {{1, 2}, {3, 4}}}, {"empty", Json::object()}, {"none", Json::array()}};
  CHECK(json_text(json) == "{\n \"b\": 1,\n \"a\": [\n  [1, 2],\n  [3, 4]\n ],\n \"empty\": {},\n \"none\": []\n}\n");
}

TEST_CASE("every double reads back to itself") {
  for (const double value : {0.1, 1.0 / 3, 1e-300, 5e-324, 123456789.123456789, -0.0, std::nextafter(2.0, 3.0),
                             std::numeric_limits<double>::max()}) {
    const auto back = Json::parse(json_text({{"v", value}})).at("v").get<double>();
    CHECK(back == value);
    CHECK(std::signbit(back) == std::signbit(value));
  }
}

TEST_CASE("texts with quotes and broken bytes still make sound JSON") {
  const Json json = {{"name", "a \"b\" \\ \xff"}};
  CHECK(Json::parse(json_text(json)).at("name").get<std::string>().starts_with("a \"b\" \\ "));
}

TEST_CASE("long rows are broken into lines of whole triples and fours") {
  Json json = {{"row", Json::array()}};
  for (int i = 0; i < 30; ++i) json["row"].push_back(i);
  const std::string text = json_text(json);
  CHECK(Json::parse(text) == json);
  CHECK(text.find("\n  12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23,\n") != std::string::npos);
}
