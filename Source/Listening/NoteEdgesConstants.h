#pragma once

namespace valveladder::edges {

/// Sound looked at beyond the contour's edge, seconds.
inline constexpr double marginSeconds = 0.12;
/// A note ends at the last moment at this share of its level.
inline constexpr double halfLevel = 0.5;
/// For a note's end its level is the greatest within this time before it dies away, seconds, echoes included.
inline constexpr double endLevelSeconds = 0.25;

} // namespace valveladder::edges
