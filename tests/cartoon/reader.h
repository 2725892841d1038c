// What independent readers (poppler, qpdf) say of a PDF.
#pragma once

#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "engine/base/vec.h"

namespace pontata::fixtures {

class TempFolder {
 public:
  TempFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "pontata-XXXXXX").string();
    path_ = ::mkdtemp(name.data());
  }
  ~TempFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  std::string file(const std::string& name) const { return path_ + "/" + name; }
  const std::string& path() const { return path_; }

 private:
  std::string path_;
};

inline std::string output_of(const std::string& command) {
  std::string out;
  std::FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
  std::array<char, 4096> buffer;
  while (const std::size_t n = std::fread(buffer.data(), 1, buffer.size(), pipe)) out.append(buffer.data(), n);
  ::pclose(pipe);
  return out;
}

inline std::string bytes_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

// Media boxes as poppler reads them.
inline std::vector<Vec2> page_boxes_mm(const std::string& path) {
  std::istringstream in(output_of("pdfinfo -l 99999 -box " + path));
  std::vector<Vec2> out;
  for (std::string line; std::getline(in, line);) {
    int page = 0;
    double x0 = 0, y0 = 0, x1 = 0, y1 = 0;
    if (std::sscanf(line.c_str(), "Page %d MediaBox: %lf %lf %lf %lf", &page, &x0, &y0, &x1, &y1) == 5)
      out.emplace_back((x1 - x0) * 25.4 / 72, (y1 - y0) * 25.4 / 72);
  }
  return out;
}

inline std::string text_of_page(const std::string& path, int page) {
  return output_of("pdftotext -layout -f " + std::to_string(page) + " -l " + std::to_string(page) + " " + path + " -");
}

// In the order of the page's own content, whatever the angle of the words.
inline std::string raw_text_of_page(const std::string& path, int page) {
  return output_of("pdftotext -raw -f " + std::to_string(page) + " -l " + std::to_string(page) + " " + path + " -");
}

// A word and its box, points from the upper left, as poppler finds them.
struct WordBox {
  std::string words;
  double left, top, right, bottom;
};
inline std::vector<WordBox> words_of(const std::string& path, int page) {
  const std::string n = std::to_string(page);
  std::istringstream in(output_of("pdftotext -bbox -f " + n + " -l " + n + " " + path + " -"));
  std::vector<WordBox> out;
  for (std::string line; std::getline(in, line);) {
    WordBox w;
    if (std::sscanf(line.c_str(), " <word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\"", &w.left, &w.top,
                    &w.right, &w.bottom) != 4)
      continue;
    const std::size_t from = line.find('>') + 1;
    w.words = line.substr(from, line.rfind("</word>") - from);
    out.push_back(w);
  }
  return out;
}
// By more than a third of the smaller box either way: boxes are as high as the font, above and below the letters.
inline bool overlap(const WordBox& a, const WordBox& b) {
  const double x = std::min(a.right, b.right) - std::max(a.left, b.left);
  const double y = std::min(a.bottom, b.bottom) - std::max(a.top, b.top);
  return x > 0.33 * std::min(a.right - a.left, b.right - b.left) &&
         y > 0.33 * std::min(a.bottom - a.top, b.bottom - b.top);
}

struct FontLine {
  std::string name;
  bool embedded = false;
};
inline std::vector<FontLine> fonts_of(const std::string& path) {
  std::istringstream in(output_of("pdffonts " + path));
  std::vector<FontLine> out;
  std::string line;
  std::getline(in, line), std::getline(in, line);
  while (std::getline(in, line)) {
    std::istringstream words(line);
    std::vector<std::string> w;
    for (std::string s; words >> s;) w.push_back(s);
    if (w.size() >= 7) out.push_back({w[0], w[w.size() - 5] == "yes"});  // ... emb sub uni object id
  }
  return out;
}

struct SheetBox {
  double left, bottom, right, top;  // mm
  bool holds(Vec2 p) const { return p.x >= left && p.x <= right && p.y >= bottom && p.y <= top; }
};

// A page as poppler draws it.
struct PageImage {
  int width = 0, height = 0;
  std::string rgb;
  std::array<int, 3> at(double x, double y) const {  // pixels from the upper left
    const auto i = 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x));
    const auto c = [&](std::size_t k) { return static_cast<int>(static_cast<unsigned char>(rgb[i + k])); };
    return {c(0), c(1), c(2)};
  }
};
inline PageImage render_page(const std::string& path, int page, int dpi) {
  const std::string n = std::to_string(page);
  std::istringstream in(output_of("pdftoppm -r " + std::to_string(dpi) + " -f " + n + " -l " + n + " " + path));
  PageImage out;
  std::string magic;
  int most = 0;
  in >> magic >> out.width >> out.height >> most;
  in.get();
  out.rgb.assign(std::istreambuf_iterator<char>(in), {});
  return out;
}

// A stroked or filled path in page millimetres from the lower left, from the page's own content stream.
struct DrawnPath {
  std::vector<Vec2> points;
  bool closed = false;
  double width_mm = 0;  // of the stroke; 0 when filled
  std::array<double, 3> rgb{0, 0, 0};
  bool dashed = false;
  std::string layer{};  // of the optional content it belongs to; empty outside any
};

// Reads the operators that matter (ISO 32000-1, table 51): q Q cm m l h re S s B b f W n w d RG rg G g BDC EMC.
inline std::vector<DrawnPath> drawn_paths(const std::string& path, int page) {
  const std::string qdf = output_of("qpdf --qdf --object-streams=disable --pages " + path + " " + std::to_string(page) +
                                    " -- " + path + " -");
  std::vector<DrawnPath> out;
  for (std::size_t at = qdf.find("stream\n"); at != std::string::npos; at = qdf.find("stream\n", at)) {
    if (at >= 3 && qdf.compare(at - 3, 3, "end") == 0) {
      at += 7;
      continue;
    }
    const std::size_t end = qdf.find("endstream", at);
    const std::string content = qdf.substr(at + 7, end - at - 7);
    at = end;
    if (content.find(" cm\n") == std::string::npos && content.find(" re") == std::string::npos) continue;
    struct Graphics {
      std::array<double, 6> m{1, 0, 0, 1, 0, 0};
      double width = 1;
      std::array<double, 3> stroke{0, 0, 0}, fill{0, 0, 0};
      bool dashed = false;
    };
    Graphics g;
    std::vector<Graphics> saved;
    std::vector<double> n;
    std::vector<DrawnPath> open;
    const auto map = [&](double x, double y) {
      return Vec2{g.m[0] * x + g.m[2] * y + g.m[4], g.m[1] * x + g.m[3] * y + g.m[5]} * (25.4 / 72);
    };
    std::istringstream in(content);
    bool in_text = false, dash = false;
    std::string layer, name, before;  // the last two names
    for (std::string w; in >> w;) {
      char* rest = nullptr;
      const double value = std::strtod(w.c_str(), &rest);
      if (*rest == 0) {
        n.push_back(value);
        continue;
      }
      if (w[0] == '/') before = name, name = w.substr(1);
      if (w == "BDC" && before == "OC") layer = name;
      if (w == "EMC") layer.clear();
      if (w[0] == '[') dash = w != "[]" && w != "[";
      if (w == "BT") in_text = true;
      if (w == "ET") in_text = false;
      if (in_text) {
        n.clear();
        continue;
      }
      const std::size_t k = n.size();
      if (w == "q")
        saved.push_back(g);
      else if (w == "Q" && !saved.empty())
        g = saved.back(), saved.pop_back();
      else if (w == "cm" && k >= 6) {
        const auto a = &n[k - 6];
        const auto m = g.m;
        g.m = {a[0] * m[0] + a[1] * m[2], a[0] * m[1] + a[1] * m[3],        a[2] * m[0] + a[3] * m[2],
               a[2] * m[1] + a[3] * m[3], a[4] * m[0] + a[5] * m[2] + m[4], a[4] * m[1] + a[5] * m[3] + m[5]};
      } else if (w == "m" && k >= 2)
        open.push_back({{map(n[k - 2], n[k - 1])}});
      else if (w == "l" && k >= 2 && !open.empty())
        open.back().points.push_back(map(n[k - 2], n[k - 1]));
      else if (w == "h" && !open.empty())
        open.back().closed = true;
      else if (w == "re" && k >= 4) {
        const double x = n[k - 4], y = n[k - 3], dx = n[k - 2], dy = n[k - 1];
        open.push_back({{map(x, y), map(x + dx, y), map(x + dx, y + dy), map(x, y + dy)}, true});
      } else if (w == "w" && k >= 1)
        g.width = n[k - 1];
      else if (w == "d")
        g.dashed = dash;
      else if (w == "RG" && k >= 3)
        g.stroke = {n[k - 3], n[k - 2], n[k - 1]};
      else if (w == "rg" && k >= 3)
        g.fill = {n[k - 3], n[k - 2], n[k - 1]};
      else if (w == "G" && k >= 1)
        g.stroke = {n[k - 1], n[k - 1], n[k - 1]};
      else if (w == "g" && k >= 1)
        g.fill = {n[k - 1], n[k - 1], n[k - 1]};
      else if (w == "S" || w == "s" || w == "B" || w == "b" || w == "B*" || w == "b*") {
        for (DrawnPath& p : open) {
          p.width_mm = g.width * std::sqrt(std::abs(g.m[0] * g.m[3] - g.m[1] * g.m[2])) * 25.4 / 72;
          p.rgb = g.stroke, p.dashed = g.dashed, p.closed |= w[0] == 's' || w[0] == 'b', p.layer = layer;
          out.push_back(p);
        }
        open.clear();
      } else if (w == "f" || w == "f*" || w == "F") {
        for (DrawnPath& p : open) p.rgb = g.fill, p.layer = layer, out.push_back(p);
        open.clear();
      } else if (w == "n")
        open.clear();
      n.clear();
    }
  }
  return out;
}

}  // namespace pontata::fixtures
