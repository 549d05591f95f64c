#include "Screen/Card.h"

#include "Base/Sentence.h"
#include "Screen/CardFrame.h"
#include "Screen/Look.h"
#include "Screen/Signs.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

namespace valveladder {

namespace {

constexpr float inset = 16.0F;
constexpr float signRoom = 36.0F;
constexpr float gap = 6.0F;

juce::String asSentence(const std::string& text) {
    if (text.empty())
        return {};
    const juce::String whole = toText(sentence(text));
    return whole.endsWithChar('.') || whole.endsWithChar('?') ? whole : whole + ".";
}

} // namespace

CardContent cardOf(const Problem& problem) {
    CardContent content;
    content.trouble = true;
    content.title = asSentence(problem.what);
    content.where = toText(problem.where);
    content.words = asSentence(problem.remedy);
    return content;
}

Card::Card() {
    setTitle(words::messages);
    close.setButtonText(words::closeCard);
    close.setTooltip(words::closeCardHelp);
    close.onClick = [this] {
        if (onClose)
            onClose();
    };
    action.onClick = [this] {
        if (onAction)
            onAction();
    };
    action.setTitle(words::newsTitle); // until it has words of its own
    action.setTooltip(words::cardActionHelp);
    for (juce::TextButton* button : {&action, &close})
        addChildComponent(button);
}

void Card::show(const CardContent& wanted) {
    if (wanted == shown)
        return;
    shown = wanted;
    action.setButtonText(shown.action);
    if (shown.action.isNotEmpty())
        action.setTitle(shown.action);
    action.setVisible(shown.action.isNotEmpty());
    close.setVisible(shown.closes);
    setTitle(shown.trouble ? words::troubleTitle : words::newsTitle);
    setDescription(described(shown.title, described(shown.where, shown.words)));
    setSaid(shown.title);
    resized();
    repaint();
}

juce::Rectangle<float> Card::textArea(int width) const {
    return juce::Rectangle<float>(0.0F, 0.0F, static_cast<float>(width), 1.0e4F)
        .reduced(inset)
        .withTrimmedLeft(signRoom);
}

int Card::heightFor(int width) const {
    const float room = textArea(width).getWidth();
    float height = 2 * inset + heightOf(shown.title, boldFont(grid::lead), room);
    for (const juce::String& text : {shown.where, shown.words})
        if (text.isNotEmpty())
            height += gap + heightOf(text, plainFont(grid::body), room);
    if (action.isVisible() || close.isVisible())
        height += static_cast<float>(grid::gutter + grid::control);
    return static_cast<int>(std::ceil(height));
}

int Card::widthIn(int placeWidth) {
    return juce::jmin(widest, placeWidth - 2 * grid::margin);
}

void Card::centreIn(juce::Rectangle<int> place) {
    const int width = widthIn(place.getWidth());
    setBounds(place.withSizeKeepingCentre(width, heightFor(width)));
}

void Card::resized() {
    layOutFromRight(getLocalBounds().reduced(static_cast<int>(inset)).removeFromBottom(grid::control),
                    {&close, &action});
}

void Card::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    const juce::Colour mark = shown.trouble ? theme.alarm : theme.accent;
    paintCardFrame(g, *this, mark);
    paintSign(g, shown.trouble ? Sign::warning : Sign::hint, {inset, inset, 24.0F, 24.0F}, mark);
    auto area = textArea(getWidth());
    g.setColour(theme.text);
    area = drawWrapped(g, shown.title, boldFont(grid::lead), area);
    if (shown.where.isNotEmpty()) {
        g.setColour(theme.quiet);
        area = drawWrapped(g, shown.where, plainFont(grid::body), area.withTrimmedTop(gap));
    }
    g.setColour(theme.text);
    if (shown.words.isNotEmpty())
        drawWrapped(g, shown.words, plainFont(grid::body), area.withTrimmedTop(gap));
}

} // namespace valveladder
