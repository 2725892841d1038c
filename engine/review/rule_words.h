// The rules of the review in plain words.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "engine/review/findings.h"

namespace pontata {

struct RuleWords {
  std::string_view rule;   // "off-contour"
  std::string_view title;  // "off the picture's contours"
  std::string_view unit;   // of value and limit: "m", "h"; empty: a number
  double scale = 1;        // what is shown is the value times this
  int decimals = 1;
};

// Every rule, in the order of findings.h.
std::span<const RuleWords> all_rules();
// The rule's title; its name where it is none of them.
std::string_view rule_title(std::string_view rule);

// "decide first", "warning", "note"; "accepted" where it may stay.
std::string_view severity_words(const Finding& finding);

// "0.62 m, limit 0.30 m", "7.9 h, limit 7.0 h"; a limit of 0 is left out. Empty where what it says tells all.
std::string value_words(const Finding& finding, const ReviewSettings& settings);

}  // namespace pontata
