#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// Hues of the palette by Okabe and Ito, "Color Universal Design" (2008), which stay apart for all common
/// kinds of colour vision (see also Wong, "Points of view: Color blindness", Nature Methods 8, 2011).
namespace okabeIto {
inline const juce::Colour orange{0xFFE69F00};
inline const juce::Colour green{0xFF009E73};
inline const juce::Colour vermilion{0xFFD55E00};
} // namespace okabeIto

/// A lit sheet in a dark room: what is read to be played lies on `paper`, in ink; all else stands back in the
/// room. Colours by what they are for. Words are always in `text`, `quiet` or `accentText` in the room, and
/// in an ink on paper, which keep a contrast of 4.5:1 and more (WCAG 2.2, 1.4.3); the hues mark shapes, and
/// never alone.
struct Theme {
    bool isDark = true;
    juce::Colour ground; ///< the room
    juce::Colour panel;  ///< what lies in it
    juce::Colour raised; ///< controls
    juce::Colour line;   ///< hairlines and axes
    juce::Colour text;
    juce::Colour quiet;
    juce::Colour accent; ///< brass, the one accent: what is on now, what to press
    juce::Colour accentText;
    juce::Colour onAccent; ///< words and marks on the accent
    juce::Colour good;     ///< right; always beside a tick
    juce::Colour onGood;
    juce::Colour alarm; ///< trouble and faults; always beside a sign or a figure
    juce::Colour onAlarm;

    // On the sheet.
    juce::Colour paper;
    juce::Colour ink;       ///< engraving and words
    juce::Colour quietInk;  ///< second words
    juce::Colour staffLine; ///< the five lines
    juce::Colour faintInk;  ///< valves to come
    juce::Colour accentInk; ///< the note that is on now
    juce::Colour goodInk;
    juce::Colour alarmInk;

    [[nodiscard]] static const Theme& dark();
    [[nodiscard]] static const Theme& light();
};

/// Distances of the grid and heights of type, px at 100 %.
namespace grid {
inline constexpr int unit = 8;
inline constexpr int margin = 24;
inline constexpr int gutter = 16;
inline constexpr int control = 40;              ///< height of every control; WCAG 2.2, 2.5.8 asks for 24
inline constexpr int headingLine = control + 6; ///< heading of what folds
inline constexpr int heading = 30;              ///< name over a part, and the air under it
inline constexpr float corner = 12.0F;          ///< of sheets and cards
inline constexpr float caption = 14.0F;         ///< nothing is smaller
inline constexpr float body = 16.0F;
inline constexpr float lead = 18.0F;
inline constexpr float title = 22.0F;
inline constexpr float figure = 38.0F;
inline constexpr float large = 52.0F;
} // namespace grid

} // namespace valveladder
