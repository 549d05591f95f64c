#include "Screen/WindowKeys.h"

#include <array>
#include <utility>

namespace valveladder {

namespace {

using enum WindowCommand;

constexpr std::array<std::pair<char, WindowCommand>, 12> letters{{{'1', rung},
                                                                  {'2', landing},
                                                                  {'3', stair},
                                                                  {'4', part},
                                                                  {'s', setUp},
                                                                  {'t', take},
                                                                  {'r', repeat},
                                                                  {'p', sound},
                                                                  {'e', exportPlace},
                                                                  {'m', messages},
                                                                  {'d', details},
                                                                  {'b', sides}}};

std::optional<WindowCommand> historyOf(const juce::KeyPress& key) {
    switch (juce::CharacterFunctions::toLowerCase(static_cast<juce::juce_wchar>(key.getKeyCode()))) {
    case 'z':
        return key.getModifiers().isShiftDown() ? redo : undo;
    case 'y':
        return redo;
    default:
        return std::nullopt;
    }
}

} // namespace

std::optional<WindowCommand> commandOf(const juce::KeyPress& key) {
    if (key.getModifiers().isCommandDown())
        return historyOf(key);
    if (key == juce::KeyPress::escapeKey)
        return backToOwn;
    if (key == juce::KeyPress::spaceKey)
        return clock;
    if (key.getModifiers().isAnyModifierKeyDown())
        return std::nullopt;
    const juce::juce_wchar pressed = juce::CharacterFunctions::toLowerCase(key.getTextCharacter());
    for (const auto& [letter, command] : letters)
        if (pressed == static_cast<juce::juce_wchar>(letter))
            return command;
    return std::nullopt;
}

bool isTheHosts(const juce::KeyPress& key) {
    const juce::juce_wchar letter = juce::CharacterFunctions::toLowerCase(key.getTextCharacter());
    return key.getModifiers().isCommandDown() || key == juce::KeyPress::spaceKey || letter == 'r';
}

} // namespace valveladder
