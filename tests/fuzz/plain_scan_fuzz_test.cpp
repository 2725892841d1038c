// Damaged OBJ, PLY and STL files: whatever the bytes, intake answers with a wall or with one problem, never crashes and
// never takes more memory than a small file may need.
#include <algorithm>
#include <array>

#include "tests/fixtures/glb_writer.h"
#include "tests/fixtures/plain_scans.h"
#include "tests/fuzz/answers.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

constexpr std::size_t kMostMemory = std::size_t{1} << 30;

ScanOptions z_up() {
  ScanOptions options;
  options.y_up = false;
  return options;
}

void write_text(const std::string& path, const std::string& text) { write_bytes(path, {text.begin(), text.end()}); }

Sheet small_wall() { return flat_sheet(4, 3, 4, 3); }

constexpr std::array<const char*, 22> kStrange{"-1",
                                               "0",
                                               "4294967295",
                                               "4294967296",
                                               "2147483648",
                                               "18446744073709551615",
                                               "99999999999999999999999999",
                                               "1e308",
                                               "-1e309",
                                               "nan",
                                               "inf",
                                               "1/1/1",
                                               "1//",
                                               "/",
                                               "\\",
                                               "0x1p9",
                                               "1,5",
                                               "element vertex 1000000000",
                                               "property list uchar int other",
                                               "end_header",
                                               "",
                                               "\n"};

// The words of a text, of which one is put in the place of another, doubled or taken away.
std::string with_strange_word(const std::string& text, Dice& dice) {
  std::size_t from = dice.below(text.size());
  while (from > 0 && text[from - 1] != ' ' && text[from - 1] != '\n') --from;
  std::size_t to = text.find_first_of(" \n", from);
  if (to == std::string::npos) to = text.size();
  std::string word = text.substr(from, to - from);
  switch (dice.below(4)) {
    case 0:
      word.clear();
      break;
    case 1:
      word += " " + word;
      break;
    case 2:
      word = std::string(1 + dice.below(5000), "0123456789.-eE/"[dice.below(15)]);
      break;
    default:
      word = kStrange[dice.below(kStrange.size())];
      break;
  }
  return text.substr(0, from) + word + text.substr(to);
}

std::string with_changed_bytes(std::string bytes, Dice& dice) {
  for (std::size_t changes = 1 + dice.below(8); changes > 0 && !bytes.empty(); --changes) {
    const std::size_t at = dice.below(bytes.size());
    switch (dice.below(5)) {
      case 0:
        bytes[at] = static_cast<char>(dice.next());
        break;
      case 1:
        bytes[at] = static_cast<char>(bytes[at] ^ (1 << dice.below(8)));
        break;
      case 2:
        bytes.resize(at);
        break;
      case 3:
        for (std::size_t k = at; k < std::min(at + 4, bytes.size()); ++k) bytes[k] = '\xff';
        break;
      default:
        bytes.insert(at, bytes, 0, 1 + dice.below(40));
        break;
    }
  }
  return bytes;
}

}  // namespace

TEST_CASE("OBJ, PLY and STL files with bytes changed, cut or repeated never crash intake") {
  const TestFolder folder;
  const MemoryLimit limit(kMostMemory);
  Dice dice(404);
  for (const PlainKind kind : kPlainKinds) {
    const std::string path = folder.file(std::string("damaged") + ending(kind)), good = plain_bytes(small_wall(), kind);
    for (int round = 0; round < rounds() / 3; ++round) {
      write_text(path, with_changed_bytes(good, dice));
      check_answer(path, z_up());
    }
  }
}

TEST_CASE("text files with strange words never crash intake") {
  const TestFolder folder;
  const MemoryLimit limit(kMostMemory);
  Dice dice(505);
  for (const PlainKind kind : {PlainKind::obj, PlainKind::ply_text, PlainKind::stl_text}) {
    const std::string path = folder.file(std::string("strange") + ending(kind)), good = plain_bytes(small_wall(), kind);
    for (int round = 0; round < rounds() / 3; ++round) {
      std::string text = good;
      for (std::size_t changes = 1 + dice.below(3); changes > 0 && !text.empty(); --changes)
        text = with_strange_word(text, dice);
      write_text(path, text);
      check_answer(path, z_up());
    }
  }
}

TEST_CASE("headers that promise far more than the file holds are refused before anything is set aside for it") {
  const TestFolder folder;
  const MemoryLimit limit(kMostMemory);
  const Sheet wall = small_wall();
  for (const PlainKind kind : {PlainKind::ply_text, PlainKind::ply_little, PlainKind::ply_big})
    for (const char* count : {"1000", "49999999", "4294967295", "18446744073709551615"})
      for (const std::string element : {"element vertex 20", "element face 24"}) {
        std::string bytes = ply_bytes(wall, kind);
        const auto at = bytes.find(element);
        REQUIRE(at != std::string::npos);
        const std::string name = element.substr(0, element.rfind(' ') + 1);
        bytes.replace(at, element.size(), name + count);
        write_text(folder.file("many.ply"), bytes);
        REQUIRE_FALSE(read_scan(folder.file("many.ply"), z_up()).ok());
        check_answer(folder.file("many.ply"), z_up());
      }
  std::string bytes = stl_bytes(wall, PlainKind::stl_binary);
  for (int k = 80; k < 84; ++k) bytes[static_cast<std::size_t>(k)] = '\xff';
  write_text(folder.file("many.stl"), bytes);
  CHECK_FALSE(read_scan(folder.file("many.stl"), z_up()).ok());
  check_answer(folder.file("many.stl"), z_up());
}

TEST_CASE("a face of a million corners, a line of a million digits and a million empty lines are answered") {
  const TestFolder folder;
  const MemoryLimit limit(kMostMemory);
  std::string face = "v 0 0 0\nv 1 0 0\nv 0 0 1\nf";
  for (int k = 0; k < 1000000; ++k) face += " 1";
  for (const std::string& text :
       {face + "\n", "v " + std::string(1000000, '1') + " 0 0\n", std::string(1000000, '\n') + "v 0 0 0\n",
        "v 0 0 0\nv 1 0 0\nv 0 0 1\nf 1 2 3" + std::string(1000000, '\\') + "\n"}) {
    write_text(folder.file("long.obj"), text);
    check_answer(folder.file("long.obj"), z_up());
  }
}
