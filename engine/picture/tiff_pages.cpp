#include "engine/picture/tiff_pages.h"

#include <algorithm>
#include <array>
#include <optional>
#include <span>

namespace pontata {

namespace {

constexpr int kMostPages = 64;

template <class T>
T field(TIFF* tiff, std::uint32_t tag, T otherwise) {
  T value = otherwise;
  return TIFFGetFieldDefaulted(tiff, tag, &value) ? value : otherwise;
}

Problem rare(const std::string& path, const std::string& how) {
  return {"the TIFF is of a rare kind (" + how + ") that cannot be read", path,
          "Save it as a usual TIFF, 8 or 16 bits a channel, or as PNG."};
}

// Counts the full pictures; the first of them is the one.
Outcome find_page(const PictureFile& file, TIFF* tiff, TiffFacts& facts) {
  int full = 0;
  for (int page = 0; page < kMostPages; ++page) {
    const auto subfile = field<std::uint32_t>(tiff, TIFFTAG_SUBFILETYPE, 0);
    if ((subfile & (FILETYPE_REDUCEDIMAGE | FILETYPE_MASK)) == 0) {
      if (full++ == 0) facts.page = static_cast<std::uint16_t>(page);
    }
    if (full > 1) {
      return Problem{"the TIFF has several pages", file.path(), "Save the one that you want as a file of its own."};
    }
    if (TIFFLastDirectory(tiff)) break;
    if (!TIFFReadDirectory(tiff)) return damaged(file.path());
  }
  if (full == 0) return rare(file.path(), "small copies only");
  return TIFFSetDirectory(tiff, facts.page) ? Outcome(Done{}) : damaged(file.path());
}

void take_opacity(TIFF* tiff, TiffFacts& facts) {
  std::uint16_t count = 0;
  const std::uint16_t* kinds = nullptr;
  if (!TIFFGetFieldDefaulted(tiff, TIFFTAG_EXTRASAMPLES, &count, &kinds)) return;
  const int colours = facts.samples - count;
  const int least = facts.photometric == PHOTOMETRIC_RGB || facts.photometric == PHOTOMETRIC_YCBCR ? 3 : 1;
  if (colours < least) return;
  for (int k = 0; k < count && facts.opacity < 0; ++k) {
    if (kinds[k] != EXTRASAMPLE_ASSOCALPHA && kinds[k] != EXTRASAMPLE_UNASSALPHA) continue;
    facts.opacity = colours + k;
    facts.multiplied = kinds[k] == EXTRASAMPLE_ASSOCALPHA;
  }
}

void take_profile(TIFF* tiff, TiffFacts& facts) {
  std::uint32_t size = 0;
  const void* bytes = nullptr;
  if (TIFFGetField(tiff, TIFFTAG_ICCPROFILE, &size, &bytes) && size > 0)
    facts.profile.assign(static_cast<const char*>(bytes), size);
}

Outcome take_palette(const PictureFile& file, TIFF* tiff, TiffFacts& facts) {
  std::uint16_t *red = nullptr, *green = nullptr, *blue = nullptr;
  if (facts.bits > 8) return rare(file.path(), "a palette of more than 256 colours");
  if (!TIFFGetField(tiff, TIFFTAG_COLORMAP, &red, &green, &blue)) return damaged(file.path());
  const int count = 1 << facts.bits;
  for (int k = 0; k < count; ++k) facts.palette.insert(facts.palette.end(), {red[k], green[k], blue[k]});
  // Old writers gave 8-bit values where 16 are meant.
  const bool old = std::all_of(facts.palette.begin(), facts.palette.end(), [](std::uint16_t v) { return v < 256; });
  if (old)
    for (auto& v : facts.palette) v = static_cast<std::uint16_t>(v * 257);
  return Done{};
}

Outcome take_colours(const PictureFile& file, TIFF* tiff, TiffFacts& facts) {
  const auto& path = file.path();
  const auto compression = field<std::uint16_t>(tiff, TIFFTAG_COMPRESSION, COMPRESSION_NONE);
  if (!TIFFGetField(tiff, TIFFTAG_PHOTOMETRIC, &facts.photometric)) return damaged(path);
  facts.by_jpeg = compression == COMPRESSION_JPEG;
  if (facts.photometric == PHOTOMETRIC_SEPARATED) {
    return Problem{"the picture is CMYK (printing inks), whose colours on a wall are not known", path,
                   "Save it as RGB with the profile sRGB."};
  }
  if (!TIFFIsCODECConfigured(compression) || compression == COMPRESSION_OJPEG)
    return rare(path, "compression " + std::to_string(compression));
  switch (facts.photometric) {
    case PHOTOMETRIC_MINISWHITE:
    case PHOTOMETRIC_MINISBLACK:
      return Done{};
    case PHOTOMETRIC_PALETTE:
      return take_palette(file, tiff, facts);
    case PHOTOMETRIC_RGB:
      return facts.samples >= 3 ? Outcome(Done{}) : damaged(path);
    case PHOTOMETRIC_YCBCR:
      if (facts.by_jpeg && !facts.separate && facts.samples == 3) return Done{};
      return rare(path, "YCbCr without JPEG");
    default:
      return rare(path, "colours of kind " + std::to_string(facts.photometric));
  }
}

Outcome take_samples(const PictureFile& file, TIFF* tiff, TiffFacts& facts) {
  const auto& path = file.path();
  facts.bits = field<std::uint16_t>(tiff, TIFFTAG_BITSPERSAMPLE, 1);
  facts.samples = field<std::uint16_t>(tiff, TIFFTAG_SAMPLESPERPIXEL, 1);
  const auto format = field<std::uint16_t>(tiff, TIFFTAG_SAMPLEFORMAT, SAMPLEFORMAT_UINT);
  facts.separate = facts.samples > 1 &&
                   field<std::uint16_t>(tiff, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG) == PLANARCONFIG_SEPARATE;
  facts.tiled = TIFFIsTiled(tiff) != 0;
  const int orientation = field<std::uint16_t>(tiff, TIFFTAG_ORIENTATION, ORIENTATION_TOPLEFT);
  facts.orientation = orientation >= 1 && orientation <= 8 ? orientation : 1;
  const bool whole = format == SAMPLEFORMAT_UINT || format == SAMPLEFORMAT_VOID;
  const bool known = facts.bits == 1 || facts.bits == 2 || facts.bits == 4 || facts.bits == 8 || facts.bits == 16;
  if (!whole || !known)
    return rare(path, std::to_string(facts.bits) + (whole ? " bits a channel" : " bits a channel, not whole numbers"));
  if (facts.samples < 1 || facts.samples > 32) return rare(path, std::to_string(facts.samples) + " channels");
  return Done{};
}

// Numbers of a TIFF in the byte order of its file.
class Numbers {
 public:
  explicit Numbers(const PictureFile& file) : file_(file) { little_ = at(0, 1) == 'I'; }
  std::uint64_t at(std::uint64_t place, std::size_t bytes) const {
    std::array<std::uint8_t, 8> b{};
    if (place > static_cast<std::uint64_t>(file_.size())) return 0;
    file_.read(static_cast<std::int64_t>(place), std::span(b).first(bytes));
    std::uint64_t v = 0;
    for (std::size_t k = 0; k < bytes; ++k) v = v << 8 | b[little_ ? bytes - 1 - k : k];
    return v;
  }

 private:
  const PictureFile& file_;
  bool little_ = true;
};

// The size that the first directory states, before libtiff makes anything of it: libtiff refuses what has no pixels or
// too many without saying so. With 64-bit offsets (version 43) all fields are wider.
Outcome check_stated_size(const PictureFile& file, std::int64_t most) {
  const Numbers numbers(file);
  const bool big = numbers.at(2, 2) == 43;
  const std::uint64_t directory = big ? numbers.at(8, 8) : numbers.at(4, 4);
  const std::uint64_t count = std::min<std::uint64_t>(numbers.at(directory, big ? 8 : 2), 4096);
  std::optional<std::uint64_t> width, height;
  for (std::uint64_t k = 0; k < count; ++k) {
    const std::uint64_t entry = directory + (big ? 8 + 20 * k : 2 + 12 * k);
    const auto tag = numbers.at(entry, 2), type = numbers.at(entry + 2, 2);
    if (tag != TIFFTAG_IMAGEWIDTH && tag != TIFFTAG_IMAGELENGTH) continue;
    if (type != TIFF_SHORT && type != TIFF_LONG) continue;
    (tag == TIFFTAG_IMAGEWIDTH ? width : height) = numbers.at(entry + (big ? 12 : 8), type == TIFF_SHORT ? 2 : 4);
  }
  if (!width || !height) return Done{};
  return check_size(file.path(), static_cast<std::int64_t>(*width), static_cast<std::int64_t>(*height), most);
}

}  // namespace

Result<TiffFacts> tiff_facts(const PictureFile& file, std::int64_t most) {
  if (const auto sized = check_stated_size(file, most); !sized) return sized.problem();
  const auto tiff = TiffFile::open(file);
  if (!tiff->get()) return tiff->short_of_bytes() ? cut_short(file.path()) : damaged(file.path());
  TiffFacts facts;
  if (const auto found = find_page(file, tiff->get(), facts); !found) return found.problem();
  facts.width = field<std::uint32_t>(tiff->get(), TIFFTAG_IMAGEWIDTH, 0);
  facts.height = field<std::uint32_t>(tiff->get(), TIFFTAG_IMAGELENGTH, 0);
  if (const auto sized = check_size(file.path(), facts.width, facts.height, most); !sized) return sized.problem();
  if (const auto taken = take_samples(file, tiff->get(), facts); !taken) return taken.problem();
  if (const auto taken = take_colours(file, tiff->get(), facts); !taken) return taken.problem();
  take_opacity(tiff->get(), facts);
  take_profile(tiff->get(), facts);
  return facts;
}

}  // namespace pontata
