// The files that sheets go into: one PDF, an SVG for each sheet, or a DXF for each giornata.
#pragma once

#include <memory>
#include <set>
#include <string>

#include "engine/cartoon/cartoon.h"
#include "engine/cartoon/output_set.h"
#include "engine/cartoon/page.h"

namespace pontata {

class SheetFiles {
 public:
  // `set` must outlive this. A PDF is `pdf_name` (such as "cartoon.pdf"); `title` stands in the files.
  static Result<SheetFiles> open(CartoonFormat format, OutputSet& set, const std::string& pdf_name,
                                 const std::string& title);
  // Pages for what is named so ("giornata-12a"): in SVG its sheets become giornata-12a-1.svg and on, in DXF all of them
  // lie in giornata-12a.dxf. Ends what was begun before. Letters that file systems dislike become '-'; a name used
  // before gets a number.
  Result<Pages*> begin(const std::string& name);
  // Writes what is not yet written.
  Outcome finish();

 private:
  SheetFiles(CartoonFormat format, OutputSet& set) : format_(format), set_(&set) {}
  std::string unused(const std::string& name);
  CartoonFormat format_;
  OutputSet* set_;
  std::string title_;
  std::unique_ptr<Pages> pages_;
  std::set<std::string> used_;
  std::shared_ptr<std::string> stem_ = std::make_shared<std::string>();  // of the SVG files to come
  std::shared_ptr<int> sheet_ = std::make_shared<int>(0);
};

}  // namespace pontata
