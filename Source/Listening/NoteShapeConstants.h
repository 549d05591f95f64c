#pragma once

namespace valveladder::shape {

/// A note struck while another dies away is blurred by it for this long, seconds.
inline constexpr double blurSeconds = 0.03;
/// What fits a step of HeardNote::shape beside noLevel, in units of shapeDb under full scale.
inline constexpr long quietestUnits = -127;
inline constexpr long loudestUnits = 0;
/// Of a ratio of levels one decade.

} // namespace valveladder::shape
