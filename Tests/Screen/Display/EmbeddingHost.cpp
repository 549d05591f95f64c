#include "Screen/Display/EmbeddingHost.h"

#include <X11/Xlib.h>

namespace valveladder::display {

struct EmbeddingHost::Connection {
    Display* display = XOpenDisplay(nullptr);
    Window top = 0;
    Window place = 0;
};

EmbeddingHost::EmbeddingHost() : connection(std::make_unique<Connection>()) {
    Connection& c = *connection;
    c.top = XCreateSimpleWindow(c.display, DefaultRootWindow(c.display), 0, 0, 1300, 850, 0, 0, 0);
    XSelectInput(c.display, c.top, KeyPressMask);
    c.place = XCreateSimpleWindow(c.display, c.top, 0, 40, 1300, 810, 0, 0, 0);
    XMapWindow(c.display, c.place);
    XMapWindow(c.display, c.top);
    XSync(c.display, False);
}

EmbeddingHost::~EmbeddingHost() {
    XDestroyWindow(connection->display, connection->top);
    XCloseDisplay(connection->display);
}

void* EmbeddingHost::window() const {
    return reinterpret_cast<void*>(connection->place);
}

std::string EmbeddingHost::nextKey() {
    XSync(connection->display, False);
    while (XPending(connection->display) > 0) {
        XEvent event;
        XNextEvent(connection->display, &event);
        if (event.type != KeyPress)
            continue;
        const char* name = XKeysymToString(XLookupKeysym(&event.xkey, 0));
        return std::string((event.xkey.state & ControlMask) != 0 ? "Control " : "") +
               (name != nullptr ? name : "?");
    }
    return "";
}

} // namespace valveladder::display
