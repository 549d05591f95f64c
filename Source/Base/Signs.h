#pragma once

namespace valveladder {

/// The signs of everything that is read on paper, lit or printed, so that no colour ever speaks alone.
enum class Sign {
    tick,
    cross,
    warning, ///< a triangle with an exclamation mark
    hint,    ///< a disc with an i
    open,    ///< an empty ring
    breath,
    extraNote,   ///< a small note head with a plus
    otherValves, ///< a valve, struck through
    finger       ///< a valve, filled
};

/// A sign's one shape, for all who draw it.
struct SignShape {
    const char* path = "";  ///< of M, L, C and Z as in SVG 1.1, within a square of 1 by 1, y downwards
    double lineWidth = 0.0; ///< of that square's; 0: filled, even-odd
};

[[nodiscard]] SignShape shapeOf(Sign sign);

} // namespace valveladder
