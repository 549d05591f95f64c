#include "Log/PackedTimes.h"

#include <bit>
#include <cmath>
#include <cstdint>
#include <utility>

namespace valveladder {

namespace {

constexpr std::uint8_t layout = 2; ///< the first byte; another one when what follows changes

// Bits of a row's flags.
constexpr std::uint8_t hasFigure = 0x80;
constexpr std::uint8_t firstFlag = 0x01;
constexpr std::uint8_t secondFlag = 0x02;
constexpr std::uint8_t lateFlag = 0x04;   ///< of changes: late fingers follow
constexpr std::uint8_t lateByFlag = 0x08; ///< and how late they were
constexpr int outcomeShift = 2;           ///< two bits
constexpr std::uint8_t flagsOfNote = hasFigure | 3U << outcomeShift | secondFlag | firstFlag;
constexpr std::uint8_t flagsOfChange = hasFigure | lateByFlag | lateFlag | secondFlag | firstFlag;
constexpr std::uint8_t flagsOfSegment = hasFigure | firstFlag;

class PackedWriter {
public:
    template <typename Unsigned>
    void number(Unsigned value) {
        for (std::size_t byte = 0; byte < sizeof(Unsigned); ++byte)
            bytes += static_cast<char>(static_cast<std::uint8_t>(value >> (8 * byte)));
    }
    void index(int value) { number(static_cast<std::uint32_t>(value)); }
    /// A figure that is not finite is absent.
    void flagged(std::uint8_t flags, const std::optional<double>& figure) {
        const bool there = figure && std::isfinite(*figure);
        number(static_cast<std::uint8_t>(flags | (there ? hasFigure : 0)));
        if (there)
            plain(*figure);
    }
    void plain(double figure) { number(std::bit_cast<std::uint64_t>(figure)); }

    std::string bytes;
};

class PackedReader {
public:
    explicit PackedReader(std::string_view source) : rest(source) {}

    template <typename Unsigned>
    Unsigned number() {
        if (rest.size() < sizeof(Unsigned)) {
            sound = false;
            rest = {};
            return 0;
        }
        Unsigned value = 0;
        for (std::size_t byte = 0; byte < sizeof(Unsigned); ++byte)
            value = static_cast<Unsigned>(value | static_cast<Unsigned>(static_cast<std::uint8_t>(rest[byte]))
                                                      << (8 * byte));
        rest.remove_prefix(sizeof(Unsigned));
        return value;
    }
    int index() { return static_cast<int>(number<std::uint32_t>()); }
    /// The flags of a row; of any but the `known` the bytes are not ours.
    std::uint8_t flags(std::uint8_t known) {
        const auto value = number<std::uint8_t>();
        sound = sound && (value & ~known) == 0;
        return value;
    }
    std::optional<double> figure(std::uint8_t rowFlags) {
        if ((rowFlags & hasFigure) == 0)
            return std::nullopt;
        return plain();
    }
    double plain() {
        const auto value = std::bit_cast<double>(number<std::uint64_t>());
        sound = sound && std::isfinite(value);
        return value;
    }
    /// How many rows follow, each of at least `leastBytes`.
    std::size_t count(std::size_t leastBytes) {
        const std::size_t rows = number<std::uint32_t>();
        sound = sound && rows <= rest.size() / leastBytes;
        return sound ? rows : 0;
    }
    [[nodiscard]] bool whole() const { return sound && rest.empty(); }

private:
    std::string_view rest;
    bool sound = true;
};

std::uint8_t flag(bool value, std::uint8_t bit) {
    return value ? bit : std::uint8_t{0};
}

void write(PackedWriter& out, const NoteResult& note) {
    out.index(note.index);
    const auto outcome = static_cast<std::uint8_t>(static_cast<unsigned>(note.outcome) << outcomeShift);
    out.flagged(
        static_cast<std::uint8_t>(outcome | flag(note.split, firstFlag) | flag(note.valvesWrong, secondFlag)),
        note.deviationMs);
}

void write(PackedWriter& out, const ChangeResult& change) {
    out.index(change.toIndex);
    const bool late = change.lateFingers != Combination();
    const bool by = change.lateByMs && std::isfinite(*change.lateByMs);
    out.flagged(static_cast<std::uint8_t>(flag(change.slurred, firstFlag) |
                                          flag(change.fromSensors, secondFlag) | flag(late, lateFlag) |
                                          flag(by, lateByFlag)),
                change.changeoverMs);
    if (late)
        out.number(change.lateFingers.bits());
    if (by)
        out.plain(*change.lateByMs);
}

void write(PackedWriter& out, const SegmentResult& segment) {
    for (const int each : {segment.span, segment.rung, segment.segment})
        out.index(each);
    out.flagged(flag(segment.played, firstFlag),
                segment.ioiSpreadMs ? std::optional(segment.ioiSpreadMs->value) : std::nullopt);
}

bool read(PackedReader& in, NoteResult& note) {
    note.index = in.index();
    const auto flags = in.flags(flagsOfNote);
    note.split = (flags & firstFlag) != 0;
    note.valvesWrong = (flags & secondFlag) != 0;
    const int outcome = flags >> outcomeShift & 3;
    note.outcome = static_cast<Outcome>(outcome);
    note.deviationMs = in.figure(flags);
    return outcome <= static_cast<int>(Outcome::missed);
}

bool read(PackedReader& in, ChangeResult& change) {
    change.toIndex = in.index();
    const auto flags = in.flags(flagsOfChange);
    change.slurred = (flags & firstFlag) != 0;
    change.fromSensors = (flags & secondFlag) != 0;
    change.changeoverMs = in.figure(flags);
    const auto late = (flags & lateFlag) != 0 ? in.number<std::uint8_t>() : std::uint8_t{0};
    change.lateFingers = Combination(late);
    if ((flags & lateByFlag) != 0)
        change.lateByMs = in.plain();
    return change.lateFingers.bits() == late;
}

bool read(PackedReader& in, SegmentResult& segment) {
    segment.span = in.index();
    segment.rung = in.index();
    segment.segment = in.index();
    const auto flags = in.flags(flagsOfSegment);
    segment.played = (flags & firstFlag) != 0;
    if (const auto spread = in.figure(flags))
        segment.ioiSpreadMs = Estimate{*spread, *spread, *spread, 0};
    return true;
}

template <typename Row>
void writeAll(PackedWriter& out, const std::vector<Row>& rows) {
    out.number(static_cast<std::uint32_t>(rows.size()));
    for (const Row& row : rows)
        write(out, row);
}

template <typename Row>
bool readAll(PackedReader& in, std::size_t leastBytes, std::vector<Row>& rows) {
    rows.assign(in.count(leastBytes), Row{});
    bool sound = true;
    for (Row& row : rows)
        sound = read(in, row) && sound;
    return sound;
}

// Bytes of a row without a figure.
constexpr std::size_t leastOfNote = 5;
constexpr std::size_t leastOfChange = 5;
constexpr std::size_t leastOfSegment = 13;

} // namespace

std::string packTimes(const Performance& performance) {
    PackedWriter out;
    out.number(layout);
    writeAll(out, performance.notes);
    writeAll(out, performance.changes);
    writeAll(out, performance.segments);
    return std::move(out.bytes);
}

bool unpackTimes(std::string_view bytes, Performance& performance) {
    PackedReader in(bytes);
    return in.number<std::uint8_t>() == layout && readAll(in, leastOfNote, performance.notes) &&
           readAll(in, leastOfChange, performance.changes) &&
           readAll(in, leastOfSegment, performance.segments) && in.whole();
}

} // namespace valveladder
