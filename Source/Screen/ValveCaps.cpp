#include "Screen/ValveCaps.h"

#include "Screen/Type.h"
#include "Screen/Wrap.h"

#include <algorithm>

namespace valveladder {

namespace {

constexpr float slimness = 0.62F;    ///< width over height
constexpr float gapShare = 0.28F;    ///< of a valve's width
constexpr float numberHeight = 0.4F; ///< of a valve's width

} // namespace

void paintValve(juce::Graphics& g, juce::Rectangle<float> slot, const juce::String& number, bool down,
                const ValveLook& look) {
    const float round = slot.getWidth() / 2;
    const auto cap = down ? slot.withTrimmedTop(slot.getHeight() * valveTravel) : slot;
    if (down) {
        g.setColour(look.fill);
        g.fillRoundedRectangle(cap, round);
    } else {
        g.setColour(look.outline);
        g.drawRoundedRectangle(cap.reduced(1.5F), round - 1.5F, 3.0F);
    }
    g.setColour(down ? look.onFill : look.number);
    g.setFont(boldFont(slot.getWidth() * numberHeight));
    drawLine(g, number, cap, juce::Justification::centred);
}

void paintValves(juce::Graphics& g, juce::Rectangle<float> area, const Instrument& instrument,
                 Combination combination, const ValveLook& look) {
    const auto count = static_cast<float>(instrument.valves);
    const float widest = area.getWidth() / (count + gapShare * (count - 1.0F));
    const float width = std::min(widest, area.getHeight() * slimness);
    const float gap = width * gapShare;
    const float height = std::min(area.getHeight(), width / slimness);
    float x = area.getRight() - width * count - gap * (count - 1.0F);
    for (int valve = 1; valve <= instrument.valves; ++valve) {
        paintValve(g, {x, area.getCentreY() - height / 2, width, height},
                   toText(valveName(valve, instrument.thumbValve)), combination.has(valve), look);
        x += width + gap;
    }
}

void paintHold(juce::Graphics& g, juce::Rectangle<float> area, juce::Colour fill, juce::Colour outline) {
    constexpr float edge = 1.5F;
    const auto round = [](const juce::Rectangle<float>& of) {
        return std::min(of.getHeight(), of.getWidth()) / 2;
    };
    g.setColour(fill);
    g.fillRoundedRectangle(area, round(area));
    if (outline.isTransparent() || area.getWidth() < 2 * edge)
        return;
    g.setColour(outline);
    g.drawRoundedRectangle(area.reduced(edge / 2), round(area.reduced(edge / 2)), edge);
}

} // namespace valveladder
