#include "engine/document/glb_export.h"

#include <fmt/format.h>
#include <tiny_gltf.h>

#include <cstring>
#include <limits>
#include <sstream>

#include "engine/document/atomic_file.h"
#include "engine/document/edit_parts.h"
#include "engine/document/record_names.h"
#include "engine/flatten/patch.h"

namespace pontata {

namespace {

struct Part {
  std::string name;
  std::vector<float> places, normals, texture;
  std::vector<std::uint32_t> corners;
};

// World Z up to glTF's Y up.
void push(std::vector<float>& out, const Vec3& v) {
  out.insert(out.end(), {static_cast<float>(v.x), static_cast<float>(v.z), static_cast<float>(-v.y)});
}

void add_patch(Part& part, const WallItem& item, const Patch& patch) {
  const auto first = static_cast<std::uint32_t>(part.places.size() / 3);
  for (std::size_t i = 0; i < patch.points.size(); ++i) {
    push(part.places, patch.points[i]);
    const auto on_wall = item.wall->chart->locate(item.wall->chart->clamp(patch.places[i]));
    push(part.normals, on_wall ? normal(item.wall->mesh(), *on_wall) : Vec3{0, 0, 1});
    if (item.pictures.empty()) continue;
    const ChartBox box = item.wall->chart->box();
    part.texture.push_back(static_cast<float>(patch.places[i].u / box.width));
    part.texture.push_back(static_cast<float>(1 - patch.places[i].v / box.height));
  }
  for (const auto& triangle : patch.triangles)
    for (const auto corner : triangle) part.corners.push_back(first + corner);
}

Result<Part> part_of(const WallItem& item, GiornataId owner, const std::string& name, Progress* progress) {
  Part part{name, {}, {}, {}, {}};
  for (const FaceId face : item.network.faces_of(owner)) {
    const auto patch = make_patch(*item.wall, item.network.rings(face), {}, progress);
    if (!patch) return patch.problem();
    add_patch(part, item, *patch);
  }
  return part;
}

class Writer {
 public:
  Writer() {
    model_.asset.version = "2.0";
    model_.asset.generator = "Pontata";
    model_.buffers.emplace_back();
    model_.scenes.emplace_back();
    model_.defaultScene = 0;
  }

  int add_node(const std::string& name, int parent) {
    const int index = static_cast<int>(model_.nodes.size());
    model_.nodes.emplace_back();
    model_.nodes.back().name = name;
    if (parent < 0)
      model_.scenes[0].nodes.push_back(index);
    else
      model_.nodes[static_cast<std::size_t>(parent)].children.push_back(index);
    return index;
  }

  void add_part(const Part& part, int parent, int material, const Giornata* record) {
    tinygltf::Primitive primitive;
    primitive.mode = TINYGLTF_MODE_TRIANGLES;
    primitive.material = material;
    primitive.attributes["POSITION"] = add_floats(part.places, 3, true);
    primitive.attributes["NORMAL"] = add_floats(part.normals, 3, false);
    if (!part.texture.empty()) primitive.attributes["TEXCOORD_0"] = add_floats(part.texture, 2, false);
    primitive.indices = add_corners(part.corners);
    primitive.extras = tinygltf::Value(tinygltf::Value::Object{{"name", tinygltf::Value(part.name)}});
    tinygltf::Mesh mesh;
    mesh.name = part.name;
    mesh.primitives.push_back(std::move(primitive));
    const int node = add_node(part.name, parent);
    auto& made = model_.nodes[static_cast<std::size_t>(node)];
    made.mesh = static_cast<int>(model_.meshes.size());
    if (record)
      made.extras =
          tinygltf::Value(tinygltf::Value::Object{{"id", tinygltf::Value(static_cast<int>(record->id.value))},
                                                  {"number", tinygltf::Value(record->number)},
                                                  {"label", tinygltf::Value(label_of(*record))},
                                                  {"state", tinygltf::Value(std::string(state_name(record->state)))}});
    model_.meshes.push_back(std::move(mesh));
  }

  // A plain plaster colour, or the picture.
  int add_material(const std::string& name, const std::string& picture) {
    tinygltf::Material material;
    material.name = name;
    material.doubleSided = true;
    material.pbrMetallicRoughness.metallicFactor = 0;
    material.pbrMetallicRoughness.roughnessFactor = 1;
    if (picture.empty())
      material.pbrMetallicRoughness.baseColorFactor = {0.92, 0.87, 0.69, 1};
    else
      material.pbrMetallicRoughness.baseColorTexture.index = add_texture(name, picture);
    model_.materials.push_back(std::move(material));
    return static_cast<int>(model_.materials.size()) - 1;
  }

  Result<std::string> bytes() {
    if (model_.buffers[0].data.size() > std::numeric_limits<std::uint32_t>::max() / 2)
      return Problem{"the walls are too large for one file", "", "Use smaller pictures."};
    std::ostringstream stream;
    stream.imbue(std::locale::classic());
    if (!tinygltf::TinyGLTF().WriteGltfSceneToStream(&model_, stream, false, true))
      return Problem{"the file could not be put together", "", "Please report this."};
    return stream.str();
  }

 private:
  int add_view(const void* data, std::size_t size, int target) {
    auto& buffer = model_.buffers[0].data;
    while (buffer.size() % 4 != 0) buffer.push_back(0);
    tinygltf::BufferView view;
    view.buffer = 0;
    view.byteOffset = buffer.size();
    view.byteLength = size;
    view.target = target;
    const auto* from = static_cast<const unsigned char*>(data);
    buffer.insert(buffer.end(), from, from + size);
    model_.bufferViews.push_back(std::move(view));
    return static_cast<int>(model_.bufferViews.size()) - 1;
  }

  int add_accessor(int view, int kind, int type, std::size_t count) {
    tinygltf::Accessor accessor;
    accessor.bufferView = view;
    accessor.componentType = kind;
    accessor.type = type;
    accessor.count = count;
    model_.accessors.push_back(std::move(accessor));
    return static_cast<int>(model_.accessors.size()) - 1;
  }

  int add_floats(const std::vector<float>& values, std::size_t wide, bool with_box) {
    const int view = add_view(values.data(), values.size() * sizeof(float), TINYGLTF_TARGET_ARRAY_BUFFER);
    const int index = add_accessor(view, TINYGLTF_COMPONENT_TYPE_FLOAT,
                                   wide == 3 ? TINYGLTF_TYPE_VEC3 : TINYGLTF_TYPE_VEC2, values.size() / wide);
    if (!with_box) return index;
    auto& accessor = model_.accessors.back();
    accessor.minValues.assign(wide, std::numeric_limits<double>::max());
    accessor.maxValues.assign(wide, std::numeric_limits<double>::lowest());
    for (std::size_t i = 0; i < values.size(); ++i) {
      const double v = values[i];
      accessor.minValues[i % wide] = std::min(accessor.minValues[i % wide], v);
      accessor.maxValues[i % wide] = std::max(accessor.maxValues[i % wide], v);
    }
    return index;
  }

  int add_corners(const std::vector<std::uint32_t>& corners) {
    const int view =
        add_view(corners.data(), corners.size() * sizeof(std::uint32_t), TINYGLTF_TARGET_ELEMENT_ARRAY_BUFFER);
    return add_accessor(view, TINYGLTF_COMPONENT_TYPE_UNSIGNED_INT, TINYGLTF_TYPE_SCALAR, corners.size());
  }

  int add_texture(const std::string& name, const std::string& picture) {
    tinygltf::Image image;
    image.name = name;
    image.mimeType = picture.starts_with("\x89PNG") ? "image/png" : "image/jpeg";
    image.bufferView = add_view(picture.data(), picture.size(), 0);
    model_.images.push_back(std::move(image));
    tinygltf::Sampler sampler;
    sampler.wrapS = sampler.wrapT = TINYGLTF_TEXTURE_WRAP_CLAMP_TO_EDGE;
    model_.samplers.push_back(sampler);
    tinygltf::Texture texture;
    texture.source = static_cast<int>(model_.images.size()) - 1;
    texture.sampler = static_cast<int>(model_.samplers.size()) - 1;
    model_.textures.push_back(std::move(texture));
    return static_cast<int>(model_.textures.size()) - 1;
  }

  tinygltf::Model model_;
};

std::string part_name(const WallItem& item, const Giornata& g) {
  return item.name + ": giornata " + label_of(g) + (g.name.empty() ? "" : " " + g.name);
}

// One named part into file and list; nothing for an empty rest.
Outcome add_named(Writer& writer, GlbExport& out, const WallItem& item, const Giornata* record, int node, int material,
                  Progress* progress) {
  const std::string name = record ? part_name(item, *record) : item.name + ": rest";
  const auto part = part_of(item, record ? record->id : GiornataId{}, name, progress);
  if (!part) return part.problem();
  if (part->corners.empty()) return Done{};
  writer.add_part(*part, node, material, record);
  out.names.push_back(name);
  out.triangles += part->corners.size() / 3;
  return Done{};
}

Outcome add_wall(Writer& writer, GlbExport& out, const Document& doc, const WallItem& item, Progress* progress) {
  std::string picture;
  if (const auto there = check_pictures(item); !there) return there;
  if (!item.pictures.empty()) {
    const auto draped = Draped::make(drape_input(doc, item));
    picture = png_text(over_white(draw_whole(*draped, 8192, progress)));
  }
  const int material = writer.add_material(item.name, picture);
  const int node = writer.add_node(item.name, -1);
  for (const auto& g : doc.giornate) {
    if (!g.alive || g.wall != item.id) continue;
    report(progress, static_cast<double>(g.id.value) / static_cast<double>(doc.giornate.size() + 1),
           "laying out giornate");
    if (const auto done = add_named(writer, out, item, &g, node, material, progress); !done) return done;
  }
  return add_named(writer, out, item, nullptr, node, material, progress);
}

}  // namespace

Result<GlbExport> glb_text(const Document& doc, Progress* progress) {
  if (doc.walls.empty()) return Problem{"there is no wall to export", "", "Add one with pontata wall."};
  Writer writer;
  GlbExport out;
  for (const auto& item : doc.walls)
    if (const auto done = add_wall(writer, out, doc, *item, progress); !done) return done.problem();
  auto bytes = writer.bytes();
  if (!bytes) return bytes.problem();
  out.bytes = std::move(*bytes);
  return out;
}

}  // namespace pontata
