// Litres, buckets and kg of mortar on the Plaster page: by giornata, by pontata or by week.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "editor/window/workbench.h"
#include "engine/document/flow.h"

namespace pontata {

class MortarTable {
 public:
  void draw(Workbench& bench, const std::shared_ptr<const std::vector<GiornataPlan>>& rows);
  const PlasterTotals& all() const { return all_; }  // of the rows drawn last

 private:
  enum class By { giornata, pontata, week };
  // Giornate that stand together in a row.
  struct Heap {
    std::string name;
    std::vector<GiornataId> ids;
    PlasterTotals sum;
    std::string refused;  // why one of them cannot be plastered
  };
  void make(const Document& document);
  void row(Workbench& bench, const Heap& heap, std::size_t n);

  By by_ = By::giornata;
  By made_by_ = By::giornata;
  std::shared_ptr<const std::vector<GiornataPlan>> of_;
  std::vector<Heap> heaps_;  // of those rows
  std::vector<GiornataId> list_;
  PlasterTotals all_;
};

}  // namespace pontata
