#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <new>

#include "editor/verbs/console.h"
#include "editor/verbs/verbs.h"

namespace pontata {

namespace {

bool is_verb(const std::string& word) {
  const auto verbs = all_verbs();
  return std::any_of(verbs.begin(), verbs.end(), [&](const Verb& v) { return word == v.name; });
}

// A lone word that is no verb opens the window when it can be a file: it is there, or it looks like a path.
bool is_project(const std::string& word) {
  std::error_code ignored;
  return word.find_first_of("./") != std::string::npos || std::filesystem::exists(word, ignored);
}

// `pontata [PROJECT]` means `pontata edit [PROJECT]`.
std::vector<std::string> with_verb(std::vector<std::string> arguments) {
  const bool lone_project = arguments.size() == 1 && !arguments[0].empty() && arguments[0].front() != '-' &&
                            !is_verb(arguments[0]) && is_project(arguments[0]);
  if (is_verb("edit") && (arguments.empty() || lone_project)) arguments.insert(arguments.begin(), "edit");
  return arguments;
}

int parse_and_run(CLI::App& app, const std::vector<std::string>& arguments) {
  std::vector<VerbTask> tasks;
  std::vector<CLI::App*> commands;
  for (const Verb& verb : all_verbs()) {
    commands.push_back(app.add_subcommand(verb.name, verb.summary));
    Usage usage(*commands.back());
    tasks.push_back(verb.declare(usage));
  }
  std::vector<std::string> reversed(arguments.rbegin(), arguments.rend());
  app.parse(std::move(reversed));
  for (std::size_t i = 0; i < commands.size(); ++i)
    if (commands[i]->parsed()) return tasks[i]();
  return wrong_usage("", "no verb given");
}

std::string chosen_verb(const std::vector<std::string>& arguments) {
  return !arguments.empty() && is_verb(arguments[0]) ? arguments[0] : "";
}

int run(const std::vector<std::string>& arguments) {
  CLI::App app{
      "Pontata plans and prints the day-patches (giornate) of a true fresco.\n"
      "Lengths take a unit (4.2m, 15mm); a bare number is metres.",
      "pontata"};
  app.set_version_flag("--version", "pontata " PONTATA_VERSION);
  app.require_subcommand(1);
  if (!arguments.empty() && !arguments[0].empty() && arguments[0].front() != '-' && !is_verb(arguments[0]))
    return wrong_usage("", "unknown verb \"" + arguments[0] + "\"");
  if (!arguments.empty() && arguments[0].empty()) return wrong_usage("", "empty verb");
  if (arguments.empty()) return wrong_usage("", "no verb given");
  try {
    return parse_and_run(app, arguments);
  } catch (const CLI::CallForHelp&) {
    const std::string verb = chosen_verb(arguments);
    print(verb.empty() ? app.help() : app.get_subcommand(verb)->help("pontata"));
    return kExitDone;
  } catch (const CLI::CallForVersion& version) {
    print(std::string(version.what()) + "\n");
    return kExitDone;
  } catch (const CLI::ParseError& error) {
    return wrong_usage(chosen_verb(arguments), error.what());
  }
}

}  // namespace

int run_command_line(const std::vector<std::string>& arguments) {
  try {
    return finish_output(run(with_verb(arguments)));
  } catch (const std::bad_alloc&) {
    return fail({"there is not enough memory for this", "", "Close other programs, or use a smaller scan or picture."},
                "");
  } catch (const std::exception& fault) {
    return fail(
        {std::string("a fault in the program itself: ") + fault.what(), "", "Nothing was written. Please report it."},
        "");
  }
}

}  // namespace pontata
