// The tests run without a window manager: one gives and takes the keys in its own time, however long a test
// waits. But JUCE 7 asks for names of properties that only one makes known, when it first opens the display:
// here they are made known before that, over a connection that stays open, since the server forgets them with
// its last client.

#include <X11/Xlib.h>

#include <initializer_list>

namespace {

// Volatile, so that it stays where the leak sanitizer looks for it.
Display* volatile namesKnown = [] {
    Display* display = XOpenDisplay(nullptr);
    if (display == nullptr)
        return display;
    for (const char* name :
         {"WM_PROTOCOLS", "WM_TAKE_FOCUS", "WM_DELETE_WINDOW", "WM_CHANGE_STATE", "WM_STATE", "_NET_WM_PING",
          "_NET_WM_STATE", "_NET_WM_STATE_HIDDEN", "_NET_WM_WINDOW_TYPE", "_NET_WM_WINDOW_TYPE_NORMAL",
          "_NET_WM_WINDOW_TYPE_COMBO"})
        XInternAtom(display, name, False);
    XSync(display, False);
    return display;
}();

} // namespace
