#include "engine/palette/pigments.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cctype>
#include <regex>
#include <set>

using namespace pontata;

namespace {

std::string small(std::string_view text) {
  std::string out;
  for (const char c : text) out += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return out;
}

bool says(const std::vector<std::string>& words, const std::string& part) {
  return std::ranges::any_of(words, [&](const std::string& w) { return w.find(part) != std::string::npos; });
}

}  // namespace

TEST_CASE("every pigment has a name of its own, a generic name, a reason and a source, in order") {
  std::set<std::string> names;
  std::string last;
  for (const Pigment& p : pigments()) {
    INFO(std::string(p.common));
    CHECK(names.insert(small(p.common)).second);
    CHECK(last < small(p.common));
    last = small(p.common);
    CHECK(std::regex_match(std::string(p.colour_index), std::regex("(P(B|Bk|Br|G|R|V|W|Y)|N(B|R)) [0-9]+")));
    CHECK_FALSE(p.why.empty());
    const std::string source(p.source);
    CHECK((source.starts_with("CAMEO") || source == "common practice, no source" || source.starts_with("from memory")));
    CHECK(pigment_named(p.common) == &p);
    REQUIRE(pigment_named(p.colour_index));
    CHECK(pigment_named(p.colour_index)->colour_index == p.colour_index);
  }
}

// CAMEO, Museum of Fine Arts Boston, "Fresco pigments": carbon black, iron oxides, cobalt blue accepted; Prussian blue
// and chrome yellow discolour; some ultramarines and ivory black effloresce; lead white may blacken.
TEST_CASE("what the source says stands in the table") {
  const auto state = [](const char* name) {
    REQUIRE(pigment_named(name));
    CHECK(std::string(pigment_named(name)->source).starts_with("CAMEO"));
    return pigment_named(name)->fastness;
  };
  for (const char* name : {"carbon black", "cobalt blue", "red iron oxide", "yellow ochre"})
    CHECK(state(name) == LimeFastness::accepted);
  for (const char* name : {"Prussian blue", "chrome yellow", "lead white"}) CHECK(state(name) == LimeFastness::avoid);
  for (const char* name : {"ultramarine", "ivory black"}) CHECK(state(name) == LimeFastness::disputed);
}

TEST_CASE("names are found in any case, with or without their space") {
  for (const char* name : {"PB 28", "pb28", "Pb-28", "Cobalt Blue", "cobaltblue"}) {
    REQUIRE(pigment_named(name));
    CHECK(pigment_named(name)->common == "cobalt blue");
  }
  for (const char* name : {"", " ", "PX 7", "PB 2"}) CHECK_FALSE(pigment_named(name));
}

TEST_CASE("a palette's words name what is disputed, to be avoided, unknown or toxic, each once") {
  const std::vector<std::string> good{"PR 102", "lime white", "vine black"};
  CHECK(palette_words(good).size() == 1);  // quartz in the ochre
  const std::vector<std::string> bad{"PW 1", "pw1", "PB 29", "moonshine"};
  const auto words = palette_words(bad);
  CHECK(words.size() == 4);
  CHECK(says(words, "lead white (PW 1): to be avoided in lime"));
  CHECK(says(words, "Lead: toxic"));
  CHECK(says(words, "ultramarine (PB 29): disputed in lime"));
  CHECK(says(words, "moonshine: not in our list"));
  CHECK(palette_words({}).empty());
}
