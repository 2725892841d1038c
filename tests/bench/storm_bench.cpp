// The great storm of edits: every kind of edit on every kind of wall, every document checked, and the same bytes again
// after undo, save, reading in a fresh process and the edits that followed.
//
//   bench_storm [--edits 200000] [--depths 1000] [--seed 1] [--wall flat|barrel|drum|groin|dome|scan|all]
//               [--shard 0/1] [--session 700] [--jobs 1] [--out FOLDER] [--no-shrink]
//   bench_storm --replay FILE | --shrink FILE      a list of edits as storm_op.h writes it
//   bench_storm --again FOLDER                     the other process of the depths
//
// Sessions run in processes of their own. The sum of the shard so far lies in FOLDER/shard_I_of_N.json after every one
// of them (storm_sum.py adds those up). What broke is made small once all have ended, and left in FOLDER as a script to
// replay. Exit status 1 when something broke.
#include <fcntl.h>
#include <fmt/format.h>
#include <sys/wait.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <nlohmann/json.hpp>

#include "engine/base/parallel.h"
#include "engine/base/text.h"
#include "tests/fixtures/storm/storm_again.h"
#include "tests/fixtures/storm/storm_session.h"
#include "tests/fixtures/storm/storm_shrink.h"
#include "tests/fixtures/storm/storm_walls.h"

namespace {

using namespace pontata;
using namespace pontata::storm;
namespace fs = std::filesystem;

struct Options {
  std::size_t edits = 200000, depths = 1000, session = 700, jobs = 1;
  std::uint64_t seed = 1;
  std::string wall = "all", shard = "0/1", out = "storm_out", replay, shrink, again;
  bool no_shrink = false;
  std::size_t shard_index = 0, shards = 1;
};

double now() { return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count(); }

std::string read_all(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

DocumentRef bare_in(const std::string& wall, const std::string& folder) {
  fs::create_directories(folder);
  return bare_project(wall, folder);
}

// One session in this process, which was forked for it: what came of it lies in the folder.
int session_here(const Session& session, const std::string& folder) {
  const WorkerLimit one(1);
  double said = now();
  const auto end =
      run_session(bare_in(session.wall, folder), session, folder, folder + "/session.storm", [&](const Tally& tally) {
        if (now() - said < 10) return;
        said = now();
        std::fprintf(stderr, "  %s %llu: %zu edits made, %zu refused, %zu seams at most\n", session.wall.c_str(),
                     static_cast<unsigned long long>(session.seed), tally.made(), tally.refused(), tally.most_seams);
      });
  std::string broken = end.fault ? end.fault->says : "";
  Tally tally = end.tally;
  if (broken.empty() && session.depths > 0) {
    // A process that has seen nothing of these edits.
    const int status = run_process({"/proc/self/exe", "--again", folder});
    broken = status == 0 ? "" : "again: " + read_all(folder + "/again.txt");
    tally.again = status == 0 ? tally.depths : 0;
  }
  std::ofstream(folder + "/tally.json") << tally_json(tally);
  std::ofstream(folder + "/fault.txt") << broken;
  return broken.empty() ? 0 : 1;
}

std::string rule_of(const std::string& says) { return says.substr(0, says.find(':')); }

// Writes the failing list and, where it can be, the smallest one that breaks the same rule.
void shrink_to(const Script& script, const std::string& folder, const std::string& path) {
  const DocumentRef bare = bare_in(script.wall, folder);
  Checks checks;
  const std::string rule = rule_broken(bare, script, folder, checks, 300);
  std::fprintf(stderr, "%s: %zu edits break the rule \"%s\"\n", path.c_str(), script.ops.size(), rule.c_str());
  if (rule.empty()) return;
  std::size_t tries = 0;
  const double begin = now();
  const auto small = shrunk_script(script, [&](const Script& candidate) {
    if (++tries % 50 == 0) std::fprintf(stderr, "  %zu tries, %zu edits\n", tries, candidate.ops.size());
    return now() - begin < 240 && rule_broken(bare, candidate, folder, checks, 60) == rule;
  });
  const auto fault = rule == "crash" || rule == "hang" ? std::nullopt : replay(bare, small, folder, checks);
  const std::string text = "# " + (fault ? fault->says : rule) + "\n" + script_text(small);
  std::ofstream(path) << text;
  std::printf("%s:\n%s\n", path.c_str(), text.c_str());
}

class Shard {
 public:
  explicit Shard(const Options& options) : options_(options) {
    for (const std::string& wall : wall_names())
      if (options.wall == "all" || options.wall == wall) walls_.push_back(wall);
  }

  // Sessions by turns on every wall until the shard's edits are made.
  int run() {
    if (walls_.empty()) throw std::runtime_error("there is no wall named " + options_.wall);
    const std::size_t target = (options_.edits + options_.shards - 1) / options_.shards;
    const std::size_t sessions = std::max(walls_.size(), (target + options_.session - 1) / options_.session);
    const std::size_t depths = (options_.depths + options_.shards - 1) / options_.shards;
    for (std::size_t k = 0; sum().made() < target && k < 4 * sessions; ++k) {
      Session session;
      session.wall = walls_[k % walls_.size()];
      session.seed = options_.seed * 1000003 + options_.shard_index * 10007 + k;
      session.edits = std::max<std::size_t>(1, std::min(options_.session, target));
      session.depths = (depths + sessions - 1) / sessions;
      start(session, k);
      while (running_.size() >= options_.jobs) wait_one();
    }
    while (!running_.empty()) wait_one();
    print();
    std::fflush(stdout);
    for (const std::string& folder : to_shrink_) shrink(folder);
    return faults_.empty() ? 0 : 1;
  }

 private:
  struct Running {
    Session session;
    std::string folder;
    double begin = 0;
  };

  void start(const Session& session, std::size_t k) {
    const std::string folder = fmt::format("{}/shard_{}_session_{}", options_.out, options_.shard_index, k);
    fs::remove_all(folder);
    fs::create_directories(folder);
    std::fflush(nullptr);
    const pid_t child = ::fork();
    if (child == 0) {
      int status = 1;
      try {
        status = session_here(session, folder);
      } catch (const std::exception& thrown) {
        std::ofstream(folder + "/fault.txt") << "thrown: " << thrown.what();
      }
      std::fflush(nullptr);
      ::_exit(status);
    }
    if (child < 0) throw std::runtime_error("no process for a session");
    running_[child] = {session, folder, now()};
  }

  void wait_one() {
    int status = 0;
    const pid_t child = ::wait(&status);
    const auto found = running_.find(child);
    if (found == running_.end()) return;
    const Running done = found->second;
    running_.erase(found);
    std::string broken = read_all(done.folder + "/fault.txt");
    if (!WIFEXITED(status)) broken = "crash: the session was ended by a signal";
    const std::string json = read_all(done.folder + "/tally.json");
    const Tally tally = json.empty() ? Tally{} : tally_from_json(json);
    of_wall_[done.session.wall] += tally;
    seconds_[done.session.wall] += now() - done.begin;
    std::fprintf(stderr, "%s seed %llu: %zu edits in %.1f s, %zu of the shard%s%s\n", done.session.wall.c_str(),
                 static_cast<unsigned long long>(done.session.seed), tally.made(), now() - done.begin, sum().made(),
                 broken.empty() ? "" : " BROKEN ", broken.c_str());
    if (broken.empty())
      fs::remove_all(done.folder);
    else
      keep(done, broken);
    save();
  }

  void keep(const Running& done, const std::string& broken) {
    faults_.push_back(fmt::format("{} seed {}: {}", done.session.wall, done.session.seed, broken));
    if (!options_.no_shrink && rule_of(broken) != "again") to_shrink_.push_back(done.folder);
  }

  static void shrink(const std::string& folder) {
    if (const auto script = read_script(read_all(folder + "/session.storm")))
      shrink_to(*script, folder, folder + "/small.storm");
  }

  Tally sum() const {
    Tally all;
    for (const auto& [wall, tally] : of_wall_) all += tally;
    return all;
  }

  void save() const {
    nlohmann::json json;
    for (const auto& [wall, tally] : of_wall_) {
      json["walls"][wall] = nlohmann::json::parse(tally_json(tally));
      json["walls"][wall]["seconds"] = seconds_.at(wall);
    }
    json["faults"] = faults_;
    std::ofstream(fmt::format("{}/shard_{}_of_{}.json", options_.out, options_.shard_index, options_.shards))
        << json.dump();
  }

  void print() const {
    std::printf("%-8s %8s %8s %7s %9s %9s %7s %7s %8s %8s %7s %7s\n", "wall", "edits", "refused", "missed", "clipped",
                "polygons", "depths", "again", "median B", "p95 B", "edit ms", "all ms");
    for (const auto& [wall, tally] : of_wall_) print_row(wall, tally, seconds_.at(wall));
    double seconds = 0;
    for (const auto& [wall, s] : seconds_) seconds += s;
    print_row("all", sum(), seconds);
    for (const std::string& fault : faults_) std::printf("BROKEN %s\n", fault.c_str());
    std::printf("%zu broken\n", faults_.size());
  }

  static void print_row(const std::string& name, Tally t, double seconds) {
    std::sort(t.step_bytes.begin(), t.step_bytes.end());
    const auto bytes = [&](double share) -> unsigned {
      if (t.step_bytes.empty()) return 0;
      return t.step_bytes[static_cast<std::size_t>(share * static_cast<double>(t.step_bytes.size() - 1))];
    };
    std::size_t missed = 0;
    for (const auto& kind : t.kinds) missed += kind.missed;
    const double tried = std::max(1.0, static_cast<double>(t.made() + t.refused()));
    std::printf("%-8s %8zu %8zu %7zu %9zu %9zu %7zu %7zu %8u %8u %7.2f %7.2f\n", name.c_str(), t.made(), t.refused(),
                missed, t.clipped, t.by_polygons, t.depths, t.again, bytes(0.5), bytes(0.95), 1e3 * t.edit_s / tried,
                1e3 * seconds / tried);
  }

  Options options_;
  std::vector<std::string> walls_;
  std::map<std::string, Tally> of_wall_;
  std::map<std::string, double> seconds_;
  std::map<pid_t, Running> running_;
  std::vector<std::string> faults_, to_shrink_;  // words; folders
};

int again(const std::string& folder) {
  const WorkerLimit one(1);
  std::size_t done = 0;
  const std::string differs = repeat_depths(folder, done);
  std::ofstream(folder + "/again.txt") << differs;
  if (!differs.empty()) std::printf("%s\n", differs.c_str());
  return differs.empty() ? 0 : 1;
}

int replay_file(const Options& options) {
  const auto script = read_script(read_all(options.replay));
  if (!script) throw std::runtime_error(script.problem().message());
  Checks every;
  every.rest_every = every.all_faces_every = every.faults_every = every.text_every = 1;
  const auto fault = replay(bare_in(script->wall, options.out), *script, options.out, every);
  if (!fault) return std::printf("nothing breaks in %zu edits\n", script->ops.size()), 0;
  const std::string op = fault->step < script->ops.size() ? op_text(script->ops[fault->step]) : "the end";
  std::printf("edit %zu: %s\n  at %s\n", fault->step + 1, fault->says.c_str(), op.c_str());
  return 1;
}

int shrink_file(const Options& options) {
  const auto script = read_script(read_all(options.shrink));
  if (!script) throw std::runtime_error(script.problem().message());
  shrink_to(*script, options.out, options.shrink + ".small");
  return 0;
}

int run(Options options) {
  options.out = fs::absolute(options.out).lexically_normal().string();
  if (!options.again.empty()) return again(options.again);
  if (!options.replay.empty()) return replay_file(options);
  if (!options.shrink.empty()) return shrink_file(options);
  fs::create_directories(options.out);
  return Shard(options).run();
}

}  // namespace

int main(int argc, char** argv) {
  Options options;
  CLI::App app("The great storm of edits");
  app.add_option("--edits", options.edits, "edits to be made in all shards together");
  app.add_option("--depths", options.depths, "depths repeated in fresh processes, in all shards together");
  app.add_option("--session", options.session, "edits of one session");
  app.add_option("--seed", options.seed);
  app.add_option("--wall", options.wall);
  app.add_option("--shard", options.shard, "I/N: the I-th of N, from 0");
  app.add_option("--jobs", options.jobs, "sessions at a time");
  app.add_option("--out", options.out);
  app.add_option("--replay", options.replay);
  app.add_option("--shrink", options.shrink);
  app.add_option("--again", options.again);
  app.add_flag("--no-shrink", options.no_shrink);
  CLI11_PARSE(app, argc, argv);
  try {
    const auto parts = split(options.shard, '/');
    options.shard_index = std::stoul(parts.at(0)), options.shards = std::max(1ul, std::stoul(parts.at(1)));
    return run(options);
  } catch (const std::exception& thrown) {
    std::fprintf(stderr, "%s\n", thrown.what());
    return 2;
  }
}
