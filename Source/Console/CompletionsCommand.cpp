#include "Console/Commands.h"
#include "Console/Completions.h"
#include "Console/Options.h"

#include <memory>
#include <optional>

namespace valveladder::console {

namespace {

using Write = std::string (*)(const CommandText& program);

} // namespace

void addCompletions(CLI::App& app, Tool& tool) {
    CLI::App* sub = app.add_subcommand(
        "completions", "What a shell offers on Tab\n\nPrints the file that makes bash, zsh or fish complete "
                       "commands, options and "
                       "their words. An installed Valve Ladder has put it where the shells look.");
    const auto write = std::make_shared<std::optional<Write>>();
    addChoice(*sub, "shell", *write,
              {{"bash", bashCompletions}, {"zsh", zshCompletions}, {"fish", fishCompletions}}, "The shell")
        ->option_text("")
        ->required();
    sub->footer("Example:\n"
                "  valve-ladder completions fish > valve-ladder.fish");
    // They tell of every command, so they are made once all are there.
    sub->callback([&app, &tool, write] {
        tool.job = [&app, &tool, write]() -> Result<Done> {
            tool.printBytes((**write)(commandText(app)));
            return Done{};
        };
    });
}

} // namespace valveladder::console
