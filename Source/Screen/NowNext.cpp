#include "Screen/NowNext.h"

#include "Screen/Look.h"
#include "Screen/MusicFont.h"
#include "Screen/Type.h"
#include "Screen/ValveCaps.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <array>
#include <utility>

namespace valveladder {

namespace {

// While one waits: what for, in letters as large as the segment's name, and for how long.
constexpr float stateHeight = 48.0F;
constexpr float waitHeight = stateHeight + 26.0F;

} // namespace

NowNext::NowNext() {
    setTitle(words::nowNextTitle);
    setOpaque(true);
}

void NowNext::show(const PlayModel& model, Spelling spelling, bool soundingNames) {
    Picture next{model.setup, model.note, model.countIn, model.beatsToEntry, spelling, soundingNames};
    if (next == picture)
        return;
    picture = std::move(next);
    setSaid(sentence());
    repaint();
}

juce::String NowNext::sentence() const {
    const auto& notes = picture.setup->score().notes;
    if (picture.note >= notes.size())
        return words::drillOver;
    const auto played = [&](std::size_t note) {
        return toText(picture.setup->config.instrument.combinationName(notes[note].combination) + ", " +
                      nameOf(notes[note]));
    };
    juce::String text;
    if (picture.beats > 0)
        text << words::beatsToEntry(picture.beats) << ", ";
    text << words::nowWord << " " << played(picture.note);
    if (picture.note + 1 < notes.size())
        text << ", " << words::nextWord << " " << played(picture.note + 1);
    return text;
}

std::string NowNext::nameOf(const ScoreNote& note) const {
    return pitchName(picture.soundingNames ? note.sounding : note.written, picture.spelling);
}

void NowNext::paint(juce::Graphics& g) {
    g.fillAll(Look::themeOf(*this).ground);
    if (!picture.setup)
        return;
    auto area = getLocalBounds().toFloat();
    const auto nowArea = area.removeFromLeft(area.getWidth() * 0.56F);
    area.removeFromLeft(static_cast<float>(2 * grid::margin));
    if (picture.beats > 0) {
        paintWait(g, nowArea);
        paintCard(g, area, picture.note, false);
    } else {
        paintCard(g, nowArea, picture.note, true);
        paintCard(g, area, picture.note + 1, false);
    }
}

void NowNext::paintCard(juce::Graphics& g, juce::Rectangle<float> area, std::size_t note, bool isNow) const {
    const Theme& theme = Look::themeOf(*this);
    area.reduce(0.0F, static_cast<float>(grid::unit));
    g.setColour(theme.quiet);
    g.setFont(plainFont(grid::lead));
    drawLine(g, isNow ? words::nowWord : words::nextWord, area.withHeight(24.0F),
             juce::Justification::topLeft);
    const auto& notes = picture.setup->score().notes;
    if (note >= notes.size())
        return;
    const ScoreNote& shown = notes[note];
    g.setColour(isNow ? theme.text : theme.quiet);
    g.setFont(isNow ? boldFont(grid::figure - 4.0F) : plainFont(grid::figure - 10.0F));
    drawLine(g, toText(nameOf(shown)), area.withHeight(40.0F), juce::Justification::centredRight);
    auto valves = area.withTrimmedTop(44.0F);
    area.removeFromTop(24.0F);
    valves = valves.removeFromRight(valves.getWidth() * 0.44F);
    area.removeFromRight(area.getWidth() * 0.46F);
    const ValveLook look = isNow ? ValveLook{theme.accent, theme.onAccent, theme.line, theme.quiet}
                                 : ValveLook{theme.quiet, theme.panel, theme.line, theme.quiet};
    paintValves(g, valves, picture.setup->config.instrument, shown.combination, look);
    g.setColour(isNow ? theme.text : theme.quiet);
    const float height = std::min(area.getHeight() * 0.98F, area.getWidth() / widestName());
    g.setFont(boldFont(height));
    drawLine(g, toText(picture.setup->config.instrument.combinationName(shown.combination)), area,
             juce::Justification::centredLeft);
}

/// Of the drill's combinations, for letters of height 1: all are written in one size.
float NowNext::widestName() const {
    constexpr float measured = 100.0F;
    const juce::Font font = boldFont(measured);
    float widest = 0.0F;
    std::array<bool, 16> seen{};
    for (const ScoreNote& note : picture.setup->score().notes) {
        if (std::exchange(seen[note.combination.bits()], true))
            continue;
        const auto name = picture.setup->config.instrument.combinationName(note.combination);
        widest = std::max(widest, textWidth(font, toText(name)));
    }
    return (widest + 4.0F) / measured;
}

void NowNext::paintWait(juce::Graphics& g, juce::Rectangle<float> area) const {
    const Theme& theme = Look::themeOf(*this);
    area.reduce(0.0F, static_cast<float>(grid::unit));
    const bool counting = picture.countIn > 0;
    const float height = std::min(area.getHeight() * 0.98F, area.getWidth() * 0.3F);
    auto side = area.withTrimmedLeft(area.getWidth() * 0.36F);
    g.setColour(theme.text);
    g.setFont(boldFont(height));
    drawLine(g, juce::String(counting ? picture.countIn : picture.beats), area.withRight(side.getX()),
             juce::Justification::centredLeft);
    side = side.withSizeKeepingCentre(side.getWidth(), waitHeight);
    const juce::String what = counting ? words::countIn : words::breathe;
    auto line = side.removeFromTop(stateHeight);
    const auto font = boldFont(grid::figure);
    g.setFont(font);
    drawLine(g, what, line, juce::Justification::centredLeft);
    if (!counting) {
        line.removeFromLeft(textWidth(font, what));
        g.setColour(theme.accent);
        g.fillPath(
            glyphPath(Glyph::breathComma),
            juce::AffineTransform::scale(stateHeight)
                .translated(line.getX() + static_cast<float>(grid::unit), line.getY() + stateHeight * 0.8F));
    }
    g.setColour(theme.quiet);
    g.setFont(plainFont(grid::lead));
    drawLine(g, toText(words::beatsToEntry(picture.beats)), side, juce::Justification::centredLeft);
}

} // namespace valveladder
