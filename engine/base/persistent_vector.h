// A vector whose copies share their parts, so that keeping old values (undo) costs kilobytes.
//
// Based on: Bagwell and Rompf, "RRB-Trees: Efficient Immutable Vectors", 2011 (the plain radix part).
// A radix tree of 16-wide nodes held by shared_ptr; a write clones only the nodes on its path that are
// shared with another copy. Reads are O(log16 n).
#pragma once

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

  std::shared_ptr<Node> root_;
  std::size_t size_ = 0;
  int depth_ = 0;
};

}  // namespace pontata
