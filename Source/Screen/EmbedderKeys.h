#pragma once

namespace valveladder {

struct HeldKeys {
    bool shift = false;
    bool control = false;
    bool alt = false;
};

/// Sends a key, pressed and let go, to the program whose top window the X11 window `window` is embedded in.
/// Nothing happens where it is a top window itself. `keysym` as X11 numbers them.
void sendKeyToEmbedder(unsigned long window, unsigned long keysym, const HeldKeys& held);

} // namespace valveladder
