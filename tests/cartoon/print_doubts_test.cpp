#include "engine/cartoon/print_doubts.h"

#include <catch2/catch.hpp>

using namespace pontata;

TEST_CASE("patterns that are not true are told, by what is off and how far") {
  CartoonReport report;
  for (int n = 1; n <= 4; ++n) {
    CartoonReport::Row row;
    row.number = n, row.misfit_mm = 1.4, row.seam_mismatch_mm = 0.4, row.worst_line_mm = 1.4;
    report.giornate.push_back(row);
  }
  CHECK(print_doubts(report, 1.5).empty());
  report.giornate[1].seam_mismatch_mm = 12.34;
  report.giornate[2].worst_line_mm = 4.06;
  report.giornate[3].misfit_mm = 1.6;
  const auto doubts = print_doubts(report, 1.5);
  REQUIRE(doubts.size() == 3);
  CHECK(doubts[0].find("giornata 2: its seams") == 0);
  CHECK(doubts[0].find("12.3 mm") != std::string::npos);
  CHECK(doubts[1].find("giornata 3: its seams are true") == 0);
  CHECK(doubts[1].find("4.1 mm") != std::string::npos);
  CHECK(doubts[2].find("giornata 4: its seams are up to 1.6 mm") == 0);
  CHECK(print_doubts(report, 2).size() == 2);
}
