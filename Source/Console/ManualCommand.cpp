#include "Base/Version.h"
#include "Console/Commands.h"
#include "Console/ManualPage.h"

namespace valveladder::console {

void addManual(CLI::App& app, Tool& tool) {
    CLI::App* sub =
        app.add_subcommand("manual", "The manual page: every command and option\n\nIn roff, as 'man' "
                                     "reads it.");
    sub->footer("Example:\n  valve-ladder manual | man -l -");
    // The page tells of every command, so it is made once all are there.
    sub->callback([&app, &tool] {
        tool.job = [&app, &tool]() -> Result<Done> {
            tool.printBytes(manualPage(commandText(app), std::string(programVersion())));
            return Done{};
        };
    });
}

} // namespace valveladder::console
