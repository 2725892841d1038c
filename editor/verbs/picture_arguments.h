// What the verb picture was asked, and what of it contradicts itself.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "editor/verbs/project.h"
#include "engine/document/picture_edits.h"

namespace pontata {

struct PictureArguments : ReportArguments {
  std::string wall;
  std::optional<std::string> picture;  // a file, or the name of a picture that lies there
  // By size and place.
  std::optional<double> width, turn;
  std::optional<ChartPoint> at;
  std::optional<std::string> lay;
  std::vector<std::string> align;
  bool fit_rest = false;
  // By points.
  std::optional<std::string> points, fit;
  bool thin_plate = false;
  std::optional<std::uint32_t> pose;
  std::optional<double> focal;
  // From an eye.
  std::optional<Vec3> eye, look, up;
  std::optional<double> angle;
  // What shows of it.
  std::optional<std::string> crop, mask;
  std::optional<double> fade;
  // The rest.
  std::optional<std::string> name, order, file;
  std::optional<ChartPoint> move;
  bool remove = false;
  // Written beside the project; nothing is changed.
  std::optional<std::string> stretch, squared;

  void declare(Usage& usage);
  // Flags given, in the order they are declared.
  std::vector<std::string> sizes() const, fits() const, eyes() const, others() const, files() const;
  bool lays() const { return !sizes().empty() || !fits().empty() || !eyes().empty(); }
  // What is wrong with the asking, before any file was looked at.
  std::optional<std::string> contradiction() const;
};

// The crop as it was typed: "X,Y,W,H" in pixels from the upper left, or "none".
Result<std::optional<PixelBox>> parse_crop(const std::string& text);
// "springing", "right-of:Sky" ...; the names are those of the wall's pictures.
Result<Align> parse_align(const std::string& text, const WallItem& item);

}  // namespace pontata
