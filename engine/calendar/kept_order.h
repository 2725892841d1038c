// An order of places to which one precedence after another is added, as long as none closes a circle.
//
// Based on: D. J. Pearce and P. H. J. Kelly, "A Dynamic Topological Sort Algorithm for Directed Acyclic Graphs", ACM J.
// Experimental Algorithmics 11 (2006). Taking the strongest first and leaving out what would close a circle is the way
// of ranked pairs: T. N. Tideman, "Independence of Clones as a Criterion for Voting Rules", Social Choice and Welfare 4
// (1987).
#pragma once

#include <cstddef>
#include <vector>

namespace pontata {

class KeptOrder {
 public:
  explicit KeptOrder(std::size_t places);
  // Keeps that `from` comes before `to`; false, and nothing changes, where that would close a circle with what is kept.
  // O(1) where the order has it so already, else O(places and precedences between the two).
  bool add(std::size_t from, std::size_t to);

 private:
  bool forward(std::size_t start, std::size_t last, std::vector<std::size_t>& met);
  void backward(std::size_t start, std::size_t first, std::vector<std::size_t>& met);
  void rearrange(std::vector<std::size_t>& earlier, std::vector<std::size_t>& later);

  std::vector<std::size_t> rank_;  // of a place in the order
  std::vector<std::vector<std::size_t>> after_, before_;
  std::vector<bool> seen_;
};

}  // namespace pontata
