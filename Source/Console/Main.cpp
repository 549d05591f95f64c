#include "Base/System.h"
#include "Base/Version.h"
#include "Console/CommandLine.h"
#include "Console/Commands.h"
#include "Console/Help.h"

#include <algorithm>
#include <cstdio>
#include <exception>
#include <memory>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

namespace valveladder::console {

namespace {

constexpr const char* description =
    "Valve Ladder without a window: chromatic drills for valved brass, their guides\n"
    "as MIDI files, takes heard and measured, the plan for the next tempo, what is\n"
    "weak and what to practise next.";

constexpr const char* footer = R"(A session, from the first step to the last:
  valve-ladder drill show
      what the daily drill holds
  valve-ladder guide -o guide.mid --bpm 60
      its guide, to play along with
  valve-ladder assess take.mid --keep --player Ann
      hear what was played, and keep it
  valve-ladder plan --player Ann
      the tempo of the next take
  valve-ladder findings --player Ann
      which change or finger is weak, and how sure that is
  valve-ladder next --player Ann --minutes 15 -o next.json
      what to practise next, as a drill to load
'valve-ladder COMMAND --help' shows a command's options, with examples.

Exit codes: 0 done; 1 a problem, told on standard error with what, where and
what to do; 2 wrong use of options. With --json both streams carry JSON.

Rest as long as you play. Stop when hand, wrist or lips hurt; where it lasts, a
teacher or clinician should see it. Loud practice asks for hearing protection by
your local rules.)";

bool writeAll(std::FILE* stream, const std::string& bytes) {
    return std::fwrite(bytes.data(), 1, bytes.size(), stream) == bytes.size() && std::fflush(stream) == 0;
}

void tell(const Tool& tool, const Problem& problem) {
    std::string line = "valve-ladder: " + oneLine(problem.text()) + "\n";
    if (tool.json) {
        const Json json{
            {"problem", {{"what", problem.what}, {"where", problem.where}, {"remedy", problem.remedy}}}};
        line = json.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
    }
    static_cast<void>(writeAll(stderr, line)); // nowhere left to say it
}

/// Runs the job and writes what it printed.
Exit perform(const Tool& tool) {
    const Result<Done> done = tool.job();
    if (!done) {
        tell(tool, done.problem());
        return Exit::problem;
    }
    if (!writeAll(stdout, tool.printed())) {
        tell(tool, {"the output cannot be written in full", "standard output",
                    "Free space on the disk, or send the output elsewhere"});
        return Exit::problem;
    }
    for (const std::string& line : tool.warned())
        static_cast<void>(writeAll(stderr, "valve-ladder: " + oneLine(line) + "\n"));
    return Exit::done;
}

void nameGroups(CLI::App& app) {
    for (CLI::App* sub : app.get_subcommands({})) {
        sub->group("Commands");
        nameGroups(*sub);
    }
}

Exit answer(const CLI::App& app, Tool& tool, const CLI::ParseError& error) {
    if (error.get_exit_code() != static_cast<int>(CLI::ExitCodes::Success)) {
        tell(tool, wrongUse(app, error));
        return Exit::wrongUse;
    }
    tool.job = [&]() -> Result<Done> {
        // Help and version come as errors whose texts the library prints itself.
        std::ostringstream text;
        app.exit(error, text, text);
        tool.printText(text.str());
        return Done{};
    };
    return perform(tool);
}

Exit run(std::vector<std::string> words) {
    CLI::App app{description, "valve-ladder"};
    Tool tool;
    // Read ahead, so that a command line that cannot be understood is answered in JSON as well.
    tool.json = std::ranges::find(words, "--json") != words.end();
    app.formatter(std::make_shared<HelpFormatter>());
    app.fallthrough();
    app.allow_windows_style_options(false); // the same words everywhere
    app.require_subcommand(1);
    app.set_help_flag("-h,--help", "This help");
    app.set_version_flag("--version", "valve-ladder " + std::string(programVersion()), "The version");
    app.add_flag("--json", tool.json, "JSON for programs instead of text");
    for (const AddCommand add : commands)
        add(app, tool);
    nameGroups(app);
    app.footer(footer); // last: commands would inherit it
    try {
        std::ranges::reverse(words); // the parser takes them from the back
        app.parse(std::move(words));
        refuseEmptyValues(app, tool);
    } catch (const CLI::ParseError& error) {
        return answer(app, tool, error);
    }
    tool.given = valuesGiven(app);
    return perform(tool);
}

} // namespace

} // namespace valveladder::console

int main(int argc, char** argv) {
    using valveladder::console::Exit;
    try {
        return static_cast<int>(valveladder::console::run(valveladder::programArguments(argc, argv)));
    } catch (const std::exception& error) {
        std::fprintf(stderr, "valve-ladder: %s. This should not happen: please report it\n", error.what());
        return static_cast<int>(Exit::problem);
    }
}
