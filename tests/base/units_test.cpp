#include "engine/base/units.h"

#include <catch2/catch.hpp>

using namespace pontata;

TEST_CASE("lengths with and without a unit, comma or point") {
  CHECK(*parse_length("4.2m") == Approx(4.2));
  CHECK(*parse_length("15mm") == Approx(0.015));
  CHECK(*parse_length("15 mm") == Approx(0.015));
  CHECK(*parse_length("4,2") == Approx(4.2));
  CHECK(*parse_length("-30cm") == Approx(-0.3));
  CHECK(*parse_length("1ft") == Approx(0.3048));
  CHECK(*parse_length("2in") == Approx(0.0508));
}

TEST_CASE("lengths that are not lengths") {
  for (const char* bad : {"", "m", "four", "4 parsec", "nan", "inf", "1e999", "4m2", "--3"}) {
    INFO(bad);
    CHECK_FALSE(parse_length(bad));
  }
  CHECK(parse_length("four").problem().message() == "\"four\" is not a length. Write it like 4.2m, 35cm or 15mm.");
}

TEST_CASE("numbers read back to the same double") {
  for (double v : {0.1, 1.0 / 3, 1e-12, 123456789.25, -0.0}) CHECK(*parse_number(format_number(v)) == v);
  CHECK(format_fixed(-0.0001, 2) == "0.00");
  CHECK(format_fixed(1.005, 1) == "1.0");
}
