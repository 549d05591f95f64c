#pragma once

#include "Guide/HostBlock.h"
#include "Plugin/ToldTempo.h"

#include <cstdint>
#include <optional>

namespace valveladder {

/// The tempo that is really played, where a host tells quarters and counts samples (VST3, AU). [audio]: no
/// allocation.
///
/// The position it tells is exact, the tempo need not be that of the block: on a ramp Ardour 7.3 was seen to
/// tell the ramp's first tempo throughout, and with its transport at another speed the tempo as written. Two
/// positions and the samples between them give what was played (see ToldTempo); by the host's own count of
/// samples it is known whether it played on at all, and at which speed of its time line.
class PlayedTempo {
public:
    /// `block` as the host told it, with the tempo that is played, and whether it was played on to it.
    [[nodiscard]] HostBlock complete(HostBlock block) noexcept;

private:
    /// Where a stretch of one speed began.
    struct Run {
        std::int64_t frame = 0;  ///< the host's
        std::int64_t sample = 0; ///< ours
        double speed = 1.0;      ///< frames a sample

        [[nodiscard]] double due(std::int64_t at) const noexcept {
            return static_cast<double>(frame) + speed * static_cast<double>(at - sample);
        }
    };
    struct Last {
        HostBlock block;
        std::int64_t sample = 0;
    };

    [[nodiscard]] bool playedOn(const HostBlock& block) const noexcept;
    void followSpeed(std::int64_t frame) noexcept;
    [[nodiscard]] double speedBetween(std::int64_t frame, std::int64_t fromFrame,
                                      std::int64_t fromSample) const noexcept;

    std::int64_t samplesDone = 0; ///< before the block
    std::optional<Last> last;
    Run run;
    ToldTempo tempo{ToldTempo::Counts::quarters};
};

} // namespace valveladder
