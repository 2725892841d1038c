#include <fmt/format.h>

#include "engine/base/text.h"
#include "engine/base/units.h"
#include "engine/document/seam_files/drawing.h"
#include "engine/document/seam_files/take_out.h"

namespace pontata {

namespace {

std::string path_data(const std::vector<Ring>& rings) {
  std::string data;
  for (const Ring& ring : rings) {
    char mark = 'M';
    for (const LatticePoint& p : ring) {
      const ChartPoint place = to_chart(p);
      data += fmt::format("{}{} {}", mark, short_decimal(place.u), short_decimal(place.v));
      mark = 'L';
    }
    data += 'Z';
  }
  return data;
}

std::string path_element(const TakenPath& path) {
  return fmt::format(
      "<path id=\"{0}-{1}\" pontata:kind=\"{0}\" pontata:id=\"{1}\" pontata:label=\"{2}\" pontata:name=\"{3}\" "
      "pontata:traced=\"{4}\"{7}{8} d=\"{5}\">{6}</path>\n",
      path.kind, path.id, path.label, xml_escaped(path.name), trace_of(path.rings), path_data(path.rings),
      path.name.empty() ? "" : "<title>" + xml_escaped(path.name) + "</title>",
      path.rate_m2_per_h ? fmt::format(" pontata:rate=\"{}\"", format_number(*path.rate_m2_per_h)) : "",
      path.subject.empty() ? "" : fmt::format(" pontata:subject=\"{}\"", path.subject));
}

std::string group(const std::string& id, const std::string& title, const std::string& look, const std::string& inner) {
  return fmt::format("<g id=\"{}\" {}>\n<title>{}</title>\n{}</g>\n", id, look, xml_escaped(title), inner);
}

}  // namespace

std::string seams_svg(const SeamsTaken& seams) {
  const std::string width = short_decimal(seams.width), height = short_decimal(seams.height);
  std::string wall, openings, giornate, zones;
  for (const auto& path : seams.paths) {
    const std::string element = path_element(path);
    if (path.kind == "border") wall += element;
    if (path.kind == "opening") openings += element;
    if (path.kind == "zone") zones += element;
    if (path.kind == "giornata")
      giornate += group("giornata-" + path.label, "giornata " + path.label, "fill=\"#ebddb0\"", element);
  }
  std::string out = fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:pontata=\"urn:x-pontata:seams\" version=\"1.1\" "
      "width=\"{}mm\" height=\"{}mm\" viewBox=\"0 0 {} {}\">\n"
      "<title>{}</title>\n"
      "<desc>Seams of the wall {} in metres of its chart, seen from the painted side: path data are u to the right and "
      "v up; the page's y is {} - v. One user unit is 1 m.</desc>\n",
      short_decimal(seams.width * 1000, 7), short_decimal(seams.height * 1000, 7), width, height,
      xml_escaped(seams.wall), xml_escaped(seams.wall), height);
  out += fmt::format(
      "<g transform=\"matrix(1 0 0 -1 0 {})\" fill=\"none\" fill-rule=\"evenodd\" stroke=\"#1f1b16\" "
      "stroke-width=\"0.004\" stroke-linejoin=\"round\">\n",
      height);
  out += group("wall", "wall", "stroke-width=\"0.008\"", wall);
  if (!openings.empty()) out += group("openings", "openings", "stroke-width=\"0.008\"", openings);
  out += giornate;
  if (!zones.empty()) out += group("zones", "zones", "stroke=\"#1f4e79\" stroke-dasharray=\"0.03 0.02\"", zones);
  return out + "</g>\n</svg>\n";
}

}  // namespace pontata
