#include "Screen/InventedTag.h"

#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <cmath>

namespace valveladder {

InventedTag::InventedTag() {
    setTitle(words::inventedTag);
    setTooltip(words::inventedHelp);
    setSaid(words::inventedHelp);
}

int InventedTag::width() const {
    return static_cast<int>(std::ceil(textWidth(boldFont(grid::caption), words::inventedTag))) +
           2 * grid::gutter;
}

void InventedTag::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    const auto area = getLocalBounds().toFloat().reduced(1.0F);
    g.setColour(theme.accent);
    g.drawRoundedRectangle(area, area.getHeight() / 2, 2.0F);
    g.setColour(theme.accentText);
    g.setFont(boldFont(grid::caption));
    drawLine(g, words::inventedTag, area, juce::Justification::centred);
}

} // namespace valveladder
