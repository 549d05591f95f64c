// Parts and MIDI in the window: what comes in and what goes out.

#include "Base/FileBytes.h"
#include "Base/Path.h"
#include "Screen/Window.h"
#include "View/Words.h"

namespace valveladder {

namespace {

constexpr const char* drillEnding = ".json";
const juce::String ours = juce::String(drillEnding) + ";" + Shelf::extension;

/// MIDI of the drill as a file in the folder.
Result<juce::File> midiFor(Processor& plugin, DawMidi what, const juce::File& folder) {
    const auto view = plugin.session().view();
    if (view == nullptr)
        return Problem{words::noDrillYet, words::midiWord, words::tryAgain};
    const auto file = dawMidi(what, *view->setup, plugin.parameterSet().read().guide);
    if (!file)
        return file.problem();
    const juce::File target = folder.getChildFile(juce::String(dawMidiName(what)));
    const auto written =
        writeFileBytes(pathOf(target.getFullPathName().toStdString()), writeSmf(file.value()));
    return written ? Result<juce::File>(target) : written.problem();
}

} // namespace

void Window::buildPart() {
    part.onProblem = [this](const Problem& problem) { messages.say(problem); };
    part.rules = [this] { return changes.shown().rules; };
    part.onDrill = [this](const Drill& drill, const TempoRules& from) {
        takeDrill(insteadOfDaily(drill, from, changes.shown()));
    };
    part.onMidi = [this](DawMidi what, const juce::File& folder) { return midiFor(owner, what, folder); };
}

bool Window::isInterestedInFileDrag(const juce::StringArray& files) {
    return files.size() == 1 && (PartPlace::opens(files[0]) || juce::File(files[0]).hasFileExtension(ours));
}

void Window::filesDropped(const juce::StringArray& files, int, int) {
    const juce::File file(files[0]);
    if (file.hasFileExtension(Shelf::extension)) {
        kept.read(file);
    } else if (file.hasFileExtension(drillEnding)) {
        setup.panel().readDrillFile(file);
    } else {
        goTo(Place::part);
        part.open(pathOf(files[0].toStdString()));
    }
}

} // namespace valveladder
