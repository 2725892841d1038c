// The whole job, small, through the real program.
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/verbs/program.h"

using namespace pontata;

namespace {

constexpr double kPi = 3.14159265358979323846;

// A semicircular barrel of span 4 m and length 6 m with a picture and two giornate; made once, copied for each test.
struct Vault {
  TemporaryFolder folder;
  std::string path = folder.file("chapel.pontata");
  nlohmann::json first, second;

  Vault() {
    const std::string picture = folder.file("disc.png");
    write_disc_picture(picture, 600, 628);
    REQUIRE(
        run({"wall", path, "vault", "--shape", "barrel", "--span", "4m", "--length", "6m", "--rise", "2m"}).status ==
        0);
    REQUIRE(run({"picture", path, "vault", picture}).status == 0);
    REQUIRE(run({"set", path, "rate", "0.35"}).status == 0);
    first = outline("1 2\n2 2\n2 3\n1 3\n", "Angel");
    second = outline("2 2\n3 2\n3 3\n2 3\n", "");
  }
  nlohmann::json outline(const std::string& points, const std::string& name) const {
    const auto ran = run({"outline", path, "vault", "--points", "-", "--name", name, "--json"}, {points, {}, false});
    INFO(ran.err);
    REQUIRE(ran.status == 0);
    return ran.json();
  }
  nlohmann::json report(const std::string& verb) const {
    const auto ran = run({verb, path, "--json"});
    INFO(ran.err);
    REQUIRE(ran.status == 0);
    return ran.json();
  }
};

}  // namespace

TEST_CASE("areas, volumes and neighbours of two giornate on a barrel") {
  const Vault vault;
  CHECK(vault.first.at("id") == 1);
  CHECK(vault.first.at("number") == 1);
  CHECK(vault.second.at("id") == 2);
  const auto measure = vault.report("measure");
  const auto& wall = measure.at("walls").at(0);
  CHECK(wall.at("area_m2").get<double>() == Approx(kPi * 2 * 6).epsilon(1e-4));  // pi r L
  CHECK(wall.at("residual_m2").get<double>() == 0);
  const auto& g = wall.at("giornate").at(0);
  CHECK(g.at("area_m2").get<double>() == Approx(1.0).epsilon(1e-4));  // unrolled barrel: 1 m by 1 m
  CHECK(g.at("perimeter_m").get<double>() == Approx(4.0).epsilon(1e-4));
  CHECK(g.at("neighbours") == nlohmann::json({2}));
  CHECK(g.at("hours").get<double>() == Approx(1 / 0.35).epsilon(1e-3));
  // Two coats inside a cylinder of radius 2: a ring sector of 1 m, 0.5 rad: (r^2 - (r - t)^2) / 2 * angle * length.
  double litres = 0;
  for (const auto& coat : g.at("coats")) litres += coat.at("volume_L").get<double>();
  CHECK(litres == Approx(1000 * (4 - 1.993 * 1.993) / 2 * 0.5).epsilon(1e-4));
  const double sum = g.at("area_m2").get<double>() + wall.at("giornate").at(1).at("area_m2").get<double>() +
                     wall.at("unassigned_m2").get<double>();
  CHECK(sum == Approx(wall.at("area_m2").get<double>()).epsilon(1e-12));
  CHECK(measure.at("totals").at("giornate") == 2);
}

TEST_CASE("plaster, calendar and check agree with each other") {
  const Vault vault;
  const auto plaster = vault.report("plaster");
  const auto calendar = vault.report("calendar");
  CHECK(run({"check", vault.path}).status == 0);
  REQUIRE(plaster.at("giornate").size() == 2);
  double mortar = 0;
  for (const auto& g : plaster.at("giornate")) mortar += g.at("mortar_L").get<double>();
  CHECK(plaster.at("totals").at("mortar_L").get<double>() == Approx(mortar));
  // The giornata painted first has its whole rim open, the second all but the shared metre.
  const auto order = calendar.at("order");
  const auto& first = plaster.at("giornate").at(0);
  const auto& second = plaster.at("giornate").at(1);
  CHECK(first.at("id") == order.at(0));
  CHECK(first.at("open_edge_m").get<double>() == Approx(4).epsilon(1e-4));
  CHECK(second.at("open_edge_m").get<double>() == Approx(3).epsilon(1e-4));
  CHECK(first.at("mortar_L").get<double>() > second.at("mortar_L").get<double>());
  CHECK(calendar.at("giornate").at(0).at("date") < calendar.at("giornate").at(1).at("date"));
}

TEST_CASE("the same steps give the same bytes") {
  const Vault one, other;
  CHECK(bytes_of(one.path) == bytes_of(other.path));
  CHECK(run({"measure", one.path, "--json"}).out == run({"measure", other.path, "--json"}).out);
}

TEST_CASE("a project moved with its picture opens elsewhere") {
  const Vault vault;
  const TemporaryFolder elsewhere;
  std::filesystem::copy(vault.path, elsewhere.file("chapel.pontata"));
  // Measures need no picture: its absence is a note on stderr.
  const auto without = run({"measure", elsewhere.file("chapel.pontata"), "--json"});
  CHECK(without.status == 0);
  CHECK(without.err.find("disc.png") != std::string::npos);
  CHECK(without.out == run({"measure", vault.path, "--json"}).out);
  std::filesystem::copy(vault.folder.file("disc.png"), elsewhere.file("disc.png"));
  CHECK(run({"measure", elsewhere.file("chapel.pontata"), "--json"}).out == run({"measure", vault.path, "--json"}).out);
}

TEST_CASE("a hugged outline follows the disc of the picture") {
  const Vault vault;
  // The picture fills the chart's width: 6 m over 600 pixels; the disc stands at 3,3.14 with radius 628/3 pixels.
  const double radius = 628.0 / 3 / 100, u0 = 3, v0 = 3.14;
  std::string points;
  for (int i = 0; i < 12; ++i) {
    const double angle = 2 * kPi * i / 12;
    points +=
        std::to_string(u0 + radius * std::cos(angle)) + " " + std::to_string(v0 + radius * std::sin(angle)) + "\n";
  }
  const std::string before = bytes_of(vault.path);
  const auto ran = run({"hug", vault.path, "vault", "--points", "-", "--closed", "--json"}, {points, {}, false});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  CHECK(bytes_of(vault.path) == before);
  CHECK(ran.json().at("hugged").get<double>() > 0.9);
  const auto follows = ran.json().at("follows");
  CHECK(follows.at("contour").get<double>() > 0.9 * ran.json().at("length_m").get<double>());
  double sum = 0;
  for (const auto& [name, metres] : follows.items()) sum += metres.get<double>();
  CHECK(follows.size() == 6);
  CHECK(sum == Approx(ran.json().at("length_m").get<double>()).epsilon(1e-9));
  for (const auto& p : ran.json().at("line"))
    CHECK(std::hypot(p.at(0).get<double>() - u0, p.at(1).get<double>() - v0) == Approx(radius).margin(0.015));
}

TEST_CASE("giornate drawn first keep what an outline overlaps, and the rest is told") {
  const Vault vault;
  const auto drawn = vault.outline("0.5 2.4\n3.5 2.4\n3.5 2.6\n0.5 2.6\n", "across");
  // What is left of 3 m by 0.2 m after 2 m in the middle are taken: two pieces of 0.5 m, one kept, one dropped.
  CHECK(drawn.at("area_m2").get<double>() == Approx(0.1).epsilon(1e-3));
  REQUIRE(drawn.at("dropped").size() == 1);
  CHECK(drawn.at("dropped").at(0).at("area_m2").get<double>() == Approx(0.1).epsilon(1e-3));
  CHECK(vault.report("measure").at("walls").at(0).at("residual_m2").get<double>() == 0);
}

TEST_CASE("divide and join are each other's way back") {
  const Vault vault;
  const auto divided =
      run({"divide", vault.path, "vault", "1", "--points", "-", "--json"}, {"1.4 2\n1.4 3\n", {}, false});
  INFO(divided.err);
  REQUIRE(divided.status == 0);
  CHECK(divided.json().at("new_id") == 3);
  const auto both = vault.report("measure").at("walls").at(0).at("giornate");
  CHECK(both.at(0).at("area_m2").get<double>() == Approx(0.6).epsilon(1e-3));
  CHECK(both.at(2).at("area_m2").get<double>() == Approx(0.4).epsilon(1e-3));
  REQUIRE(run({"join", vault.path, "vault", "1", "3"}).status == 0);
  const auto one = vault.report("measure").at("walls").at(0).at("giornate");
  CHECK(one.size() == 2);
  CHECK(one.at(0).at("area_m2").get<double>() == Approx(1.0).epsilon(1e-4));
  // Ids are never used again.
  CHECK(vault.outline("4 2\n5 2\n5 3\n4 3\n", "").at("id") == 4);
}

TEST_CASE("a scan goes through wall, picture, outline and measure") {
  const TemporaryFolder folder;
  const std::string path = folder.file("p"), scan = folder.file("scan.glb"), picture = folder.file("disc.png");
  write_bytes(scan, glb_square(2));
  write_disc_picture(picture, 50, 50);
  REQUIRE(run({"wall", path, "niche", "--scan", scan, "--unit", "m"}).status == 0);
  REQUIRE(run({"picture", path, "niche", picture}).status == 0);
  REQUIRE(
      run({"outline", path, "niche", "--points", "-"}, {"0.5 0.5\n1.5 0.5\n1.5 1.5\n0.5 1.5\n", {}, false}).status ==
      0);
  const auto wall = run({"measure", path, "--json"}).json().at("walls").at(0);
  CHECK(wall.at("area_m2").get<double>() == Approx(4).epsilon(1e-6));
  CHECK(wall.at("giornate").at(0).at("area_m2").get<double>() == Approx(1).epsilon(1e-6));
}
