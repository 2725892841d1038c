#include "engine/cartoon/sheet_files.h"

#include "engine/cartoon/dxf_pages.h"
#include "engine/cartoon/svg_pages.h"

namespace pontata {
namespace {

template <class P>
Outcome keep(std::unique_ptr<Pages>& to, Result<P> made) {
  if (!made) return made.problem();
  to = std::make_unique<P>(std::move(*made));
  return Done{};
}

std::string file_name(const std::string& name) {
  std::string out;
  for (const char c : name) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
    out += plain ? c : '-';
  }
  return out;
}

}  // namespace

Result<SheetFiles> SheetFiles::open(CartoonFormat format, OutputSet& set, const std::string& pdf_name,
                                    const std::string& title) {
  SheetFiles out(format, set);
  out.title_ = title;
  Outcome made = Done{};
  if (format == CartoonFormat::pdf) made = keep(out.pages_, PdfPages::create(set.add(pdf_name), title));
  if (format == CartoonFormat::svg) {
    const auto next = [&set, stem = out.stem_, sheet = out.sheet_] {
      return set.add_numbered(*stem, ++*sheet, ".svg");
    };
    made = keep(out.pages_, SvgPages::create(next, title));
  }
  if (!made) return made.problem();
  return out;
}

std::string SheetFiles::unused(const std::string& name) {
  const std::string stem = file_name(name);
  std::string out = stem;
  for (int n = 2; !used_.insert(out).second; ++n) out = stem + "--" + std::to_string(n);
  return out;
}

Result<Pages*> SheetFiles::begin(const std::string& name) {
  *stem_ = unused(name), *sheet_ = 0;
  if (format_ == CartoonFormat::dxf) {
    if (const Outcome done = finish(); !done) return done.problem();
    if (const Outcome made = keep(pages_, DxfPages::create(set_->add(*stem_ + ".dxf"))); !made) return made.problem();
  }
  return pages_.get();
}

Outcome SheetFiles::finish() {
  if (!pages_) return Done{};
  const Outcome done = pages_->finish();
  pages_.reset();
  return done;
}

}  // namespace pontata
