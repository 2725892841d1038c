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

TEST_CASE("marble dust and pozzolana are told by their word, in any order") {
  const auto marble = parse_mix("1 : 1 sand : 0.5 marble volume");
  REQUIRE(marble.ok());
  CHECK(marble->sand == 1);
  CHECK(marble->marble == 0.5);
  CHECK(describe(*marble) == "1 lime putty : 1 sand : 0.5 marble dust, by volume");
  const auto turned = parse_mix("1:0,5 marble dust:1 sand");
  REQUIRE(turned.ok());
  CHECK(format_mix(*turned) == format_mix(*marble));
  CHECK(parse_mix("1 : 2 sand : 0.5 pozzolana by weight")->pozzolana == 0.5);
  CHECK(parse_mix("1 : 1 marble weight")->sand == 0);
}

TEST_CASE("every mix reads back from both its texts") {
  for (const double sand : {0.0, 0.01, 1.0 / 3, 100.0})
    for (const double marble : {0.0, 0.7})
      for (const double pozzolana : {0.0, 1.25})
        for (const MixBasis basis : {MixBasis::by_volume, MixBasis::by_weight}) {
          const Mix mix{1.5, sand, basis, marble, pozzolana};
          if (!(aggregates(mix) > 0)) continue;
          for (const std::string& text : {format_mix(mix), describe(mix)}) {
            INFO(text);
            const auto back = parse_mix(text);
            REQUIRE(back.ok());
            CHECK(back->putty == mix.putty);
            CHECK(back->sand == mix.sand);
            CHECK(back->marble == mix.marble);
            CHECK(back->pozzolana == mix.pozzolana);
            CHECK(back->basis == mix.basis);
          }
        }
}

TEST_CASE("what is no mix is refused") {
  for (const char* text : {"",
                           "1",
                           "1:",
                           ":2",
                           "0:1",
                           "1:0",
                           "1:-2",
                           "1:2 buckets",
                           "1:2:3",
                           "a:b",
                           "1:nan",
                           "1:inf",
                           "1 2",
                           "1:1 sand:1 sand",
                           "1:1 sand:0 marble",
                           "1:1 sand:0.5",
                           "1 sand:2",
                           "1:101",
                           "1:0.001",
                           "1:1 sand volume:1 marble",
                           "volume",
                           "1:2 volume weight",
                           "1:2 marble sand"}) {
    INFO(text);
    CHECK_FALSE(parse_mix(text).ok());
  }
}

TEST_CASE("mortar of several aggregates is their grains and the putty, each by its own voids") {
  PlasterSettings s;
  s.supply.marble_voids = 0.4;
  s.supply.pozzolana_voids = 0.5;
  CHECK(mortar_yield_L({1, 2}, s) == Approx(mortar_yield_L(1, 2, s.voids)));
  // By hand: 1 x 2/3 + 0.5 x 0.6 + 1 = 1.96667; 1 x 2/3 + 1 x 0.5 + 1 = 2.16667.
  CHECK(mortar_yield_L({.putty = 1, .sand = 1, .marble = 0.5}, s) == Approx(1.966667).epsilon(1e-6));
  CHECK(mortar_yield_L({.putty = 1, .sand = 1, .pozzolana = 1}, s) == Approx(2.166667).epsilon(1e-6));
  CHECK(mortar_yield_L({.putty = 1, .sand = 3, .marble = 1}, s) == Approx(4));  // never less than the aggregates
  const Materials m = materials_for(19.66667, {.putty = 1, .sand = 1, .marble = 0.5}, s);
  CHECK(m.putty_L == Approx(10).epsilon(1e-6));
  CHECK(m.marble_L == Approx(5).epsilon(1e-6));
  CHECK(m.marble_kg == Approx(5 * s.supply.marble_kg_per_L).epsilon(1e-6));
  CHECK(wet_kg(m) == Approx(10 * 1.40 + 10 * 1.45 + 5 * s.supply.marble_kg_per_L).epsilon(1e-6));
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
}

TEST_CASE("the ground's coats are held to their own limits") {
  const auto ground = [](double rinzaffo_mm, double arriccio_mm) {
    PlasterSettings s;
    s.ground.rinzaffo.thickness_mm = rinzaffo_mm;
    s.ground.arriccio.thickness_mm = arriccio_mm;
    return mix_warnings(s);
  };
  CHECK(says(ground(5, 25), "The arriccio of 25 mm is unusual"));
  CHECK(says(ground(5, 9.5), "The arriccio of 9.5 mm is unusual"));
  CHECK(says(ground(5, 15), "two layers"));
  CHECK(ground(5, 12).empty());
  CHECK(ground(0, 0).empty());  // left out
  CHECK(says(ground(20, 12), "The rinzaffo of 20 mm is unusual"));
  CHECK(says(ground(3, 12), "thinner than one grain of its sand (5 mm)"));
  PlasterSettings lean;
  lean.ground.arriccio.mix = {1, 3.5};
  CHECK(says(mix_warnings(lean), "The arriccio coat's mix is leaner"));
}

TEST_CASE("a coat thinner than three grains of its sand cannot be laid") {
  // Common practice, no source.
  PlasterSettings s;
  s.intonaco[1].grain_mm = 1;
  CHECK(mix_warnings(s).empty());  // 3 mm of 1 mm sand
  s.intonaco[1].grain_mm = 1.1;
  CHECK(says(mix_warnings(s), "The final coat of 3 mm is thinner than three grains of its sand (1.1 mm)"));
}

TEST_CASE("putty is weighed against all aggregates together") {
  CHECK_FALSE(says(mix_warnings(one_coat(7, parse_mix("1 : 0.5 sand : 0.5 marble").value())), "richer"));
  CHECK(says(mix_warnings(one_coat(7, parse_mix("1 : 0.5 sand : 0.4 marble").value())),
             "richer than 1 lime putty : 1 sand and marble dust (1 : 0.90 by volume)"));
  CHECK(says(mix_warnings(one_coat(7, parse_mix("1 : 2 sand : 1.5 pozzolana").value())), "leaner"));
  CHECK(mix_warnings(one_coat(7, parse_mix("1 : 1 marble").value())).empty());
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
  REQUIRE(warnings.size() == 5);
  CHECK(warnings[0] ==
        "Giornata 1: its own intonaco is 0.5 mm thick in all: below 3 mm it dries too fast to take a day's paint.");
  CHECK(warnings[1].find("Giornata 2: its own intonaco is 2 mm thick in all: below 3 mm") == 0);
  CHECK(warnings[2].find("Giornata 3 (Angel): its own intonaco is 50 mm thick in all: above 12 mm") == 0);
  CHECK(warnings[3].find("Giornata 7: its own intonaco is 4 mm thick in all: for fresco 5 to 12 mm") == 0);
  CHECK(warnings[4].find("Giornata 7: its own first coat of 2.29 mm is thinner than three grains") == 0);
}
