#pragma once

#include "Guide/HostBlock.h"

#include <cstdint>
#include <optional>

namespace valveladder {

/// What a host said about a block, before gaps are filled.
struct HostReport {
    bool present = false; ///< false: the host said nothing at all
    HostBlock block;
    std::optional<std::int64_t> frame; ///< of the first sample on the host's time line
    std::optional<std::int64_t> bar;   ///< counted from 0
};

/// Fills in what LV2 hosts leave out. [audio]
///
/// The LV2 time extension lets a host report its position only where it does not follow from the report
/// before (lv2plug.in/ns/ext/time), and hosts may give frames and bars without beats. So: no report means
/// that time goes on; a report without beats whose frame follows goes on as well, at its tempo; one whose
/// frame lies inside the block tells of a tempo change there. After a jump the position is the frame's at
/// that tempo, or, where the tempo varied before (the frame then lies outside the bar told), the beginning of
/// that bar.
class SparsePosition {
public:
    [[nodiscard]] HostBlock complete(const HostReport& report) noexcept;

private:
    /// Where time is known for certain; it goes on from here.
    struct Anchor {
        HostBlock block; ///< ppq is that of the anchor
        std::optional<std::int64_t> frame;
    };

    [[nodiscard]] std::optional<double> heldPpq(std::int64_t later = 0) const noexcept;
    /// How far the report's frame lies behind the one that was due, samples; nothing when either is unknown.
    [[nodiscard]] std::optional<std::int64_t> ahead(const HostReport& report) const noexcept;
    [[nodiscard]] HostBlock goOn(const HostReport& report) noexcept;
    [[nodiscard]] HostBlock changeInside(const HostReport& report, std::int64_t offset) noexcept;
    [[nodiscard]] HostBlock take(const HostReport& report) noexcept;

    std::optional<Anchor> anchor;
    std::int64_t samplesSince = 0; ///< from the anchor to the next block
};

} // namespace valveladder
