#include "Screen/PlayStrip.h"

#include "Screen/Theme.h"
#include "View/Words.h"

#include <array>

namespace valveladder {

namespace {

constexpr std::array<int, 4> speeds{100, 75, 50, 25}; ///< per cent

} // namespace

PlayStrip::PlayStrip() {
    setTitle(words::keptSoundTitle);
    for (const int percent : speeds)
        speed.addItem(juce::String(percent) + " %", percent);
    speed.setSelectedId(speeds.front(), juce::dontSendNotification);
    speed.setTitle(words::playSpeed);
    speed.setTooltip(words::playSpeedHelp);
    play.setTooltip(words::playKeptHelp);
    speed.setWantsKeyboardFocus(true);
    speed.onChange = [this] {
        if (running && onPlay)
            onPlay();
    };
    play.setWantsKeyboardFocus(true);
    play.onClick = [this] { toggle(); };
    state.setJustificationType(juce::Justification::topLeft);
    state.setMinimumHorizontalScale(1.0F);
    state.setBorderSize({});
    for (juce::Component* part : std::initializer_list<juce::Component*>{&play, &speed, &state})
        addAndMakeVisible(part);
    show(words::playHelp, false);
}

void PlayStrip::offer(bool something) {
    play.setEnabled(something);
    speed.setEnabled(something);
}

void PlayStrip::toggle() {
    if (!play.isEnabled())
        return;
    if (running && onStop)
        onStop();
    else if (!running && onPlay)
        onPlay();
}

void PlayStrip::show(const juce::String& text, bool playing) {
    running = playing;
    play.setButtonText(playing ? words::stopPlayingKey : words::playKey);
    play.setTitle(playing ? words::stopPlaying : words::playWord);
    state.setText(text, juce::dontSendNotification);
    state.setTitle(words::keptSoundTitle);
}

double PlayStrip::slowness() const {
    return 100.0 / speed.getSelectedId();
}

void PlayStrip::resized() {
    auto area = getLocalBounds();
    auto row = area.removeFromTop(grid::control);
    speed.setBounds(row.removeFromRight(88));
    row.removeFromRight(grid::unit);
    play.setBounds(row);
    area.removeFromTop(grid::unit);
    state.setBounds(area);
}

} // namespace valveladder
