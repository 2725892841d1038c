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

int with_report(const std::string& verb, const ReportArguments& arguments, const ProjectTask& task) {
  if (arguments.json && arguments.csv && *arguments.csv == "-")
    return wrong_usage(verb, "--json and --csv - would both go to standard output");
  return with_project(arguments, task);
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

int report_all(const ReportArguments& arguments, const Document& doc, const Json& json, const Table& table,
               const std::string& text, std::vector<FileToWrite> also) {
  const bool csv_out = arguments.csv && *arguments.csv == "-";
  if (arguments.csv && !csv_out) also.push_back({*arguments.csv, table.csv()});
  for (const auto& file : also)
    if (const auto free = may_be_written(file.path, arguments.project, doc); !free) return fail(free.problem(), "");
  for (std::size_t i = 0; i < also.size(); ++i)
    for (std::size_t k = 0; k < i; ++k)
      if (same_file(also[i].path, also[k].path))
        return fail({"is named twice, for two different files", also[i].path, "Give two names."}, "");
  if (const auto wrote = write_files_atomically(also); !wrote) return fail(wrote.problem(), "");
  print(csv_out ? table.csv() : arguments.json ? to_text(json) : text);
  return kExitDone;
}

void note_waiting() { note("waiting: the project is being changed by another pontata"); }

std::string to_text(const Json& json) { return json_text(json); }

std::string changed_since_cartoon(const Giornata& g) {
  return "giornata " + giornata_label(g) + " was changed since its cartoon was printed: print it again";
}

std::string giornata_label(const Giornata& g) { return g.name.empty() ? label_of(g) : label_of(g) + " " + g.name; }

}  // namespace pontata
