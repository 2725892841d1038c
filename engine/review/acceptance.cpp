#include "engine/review/acceptance.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace pontata {

namespace {

constexpr double kGrain = 0.005;  // chart m

std::string place_text(ChartPoint p) {
  const auto grains = [](double x) { return static_cast<long long>(std::llround(x / kGrain)); };
  return fmt::format("{},{}", grains(p.u), grains(p.v));
}

}  // namespace

std::string cause_of(const Finding& finding) {
  std::string text = finding.rule;
  for (const GiornataId id : finding.giornate) text += fmt::format(" {}", id.value);
  text += fmt::format(" limit {:.6g} value {:.3g} at {}", finding.limit, finding.value, place_text(finding.chart));
  // Of the stretches, which may be many, a fingerprint: FNV-1a (Fowler, Noll and Vo, from memory), 64 bits.
  std::uint64_t print = 0xcbf29ce484222325u;
  for (const auto& line : finding.stretches)
    if (!line.empty())
      for (const char c : fmt::format(" {} {} {}", place_text(line.front()), place_text(line[line.size() / 2]),
                                      place_text(line.back())))
        print = (print ^ static_cast<unsigned char>(c)) * 0x100000001b3u;
  return text + fmt::format(" along {:016x}", print);
}

void mark_accepted(std::vector<Finding>& findings, WallId wall, std::span<const AcceptedFinding> accepted) {
  for (Finding& f : findings) {
    f.accepted.reset();
    const std::string cause = cause_of(f);
    for (const AcceptedFinding& a : accepted)
      if (a.wall == wall && a.rule == f.rule && a.giornate == f.giornate && a.cause == cause) f.accepted = a.reason;
  }
}

}  // namespace pontata
