// Everything the open window holds, as plain data that panels, stages and tools share.
#pragma once

#include <array>
#include <chrono>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "editor/tools/pairs.h"
#include "editor/tools/tool.h"
#include "editor/window/file_browser.h"
#include "editor/window/picture_view.h"
#include "editor/window/session.h"
#include "editor/window/trace.h"
#include "editor/window/view_area.h"
#include "editor/window/window_settings.h"
#include "editor/window/worker.h"
#include "engine/document/picture_edits.h"

namespace pontata {

enum class Stage { wall, design, giornate, plaster, calendar, seams, cartoon };
inline constexpr std::size_t kStages = 7;

class StagePage;  // editor/stages/stage.h

struct Workbench {
  explicit Workbench(std::function<void()> wake);
  ~Workbench();

  WindowSettings settings;
  double scale = 1;            // of everything on screen
  bool scale_changed = false;  // fonts must be made again

  Session session;
  Worker worker;
  Worker quick;  // short work that is waited for at once and shows no progress
  Trace trace;
  FileBrowser browser;
  std::unique_ptr<ViewArea> views;       // made once OpenGL is there
  std::unique_ptr<PictureView> picture;  // the chosen picture itself, likewise
  ViewsShown beside_picture = ViewsShown::both;

  Stage stage = Stage::giornate;
  bool page_open = true;
  std::array<std::unique_ptr<StagePage>, kStages> pages;

  std::array<std::unique_ptr<Tool>, kTools> tools;
  ToolKind tool_kind = ToolKind::look;
  Tool& tool() { return *tools[static_cast<std::size_t>(tool_kind)]; }
  bool hug_on = true;
  Pairs pairs;  // of the chosen picture
  ZoneId zone;  // the chosen zone of the chosen wall; none where none is

  // What is being typed into a field of the chosen giornate. It is kept for those when the field is left, even by a
  // click that chooses others.
  enum class Field { name, coat, note };
  struct Typing {
    std::vector<GiornataId> of;
    Field field = Field::name;
    std::string before, text;
  };
  std::optional<Typing> typing;

  std::optional<BySize> laying;     // what the Lay tool's drag would give
  std::optional<Hover> hover;       // wall place under the pointer
  std::optional<Vec2> hover_pixel;  // of the picture itself, when the pointer is over it
  Vec2 pointer{0, 0};               // px
  int mods = 0;

  enum class Dialog { none, unsaved, recover };
  Dialog dialog = Dialog::none;
  std::function<void()> after_unsaved;  // what the user wanted when unsaved work stood in the way
  std::string recovery;                 // the copy that may be brought back
  bool quit = false;

  std::shared_ptr<const WallItem> seeking;             // whose contours are being found
  bool seeking_stopped = false;                        // they are no longer wanted
  DocumentRef kept;                                    // document of the last recovery copy
  std::chrono::steady_clock::time_point changed_at{};  // of the last change not yet kept
  int week = 0;                                        // page of the week at the bottom, counted from the current one
  std::map<std::string, std::array<int, 4>> controls;  // on screen in this frame, for the trace
  long frames = 0;
};

// Remembers where the last drawn item is on screen, for the trace.
void control(Workbench& bench, const std::string& name);
// The same of the whole ImGui window that is being drawn, such as "page".
void control_region(Workbench& bench, const std::string& name);

void take_tool(Workbench& bench, ToolKind kind);

}  // namespace pontata
