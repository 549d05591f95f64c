#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// [message] Gives a key that the plugin's window does not use to the window of the host that it lies in. On
/// X11 a window that is embedded in another keeps its keys to itself; elsewhere JUCE passes on what is not
/// used, and this does nothing.
void passToHost(const juce::Component& window, const juce::KeyPress& key);

} // namespace valveladder
