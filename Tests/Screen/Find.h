#pragma once

#include "Screen/ResultStaff.h"
#include "Screen/Window.h"
#include "Screen/Within.h"

#include <functional>
#include <stdexcept>

namespace valveladder {

/// The first component of a kind, in depth, that fits, visible or hidden too; nullptr where there is none.
template <typename Wanted>
Wanted* find(juce::Component& parent, const std::function<bool(const Wanted&)>& fits,
             bool hiddenToo = false) {
    for (juce::Component* child : parent.getChildren()) {
        if (!hiddenToo && !child->isVisible())
            continue;
        if (auto* wanted = dynamic_cast<Wanted*>(child); wanted != nullptr && fits(*wanted))
            return wanted;
        if (auto* inside = find<Wanted>(*child, fits, hiddenToo))
            return inside;
    }
    return nullptr;
}

/// Whether a take's result stands on the sheet.
inline bool resultIsShown(juce::Component& parent) {
    return find<ResultStaff>(parent, [](const ResultStaff& staff) { return staff.chosenNote() >= 0; }) !=
           nullptr;
}

/// The one component of a kind in the window, or in a part of it, be it shown or not; throws std::logic_error
/// where there is none.
template <typename Wanted>
Wanted& theOne(juce::Component& parent) {
    Wanted* wanted = find<Wanted>(
        parent, [](const Wanted&) { return true; }, true);
    if (wanted == nullptr)
        throw std::logic_error("there is no such component");
    return *wanted;
}

/// The button that is visible and has this text on it.
inline juce::TextButton* buttonCalled(Window& window, const juce::String& text) {
    return find<juce::TextButton>(
        window, [&text](const juce::TextButton& each) { return each.getButtonText() == text; });
}

/// Lets frames go by until something holds.
inline bool pump(Window& window, const std::function<bool()>& holds) {
    return eventually([&] {
        window.refresh();
        return holds();
    });
}

} // namespace valveladder
