// Parts and MIDI in the window: what comes in and what goes out.

#include "Base/FileBytes.h"
#include "Screen/Window.h"
#include "View/Words.h"

namespace valveladder {

void Window::buildPart() {
    part.onProblem = [this](const Problem& problem) { say(problem); };
    part.rules = [this] { return shownConfig.rules; };
    part.onDrill = [this](const Drill& drill, const TempoRules& from) {
        SessionConfig config = shownConfig;
        config.drill = drill;
        config.rules = from;
        take(std::move(config));
        goTo(Place::rung);
    };
    part.onMidi = [this](DawMidi what, const juce::File& folder) { return midiFor(what, folder); };
}

Result<juce::File> Window::midiFor(DawMidi what, const juce::File& folder) const {
    const auto view = owner.session().view();
    if (view == nullptr)
        return Problem{words::noDrillYet, words::midiWord, words::tryAgain};
    const auto file = dawMidi(what, *view->setup, owner.parameterSet().read().guide);
    if (!file)
        return file.problem();
    const juce::File target = folder.getChildFile(juce::String(dawMidiName(what)));
    const auto written = writeFileBytes(target.getFullPathName().toStdString(), writeSmf(file.value()));
    return written ? Result<juce::File>(target) : written.problem();
}

bool Window::isInterestedInFileDrag(const juce::StringArray& files) {
    return files.size() == 1 && PartPlace::opens(files[0]);
}

void Window::filesDropped(const juce::StringArray& files, int, int) {
    goTo(Place::part);
    part.open(files[0].toStdString());
}

} // namespace valveladder
