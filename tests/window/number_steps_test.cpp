// What a field's number becomes when its name is dragged.
#include "editor/window/number_steps.h"

#include <catch2/catch.hpp>

#include "engine/base/units.h"

using namespace pontata;

TEST_CASE("a dragged number goes by a twentieth of its power of ten, and lands on round values") {
  CHECK(stepped("8", FieldKind::number, 3) == "8.15");
  CHECK(stepped("8", FieldKind::number, -160) == "0");
  CHECK(stepped("12", FieldKind::number, 1) == "12.5");
  CHECK(stepped("0.25", FieldKind::number, 2) == "0.26");
  CHECK(stepped("0,25", FieldKind::number, 2) == "0.26");  // a comma is as good as a point
  CHECK(stepped("8", FieldKind::number, 3, true) == "8.015");
  CHECK(stepped("8.123", FieldKind::number, 0) == "8.123");  // not moved: as it was typed
}

TEST_CASE("what is no number yet is dragged from nothing") {
  CHECK(stepped("none", FieldKind::number, 2) == "0.2");
  CHECK(stepped("", FieldKind::whole, 2) == "2");
}

TEST_CASE("whole numbers go by whole steps") {
  CHECK(stepped("3", FieldKind::whole, -2) == "1");
  CHECK(stepped("30", FieldKind::whole, 4) == "34");
  CHECK(stepped("100", FieldKind::whole, 1, true) == "105");
}

TEST_CASE("days are dragged by days, over ends of months and leap days") {
  CHECK(stepped("2028-02-27", FieldKind::date, 3) == "2028-03-01");
  CHECK(stepped("2027-01-01", FieldKind::date, -1) == "2026-12-31");
  CHECK_FALSE(stepped("soon", FieldKind::date, 1));
  CHECK_FALSE(stepped("1-5", FieldKind::text, 1));
}

TEST_CASE("dragged to the right a number grows, whatever its size") {
  for (const double value : {0.01, 0.3, 2.5, 40.0, 720.0}) {
    const auto there = stepped(format_number(value), FieldKind::number, 1);
    REQUIRE(there);
    CHECK(*parse_number(*there) > value);
  }
}
