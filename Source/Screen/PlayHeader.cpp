#include "Screen/PlayHeader.h"

#include "Screen/Look.h"
#include "Screen/MusicFont.h"
#include "Screen/Signs.h"
#include "Screen/Type.h"
#include "View/Words.h"

#include <cmath>

namespace valveladder {

PlayHeader::PlayHeader() {
    setTitle(words::headerTitle);
    setOpaque(true);
}

void PlayHeader::show(const PlayModel& model, const PitchNames& names) {
    Picture next;
    const Score& score = model.setup->score();
    if (model.note < score.notes.size()) {
        const ScoreNote& note = score.notes[model.note];
        next.rung = rungName(score.rungLabels[static_cast<std::size_t>(note.rung)], names,
                             note.sounding - note.written);
        next.segment = note.segment;
        next.segmentName = score.segmentNames[static_cast<std::size_t>(note.segment)];
        next.segmentOf = words::segmentOf(score, note.segment);
    } else {
        next.rung = words::drillOver;
    }
    next.segments = static_cast<int>(score.segmentNames.size());
    next.take = model.take;
    next.clock = model.clock;
    next.inTake = model.inTake;
    next.planned = words::tempoText(model.plannedBpm);
    next.real = model.realBpm > 0.0 ? words::tempoText(model.realBpm) : "-";
    next.tempoDiffers = model.notice.kind == Notice::Kind::wrongTempo;
    next.notice = model.notice;
    if (next == picture)
        return;
    picture = std::move(next);
    setSaid(toText(picture.take + ". " + words::plannedWord + " " + picture.planned + " " + words::bpmWord +
                   ", " + words::realWord + " " + picture.real));
    setDescription(toText(picture.rung + ", " + picture.segmentName + ". " + picture.clock + ". " +
                          picture.notice.title + " " + picture.notice.words));
    repaint();
}

void PlayHeader::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    g.fillAll(theme.ground);
    auto area = getLocalBounds().toFloat();
    auto top = area.removeFromTop(76.0F);
    paintTempo(g, top.removeFromRight(230.0F));
    paintTake(g, top.removeFromRight(std::min(320.0F, top.getWidth() * 0.45F)));
    paintPlace(g, top);
    if (picture.notice.kind != Notice::Kind::none)
        paintNotice(g, area.withTrimmedTop(4.0F));
}

void PlayHeader::paintPlace(juce::Graphics& g, juce::Rectangle<float> area) const {
    const Theme& theme = Look::themeOf(*this);
    g.setColour(theme.text);
    drawPitchText(g, toText(picture.rung), area.removeFromTop(46.0F), boldFont(grid::figure),
                  juce::Justification::left);
    if (picture.segment < 0)
        return;
    auto row = area.removeFromTop(26.0F);
    const float cells = static_cast<float>(std::min(picture.segments, 8)) * 22.0F;
    paintCells(g, row.removeFromLeft(cells));
    g.setColour(theme.text);
    g.setFont(plainFont(grid::lead));
    g.drawFittedText(toText(picture.segmentName), row.withTrimmedLeft(8.0F).toNearestInt(),
                     juce::Justification::centredLeft, 1, 0.8F);
}

/// One cell a segment; the one that is played is filled and higher.
void PlayHeader::paintCells(juce::Graphics& g, juce::Rectangle<float> area) const {
    const Theme& theme = Look::themeOf(*this);
    const int shown = std::min(picture.segments, 8);
    for (int i = 0; i < shown; ++i) {
        const auto cell = area.removeFromLeft(22.0F).withTrimmedRight(4.0F);
        const bool here = i == picture.segment;
        const auto box = cell.withSizeKeepingCentre(cell.getWidth(), here ? 16.0F : 8.0F);
        g.setColour(here ? theme.accent : theme.line);
        g.fillRect(box);
    }
}

void PlayHeader::paintTempo(juce::Graphics& g, juce::Rectangle<float> area) const {
    const Theme& theme = Look::themeOf(*this);
    const auto column = [&](juce::Rectangle<float> part, const std::string& value, const char* caption,
                            bool marked) {
        g.setColour(theme.text);
        g.setFont(boldFont(grid::figure));
        g.drawText(toText(value), part.removeFromTop(46.0F), juce::Justification::centredRight, false);
        g.setColour(theme.quiet);
        g.setFont(plainFont(grid::lead));
        g.drawText(juce::String(caption) + " " + words::bpmWord, part.removeFromTop(26.0F),
                   juce::Justification::centredRight, false);
        if (marked)
            paintSign(g, Sign::warning, {part.getRight() - 110.0F, part.getY() - 22.0F, 18.0F, 18.0F},
                      theme.alarm);
    };
    column(area.removeFromRight(110.0F), picture.real, words::realWord, false);
    column(area, picture.planned, words::plannedWord, false);
}

void PlayHeader::paintTake(juce::Graphics& g, juce::Rectangle<float> area) const {
    const Theme& theme = Look::themeOf(*this);
    auto line = area.withTrimmedTop(10.0F).withHeight(28.0F);
    const auto dot = line.removeFromLeft(24.0F).withSizeKeepingCentre(14.0F, 14.0F);
    g.setColour(picture.inTake ? theme.accent : theme.quiet);
    if (picture.inTake)
        g.fillEllipse(dot);
    else
        g.drawEllipse(dot.reduced(1.0F), 2.0F);
    g.setColour(theme.text);
    g.setFont(picture.inTake ? boldFont(grid::lead) : plainFont(grid::lead));
    g.drawFittedText(toText(picture.take), line.withTrimmedLeft(4.0F).toNearestInt(),
                     juce::Justification::centredLeft, 1, 0.75F);
    g.setColour(theme.quiet);
    g.setFont(plainFont(grid::body));
    g.drawFittedText(toText(picture.clock),
                     area.withTrimmedTop(44.0F).withHeight(26.0F).withTrimmedLeft(28.0F).toNearestInt(),
                     juce::Justification::centredLeft, 1, 0.75F);
}

void PlayHeader::paintNotice(juce::Graphics& g, juce::Rectangle<float> area) const {
    const Theme& theme = Look::themeOf(*this);
    g.setColour(theme.panel);
    g.fillRoundedRectangle(area, 6.0F);
    g.setColour(picture.notice.trouble ? theme.alarm : theme.accent);
    g.fillRoundedRectangle(area.withWidth(4.0F), 2.0F);
    area.reduce(16.0F, 0.0F);
    paintSign(g, picture.notice.trouble ? Sign::warning : Sign::hint,
              area.removeFromLeft(22.0F).withSizeKeepingCentre(20.0F, 20.0F),
              picture.notice.trouble ? theme.alarm : theme.accent);
    area.removeFromLeft(12.0F);
    g.setColour(theme.text);
    const auto title = boldFont(grid::body);
    g.setFont(title);
    const juce::String text = toText(picture.notice.title);
    g.drawText(text, area.removeFromLeft(textWidth(title, text) + 16.0F), juce::Justification::centredLeft,
               false);
    g.setFont(plainFont(grid::body));
    g.drawFittedText(toText(picture.notice.words), area.toNearestInt(), juce::Justification::centredLeft, 2,
                     0.85F);
}

} // namespace valveladder
