#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>

namespace valveladder {

/// Where the player writes what is to be remembered of a take: a sheet over the place, which has the keyboard
/// while it is open and gives it back to what had it. Return keeps, Escape leaves what was written before.
class NoteSheet final : public juce::Component {
public:
    NoteSheet();

    /// `of` names the take, `written` is what stands there already; `keep` gets what is to stand there.
    void open(const juce::String& of, const juce::String& written,
              std::function<void(const juce::String&)> keep);
    /// Leaves what was written before.
    void close();

    static constexpr int widest = 620;
    static constexpr int height = 196;

    void paint(juce::Graphics& g) override;
    void resized() override;
    bool keyPressed(const juce::KeyPress& key) override;
    void lookAndFeelChanged() override;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

private:
    void keepWritten();

    juce::Label title, take;
    juce::TextEditor field;
    juce::TextButton keepButton, leaveButton;
    std::function<void(const juce::String&)> onKeep;
    juce::Component::SafePointer<juce::Component> hadKeys; ///< before it was opened
};

} // namespace valveladder
