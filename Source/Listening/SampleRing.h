#pragma once

#include <algorithm>
#include <cstdint>
#include <vector>

namespace valveladder {

/// The last samples of a stream, addressed by their place in it and always contiguous in memory. All memory
/// is taken at construction.
class SampleRing {
public:
    /// Keeps at least `kept` samples.
    explicit SampleRing(std::size_t kept) : keep(kept), samples(2 * kept, 0.0F) {}

    void push(float sample) {
        if (filled == samples.size()) {
            std::copy(samples.end() - static_cast<std::ptrdiff_t>(keep), samples.end(), samples.begin());
            first += static_cast<std::int64_t>(filled - keep);
            filled = keep;
        }
        samples[filled++] = sample;
    }
    [[nodiscard]] std::int64_t begin() const { return first; }
    [[nodiscard]] std::int64_t end() const { return first + static_cast<std::int64_t>(filled); }
    /// Precondition: begin() <= index <= end().
    [[nodiscard]] const float* at(std::int64_t index) const { return samples.data() + (index - first); }

private:
    std::size_t keep;
    std::vector<float> samples;
    std::size_t filled = 0;
    std::int64_t first = 0;
};

} // namespace valveladder
