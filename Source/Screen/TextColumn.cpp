#include "Screen/TextColumn.h"

#include "Base/Sentence.h"
#include "Screen/Heading.h"
#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"

#include <cmath>

namespace valveladder {

namespace {

constexpr float lineSpacing = 1.2F;
constexpr int scrollRoom = 12; ///< beside text that scrolls
const juce::String betweenParagraphs = "\n\n";

float lineHigh() {
    return plainFont(grid::body).getHeight() * lineSpacing;
}

} // namespace

TextColumn::TextColumn(const juce::String& heading) : title(heading) {
    text.setMultiLine(true);
    text.setReadOnly(true);
    text.setCaretVisible(false);
    text.setScrollbarsShown(true);
    text.setLineSpacing(lineSpacing);
    text.setTitle(heading);
    text.setBorder({});
    text.setIndents(0, 0);
    addAndMakeVisible(text);
}

void TextColumn::show(const std::vector<std::string>& paragraphs, const juce::String& whenEmpty) {
    juce::String all;
    for (const std::string& paragraph : paragraphs)
        all << (all.isEmpty() ? juce::String() : betweenParagraphs) << toText(sentence(paragraph));
    if (all.isEmpty())
        all = whenEmpty;
    if (all == shown)
        return;
    shown = all;
    text.setText(withSigns(all), false);
    text.setCaretPosition(0);
}

int TextColumn::heightWithin(int width, int most) const {
    int fit = 0;
    std::size_t lines = 0;
    for (juce::String rest = shown; rest.isNotEmpty();
         rest = rest.fromFirstOccurrenceOf(betweenParagraphs, false, false)) {
        const auto paragraph = rest.upToFirstOccurrenceOf(betweenParagraphs, false, false);
        lines += wrapped(paragraph, plainFont(grid::body), static_cast<float>(width - scrollRoom)).size();
        const int high = grid::heading + static_cast<int>(std::ceil(static_cast<float>(lines) * lineHigh()));
        if (high > most)
            break;
        fit = high;
        ++lines; // the empty one before the next
    }
    return fit;
}

void TextColumn::lookAndFeelChanged() {
    const Theme& theme = Look::themeOf(*this);
    text.setColour(juce::TextEditor::backgroundColourId, juce::Colours::transparentBlack);
    text.applyColourToAllText(theme.text);
    text.applyFontToAllText(plainFont(grid::body));
    repaint();
}

void TextColumn::paint(juce::Graphics& g) {
    drawHeading(g, title, getLocalBounds(), Look::themeOf(*this).quiet);
}

void TextColumn::resized() {
    // Whole lines only.
    auto area = getLocalBounds().withTrimmedTop(grid::heading);
    const int lines = static_cast<int>(static_cast<float>(area.getHeight()) / lineHigh());
    text.setBounds(area.withHeight(static_cast<int>(std::ceil(static_cast<float>(lines) * lineHigh()))));
    lookAndFeelChanged();
}

} // namespace valveladder
