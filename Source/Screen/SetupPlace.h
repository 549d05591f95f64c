#pragma once

#include "Screen/ChoiceBox.h"
#include "Screen/SetupPanel.h"
#include "View/Preferences.h"

#include <array>

namespace valveladder {

/// Everything that is chosen before playing, with undo, kept set-ups, and how the window looks.
class SetupPlace final : public juce::Component {
public:
    /// `hosted`: in a host, whose keys are asked for.
    SetupPlace(Parameters& parameters, bool hosted);

    [[nodiscard]] SetupPanel& panel() { return fields; }
    /// Unfolds all parts, or folds all but what matters.
    void unfoldAll(bool wanted);
    void showPreferences(const Preferences& preferences);
    void showUndo(bool canUndo, bool canRedo);
    void showShelf(const std::vector<std::string>& names);

    std::function<void(const Preferences&)> onPreferences;
    std::function<void()> onUndo, onRedo;
    std::function<void(const std::string&name)> onKeep, onLoad;
    std::function<void()> onToFile, onFromFile;

    void paint(juce::Graphics& g) override;
    void resized() override;
    void lookAndFeelChanged() override { repaint(); }

private:
    void addShelf();
    void addDisplay(bool hosted);
    void preferenceChanged();
    void addFolds();
    void showWhole();
    /// Parts at the right, with the buttons that fold them.
    struct Part {
        Form* form;
        juce::TextButton* fold;
        const char* heading;
    };
    [[nodiscard]] std::array<Part, 2> parts();
    void unfold(const Part& part, bool wanted);

    /// Tells what is seen of its content.
    class Scroll final : public juce::Viewport {
    public:
        std::function<void()> onSeen;
        void visibleAreaChanged(const juce::Rectangle<int>&) override { onSeen(); }
    };

    SetupPanel fields;
    Scroll scroll, sideScroll;
    juce::Component sideForms; ///< display and kept set-ups under their headings
    juce::TextButton displayFold, shelfFold;
    juce::TextButton undo, redo;
    juce::Label version; ///< of the program, at the foot
    Form shelf{260}, display{260};
    ChoiceBox kept, theme, scale, names, pitch, keys;
    juce::TextEditor keepName;
    juce::TextButton load, keep, toFile, fromFile;
    juce::ToggleButton motion, openResult;
    Preferences shown;
};

} // namespace valveladder
