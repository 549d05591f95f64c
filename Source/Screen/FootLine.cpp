#include "Screen/FootLine.h"

#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

namespace valveladder {

FootLine::FootLine() {
    setTitle(words::messages);
}

void FootLine::show(const juce::String& wanted) {
    if (wanted == text)
        return;
    text = wanted;
    setSaid(text);
    setTooltip(text);
    repaint();
}

void FootLine::paint(juce::Graphics& g) {
    const auto font = plainFont(grid::caption);
    const auto area = getLocalBounds().toFloat();
    const bool fits = heightOf(text, font, area.getWidth()) <= area.getHeight();
    const juce::String shown = fits ? text : juce::String(words::moreInMessages);
    const float high = heightOf(shown, font, area.getWidth());
    g.setColour(Look::themeOf(*this).quiet);
    if (high <= area.getHeight())
        drawWrapped(g, shown, font, area.withSizeKeepingCentre(area.getWidth(), high));
}

} // namespace valveladder
