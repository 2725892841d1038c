// A table for people (aligned columns, units in the heads) and for programs (CSV).
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace pontata {

struct Cell {
  std::string exact;  // as CSV gives it: full precision, decimal point
  std::string shown;  // as people see it
};
Cell cell(const std::string& text);
Cell cell(int value);
Cell cell(double value, int decimals);
Cell cell(std::optional<double> value, int decimals);  // none: empty in CSV, "-" shown

struct Table {
  struct Column {
    std::string key;    // CSV head, like area_m2
    std::string title;  // with its unit, like "area m²"
    bool right = true;  // numbers stand right
  };
  std::vector<Column> columns;
  std::vector<std::vector<Cell>> rows;

  std::string text() const;  // aligned, one row a line
  std::string csv() const;   // RFC 4180, UTF-8, with a head
};

}  // namespace pontata
