#include "engine/seams/network_codec.h"

#include <cmath>
#include <stdexcept>

#include "engine/base/predicates.h"

namespace pontata {

namespace {

using nlohmann::json;

constexpr std::int64_t kMostSlots = 1 << 26;

std::int64_t number(std::uint32_t id) { return id == kNone ? -1 : static_cast<std::int64_t>(id); }

// Thrown while reading and turned into a Problem at the door.
struct Unreadable : std::runtime_error {
  using std::runtime_error::runtime_error;
};

const json& array_at(const json& object, const char* key, std::size_t stride) {
  const auto it = object.find(key);
  if (it == object.end() || !it->is_array()) throw Unreadable(std::string("\"") + key + "\" is missing");
  if (it->size() % stride != 0 || it->size() / stride > static_cast<std::size_t>(kMostSlots))
    throw Unreadable(std::string("\"") + key + "\" has the wrong length");
  return *it;
}

std::int64_t integer(const json& value, std::int64_t least, std::int64_t most) {
  if (value.is_number_unsigned() && value.get<std::uint64_t>() > static_cast<std::uint64_t>(INT64_MAX))
    throw Unreadable("a number is out of range");
  if (!value.is_number_integer()) throw Unreadable("a whole number is missing");
  const auto v = value.get<std::int64_t>();
  if (v < least || v > most) throw Unreadable("a number is out of range");
  return v;
}

std::uint32_t index(const json& value, std::size_t slots) {
  const std::int64_t v = integer(value, -1, static_cast<std::int64_t>(slots) - 1);
  return v < 0 ? kNone : static_cast<std::uint32_t>(v);
}

double real(const json& value) {
  if (!value.is_number()) throw Unreadable("a measure is not a number");
  const auto v = value.get<double>();
  if (!std::isfinite(v) || std::abs(v) > 1e12) throw Unreadable("a measure is out of range");
  return v;
}

NetworkFace face_from(const json& record, std::size_t half_edges, std::size_t faces) {
  if (!record.is_array() || record.size() < 2) throw Unreadable("a face is not a list");
  const std::int64_t owner = integer(record[0], -1, kNone - 1);
  if (owner < 0) return {false, {}, {index(record[1], faces)}, {}};
  NetworkFace face{true, {static_cast<std::uint32_t>(owner)}, {index(record[1], half_edges)}, {}};
  for (std::size_t i = 2; i < record.size(); ++i) {
    face.inner.push_back({index(record[i], half_edges)});
    if (face.inner.back().value == kNone) throw Unreadable("a rim is missing");
  }
  return face;
}

}  // namespace

json NetworkCodec::to_json(const Network& n) {
  json vertices = json::array(), half_edges = json::array(), seams = json::array(), faces = json::array();
  for (std::size_t i = 0; i < n.vertices_.size(); ++i) {
    const NetworkVertex& v = n.vertices_[i];
    const bool dead = v.out.value == kNone;
    vertices.push_back(dead ? number(static_cast<std::uint32_t>(v.place.x)) : v.place.x);
    vertices.push_back(v.place.y);
    vertices.push_back(number(v.out.value));
  }
  for (std::size_t i = 0; i < n.half_edges_.size(); ++i) {
    const NetworkHalfEdge& h = n.half_edges_[i];
    const bool idle = h.origin.value == kNone && i % 2 == 1;
    for (const std::uint32_t id : {h.origin.value, idle ? 0 : h.next.value, h.prev.value, h.face.value})
      half_edges.push_back(number(id));
  }
  for (std::size_t i = 0; i < n.seams_.size(); ++i) {
    const SeamMeasure& m = n.seams_[i];
    seams.push_back(m.area);
    for (const double v : {m.bend_m, m.gauss, m.length_m}) seams.push_back(v);
  }
  for (std::size_t i = 0; i < n.faces_.size(); ++i) {
    const NetworkFace& f = n.faces_[i];
    json record = json::array({f.alive ? static_cast<std::int64_t>(f.owner.value) : -1, number(f.outer.value)});
    for (const HalfEdgeId h : f.inner) record.push_back(number(h.value));
    faces.push_back(std::move(record));
  }
  return {{"vertices", std::move(vertices)},
          {"half_edges", std::move(half_edges)},
          {"seams", std::move(seams)},
          {"faces", std::move(faces)},
          {"free", {number(n.free_seam_), number(n.free_vertex_), number(n.free_face_)}}};
}

Result<Network> NetworkCodec::from_json(const json& object) {
  const auto broken = [](const std::string& what) {
    return Problem{"The seam network in the file is damaged (" + what + ")", "",
                   "Open the recovery copy or an older one."};
  };
  Network n;
  try {
    if (!object.is_object()) throw Unreadable("it is not an object");
    const json& vertices = array_at(object, "vertices", 3);
    const json& half_edges = array_at(object, "half_edges", 8);
    const json& seams = array_at(object, "seams", 4);
    const json& faces = array_at(object, "faces", 1);
    const json& free = array_at(object, "free", 3);
    const std::size_t v_slots = vertices.size() / 3, h_slots = half_edges.size() / 4, f_slots = faces.size();
    if (seams.size() * 2 != half_edges.size() || free.size() != 3) throw Unreadable("its lists do not fit each other");
    const auto dead_place = [&](const json& x) { return static_cast<std::int64_t>(index(x, v_slots)); };
    for (std::size_t i = 0; i < v_slots; ++i) {
      const HalfEdgeId out{index(vertices[3 * i + 2], h_slots)};
      const json &x = vertices[3 * i], &y = vertices[3 * i + 1];
      constexpr std::int64_t limit = kLatticeLimit - 1;
      if (out.value == kNone)
        n.vertices_.push_back({{dead_place(x), integer(y, 0, 0)}, out});
      else
        n.vertices_.push_back({{integer(x, -limit, limit), integer(y, -limit, limit)}, out});
    }
    for (std::size_t i = 0; i < h_slots; ++i) {
      const json* record = &half_edges[4 * i];
      NetworkHalfEdge h{{index(record[0], v_slots)}, {kNone}, {index(record[2], h_slots)}, {index(record[3], f_slots)}};
      if (h.origin.value != kNone)
        h.next = {index(record[1], h_slots)};
      else if (i % 2 == 0)
        h.next = {index(record[1], h_slots / 2)};
      else
        integer(record[1], 0, 0), h.next = {kNone};
      if (h.origin.value == kNone && (h.prev.value != kNone || h.face.value != kNone))
        throw Unreadable("a free place is in use");
      n.half_edges_.push_back(h);
    }
    constexpr std::int64_t most = std::int64_t{1} << 62;
    Int128 total = 0;
    for (std::size_t s = 0; s < h_slots / 2; ++s) {
      const json* record = &seams[4 * s];
      n.seams_.push_back({integer(record[0], -most, most), real(record[1]), real(record[2]), real(record[3])});
      total += std::abs(n.seams_.back().area);
      if (n.half_edges_[2 * s].origin.value != kNone) ++n.live_seams_;
    }
    if (total > most) throw Unreadable("an area is out of range");
    for (const json& record : faces) n.faces_.push_back(face_from(record, h_slots, f_slots));
    n.free_seam_ = index(free[0], h_slots / 2);
    n.free_vertex_ = index(free[1], v_slots);
    n.free_face_ = index(free[2], f_slots);
    for (std::size_t i = 0; i < h_slots; ++i) {
      const NetworkHalfEdge &h = n.half_edges_[i], &t = n.half_edges_[i ^ 1u];
      if ((h.origin.value == kNone) != (t.origin.value == kNone)) throw Unreadable("half a seam is missing");
      if (h.origin.value != kNone && (h.next.value == kNone || h.prev.value == kNone || h.face.value == kNone))
        throw Unreadable("a rim is missing");
    }
    n.index_seams();
  } catch (const Unreadable& fault) {
    return broken(fault.what());
  }
  if (const auto faults = n.check(); !faults.empty()) return broken(faults.front().message());
  return n;
}

}  // namespace pontata
