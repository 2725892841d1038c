// A cartoon of many giornate: seconds of processor time, peak memory, sheets, size of the files, and how soon a
// cancelled print stops. bench_cartoon [PAPER [FORMAT [SIDE...]]]: A3, pdf and 5 10 where not given; a SIDE of 10 is 10
// x 10 giornate of about 0.8 m2 each. Each row is a process of its own, on a flat wall and on a dome of 6 m radius with
// one picture of 4096 x 4096 pixels. Memory is the greatest resident set while printing, beside what wall, seams and
// picture took before.
#define CATCH_CONFIG_RUNNER  // the fixtures complain through it
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <catch2/catch.hpp>
#include <chrono>
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <thread>

#include "busy_picture.h"
#include "tests/cartoon/reader.h"
#include "tests/fixtures/cartoons.h"

using namespace pontata;
using namespace pontata::fixtures;

namespace {

// Processor time of this process, s.
double used() {
  timespec t{};
  ::clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

// MB of the line that begins so, as Linux tells them (proc(5)).
double status_mb(const std::string& name) {
  std::ifstream in("/proc/self/status");
  for (std::string line; std::getline(in, line);)
    if (line.starts_with(name)) return std::strtod(line.c_str() + name.size(), nullptr) / 1024;
  return 0;
}
void forget_peak() { std::ofstream("/proc/self/clear_refs") << 5; }

layouts::Layout grid(bool dome, int side) {
  constexpr double kBox = 0.9;
  const double extent = dome ? 3.141592653589793 * 6 : side * kBox + 0.4;
  auto l = layouts::on(dome ? layouts::dome(12, 6) : layouts::flat(extent, extent), dome ? 0.002 : 0);
  const double start = 0.5 * (l.wall->chart->box().width - side * kBox);
  for (int y = 0; y < side; ++y)
    for (int x = 0; x < side; ++x)
      layouts::add_box(l, start + x * kBox, start + y * kBox, start + (x + 1) * kBox, start + (y + 1) * kBox);
  return l;
}

CartoonFormat format_of(const std::string& name) {
  return name == "svg" ? CartoonFormat::svg : name == "dxf" ? CartoonFormat::dxf : CartoonFormat::pdf;
}

// The longest of several waits from asking to stop until it has stopped, asked at times spread over the whole print.
double slowest_stop(const CartoonInput& input, const CartoonOptions& options, const std::string& folder, double whole) {
  double worst = 0;
  for (const double share : {0.02, 0.35, 0.5, 0.71, 0.93, 0.97}) {
    Progress progress;
    const double start = used();
    std::atomic<bool> over = false;
    double asked = 0;
    std::thread other([&] {
      while (!over && used() - start < share * whole) std::this_thread::sleep_for(std::chrono::milliseconds(2));
      asked = used();
      progress.cancelled = true;
    });
    const bool finished = write_cartoon(input, folder, options, &progress).ok();
    const double stopped = used();
    over = true;
    other.join();
    if (!finished) worst = std::max(worst, stopped - asked);
  }
  return worst;
}

void row(bool dome, int side, const std::string& paper, const std::string& format) {
  const auto layout = grid(dome, side);
  const auto input = cartoon_input(layout, std::make_shared<Image>(bench::busy_picture(4096)));
  CartoonOptions options{*paper_named(paper)};
  options.format = format_of(format);
  const TempFolder folder;
  forget_peak();
  const double before = status_mb("VmHWM:");
  const double start = used();
  const auto report = write_cartoon(input, folder.file("out"), options);
  const double seconds = used() - start, peak = status_mb("VmHWM:");
  if (!report) std::printf("%s\n", report.problem().message().c_str());
  if (!report) return;
  double bytes = 0;
  for (const auto& file : report->files) bytes += static_cast<double>(std::filesystem::file_size(file));
  const double stop = slowest_stop(input, options, folder.file("stopped"), side > 5 ? 0.1 * seconds : seconds);
  std::printf("%-5s %4d %8.1f %8.0f %8.0f %7d %9.1f %8.2f\n", dome ? "dome" : "flat", side * side, seconds, before,
              peak - before, report->sheets, bytes / 1e6, stop);
}

}  // namespace

int main(int count, char** given) {
  const std::string paper = count > 1 ? given[1] : "A3", format = count > 2 ? given[2] : "pdf";
  std::vector<int> sides;
  for (int i = 3; i < count; ++i) sides.push_back(std::max(1, std::atoi(given[i])));
  if (sides.empty()) sides = {5, 10};
  std::printf("%s, %s\nwall  giornate seconds  MB before  MB more  sheets   MB files  stop s\n", paper.c_str(),
              format.c_str());
  std::fflush(stdout);
  for (const bool dome : {false, true})
    for (const int side : sides) {
      const pid_t child = ::fork();
      if (child == 0) {
        row(dome, side, paper, format);
        std::fflush(stdout);
        ::_exit(0);
      }
      ::waitpid(child, nullptr, 0);
    }
}
