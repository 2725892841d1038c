#include "engine/picture/picture_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cerrno>
#include <filesystem>
#include <optional>
#include <string_view>
#include <utility>

namespace pontata {

namespace {

using namespace std::string_view_literals;

constexpr const char* kChoose = "Choose a PNG, JPEG or TIFF picture.";
constexpr const char* kSaveAs = "Save the picture as PNG, JPEG or TIFF and choose that file.";

struct Magic {
  std::size_t at;
  std::string_view bytes;
  const char* name;  // with its article
  std::optional<PictureKind> kind;
};

// First bytes of the kinds met with pictures, from their specifications; those after TIFF from memory.
constexpr std::array kMagic{
    Magic{0, "\x89PNG\r\n\x1a\n"sv, "a PNG picture", PictureKind::png},  // PNG, 2003, 5.2
    Magic{0, "\xff\xd8\xff"sv, "a JPEG picture", PictureKind::jpeg},     // T.81, annex B
    Magic{0, "II*\0"sv, "a TIFF picture", PictureKind::tiff},            // TIFF 6.0, section 2
    Magic{0, "MM\0*"sv, "a TIFF picture", PictureKind::tiff},
    Magic{0, "II+\0"sv, "a TIFF picture", PictureKind::tiff},  // with 64-bit offsets
    Magic{0, "MM\0+"sv, "a TIFF picture", PictureKind::tiff},
    Magic{0, "GIF8"sv, "a GIF picture, perhaps an animated one", {}},
    Magic{8, "WEBP"sv, "a WebP picture", {}},
    Magic{4, "ftypavif"sv, "an AVIF picture", {}},
    Magic{4, "ftyphe"sv, "a HEIC picture", {}},
    Magic{4, "ftypmif1"sv, "a HEIC picture", {}},
    Magic{4, "ftyp"sv, "a film", {}},
    Magic{0, "\0\0\0\x0cjP  "sv, "a JPEG 2000 picture", {}},
    Magic{0, "\xff\x4f\xff\x51"sv, "a JPEG 2000 picture", {}},
    Magic{0, "\0\0\0\x0cJXL "sv, "a JPEG XL picture", {}},
    Magic{0, "\xff\x0a"sv, "a JPEG XL picture", {}},
    Magic{0, "8BPS"sv, "a picture in layers", {}},
    Magic{0, "\x76\x2f\x31\x01"sv, "an OpenEXR picture", {}},
    Magic{0, "\x8aMNG"sv, "an animated picture (MNG)", {}},
    Magic{0, "%PDF"sv, "a PDF document", {}},
    Magic{0, "PK\x03\x04"sv, "a packed folder or a document", {}},
};

bool holds(std::string_view bytes, const Magic& magic) {
  return bytes.size() >= magic.at && bytes.substr(magic.at).starts_with(magic.bytes);
}

bool is_text(std::string_view bytes) {
  return !bytes.empty() && std::all_of(bytes.begin(), bytes.end(), [](char c) {
    const auto u = static_cast<unsigned char>(c);
    return u >= 0x20 || u == '\n' || u == '\r' || u == '\t' || u == '\f';
  });
}

const char* other_kind(std::string_view bytes) {
  if (bytes.size() >= 14 && bytes.starts_with("BM") && bytes.substr(6, 4) == "\0\0\0\0"sv) return "a BMP picture";
  if (is_text(bytes)) return bytes.find("<svg") != bytes.npos ? "an SVG drawing" : "text";
  return nullptr;
}

std::string ending_of(const std::string& path) {
  std::string end = std::filesystem::path(path).extension().string();
  std::transform(end.begin(), end.end(), end.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return end;
}

// Which kind a name promises, in words; nothing for endings that are no picture's.
const char* promised(std::string_view ending) {
  constexpr std::array<std::pair<std::string_view, const char*>, 16> endings{{{".png", "PNG"},
                                                                              {".apng", "PNG"},
                                                                              {".jpg", "JPEG"},
                                                                              {".jpeg", "JPEG"},
                                                                              {".jpe", "JPEG"},
                                                                              {".jfif", "JPEG"},
                                                                              {".tif", "TIFF"},
                                                                              {".tiff", "TIFF"},
                                                                              {".gif", "GIF"},
                                                                              {".webp", "WebP"},
                                                                              {".heic", "HEIC"},
                                                                              {".heif", "HEIC"},
                                                                              {".avif", "AVIF"},
                                                                              {".bmp", "BMP"},
                                                                              {".jp2", "JPEG 2000"},
                                                                              {".pdf", "PDF"}}};
  const auto* found = std::find_if(endings.begin(), endings.end(), [&](const auto& e) { return e.first == ending; });
  return found == endings.end() ? nullptr : found->second;
}

struct Word {
  const char *name, *ending;
};
Word word_of(PictureKind kind) {
  if (kind == PictureKind::png) return {"PNG", ".png"};
  return kind == PictureKind::jpeg ? Word{"JPEG", ".jpg"} : Word{"TIFF", ".tif"};
}

Problem not_opened(const std::string& path, int error) {
  if (error == ENOENT || error == ENOTDIR) return {"there is no such file", path, "Check the name of the picture."};
  return {"the file cannot be read", path, "Check that you may read it."};
}

}  // namespace

Result<PictureFile> PictureFile::open(const std::string& path) {
  const int handle = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);  // a pipe nobody writes to: no waiting
  if (handle < 0 && errno != ENXIO) return not_opened(path, errno);
  struct stat about {};
  const bool known = handle >= 0 && fstat(handle, &about) == 0;
  if (!known || !S_ISREG(about.st_mode)) {
    if (handle >= 0) ::close(handle);
    if (known && S_ISDIR(about.st_mode)) return Problem{"this is a folder, not a file", path, kChoose};
    return Problem{"this is a device or a pipe, not a file", path, kChoose};
  }
  return PictureFile(handle, about.st_size, path);
}

PictureFile::PictureFile(PictureFile&& other) noexcept
    : handle_(std::exchange(other.handle_, -1)), size_(other.size_), path_(std::move(other.path_)) {}

PictureFile::~PictureFile() {
  if (handle_ >= 0) ::close(handle_);
}

std::size_t PictureFile::read(std::int64_t at, std::span<std::uint8_t> to) const {
  std::size_t done = 0;
  while (done < to.size()) {
    const auto got = ::pread(handle_, to.data() + done, to.size() - done, at + static_cast<std::int64_t>(done));
    if (got < 0 && errno == EINTR) continue;
    if (got <= 0) break;
    done += static_cast<std::size_t>(got);
  }
  return done;
}

Result<PictureKind> kind_of(const PictureFile& file) {
  if (file.size() == 0) return Problem{"the file is empty", file.path(), "Copy it again from its source."};
  std::array<std::uint8_t, 512> head{};
  const std::size_t count = file.read(0, head);
  const std::string_view bytes(reinterpret_cast<const char*>(head.data()), count);
  const auto* magic = std::find_if(kMagic.begin(), kMagic.end(), [&](const Magic& m) { return holds(bytes, m); });
  const char* name = magic != kMagic.end() ? magic->name : other_kind(bytes);
  if (magic == kMagic.end() || !magic->kind) {
    return Problem{name ? std::string("this is ") + name + ", not a PNG, JPEG or TIFF picture"
                        : "this is not a PNG, JPEG or TIFF picture",
                   file.path(), kSaveAs};
  }
  const Word word = word_of(*magic->kind);
  const char* said = promised(ending_of(file.path()));
  if (said && said != std::string_view(word.name)) {
    return Problem{std::string("this is ") + name + ", but its name says " + said, file.path(),
                   std::string("Rename it to end in ") + word.ending + ", once you know that it is the right file."};
  }
  return *magic->kind;
}

Outcome check_size(const std::string& path, std::int64_t width, std::int64_t height, std::int64_t most) {
  const std::string size = std::to_string(width) + " x " + std::to_string(height);
  if (width < 1 || height < 1)
    return Problem{"the picture has no pixels (" + size + ")", path, "Save it again, or choose another file."};
  if (width > most || height > most || width * height > most) {
    return Problem{"the picture has " + size + " pixels, more than " + std::to_string(most / 1'000'000) + " million",
                   path, "Save it smaller: one pixel a millimetre on the wall is enough."};
  }
  if (std::max(width, height) > kLongestPictureSide) {
    return Problem{"the picture has " + size + " pixels, one side more than " + std::to_string(kLongestPictureSide),
                   path, "Save it in shorter pieces."};
  }
  return Done{};
}

Problem cut_short(const std::string& path) {
  return {"the picture file is cut short", path, "Copy it again from its source, or save it again."};
}
Problem damaged(const std::string& path) {
  return {"the picture file is damaged", path, "Copy it again from its source, or save it again."};
}

}  // namespace pontata
