#pragma once

#include <span>
#include <vector>

namespace valveladder {

/// Brings sound to an analysis rate that is a whole fraction, or a whole multiple, of its own: a linear-phase
/// FIR (sinc under a Kaiser window, 70 dB), streaming, allocation-free after construction but for growth of
/// the caller's output. Own code instead of a resampling library because a listener needs the exact delay,
/// and a short one; whole ratios are enough, since the analysis takes any rate.
class RateChanger {
public:
    /// Chooses the ratio whose rate comes nearest to `targetRate` from above (or reaches at least three
    /// quarters of it). Rates in Hz, > 0.
    RateChanger(double inputRate, double targetRate);

    [[nodiscard]] double outputRate() const { return outRate; }
    /// Output samples by which the stream lags: output n stands for input time (n - delay()) / outputRate().
    [[nodiscard]] double delay() const;
    /// Appends to `out` what `in` completes.
    void push(std::span<const float> in, std::vector<float>& out);

private:
    void takeOne(float sample, std::vector<float>& out);

    int down = 1;
    int up = 1;
    double outRate = 0.0;
    std::vector<float> taps; ///< reversed, each phase contiguous
    int tapsPerPhase = 0;
    std::vector<float> history; ///< twice the taps, mirrored, so that every window is contiguous
    int head = 0;
    int phase = 0;
};

} // namespace valveladder
