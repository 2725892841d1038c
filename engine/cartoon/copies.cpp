#include "engine/cartoon/copies.h"

#include <fmt/format.h>

#include <map>
#include <string>

#include "engine/base/units.h"

namespace pontata {
namespace {

constexpr double kWidth = 210, kHeight = 297, kMargin = 20;  // A4, ISO 216, mm

void sinopia_title(Pages& pages, const CartoonInput& input, const std::vector<const PrintJob*>& jobs, int pontata) {
  pages.begin_page(kWidth, kHeight);
  double y = kHeight - kMargin - 12;
  const auto line = [&](const std::string& words, const TextStyle& style, double step) {
    pages.text({kMargin, y}, pages.fitted(words, style, kWidth - 2 * kMargin), style);
    y -= step;
  };
  line(fmt::format("Sinopia · pontata {}", pontata), {11, true}, 9);
  line(input.project, {4}, 12);
  for (const char* words :
       {"For the bare arriccio: the contours of every giornata of this pontata, at true size.",
        "Dashed lines are where the seams will run.", "Join the sheets of neighbours by their match marks.",
        "Hang each sheet by its numbered marks, with the tape offsets of its day sheet."})
    line(words, {3.6}, 6);
  y -= 4;
  for (const PrintJob* job : jobs) {
    if (y < kMargin + 10) return line("… and more", {3.6}, 6);
    const CartoonGiornata& g = *job->giornata;
    line(fmt::format("giornata {}{}{} · wall {} · {} m²", label_of(g), g.name.empty() ? "" : " ", g.name,
                     job->wall->name, format_fixed(g.measure.area_m2, 2)),
         {3.6}, 5.4);
  }
}

}  // namespace

Result<std::vector<CopySheets>> open_copies(const CartoonInput& input, const std::vector<PrintJob>& jobs,
                                            const CartoonOptions& options, OutputSet& set) {
  std::vector<CopySheets> out;
  const auto open = [&](SheetCopy copy, int pontata, const std::string& name, const std::string& title) -> Outcome {
    auto files = SheetFiles::open(options.format, set, name + ".pdf", title + " · " + input.project);
    if (!files) return files.problem();
    out.push_back({copy, pontata, copy == SheetCopy::painting ? "" : name + "-", std::move(*files)});
    return Done{};
  };
  if (const auto made = open(SheetCopy::painting, 0, "cartoon", "Cartoon"); !made) return made.problem();
  if (options.print.incision)
    if (const auto made = open(SheetCopy::incision, 0, "incision", "Incision copy"); !made) return made.problem();
  if (!options.print.sinopia) return out;
  std::map<int, std::vector<const PrintJob*>> pontate;
  for (const PrintJob& job : jobs) pontate[job.giornata->day.pontata].push_back(&job);
  for (const auto& [pontata, its] : pontate) {
    const auto made = open(SheetCopy::sinopia, pontata, fmt::format("sinopia-{}", pontata),
                           fmt::format("Sinopia, pontata {}", pontata));
    if (!made) return made.problem();
    if (options.format != CartoonFormat::pdf) continue;
    const auto pages = out.back().files.begin("title");
    if (!pages) return pages.problem();
    sinopia_title(**pages, input, its, pontata);
  }
  return out;
}

}  // namespace pontata
