#include "engine/base/text.h"

#include <catch2/catch.hpp>

using namespace pontata;

TEST_CASE("text falls apart at its marks, empty parts kept") {
  CHECK(split("a,b,,c", ',') == std::vector<std::string>{"a", "b", "", "c"});
  CHECK(split("", ',') == std::vector<std::string>{""});
  CHECK(split(",", ',') == std::vector<std::string>{"", ""});
}
