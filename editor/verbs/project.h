// What verbs on a project have in common: opening, saving, reporting.
#pragma once

#include <functional>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "editor/verbs/console.h"
#include "editor/verbs/output_files.h"
#include "editor/verbs/table.h"
#include "editor/verbs/usage.h"
#include "engine/document/edits.h"
#include "engine/document/flow.h"
#include "engine/document/folder_lock.h"
#include "engine/document/numbering.h"
#include "engine/document/project_file.h"

namespace pontata {

using Json = nlohmann::ordered_json;

struct ProjectArguments {
  std::string project;
  bool progress = false;
  void declare(Usage& usage);  // PROJECT and --progress
};

struct ReportArguments : ProjectArguments {
  bool json = false;
  std::optional<std::string> csv;
  void declare_json(Usage& usage);
  void declare_json_and_csv(Usage& usage);
};

// Opens the project, tells its notes and runs `task`; the exit status.
using ProjectTask = std::function<int(const Document& doc, Progress* progress)>;
int with_project(const ProjectArguments& arguments, const ProjectTask& task);

// The same for a verb that reports (measure, plaster, calendar, review) under the name `verb`.
int with_report(const std::string& verb, const ReportArguments& arguments, const ProjectTask& task);

// Opens the project (`may_be_new`: or begins one where there is no file), makes one edit, numbers the giornate in
// working order where that may differ now (numbering.h) and saves, its
// folder locked all the while: a second change waits for the first. Nothing is written when any of that fails. The exit
// status; `edited` is called once the project is saved.
struct ChangeOptions {
  bool may_be_new = false;
  LoadOptions load;
};
template <class E>
int change_project(const ProjectArguments& arguments, const std::function<Result<E>(const Document&, Progress*)>& edit,
                   const std::function<void(const E&)>& edited, const ChangeOptions& options = {});

// The document, or a new one.
Result<DocumentRef> open_for_change(const std::string& path, const ChangeOptions& options, Progress* progress);
int save_or_fail(const Document& doc, const std::string& path);

Result<WallId> find_wall(const Document& doc, const std::string& name);

// Writes CSV where asked ("-": standard output) and the files `also`, all or none, then JSON or the text for people.
int report_all(const ReportArguments& arguments, const Document& doc, const Json& json, const Table& table,
               const std::string& text, std::vector<FileToWrite> also = {});

void note_waiting();  // somebody else is changing the project

std::string to_text(const Json& json);
std::string giornata_label(const Giornata& g);  // "3 Angel", "14a"
// "giornata 14a Angel was changed since its cartoon was printed: print it again"
std::string changed_since_cartoon(const Giornata& g);

template <class E>
int change_project(const ProjectArguments& arguments, const std::function<Result<E>(const Document&, Progress*)>& edit,
                   const std::function<void(const E&)>& edited, const ChangeOptions& options) {
  const auto progress = console_progress(arguments.progress);
  const FolderLock lock(arguments.project, note_waiting);
  const auto doc = open_for_change(arguments.project, options, progress.get());
  if (!doc) return fail(doc.problem(), arguments.project);
  auto made = edit(**doc, progress.get());
  if (!made) return fail(made.problem(), arguments.project);
  Flow flow;
  number_in_order(**doc, *made, flow);
  if constexpr (requires { made->id, made->number; }) made->number = made->document->giornata(made->id)->number;
  if (const int status = save_or_fail(*made->document, arguments.project); status != kExitDone) return status;
  edited(*made);
  return kExitDone;
}

}  // namespace pontata
