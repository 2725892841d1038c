// Typed handles. A FaceId never mixes with a GiornataId; value 0 means "none" for ids that persist.
#pragma once

#include <compare>
#include <cstdint>
#include <functional>

namespace pontata {

template <class Tag>
struct Id {
  std::uint32_t value = 0;
  auto operator<=>(const Id&) const = default;
  explicit operator bool() const { return value != 0; }
};

// Persistent ids, never used again once given out; 0 is none (for a face: the unassigned rest).
using GiornataId = Id<struct GiornataTag>;
using WallId = Id<struct WallTag>;
using ZoneId = Id<struct ZoneTag>;
using PictureId = Id<struct PictureTag>;

// Indices into the tables of one Network; they start at 0 and kNone marks none.
using VertexId = Id<struct VertexTag>;
using HalfEdgeId = Id<struct HalfEdgeTag>;  // half-edges 2k and 2k+1 are twins of seam k
using SeamId = Id<struct SeamTag>;          // undirected edge k
using FaceId = Id<struct FaceTag>;
inline constexpr std::uint32_t kNone = 0xffffffffu;

}  // namespace pontata

template <class Tag>
struct std::hash<pontata::Id<Tag>> {
  std::size_t operator()(pontata::Id<Tag> id) const noexcept { return std::hash<std::uint32_t>{}(id.value); }
};
