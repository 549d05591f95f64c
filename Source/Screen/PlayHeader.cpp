#include "Screen/PlayHeader.h"

#include "Screen/Look.h"
#include "Screen/Signs.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <cmath>

namespace valveladder {

namespace {

constexpr int mostCells = 8;
constexpr float cellWidth = 30.0F;
constexpr float progressHeight = 4.0F;
constexpr float smallestName = 22.0F;
constexpr float nameHeight = 50.0F; ///< of the segment's name, and of the take's state beside it
constexpr float dotSize = 18.0F;
constexpr float dotWidth = dotSize + 10.0F;

} // namespace

PlayHeader::PlayHeader() {
    setTitle(words::headerTitle);
    setOpaque(true);
}

void PlayHeader::show(const PlayModel& model, const PitchNames& names) {
    Picture next;
    const Score& score = model.setup->score();
    if (model.note < score.notes.size()) {
        const ScoreNote& note = score.notes[model.note];
        next.rung = withPitchNames(score.rungLabels[static_cast<std::size_t>(note.rung)], names);
        next.segment = note.segment;
        next.segmentName = score.segmentNames[static_cast<std::size_t>(note.segment)];
        next.count = words::rungOf(note.rung, static_cast<int>(score.rungLabels.size()));
    } else {
        next.segmentName = words::drillOver;
    }
    next.segments = static_cast<int>(score.segmentNames.size());
    if (model.moving && score.length > 0)
        next.through = static_cast<int>(1000.0 * model.tick / static_cast<double>(score.length));
    next.take = model.take;
    next.clock = model.clock;
    next.inTake = model.inTake;
    next.tempoDiffers = model.notice.kind == Notice::Kind::wrongTempo;
    next.tempo = words::tempoText(model.realBpm > 0.0 ? model.realBpm : model.plannedBpm);
    next.tempoWords = words::tempoAgainstPlan(model.realBpm, model.plannedBpm);
    next.notice = model.notice;
    if (next == picture)
        return;
    picture = std::move(next);
    setSaid(toText(picture.take + ". " + picture.tempo + " " + picture.tempoWords));
    setDescription(toText(picture.rung + ", " + picture.segmentName + ". " + picture.clock + " " +
                          picture.notice.title + " " + picture.notice.words));
    repaint();
}

void PlayHeader::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    g.fillAll(theme.ground);
    auto area = getLocalBounds().toFloat();
    const auto line = area.removeFromBottom(progressHeight);
    g.setColour(theme.raised);
    g.fillRoundedRectangle(line, progressHeight / 2);
    g.setColour(theme.accent);
    g.fillRoundedRectangle(line.withWidth(line.getWidth() * static_cast<float>(picture.through) / 1000.0F),
                           progressHeight / 2);
    area.removeFromBottom(static_cast<float>(grid::unit));
    paintTempo(g, area.removeFromRight(160.0F));
    const auto state = area.removeFromRight(area.getWidth() * 0.5F).withTrimmedRight(16.0F);
    if (picture.notice.kind == Notice::Kind::none)
        paintState(g, state);
    else
        paintNotice(g, state);
    paintPlace(g, area.withTrimmedRight(16.0F));
}

void PlayHeader::paintPlace(juce::Graphics& g, juce::Rectangle<float> area) const {
    const Theme& theme = Look::themeOf(*this);
    const auto name = area.removeFromTop(nameHeight);
    g.setColour(theme.text);
    const juce::String text = toText(picture.segmentName);
    g.setFont(boldFontFitting(text, name.getWidth(), grid::figure, smallestName));
    drawLine(g, text, name, juce::Justification::centredLeft);
    if (picture.segment < 0)
        return;
    auto row = area.removeFromTop(30.0F);
    paintCells(g, row.removeFromLeft(static_cast<float>(std::min(picture.segments, mostCells)) * cellWidth));
    row.removeFromLeft(10.0F);
    const auto font = plainFont(grid::title - 2.0F);
    g.setColour(theme.quiet);
    const juce::String rung = toText(picture.rung + "  " + picture.count);
    g.setFont(font);
    drawLine(g, textWidth(font, rung) <= row.getWidth() ? rung : toText(picture.rung), row,
             juce::Justification::centredLeft);
}

/// A cell a segment; the one that is played is filled.
void PlayHeader::paintCells(juce::Graphics& g, juce::Rectangle<float> area) const {
    const Theme& theme = Look::themeOf(*this);
    for (int i = 0; i < std::min(picture.segments, mostCells); ++i) {
        const auto cell = area.removeFromLeft(cellWidth).withTrimmedRight(6.0F);
        const bool here = i == picture.segment;
        g.setColour(here ? theme.accent : i < picture.segment ? theme.quiet : theme.raised);
        g.fillRoundedRectangle(cell.withSizeKeepingCentre(cell.getWidth(), here ? 12.0F : 8.0F), 4.0F);
    }
}

void PlayHeader::paintTempo(juce::Graphics& g, juce::Rectangle<float> area) const {
    const Theme& theme = Look::themeOf(*this);
    g.setColour(theme.text);
    g.setFont(boldFont(grid::large));
    auto figure = area.removeFromTop(56.0F);
    if (picture.tempoDiffers)
        paintSign(g, Sign::warning, figure.removeFromLeft(26.0F).withSizeKeepingCentre(22.0F, 22.0F),
                  theme.alarm);
    g.setColour(theme.text);
    drawLine(g, toText(picture.tempo), figure, juce::Justification::centredRight);
    g.setColour(theme.quiet);
    g.setFont(plainFont(grid::body));
    drawLine(g, toText(picture.tempoWords), area.removeFromTop(26.0F), juce::Justification::centredRight);
}

void PlayHeader::paintState(juce::Graphics& g, juce::Rectangle<float> area) const {
    const Theme& theme = Look::themeOf(*this);
    auto line = area.removeFromTop(nameHeight);
    const auto dot = line.removeFromLeft(dotWidth).withWidth(dotSize).withSizeKeepingCentre(dotSize, dotSize);
    g.setColour(picture.inTake ? theme.accent : theme.quiet);
    if (picture.inTake)
        g.fillEllipse(dot);
    else
        g.drawEllipse(dot.reduced(1.0F), 2.0F);
    g.setColour(theme.text);
    const juce::String take = toText(picture.take);
    g.setFont(boldFontFitting(take, line.getWidth(), grid::figure, smallestName));
    drawLine(g, take, line, juce::Justification::centredLeft);
    g.setColour(theme.quiet);
    const juce::String more = toText(picture.clock);
    area.removeFromLeft(dotWidth);
    const bool large = heightOf(more, plainFont(grid::lead), area.getWidth()) <= area.getHeight();
    drawWrapped(g, more, plainFont(large ? grid::lead : grid::caption), area);
}

void PlayHeader::paintNotice(juce::Graphics& g, juce::Rectangle<float> area) const {
    const Theme& theme = Look::themeOf(*this);
    const bool trouble = picture.notice.trouble;
    paintSign(g, trouble ? Sign::warning : Sign::hint,
              area.removeFromLeft(30.0F)
                  .withHeight(trouble ? 26.0F : nameHeight)
                  .withSizeKeepingCentre(22.0F, 22.0F),
              trouble ? theme.alarm : theme.accent);
    area.removeFromLeft(4.0F);
    g.setColour(theme.text);
    const juce::String title = toText(picture.notice.title);
    auto rest = area;
    if (trouble) {
        rest = drawWrapped(g, title, boldFont(grid::lead), area.withTrimmedTop(2.0F));
    } else {
        const auto line = rest.removeFromTop(nameHeight);
        g.setFont(boldFontFitting(title, line.getWidth(), grid::figure, smallestName));
        drawLine(g, title, line, juce::Justification::centredLeft);
    }
    g.setColour(theme.quiet);
    const auto font = plainFont(grid::caption);
    const juce::String words = toText(picture.notice.words);
    if (heightOf(words, font, rest.getWidth()) <= rest.getHeight())
        drawWrapped(g, words, font, rest);
    else
        drawWrapped(g, words::moreInMessages, font, rest);
}

} // namespace valveladder
