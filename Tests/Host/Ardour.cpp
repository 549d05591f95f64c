#include "Host/Ardour.h"

#include "Files/Smf.h"
#include "Host/Program.h"
#include "Host/Tapped.h"

#include <algorithm>
#include <cstdlib>
#include <fmt/format.h>
#include <fstream>
#include <sstream>

namespace valveladder::host {

namespace fs = std::filesystem;

namespace {

constexpr const char* libraries = "/usr/lib/ardour7";

} // namespace

bool installed(const std::string& program) {
    return std::system(("command -v " + program + " > /dev/null 2>&1").c_str()) == 0;
}

std::string readText(const fs::path& path) {
    std::ifstream file(path);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

std::vector<RecordedNote> recordedNotes(const fs::path& path, int channel) {
    std::vector<RecordedNote> notes;
    const auto file = readSmfFile(path);
    if (!file.ok())
        return notes;
    const double ticks = file.value().ticksPerQuarterNote;
    for (const SmfTrack& track : file.value().tracks)
        for (const SmfEvent& event : track.events) {
            const double quarter = static_cast<double>(event.tick) / ticks;
            if (event.bytes.size() != 3 || (event.bytes[0] & 0x0F) != channel - 1)
                continue;
            const int kind = event.bytes[0] & 0xF0;
            if (kind == 0x90 && event.bytes[2] > 0) {
                notes.push_back({quarter, -1.0, event.bytes[1], event.bytes[2]});
            } else if (kind == 0x80 || kind == 0x90) {
                const auto open = std::find_if(notes.rbegin(), notes.rend(), [&](const RecordedNote& note) {
                    return note.quarters < 0.0 && note.pitch == event.bytes[1];
                });
                if (open != notes.rend())
                    open->quarters = quarter - open->quarter;
            }
        }
    return notes;
}

std::vector<fs::path> recordings(const fs::path& session, const std::string& part) {
    std::vector<fs::path> found;
    for (const auto& entry : fs::recursive_directory_iterator(session))
        if (entry.path().extension() == ".mid" &&
            entry.path().filename().string().find(part) != std::string::npos)
            found.push_back(entry.path());
    std::sort(found.begin(), found.end());
    return found;
}

Ardour::Ardour(fs::path folder) : place(std::move(folder)) {
    fs::create_directories(place);
}

std::string Ardour::missing(Format format) {
    if (!sanitizerEnvironment().empty())
        return "with the sanitizer in it Ardour waits for ever as it ends: the real host was not tried";
    if (!installed("ardour7-lua"))
        return "ardour7-lua is not installed (Debian package ardour): the real host was not tried";
    if (!fs::exists(builtPlugin(format)))
        return "this build has no " + builtPlugin(format).string() + ": the real host was not tried";
    if (format == Format::vst3 && !fs::exists(fs::path(libraries) / "ardour-vst3-scanner"))
        return "this Ardour cannot scan VST3: the real host was not tried";
    return "";
}

std::string Ardour::environment() const {
    return fmt::format(
        "HOME='{0}' XDG_CONFIG_HOME='{0}/config' XDG_CACHE_HOME='{0}/cache' "
        "VALVE_LADDER_LOG='{0}/log.sqlite' VALVE_LADDER_SESSION='{0}/session' LV2_PATH='{1}:{2}' ",
        place.string(), builtPlugin(Format::lv2).parent_path().string(), tapFolder().string());
}

bool Ardour::knows(Format format, std::string& words) const {
    if (format == Format::lv2)
        return true;
    fs::create_directories(place / ".vst3");
    const fs::path link = place / ".vst3" / builtPlugin(format).filename();
    if (!fs::exists(link))
        fs::create_directory_symlink(builtPlugin(format), link);
    const fs::path output = place / "scan.txt";
    const int status =
        std::system(fmt::format("{0} LD_LIBRARY_PATH={1} {1}/ardour-vst3-scanner -f '{2}' > '{3}' 2>&1",
                                environment(), libraries, link.string(), output.string())
                        .c_str());
    words = readText(output);
    return status == 0;
}

bool Ardour::play(Format format, std::vector<std::string> variables, std::string& said) const {
    if (!knows(format, said))
        return false;
    const bool lv2 = format == Format::lv2;
    variables.push_back(
        fmt::format("VALVE_LADDER_PLUGIN='{}'", lv2 ? "urn:valveladder:valve-ladder" : "Valve Ladder"));
    variables.push_back(fmt::format("VALVE_LADDER_FORMAT={}", lv2 ? "LV2" : "VST3"));
    return run(variables, said);
}

bool Ardour::run(const std::vector<std::string>& variables, std::string& said) const {
    const fs::path output = place / "ardour.txt";
    std::string command = environment();
    for (const std::string& variable : variables)
        command += variable + " ";
    command += fmt::format("timeout 600 ardour7-lua < '{}/ardour_matrix.lua' > '{}' 2>&1",
                           VALVE_LADDER_HOST_TESTS, output.string());
    const int status = std::system(command.c_str());
    said = readText(output);
    return status == 0 && said.find("DONE") != std::string::npos;
}

} // namespace valveladder::host
