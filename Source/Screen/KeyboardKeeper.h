#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>

namespace valveladder {

/// Who has the keyboard within a window: it is never lost, and never in a field that was not chosen.
class KeyboardKeeper {
public:
    explicit KeyboardKeeper(juce::Component& of) : window(of) {}

    /// Once a frame. The keyboard is the window's own wherever nothing in it has it: when it opens, and when
    /// what had it is disabled or hidden; it is never taken from another window. What takes it is scrolled
    /// into sight, once.
    void keep();
    /// A click on empty space takes the keyboard out of a field, and gives it to none.
    void clicked(const juce::MouseEvent& event);
    /// In JUCE's, the keyboard of whatever cannot keep it goes to the first field of the place around it. By
    /// this one it goes to the window: nothing is typed into a field that was not chosen.
    [[nodiscard]] static std::unique_ptr<juce::ComponentTraverser> traverser();

private:
    void follow();

    juce::Component& window;
    juce::Component::SafePointer<juce::Component> followed; ///< had the keyboard in the frame before
};

} // namespace valveladder
