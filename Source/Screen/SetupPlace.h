#pragma once

#include "Screen/ChoiceBox.h"
#include "Screen/SetupPanel.h"
#include "View/Preferences.h"

namespace valveladder {

/// Everything that is chosen before playing, with undo, kept set-ups, and how the window looks.
class SetupPlace final : public juce::Component {
public:
    /// `hosted`: in a host, whose keys are asked for.
    SetupPlace(Parameters& parameters, bool hosted);

    [[nodiscard]] SetupPanel& panel() { return fields; }
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
    void paintHeadings(juce::Graphics& g) const;

    SetupPanel fields;
    juce::Viewport scroll, sideScroll;
    /// Display and kept set-ups under their headings.
    class Side final : public juce::Component {
    public:
        explicit Side(const SetupPlace& of) : place(of) {}
        void paint(juce::Graphics& g) override { place.paintHeadings(g); }

    private:
        const SetupPlace& place;
    };
    Side sideForms{*this};
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
