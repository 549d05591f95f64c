#include "Base/FileBytes.h"
#include "Base/Path.h"
#include "Files/FileKinds.h"
#include "Files/Smf.h"

#include <cstring>
#include <optional>

namespace valveladder {

namespace {

using Input = std::span<const std::uint8_t>;

constexpr std::size_t chunkHeadSize = 8;
constexpr std::size_t headerFields = 6;
constexpr const char* exportAgain =
    "export it again as a Standard MIDI File (.mid) of format 0 or 1, or get a whole copy";

std::string hex(std::uint8_t byte) {
    constexpr const char* digits = "0123456789ABCDEF";
    return {digits[byte >> 4], digits[byte & 0x0F]};
}

Problem refused(std::string what, std::size_t offset, std::string remedy) {
    return {std::move(what), "byte " + std::to_string(offset), std::move(remedy)};
}

/// Its fault comes after what a player needs to know: that the file is not whole.
Problem broken(const std::string& fault, std::size_t offset) {
    return refused("the MIDI file is damaged: " + fault, offset, exportAgain);
}

std::uint32_t bigEndian(Input bytes, std::size_t at, int count) {
    std::uint32_t value = 0;
    for (int i = 0; i < count; ++i)
        value = value << 8 | bytes[at + static_cast<std::size_t>(i)];
    return value;
}

bool named(Input bytes, std::size_t at, const char* name) {
    return bytes.size() >= at + 4 && std::memcmp(bytes.data() + at, name, 4) == 0;
}

std::size_t dataBytes(std::uint8_t status) {
    const int kind = status & 0xF0;
    return kind == 0xC0 || kind == 0xD0 ? 1 : 2;
}

/// Reads one track chunk's body, [at, end) of the file.
class TrackReader {
public:
    TrackReader(Input file, std::size_t from, std::size_t to) : bytes(file), at(from), end(to) {}

    Result<SmfTrack> read() {
        while (!problem && at < end)
            if (readEvent())
                return finished();
        if (problem)
            return *problem;
        return broken("the track ends without its End of Track event (FF 2F 00)", end);
    }

private:
    Result<SmfTrack> finished() {
        if (at != end)
            return broken("the track goes on after its End of Track event", at);
        track.length = tick;
        return std::move(track);
    }

    /// True at End of Track.
    bool readEvent() {
        const std::optional<std::uint32_t> delta = variableLength();
        if (!delta || !need(1))
            return false;
        tick += *delta;
        const std::uint8_t status = bytes[at];
        if (status < 0xF0)
            readChannelMessage();
        else if (status == SmfMeta::status)
            return readMeta();
        else if (status == 0xF0 || status == 0xF7)
            readWithLength(1);
        else
            fail("status byte " + hex(status) + " has no place in a file", at);
        return false;
    }

    void readChannelMessage() {
        if (bytes[at] & 0x80)
            running = bytes[at++];
        else if (!running)
            return fail("data byte " + hex(bytes[at]) + " where a status byte is due", at);
        const std::size_t count = dataBytes(running);
        if (!need(count))
            return;
        for (std::size_t i = at; i < at + count; ++i)
            if (bytes[i] & 0x80)
                return fail("status byte " + hex(bytes[i]) + " inside a channel message", i);
        SmfEvent event{tick, {running}};
        event.bytes.insert(event.bytes.end(), bytes.data() + at, bytes.data() + at + count);
        track.events.push_back(std::move(event));
        at += count;
    }

    bool readMeta() {
        if (!need(2))
            return false;
        if (bytes[at + 1] & 0x80) {
            fail("meta event of type " + hex(bytes[at + 1]) + "; types end at 7F", at + 1);
            return false;
        }
        const bool isEnd = bytes[at + 1] == SmfMeta::endOfTrack;
        readWithLength(2);
        if (isEnd && !problem)
            track.events.pop_back();
        return isEnd && !problem;
    }

    void readWithLength(std::size_t headSize) {
        running = 0;
        SmfEvent event{tick,
                       {bytes.begin() + static_cast<std::ptrdiff_t>(at),
                        bytes.begin() + static_cast<std::ptrdiff_t>(at + headSize)}};
        at += headSize;
        const std::optional<std::uint32_t> length = variableLength();
        if (!length || !need(*length))
            return;
        event.bytes.insert(event.bytes.end(), bytes.data() + at, bytes.data() + at + *length);
        track.events.push_back(std::move(event));
        at += *length;
    }

    std::optional<std::uint32_t> variableLength() {
        std::uint32_t value = 0;
        const std::size_t start = at;
        for (int i = 0; i < 4; ++i) {
            if (!need(1))
                return std::nullopt;
            const std::uint8_t byte = bytes[at++];
            value = value << 7 | (byte & 0x7F);
            if (!(byte & 0x80))
                return value;
        }
        fail("a variable-length quantity goes on past four bytes", start);
        return std::nullopt;
    }

    bool need(std::size_t count) {
        if (end - at >= count)
            return true;
        fail("an event runs past the end of its track", at);
        return false;
    }

    void fail(std::string what, std::size_t offset) {
        if (!problem)
            problem = broken(std::move(what), offset);
    }

    Input bytes;
    std::size_t at;
    std::size_t end;
    std::int64_t tick = 0;
    std::uint8_t running = 0;
    SmfTrack track;
    std::optional<Problem> problem;
};

struct Header {
    SmfFile file;
    std::size_t announcedTracks = 0;
    std::size_t end = 0;
};

std::optional<Problem> notSmf(Input bytes) {
    if (bytes.size() > maxSmfBytes)
        return refused("the MIDI file has more than " + std::to_string(maxSmfBytes) + " bytes", maxSmfBytes,
                       "split it, or check that it is the right file");
    if (bytes.empty())
        return refused("the file is empty, and so not a Standard MIDI File", 0, exportAgain);
    if (named(bytes, 0, "RIFF"))
        return refused(
            "the file is of another kind than its name says: a RIFF file (a sound, or MIDI packed in "
            "one), not a Standard MIDI File",
            0, exportAgain);
    if (!beginsAsSmf(bytes))
        return refused(
            "the file is damaged, or of another kind than its name says: it is not a Standard MIDI File", 0,
            exportAgain);
    if (bytes.size() < chunkHeadSize + headerFields)
        return broken("it ends inside its header", bytes.size());
    return std::nullopt;
}

Result<Header> readHeader(Input bytes) {
    if (const std::optional<Problem> problem = notSmf(bytes))
        return *problem;
    const std::size_t length = bigEndian(bytes, 4, 4);
    if (length < headerFields || length > bytes.size() - chunkHeadSize)
        return broken("its header says it has " + std::to_string(length) + " bytes", 4);
    const std::uint32_t format = bigEndian(bytes, 8, 2);
    if (format > 2)
        return refused("the MIDI file is of format " + std::to_string(format) + ", which is unknown", 8,
                       exportAgain);
    const std::uint32_t division = bigEndian(bytes, 12, 2);
    if (division & 0x8000)
        return refused("the MIDI file counts time in SMPTE frames, not in parts of a quarter note", 12,
                       "export it again with ticks a quarter note (PPQ)");
    if (division == 0)
        return broken("a quarter note is said to have no ticks", 12);
    Header header;
    header.file.format = static_cast<int>(format);
    header.file.ticksPerQuarterNote = static_cast<int>(division);
    header.announcedTracks = bigEndian(bytes, 10, 2);
    header.end = chunkHeadSize + length;
    if (format == 0 && header.announcedTracks != 1)
        return broken("it is of format 0 with " + std::to_string(header.announcedTracks) + " tracks, not one",
                      10);
    return header;
}

Problem tooFewTracks(const Header& header, std::size_t size) {
    return broken("its header announces " + std::to_string(header.announcedTracks) +
                      " tracks, and it holds " + std::to_string(header.file.tracks.size()),
                  size);
}

} // namespace

Result<SmfFile> readSmf(std::span<const std::uint8_t> bytes) {
    Result<Header> read = readHeader(bytes);
    if (!read)
        return read.problem();
    Header& header = read.value();
    std::vector<SmfTrack>& tracks = header.file.tracks;
    std::size_t at = header.end;
    while (tracks.size() < header.announcedTracks) {
        if (bytes.size() - at < chunkHeadSize)
            return tooFewTracks(header, bytes.size());
        const std::size_t length = bigEndian(bytes, at + 4, 4);
        if (length > bytes.size() - at - chunkHeadSize)
            return broken("a chunk of " + std::to_string(length) + " bytes runs past the end of the file",
                          at + 4);
        const std::size_t from = at + chunkHeadSize;
        if (named(bytes, at, "MTrk")) {
            Result<SmfTrack> track = TrackReader(bytes, from, from + length).read();
            if (!track)
                return track.problem();
            tracks.push_back(std::move(track.value()));
        }
        at = from + length;
    }
    return std::move(header.file);
}

std::optional<int> microsecondsOf(const SmfEvent& event) {
    constexpr std::size_t size = 5; // status, type, three bytes
    const auto& bytes = event.bytes;
    if (bytes.size() != size || bytes[0] != SmfMeta::status || bytes[1] != SmfMeta::tempo)
        return std::nullopt;
    return static_cast<int>(bigEndian(bytes, 2, 3));
}

Result<SmfFile> readSmfFile(const std::filesystem::path& path) {
    const Result<std::vector<std::uint8_t>> bytes = readFileBytes(path, maxSmfBytes);
    if (!bytes)
        return bytes.problem();
    Result<SmfFile> file = readSmf(bytes.value());
    if (!file)
        return inFile(file.problem(), pathText(path));
    return file;
}

} // namespace valveladder
