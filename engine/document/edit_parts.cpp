#include "engine/document/edit_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "engine/document/giornata_records.h"
#include "engine/document/plain_text.h"

namespace pontata {

Result<const WallItem*> item_of(const Document& doc, WallId wall) {
  if (const WallItem* item = doc.wall(wall)) return item;
  return Problem{"there is no such wall", "", "Choose a wall of this project."};
}

Result<const Giornata*> giornata_of(const Document& doc, GiornataId id) {
  if (const Giornata* found = doc.giornata(id)) return found;
  return Problem{fmt::format("there is no giornata with the id {}", id.value), "", "measure --json lists the ids."};
}

Problem bad_text(const std::string& what, const std::string& text) {
  if (text.size() > 200) return {"the " + what + " is longer than 200 bytes", "", "Choose a shorter one."};
  return {"the " + what + " holds characters that cannot be written", "", "Use letters, digits and spaces."};
}

Outcome check_wall_name(const Document& doc, const std::string& name) {
  if (name.find_first_not_of(' ') == std::string::npos)
    return Problem{"a wall needs a name", "", "Give it a word, like vault."};
  if (name.size() > 200 || !is_plain_text(name)) return bad_text("wall's name", name);
  if (doc.wall_named(name)) return Problem{"there is a wall named " + name + " already", "", "Choose another name."};
  return Done{};
}

Outcome check_giornata_name(const std::string& name) {
  if (name.size() > 200 || !is_plain_text(name)) return bad_text("name", name);
  return Done{};
}

Outcome check_note(const std::string& note) {
  if (note.size() <= kLongestNote && is_plain_text(note)) return Done{};
  if (note.size() > kLongestNote)
    return Problem{fmt::format("the note is longer than {} bytes", kLongestNote), "", "Write a shorter one."};
  return bad_text("note", note);
}

Outcome check_pictures(const WallItem& item) {
  for (const auto& picture : item.pictures)
    if (!picture->pixels)
      return Problem{"the picture " + picture->name + " of wall " + item.name + " cannot be read", picture->path,
                     "Put the file back, or lay a picture anew: pontata picture PROJECT " + item.name + " FILE."};
  return Done{};
}

DrapeInput drape_input(const Document& doc, const WallItem& item) {
  DrapeInput input{item.wall, {}, {}};
  bool seen = false;
  for (const auto& picture : item.pictures) {
    if (!picture->pixels) continue;
    input.pictures.push_back(picture);
    seen = seen || eye_of(picture->lay);
  }
  if (seen)
    for (const auto& other : doc.walls)
      if (other->id != item.id) input.others.push_back(other->wall);
  return input;
}

std::string absolute_path(const std::string& path) {
  return std::filesystem::absolute(path).lexically_normal().string();
}

std::shared_ptr<Document> with_wall(const Document& doc, std::shared_ptr<const WallItem> item) {
  auto next = std::make_shared<Document>(doc);
  for (auto& wall : next->walls)
    if (wall->id == item->id) wall = item;
  return next;
}

std::shared_ptr<Document> with_network(const Document& doc, const WallItem& item, Network network) {
  auto changed = std::make_shared<WallItem>(item);
  changed->network = std::move(network);
  auto next = with_wall(doc, changed);
  flag_changed(*next, item.network, changed->network);
  return next;
}

int next_number(const Document& doc) {
  std::vector<int> used;
  for (const auto& g : doc.giornate)
    if (g.alive || g.printed) used.push_back(g.number);
  std::sort(used.begin(), used.end());
  int number = 1;
  for (const int u : used)
    if (u == number) ++number;
  return number;
}

GiornataId next_giornata(const Document& doc) {
  return GiornataId{static_cast<std::uint32_t>(doc.giornate.size()) + 1};
}

}  // namespace pontata
