// What the place "while playing" costs on the software renderer: the whole view, and one frame while the
// position moves. A frame must stay under 8 ms; at 60 frames a second its time x 60 is the share of a core.

#include "Screen/Look.h"
#include "Screen/RungPlace.h"
#include "Session/SessionSetup.h"

#include <benchmark/benchmark.h>

namespace valveladder {

namespace {

constexpr int width = 1280;
constexpr int height = 684;
constexpr double frameHz = 60.0;

struct Stage {
    Look look;
    juce::Component parent;
    RungPlace place;
    SessionView view;

    Stage() {
        SessionConfig config;
        PlannedTempo planned;
        planned.bpm = 66;
        view.setup = makeSetup(config, planned).value();
        view.clock = Clock::own;
        view.playing = true;
        view.bpm = 66;
        parent.setLookAndFeel(&look);
        parent.addAndMakeVisible(place);
        parent.setSize(width, height);
        place.setBounds(0, 0, width, height);
        moveTo(5.0);
    }
    ~Stage() { parent.setLookAndFeel(nullptr); }

    void moveTo(double quarters) {
        ClockReading clock;
        clock.playing = true;
        clock.ppq = quarters;
        place.show(playModel(view, clock, true, InputSeen::something), {});
    }
};

void paintInto(juce::Image& image, juce::Component& component, float scale, juce::Rectangle<int> area) {
    juce::Graphics g(image);
    g.addTransform(juce::AffineTransform::scale(scale));
    g.reduceClipRegion(area);
    component.paintEntireComponent(g, true);
}

void screenWholeView(benchmark::State& state) {
    const auto scale = static_cast<float>(state.range(0));
    Stage stage;
    juce::Image image(juce::Image::RGB, static_cast<int>(width * scale), static_cast<int>(height * scale),
                      true, juce::SoftwareImageType());
    for (auto _ : state)
        paintInto(image, stage.place, scale, stage.place.getLocalBounds());
    state.counters["ms"] = benchmark::Counter(static_cast<double>(state.iterations()) / 1000.0,
                                              benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}

/// The strip that the position leaves and enters; the model is worked out in each frame as the window does.
void screenFrameWhilePlaying(benchmark::State& state) {
    const auto scale = static_cast<float>(state.range(0));
    Stage stage;
    juce::Image image(juce::Image::RGB, static_cast<int>(width * scale), static_cast<int>(height * scale),
                      true, juce::SoftwareImageType());
    paintInto(image, stage.place, scale, stage.place.getLocalBounds());
    double quarters = 4.0;
    for (auto _ : state) {
        quarters = quarters > 7.4 ? 4.0 : quarters + 66.0 / 60.0 / frameHz;
        stage.moveTo(quarters);
        const int x = static_cast<int>(quarters / 8.0 * width);
        paintInto(image, stage.place, scale, {x - 16, 0, 32, height});
    }
    state.counters["share_of_core_at_60_Hz"] =
        benchmark::Counter(static_cast<double>(state.iterations()) / frameHz,
                           benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}

BENCHMARK(screenWholeView)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond);
BENCHMARK(screenFrameWhilePlaying)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond);

} // namespace

} // namespace valveladder
