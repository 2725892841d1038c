// How verbs speak: data on stdout, progress and messages on stderr, one line for a failure.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "engine/base/progress.h"
#include "engine/base/result.h"

namespace pontata {

inline constexpr int kExitDone = 0, kExitFailed = 1, kExitWrongUsage = 2;

// "pontata: <file>: what. remedy" on stderr in one line; returns kExitFailed. `file` is put in front where the problem
// does not name it.
int fail(const Problem& problem, const std::string& file);
// "pontata VERB: text" on stderr; returns kExitWrongUsage.
int wrong_usage(std::string_view verb, const std::string& text);

void print(std::string_view text);  // stdout, as it is
void note(std::string_view text);   // stderr, "note: ..."
int finish_output(int status);      // flushes stdout; kExitFailed with a line when that could not be written

// Progress on stderr: shown when stderr is a terminal or `always`.
std::unique_ptr<Progress> console_progress(bool always);
void clear_progress();  // takes the progress line away before something else is printed

}  // namespace pontata
