#include "Screen/HostKeys.h"

#include "Screen/EmbedderKeys.h"

namespace valveladder {

#if JUCE_LINUX

namespace {

/// JUCE's codes of keys that are no letters, and what X11 calls them.
constexpr int juceExtended = 0x10000000;
constexpr unsigned long keysymExtended = 0xFF00;

unsigned long keysymOf(const juce::KeyPress& key) {
    const int code = key.getKeyCode();
    if ((code & juceExtended) != 0)
        return keysymExtended | static_cast<unsigned long>(code & 0xFF);
    return static_cast<unsigned long>(
        juce::CharacterFunctions::toLowerCase(static_cast<juce::juce_wchar>(code)));
}

} // namespace

void passToHost(const juce::Component& window, const juce::KeyPress& key) {
    const auto* peer = window.getPeer();
    if (peer == nullptr)
        return;
    const auto modifiers = key.getModifiers();
    const HeldKeys held{modifiers.isShiftDown(), modifiers.isCtrlDown(), modifiers.isAltDown()};
    sendKeyToEmbedder(reinterpret_cast<unsigned long>(peer->getNativeHandle()), keysymOf(key), held);
}

#else

void passToHost(const juce::Component&, const juce::KeyPress&) {}

#endif

} // namespace valveladder
