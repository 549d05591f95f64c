#pragma once

#include <cstdint>

/// The inks of everything that is read on paper, lit or printed: 0xRRGGBB. Each keeps 4.5:1 and more
/// (WCAG 2.2, 1.4.3) on the window's warm paper and on white, and stays apart from the others in grey by its
/// shape or place, never by its hue alone. Hues after Okabe and Ito, "Color Universal Design" (2008),
/// darkened.
namespace valveladder::inks {

inline constexpr std::uint32_t ink = 0x12201B;    ///< music and words
inline constexpr std::uint32_t second = 0x5A5648; ///< second words
inline constexpr std::uint32_t rule = 0x8C8672;   ///< staff lines and axes: no words
inline constexpr std::uint32_t brass = 0x8C5C00;  ///< the one accent
inline constexpr std::uint32_t right = 0x00704F;
inline constexpr std::uint32_t wrong = 0xA84800;

// Where more things than one accent tells apart lie over one another.
inline constexpr std::uint32_t blue = 0x0072B2;
inline constexpr std::uint32_t purple = 0x8A4A70;

} // namespace valveladder::inks
