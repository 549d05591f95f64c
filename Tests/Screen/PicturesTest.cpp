#include "Screen/Look.h"
#include "Screen/RungPlace.h"
#include "Screen/Snapshot.h"

#include <gtest/gtest.h>

namespace valveladder {

namespace {

SessionView viewOf(const char* instrument) {
    SessionConfig config;
    config.instrument = *findInstrument(instrument);
    config.drill = defaultDrill(config.instrument);
    SessionView view;
    PlannedTempo planned;
    planned.bpm = 66;
    view.setup = makeSetup(config, planned).value();
    view.clock = Clock::own;
    view.playing = true;
    view.bpm = 66;
    view.inTake = true;
    return view;
}

void shoot(juce::Component& place, const std::string& name, int width, int height) {
    for (const Theme* theme : {&Theme::dark(), &Theme::light()}) {
        Look look(*theme);
        juce::Component stage;
        stage.setOpaque(true);
        stage.setLookAndFeel(&look);
        stage.setSize(width, height);
        stage.addAndMakeVisible(place);
        place.setBounds(stage.getLocalBounds());
        for (const float scale : {1.0F, 2.0F})
            pictures::save(pictures::render(place, scale),
                           name + (theme->isDark ? "-dark-" : "-light-") + std::to_string(static_cast<int>(scale)) + "x");
        stage.removeChildComponent(&place);
        stage.setLookAndFeel(nullptr);
    }
}

} // namespace

TEST(ScreenPictures, Rung) {
    for (const char* id : {"trumpet-b-flat", "euphonium-4-compensating-bass", "tuba-b-flat-4"}) {
        const SessionView view = viewOf(id);
        const auto& notes = view.setup->score().notes;
        for (std::size_t note : {0UL, 3UL, 9UL, 20UL}) {
            ClockReading clock;
            clock.playing = true;
            clock.ppq = static_cast<double>(notes[note].onset + 600) / ticksPerQuarter;
            if (note == 20)
                clock.ppq += 0.9;
            RungPlace place;
            place.setSize(1280, 700);
            place.show(playModel(view, clock, true, InputSeen::something, note == 0), {});
            shoot(place, std::string("rung-") + id + "-" + std::to_string(note), 1280, 700);
        }
    }
}

} // namespace valveladder
