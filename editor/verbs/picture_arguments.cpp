#include "editor/verbs/picture_arguments.h"

#include <fmt/format.h>

#include <array>
#include <charconv>

#include "engine/base/text.h"
#include "engine/base/units.h"

namespace pontata {

namespace {

using Flags = std::vector<std::string>;

template <class T>
void add(Flags& flags, const T& given, const char* flag) {
  if (given) flags.emplace_back(flag);
}

// One of `flags` that is none of `allowed`.
std::optional<std::string> beyond(const Flags& flags, std::initializer_list<const char*> allowed) {
  for (const auto& flag : flags)
    if (std::find(allowed.begin(), allowed.end(), flag) == allowed.end()) return flag;
  return std::nullopt;
}

// The first two of these that were given, or nothing.
std::optional<std::string> two_of(std::initializer_list<const Flags*> lists, const char* verb) {
  std::vector<std::string> given;
  for (const Flags* list : lists)
    if (!list->empty()) given.push_back((*list)[0]);
  if (given.size() < 2) return std::nullopt;
  return given[0] + " and " + given[1] + " " + verb;
}

struct AlignWord {
  const char* word;
  AlignTo to;
  Align::Side side = Align::Side::right_of;
};
constexpr std::array<AlignWord, 10> kAlignWords{{{"springing", AlignTo::springing},
                                                 {"crown", AlignTo::crown},
                                                 {"centre-line", AlignTo::centre_line},
                                                 {"left-edge", AlignTo::left_edge},
                                                 {"right-edge", AlignTo::right_edge},
                                                 {"right-of", AlignTo::picture, Align::Side::right_of},
                                                 {"left-of", AlignTo::picture, Align::Side::left_of},
                                                 {"above", AlignTo::picture, Align::Side::above},
                                                 {"below", AlignTo::picture, Align::Side::below},
                                                 {"over", AlignTo::picture, Align::Side::over}}};

const AlignWord* align_word(const std::string& text) {
  const std::string word = text.substr(0, text.find(':'));
  for (const auto& known : kAlignWords)
    if (word == known.word && (known.to == AlignTo::picture) == (text.find(':') != text.npos)) return &known;
  return nullptr;
}

std::optional<std::string> bad_value(const PictureArguments& a) {
  if (a.width && *a.width <= 0) return "--width must be more than 0";
  if (a.fade && !(*a.fade >= 0 && *a.fade <= 100)) return "--fade must be 0 to 100 %";
  if (a.focal && !(*a.focal > 0)) return "--focal must be more than 0";
  if (a.crop)
    if (const auto crop = parse_crop(*a.crop); !crop) return "--crop: " + crop.problem().message();
  for (const auto& align : a.align)
    if (!align_word(align))
      return "--align: \"" + align +
             "\" is not known: springing, crown, centre-line, left-edge, right-edge, or right-of, left-of, above, "
             "below "
             "or over with a colon and a picture's name";
  if (a.order && *a.order != "top" && *a.order != "bottom") {
    int place = 0;
    const char* end = a.order->data() + a.order->size();
    const auto read = std::from_chars(a.order->data(), end, place);
    if (read.ec != std::errc{} || read.ptr != end || place < 1) return "--order must be a place from 1, top or bottom";
  }
  return std::nullopt;
}

}  // namespace

void PictureArguments::declare(Usage& usage) {
  declare_json(usage);
  usage.needs(wall, "WALL", "the wall it lies on");
  usage.may_take(
      picture, "PICTURE",
      "a picture file to lay on top, or the name of a picture that lies there (without it: the list of them)");
  usage.length(width, "--width", "its width along the surface, or level (without it, it fills the wall)");
  usage.place(at, "--at", "chart place of its lower left corner (0,0)");
  usage.angle(turn, "--turn", "turned about that corner, counter-clockwise");
  usage.text(name, "--name", "TEXT", "what it is called (the file's name)");
  usage.choice(lay, "--lay", {"unrolled", "plan", "elevation"},
               "along the wall, or straight on as drawn in plan or elevation");
  usage.texts(
      align, "--align", "LINE",
      "brought to springing, crown, centre-line, left-edge or right-edge, or right-of:, left-of:, above:, below: "
      "or over: another picture's NAME; several times, one after the other");
  usage.flag(fit_rest, "--fit-rest", "as large as fits where no giornata lies");
  usage.text(points, "--points", "FILE|-", "set by points: lines of x_px,y_px,u,v or x_px,y_px,X,Y,Z");
  usage.choice(fit, "--fit", {"similarity", "homography", "camera"},
               "how (without it, as foretells left-out points best)");
  usage.flag(thin_plate, "--thin-plate", "bent a little to the points where that earns its keep");
  usage.count(pose, "--pose", "which of the possible camera places (1)");
  usage.number(focal, "--focal", "the camera's known focal length in pixels");
  usage.place3(eye, "--eye", "a design to be seen from here");
  usage.place3(look, "--look", "the place that eye looks at");
  usage.place3(up, "--up", "the direction of the picture's top (0,0,1)");
  usage.angle(angle, "--angle", "angle of view across the picture's width (60)");
  usage.text(crop, "--crop", "X,Y,W,H|none", "only this part shows, in pixels from its upper left corner");
  usage.text(mask, "--mask", "FILE|none", "and of it only what lies in a closed outline: lines of x_px,y_px");
  usage.number(fade, "--fade", "per cent: 0 shows fully, 100 not at all");
  usage.text(order, "--order", "N|top|bottom", "its place among the wall's pictures, 1 the lowest");
  usage.place(move, "--move", "moved along the wall by this much");
  usage.text(file, "--file", "FILE", "another file of the same proportions in its place");
  usage.flag(remove, "--remove", "take it away");
  usage.text(stretch, "--stretch", "FILE.png", "write a map of how far it is stretched on the wall");
  usage.text(squared, "--squared", "FILE.png|FILE.pdf",
             "write it with the wall's squares drawn over it (squaring.step)");
}

Flags PictureArguments::sizes() const {
  Flags flags;
  add(flags, width, "--width");
  add(flags, at, "--at");
  add(flags, turn, "--turn");
  add(flags, lay, "--lay");
  add(flags, !align.empty(), "--align");
  add(flags, fit_rest, "--fit-rest");
  return flags;
}

Flags PictureArguments::fits() const {
  Flags flags;
  add(flags, points, "--points");
  add(flags, fit, "--fit");
  add(flags, thin_plate, "--thin-plate");
  add(flags, pose, "--pose");
  add(flags, focal, "--focal");
  return flags;
}

Flags PictureArguments::eyes() const {
  Flags flags;
  add(flags, eye, "--eye");
  add(flags, look, "--look");
  add(flags, up, "--up");
  add(flags, angle, "--angle");
  return flags;
}

Flags PictureArguments::others() const {
  Flags flags;
  add(flags, crop, "--crop");
  add(flags, mask, "--mask");
  add(flags, fade, "--fade");
  add(flags, name, "--name");
  add(flags, order, "--order");
  add(flags, file, "--file");
  add(flags, move, "--move");
  return flags;
}

Flags PictureArguments::files() const {
  Flags flags;
  add(flags, stretch, "--stretch");
  add(flags, squared, "--squared");
  return flags;
}

std::optional<std::string> PictureArguments::contradiction() const {
  const Flags by_size = sizes(), by_points = fits(), from_eye = eyes(), rest = others(), written = files();
  const Flags removed = remove ? Flags{"--remove"} : Flags{}, moved = move ? Flags{"--move"} : Flags{};
  const Flags filed = file ? Flags{"--file"} : Flags{};
  for (const Flags* flags : {&by_size, &by_points, &from_eye, &rest, &removed, &written})
    if (!picture && !flags->empty()) return (*flags)[0] + " needs a picture's file or name";
  if (const auto wrong = two_of({&by_size, &by_points, &from_eye}, "lay it in different ways")) return wrong;
  const char* contradict = "contradict each other";
  for (const Flags* alone : {&removed, &written})
    for (const Flags* flags : {&by_size, &by_points, &from_eye, &rest})
      if (const auto wrong = two_of({alone, flags}, contradict)) return wrong;
  if (const auto wrong = two_of({&removed, &written}, contradict)) return wrong;
  if (written.size() > 1) return written[0] + " and " + written[1] + " are asked one after the other";
  for (const Flags* kept : {&moved, &filed})
    for (const Flags* flags : {&by_size, &by_points, &from_eye})
      if (const auto wrong = two_of({kept, flags}, contradict)) return wrong;
  if (const auto flag = fit_rest ? beyond(by_size, {"--fit-rest", "--turn"}) : std::nullopt)
    return "--fit-rest and " + *flag + " contradict each other";
  if (const auto flag =
          fit && *fit != "camera" ? beyond(by_points, {"--points", "--fit", "--thin-plate"}) : std::nullopt)
    return *flag + " belongs to --fit camera";
  if (!from_eye.empty() && !(eye && look)) return "a design seen from an eye needs --eye and --look";
  return bad_value(*this);
}

Result<std::optional<PixelBox>> parse_crop(const std::string& text) {
  if (text == "none") return std::optional<PixelBox>();
  std::vector<double> numbers;
  for (const auto& part : split(text, ',')) {
    const auto number = parse_number(part);
    if (!number) return number.problem();
    numbers.push_back(*number);
  }
  if (numbers.size() != 4 || !(numbers[2] > 0 && numbers[3] > 0))
    return Problem{"\"" + text + "\" is no part of a picture", "", "Write it like 100,50,800,600 (X,Y,W,H) in pixels."};
  return std::optional(PixelBox{numbers[0], numbers[1], numbers[0] + numbers[2], numbers[1] + numbers[3]});
}

Result<Align> parse_align(const std::string& text, const WallItem& item) {
  const AlignWord* word = align_word(text);
  if (!word) return Problem{"\"" + text + "\" is no line to align to", item.name, "Write springing, or above:NAME."};
  Align align;
  align.to = word->to;
  align.side = word->side;
  if (align.to != AlignTo::picture) return align;
  const std::string name = text.substr(text.find(':') + 1);
  const PlacedPicture* other = item.picture_named(name);
  if (!other)
    return Problem{"there is no picture named " + name, item.name, "pontata picture PROJECT WALL lists them."};
  align.other = other->id;
  return align;
}

}  // namespace pontata
