// Pigments and what is known of them in lime.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace pontata {

// No source gives fastness in lime by Colour Index number, and sources conflict: three states, each with its source.
enum class LimeFastness { accepted, disputed, avoid };
std::string_view fastness_word(LimeFastness fastness);

struct Pigment {
  std::string_view common;        // "red ochre", shown first
  std::string_view colour_index;  // "PR 101" or "PR 102"; the Colour Index generic name
  LimeFastness fastness = LimeFastness::disputed;
  std::string_view why;      // one line
  std::string_view source;   // "CAMEO, Museum of Fine Arts Boston, Fresco pigments"; or "common practice, no source"
  std::string_view caution;  // toxic ones; else empty
};
std::span<const Pigment> pigments();  // by common name
// By common name or Colour Index name, in any case and with or without its space; nullptr when it is not known.
const Pigment* pigment_named(std::string_view name);

// Warnings of a giornata's list, plain words: those disputed or to avoid, those not known, toxic ones' cautions.
std::vector<std::string> palette_words(std::span<const std::string> colour_index_names);

}  // namespace pontata
