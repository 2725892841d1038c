#include "engine/document/seam_files/bring_in.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/document/edit_parts.h"
#include "engine/document/giornata_records.h"
#include "engine/document/record_names.h"
#include "engine/document/seam_files/drawing_order.h"
#include "engine/document/seam_files/laid_outline.h"
#include "engine/seams/bite.h"
#include "engine/seams/line_stretches.h"

namespace pontata {

namespace {

constexpr std::size_t kMostPaths = 20000, kMostCorners = 100000;
constexpr double kLeastDrawing = 0.01;  // m: smaller than any giornata may be

Problem stopped() { return {"stopped", "", ""}; }

std::string size_text(double width, double height) { return fmt::format("{:.4g} by {:.4g} m", width, height); }

// A drawing in the wrong unit lies wholly beside the wall, or is a speck on it.
Outcome check_size(const Drawing& drawing, const WallItem& item) {
  const ChartBox wall = item.wall->chart->box();
  const DrawingBox box = box_of(drawing);
  const double width = box.high.x - box.low.x, height = box.high.y - box.low.y;
  const std::string remedy =
      "Give the right --unit, or --at to move it; the wall is " + size_text(wall.width, wall.height) + " in the chart.";
  if (box.high.x < 0 || box.high.y < 0 || box.low.x > wall.width || box.low.y > wall.height)
    return Problem{fmt::format("the whole drawing lies beside the wall, from {:.4g},{:.4g} to {:.4g},{:.4g} m",
                               box.low.x, box.low.y, box.high.x, box.high.y),
                   "", remedy};
  if (std::max(width, height) < kLeastDrawing)
    return Problem{"the whole drawing is only " + size_text(width, height), "", remedy};
  if (std::min(width / wall.width, height / wall.height) > 20)
    return Problem{"the drawing is " + size_text(width, height) + ", far larger than the wall", "", remedy};
  return Done{};
}

// m^2 of the wall inside a ring.
double area_of(const Ring& ring, const EdgeMeter& meter) {
  double area = 0;
  for (std::size_t i = 0; i < ring.size(); ++i) area += meter(ring[i], ring[(i + 1) % ring.size()]).area_m2;
  return area;
}

// Giornate of a network that belong to no record: holes kept free while the outline round them is cut in.
class Fillers {
 public:
  // Fills what is free of these holes.
  static Fillers fill(const Network& network, const std::vector<Ring>& holes, const WallItem& item) {
    const EdgeMeter meter = item.wall->metric->meter();
    Fillers made;
    made.network_ = network;
    for (const Ring& hole : holes) {
      made.owned_m2_ += area_of(hole, meter);
      for (int round = 0; round < kMostPieces; ++round) {
        const GiornataId id{kFirst + static_cast<std::uint32_t>(made.ids_.size())};
        auto filled = insert_outlines(made.network_, std::span(&hole, 1), id, meter);
        if (!filled) break;  // nothing is left, or less than a giornata
        made.owned_m2_ -= filled->area_m2;
        made.network_ = std::move(filled->network);
        made.ids_.push_back(id);
        if (filled->dropped.empty()) break;
      }
    }
    return made;
  }
  // Other giornate lie in the holes, m^2 of rounding and specks aside.
  bool share_holes() const { return owned_m2_ > kLeastPiece; }
  const Network& network() const { return network_; }
  bool has(GiornataId id) const { return std::find(ids_.begin(), ids_.end(), id) != ids_.end(); }

  Result<Network> emptied(Network network, const WallItem& item) const {
    for (const GiornataId id : ids_) {
      auto next = remove_giornata(network, id, item.wall->metric->meter());
      if (!next) return next.problem();
      network = std::move(*next);
    }
    return network;
  }

 private:
  static constexpr std::uint32_t kFirst = 0xf0000000u;
  static constexpr int kMostPieces = 256;
  Network network_;
  std::vector<GiornataId> ids_;
  double owned_m2_ = 0;
};

class Bringing {
 public:
  Bringing(const Document& doc, const WallItem& item, const Drawing& drawing, const BringOptions& options,
           Progress* progress)
      : drawing_(drawing),
        options_(options),
        progress_(progress),
        doc_(std::make_shared<Document>(doc)),
        item_(&item),
        hold_(held_seams(doc)) {
    ground_.item = item_;
    ground_.network = &network();
    ground_.exact = as_taken_out(drawing) && !options.hug && !has_giornate(doc, item.id);
    ground_.reach = options.snap_m / kPitch;
    brought_.notes = drawing.notes;
  }

  Result<SeamsBrought> run() {
    if (options_.hug)
      if (const auto hugs = make_contours(); !hugs) return hugs.problem();
    const auto outlines = outline_order(drawing_, options_.take);
    std::size_t done = 0;
    const auto all = static_cast<double>(std::max<std::size_t>(drawing_.paths.size(), 1));
    for (const std::size_t k : outlines) {
      if (is_cancelled(progress_)) return stopped();
      report(progress_, static_cast<double>(done++) / all, "Bringing the seams in");
      if (const auto kept = settle(drawing_.paths[k], outline(drawing_.paths[k])); !kept) return kept.problem();
    }
    for (const auto& path : drawing_.paths) {
      if (is_no_seam(path)) continue;
      for (const auto& line : path.lines) {
        if (line.closed) continue;
        if (is_cancelled(progress_)) return stopped();
        report(progress_, 0.9, "Dividing");
        if (const auto kept = settle(path, dividing(path, line)); !kept) return kept.problem();
      }
    }
    for (const auto& path : drawing_.paths)
      if (is_own(path, "zone"))
        if (const auto kept = settle(path, zone(path)); !kept) return kept.problem();
    return finish();
  }

 private:
  static bool has_giornate(const Document& doc, WallId wall) {
    return std::any_of(doc.giornate.begin(), doc.giornate.end(),
                       [&](const Giornata& g) { return g.alive && g.wall == wall; });
  }

  // Every outline is one of ours, as it was taken out.
  static bool as_taken_out(const Drawing& drawing) {
    for (const auto& path : drawing.paths) {
      if (is_no_seam(path)) continue;
      if (!path.own) return false;
      const auto rings = rings_as_drawn(path);
      if (!rings || trace_of(*rings) != path.own->traced) return false;
    }
    return true;
  }

  const Network& network() const { return doc_->wall(item_->id)->network; }
  void take(Network network) {
    doc_ = with_network(*doc_, *doc_->wall(item_->id), std::move(network));
    look_again();
  }
  void look_again() {
    item_ = doc_->wall(item_->id);
    ground_.item = item_;
    ground_.network = &item_->network;
  }

  Outcome make_contours() {
    if (const auto there = check_pictures(*item_); !there) return there.problem();
    auto ground = std::make_shared<HugGround>();
    ground->wall = item_->wall;
    ground->contours = contours_of(*doc_, *item_, progress_);
    ground->ribs = find_ribs(*item_->wall);
    ground_.contours = std::move(ground);
    return Done{};
  }

  // Keeps or tells what could not be brought in.
  Outcome settle(const DrawnPath& path, Outcome result) {
    if (result) return result;
    Problem problem = result.problem();
    problem.where = path.place + (problem.where.empty() ? "" : ", " + problem.where);
    if (is_cancelled(progress_)) return stopped();
    if (!options_.skip_bad) return problem;
    brought_.left_out.push_back(std::move(problem));
    return Done{};
  }

  // All of one path's parts, or none.
  Outcome outline(const DrawnPath& path) {
    if (const auto good = check_giornata_name(path.name); !good) return good.problem();
    for (const auto& line : path.lines)
      if (line.points.size() > kMostCorners)
        return Problem{fmt::format("it has {} corners; an outline may have {}", line.points.size(), kMostCorners), "",
                       "Simplify it."};
    const auto laid = lay_outline(ground_, path, doc_->settings.hug, progress_);
    if (!laid) return laid.problem();
    const auto before = doc_;
    const std::size_t made = brought_.made.size();
    const Outcome inserted = insert(path, *laid);
    if (inserted) return inserted;
    doc_ = before;
    look_again();
    brought_.made.resize(made);
    return inserted;
  }

  Outcome insert(const DrawnPath& path, const LaidOutline& laid) {
    if (item_->wall->chart->has_cuts()) return insert_parts(path, laid.parts, laid.holes);
    for (const Ring& part : laid.parts)  // parts beside each other
      if (const auto done = insert_parts(path, {part}, laid.holes); !done) return done;
    return Done{};
  }

  Outcome insert_parts(const DrawnPath& path, const std::vector<Ring>& parts, const std::vector<Ring>& holes) {
    const Fillers fillers = Fillers::fill(network(), holes, *item_);
    if (!options_.take) return fill_free(path, parts, holes, fillers);
    if (fillers.share_holes())
      return Problem{"it takes from giornate, and others lie in its hole", "",
                     "Bring it in without --take, or draw it without the hole."};
    return bite(path, parts, fillers);
  }

  Outcome fill_free(const DrawnPath& path, const std::vector<Ring>& parts, const std::vector<Ring>& holes,
                    const Fillers& fillers) {
    const EdgeMeter meter = item_->wall->metric->meter();
    const GiornataId id = next_giornata(*doc_);
    auto inserted = insert_outlines(fillers.network(), parts, id, meter, item_->wall->chart.get());
    if (!inserted) return inserted.problem();
    auto network = fillers.emptied(std::move(inserted->network), *item_);
    if (!network) return network.problem();
    take(std::move(*network));
    double given_up = -inserted->area_m2;
    for (const Ring& part : parts) given_up += area_of(part, meter);
    for (const Ring& hole : holes) given_up -= area_of(hole, meter);
    record(path, inserted->area_m2, given_up > kLeastPiece, std::move(inserted->dropped));
    return Done{};
  }

  Outcome bite(const DrawnPath& path, const std::vector<Ring>& parts, const Fillers& fillers) {
    const GiornataId id = next_giornata(*doc_);
    std::uint32_t last = id.value;
    const auto next_id = [&last] { return GiornataId{++last}; };
    const SeamHold hold = [&](GiornataId other) {
      return fillers.has(other) ? std::string("it is a hole of the path") : hold_(other);
    };
    auto bitten =
        take_bite(fillers.network(), parts, id, next_id, item_->wall->metric->meter(), item_->wall->chart.get(), hold);
    if (!bitten) return bitten.problem();
    auto network = fillers.emptied(std::move(bitten->network), *item_);
    if (!network) return network.problem();
    take(std::move(*network));
    record(path, bitten->area_m2, false, std::move(bitten->dropped));
    auto next = std::make_shared<Document>(*doc_);
    for (const auto& part : bitten->parts) add_part(*next, part.of);
    doc_ = std::move(next);
    look_again();
    return Done{};
  }

  void record(const DrawnPath& path, double area_m2, bool overlap, std::vector<OutlineResult::Dropped> dropped) {
    auto next = std::make_shared<Document>(*doc_);
    const GiornataId id = add_giornata(*next, item_->id, path.name).id;
    doc_ = std::move(next);
    look_again();
    brought_.made.push_back({id, path.place, area_m2, overlap, std::move(dropped)});
  }

  // A zone of ours. What bears its name or is the same stays as it is, which is told.
  Outcome zone(const DrawnPath& path) {
    LayingGround exact = ground_;
    exact.exact = true, exact.reach = 0, exact.contours = nullptr;
    auto laid = lay_outline(exact, path, doc_->settings.hug, progress_);
    if (!laid) return laid.problem();
    const ZoneKind kind = path.own->label == zone_kind_name(ZoneKind::detail) ? ZoneKind::detail : ZoneKind::keep_whole;
    const ZoneId id{doc_->next_zone};
    auto added = add_zone(*doc_, item_->id, kind, std::move(laid->parts), path.name, path.own->rate_m2_per_h,
                          subject_named(path.own->subject).value_or(Subject::none));
    if (!added) {
      brought_.left_out.push_back(added.problem());
      brought_.left_out.back().where = path.place;
      return Done{};
    }
    doc_ = added->document;
    look_again();
    brought_.zones.push_back({id, path.place});
    return Done{};
  }

  Outcome dividing(const DrawnPath& path, const DrawnLine& line) {
    const auto places = place_line(ground_, line);
    if (!places) return places.problem();
    const auto stretches = line_stretches(network(), *places);
    const auto before = doc_;
    const std::size_t divided = brought_.divided.size();
    int crossed = 0;
    for (const auto& stretch : stretches) {
      const bool loose = stretch.begins_loose || stretch.ends_loose;
      const double least = loose && stretches.size() > 1 ? static_cast<double>(kDivideReach) : ground_.reach;
      if (stretch.length <= least) continue;
      ++crossed;
      const Outcome cut = divide_along(path, stretch);
      if (cut) continue;
      doc_ = before;
      look_again();
      brought_.divided.resize(divided);
      return cut;
    }
    if (crossed > 0) return Done{};
    return Problem{"it crosses no giornata", "", "Draw it across one, or close it to make a giornata of it."};
  }

  Outcome divide_along(const DrawnPath& path, const LineStretch& stretch) {
    const GiornataId id = network().owner_at(stretch.inside);
    if (!id) return Problem{"it runs along a seam that is there", "", "Draw it across a giornata."};
    std::vector<ChartPoint> points;
    for (const auto& p : stretch.points) points.push_back(to_chart(p));
    auto cut = divide(*doc_, id, points, options_.hug, progress_);
    if (!cut) return cut.problem();
    doc_ = cut->document;
    look_again();
    brought_.divided.push_back({id, cut->new_id, path.place});
    return Done{};
  }

  Result<SeamsBrought> finish() {
    if (brought_.made.empty() && brought_.divided.empty() && brought_.zones.empty()) {
      if (!brought_.left_out.empty()) {
        const Problem& first = brought_.left_out.front();
        return Problem{"nothing in it can be brought in: " + first.what, first.where, first.remedy};
      }
      return Problem{"holds no seams to bring in", "", "Draw giornate as outlines, or lines across them."};
    }
    tell_left_out();
    const std::size_t seams = brought_.made.size() + brought_.divided.size();
    brought_.document = doc_;
    brought_.did = fmt::format("Seams brought in: {} {}", seams, seams == 1 ? "seam" : "seams");
    if (const std::size_t zones = brought_.zones.size(); zones > 0)
      brought_.did += fmt::format(", {} {}", zones, zones == 1 ? "zone" : "zones");
    return std::move(brought_);
  }

  // The wall's border and openings in a drawing of ours.
  void tell_left_out() {
    const auto count = std::ranges::count_if(
        drawing_.paths, [](const DrawnPath& path) { return is_no_seam(path) && !is_own(path, "zone"); });
    if (count > 0)
      brought_.notes.push_back(fmt::format(
          "{} of the drawing left out, the border and openings of the wall it is of: this wall has its own", count));
  }

  const Drawing& drawing_;
  const BringOptions& options_;
  Progress* progress_;
  DocumentRef doc_;
  const WallItem* item_;
  SeamHold hold_;
  LayingGround ground_;
  SeamsBrought brought_;
};

}  // namespace

Result<SeamsBrought> bring_in_seams(const Document& doc, WallId wall, const Drawing& drawing,
                                    const BringOptions& options, Progress* progress) {
  const auto item = item_of(doc, wall);
  if (!item) return item.problem();
  if (!(options.snap_m >= 0 && options.snap_m <= 0.05))
    return Problem{"that is no reach for bringing lines on to seams", "", "Give a length from 0 to 5 cm."};
  if (drawing.paths.size() > kMostPaths)
    return Problem{fmt::format("the drawing holds more than {} outlines and lines", kMostPaths), "",
                   "Bring in one layer after the other."};
  if (const auto sized = check_size(drawing, **item); !sized) return sized.problem();
  return Bringing(doc, **item, drawing, options, progress).run();
}

}  // namespace pontata
