// An SVG's elements as outlines and lines on the chart.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <pugixml.hpp>
#include <set>

#include "engine/document/seam_files/drawing.h"
#include "engine/document/seam_files/own_marks.h"
#include "engine/document/seam_files/svg_syntax.h"

namespace pontata {

namespace {

constexpr int kDeepest = 256;
constexpr const char* kAnew = "Save the drawing anew as plain SVG.";

// What an element hands down to those in it.
struct Inherited {
  Affine map;
  bool even_odd = false;
  bool chosen = false;  // lies in a layer asked for
  bool hidden = false;
  std::string layer;
};

bool is(const pugi::xml_node& node, std::string_view name) {
  const std::string_view whole = node.name();
  const auto colon = whole.find(':');
  return whole.substr(colon == std::string_view::npos ? 0 : colon + 1) == name;
}

std::string trimmed(std::string_view text) {
  const auto from = text.find_first_not_of(" \t\r\n");
  if (from == std::string_view::npos) return "";
  return std::string(text.substr(from, text.find_last_not_of(" \t\r\n") - from + 1));
}

// A property as the style attribute or an attribute of its own has it; empty without either.
std::string property(const pugi::xml_node& node, std::string_view name) {
  const std::string_view style = node.attribute("style").value();
  for (std::size_t from = 0; from < style.size();) {
    const std::size_t end = std::min(style.find(';', from), style.size());
    const std::string_view one = style.substr(from, end - from);
    const std::size_t colon = one.find(':');
    if (colon != std::string_view::npos && trimmed(one.substr(0, colon)) == name) return trimmed(one.substr(colon + 1));
    from = end + 1;
  }
  return trimmed(node.attribute(std::string(name).c_str()).value());
}

// An element's title, else its label.
std::string title(const pugi::xml_node& node) {
  for (const auto& child : node.children())
    if (is(child, "title")) return trimmed(child.text().get());
  for (const auto& attribute : node.attributes()) {
    const std::string_view name = attribute.name();
    if (name == "label" || name.ends_with(":label")) return trimmed(attribute.value());
  }
  return "";
}

class SvgReader {
 public:
  SvgReader(const std::string& file, const DrawingOptions& options, Progress* progress)
      : file_(file), options_(options), progress_(progress) {}

  Result<Drawing> read(std::string& bytes) {
    pugi::xml_document xml;
    const auto parsed = xml.load_buffer_inplace(bytes.data(), bytes.size());
    if (!parsed) return Problem{std::string("is no sound SVG: ") + parsed.description(), file_, kAnew};
    const pugi::xml_node root = xml.document_element();
    if (!is(root, "svg")) return Problem{"is no SVG", file_, "Give an SVG or DXF file of outlines."};
    Inherited top;
    const auto page = page_map(root);
    if (!page) return page.problem();
    top.map = *page;
    top.chosen = options_.layers.empty();
    if (const auto read = children(root, top, 0); !read) return read.problem();
    tell_left_out();
    return std::move(drawing_);
  }

 private:
  // From the root's user units to chart metres.
  Result<Affine> page_map(const pugi::xml_node& root) {
    const auto side = [&](const char* name) {  // px; 0 where it is not told in plain lengths
      return svg_length(root.attribute(name).value()).value_or(0);
    };
    double width = side("width"), height = side("height");
    const auto box = root.attribute("viewBox");
    const auto view = box ? svg_view(box.value()) : std::nullopt;
    if (box && !view) return Problem{"its viewBox cannot be read", file_, kAnew};
    const Affine shift{1, 0, 0, 1, options_.at.u, options_.at.v};
    const auto upright = [&](double scale, double page_height) {
      return shift * Affine{scale, 0, 0, -scale, 0, scale * page_height};
    };
    if (!view) {
      if (!(height > 0))
        return Problem{"does not say how high its page is", file_,
                       "Give it a height or a viewBox: v counts from there."};
      return upright(options_.unit_m.value_or(kPixel), height);
    }
    if (options_.unit_m) return upright(*options_.unit_m, view->height) * Affine{1, 0, 0, 1, -view->x, -view->y};
    if (!(width > 0) && !(height > 0)) width = view->width, height = view->height;
    if (!(width > 0)) width = height * view->width / view->height;
    if (!(height > 0)) height = width * view->height / view->width;
    const auto fit = svg_fit(*view, width, height, root.attribute("preserveAspectRatio").value());
    if (!fit) return Problem{"its page has no size", file_, kAnew};
    return upright(kPixel, height) * *fit;
  }

  Outcome children(const pugi::xml_node& parent, const Inherited& from, int depth) {
    if (depth > kDeepest) return Problem{fmt::format("its groups lie more than {} deep", kDeepest), file_, kAnew};
    for (const auto& node : parent.children()) {
      if (node.type() != pugi::node_element) continue;
      if (const auto read = element(node, from, depth); !read) return read;
    }
    return Done{};
  }

  Outcome element(const pugi::xml_node& node, const Inherited& from, int depth) {
    static const std::set<std::string_view> kShapes{"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"};
    static const std::set<std::string_view> kGroups{"g", "a", "svg"};
    static const std::set<std::string_view> kTold{"text", "image", "use", "switch", "foreignObject"};
    std::string_view name = node.name();
    name.remove_prefix(name.find(':') == std::string_view::npos ? 0 : name.find(':') + 1);
    if (kShapes.count(name)) return shape(node, name, from);
    if (kTold.count(name)) ++left_out_[std::string(name)];
    if (!kGroups.count(name)) return Done{};
    auto inner = inherit(node, from);
    if (!inner) return inner.problem();
    if (name == "svg")
      if (const auto fitted = nested(node, *inner); !fitted) return fitted;
    note_layer(node, *inner);
    return children(node, *inner, depth + 1);
  }

  Result<Inherited> inherit(const pugi::xml_node& node, const Inherited& from) const {
    Inherited to = from;
    if (const auto text = node.attribute("transform")) {
      const auto own = svg_transform(text.value());
      if (!own) return Problem{"the transform of " + called(node) + " cannot be read", file_, kAnew};
      to.map = from.map * *own;
    }
    if (const auto rule = property(node, "fill-rule"); !rule.empty() && rule != "inherit")
      to.even_odd = rule == "evenodd";
    to.hidden = from.hidden || property(node, "display") == "none";
    return to;
  }

  // A page within the page.
  Outcome nested(const pugi::xml_node& node, Inherited& inner) const {
    const auto size = [&](const char* name, double otherwise) {
      const auto text = node.attribute(name);
      return text ? svg_length(text.value()) : std::optional(otherwise);
    };
    const auto x = size("x", 0), y = size("y", 0);
    if (!x || !y) return Problem{"the place of " + called(node) + " cannot be read", file_, kAnew};
    inner.map = inner.map * Affine{1, 0, 0, 1, *x, *y};
    const auto box = node.attribute("viewBox");
    if (!box) return Done{};
    const auto view = svg_view(box.value());
    const auto width = size("width", -1), height = size("height", -1);
    const auto fit = view && width && height && *width > 0 && *height > 0
                         ? svg_fit(*view, *width, *height, node.attribute("preserveAspectRatio").value())
                         : std::nullopt;
    if (!fit) return Problem{"the size of " + called(node) + " cannot be read", file_, kAnew};
    inner.map = inner.map * *fit;
    return Done{};
  }

  void note_layer(const pugi::xml_node& node, Inherited& inner) {
    const std::string named = title(node), id = node.attribute("id").value();
    if (!named.empty()) inner.layer = named;
    for (const auto& name : {named, id}) {
      if (name.empty()) continue;
      if (drawing_.layers.size() < kMostLayers) drawing_.layers.insert(name);
      const auto& wanted = options_.layers;
      if (std::find(wanted.begin(), wanted.end(), name) == wanted.end()) continue;
      inner.chosen = true;
      inner.hidden = false;
    }
  }

  static std::string called(const pugi::xml_node& node) {
    const std::string id = node.attribute("id").value();
    return std::string(node.name()) + (id.empty() ? "" : " " + id.substr(0, 60));
  }

  Outcome shape(const pugi::xml_node& node, std::string_view kind, const Inherited& from) {
    ++number_;
    if (!from.chosen) return Done{};
    const auto drawn = inherit(node, from);
    if (!drawn) return drawn.problem();
    if (drawn->hidden) return ++hidden_, Done{};
    if (is_cancelled(progress_)) return Problem{"was not read to its end", file_, "Begin again when you wish."};
    DrawnPath path;
    if (const auto own = node.attribute("pontata:kind")) {
      path.own =
          OwnPath{own.value(), node.attribute("pontata:traced").value(), node.attribute("pontata:label").value(),
                  marked_rate(node.attribute("pontata:rate").value()), node.attribute("pontata:subject").value()};
      path.name = node.attribute("pontata:name").value();
    } else {
      path.name = title(node);
    }
    const std::string id = node.attribute("id").value();
    path.layer = from.layer;
    path.place = fmt::format("path {}", number_);
    if (!path.name.empty() || !id.empty())
      path.place += " (" + (path.name.empty() ? id : path.name).substr(0, 60) + ")";
    path.even_odd = drawn->even_odd;
    auto lines = lines_of(node, kind, drawn->map);
    if (!lines) return Problem{lines.problem().what, file_ + ": " + path.place, lines.problem().remedy};
    for (const auto& line : *lines) points_ += line.points.size();
    if (points_ > kMostDrawingPoints)
      return Problem{fmt::format("holds more than {} points", kMostDrawingPoints), file_, "Bring in parts of it."};
    path.lines = std::move(*lines);
    if (!path.lines.empty()) drawing_.paths.push_back(std::move(path));
    return Done{};
  }

  static Problem unreadable(const char* name) { return {std::string("its ") + name + " cannot be read", "", kAnew}; }

  // Measures of a shape, in the order of `names`; what is not there is 0.
  static Result<std::vector<double>> measures(const pugi::xml_node& node, std::initializer_list<const char*> names) {
    std::vector<double> values;
    for (const char* name : names) {
      const auto text = node.attribute(name);
      const auto value = text ? svg_length(text.value()) : std::optional(0.0);
      if (!value) return unreadable(name);
      values.push_back(*value);
    }
    return values;
  }

  static Result<std::vector<DrawnLine>> lines_of(const pugi::xml_node& node, std::string_view kind, const Affine& map) {
    if (kind == "path") {
      std::vector<DrawnLine> lines;
      if (const auto drawn = add_svg_path(lines, node.attribute("d").value(), map, kCurveTolerance); !drawn)
        return drawn.problem();
      return lines;
    }
    if (kind == "polyline" || kind == "polygon") return poly(node, kind == "polygon", map);
    if (kind == "line") {
      const auto m = measures(node, {"x1", "y1", "x2", "y2"});
      if (!m) return m.problem();
      return std::vector<DrawnLine>{{{map({(*m)[0], (*m)[1]}), map({(*m)[2], (*m)[3]})}, false, true}};
    }
    return kind == "rect" ? rectangle(node, map) : round(node, kind == "circle", map);
  }

  static Result<std::vector<DrawnLine>> poly(const pugi::xml_node& node, bool closed, const Affine& map) {
    const auto numbers = svg_numbers(node.attribute("points").value());
    if (!numbers || numbers->size() % 2 != 0) return unreadable("points");
    DrawnLine line{{}, closed, false};
    for (std::size_t i = 0; i < numbers->size(); i += 2) line.points.push_back(map({(*numbers)[i], (*numbers)[i + 1]}));
    if (line.points.empty()) return std::vector<DrawnLine>{};
    return std::vector<DrawnLine>{std::move(line)};
  }

  static Result<std::vector<DrawnLine>> rectangle(const pugi::xml_node& node, const Affine& map) {
    const auto m = measures(node, {"x", "y", "width", "height", "rx", "ry"});
    if (!m) return m.problem();
    const double x = (*m)[0], y = (*m)[1], w = (*m)[2], h = (*m)[3];
    if (!(w > 0 && h > 0)) return std::vector<DrawnLine>{};  // SVG 1.1, 9.2: not drawn
    double rx = (*m)[4], ry = (*m)[5];
    if (!node.attribute("rx")) rx = ry;
    if (!node.attribute("ry")) ry = rx;
    rx = std::clamp(rx, 0.0, w / 2);
    ry = std::clamp(ry, 0.0, h / 2);
    DrawnLine line{{}, true, false};
    if (!(rx > 0 && ry > 0)) {
      line.points = {map({x, y}), map({x + w, y}), map({x + w, y + h}), map({x, y + h})};
      return std::vector<DrawnLine>{std::move(line)};
    }
    const auto corner = [&](const Vec2& begins, const Vec2& ends) {
      line.points.push_back(map(begins));
      add_svg_arc(line.points, begins, ends, {{rx, ry}, 0, false, true}, map, kCurveTolerance);
    };
    corner({x + w - rx, y}, {x + w, y + ry});
    corner({x + w, y + h - ry}, {x + w - rx, y + h});
    corner({x + rx, y + h}, {x, y + h - ry});
    corner({x, y + ry}, {x + rx, y});
    return std::vector<DrawnLine>{std::move(line)};
  }

  static Result<std::vector<DrawnLine>> round(const pugi::xml_node& node, bool circle, const Affine& map) {
    const auto m = circle ? measures(node, {"cx", "cy", "r", "r"}) : measures(node, {"cx", "cy", "rx", "ry"});
    if (!m) return m.problem();
    if (!((*m)[2] > 0 && (*m)[3] > 0)) return std::vector<DrawnLine>{};
    DrawnLine line{{}, true, false};
    add_arc(line.points, map * Affine{(*m)[2], 0, 0, (*m)[3], (*m)[0], (*m)[1]}, 0, kTurn, kCurveTolerance);
    return std::vector<DrawnLine>{std::move(line)};
  }

  void tell_left_out() {
    for (const auto& [name, count] : left_out_)
      drawing_.notes.push_back(fmt::format("{} {} of the drawing left out: it is no outline or line", count, name));
    if (hidden_ > 0)
      drawing_.notes.push_back(fmt::format("{} hidden {} left out: name the layer to bring it in", hidden_,
                                           hidden_ == 1 ? "path was" : "paths were"));
  }

  static constexpr double kPixel = 0.0254 / 96;  // m
  static constexpr double kTurn = 6.283185307179586;
  static constexpr std::size_t kMostLayers = 1000;
  const std::string& file_;
  const DrawingOptions& options_;
  Progress* progress_;
  Drawing drawing_;
  std::map<std::string, int> left_out_;
  std::size_t points_ = 0;
  int number_ = 0, hidden_ = 0;
};

}  // namespace

Result<Drawing> read_svg_drawing(std::string bytes, const std::string& file, const DrawingOptions& options,
                                 Progress* progress) {
  if (bytes.starts_with("\x1f\x8b")) return Problem{"is a compressed SVG", file, "Save it as plain SVG."};
  return SvgReader(file, options, progress).read(bytes);
}

}  // namespace pontata
