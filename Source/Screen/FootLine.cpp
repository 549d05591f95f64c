#include "Screen/FootLine.h"

#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

namespace valveladder {

namespace {

juce::Font letters() {
    return plainFont(grid::caption);
}

/// Brackets behind a sentence that has ended.
juce::String withoutSource(const juce::String& text) {
    const int bracket = text.lastIndexOf(". (");
    return bracket >= 0 && text.endsWithChar(')') ? text.substring(0, bracket + 1) : text;
}

} // namespace

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

juce::String FootLine::seen() const {
    const auto room = getLocalBounds().toFloat();
    const juce::String whole = withoutSource(text);
    for (const juce::String& wanted :
         {whole, toText(words::firstSentence(whole.toStdString())), juce::String(words::moreInMessages)})
        if (heightOf(wanted, letters(), room.getWidth()) <= room.getHeight())
            return wanted;
    return {};
}

void FootLine::paint(juce::Graphics& g) {
    const auto area = getLocalBounds().toFloat();
    const juce::String shown = seen();
    g.setColour(Look::themeOf(*this).quiet);
    drawWrapped(g, shown, letters(),
                area.withSizeKeepingCentre(area.getWidth(), heightOf(shown, letters(), area.getWidth())));
}

} // namespace valveladder
