#include "engine/review/rule_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "engine/base/units.h"

namespace pontata {

std::span<const RuleWords> all_rules() {
  static constexpr std::array<RuleWords, 19> kRules{{
      {"too-large", "too large for its day", "h"},
      {"crosses-keep-whole", "seam through an area to keep whole", "m", 1, 2},
      {"thin-end", "thin end or tip", "mm", 1, 0},
      {"off-contour", "off the picture's contours", "% of its length", 100, 0},
      {"drips-on-finished", "drips or splashes on finished work", "", 1, 2},
      {"gap", "a piece of no giornata", "cm²", 1e4, 2},
      {"changed-since-cartoon", "changed since its cartoon was printed", ""},
      {"across-smooth", "across smooth ground", "m", 1, 2},
      {"four-meet", "four or more meet in a point", "giornate", 1, 0},
      {"in-line", "seams in one line", "m", 1, 2},
      {"kink", "kink", "°", 1, 0},
      {"too-small", "too small for a day", "h"},
      {"too-wide", "too wide for one painter", "m", 1, 2},
      {"out-of-reach", "out of reach of its deck", "m", 1, 2},
      {"crosses-deck", "goes on above the next deck", "m", 1, 2},
      {"along-rib", "along a rib or arris", "m", 1, 2},
      {"across-rib", "across a rib or arris", "places", 1, 0},
      {"lower-before-upper", "lower before upper", "m", 1, 2},
      {"overlap-impossible", "two wet on one day share a seam", "m", 1, 2},
  }};
  return kRules;
}

namespace {

const RuleWords* words_of(std::string_view rule) {
  const auto found = std::ranges::find(all_rules(), rule, &RuleWords::rule);
  return found == all_rules().end() ? nullptr : &*found;
}

}  // namespace

std::string_view rule_title(std::string_view rule) {
  const RuleWords* words = words_of(rule);
  return words ? words->title : rule;
}

std::string_view severity_words(const Finding& f) {
  if (f.accepted) return "accepted";
  return f.severity == Severity::decide ? "decide first" : f.severity == Severity::warn ? "warning" : "note";
}

std::string value_words(const Finding& f, const ReviewSettings& settings) {
  const RuleWords* words = words_of(f.rule);
  if (!words || f.rule == "changed-since-cartoon" || f.rule == "drips-on-finished") return "";
  std::string_view unit = words->unit;
  if (f.rule == "thin-end" && f.limit == settings.tip_deg && f.limit != settings.tip_mm) unit = "°";
  const auto number = [&](double value) {
    const std::string text = format_fixed(value * words->scale, words->decimals);
    return unit.empty() ? text : unit == "°" ? text + "°" : fmt::format("{} {}", text, unit);
  };
  return f.limit > 0 ? fmt::format("{}, limit {}", number(f.value), number(f.limit)) : number(f.value);
}

}  // namespace pontata
