#include "engine/wall/scan_container.h"

#include <fmt/format.h>

#include <cstdint>
#include <cstring>
#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string_view>

namespace pontata {
namespace {

using nlohmann::json;
using Bytes = std::span<const unsigned char>;

constexpr std::uint32_t kMagic = 0x46546C67;      // "glTF"
constexpr std::uint32_t kJsonChunk = 0x4E4F534A;  // "JSON"
constexpr std::uint32_t kBinChunk = 0x004E4942;   // "BIN"
constexpr std::string_view kAgain = "Copy the file again, or export the scan again as GLB";

std::uint32_t word(Bytes bytes, std::size_t at) {
  std::uint32_t value = 0;
  for (std::size_t k = 4; k-- > 0;) value = value << 8 | bytes[at + k];
  return value;
}

void push_word(std::vector<unsigned char>& out, std::uint32_t value) {
  for (int k = 0; k < 4; ++k) out.push_back(static_cast<unsigned char>(value >> (8 * k)));
}

Problem damaged(const std::string& path, std::string_view how) {
  return {fmt::format("the file is damaged: {}", how), path, std::string(kAgain)};
}

struct Chunks {
  Bytes text, binary;
};

Result<Chunks> split_glb(Bytes bytes, const std::string& path) {
  if (bytes.size() < 20) return damaged(path, "it ends inside its header");
  if (word(bytes, 4) != 2)
    return Problem{fmt::format("this is GLB version {}, only version 2 can be read", word(bytes, 4)), path,
                   "Export the scan as glTF 2.0 (GLB)"};
  const std::size_t length = word(bytes, 8);
  if (length > bytes.size())
    return Problem{fmt::format("the file is cut short: it should hold {} bytes and holds {}", length, bytes.size()),
                   path, std::string(kAgain)};
  Chunks chunks;
  for (std::size_t at = 12; at + 8 <= length;) {
    const std::size_t size = word(bytes, at);
    const std::uint32_t kind = word(bytes, at + 4);
    if (size > length - at - 8) return damaged(path, "a chunk reaches beyond the end of the file");
    const Bytes body = bytes.subspan(at + 8, size);
    if (at == 12 && kind != kJsonChunk) return damaged(path, "its first chunk is not JSON");
    if (at == 12) chunks.text = body;
    if (at != 12 && kind == kBinChunk && chunks.binary.empty()) chunks.binary = body;
    at += 8 + size;
  }
  return chunks;
}

bool plain(const json& value) { return value.is_primitive(); }

bool plain_list(const json& value) {
  if (!value.is_array()) return false;
  for (const json& item : value)
    if (!plain(item)) return false;
  return true;
}

// Members of `from` named in `keys` that are scalars or lists of scalars; deep structures never pass.
json pick(const json& from, std::initializer_list<const char*> keys) {
  json out = json::object();
  if (!from.is_object()) return out;
  for (const char* key : keys)
    if (const auto it = from.find(key); it != from.end() && (plain(*it) || plain_list(*it))) out[key] = *it;
  return out;
}

const json& member(const json& from, const char* key) {
  static const json kNothing;
  if (!from.is_object()) return kNothing;
  const auto it = from.find(key);
  return it == from.end() ? kNothing : *it;
}

template <class Make>
void copy_list(json& out, const json& from, const char* key, Make make) {
  const json& list = member(from, key);
  if (!list.is_array()) return;
  out[key] = json::array();
  for (const json& item : list) out[key].push_back(make(item));
}

json picked_accessor(const json& from) {
  json out = pick(from, {"bufferView", "byteOffset", "componentType", "count", "type", "normalized"});
  const json& sparse = member(from, "sparse");
  if (!sparse.is_object()) return out;
  out["sparse"] = pick(sparse, {"count"});
  for (const char* key : {"indices", "values"})
    if (const json& part = member(sparse, key); part.is_object())
      out["sparse"][key] = pick(part, {"bufferView", "byteOffset", "componentType"});
  return out;
}

json picked_mesh(const json& from) {
  json out = pick(from, {"name"});
  copy_list(out, from, "primitives", [](const json& primitive) {
    json kept = pick(primitive, {"indices", "mode"});
    kept["attributes"] = pick(member(primitive, "attributes"), {"POSITION", "NORMAL"});
    return kept;
  });
  return out;
}

// Only what intake reads; the rest of the file cannot trouble the glTF reader.
json stripped(const json& root) {
  json out = pick(root, {"scene"});
  out["asset"] = pick(member(root, "asset"), {"version"});
  copy_list(out, root, "buffers", [](const json& o) { return pick(o, {"byteLength", "uri"}); });
  copy_list(out, root, "bufferViews", [](const json& o) {
    return pick(o, {"buffer", "byteOffset", "byteLength", "byteStride"});
  });
  copy_list(out, root, "accessors", picked_accessor);
  copy_list(out, root, "meshes", picked_mesh);
  copy_list(out, root, "nodes", [](const json& o) {
    return pick(o, {"mesh", "children", "matrix", "translation", "rotation", "scale"});
  });
  copy_list(out, root, "scenes", [](const json& o) { return pick(o, {"nodes"}); });
  return out;
}

bool appearance_only(std::string_view name) {
  for (const std::string_view start :
       {"KHR_materials_", "KHR_texture_", "EXT_texture_", "MSFT_texture_", "KHR_lights_"})
    if (name.substr(0, start.size()) == start) return true;
  return name == "KHR_xmp_json_ld" || name == "KHR_animation_pointer";
}

std::optional<Problem> refused_extension(const json& root, const std::string& path) {
  const json& required = member(root, "extensionsRequired");
  if (!required.is_array()) return std::nullopt;
  for (const json& item : required) {
    const std::string name = item.is_string() ? item.get<std::string>() : "?";
    if (appearance_only(name)) continue;
    const bool packed = name == "KHR_draco_mesh_compression" || name == "EXT_meshopt_compression";
    const bool coarse = name == "KHR_mesh_quantization";
    return Problem{fmt::format("the scan is stored with the extension {}, which cannot be read here{}", name,
                               packed   ? " (compressed points)"
                               : coarse ? " (rounded points)"
                                        : ""),
                   path, "Export it again as plain GLB, without compression"};
  }
  return std::nullopt;
}

std::vector<unsigned char> joined_glb(const std::string& text, Bytes binary) {
  const auto padded = [](std::size_t n) { return (n + 3) / 4 * 4; };
  std::vector<unsigned char> out;
  const std::size_t total = 20 + padded(text.size()) + (binary.empty() ? 0 : 8 + padded(binary.size()));
  out.reserve(total);
  for (const std::uint32_t w : {kMagic, std::uint32_t{2}, static_cast<std::uint32_t>(total),
                                static_cast<std::uint32_t>(padded(text.size())), kJsonChunk})
    push_word(out, w);
  out.insert(out.end(), text.begin(), text.end());
  out.resize(20 + padded(text.size()), ' ');
  if (binary.empty()) return out;
  push_word(out, static_cast<std::uint32_t>(padded(binary.size())));
  push_word(out, kBinChunk);
  out.insert(out.end(), binary.begin(), binary.end());
  out.resize(total, 0);
  return out;
}

bool looks_like_json(Bytes bytes) {
  for (const unsigned char c : bytes)
    if (!std::isspace(c)) return c == '{';
  return false;
}

}  // namespace

Result<GltfContainer> parse_container(std::vector<unsigned char> bytes, const std::string& path) {
  const Bytes all(bytes);
  if (all.empty()) return Problem{"the file is empty", path, std::string(kAgain)};
  const bool binary = all.size() >= 4 && word(all, 0) == kMagic;
  if (!binary && !looks_like_json(all))
    return Problem{"this is not a glTF or GLB file", path, "Export the scan as GLB (glTF 2.0)"};
  Chunks chunks{all, {}};
  if (binary) {
    auto split = split_glb(all, path);
    if (!split) return split.problem();
    chunks = *split;
  }
  const json root = json::parse(chunks.text.begin(), chunks.text.end(), nullptr, /*allow_exceptions=*/false);
  if (!root.is_object()) return damaged(path, "its description is not complete JSON");
  const json& version = member(member(root, "asset"), "version");
  if (!version.is_string() || version.get_ref<const std::string&>().rfind("2.", 0) != 0)
    return Problem{"the file does not say that it is glTF 2.0", path, "Export the scan as GLB (glTF 2.0)"};
  if (auto problem = refused_extension(root, path)) return *problem;
  const std::string text = stripped(root).dump(-1, ' ', true, json::error_handler_t::replace);
  GltfContainer out{binary, {}};
  if (binary)
    out.bytes = joined_glb(text, chunks.binary);
  else
    out.bytes.assign(text.begin(), text.end());
  return out;
}

}  // namespace pontata
