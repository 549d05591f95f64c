#include "Screen/CardFrame.h"

#include "Screen/Look.h"
#include "Screen/Type.h"

namespace valveladder {

void paintCardFrame(juce::Graphics& g, const juce::Component& card, juce::Colour edge) {
    const auto whole = card.getLocalBounds().toFloat();
    g.setColour(Look::themeOf(card).panel);
    g.fillRoundedRectangle(whole, grid::corner);
    g.setColour(edge);
    g.drawRoundedRectangle(whole.reduced(1.0F), grid::corner, 2.0F);
}

void layOutFromRight(juce::Rectangle<int> row, std::initializer_list<juce::TextButton*> buttons) {
    for (juce::TextButton* button : buttons) {
        if (!button->isVisible())
            continue;
        const auto font = button->getToggleState() ? boldFont(grid::body) : plainFont(grid::body);
        button->setBounds(row.removeFromRight(buttonWidth(*button, font, grid::margin)));
        row.removeFromRight(grid::unit);
    }
}

} // namespace valveladder
