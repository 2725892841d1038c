#include "engine/document/step_pack.h"

#include <algorithm>
#include <tuple>
#include <type_traits>

#include "engine/document/edit_parts.h"
#include "engine/document/settings_table.h"
#include "engine/seams/network_step.h"

namespace pontata {

namespace {

// --- which parts of a wall are the same. The lists name every member, so that a new one cannot be forgotten.
bool same(const Placement3& a, const Placement3& b) {
  const auto& [at, turn] = a;
  return at == b.at && turn == b.turn_deg;
}

bool same(const ShapeSpec& a, const ShapeSpec& b) {
  const auto list = [](const ShapeSpec& s) {
    const auto& [kind, width, height, span, length, rise, radius, side, top_span, inner, outer, angle] = s;
    return std::tie(kind, width, height, span, length, rise, radius, side, top_span, inner, outer, angle);
  };
  return list(a) == list(b);
}

bool same(const ScanOptions::Box& a, const ScanOptions::Box& b) {
  const auto& [low, high] = a;
  return low == b.low && high == b.high;
}

bool same(const ScanSource& a, const ScanSource& b);

template <class T>
bool same(const std::optional<T>& a, const std::optional<T>& b) {
  return a.has_value() == b.has_value() && (!a || same(*a, *b));
}

bool same(const ScanOptions& a, const ScanOptions& b) {
  const auto& [unit, y_up, flip, smoothing, weld, placement, scale, crop, part_at, rim, cut_at] = a;
  return std::tie(unit, y_up, flip, smoothing, weld, scale, part_at, rim, cut_at) ==
             std::tie(b.unit_m, b.y_up, b.flip, b.smoothing_m, b.weld_m, b.scale, b.part_at, b.fill_rim_m, b.cut_at) &&
         same(placement, b.placement) && same(crop, b.crop);
}

bool same(const ScanSource& a, const ScanSource& b) {
  const auto& [path, sha256, options, unit, old_plaster] = a;
  return std::tie(path, sha256, unit, old_plaster) == std::tie(b.path, b.sha256, b.unit, b.old_plaster) &&
         same(options, b.options);
}

// All but seams, zones and pictures.
bool same_frame(const WallItem& a, const WallItem& b) {
  const auto& [id, name, shape, scan, placement, openings, wall, network, zones, pictures] = a;
  return id == b.id && name == b.name && wall == b.wall && openings == b.openings && same(shape, b.shape) &&
         same(scan, b.scan) && same(placement, b.placement);
}

bool same(const Giornata& a, const Giornata& b) {
  const auto& [id, wall, number, part, name, note, printed, changed, mm, state, alive] = a;
  return std::tie(id, wall, number, part, name, note, printed, changed, mm, state, alive) ==
         std::tie(b.id, b.wall, b.number, b.part, b.name, b.note, b.printed, b.changed, b.intonaco_mm, b.state,
                  b.alive);
}

std::string all_settings(const Document& doc) {
  std::string text;
  for (const auto& setting : settings_keys(doc.settings)) text += setting.key + "=" + setting.get(doc.settings) + "\n";
  return text;
}

// Of the lists alone; diary entries are shared between steps.
std::size_t job_bytes(const Job& job) {
  const auto of = [](const auto& list) { return list.size() * sizeof(list.front()); };
  return sizeof(Job) + of(job.diary) + of(job.weather) + of(job.pairs) + of(job.days_off) + of(job.ground) +
         of(job.putty) + of(job.giornate) + of(job.secco) + of(job.accepted);
}

struct Chances {
  Chance settings, written, frozen, walls, same_text, plain, has, record;
  NumberChances counters, sizes, gap, wall_of, number, flags, real, kind, dx, dy, from_where;
  TextChances text;
};

// Writes the document `to`, or reads it into an empty one.
template <class Coder>
class DocumentCoder {
 public:
  static constexpr bool kReads = std::is_same_v<Coder, PackReader>;

  using Pack = std::conditional_t<kReads, const StepPack, StepPack>;

  DocumentCoder(Coder& coder, Pack& pack, const Document& from, Document& to)
      : coder_(coder), pack_(pack), from_(from), to_(to) {}

  void run() {
    for (auto member : {&Document::next_wall, &Document::next_zone, &Document::next_picture})
      near(from_.*member, to_.*member);
    to_.numbers_frozen = coder_.bit(chances_.frozen, to_.numbers_frozen);
    settings();
    written();
    giornate();
    walls();
  }

 private:
  template <class T>
  void near(T guess, T& value, NumberChances Chances::*chances = &Chances::counters) {
    value = static_cast<T>(
        code_near(coder_, chances_.*chances, static_cast<std::int64_t>(guess), static_cast<std::int64_t>(value)));
  }
  void text(const std::string& guess, std::string& value) {
    value = coder_.bit(chances_.same_text, value == guess) ? guess : code_text(coder_, chances_.text, std::move(value));
  }
  void real(std::optional<double> guess, std::optional<double>& value) {
    if (!coder_.bit(chances_.has, value.has_value()))
      value.reset();
    else
      value = code_real(coder_, chances_.real, guess.value_or(0), value.value_or(0));
  }
  template <class T>
  std::size_t size(std::size_t guess, std::vector<T>& list) {
    std::size_t n = list.size();
    near(guess, n, &Chances::sizes);
    list.resize(n);
    return n;
  }
  // A part that is held as it is; `bytes` of it count.
  template <class T>
  void part(std::shared_ptr<const T>& value, std::size_t bytes) {
    if constexpr (kReads) {
      value = std::static_pointer_cast<const T>(pack_.parts[next_part_++]);
    } else {
      pack_.parts.push_back(value);
      pack_.parts_bytes += bytes;
    }
  }

  void settings() {
    if (coder_.bit(chances_.settings, !kReads && all_settings(from_) == all_settings(to_))) {
      to_.settings = from_.settings;
      return;
    }
    auto held = kReads ? nullptr : std::make_shared<const Settings>(to_.settings);
    part(held, sizeof(Settings));
    to_.settings = *held;
  }

  void written() {
    if (coder_.bit(chances_.written, to_.written == from_.written)) {
      to_.written = from_.written;
      return;
    }
    std::size_t bytes = 0;
    if constexpr (!kReads) bytes = job_bytes(to_.job());
    part(to_.written, bytes);
  }

  void giornate() {
    if constexpr (kReads) to_.giornate = from_.giornate;
    const std::size_t n = size(from_.giornate.size(), to_.giornate);
    std::vector<std::uint32_t> changed;
    if constexpr (!kReads)
      for (std::size_t i = 0; i < n; ++i)
        if (i >= from_.giornate.size() || !same(from_.giornate[i], to_.giornate[i]))
          changed.push_back(static_cast<std::uint32_t>(i));
    size(0, changed);
    std::uint32_t last = 0;
    for (std::uint32_t& i : changed) {
      near(last, i, &Chances::gap);
      giornata(i < from_.giornate.size() ? from_.giornate[i] : Giornata{}, to_.giornate[i]);
      last = i + 1;
    }
  }

  void giornata(const Giornata& was, Giornata& g) {
    near(was.id.value, g.id.value, &Chances::wall_of);
    near(was.wall.value, g.wall.value, &Chances::wall_of);
    near(was.number, g.number, &Chances::number);
    text(was.part, g.part);
    text(was.name, g.name);
    text(was.note, g.note);
    std::int64_t flags = (static_cast<std::int64_t>(g.state) << 3) | (g.printed << 2) | (g.changed << 1) | int{g.alive};
    flags = code_number(coder_, chances_.flags, flags);
    g.state = static_cast<GiornataState>(flags >> 3);
    g.printed = flags & 4, g.changed = flags & 2, g.alive = flags & 1;
    real(was.intonaco_mm, g.intonaco_mm);
  }

  void walls() {
    if (coder_.bit(chances_.walls, to_.walls == from_.walls)) {
      to_.walls = from_.walls;
      return;
    }
    size(from_.walls.size(), to_.walls);
    std::int64_t guess = 0;
    for (auto& item : to_.walls) guess = wall(guess, item) + 1;
  }

  // Told by its place in `from`, or held whole (-1: it is new, or has another surface).
  std::int64_t wall(std::int64_t guess, std::shared_ptr<const WallItem>& item) {
    std::int64_t at = -1;
    for (std::size_t i = 0; !kReads && i < from_.walls.size(); ++i)
      if (from_.walls[i]->id == item->id && from_.walls[i]->wall == item->wall) at = static_cast<std::int64_t>(i);
    at = code_near(coder_, chances_.from_where, guess, at);
    if (at < 0) {
      part(item, kReads ? 0 : whole_size(*item));
      return at;
    }
    const auto& was = from_.walls[static_cast<std::size_t>(at)];
    if (coder_.bit(chances_.record, item == was))
      item = was;
    else
      changed_wall(*was, item);
    return at;
  }

  static std::size_t whole_size(const WallItem& item) {
    std::size_t bytes = sizeof(WallItem);
    item.network.visit_nodes([&](const void*, std::size_t n) { bytes += n; });
    return bytes;
  }

  void changed_wall(const WallItem& was, std::shared_ptr<const WallItem>& item) {
    std::shared_ptr<const WallItem> frame;
    if (!coder_.bit(chances_.plain, !kReads && same_frame(was, *item))) {
      if constexpr (!kReads) {
        auto bare = std::make_shared<WallItem>(*item);
        bare->network = {}, bare->zones.clear(), bare->pictures.clear();
        frame = std::move(bare);
      }
      part(frame, sizeof(WallItem));
    }
    std::shared_ptr<WallItem> made;
    if constexpr (kReads) {
      made = std::make_shared<WallItem>(frame ? *frame : was);
      made->network = {}, made->zones.clear(), made->pictures.clear();
    } else {
      made = std::make_shared<WallItem>(*item);
    }
    zones(was, *made);
    pictures(was, *made);
    network(was, *made);
    if constexpr (kReads) item = std::move(made);
  }

  void network(const WallItem& was, WallItem& item) {
    if (coder_.bit(chances_.plain, !kReads && NetworkStep::same(was.network, item.network))) {
      item.network = was.network;
      return;
    }
    const EdgeMeter meter = was.wall ? was.wall->metric->meter() : EdgeMeter{};
    if constexpr (kReads)
      item.network = NetworkStep::read(coder_, was.network, meter);
    else
      NetworkStep::write(coder_, was.network, item.network, meter);
  }

  void pictures(const WallItem& was, WallItem& item) {
    size(was.pictures.size(), item.pictures);
    std::int64_t guess = 0;
    for (PlacedRef& picture : item.pictures) {
      const auto there = std::find(was.pictures.begin(), was.pictures.end(), picture);
      std::int64_t at = kReads || there == was.pictures.end() ? -1 : there - was.pictures.begin();
      at = code_near(coder_, chances_.from_where, guess, at);
      if (at < 0)
        part(picture, sizeof(PlacedPicture));
      else
        picture = was.pictures[static_cast<std::size_t>(at)];
      guess = at + 1;
    }
  }

  void zones(const WallItem& was, WallItem& item) {
    size(was.zones.size(), item.zones);
    std::int64_t guess = 0;
    for (Zone& z : item.zones) {
      const auto there =
          std::find_if(was.zones.begin(), was.zones.end(), [&](const Zone& o) { return same_zone(o, z); });
      std::int64_t at = kReads || there == was.zones.end() ? -1 : there - was.zones.begin();
      at = code_near(coder_, chances_.from_where, guess, at);
      if (at < 0)
        zone(z);
      else
        z = was.zones[static_cast<std::size_t>(at)];
      guess = at + 1;
    }
  }

  void zone(Zone& z) {
    near(from_.next_zone, z.id.value);
    near(ZoneKind::keep_whole, z.kind, &Chances::kind);
    text("", z.name);
    near(Subject::none, z.subject, &Chances::kind);
    real(std::nullopt, z.rate_m2_per_h);
    ring(z.ring);
    size(0, z.more);
    for (Ring& r : z.more) ring(r);
  }

  void ring(Ring& r) {
    size(0, r);
    LatticePoint last;
    for (LatticePoint& p : r) {
      near(last.x, p.x, &Chances::dx);
      near(last.y, p.y, &Chances::dy);
      last = p;
    }
  }

  Coder& coder_;
  Pack& pack_;
  const Document& from_;
  Document& to_;
  Chances chances_;
  std::size_t next_part_ = 0;
};

}  // namespace

StepPack pack_step(const Document& from, const Document& to) {
  StepPack pack;
  PackWriter writer;
  Document copy = to;
  DocumentCoder<PackWriter>(writer, pack, from, copy).run();
  pack.bytes = writer.bytes();
  pack.bytes.shrink_to_fit();
  pack.parts.shrink_to_fit();
  return pack;
}

DocumentRef unpack_step(const Document& from, const StepPack& pack) {
  PackReader reader(pack.bytes);
  auto to = std::make_shared<Document>();
  DocumentCoder<PackReader>(reader, pack, from, *to).run();
  return to;
}

}  // namespace pontata
