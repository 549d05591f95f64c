#pragma once

#include "Listening/PitchSalience.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace valveladder {

/// One moment of the pitch contour.
struct ContourFrame {
    float midi = -1.0F;       ///< fractional MIDI number at A4 = 440 Hz; negative = no pitch
    float periodicity = 0.0F; ///< 0..1
    float level = 0.0F;       ///< root mean square, full scale = 1

    [[nodiscard]] bool voiced() const { return midi >= 0.0F; }
};

/// Costs a frame of 5 ms (frameSeconds). Set on the tuning half of the rendered takes.
struct ContourCosts {
    float unvoiced = 0.45F;    ///< a frame without pitch while the sound is above the gate
    float silentVoiced = 1.0F; ///< added to every pitch while the sound is below the gate
    float step = 0.02F;        ///< to the neighbouring quarter of a semitone
    float jump = 1.2F;         ///< to any other pitch
    float voicing = 0.8F;      ///< from pitch to no pitch or back
};

/// Finds the most plausible pitch contour through the saliences by dynamic programming with a fixed look
/// ahead: frame n is settled when frame n + lookAhead is known. Memory is taken at construction.
class PitchContour {
public:
    static constexpr double frameSeconds = 0.005;
    static constexpr int lookAhead = 24;

    PitchContour(int bins, ContourCosts contourCosts = {});

    /// Takes the next frame; returns the settled frame lookAhead earlier, if there is one yet.
    /// `gateOpen`: the sound is loud enough to be a note.
    std::optional<ContourFrame> push(const Salience& salience, float level, bool gateOpen);
    /// The frames not yet settled, oldest first. The contour is empty afterwards.
    std::vector<ContourFrame> finish();
    /// The best guess at the newest frame, without look-ahead.
    [[nodiscard]] ContourFrame newest() const;

private:
    struct Column {
        std::vector<std::int16_t> from; ///< state before; last state = no pitch
        std::vector<float> midi;
        std::vector<float> periodicity;
        float level = 0.0F;
    };
    [[nodiscard]] ContourFrame frameOf(const Column& column, int state) const;
    [[nodiscard]] int bestState() const;
    [[nodiscard]] std::size_t slot(int framesBack) const;
    void advance(Column& column, const Salience& salience, bool gateOpen);

    ContourCosts costs;
    int binCount;
    std::vector<Column> columns; ///< ring of lookAhead + 1
    std::vector<float> cost;     ///< binCount + 1
    std::vector<float> previous;
    int count = 0;
    std::size_t last = 0;
};

} // namespace valveladder
