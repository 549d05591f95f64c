#pragma once

namespace valveladder {

/// What the window takes of a display.
struct WindowSize {
    int width = 0, height = 0;               ///< px before scaling
    int scalePercent = 100;                  ///< in use
    int mostWidth = 4000, mostHeight = 3000; ///< px before scaling that the display has room for

    static constexpr int leastWidth = 900;
    static constexpr int leastHeight = 600;
    static constexpr int usualWidth = 1280;
    static constexpr int usualHeight = 800;
    bool operator==(const WindowSize&) const = default;
};

/// The usual size, or what of it a display of that many px has room for, at the scale wanted, or the largest
/// at which the smallest window still has room.
[[nodiscard]] WindowSize windowSizeFor(int displayWidth, int displayHeight, int wantedPercent);

/// What the window takes of the room that a host has given it and does not change.
struct FittedSize {
    int width = 0, height = 0; ///< px before scaling, never less than the least
    double scale = 1.0;        ///< below 1 where even the smallest window has no room
};
/// At the scale wanted, or the largest at which the smallest window has room in that many px.
[[nodiscard]] FittedSize fittedInto(int givenWidth, int givenHeight, double wantedScale);

} // namespace valveladder
