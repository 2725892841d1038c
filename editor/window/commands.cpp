#include "editor/window/commands.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <utility>

#include "editor/stages/stage.h"
#include "editor/window/known_ground.h"
#include "engine/document/recovery.h"
#include "engine/document/seam_edits.h"

namespace fs = std::filesystem;

namespace pontata {
namespace {

constexpr std::array<const char*, 5> kPictureEndings{".png", ".jpg", ".jpeg", ".tif", ".tiff"};

constexpr const char* kSeeking = "Finding contours";

// So that what the user waits for does not wait for contours that change with it.
void stop_seeking(Workbench& bench) {
  const auto work = bench.worker.shown();
  if (!bench.seeking || bench.seeking_stopped || !work || work->title != kSeeking) return;
  bench.worker.cancel();
  bench.seeking_stopped = true;
}

// Runs `next` at once, or after the user has said what to do with unsaved work.
void with_unsaved(Workbench& bench, std::function<void()> next) {
  if (!bench.session.worth_saving()) return next();
  bench.after_unsaved = std::move(next);
  bench.dialog = Workbench::Dialog::unsaved;
}

void take_over(Workbench& bench, DocumentRef document, const std::string& path, bool recovered) {
  bench.tool().put_down(bench);
  bench.pairs.forget();
  bench.kept = document;
  bench.session.open(std::move(document), path, recovered);
  bench.week = 0;
}

void remember_folder(Workbench& bench, const std::string& path) {
  std::error_code ignored;
  const fs::path whole = fs::absolute(path, ignored);
  bench.settings.folder = fs::is_directory(whole, ignored) ? whole.string() : whole.parent_path().string();
}

bool ends_with(const std::string& path, std::string_view ending) {
  if (path.size() < ending.size()) return false;
  return std::equal(ending.rbegin(), ending.rend(), path.rbegin(),
                    [](char a, char b) { return a == std::tolower(static_cast<unsigned char>(b)); });
}

}  // namespace

void load_into(Workbench& bench, const std::string& path, const std::string& recovered_for) {
  const bool recovered = path != recovered_for;
  bench.worker.start(recovered ? "Bringing back unsaved work" : "Opening " + fs::path(path).filename().string(), true,
                     [&bench, path, recovered_for, recovered](Progress& progress) -> Worker::Apply {
                       auto loaded = open_project(path, LoadOptions{}, &progress);
                       return [&bench, loaded = std::move(loaded), recovered_for, recovered] {
                         if (!loaded) return bench.session.complain(loaded.problem());
                         take_over(bench, loaded->document, recovered_for, recovered);
                         std::string says =
                             recovered ? "Unsaved work brought back; save it to keep it" : "Opened " + recovered_for;
                         for (const std::string& note : loaded->notes) says += ". " + note;
                         bench.session.say(says);
                         if (!recovered_for.empty()) remember_folder(bench, recovered_for);
                       };
                     });
}

void open_project(Workbench& bench, const std::string& path, bool ask) {
  const auto go = [&bench, path] {
    std::error_code failed;
    if (const auto copy = find_recovery(path)) {
      bench.recovery = *copy;
      bench.dialog = Workbench::Dialog::recover;
    }
    if (path.empty() || !fs::exists(path, failed)) {
      take_over(bench, std::make_shared<const Document>(), path, false);
      if (!path.empty()) bench.session.say("A new project; it will be saved as " + path);
      return;
    }
    load_into(bench, path, path);
  };
  if (ask)
    with_unsaved(bench, go);
  else
    go();
}

void new_project(Workbench& bench) { open_project(bench, ""); }

void ask_open(Workbench& bench) {
  bench.browser.ask({FileBrowser::Want::open_file,
                     "Open a project",
                     {".pontata", ".json"},
                     "",
                     [&bench](const std::string& path) { open_project(bench, path); }},
                    bench.settings.folder);
}

void save(Workbench& bench) {
  if (bench.session.path().empty()) return ask_save_as(bench);
  if (bench.session.save(bench.session.path())) remove_recovery(bench.session.path());
}

void ask_save_as(Workbench& bench) {
  const std::string now = bench.session.path();
  bench.browser.ask({FileBrowser::Want::save_file,
                     "Save the project",
                     {".pontata", ".json"},
                     now.empty() ? "project.pontata" : fs::path(now).filename().string(),
                     [&bench](std::string path) {
                       if (fs::path(path).extension().empty()) path += ".pontata";
                       const std::string before = bench.session.path();
                       if (!bench.session.save(path)) return;
                       remove_recovery(before);
                       remove_recovery(path);
                       remember_folder(bench, path);
                     }},
                    now.empty() ? bench.settings.folder : fs::path(now).parent_path().string());
}

void quit(Workbench& bench) {
  with_unsaved(bench, [&bench] { bench.quit = true; });
}

bool commit(Workbench& bench, Result<Edited> edit) { return bench.session.apply(std::move(edit)); }

void undo(Workbench& bench) { bench.session.undo(); }
void redo(Workbench& bench) { bench.session.redo(); }

void remove_chosen(Workbench& bench) {
  const std::vector<GiornataId> ids = bench.session.all_chosen();
  if (ids.empty()) return;
  Edited all{bench.session.document(), ""};
  for (const GiornataId id : ids) {
    auto next = remove_giornata(*all.document, id);
    if (!next) return bench.session.complain(next.problem());
    all = std::move(*next);
  }
  if (ids.size() > 1) all.did = std::to_string(ids.size()) + " giornate taken away";
  commit(bench, all);
}

void join_chosen(Workbench& bench) { join_giornate(bench, bench.session.all_chosen()); }

bool join_giornate(Workbench& bench, const std::vector<GiornataId>& ids) {
  if (ids.size() < 2) return bench.session.say("Two giornate or more are needed to be joined"), false;
  const GiornataId kept = ids.front();
  const bool done = commit(bench, join(*bench.session.document(), ids));
  if (done) bench.session.choose(kept);
  return done;
}

void add_picture_file(Workbench& bench, const std::string& path) {
  const WallId wall = bench.session.wall();
  if (!wall) return bench.session.complain({"there is no wall for the picture yet", path, "Add a wall first."});
  remember_folder(bench, path);
  const DocumentRef document = bench.session.document();
  edit_picture(bench, "Bringing in the picture", [document, wall, path](Progress& progress) {
    return add_picture(*document, wall, path, BySize{}, "", &progress);
  });
}

void edit_picture(Workbench& bench, const std::string& title, std::function<Result<PictureEdited>(Progress&)> edit) {
  stop_seeking(bench);
  bench.worker.start(title, true, [&bench, edit = std::move(edit)](Progress& progress) -> Worker::Apply {
    return [&bench, edited = edit(progress)] { commit_picture(bench, edited); };
  });
}

bool commit_picture(Workbench& bench, const Result<PictureEdited>& edit) {
  if (!edit) return bench.session.complain(edit.problem()), false;
  const bool done = commit(bench, Edited{edit->document, edit->did});
  if (done) bench.session.choose_picture(edit->id);
  return done;
}

void ask_picture(Workbench& bench, const std::string& title, std::function<void(const std::string&)> chosen) {
  bench.browser.ask(
      {FileBrowser::Want::open_file, title, {kPictureEndings.begin(), kPictureEndings.end()}, "", std::move(chosen)},
      bench.settings.folder);
}

void review_now(Workbench& bench) {
  const DocumentRef document = bench.session.document();
  const KnownGround known(bench.session);
  bench.worker.start("Looking over the seams", false, [document, known, &bench](Progress& progress) -> Worker::Apply {
    Flow flow;
    Session::Review review{document, {}};
    known.give(flow, *document);
    for (const auto& wall : document->walls) {
      const auto findings = flow.findings(*document, wall->id, &progress);
      if (progress.cancelled || !findings)
        return [&bench] { bench.session.say("The look over the seams was stopped"); };
      for (const Finding& finding : *findings) review.findings.push_back({wall->id, finding});
    }
    return [&bench, review = std::move(review)] {
      bench.session.say(std::to_string(review.findings.size()) +
                        (review.findings.size() == 1 ? " finding" : " findings") + " on the seams");
      bench.session.review = review;
    };
  });
}

void seek_contours(Workbench& bench) {
  const auto item = bench.session.wall_item();
  if (bench.seeking) {
    const bool wanted = item && item->wall == bench.seeking->wall && item->pictures == bench.seeking->pictures;
    if (!wanted) stop_seeking(bench);
    return;
  }
  const auto work = bench.worker.shown();
  if (!item || !shows_picture(*item) || bench.session.contours() || (work && work->blocking)) return;
  bench.seeking = item;
  const DrapedRef draped = bench.session.draped(item->id);
  const ContourSettings settings = bench.session.document()->settings.contours;
  const auto before = bench.session.last_contours(item->wall);
  bench.worker.start(kSeeking, false, [=, &bench](Progress& progress) -> Worker::Apply {
    auto field = std::make_shared<const ContourField>(contour_field(*draped, settings, before.get(), &progress));
    return [=, &bench] {
      bench.seeking.reset();
      if (std::exchange(bench.seeking_stopped, false)) return;
      bench.session.keep_contours(draped->input(), settings, field);
    };
  });
}

bool shows_picture(const WallItem& item) {
  return std::any_of(item.pictures.begin(), item.pictures.end(),
                     [](const PlacedRef& p) { return p->pixels != nullptr; });
}

void take_file(Workbench& bench, const std::string& path) {
  for (const char* picture : kPictureEndings)
    if (ends_with(path, picture)) {
      bench.stage = Stage::design;
      bench.page_open = true;
      return add_picture_file(bench, path);
    }
  for (const char* scan : {".glb", ".gltf", ".obj", ".ply", ".stl"})
    if (ends_with(path, scan)) {
      bench.stage = Stage::wall;
      bench.page_open = true;
      bench.pages[0]->take_file(path);
      return;
    }
  open_project(bench, path);
}

double keep_recovery(Workbench& bench) {
  constexpr double kPause = 2.0;
  const DocumentRef& now = bench.session.document();
  if (now == bench.kept || bench.session.saved()) {
    bench.changed_at = {};
    return 0;
  }
  const auto clock = std::chrono::steady_clock::now();
  if (bench.changed_at == std::chrono::steady_clock::time_point{}) bench.changed_at = clock;
  const double waited = std::chrono::duration<double>(clock - bench.changed_at).count();
  if (waited < kPause) return kPause - waited;
  bench.kept = now;
  bench.changed_at = {};
  bench.worker.start("Keeping a recovery copy", false,
                     [document = now, path = bench.session.path(), &bench](Progress&) -> Worker::Apply {
                       const Outcome kept = write_recovery(*document, path);
                       if (kept) return {};
                       return [&bench, problem = kept.problem()] { bench.session.complain(problem); };
                     });
  return 0;
}

}  // namespace pontata
