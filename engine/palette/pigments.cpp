#include "engine/palette/pigments.h"

#include <algorithm>
#include <array>
#include <cctype>

namespace pontata {

namespace {

// What that page says: carbon black, iron oxides, cobalt blue are used; Prussian blue and chrome yellow discolour; some
// ultramarines and ivory black effloresce; lead white may blacken.
constexpr std::string_view kCameo = "CAMEO, Museum of Fine Arts Boston, Fresco pigments";
constexpr std::string_view kCommon = "common practice, no source";
constexpr std::string_view kMemory = "from memory, no source at hand";

constexpr std::string_view kLead =
    "Lead: toxic, harms the unborn child; no dust, no food or drink near it, wash hands.";
constexpr std::string_view kMercury = "Mercury: toxic; no dust, no heating, wash hands.";
constexpr std::string_view kArsenic = "Arsenic: very toxic, may cause cancer; do not handle it dry.";
constexpr std::string_view kCadmium = "Cadmium: toxic, may cause cancer when breathed in; no dust.";
constexpr std::string_view kChromate = "Lead and chromate: toxic, may cause cancer; no dust.";
constexpr std::string_view kCobalt = "Cobalt: may cause an allergy; no dust.";
constexpr std::string_view kManganese = "Manganese: harmful when its dust is breathed in.";
constexpr std::string_view kNickel = "Nickel: may cause an allergy, and cancer when breathed in; no dust.";
constexpr std::string_view kQuartz = "May hold fine quartz: no dust.";

constexpr auto kGood = LimeFastness::accepted, kOpen = LimeFastness::disputed, kBad = LimeFastness::avoid;

// By common name. Generic names of the Colour Index: from memory.
constexpr std::array kPigments{
    Pigment{"azurite", "PB 30", kOpen, "may turn green in damp lime; mostly laid on dry with a binder", kMemory, ""},
    Pigment{"brown earth", "PBr 7", kGood, "sienna or umber, raw or burnt: iron oxides", kCameo, kManganese},
    Pigment{"burnt sienna", "PBr 7", kGood, "an iron oxide", kCameo, kQuartz},
    Pigment{"burnt umber", "PBr 7", kGood, "an iron oxide with manganese", kCameo, kManganese},
    Pigment{"cadmium red", "PR 108", kOpen, "stands lime, but fades in damp and light out of doors", kMemory, kCadmium},
    Pigment{"cadmium yellow", "PY 37", kOpen, "stands lime, but fades in damp and light out of doors", kMemory,
            kCadmium},
    Pigment{"carbon black", "PBk 7", kGood, "carbon", kCameo, ""},
    Pigment{"cerulean blue", "PB 35", kGood, "a mixed oxide of cobalt and tin", kCommon, kCobalt},
    Pigment{"chrome yellow", "PY 34", kBad, "discolours", kCameo, kChromate},
    Pigment{"chromium oxide green", "PG 17", kGood, "an oxide fired at great heat", kCommon, ""},
    Pigment{"cobalt blue", "PB 28", kGood, "a mixed oxide of cobalt and aluminium", kCameo, kCobalt},
    Pigment{"cobalt green", "PG 50", kGood, "a mixed oxide of cobalt and titanium", kCommon, kNickel},
    Pigment{"cobalt violet", "PV 14", kOpen, "phosphates of cobalt differ from maker to maker", kMemory, kCobalt},
    Pigment{"Egyptian blue", "PB 31", kGood, "a glass of copper and lime", kCommon, ""},
    Pigment{"emerald green", "PG 21", kBad, "a copper arsenite that lime breaks down", kMemory, kArsenic},
    Pigment{"green earth", "PG 23", kGood, "a clay coloured by iron", kCommon, kQuartz},
    Pigment{"indigo", "NB 1", kBad, "a dye that lime and light destroy; laid on dry if at all", kCommon, ""},
    Pigment{"ivory black", "PBk 9", kOpen, "may effloresce", kCameo, ""},
    Pigment{"lamp black", "PBk 6", kGood, "carbon; light and hard to wet", kCameo, ""},
    Pigment{"lead white", "PW 1", kBad, "may blacken", kCameo, kLead},
    Pigment{"lime white", "PW 18", kGood, "chalk, or slaked lime dried and ground: the white of fresco", kCommon, ""},
    Pigment{"madder lake", "NR 9", kBad, "a dye on a base that lime breaks down", kCommon, ""},
    Pigment{"malachite", "PG 39", kOpen, "sources differ on whether it keeps its colour in lime", kMemory, ""},
    Pigment{"Mars black", "PBk 11", kGood, "an iron oxide", kCameo, ""},
    Pigment{"minium", "PR 105", kBad, "a red lead that turns brown or black", kCommon, kLead},
    Pigment{"Naples yellow", "PY 41", kOpen, "lead antimonate; stands lime, may darken", kMemory, kLead},
    Pigment{"nickel titanium yellow", "PY 53", kGood, "an oxide fired at great heat", kMemory, kNickel},
    Pigment{"orpiment", "PY 39", kBad, "an arsenic sulphide that lime breaks down", kCommon, kArsenic},
    Pigment{"phthalocyanine blue", "PB 15", kOpen, "stands alkali, but is organic and hard to wet", kMemory, ""},
    Pigment{"Prussian blue", "PB 27", kBad, "discolours: lime breaks it down to brown", kCameo, ""},
    Pigment{"raw sienna", "PBr 7", kGood, "an iron oxide", kCameo, kQuartz},
    Pigment{"raw umber", "PBr 7", kGood, "an iron oxide with manganese", kCameo, kManganese},
    Pigment{"realgar", "PR 107", kBad, "an arsenic sulphide that light and lime break down", kMemory, kArsenic},
    Pigment{"red iron oxide", "PR 101", kGood, "an iron oxide", kCameo, ""},
    Pigment{"red ochre", "PR 102", kGood, "an iron oxide", kCameo, kQuartz},
    Pigment{"smalt", "PB 32", kOpen, "a cobalt glass that may lose its colour", kMemory, kCobalt},
    Pigment{"titanium white", "PW 6", kOpen, "stands lime; some find it foreign beside lime white", kCommon, ""},
    Pigment{"ultramarine", "PB 29", kOpen, "some ultramarines effloresce; acids and damp fade it", kCameo, ""},
    Pigment{"verdigris", "PG 20", kBad, "a copper salt that lime breaks down", kCommon,
            "Copper salts: harmful when swallowed."},
    Pigment{"vermilion", "PR 106", kOpen, "may blacken in light and damp", kMemory, kMercury},
    Pigment{"vine black", "PBk 8", kGood, "carbon", kCameo, ""},
    Pigment{"viridian", "PG 18", kGood, "a chromium oxide with water", kCommon, ""},
    Pigment{"yellow iron oxide", "PY 42", kGood, "an iron oxide", kCameo, ""},
    Pigment{"yellow ochre", "PY 43", kGood, "an iron oxide", kCameo, kQuartz},
    Pigment{"zinc white", "PW 4", kOpen, "sources differ on how it stands in lime", kMemory, ""},
};

// Without spaces and hyphens, in small letters.
std::string plain(std::string_view name) {
  std::string text;
  for (const char c : name)
    if (c != ' ' && c != '-') text += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

std::string shown(const Pigment& p) { return std::string(p.common) + " (" + std::string(p.colour_index) + ")"; }

}  // namespace

std::string_view fastness_word(LimeFastness fastness) {
  switch (fastness) {
    case LimeFastness::accepted:
      return "accepted";
    case LimeFastness::avoid:
      return "avoid";
    case LimeFastness::disputed:
      break;
  }
  return "disputed";
}

std::span<const Pigment> pigments() { return kPigments; }

const Pigment* pigment_named(std::string_view name) {
  const std::string wanted = plain(name);
  if (wanted.empty()) return nullptr;
  for (const Pigment& p : kPigments)
    if (plain(p.common) == wanted) return &p;
  for (const Pigment& p : kPigments)
    if (plain(p.colour_index) == wanted) return &p;
  return nullptr;
}

std::vector<std::string> palette_words(std::span<const std::string> colour_index_names) {
  std::vector<std::string> words;
  const auto say = [&](const std::string& word) {
    if (std::ranges::find(words, word) == words.end()) words.push_back(word);
  };
  for (const std::string& name : colour_index_names) {
    const Pigment* p = pigment_named(name);
    if (!p) {
      say(name + ": not in our list; try it in lime before it goes on the wall");
      continue;
    }
    if (p->fastness != LimeFastness::accepted)
      say(shown(*p) + ": " + (p->fastness == LimeFastness::avoid ? "to be avoided in lime" : "disputed in lime") +
          ", " + std::string(p->why) + " (" + std::string(p->source) + ")");
    if (!p->caution.empty()) say(shown(*p) + ": " + std::string(p->caution));
  }
  return words;
}

}  // namespace pontata
