#include "Plugin/SparsePosition.h"

namespace valveladder {

namespace {

double quarters(std::int64_t samples, double bpm, double sampleRate) {
    return static_cast<double>(samples) * bpm / (60.0 * sampleRate);
}

/// The position of a frame that does not follow from anything known.
std::optional<double> placed(const HostReport& report) {
    const HostBlock& block = report.block;
    if (!report.frame || !block.bpm)
        return std::nullopt;
    const double atThisTempo = quarters(*report.frame, *block.bpm, block.sampleRate);
    if (*report.frame < 0 || !report.bar || !block.meterBeats || !block.meterUnit)
        return atThisTempo; // before zero (pre-roll) bars are not told
    // A frame is whole, so a bar line may lie up to a sample later.
    const double slack = quarters(1, *block.bpm, block.sampleRate);
    const double barQuarters = 4.0 * *block.meterBeats / *block.meterUnit;
    const double barStart = static_cast<double>(*report.bar) * barQuarters;
    const bool insideBar = atThisTempo >= barStart - slack && atThisTempo < barStart + barQuarters + slack;
    return insideBar ? atThisTempo : barStart;
}

} // namespace

std::optional<double> SparsePosition::heldPpq(std::int64_t later) const noexcept {
    const HostBlock& block = anchor->block;
    if (!block.ppq || !block.playing || !block.bpm)
        return block.ppq;
    return *block.ppq + quarters(samplesSince + later, *block.bpm, block.sampleRate);
}

std::optional<std::int64_t> SparsePosition::ahead(const HostReport& report) const noexcept {
    if (!anchor || !anchor->frame || !anchor->block.playing || !report.block.playing || !report.frame)
        return std::nullopt;
    return *report.frame - (*anchor->frame + samplesSince);
}

HostBlock SparsePosition::goOn(const HostReport& report) noexcept {
    HostBlock block = anchor->block;
    block.ppq = heldPpq();
    block.samples = report.block.samples;
    block.bypassed = report.block.bypassed;
    block.offline = report.block.offline;
    samplesSince += block.samples;
    return block;
}

HostBlock SparsePosition::changeInside(const HostReport& report, std::int64_t offset) noexcept {
    Anchor next{report.block, report.frame};
    next.block.ppq = heldPpq(offset);
    const HostBlock block = goOn(report);
    anchor = next;
    samplesSince = block.samples - offset;
    return block;
}

HostBlock SparsePosition::take(const HostReport& report) noexcept {
    HostBlock block = report.block;
    if (!block.ppq)
        block.ppq = ahead(report) == 0 ? heldPpq() : placed(report);
    anchor = Anchor{block, report.frame};
    samplesSince = block.samples;
    return block;
}

HostBlock SparsePosition::complete(const HostReport& report) noexcept {
    if (!report.present)
        return anchor ? goOn(report) : report.block;
    const auto offset = ahead(report);
    if (!report.block.ppq && offset && *offset > 0 && *offset < report.block.samples)
        return changeInside(report, *offset);
    return take(report);
}

} // namespace valveladder
