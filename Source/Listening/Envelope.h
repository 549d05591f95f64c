#pragma once

#include <span>
#include <vector>

namespace valveladder {

/// Root mean square over a sliding centred window, from prefix sums, for one piece of sound.
class Envelope {
public:
    explicit Envelope(std::span<const float> sound);

    [[nodiscard]] double size() const { return static_cast<double>(sums.size() - 1); }
    /// Mean square over `window` samples about `centre` (both may be fractional; clipped to the sound).
    [[nodiscard]] double meanSquare(double centre, double window) const;
    [[nodiscard]] double rms(double centre, double window) const;
    /// Greatest rms within [from, to), probed every `step` samples.
    [[nodiscard]] double maxRms(double from, double to, double window, double step) const;

private:
    std::vector<double> sums;
};

/// Going back from `from` to `floor`, where the envelope last rose through `threshold`; `floor` when it
/// stayed above. Samples.
[[nodiscard]] double riseBefore(const Envelope& envelope, double from, double floor, double window,
                                double threshold);

} // namespace valveladder
