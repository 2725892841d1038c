// Lists of edits that broke something when a large storm (tests/bench/storm_bench.cpp) came to them, made small.
#include <catch2/catch.hpp>

#include "engine/base/parallel.h"
#include "tests/document/folders.h"
#include "tests/fixtures/storm/storm_run.h"
#include "tests/fixtures/storm/storm_walls.h"

using namespace pontata;
using namespace pontata::storm;

namespace {

struct Once {
  const char* what;  // broke
  const char* script;
};

const Once kOnce[]{
    {"the stretch to be redrawn went over the line's end and back: an exception",
     "on flat\n"
     "outline wall=1 line=0.07,0.75;0.2,0.75;0.1,1\n"
     "redraw wall=1 line=0.07,0.8;0.2,0.75;0.13,0.75\n"},
    {"the same at the line's beginning",
     "on flat\n"
     "outline wall=0 line=2.06,1.4;2.1,2;2,1.43\n"
     "redraw wall=0 line=2.07,1.414;2,1.43;2.03,1.42\n"},
    {"the same on a drum",
     "on drum\n"
     "outline wall=0 line=1.57,1.05;1.57,0.97;1,1\n"
     "redraw wall=0 line=1.4,0.98;1.57,1.1;1.57,1.01\n"},
    {"a bite led seams together at a tip of a giornata that it took nothing of: the tip lay apart",
     "on barrel\n"
     "outline wall=0 line=1.953163904,1.989089403;1.88977138,2.0288243;2,2.02\n"
     "divide wall=0 at=1.94,2 line=0,2.77;1.93697735,2.0154579;3,0\n"
     "draw_over wall=0 line=1.949759524,1.99122329;1.94,2.02;2,2\n"},
    {"a seam's end on a held rim, which keeps its area: the sum was allowed less than a pitch along it",
     "on scan\n"
     "outline wall=0 line=1,1;0.147,1.2;0.01,1;0.01,0\n"
     "draw_over wall=0 line=1,1;0.01,1.21;0.3,0.9\n"
     "state wall=0 at=0.3,1 text=done\n"
     "outline wall=0 line=0.01,1.17;0.3,0.8;0.36,1\n"
     "nudge wall=0 at=0,1 line=-0,-1e-08 number=1.49200774\n"},
    {"a wall laid again for an opening elsewhere pinched a tip off a giornata",
     "on flat\n"
     "outline wall=0 line=2.3,1.3;2.252706,1.258244;2.251584224,1.258895475;2,1.3\n"
     "draw_over wall=0 line=2,2;2.4,2;2.251584586,1.258895267\n"
     "opening wall=0 at=3,2 line=0.1,0.1\n"},
};

}  // namespace

TEST_CASE("lists of edits that once broke something break nothing") {
  const WorkerLimit one(1);
  Checks every;
  every.rest_every = every.all_faces_every = every.text_every = 1;
  for (const auto& [what, text] : kOnce) {
    const TemporaryFolder folder;
    const auto script = read_script(text);
    REQUIRE(script.ok());
    const auto fault = replay(bare_project(script->wall, folder.path()), *script, folder.path(), every);
    INFO(what << "\n" << (fault ? fault->says : ""));
    CHECK_FALSE(fault);
  }
}
