#include <fmt/format.h>

#include "editor/verbs/project.h"
#include "engine/document/glb_export.h"

namespace pontata {

namespace {

struct ExportArguments : ReportArguments {
  std::string out;
};

int export_glb(const ExportArguments& a, const Document& doc, Progress* progress) {
  if (const auto free = may_be_written(a.out, a.project, doc); !free) return fail(free.problem(), "");
  const auto bytes = glb_text(doc, progress);
  if (!bytes) return fail(bytes.problem(), a.project);
  const auto wrote = write_file_atomically(a.out, bytes->bytes);
  if (!wrote) return fail(wrote.problem(), a.out);
  print(a.json ? to_text({{"file", a.out}, {"parts", bytes->names}, {"triangles", bytes->triangles}})
               : fmt::format("{}: {} {}, {} triangles\n", a.out, bytes->names.size(),
                             bytes->names.size() == 1 ? "part" : "parts", bytes->triangles));
  return kExitDone;
}

}  // namespace

VerbTask export_verb(Usage& usage) {
  const auto a = std::make_shared<ExportArguments>();
  a->declare_json(usage);
  usage.text_required(a->out, "--out", "FILE.glb", "the file");
  return [a] {
    return with_project(*a, [&](const Document& doc, Progress* progress) { return export_glb(*a, doc, progress); });
  };
}

}  // namespace pontata
