#include "Base/Path.h"
#include "Base/System.h"
#include "Demo/DemoSession.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdio>
#include <fmt/format.h>
#include <juce_events/juce_events.h>
#include <string>
#include <utility>
#include <vector>

namespace {

void tell(const valveladder::DemoReport& report, const valveladder::DemoOptions& options) {
    const auto folder = std::filesystem::absolute(options.folder).lexically_normal();
    const auto plugin = std::filesystem::absolute(options.plugin).lexically_normal();
    fmt::print("\nIn {}:\n"
               "  log.sqlite          the practice log, with the rules of its plan\n"
               "  take.svg            the last take drawn: every note, every change\n"
               "  practice-sheet.pdf  the drill engraved with its fingerings, to print\n"
               "  findings.txt        what was found, and the next session\n"
               "  guide.mid           the guide at the next take's tempo\n"
               "  tempo-map.mid       the session's stepped tempos, for a host's tempo track\n"
               "  session.mid         all takes laid end to end with their guide\n"
               "  report.txt          the report below\n"
               "  sound               the take that was heard by sound, as FLAC\n",
               valveladder::pathText(folder));
    fmt::print(
        "\nThe plugin lies in {}\n"
        "To load it in a DAW: copy that folder to where your DAW looks for VST3 plugins (on Linux ~/.vst3, "
        "on\n"
        "macOS ~/Library/Audio/Plug-Ins/VST3, on Windows C:\\Program Files\\Common Files\\VST3), scan for\n"
        "plugins, put it on a track that carries your microphone or MIDI instrument, and route the track's\n"
        "MIDI output to any instrument that is to play the guide.\n",
        valveladder::pathText(plugin));
    fmt::print("\n{}", valveladder::reportText(report));
}

} // namespace

int main(int argc, char** argv) {
    valveladder::DemoOptions options;
    CLI::App app{"Plays a short invented practice session through the built plugin, without a window."};
    app.add_option_function<std::string>(
           "--plugin", [&](const std::string& text) { options.plugin = valveladder::pathOf(text); },
           "The built VST3 (a folder)")
        ->required();
    app.add_option_function<std::string>(
           "--out", [&](const std::string& text) { options.folder = valveladder::pathOf(text); },
           "Folder for log, guide, tempo map and report")
        ->required();
    app.add_option("--seed", options.seed, "Seed of the invented player")->capture_default_str();
    app.add_option("--takes", options.takes, "How many takes")
        ->check(CLI::Range(1, 100))
        ->capture_default_str();
    std::vector<std::string> words = valveladder::programArguments(argc, argv);
    std::ranges::reverse(words); // the parser takes them from the back
    try {
        app.parse(std::move(words));
    } catch (const CLI::ParseError& error) {
        return app.exit(error);
    }

    const juce::ScopedJuceInitialiser_GUI juceLife;
    const auto report = valveladder::playDemo(options);
    if (!report) {
        std::fputs((report.problem().text() + "\n").c_str(), stderr);
        return 1;
    }
    tell(report.value(), options);
    return 0;
}
