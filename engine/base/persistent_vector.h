// A vector whose copies share their parts, so that keeping old values (undo) costs kilobytes.
//
// Based on: Bagwell and Rompf, "RRB-Trees: Efficient Immutable Vectors", 2011 (the plain radix part).
// A radix tree of 16-wide nodes held by shared_ptr; a write clones only the nodes on its path that are
// shared with another copy. Reads are O(log16 n).
#pragma once

#include <algorithm>
#include <array>
#include <cassert>
#include <cstddef>
#include <memory>
#include <utility>

namespace pontata {

template <class T>
class PersistentVector {
 public:
  std::size_t size() const { return size_; }
  bool empty() const { return size_ == 0; }

  const T& operator[](std::size_t i) const {
    assert(i < size_);
    const Node* node = root_.get();
    for (int shift = depth_ * kBits; shift > 0; shift -= kBits)
      node = static_cast<const Inner*>(node)->child[(i >> shift) & kMask].get();
    return static_cast<const Leaf*>(node)->value[i & kMask];
  }
  const T& back() const { return (*this)[size_ - 1]; }

  // Writable access; clones shared nodes on the path.
  T& edit(std::size_t i) {
    assert(i < size_);
    std::shared_ptr<Node>* slot = &root_;
    for (int shift = depth_ * kBits;; shift -= kBits) {
      own(*slot, shift == 0);
      if (shift == 0) return static_cast<Leaf*>(slot->get())->value[i & kMask];
      slot = &child(**slot, (i >> shift) & kMask);
    }
  }
  void set(std::size_t i, T value) { edit(i) = std::move(value); }

  void push_back(T value) {
    if (!root_) {
      root_ = make(true);
      depth_ = 0;
    } else if (size_ == (std::size_t{1} << ((depth_ + 1) * kBits))) {
      auto up = make(false);
      child(*up, 0) = std::move(root_);
      root_ = std::move(up);
      ++depth_;
    }
    std::shared_ptr<Node>* slot = &root_;
    for (int shift = depth_ * kBits; shift > 0; shift -= kBits) {
      own(*slot, false);
      slot = &child(**slot, (size_ >> shift) & kMask);
      if (!*slot) *slot = make(shift == kBits);
    }
    own(*slot, true);
    static_cast<Leaf*>(slot->get())->value[size_ & kMask] = std::move(value);
    ++size_;
  }
  // The slot's value lingers until it is written again; trees never shrink.
  void pop_back() {
    assert(size_ > 0);
    --size_;
  }

  // Calls f(i), rising, for every slot that the two may not have in common: those of leaves they do not share, and
  // those that only one of them has. Costs what they do not share.
  template <class F>
  static void visit_unshared(const PersistentVector& a, const PersistentVector& b, F&& f) {
    const std::size_t both = std::min(a.size_, b.size_), most = std::max(a.size_, b.size_);
    if (both > 0) compare({a.root_.get(), a.depth_}, {b.root_.get(), b.depth_}, 0, both, f);
    for (std::size_t i = both; i < most; ++i) f(i);
  }

  // Calls f(leaf_address, bytes) for every node: lets a test count what two copies do not share.
  template <class F>
  void visit_nodes(F&& f) const {
    if (root_) visit(root_.get(), depth_, f);
  }

 private:
  static constexpr int kBits = 4;
  static constexpr std::size_t kWidth = std::size_t{1} << kBits;
  static constexpr std::size_t kMask = kWidth - 1;

  struct Node {
    virtual ~Node() = default;
  };
  struct Inner final : Node {
    std::array<std::shared_ptr<Node>, kWidth> child;
  };
  struct Leaf final : Node {
    std::array<T, kWidth> value{};
  };
  static std::shared_ptr<Node>& child(Node& n, std::size_t i) { return static_cast<Inner&>(n).child[i]; }

  static std::shared_ptr<Node> make(bool leaf) {
    if (leaf) return std::make_shared<Leaf>();
    return std::make_shared<Inner>();
  }
  static void own(std::shared_ptr<Node>& node, bool leaf) {
    if (node.use_count() == 1) return;
    if (leaf)
      node = std::make_shared<Leaf>(static_cast<const Leaf&>(*node));
    else
      node = std::make_shared<Inner>(static_cast<const Inner&>(*node));
  }
  template <class F>
  static void visit(const Node* node, int depth, F& f) {
    f(static_cast<const void*>(node), depth == 0 ? sizeof(Leaf) : sizeof(Inner));
    if (depth == 0) return;
    for (const auto& c : static_cast<const Inner*>(node)->child)
      if (c) visit(c.get(), depth - 1, f);
  }

  struct Tree {
    const Node* node;
    int depth;
    // Its part k where it is seen as part of a tree of depth `as` (a shallower tree lies in the first part).
    Tree part(std::size_t k, int as) const {
      return depth < as ? *this : Tree{static_cast<const Inner*>(node)->child[k].get(), depth - 1};
    }
  };
  // The slots from `first` on, below `both`, that the two trees do not share.
  template <class F>
  static void compare(Tree a, Tree b, std::size_t first, std::size_t both, F& f) {
    if (a.node == b.node) return;
    const int depth = std::max(a.depth, b.depth);
    for (std::size_t k = 0; k < kWidth; ++k) {
      const std::size_t start = first + (k << (depth * kBits));
      if (start >= both) return;
      if (depth == 0)
        f(start);
      else
        compare(a.part(k, depth), b.part(k, depth), start, both, f);
    }
  }

  std::shared_ptr<Node> root_;
  std::size_t size_ = 0;
  int depth_ = 0;
};

}  // namespace pontata
