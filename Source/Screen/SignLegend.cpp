#include "Screen/SignLegend.h"

#include "Screen/Theme.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"

namespace valveladder {

namespace {

constexpr float signSize = 14.0F;
constexpr float signGap = 6.0F;
constexpr float entryGap = 20.0F;

float widthOf(const SignMeaning& entry) {
    return textWidth(plainFont(grid::caption), entry.text) + (entry.sign ? signSize + signGap : 0.0F);
}

float widthOf(const std::vector<const SignMeaning*>& line) {
    float width = 0.0F;
    for (const SignMeaning* entry : line)
        width += widthOf(*entry) + (entry == line.front() ? 0.0F : entryGap);
    return width;
}

} // namespace

std::vector<std::vector<const SignMeaning*>> SignLegend::linesFor(float width) const {
    std::vector<std::vector<const SignMeaning*>> lines;
    for (const SignMeaning& entry : entries) {
        if (lines.empty() || widthOf(lines.back()) + entryGap + widthOf(entry) > width)
            lines.emplace_back();
        lines.back().push_back(&entry);
    }
    return lines;
}

float SignLegend::heightFor(float width) const {
    return lineHeight * static_cast<float>(linesFor(width).size());
}

void SignLegend::paint(juce::Graphics& g, juce::Rectangle<float> area, juce::Colour ink) const {
    g.setFont(plainFont(grid::caption));
    const auto lines = linesFor(area.getWidth());
    area = area.removeFromBottom(lineHeight * static_cast<float>(lines.size()));
    for (const auto& line : lines) {
        auto row = area.removeFromTop(lineHeight);
        row.removeFromLeft(row.getWidth() - widthOf(line));
        for (const SignMeaning* entry : line) {
            if (entry->sign) {
                paintSign(g, *entry->sign,
                          row.removeFromLeft(signSize).withSizeKeepingCentre(signSize, signSize),
                          entry->colour);
                row.removeFromLeft(signGap);
            }
            g.setColour(ink);
            drawLine(g, entry->text, row, juce::Justification::centredLeft);
            row.removeFromLeft(textWidth(plainFont(grid::caption), entry->text) + entryGap);
        }
    }
}

} // namespace valveladder
