#include "Targets.h"

#include "Files/Smf.h"

namespace valveladder {

namespace {

constexpr std::size_t promisedMultiple = 50; // of the input's size; see Smf.h

std::size_t memoryOf(const SmfFile& file) {
    std::size_t size = 0;
    for (const SmfTrack& track : file.tracks) {
        size += sizeof track + track.events.capacity() * sizeof(SmfEvent);
        for (const SmfEvent& event : track.events)
            size += event.bytes.capacity();
    }
    return size;
}

} // namespace

Complaint fuzzSmf(std::span<const std::uint8_t> bytes) {
    const Result<SmfFile> read = readSmf(bytes);
    if (!read) {
        if (read.problem().where.empty() || read.problem().remedy.empty())
            return "a refusal without place or remedy: " + read.problem().text();
        return std::nullopt;
    }
    if (memoryOf(read.value()) > promisedMultiple * bytes.size())
        return "more memory than promised";
    const Result<SmfFile> again = readSmf(writeSmf(read.value(), {.runningStatus = true}));
    if (!again)
        return "what was read and written is refused: " + again.problem().text();
    if (!(again.value() == read.value()))
        return "what was read and written reads differently";
    return std::nullopt;
}

} // namespace valveladder
