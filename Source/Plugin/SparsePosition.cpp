#include "Plugin/SparsePosition.h"

namespace valveladder {

namespace {

double quarters(std::int64_t samples, double bpm, double sampleRate) {
    return static_cast<double>(samples) * bpm / (60.0 * sampleRate);
}

} // namespace

std::optional<double> SparsePosition::heldPpq() const noexcept {
    if (!anchor || !anchor->ppq)
        return std::nullopt;
    if (!anchor->playing || !anchor->bpm)
        return anchor->ppq;
    return *anchor->ppq + quarters(samplesSince, *anchor->bpm, anchor->sampleRate);
}

std::optional<double> SparsePosition::placed(const HostReport& report) const noexcept {
    const HostBlock& block = report.block;
    if (!report.frame || !block.bpm)
        return std::nullopt;
    const bool follows = anchorFrame && anchor && anchor->playing && *report.frame == *anchorFrame + samplesSince;
    if (const auto held = heldPpq(); follows && held)
        return held;
    const double atThisTempo = quarters(*report.frame, *block.bpm, block.sampleRate);
    if (!report.bar || !block.meterBeats || !block.meterUnit)
        return atThisTempo;
    // A frame is whole, so a bar line may lie up to a sample later.
    const double slack = quarters(1, *block.bpm, block.sampleRate);
    const double barQuarters = 4.0 * *block.meterBeats / *block.meterUnit;
    const double barStart = static_cast<double>(*report.bar) * barQuarters;
    const bool insideBar = atThisTempo >= barStart - slack && atThisTempo < barStart + barQuarters + slack;
    return insideBar ? atThisTempo : barStart;
}

HostBlock SparsePosition::complete(const HostReport& report) noexcept {
    HostBlock block = report.block;
    if (report.present) {
        if (!block.ppq)
            block.ppq = placed(report);
        anchor = block;
        anchorFrame = report.frame;
        samplesSince = block.samples;
        return block;
    }
    if (!anchor)
        return block;
    const auto ppq = heldPpq();
    block = *anchor;
    block.ppq = ppq;
    block.samples = report.block.samples;
    block.bypassed = report.block.bypassed;
    block.offline = report.block.offline;
    samplesSince += block.samples;
    return block;
}

} // namespace valveladder
