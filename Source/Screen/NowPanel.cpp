#include "Screen/NowPanel.h"

#include "Screen/Style.h"
#include "Screen/Words.h"

namespace valveladder {

namespace {

juce::String toText(const std::string& text) {
    return juce::String::fromUTF8(text.c_str());
}

} // namespace

NowPanel::NowPanel() {
    setTitle("Now playing");
    setDescription("Rung, segment, combination now and next, tempo and take");
}

void NowPanel::show(std::shared_ptr<const SessionView> view, const ClockView& clock, bool repeat) {
    Picture next;
    const Score& score = view->setup->score();
    next.tempo = words::tempoLine(*view);
    next.clock = words::clockLine(*view);
    next.take = words::takeState(*view);
    next.mismatch = view->mismatch;
    next.note = 0;
    if (clock.playing.load()) {
        GuideSettings guide;
        guide.startPpq = clock.startPpq.load();
        guide.repeat = repeat;
        const DrillPosition position = drillPosition(score, guide, clock.ppq.load());
        next.inside = position.inside;
        if (position.inside) {
            next.note = score.noteAt(position.tick);
            if (position.tick < score.countInTicks)
                next.countInBeat =
                    static_cast<int>(position.tick / score.meter.beatTicks()) % score.meter.beats + 1;
        }
    }
    if (next == picture && shown && shown->setup == view->setup) {
        shown = std::move(view);
        return;
    }
    shown = std::move(view);
    picture = std::move(next);
    if (picture.inside && picture.note < score.notes.size())
        setHelpText(toText(words::place(score, picture.note)));
    repaint();
}

void NowPanel::paint(juce::Graphics& g) {
    g.setColour(style::panel);
    g.fillRoundedRectangle(getLocalBounds().toFloat(), 6.0F);
    if (!shown)
        return;
    auto area = getLocalBounds().reduced(style::gap * 2);
    paintPlace(g, area.removeFromTop(area.getHeight() / 5));
    paintLines(g, area.removeFromBottom(area.getHeight() / 3));
    paintCombinations(g, area);
}

void NowPanel::paintPlace(juce::Graphics& g, juce::Rectangle<int> area) const {
    g.setColour(style::text);
    g.setFont(style::font(static_cast<float>(area.getHeight()) * 0.55F, true));
    const juce::String text = picture.countInBeat > 0
                                  ? "Count-in " + juce::String(picture.countInBeat)
                                  : toText(words::place(shown->setup->score(), picture.note));
    g.drawFittedText(text, area, juce::Justification::centredLeft, 1);
}

void NowPanel::paintCombinations(juce::Graphics& g, juce::Rectangle<int> area) const {
    const SessionSetup& setup = *shown->setup;
    const auto& notes = setup.score().notes;
    const Instrument& instrument = setup.config.instrument;
    const auto half = area.getWidth() / 2;
    for (std::size_t which = 0; which < 2; ++which) {
        auto side = which == 0 ? area.removeFromLeft(half) : area;
        const std::size_t index = picture.note + which;
        g.setColour(style::quietText);
        g.setFont(style::font(16.0F));
        g.drawText(which == 0 ? "Now" : "Next", side.removeFromTop(20), juce::Justification::topLeft);
        if (index >= notes.size())
            continue;
        const ScoreNote& note = notes[index];
        g.setColour(which == 0 ? style::text : style::quietText);
        auto valves = side.removeFromBottom(side.getHeight() / 3);
        g.setFont(style::font(static_cast<float>(side.getHeight()) * 0.8F, true));
        g.drawFittedText(toText(instrument.combinationName(note.combination)), side,
                         juce::Justification::centredLeft, 1);
        paintValves(g, valves, note.combination, which == 0 ? 1.0F : 0.6F);
        g.setColour(which == 0 ? style::text : style::quietText);
        g.setFont(style::font(20.0F));
        g.drawText(toText(pitchName(note.written)), side, juce::Justification::bottomRight);
    }
}

void NowPanel::paintValves(juce::Graphics& g, juce::Rectangle<int> area, Combination pressed,
                           float alpha) const {
    const int valves = shown->setup->config.instrument.valves;
    const int size = juce::jmin(area.getHeight() - 4, area.getWidth() / (valves + 1));
    for (int valve = 1; valve <= valves; ++valve) {
        const auto lamp =
            juce::Rectangle<int>(area.getX() + (valve - 1) * (size + 6), area.getY() + 2, size, size)
                .toFloat();
        const bool down = pressed.has(valve);
        g.setColour((down ? style::skyBlue : style::edge).withMultipliedAlpha(alpha));
        // Pressed valves are filled, open ones outlined: the form says it without the colour.
        if (down)
            g.fillEllipse(lamp);
        else
            g.drawEllipse(lamp.reduced(1.0F), 2.0F);
        g.setColour(down ? style::background : style::quietText);
        g.setFont(style::font(static_cast<float>(size) * 0.5F, true));
        const bool thumb = valve == 4 && shown->setup->config.instrument.thumbValve;
        g.drawText(thumb ? juce::String("T") : juce::String(valve), lamp, juce::Justification::centred);
    }
}

void NowPanel::paintLines(juce::Graphics& g, juce::Rectangle<int> area) const {
    const int height = area.getHeight() / 4;
    const auto line = [&](const std::string& text, juce::Colour colour, bool bold) {
        g.setColour(colour);
        g.setFont(style::font(juce::jmin(22.0F, static_cast<float>(height) * 0.8F), bold));
        g.drawFittedText(toText(text), area.removeFromTop(height), juce::Justification::centredLeft, 1);
    };
    line(picture.tempo, style::text, true);
    line(picture.mismatch.empty() ? picture.clock : "Mind: " + picture.mismatch,
         picture.mismatch.empty() ? style::quietText : style::orange, false);
    line(picture.take, shown->inTake ? style::bluishGreen.brighter(0.6F) : style::quietText, shown->inTake);
    line(shown->setup->planned.words, style::quietText, false);
}

} // namespace valveladder
