#include "editor/verbs/console.h"

#include <fmt/format.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <mutex>

namespace pontata {

namespace {

// One line whatever the text holds: a file name may carry a line break.
std::string one_line(std::string text) {
  for (char& c : text)
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = ' ';
  return text;
}

void print_error(const std::string& text) {
  clear_progress();
  const std::string line = one_line(text) + "\n";
  std::fwrite(line.data(), 1, line.size(), stderr);
}

// The text of the progress line now on a terminal; empty when there is none.
struct ProgressLine {
  std::mutex lock;
  std::string shown;
  std::chrono::steady_clock::time_point last{};
};
ProgressLine& progress_line() {
  static ProgressLine line;
  return line;
}

void show_progress(double fraction, std::string_view what, bool terminal) {
  auto& line = progress_line();
  const std::scoped_lock guard(line.lock);
  const auto now = std::chrono::steady_clock::now();
  if (now - line.last < std::chrono::milliseconds(100)) return;
  line.last = now;
  const std::string text = one_line(fmt::format("{:3.0f} % {}", 100 * fraction, what));
  if (text == line.shown) return;
  line.shown = text;
  if (terminal)
    std::fputs(("\r\033[K" + text).c_str(), stderr);
  else
    std::fputs((text + "\n").c_str(), stderr);
}

}  // namespace

int fail(const Problem& problem, const std::string& file) {
  Problem told = problem;
  if (told.where.empty())
    told.where = file;
  else if (!file.empty() && told.where.find(file) == std::string::npos && told.what.find(file) == std::string::npos)
    told.where = file + ": " + told.where;
  print_error("pontata: " + told.message());
  return kExitFailed;
}

int wrong_usage(std::string_view verb, const std::string& text) {
  const std::string name = verb.empty() ? "pontata" : "pontata " + std::string(verb);
  print_error(fmt::format("{}: {} (see {} --help)", name, text, name));
  return kExitWrongUsage;
}

void print(std::string_view text) {
  clear_progress();
  std::fwrite(text.data(), 1, text.size(), stdout);
}

void note(std::string_view text) { print_error("note: " + std::string(text)); }

int finish_output(int status) {
  clear_progress();
  if (std::fflush(stdout) == 0 && std::ferror(stdout) == 0) return status;
  print_error("pontata: standard output: could not be written. Is the disk full?");
  return status == kExitDone ? kExitFailed : status;
}

std::unique_ptr<Progress> console_progress(bool always) {
  const bool terminal = isatty(STDERR_FILENO) == 1;
  auto progress = std::make_unique<Progress>();
  if (terminal || always)
    progress->report = [terminal](double fraction, std::string_view what) { show_progress(fraction, what, terminal); };
  return progress;
}

void clear_progress() {
  auto& line = progress_line();
  const std::scoped_lock guard(line.lock);
  if (line.shown.empty()) return;
  line.shown.clear();
  if (isatty(STDERR_FILENO) == 1) std::fputs("\r\033[K", stderr);
}

}  // namespace pontata
