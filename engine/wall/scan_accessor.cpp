#include "engine/wall/scan_accessor.h"

#include <fmt/format.h>

#include <cstring>

#include "engine/wall/scan_tinygltf.h"

namespace pontata {
namespace {

constexpr std::size_t kMostElements = 150'000'000;

// A run of equally spaced elements that was checked to lie inside its buffer.
struct Run {
  const unsigned char* data = nullptr;
  std::size_t stride = 0, count = 0;
};

Problem bad_accessor(const std::string& path, int accessor, const char* how) {
  return {fmt::format("the file is damaged: accessor {} {}", accessor, how), path,
          "Copy the file again, or export the scan again as GLB"};
}

std::size_t component_size(int component) {
  switch (component) {
    case TINYGLTF_COMPONENT_TYPE_UNSIGNED_BYTE:
      return 1;
    case TINYGLTF_COMPONENT_TYPE_UNSIGNED_SHORT:
      return 2;
    case TINYGLTF_COMPONENT_TYPE_UNSIGNED_INT:
    case TINYGLTF_COMPONENT_TYPE_FLOAT:
      return 4;
    default:
      return 0;
  }
}

// No sum or product here can overflow: each comparison subtracts only what was found to be smaller.
Result<Run> checked_run(const tinygltf::Model& model, int view_index, std::size_t offset, std::size_t count,
                        std::size_t element, const std::string& path, int accessor) {
  if (view_index < 0 || static_cast<std::size_t>(view_index) >= model.bufferViews.size())
    return bad_accessor(path, accessor, "names a buffer view that does not exist");
  const auto& view = model.bufferViews[static_cast<std::size_t>(view_index)];
  if (view.buffer < 0 || static_cast<std::size_t>(view.buffer) >= model.buffers.size())
    return bad_accessor(path, accessor, "names a buffer that does not exist");
  const auto& bytes = model.buffers[static_cast<std::size_t>(view.buffer)].data;
  if (view.byteOffset > bytes.size() || view.byteLength > bytes.size() - view.byteOffset)
    return bad_accessor(path, accessor, "lies beyond the end of its buffer");
  const std::size_t stride = view.byteStride == 0 ? element : view.byteStride;
  if (stride < element) return bad_accessor(path, accessor, "has elements that overlap");
  if (count > kMostElements) return bad_accessor(path, accessor, "is larger than any scan that can be used");
  if (count == 0) return Run{nullptr, stride, 0};
  if (offset > view.byteLength || element > view.byteLength - offset ||
      (view.byteLength - offset - element) / stride < count - 1)
    return bad_accessor(path, accessor, "reaches beyond the end of its buffer");
  return Run{bytes.data() + view.byteOffset + offset, stride, count};
}

Result<const tinygltf::Accessor*> find_accessor(const tinygltf::Model& model, int index, int type,
                                                const std::string& path) {
  if (index < 0 || static_cast<std::size_t>(index) >= model.accessors.size())
    return bad_accessor(path, index, "does not exist");
  const auto& accessor = model.accessors[static_cast<std::size_t>(index)];
  if (accessor.type != type) return bad_accessor(path, index, "has the wrong number of components");
  return &accessor;
}

Vec3 float3(const unsigned char* at) {
  float xyz[3];
  std::memcpy(xyz, at, sizeof xyz);
  return {xyz[0], xyz[1], xyz[2]};
}

std::uint32_t unsigned_at(const unsigned char* at, std::size_t size) {
  std::uint32_t value = 0;
  for (std::size_t k = size; k-- > 0;) value = value << 8 | at[k];
  return value;
}

Outcome apply_sparse(const tinygltf::Model& model, const tinygltf::Accessor& accessor, int index,
                     const std::string& path, std::vector<Vec3>& values) {
  const auto& sparse = accessor.sparse;
  if (sparse.count < 0 || sparse.indices.byteOffset < 0 || sparse.values.byteOffset < 0)
    return bad_accessor(path, index, "has a negative length");
  const std::size_t size = component_size(sparse.indices.componentType);
  if (size == 0 || sparse.indices.componentType == TINYGLTF_COMPONENT_TYPE_FLOAT)
    return bad_accessor(path, index, "has replacements of an unknown kind");
  const auto count = static_cast<std::size_t>(sparse.count);
  const auto where = checked_run(model, sparse.indices.bufferView, static_cast<std::size_t>(sparse.indices.byteOffset),
                                 count, size, path, index);
  if (!where) return where.problem();
  const auto what = checked_run(model, sparse.values.bufferView, static_cast<std::size_t>(sparse.values.byteOffset),
                                count, 12, path, index);
  if (!what) return what.problem();
  for (std::size_t i = 0; i < count; ++i) {
    const std::uint32_t at = unsigned_at(where->data + i * where->stride, size);
    if (at >= values.size()) return bad_accessor(path, index, "replaces a point that does not exist");
    values[at] = float3(what->data + i * what->stride);
  }
  return Done{};
}

}  // namespace

Result<std::vector<Vec3>> read_vec3(const tinygltf::Model& model, int index, const std::string& path) {
  const auto found = find_accessor(model, index, TINYGLTF_TYPE_VEC3, path);
  if (!found) return found.problem();
  const tinygltf::Accessor& accessor = **found;
  if (accessor.componentType != TINYGLTF_COMPONENT_TYPE_FLOAT)
    return Problem{"the points are stored as rounded whole numbers (KHR_mesh_quantization)", path,
                   "Export the scan again as plain GLB, without compression"};
  if (accessor.count > kMostElements) return bad_accessor(path, index, "is larger than any scan that can be used");
  std::vector<Vec3> values;
  if (accessor.bufferView < 0) {
    if (!accessor.sparse.isSparse) return bad_accessor(path, index, "has no data (is the scan compressed?)");
    values.assign(accessor.count, Vec3{0, 0, 0});
  } else {
    const auto run = checked_run(model, accessor.bufferView, accessor.byteOffset, accessor.count, 12, path, index);
    if (!run) return run.problem();
    values.reserve(run->count);
    for (std::size_t i = 0; i < run->count; ++i) values.push_back(float3(run->data + i * run->stride));
  }
  if (accessor.sparse.isSparse)
    if (const auto done = apply_sparse(model, accessor, index, path, values); !done) return done.problem();
  return values;
}

Result<std::vector<std::uint32_t>> read_indices(const tinygltf::Model& model, int index, std::size_t limit,
                                                const std::string& path) {
  const auto found = find_accessor(model, index, TINYGLTF_TYPE_SCALAR, path);
  if (!found) return found.problem();
  const tinygltf::Accessor& accessor = **found;
  const std::size_t size = component_size(accessor.componentType);
  if (size == 0 || accessor.componentType == TINYGLTF_COMPONENT_TYPE_FLOAT)
    return bad_accessor(path, index, "does not hold corner numbers");
  if (accessor.sparse.isSparse)
    return Problem{fmt::format("accessor {} stores corner numbers sparsely, which cannot be read here", index), path,
                   "Export the scan again as plain GLB"};
  const auto run = checked_run(model, accessor.bufferView, accessor.byteOffset, accessor.count, size, path, index);
  if (!run) return run.problem();
  std::vector<std::uint32_t> values;
  values.reserve(run->count);
  for (std::size_t i = 0; i < run->count; ++i) {
    values.push_back(unsigned_at(run->data + i * run->stride, size));
    if (values.back() >= limit) return bad_accessor(path, index, "names a point that does not exist");
  }
  return values;
}

}  // namespace pontata
