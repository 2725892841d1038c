// The open project as the window holds it: its history, what is chosen, and what was last said to the user.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/document/flow.h"
#include "engine/document/history.h"
#include "engine/document/plaster_plan.h"
#include "engine/document/project_file.h"

namespace pontata {

class Session {
 public:
  Session();  // a new, empty project

  const DocumentRef& document() const { return history_.current(); }
  const History& history() const { return history_; }
  const std::string& path() const { return path_; }  // empty: never saved
  std::string title() const;                         // file name, or "New project"

  // Takes over a loaded project (or a new one, empty path), or one brought back from its recovery copy.
  void open(DocumentRef document, std::string path, bool recovered = false);
  // One undo step, its numbers in working order (numbering.h), or the reason why not in the status line. True when the
  // document changed.
  bool apply(Result<Edited> edit);
  // Before numbers are kept for good: puts them in working order where they are not, as an undo step.
  void number_in_order();
  void undo();
  void redo();
  // Writes to `path` (which becomes the project's); says when or why not.
  bool save(const std::string& path);
  bool saved() const { return history_.saved(); }
  bool worth_saving() const { return !saved() && (history_.can_undo() || history_.can_redo() || recovered_); }

  WallId wall() const { return wall_; }
  std::shared_ptr<const WallItem> wall_item() const;  // the chosen wall; null where there is none
  void choose_wall(WallId id);
  PictureId picture() const { return picture_; }
  PlacedRef placed() const;  // the chosen picture of the chosen wall; null where there is none
  void choose_picture(PictureId id);
  // The chosen giornata: of several the one that was chosen last, which lies on the chosen wall. None where none is.
  GiornataId chosen() const { return chosen_.empty() ? GiornataId{} : chosen_.back(); }
  const std::vector<GiornataId>& all_chosen() const { return chosen_; }  // in the order they were chosen
  bool is_chosen(GiornataId id) const;
  void choose(GiornataId id);                        // alone; none: nothing is chosen
  void choose_more(GiornataId id);                   // beside the others, or no longer where it was chosen
  void choose_all(std::span<const GiornataId> ids);  // these, in this order

  // Derived figures of the current document, made again only where it changed. Null without that wall.
  DrapedRef draped(WallId wall);  // the wall's pictures as they lie on it; null without one
  std::shared_ptr<const WallFigures> figures(WallId wall);
  std::shared_ptr<const std::vector<GiornataPlan>> giornate();
  std::shared_ptr<const Plan> plan();
  std::shared_ptr<const Result<PlasterPlan>> plaster();  // of the whole job; made only where it is asked for
  std::vector<std::string> meets(GiornataId id);         // what it meets on other walls, a line a wall
  const GiornataMeasure* measure(GiornataId id);         // valid until the document changes

  // Contours of a wall's pictures, once they were found for the present state; null until then and without a picture.
  std::shared_ptr<const ContourField> contours(WallId wall) const;
  std::shared_ptr<const ContourField> contours() const { return contours(wall_); }
  // Those found last for any state of the wall, from which the next ones take over what did not change.
  std::shared_ptr<const ContourField> last_contours(const WallRef& wall) const;
  void keep_contours(const DrapeInput& of, const ContourSettings& settings, std::shared_ptr<const ContourField> field);

  void say(std::string text) { status_ = std::move(text), fault_.reset(), is_error_ = false; }
  void complain(const Problem& problem);
  const std::string& status() const { return status_; }
  bool status_is_error() const { return is_error_; }
  // Where on the chosen wall the fault is that was complained of last, while the status line tells of it.
  const std::optional<ChartPoint>& fault() const { return fault_; }
  const std::string& saved_time() const { return saved_time_; }  // "14:05"; empty when not saved since it was opened

  // The findings last asked for, and the document they belong to.
  struct Found {
    WallId wall;
    Finding finding;
  };
  struct Review {
    DocumentRef of;
    std::vector<Found> findings;
  };
  std::optional<Review> review;
  DocumentRef cartoon_of;  // the document whose cartoon was last written

 private:
  void keep_choice_valid();

  History history_;
  Flow flow_;
  DocumentRef plaster_of_;
  std::shared_ptr<const Result<PlasterPlan>> plaster_;  // of that document
  std::string path_;
  WallId wall_;
  PictureId picture_;
  std::vector<GiornataId> chosen_;
  struct FoundContours {
    DrapeInput of;
    ContourSettings settings;
    std::shared_ptr<const ContourField> field;
  };
  std::vector<FoundContours> contours_;  // the last few
  std::string status_;
  std::optional<ChartPoint> fault_;
  bool is_error_ = false;
  bool recovered_ = false;
  std::string saved_time_;
};

}  // namespace pontata
