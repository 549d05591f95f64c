#pragma once

#include "Listening/Performance.h"
#include "Score/Score.h"
#include "Valves/Instrument.h"

#include <string>

namespace valveladder {

/// What a take's picture shows beside the take itself.
struct PictureText {
    std::string title;    ///< e.g. the drill's name and when it was played
    std::string subtitle; ///< e.g. tempo and verdict
};

/// A take as a Scalable Vector Graphic (SVG 1.1), whole in itself. Rungs stand stacked from low (at the foot)
/// to high, segments side by side. In each cell a dot for every note heard, above the zero line when late,
/// below when early (onset deviation, ms); under them a bar for each measured changeover (ms). Under these
/// stand each note's sign, the same as on the window's sheet (Words/NoteSigns.h), its combination by name,
/// and what was told of it beside; a breath over the dots. A legend tells the signs that occur. Every mark
/// carries its figures as a <title>.
[[nodiscard]] std::string takePicture(const Performance& played, const Score& score,
                                      const Instrument& instrument, const PictureText& text);

} // namespace valveladder
