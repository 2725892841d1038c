#include "tests/verbs/program.h"

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>
#include <limits>

#include "engine/picture/image.h"
#include "tests/fixtures/places.h"

namespace pontata {

namespace {

void become_nobody() {
  if (::getuid() == 0 && (::setgid(65534) != 0 || ::setuid(65534) != 0)) ::_exit(126);
}

[[noreturn]] void start(const std::vector<std::string>& arguments, const RunOptions& options, const std::string& in,
                        const std::string& out, const std::string& err) {
  ::dup2(::open(in.c_str(), O_RDONLY), 0);
  ::dup2(::open(out.c_str(), O_WRONLY | O_CREAT, 0666), 1);
  ::dup2(::open(err.c_str(), O_WRONLY | O_CREAT, 0666), 2);
  for (const auto& [name, value] : options.environment) ::setenv(name.c_str(), value.c_str(), 1);
  std::vector<char*> argv;
  std::string program = fixtures::program_path();
  argv.push_back(program.data());
  std::vector<std::string> copies = arguments;
  for (auto& a : copies) argv.push_back(a.data());
  argv.push_back(nullptr);
  if (options.as_nobody) become_nobody();
  ::execv(program.c_str(), argv.data());
  ::_exit(127);
}

template <class T>
void append(std::string& bytes, T value) {
  char raw[sizeof(T)];
  std::memcpy(raw, &value, sizeof(T));
  bytes.append(raw, sizeof(T));
}

}  // namespace

Ran run(const std::vector<std::string>& arguments, const RunOptions& options) {
  const TemporaryFolder folder;
  write_bytes(folder.file("in"), options.input);
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) start(arguments, options, folder.file("in"), folder.file("out"), folder.file("err"));
  int status = 0;
  REQUIRE(::waitpid(child, &status, 0) == child);
  Ran ran;
  ran.status = WIFEXITED(status) ? WEXITSTATUS(status) : 1000 + WTERMSIG(status);
  ran.out = bytes_of(folder.file("out"));
  ran.err = bytes_of(folder.file("err"));
  return ran;
}

bool is_one_error_line(const Ran& ran, const std::string& file) {
  const bool one_line = !ran.err.empty() && ran.err.find('\n') == ran.err.size() - 1;
  return one_line && ran.err.starts_with("pontata: ") && ran.err.find(file) != std::string::npos;
}

void add_flat_wall(const std::string& project) {
  REQUIRE(run({"wall", project, "wall", "--shape", "flat", "--width", "4m", "--height", "3m"}).status == 0);
}

void write_disc_picture(const std::string& path, int width, int height) {
  Image image;
  image.width = width;
  image.height = height;
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x) {
      const bool inside = std::hypot(x - width / 2.0, y - height / 2.0) < height / 3.0;
      image.rgb.insert(image.rgb.end(), 3, inside ? 40 : 220);
    }
  REQUIRE(write_png(image, path).ok());
}

std::string glb_square(float side, bool with_nan) {
  std::string data;
  const float bad = with_nan ? std::numeric_limits<float>::quiet_NaN() : side;
  for (const float v : {0.f, 0.f, 0.f, side, 0.f, 0.f, side, side, 0.f, 0.f, bad, 0.f}) append(data, v);
  for (const std::uint16_t i : {0, 1, 2, 0, 2, 3}) append(data, i);
  nlohmann::json json = {{"asset", {{"version", "2.0"}}},
                         {"scene", 0},
                         {"scenes", {{{"nodes", {0}}}}},
                         {"nodes", {{{"mesh", 0}}}},
                         {"meshes", {{{"primitives", {{{"attributes", {{"POSITION", 0}}}, {"indices", 1}}}}}}},
                         {"buffers", {{{"byteLength", data.size()}}}},
                         {"bufferViews",
                          {{{"buffer", 0}, {"byteOffset", 0}, {"byteLength", 48}},
                           {{"buffer", 0}, {"byteOffset", 48}, {"byteLength", 12}}}},
                         {"accessors",
                          {{{"bufferView", 0},
                            {"componentType", 5126},
                            {"count", 4},
                            {"type", "VEC3"},
                            {"min", {0, 0, 0}},
                            {"max", {side, side, 0}}},
                           {{"bufferView", 1}, {"componentType", 5123}, {"count", 6}, {"type", "SCALAR"}}}}};
  std::string text = json.dump();
  while (text.size() % 4 != 0) text += ' ';
  std::string glb = "glTF";
  append(glb, std::uint32_t{2});
  append(glb, static_cast<std::uint32_t>(12 + 8 + text.size() + 8 + data.size()));
  append(glb, static_cast<std::uint32_t>(text.size()));
  glb += "JSON" + text;
  append(glb, static_cast<std::uint32_t>(data.size()));
  glb += std::string("BIN\0", 4) + data;
  return glb;
}

}  // namespace pontata
