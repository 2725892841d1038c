#include "editor/verbs/project.h"

#include <filesystem>

#include "engine/document/json_text.h"

namespace pontata {

void ProjectArguments::declare(Usage& usage) {
  usage.needs(project, "PROJECT", "the project file");
  usage.flag(progress, "--progress", "tell progress on the error output even when it is no terminal");
}

void ReportArguments::declare_json(Usage& usage) {
  declare(usage);
  usage.flag(json, "--json", "print JSON");
}

void ReportArguments::declare_json_and_csv(Usage& usage) {
  declare_json(usage);
  usage.text(csv, "--csv", "FILE", "also write the table as CSV (-: to standard output, instead of the table)");
}

int with_project(const ProjectArguments& arguments, const ProjectTask& task) {
  const auto progress = console_progress(arguments.progress);
  const auto loaded = open_project(arguments.project, {}, progress.get());
  if (!loaded) return fail(loaded.problem(), arguments.project);
  for (const auto& text : loaded->notes) note(text);
  return task(*loaded->document, progress.get());
}

Result<DocumentRef> open_for_change(const std::string& path, const ChangeOptions& options, Progress* progress) {
  std::error_code ignored;
  if (options.may_be_new &&
      std::filesystem::symlink_status(path, ignored).type() == std::filesystem::file_type::not_found)
    return std::make_shared<const Document>();
  auto loaded = open_project(path, options.load, progress);
  if (!loaded) return loaded.problem();
  for (const auto& text : loaded->notes) note(text);
  return std::move(loaded->document);
}

int save_or_fail(const Document& doc, const std::string& path) {
  const auto saved = save_project(doc, path);
  return saved ? kExitDone : fail(saved.problem(), path);
}

Result<WallId> find_wall(const Document& doc, const std::string& name) {
  if (const WallItem* item = doc.wall_named(name)) return item->id;
  std::string known;
  for (const auto& wall : doc.walls) known += (known.empty() ? "" : ", ") + wall->name;
  return Problem{"there is no wall named " + name, "",
                 known.empty() ? "Add one with pontata wall." : "The walls are " + known + "."};
}

int report_all(const ReportArguments& arguments, const Json& json, const Table& table, const std::string& text) {
  if (arguments.csv && *arguments.csv == "-") {
    print(table.csv());
    return kExitDone;
  }
  if (arguments.csv)
    if (const auto wrote = write_file_atomically(*arguments.csv, table.csv()); !wrote)
      return fail(wrote.problem(), *arguments.csv);
  print(arguments.json ? to_text(json) : text);
  return kExitDone;
}

std::string to_text(const Json& json) { return json_text(json); }

std::string giornata_label(const Giornata& g) {
  return g.name.empty() ? std::to_string(g.number) : std::to_string(g.number) + " " + g.name;
}

}  // namespace pontata
