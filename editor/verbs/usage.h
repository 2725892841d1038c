// What one verb takes: declared here, parsed by CLI11 behind it, every value checked and given its unit on the way in.
// A value that does not parse is wrong usage (exit 2).
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/base/dates.h"
#include "engine/base/lattice.h"
#include "engine/base/vec.h"

namespace CLI {
class App;
}

namespace pontata {

class Usage {
 public:
  explicit Usage(CLI::App& app) : app_(app) {}

  void needs(std::string& value, const std::string& name,
             const std::string& help);  // in this place, required, not empty
  void may_take(std::optional<std::string>& value, const std::string& name, const std::string& help);
  void needs_id(std::uint32_t& value, const std::string& name, const std::string& help);
  void may_take_id(std::optional<std::uint32_t>& value, const std::string& name, const std::string& help);

  void text(std::optional<std::string>& value, const std::string& flag, const std::string& kind,
            const std::string& help);
  void text_required(std::string& value, const std::string& flag, const std::string& kind, const std::string& help);
  // May be given several times, in order.
  void texts(std::vector<std::string>& values, const std::string& flag, const std::string& kind,
             const std::string& help);
  void choice(std::optional<std::string>& value, const std::string& flag, const std::vector<std::string>& choices,
              const std::string& help);
  void length(std::optional<double>& metres, const std::string& flag, const std::string& help);
  void angle(std::optional<double>& degrees, const std::string& flag, const std::string& help);
  void count(std::optional<std::uint32_t>& value, const std::string& flag, const std::string& help);  // 1, 2, ...
  void number(std::optional<double>& value, const std::string& flag, const std::string& help);
  void place(std::optional<ChartPoint>& value, const std::string& flag, const std::string& help);  // U,V in lengths
  void place3(std::optional<Vec3>& value, const std::string& flag, const std::string& help);       // X,Y,Z in lengths
  // Two opposite corners X0,Y0,Z0,X1,Y1,Z1 in lengths, given back lowest first.
  void box(std::optional<std::pair<Vec3, Vec3>>& value, const std::string& flag, const std::string& help);
  void size(std::optional<std::pair<int, int>>& value, const std::string& flag, const std::string& help);  // WxH
  void ids(std::vector<std::uint32_t>& value, const std::string& flag, const std::string& help);           // 1,2,7
  void date(std::optional<Date>& value, const std::string& flag, const std::string& help);                 // 2027-05-04
  // One day, or the first and the last of several: 2027-05-04..2027-05-08.
  void dates(std::optional<std::pair<Date, Date>>& value, const std::string& flag, const std::string& help);
  void flag(bool& value, const std::string& flag, const std::string& help);

 private:
  CLI::App& app_;
};

// Runs the verb once its arguments are read; the exit status.
using VerbTask = std::function<int()>;

struct Verb {
  const char* name;
  const char* summary;
  VerbTask (*declare)(Usage& usage);
};

}  // namespace pontata
