#include "Host/ExpectedGuide.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace valveladder::host {

namespace {

/// Contiguous blocks [first, last).
struct Stretch {
    std::size_t first = 0;
    std::size_t last = 0;
};

double endPpq(const HostBlock& block) {
    return *block.ppq + block.samples * *block.bpm / (60.0 * block.sampleRate);
}

std::vector<Stretch> stretches(const std::vector<Told>& told) {
    constexpr double closeQuarters = 1e-6;
    std::vector<Stretch> result;
    bool open = false;
    for (std::size_t i = 0; i < told.size(); ++i) {
        const HostBlock& block = told[i].block;
        const bool follows =
            open && block.playing && std::abs(*block.ppq - endPpq(told[i - 1].block)) < closeQuarters;
        if (follows)
            result.back().last = i + 1;
        else if (block.playing)
            result.push_back({i, i + 1});
        open = block.playing;
    }
    return result;
}

/// The sample at which `ppq` falls, for the first block of the stretch that holds it; nothing outside.
std::optional<std::int64_t> sampleOf(double ppq, const Stretch& stretch, const std::vector<Told>& told) {
    for (std::size_t i = stretch.first; i < stretch.last; ++i) {
        const HostBlock& block = told[i].block;
        const double offset = (ppq - *block.ppq) * 60.0 / *block.bpm * block.sampleRate;
        // Half a sample of slack: an onset at the very start may lie a rounding error before it.
        if (offset > -0.5 && offset < block.samples - 0.5)
            return told[i].startSample + std::llround(offset);
    }
    return std::nullopt;
}

void addLap(std::vector<GuideNote>& result, const Score& score, double lapStart, const Stretch& stretch,
            const std::vector<Told>& told) {
    const Told& last = told[stretch.last - 1];
    const std::int64_t end = last.startSample + last.block.samples;
    for (const ScoreNote& note : score.notes) {
        const double onset = lapStart + static_cast<double>(note.onset) / ticksPerQuarter;
        const auto on = sampleOf(onset, stretch, told);
        if (!on)
            continue;
        const auto off = sampleOf(onset + static_cast<double>(note.gate) / ticksPerQuarter, stretch, told);
        result.push_back({*on, off.value_or(end), note.sounding, note.velocity});
    }
}

} // namespace

std::vector<GuideNote> expectedNotes(const Score& score, const std::vector<Told>& told) {
    std::vector<GuideNote> result;
    const double lap = static_cast<double>(score.length) / ticksPerQuarter;
    for (const Stretch& stretch : stretches(told)) {
        const double from = *told[stretch.first].block.ppq;
        const double to = endPpq(told[stretch.last - 1].block);
        for (auto number = static_cast<int>(std::max(0.0, std::floor(from / lap))); number * lap < to;
             ++number)
            addLap(result, score, number * lap, stretch, told);
    }
    return result;
}

std::vector<GuideNote> sentNotes(const std::vector<Sent>& sent, int channel) {
    std::vector<GuideNote> result;
    for (const Sent& message : sent) {
        const MidiEvent& event = message.event;
        if (event.channel() != channel)
            continue;
        if (event.isNoteOn()) {
            result.push_back({message.sample, -1, event.bytes[1], event.bytes[2]});
        } else if (event.isNoteOff()) {
            const auto open = std::find_if(result.rbegin(), result.rend(), [&](const GuideNote& note) {
                return note.off < 0 && note.pitch == event.bytes[1];
            });
            if (open != result.rend())
                open->off = message.sample;
            else
                result.push_back({-1, message.sample, event.bytes[1], 0});
        }
    }
    return result;
}

} // namespace valveladder::host
