// How a sheet is hung: marks on the giornata's rim, each with tape offsets from lines snapped on the wall.
//
// Nothing is snapped or nailed on finished paint: lines are used only where the arriccio is still bare on the day, that
// is outside the giornata itself and outside those painted before it.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "engine/cartoon/snapped_lines.h"

namespace pontata {

// Unit ways up and right on the surface as one stands before it: up by height, by the picture where the wall is within
// 15 degrees of level.
struct StandingWays {
  Vec3 up{0, 0, 1}, right{1, 0, 0};
  bool by_height = true;
};
StandingWays standing_ways(const SurfaceFrame& frame);

struct TapeOffset {
  const SnappedLine* line = nullptr;
  ChartPoint foot;             // on the line
  double m = 0;                // from the line to the mark, the shortest way over the surface
  std::string side;            // "right of", "left of", "above", "below", ...; "on" within half a millimetre
  bool over_finished = false;  // the tape passes over finished work
  std::string words() const;   // "0.432 m right of plumb line C"
};

struct RegistrationMark {
  int number = 1;                   // 1, 2, 3, ... on the giornata
  ChartPoint place;                 // on its rim
  std::vector<TapeOffset> offsets;  // from a plumb line and from a level or lengthwise one, as far as there are
};

// A snapped line that crosses the giornata and is buried by its plaster.
struct BuriedLine {
  const SnappedLine* line = nullptr;
  int bare_ends = 0;  // 0, 1, 2: ends that lie on bare wall just beyond the giornata
};

struct Registration {
  std::vector<RegistrationMark> marks;
  std::vector<BuriedLine> buried;
  bool enclosed = false;  // every edge meets finished work or the wall's end
  bool taped() const;     // three marks, each with offsets from two lines
  std::vector<std::string> words(const CartoonWall& wall, const CartoonGiornata& giornata) const;  // for the day sheet
};

// The lines of one wall, looked up for its giornate.
class WallRegister {
 public:
  // Keeps a reference to the wall. O(lines x triangles).
  explicit WallRegister(const CartoonWall& wall);

  const std::vector<SnappedLine>& lines() const { return lines_; }
  // Three marks, as far apart as can be, that have a plumb line and a level or lengthwise line within 3 m square to
  // them on bare wall, by preference where the tape passes over no finished work. An enclosed giornata has none: it
  // registers to its neighbours.
  Registration of(const CartoonGiornata& giornata) const;

 private:
  struct Sample {
    ChartPoint place;
    Vec3 at{0, 0, 0};
    GiornataId owner;
  };
  struct Piece {
    std::size_t line = 0;
    std::vector<Sample> samples;
  };
  struct Foot {
    double distance = 1e300;  // through the air
    const Piece* piece = nullptr;
    std::size_t after = 0;  // between samples after - 1 and after
    double share = 0;
  };
  struct Candidate;
  struct Day;  // which giornate are finished
  Foot foot_on(const Piece& piece, const Vec3& p, const Day& day) const;
  std::optional<TapeOffset> tape(ChartPoint mark, const Foot& foot, const Day& day) const;
  bool clear_between(ChartPoint a, ChartPoint b, const Day& day) const;
  std::vector<Candidate> candidates(const CartoonGiornata& giornata, const Day& day) const;
  std::vector<BuriedLine> buried(const Day& day) const;

  const CartoonWall& wall_;
  std::vector<SnappedLine> lines_;
  std::vector<Piece> pieces_;
};

// Those of all walls, each made when first asked for. Keeps references to the walls and giornate asked for.
class Registers {
 public:
  const std::vector<SnappedLine>& lines(const CartoonWall& wall) { return of(wall).lines(); }
  const Registration& of(const CartoonWall& wall, const CartoonGiornata& giornata);

 private:
  const WallRegister& of(const CartoonWall& wall);
  std::map<const CartoonWall*, std::unique_ptr<WallRegister>> walls_;
  std::map<GiornataId, Registration> giornate_;
};

}  // namespace pontata
