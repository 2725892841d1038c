#include <algorithm>
#include <catch2/catch.hpp>

#include "engine/plaster/mortar.h"

using namespace pontata;

namespace {

bool says(const std::vector<std::string>& warnings, const std::string& words) {
  return std::any_of(warnings.begin(), warnings.end(),
                     [&](const std::string& w) { return w.find(words) != std::string::npos; });
}

PlasterSettings one_coat(double mm, Mix mix, const std::string& name = "final") {
  PlasterSettings s;
  s.intonaco = {{name, mm, mix}};
  return s;
}

}  // namespace

TEST_CASE("mortar is the sand's grains and the putty, but never less than the sand") {
  // Voids of sand about 1/3: "Building Construction V2", Proportions of Materials, section 223.
  // Lean limit, mortar equals sand: Building Conservation Directory 2022, p. 53.
  const double voids = 1.0 / 3.0;
  CHECK(mortar_yield_L(1, 1, voids) == Approx(1.667).epsilon(3e-4));
  CHECK(mortar_yield_L(1, 2, voids) == Approx(2.333).epsilon(3e-4));
  CHECK(mortar_yield_L(1, 3, voids) == Approx(3.0));
  CHECK(mortar_yield_L(1, 4, voids) == Approx(4.0));  // the putty only fills the voids
  CHECK(mortar_yield_L(10, 20, voids) == Approx(10 * mortar_yield_L(1, 2, voids)));
}

TEST_CASE("a mix reads as people write it and reads back") {
  const auto plain = parse_mix("1:2");
  REQUIRE(plain.ok());
  CHECK(plain->putty == 1);
  CHECK(plain->sand == 2);
  CHECK(plain->basis == MixBasis::by_volume);
  const auto comma = parse_mix("1 : 2,5 by weight");
  REQUIRE(comma.ok());
  CHECK(comma->sand == 2.5);
  CHECK(comma->basis == MixBasis::by_weight);
  CHECK(describe(*comma) == "1 lime putty : 2.5 sand, by weight");
  CHECK(format_mix(*parse_mix(format_mix(*comma))) == "1:2.5 weight");
}

TEST_CASE("what is no mix is refused") {
  for (const char* text :
       {"", "1", "1:", ":2", "0:1", "1:0", "1:-2", "1:2 buckets", "1:2:3", "a:b", "1:nan", "1:inf"}) {
    INFO(text);
    CHECK_FALSE(parse_mix(text).ok());
  }
}

TEST_CASE("a mix by weight is converted through the densities, one by volume is left alone") {
  PlasterSettings s;
  // 1 kg putty is 1/1.40 L, 2 kg sand are 2/1.45 L: by hand 1 : 1.931.
  CHECK(by_volume({1, 2, MixBasis::by_weight}, s).sand == Approx(2 / 1.45 * 1.40));
  CHECK(by_volume({1, 2, MixBasis::by_weight}, s).basis == MixBasis::by_volume);
  s.sand_kg_per_L = 2.9;
  CHECK(by_volume({1, 2, MixBasis::by_volume}, s).sand == 2);
}

TEST_CASE("the usual coats give no warning") { CHECK(mix_warnings(PlasterSettings{}).empty()); }

TEST_CASE("rich, lean, thin and thick coats are warned of") {
  CHECK(says(mix_warnings(one_coat(7, {1, 0.8})), "richer than 1 lime putty : 1 sand"));
  CHECK_FALSE(says(mix_warnings(one_coat(7, {1, 1})), "richer"));
  CHECK(says(mix_warnings(one_coat(7, {1, 3.5})), "leaner than 1 lime putty : 3 sand"));
  CHECK_FALSE(says(mix_warnings(one_coat(7, {1, 3})), "leaner"));
  CHECK(says(mix_warnings(one_coat(2.5, {1, 1})), "below 3 mm"));
  CHECK(says(mix_warnings(one_coat(14, {1, 1})), "above 12 mm"));
  CHECK(says(mix_warnings(one_coat(25, {1, 2.5}, "arriccio")), "unusual"));
  CHECK(says(mix_warnings(one_coat(15, {1, 2.5}, "arriccio")), "two layers"));
  CHECK(mix_warnings(one_coat(11, {1, 2.5}, "arriccio")).empty());
}

TEST_CASE("a mix by weight is judged by its volumes, and said to be by weight") {
  const auto warnings = mix_warnings(one_coat(7, {1, 1, MixBasis::by_weight}));  // 1 : 0.966 by volume
  CHECK(says(warnings, "by weight"));
  CHECK(says(warnings, "richer"));
}

TEST_CASE("a giornata's own coat is held to the same limits, and named") {
  std::vector<Giornata> records(7);
  const std::optional<double> own[] = {0.5, 2, 50, 7, std::nullopt, 50, 4};
  for (std::size_t i = 0; i < records.size(); ++i) {
    records[i].id = GiornataId{static_cast<std::uint32_t>(i) + 1};
    records[i].number = static_cast<int>(i) + 1;
    records[i].intonaco_mm = own[i];
  }
  records[2].name = "Angel";
  records[5].alive = false;
  const auto warnings = own_coat_warnings(records, PlasterSettings{});
  REQUIRE(warnings.size() == 4);
  CHECK(warnings[0] ==
        "Giornata 1: its own intonaco is 0.5 mm thick in all: below 3 mm it dries too fast to take a day's paint.");
  CHECK(warnings[1].find("Giornata 2: its own intonaco is 2 mm thick in all: below 3 mm") == 0);
  CHECK(warnings[2].find("Giornata 3 (Angel): its own intonaco is 50 mm thick in all: above 12 mm") == 0);
  CHECK(warnings[3].find("Giornata 7: its own intonaco is 4 mm thick in all: for fresco 5 to 12 mm") == 0);
}

TEST_CASE("a giornata's own thickness is shared out between arriccio and intonaco before it is judged") {
  PlasterSettings s;
  s.intonaco = {{"arriccio", 11, {1, 2.5}}, {"final", 5.5, {1, 1}}};  // two thirds and one third
  REQUIRE(mix_warnings(s).empty());
  Giornata g;
  g.number = 4;
  g.intonaco_mm = 33;  // 22 and 11
  const auto warnings = own_coat_warnings(std::span(&g, 1), s);
  REQUIRE(warnings.size() == 1);
  CHECK(warnings[0].find("Giornata 4: its own arriccio of 22 mm is unusual") == 0);
}
