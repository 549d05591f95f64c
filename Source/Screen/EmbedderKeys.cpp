// X11's names and JUCE's do not go together in one source, so this one knows nothing of JUCE.

#include "Screen/EmbedderKeys.h"

#if defined(__linux__)

#include <X11/Xlib.h>
#include <memory>

namespace valveladder {

namespace {

struct CloseDisplay {
    void operator()(Display* display) const { XCloseDisplay(display); }
};

Window parentOf(Display* display, Window window, Window& root) {
    Window parent = 0;
    Window* children = nullptr;
    unsigned count = 0;
    if (XQueryTree(display, window, &root, &parent, &children, &count) == 0)
        return 0;
    if (children != nullptr)
        XFree(children);
    return parent;
}

/// Window managers mark the windows that are theirs to manage so (ICCCM 4.1.3.1).
bool isManaged(Display* display, Window window) {
    const Atom state = XInternAtom(display, "WM_STATE", True);
    if (state == 0)
        return false;
    Atom type = 0;
    int format = 0;
    unsigned long items = 0;
    unsigned long left = 0;
    unsigned char* data = nullptr;
    XGetWindowProperty(display, window, state, 0, 0, False, AnyPropertyType, &type, &format, &items, &left,
                       &data);
    if (data != nullptr)
        XFree(data);
    return type != 0;
}

/// The host's own window: the managed one, or the last below the root where no manager runs; 0 = none.
Window topOf(Display* display, Window window, Window& root) {
    Window at = window;
    for (Window parent = parentOf(display, at, root); parent != 0 && parent != root;
         parent = parentOf(display, at, root)) {
        at = parent;
        if (isManaged(display, at))
            return at;
    }
    return at == window ? 0 : at;
}

} // namespace

void sendKeyToEmbedder(unsigned long window, unsigned long keysym, const HeldKeys& held) {
    const std::unique_ptr<Display, CloseDisplay> display(XOpenDisplay(nullptr));
    if (!display || window == 0)
        return;
    Window root = 0;
    const Window host = topOf(display.get(), window, root);
    const KeyCode code = XKeysymToKeycode(display.get(), keysym);
    if (host == 0 || code == 0)
        return;
    XEvent event{};
    XKeyEvent& key = event.xkey;
    key.display = display.get();
    key.window = host;
    key.root = root;
    key.time = CurrentTime;
    key.same_screen = True;
    key.keycode = code;
    key.state =
        (held.shift ? ShiftMask : 0U) | (held.control ? ControlMask : 0U) | (held.alt ? Mod1Mask : 0U);
    for (const int type : {KeyPress, KeyRelease}) {
        key.type = type;
        XSendEvent(display.get(), host, False, NoEventMask, &event); // to the program that made the window
    }
}

} // namespace valveladder

#else

namespace valveladder {

void sendKeyToEmbedder(unsigned long, unsigned long, const HeldKeys&) {}

} // namespace valveladder

#endif
