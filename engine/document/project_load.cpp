#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <set>

#include "engine/document/chart_codec.h"
#include "engine/document/edit_parts.h"
#include "engine/document/job_checks.h"
#include "engine/document/job_codec.h"
#include "engine/document/json_reader.h"
#include "engine/document/picture_codec.h"
#include "engine/document/picture_parts.h"
#include "engine/document/project_file.h"
#include "engine/document/record_names.h"
#include "engine/document/scan_codec.h"
#include "engine/document/settings_table.h"
#include "engine/document/sha256.h"
#include "engine/seams/network_codec.h"

namespace pontata {

namespace {

constexpr double kFarthest = 4096;  // m, no chart is wider

struct PictureRead {
  std::string sha256;
  Result<PictureRef> pixels;
};

// What reading one project needs to know; a Problem that is not about the JSON itself is thrown whole.
struct Reading {
  std::string folder;
  LoadOptions options;
  Progress* progress = nullptr;
  std::vector<std::string> notes;
  std::int64_t version = kProjectVersion;
  std::map<std::string, PictureRead> pictures;  // by path
  std::set<std::uint32_t> ids;                  // of pictures
};
struct SourceFault {
  Problem problem;
};

template <class T>
T must(Result<T> result) {
  if (!result) throw SourceFault{result.problem()};
  return std::move(*result);
}

Settings read_settings(const JsonReader& json) {
  if (!json.raw().is_object()) json.fault("must be an object");
  Settings settings;
  std::set<std::string> known;
  for (const auto& setting : settings_keys(settings)) {
    known.insert(setting.key);
    if (!json.raw().contains(setting.key)) continue;
    const auto value = json.at(setting.key);
    std::string text = "none";
    if (setting.kind == SettingKind::text)
      text = value.text();
    else if (!value.raw().is_null())
      value.number(-1e12, 1e12), text = value.raw().dump();
    if (const auto done = setting.set(settings, text); !done) value.fault("is wrong: " + done.problem().message());
  }
  for (const auto& item : json.raw().items())
    if (!known.contains(item.key())) json.fault("holds \"" + item.key() + "\", which is not known");
  return settings;
}

ShapeSpec read_shape(const JsonReader& json) {
  ShapeSpec shape;
  const auto kind = shape_named(json.at("kind").text());
  if (!kind) json.at("kind").fault("is no shape this version knows");
  shape.kind = *kind;
  for (const auto measure : measures_of(shape.kind))
    measure_of(shape, measure) = json.at(std::string(measure)).number(0, kFarthest);
  return shape;
}

Opening read_opening(const JsonReader& json) {
  json.only({"kind", "at", "width", "height", "outline"});
  Opening opening;
  const std::string kind = json.at("kind").text();
  for (const OpeningKind known : {OpeningKind::rect, OpeningKind::arched, OpeningKind::round, OpeningKind::free})
    if (kind == opening_name(known)) opening.kind = known;
  if (kind != opening_name(opening.kind)) json.at("kind").fault("is no opening this version knows");
  if (opening.kind == OpeningKind::free) {
    for (const auto& p : json.at("outline").items()) opening.outline.push_back(p.chart_place());
    return opening;
  }
  opening.at = json.at("at").chart_place();
  opening.width = json.at("width").number(0, kFarthest);
  if (opening.kind != OpeningKind::round) opening.height = json.at("height").number(0, kFarthest);
  return opening;
}

WallRef build_scan(const ScanSource& scan, const JsonReader& json, const WallItem& item, const Reading& reading) {
  const std::string& wall = item.name;
  const auto hash = sha256_of_file(scan.path);
  if (!hash)
    throw SourceFault{
        {"the scan of wall " + wall + " cannot be read", scan.path, "Put the scan's file back where it was."}};
  if (*hash != scan.sha256)
    throw SourceFault{{"the scan of wall " + wall + " is not the file the seams were drawn on", scan.path,
                       "Bring back the file as it was, or begin a new project with the new scan."}};
  const auto kept = json.at("places");
  if (!kept.raw().is_string()) kept.fault("must be text");
  const auto places = chart_from_text(kept.raw().get_ref<const std::string&>());
  if (!places) kept.fault("is damaged");
  return must(rebuild_wall(scan.path, scan.options, wall, *places, reading.progress, item.openings));
}

// Each file is read once, however many pictures show it.
const PictureRead& read_once(const std::string& path, Reading& reading) {
  const auto known = reading.pictures.find(path);
  if (known != reading.pictures.end()) return known->second;
  auto hash = sha256_of_file(path);
  auto pixels = hash ? read_picture(path, reading.progress) : Result<PictureRef>(hash.problem());
  return reading.pictures.emplace(path, PictureRead{hash ? *hash : "", std::move(pixels)}).first->second;
}

// A picture whose file is gone is a note: what needs no picture goes on without it.
void load_picture(PlacedPicture& picture, const std::string& wall, Reading& reading) {
  const std::string again = "Put the file back, or lay a picture anew: pontata picture PROJECT " + wall + " FILE.";
  const auto& read = read_once(picture.path, reading);
  if (!read.pixels) {
    reading.notes.push_back(
        Problem{"the picture of wall " + wall + " cannot be read and is left out", picture.path, again}.message());
    return;
  }
  const PictureSize size = (*read.pixels)->size();
  if (read.sha256 != picture.sha256) {
    if (!same_proportions(picture.size, size))
      throw SourceFault{
          {"the picture of wall " + wall + " has other proportions than the one that was laid", picture.path, again}};
    reading.notes.push_back(picture.path + ": changed since it was laid on wall " + wall +
                            "; the seams stay where they are");
    picture.sha256 = read.sha256;
  }
  count_in_pixels_of(picture, size);
  picture.pixels = *read.pixels;
}

void read_pictures(const JsonReader& json, WallItem& item, Document& doc, Reading& reading) {
  std::vector<PlacedPicture> pictures;
  if (reading.version < 2) {
    if (const auto only = json.find("picture")) {
      pictures.push_back(read_only_picture_record(*only, reading.folder));
      pictures.back().id = PictureId{doc.next_picture++};
    }
  } else if (const auto list = json.find("pictures")) {
    for (const auto& one : list->items()) {
      pictures.push_back(read_picture_record(one, reading.folder));
      const PlacedPicture& read = pictures.back();
      if (read.id.value >= doc.next_picture) one.at("id").fault("is not below next_picture");
      if (!reading.ids.insert(read.id.value).second) one.at("id").fault("is used twice");
    }
  }
  for (auto& picture : pictures) {
    if (const auto good = check_picture_name(item, picture.id, picture.name); !good)
      json.fault("has a picture whose name is wrong: " + good.problem().message());
    if (!reading.options.without_pictures) load_picture(picture, item.name, reading);
    item.pictures.push_back(std::make_shared<const PlacedPicture>(std::move(picture)));
  }
}

Zone read_zone(const JsonReader& json, std::uint32_t next_zone) {
  json.only({"id", "kind", "name", "rate_m2_per_h", "subject", "ring", "more"});
  Zone zone;
  zone.id = ZoneId{json.at("id").id()};
  if (zone.id.value >= next_zone) json.at("id").fault("is not below next_zone");
  const std::string kind = json.at("kind").text();
  if (kind != "detail" && kind != "keep-whole") json.at("kind").fault("must be detail or keep-whole");
  zone.kind = kind == "detail" ? ZoneKind::detail : ZoneKind::keep_whole;
  zone.name = json.at("name").text();
  if (const auto rate = json.find("rate_m2_per_h")) zone.rate_m2_per_h = rate->number(0.001, 100);
  if (const auto told = json.find("subject")) {
    const auto subject = subject_named(told->text());
    if (!subject || zone.kind != ZoneKind::detail) told->fault("is no subject of such a zone");
    zone.subject = *subject;
  }
  zone.ring = json.at("ring").ring();
  if (const auto more = json.find("more"))
    for (const auto& ring : more->items()) zone.more.push_back(ring.ring());
  return zone;
}

// The border the network was made with and the wall's border enclose the same area.
void check_area(const JsonReader& json, const WallItem& item) {
  const double kept = static_cast<double>(item.network.wall_area()) * kAreaUnit;
  const double now = item.wall->metric->area();
  if (std::abs(kept - now) > 1e-6 * now + 1e-10)  // the lattice rounds the corners of a very small wall
    json.fault(fmt::format("does not fit wall {}: it was made on {} m2, the wall has {} m2", item.name, kept, now));
}

Network read_network(const JsonReader& json, const std::string& wall) {
  auto network = NetworkCodec::from_json(nlohmann::json(json.raw()));
  if (!network) json.fault("of wall " + wall + " is damaged: " + network.problem().message());
  return std::move(*network);
}

std::shared_ptr<const WallItem> read_wall(const JsonReader& json, Document& doc, Reading& reading) {
  json.only({"id", "name", "shape", "scan", "at", "turn_deg", "openings", reading.version < 2 ? "picture" : "pictures",
             "zones", "network"});
  auto item = std::make_shared<WallItem>();
  item->id = WallId{json.at("id").id()};
  item->name = json.at("name").text();
  if (item->id.value >= doc.next_wall) json.at("id").fault("is not below next_wall");
  if (doc.wall(item->id)) json.at("id").fault("is used twice");
  if (item->name.empty() || doc.wall_named(item->name)) json.at("name").fault("must be a name of its own");
  item->placement = {json.at("at").place3(), json.at("turn_deg").number(-360000, 360000)};
  if (const auto openings = json.find("openings"))
    for (const auto& opening : openings->items()) item->openings.push_back(read_opening(opening));
  const auto shape = json.find("shape"), scan = json.find("scan");
  if (shape.has_value() == scan.has_value()) json.fault("must have a shape or a scan");
  if (shape) {
    item->shape = read_shape(*shape);
    item->wall = must(build_wall(*item->shape, item->placement, item->name, 0, item->openings));
  } else {
    item->scan = read_scan_source(*scan, item->placement, reading.folder);
    item->wall = build_scan(*item->scan, *scan, *item, reading);
  }
  read_pictures(json, *item, doc, reading);
  for (const auto& zone : json.at("zones").items()) item->zones.push_back(read_zone(zone, doc.next_zone));
  item->network = read_network(json.at("network"), item->name);
  check_area(json.at("network"), *item);
  return item;
}

// What format 3 tells of numbers once a cartoon was printed.
void read_printed(const JsonReader& json, bool frozen, Giornata& g) {
  g.part = json.at("part").text();
  const auto letter = [](char c) { return c >= 'a' && c <= 'z'; };
  if (g.part.size() > 2 || !std::all_of(g.part.begin(), g.part.end(), letter))
    json.at("part").fault("must be empty, or one or two letters from a to z");
  g.note = json.at("note").text();
  if (const auto good = check_note(g.note); !good) json.at("note").fault("is wrong: " + good.problem().message());
  g.printed = json.at("printed").truth();
  g.changed = json.at("changed").truth();
  if (!frozen && (g.printed || !g.part.empty())) json.fault("was printed, but the numbers are not frozen");
  if (g.changed && !g.printed) json.at("changed").fault("is told of what was not printed");
}

Giornata read_giornata(const JsonReader& json, std::size_t index, std::int64_t version, bool frozen) {
  if (version < 3)
    json.only({"id", "wall", "number", "name", "intonaco_mm", "state", "alive"});
  else
    json.only({"id", "wall", "number", "part", "name", "note", "printed", "changed", "intonaco_mm", "state", "alive"});
  Giornata g;
  g.id = GiornataId{json.at("id").id()};
  if (g.id.value != index + 1) json.at("id").fault("must count from 1 in order");
  g.wall = WallId{json.at("wall").id()};
  g.number = static_cast<int>(json.at("number").whole(1, 1000000));
  g.name = json.at("name").text();
  if (const auto mm = json.find("intonaco_mm")) g.intonaco_mm = mm->number(0.5, 50);
  const auto state = state_named(json.at("state").text());
  if (!state) json.at("state").fault("is no state of a giornata");
  g.state = *state;
  g.alive = json.at("alive").truth();
  if (version >= 3) read_printed(json, frozen, g);
  return g;
}

// Giornate and networks tell of the same patches.
void check_owners(const Document& doc) {
  std::set<GiornataId> drawn;
  for (const auto& wall : doc.walls)
    for (const FaceId f : wall->network.faces()) {
      const GiornataId owner = wall->network.face(f).owner;
      if (!owner) continue;
      const Giornata* g = doc.giornata(owner);
      if (!g || g->wall != wall->id)
        throw JsonFault(
            fmt::format("wall {} has a patch of giornata {}, which is not listed for it", wall->name, owner.value));
      drawn.insert(owner);
    }
  std::set<std::string> labels;
  for (const auto& g : doc.giornate) {
    if (!g.alive) continue;
    if (!drawn.contains(g.id)) throw JsonFault(fmt::format("giornata {} is listed but lies on no wall", g.id.value));
    if (!labels.insert(label_of(g)).second)
      throw JsonFault(fmt::format("two giornate bear the number {}", label_of(g)));
  }
}

// What was written down on the job, which must fit walls and giornate.
void read_written(const JsonReader& json, Document& doc, const std::string& folder) {
  doc.written = read_job(json, folder);
  if (const auto faults = job_faults(doc); !faults.empty()) json.fault("is wrong: " + faults[0].message());
}

std::shared_ptr<Document> read_document(const JsonReader& json, Reading& reading) {
  const auto format = json.find("format");
  if (!format || !format->raw().is_string() || format->text() != "pontata project")
    throw JsonFault("this is not a project");
  const auto version = json.at("version").whole(1, 1000000);
  if (version > kProjectVersion)
    throw SourceFault{
        {fmt::format("was written by a newer Pontata (format {}, this one reads up to {})", version, kProjectVersion),
         "", "Open it with that version."}};
  reading.version = version;
  if (version < 3)
    json.only({"format", "version", "settings", "next_wall", "next_zone", "next_picture", "giornate", "walls"});
  else if (version < 4)
    json.only({"format", "version", "settings", "next_wall", "next_zone", "next_picture", "numbers_frozen", "giornate",
               "walls"});
  else
    json.only({"format", "version", "settings", "next_wall", "next_zone", "next_picture", "numbers_frozen", "giornate",
               "walls", "job"});
  auto doc = std::make_shared<Document>();
  doc->settings = read_settings(json.at("settings"));
  doc->next_wall = json.at("next_wall").id();
  doc->next_zone = json.at("next_zone").id();
  if (version >= 2) doc->next_picture = json.at("next_picture").id();
  // Formats before 3 do not tell whether a cartoon was printed; if one was, its numbers must stay true.
  doc->numbers_frozen = version < 3 ? !json.at("giornate").items().empty() : json.at("numbers_frozen").truth();
  for (const auto& g : json.at("giornate").items())
    doc->giornate.push_back(read_giornata(g, doc->giornate.size(), version, doc->numbers_frozen));
  for (const auto& wall : json.at("walls").items()) doc->walls.push_back(read_wall(wall, *doc, reading));
  check_owners(*doc);
  if (const auto job = json.find("job")) read_written(*job, *doc, reading.folder);
  return doc;
}

Problem damaged(const std::string& name, const std::string& what) {
  return {"is not a sound project file: " + what, name, "Take a copy from before, or begin anew with pontata wall."};
}

}  // namespace

Result<LoadedProject> project_from_text(const std::string& text, const std::string& name, const std::string& folder,
                                        const LoadOptions& options, Progress* progress) {
  Reading reading;
  reading.folder = folder;
  reading.options = options;
  reading.progress = progress;
  try {
    const auto json = nlohmann::ordered_json::parse(text);
    auto document = read_document(JsonReader(json, ""), reading);
    return LoadedProject{std::move(document), std::move(reading.notes)};
  } catch (const nlohmann::json::parse_error& error) {
    return damaged(name, fmt::format("it breaks off or is garbled at byte {}", error.byte));
  } catch (const nlohmann::json::exception&) {
    return damaged(name, "it holds a number or text that cannot be read");
  } catch (const JsonFault& fault) {
    return damaged(name, fault.what());
  } catch (SourceFault& fault) {
    Problem problem = std::move(fault.problem);
    problem.where = problem.where.empty() ? name : name + ": " + problem.where;
    return problem;
  }
}

Result<LoadedProject> open_project(const std::string& path, const LoadOptions& options, Progress* progress) {
  const auto text = read_file(path);
  if (!text) return text.problem();
  const auto folder = std::filesystem::absolute(path).lexically_normal().parent_path().string();
  return project_from_text(*text, path, folder, options, progress);
}

Result<DocumentRef> load_project(const std::string& path, Progress* progress) {
  auto loaded = open_project(path, {}, progress);
  if (!loaded) return loaded.problem();
  return std::move(loaded->document);
}

}  // namespace pontata
