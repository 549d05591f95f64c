#include "Base/FileBytes.h"
#include "Files/FileKinds.h"
#include "Files/Smf.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

using Bytes = std::vector<std::uint8_t>;

constexpr long maxTempoMicroseconds = 0xFFFFFF;

void appendBigEndian(Bytes& bytes, std::uint32_t value, int count) {
    for (int shift = 8 * (count - 1); shift >= 0; shift -= 8)
        bytes.push_back(static_cast<std::uint8_t>(value >> shift));
}

void appendText(Bytes& bytes, std::string_view text) {
    for (const char letter : text)
        bytes.push_back(static_cast<std::uint8_t>(letter));
}

/// Writes one track's events; knows the running status and the tick reached.
class TrackWriter {
public:
    TrackWriter(Bytes& target, SmfWriteOptions writeOptions) : bytes(target), options(writeOptions) {}

    void write(const SmfEvent& event) {
        advanceTo(event.tick);
        const std::uint8_t status = event.bytes.front();
        if (status < 0xF0)
            writeChannelMessage(event.bytes);
        else
            writeWithLength(event.bytes, status == SmfMeta::status ? 2 : 1);
    }

    void end(std::int64_t length) {
        advanceTo(length);
        bytes.insert(bytes.end(), {SmfMeta::status, SmfMeta::endOfTrack, 0});
    }

private:
    void advanceTo(std::int64_t target) {
        while (target - tick > static_cast<std::int64_t>(maxVariableLength)) {
            appendVariableLength(bytes, maxVariableLength);
            bytes.insert(bytes.end(), {SmfMeta::status, SmfMeta::text, 0});
            running = 0;
            tick += maxVariableLength;
        }
        appendVariableLength(bytes, static_cast<std::uint32_t>(target - tick));
        tick = target;
    }

    void writeChannelMessage(const Bytes& message) {
        const bool omitStatus = options.runningStatus && message.front() == running;
        bytes.insert(bytes.end(), message.begin() + (omitStatus ? 1 : 0), message.end());
        running = message.front();
    }

    void writeWithLength(const Bytes& message, std::ptrdiff_t headSize) {
        bytes.insert(bytes.end(), message.begin(), message.begin() + headSize);
        appendVariableLength(bytes,
                             static_cast<std::uint32_t>(message.size() - static_cast<std::size_t>(headSize)));
        bytes.insert(bytes.end(), message.begin() + headSize, message.end());
        running = 0;
    }

    Bytes& bytes;
    SmfWriteOptions options;
    std::int64_t tick = 0;
    std::uint8_t running = 0;
};

void appendTrack(Bytes& bytes, const SmfTrack& track, SmfWriteOptions options) {
    std::vector<const SmfEvent*> order;
    order.reserve(track.events.size());
    for (const SmfEvent& event : track.events)
        order.push_back(&event);
    std::stable_sort(order.begin(), order.end(),
                     [](const SmfEvent* a, const SmfEvent* b) { return a->tick < b->tick; });

    Bytes body;
    TrackWriter writer(body, options);
    for (const SmfEvent* event : order)
        writer.write(*event);
    writer.end(order.empty() ? track.length : std::max(track.length, order.back()->tick));

    appendText(bytes, "MTrk");
    appendBigEndian(bytes, static_cast<std::uint32_t>(body.size()), 4);
    bytes.insert(bytes.end(), body.begin(), body.end());
}

} // namespace

void appendVariableLength(std::vector<std::uint8_t>& bytes, std::uint32_t value) {
    for (int shift = 21; shift > 0; shift -= 7)
        if (value >> shift)
            bytes.push_back(static_cast<std::uint8_t>(0x80 | ((value >> shift) & 0x7F)));
    bytes.push_back(static_cast<std::uint8_t>(value & 0x7F));
}

std::vector<std::uint8_t> writeSmf(const SmfFile& file, SmfWriteOptions options) {
    Bytes bytes;
    appendText(bytes, smfStart);
    appendBigEndian(bytes, 6, 4);
    appendBigEndian(bytes, static_cast<std::uint32_t>(file.format), 2);
    appendBigEndian(bytes, static_cast<std::uint32_t>(file.tracks.size()), 2);
    appendBigEndian(bytes, static_cast<std::uint32_t>(file.ticksPerQuarterNote), 2);
    for (const SmfTrack& track : file.tracks)
        appendTrack(bytes, track, options);
    return bytes;
}

Result<Done> writeSmfFile(const std::filesystem::path& path, const SmfFile& file, SmfWriteOptions options) {
    return writeFileBytes(path, writeSmf(file, options));
}

SmfEvent smfText(std::int64_t tick, std::uint8_t type, std::string_view text) {
    SmfEvent event{tick, {SmfMeta::status, type}};
    appendText(event.bytes, text);
    return event;
}

SmfEvent smfTempo(std::int64_t tick, double bpm) {
    const long wanted = std::lround(microsecondsAMinute / bpm);
    const auto microseconds = static_cast<std::uint32_t>(std::clamp(wanted, 1L, maxTempoMicroseconds));
    SmfEvent event{tick, {SmfMeta::status, SmfMeta::tempo}};
    appendBigEndian(event.bytes, microseconds, 3);
    return event;
}

SmfEvent smfMeter(std::int64_t tick, int beats, int unit) {
    const int clocksABeat = 24 * 4 / unit;
    int power = 0;
    while ((1 << power) < unit)
        ++power;
    return {tick,
            {SmfMeta::status, SmfMeta::meter, static_cast<std::uint8_t>(beats),
             static_cast<std::uint8_t>(power), static_cast<std::uint8_t>(clocksABeat), 8}};
}

} // namespace valveladder
