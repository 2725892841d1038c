#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>

#include "tests/verbs/program.h"

using namespace pontata;

namespace {

struct Glb {
  nlohmann::json json;
  std::string data;
};

std::uint32_t word(const std::string& bytes, std::size_t at) {
  std::uint32_t value = 0;
  REQUIRE(at + 4 <= bytes.size());
  std::memcpy(&value, bytes.data() + at, 4);
  return value;
}

// Reads the two chunks by the glTF 2.0 specification, section 4.4, without the library that wrote them.
Glb read_glb(const std::string& bytes) {
  REQUIRE(bytes.starts_with("glTF"));
  CHECK(word(bytes, 4) == 2);
  CHECK(word(bytes, 8) == bytes.size());
  const std::size_t json_size = word(bytes, 12);
  CHECK(word(bytes, 16) == 0x4e4f534a);
  CHECK(word(bytes, 20 + json_size + 4) == 0x004e4942);
  return {nlohmann::json::parse(bytes.substr(20, json_size)), bytes.substr(28 + json_size)};
}

template <class T>
std::vector<T> values(const Glb& glb, int accessor, std::size_t wide) {
  const auto& a = glb.json.at("accessors").at(static_cast<std::size_t>(accessor));
  const auto& view = glb.json.at("bufferViews").at(a.at("bufferView").get<std::size_t>());
  std::vector<T> out(a.at("count").get<std::size_t>() * wide);
  REQUIRE(view.at("byteLength").get<std::size_t>() == out.size() * sizeof(T));
  std::memcpy(out.data(), glb.data.data() + view.value("byteOffset", std::size_t{0}), out.size() * sizeof(T));
  return out;
}

double area_of(const Glb& glb, const nlohmann::json& mesh) {
  const auto& primitive = mesh.at("primitives").at(0);
  const auto p = values<float>(glb, primitive.at("attributes").at("POSITION").get<int>(), 3);
  const auto corners = values<std::uint32_t>(glb, primitive.at("indices").get<int>(), 1);
  double area = 0;
  for (std::size_t i = 0; i < corners.size(); i += 3) {
    double e[2][3];
    for (std::size_t k = 0; k < 3; ++k) {
      e[0][k] = double(p[3 * corners[i + 1] + k]) - p[3 * corners[i] + k];
      e[1][k] = double(p[3 * corners[i + 2] + k]) - p[3 * corners[i] + k];
    }
    area += std::hypot(e[0][1] * e[1][2] - e[0][2] * e[1][1], e[0][2] * e[1][0] - e[0][0] * e[1][2],
                       e[0][0] * e[1][1] - e[0][1] * e[1][0]) /
            2;
  }
  return area;
}

}  // namespace

TEST_CASE("the exported parts bear the giornate's names and their areas") {
  const TemporaryFolder folder;
  const std::string p = folder.file("p"), out = folder.file("out.glb");
  REQUIRE(run({"wall", p, "vault", "--shape", "barrel", "--span", "4m", "--length", "3m", "--rise", "2m"}).status == 0);
  write_disc_picture(folder.file("disc.png"), 60, 126);
  REQUIRE(run({"picture", p, "vault", folder.file("disc.png")}).status == 0);
  REQUIRE(
      run({"outline", p, "vault", "--points", "-", "--name", "Angel"}, {"1 2\n2 2\n2 3\n1 3\n", {}, false}).status ==
      0);
  const auto ran = run({"export", p, "--out", out});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  const Glb glb = read_glb(bytes_of(out));
  const auto& meshes = glb.json.at("meshes");
  REQUIRE(meshes.size() == 2);
  CHECK(meshes.at(0).at("name") == "vault: giornata 1 Angel");
  CHECK(meshes.at(0).at("primitives").size() == 1);
  CHECK(meshes.at(0).at("primitives").at(0).at("extras").at("name") == "vault: giornata 1 Angel");
  CHECK(meshes.at(1).at("name") == "vault: rest");
  CHECK(area_of(glb, meshes.at(0)) == Approx(1).epsilon(1e-4));
  CHECK(area_of(glb, meshes.at(1)) == Approx(3.14159265 * 2 * 3 - 1).epsilon(1e-4));
  CHECK(glb.json.at("images").at(0).at("mimeType") == "image/png");
  // The same project, the same bytes.
  REQUIRE(run({"export", p, "--out", folder.file("again.glb")}).status == 0);
  CHECK(bytes_of(out) == bytes_of(folder.file("again.glb")));
}

TEST_CASE("an exported wall comes back as a scan of the same area") {
  const TemporaryFolder folder;
  const std::string p = folder.file("p"), out = folder.file("out.glb");
  add_flat_wall(p);
  REQUIRE(run({"export", p, "--out", out}).status == 0);
  const auto ran = run({"wall", folder.file("q"), "again", "--scan", out, "--json"});
  INFO(ran.err);
  REQUIRE(ran.status == 0);
  CHECK(ran.json().at("area_m2").get<double>() == Approx(12).epsilon(1e-5));
}
