#pragma once

namespace valveladder {

/// Music symbols by their code points in SMuFL, the Standard Music Font Layout (W3C Music Notation Community
/// Group, version 1.4), which every SMuFL font holds at the same places.
enum class Glyph : char32_t {
    repeatDot = 0xE044,
    segno = 0xE047,
    coda = 0xE048,
    gClef = 0xE050,
    fClef = 0xE062,
    timeSignature0 = 0xE080, ///< digits follow in order
    wholeHead = 0xE0A2,
    halfHead = 0xE0A3,
    blackHead = 0xE0A4,
    augmentationDot = 0xE1E7,
    flag8thUp = 0xE240, ///< then 8th down, 16th up, 16th down, ...
    flat = 0xE260,
    natural = 0xE261,
    sharp = 0xE262,
    accentAbove = 0xE4A0,
    accentBelow = 0xE4A1,
    breathComma = 0xE4CE,
    wholeRest = 0xE4E3, ///< then half, quarter, 8th, ...
    tuplet0 = 0xE880,   ///< digits follow in order
    metronomeQuarter = 0xECA5
};

[[nodiscard]] constexpr Glyph plus(Glyph glyph, int offset) {
    return static_cast<Glyph>(static_cast<char32_t>(glyph) + static_cast<char32_t>(offset));
}

/// Measures of the font Bravura (its bravura_metadata.json, version 1.39), in staff spaces. A glyph's origin
/// lies on its left edge, at the height that SMuFL gives its class.
namespace bravura {
inline constexpr double staffLine = 0.13;
inline constexpr double stem = 0.12;
inline constexpr double beam = 0.5;
inline constexpr double beamGap = 0.25;
inline constexpr double ledgerLine =
    staffLine; ///< the font asks for 0.16; of one weight they read as one staff
inline constexpr double ledgerExtension = 0.4;
inline constexpr double barLine = 0.16;
inline constexpr double thickBarLine = 0.5;
inline constexpr double barLineGap = 0.4; ///< between a thick and a thin one
inline constexpr double repeatDotGap = 0.16;
inline constexpr double repeatDotWidth = 0.4;
inline constexpr double endingLine = 0.16; ///< of the bracket over an ending
inline constexpr double slurEnd = 0.1;
inline constexpr double slurMiddle = 0.22;
inline constexpr double headWidth = 1.18;
inline constexpr double wholeHeadWidth = 1.688;
inline constexpr double stemAtHead = 0.168; ///< where a stem leaves the head, off its middle
inline constexpr double clefWidth = 2.7;
inline constexpr double digitWidth = 1.88;
inline constexpr double tupletDigitWidth = 1.18;
inline constexpr double accentWidth = 1.356;
inline constexpr double accentHeight = 0.98;
inline constexpr double sharpWidth = 0.996;
inline constexpr double flatWidth = 0.904;
inline constexpr double naturalWidth = 0.672;
inline constexpr double dotWidth = 0.4;
inline constexpr double flagWidth = 1.056; ///< of an eighth's, stem up
inline constexpr double restWidth = 1.1;
inline constexpr double commaWidth = 0.61;
} // namespace bravura

} // namespace valveladder
