#pragma once

#include "Base/Problem.h"
#include "Screen/SaidComponent.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>

namespace valveladder {

/// What a card says: of a problem, what went wrong, where, and what to do; of news, what happened.
struct CardContent {
    bool trouble = false;
    juce::String title;
    juce::String where;
    juce::String words;
    juce::String action; ///< on a button; empty = there is none
    bool closes = true;  ///< has a button to put it away

    [[nodiscard]] bool isEmpty() const { return title.isEmpty(); }
    bool operator==(const CardContent&) const = default;
};

[[nodiscard]] CardContent cardOf(const Problem& problem);

/// The one look of problems and news, whole at any width: as high as its words want.
class Card final : public SaidComponent {
public:
    Card();

    void show(const CardContent& wanted);
    [[nodiscard]] const CardContent& content() const { return shown; }
    [[nodiscard]] int heightFor(int width) const;
    /// As wide as a card may be in a place of that width, px.
    [[nodiscard]] static int widthIn(int placeWidth);
    /// Lies in the middle of a place, given in the card's parent.
    void centreIn(juce::Rectangle<int> place);
    std::function<void()> onAction, onClose;

    static constexpr int widest = 620;

    void paint(juce::Graphics& g) override;
    void resized() override;
    void lookAndFeelChanged() override { repaint(); }

private:
    [[nodiscard]] juce::Rectangle<float> textArea(int width) const;

    CardContent shown;
    juce::TextButton action, close;
};

} // namespace valveladder
