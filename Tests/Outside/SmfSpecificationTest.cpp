// Source of every table and file below: "Standard MIDI Files 1.1", MIDI Manufacturers Association; section
// names as in that document. Chunk lengths are re-derived by counting the bytes of the chunk.

#include "Files/Smf.h"

#include <gtest/gtest.h>

#include <utility>

namespace valveladder {

namespace {

using Bytes = std::vector<std::uint8_t>;

SmfEvent at(std::int64_t tick, Bytes bytes) {
    return {tick, std::move(bytes)};
}

Bytes joined(std::initializer_list<Bytes> parts) {
    Bytes all;
    for (const Bytes& part : parts)
        all.insert(all.end(), part.begin(), part.end());
    return all;
}

Bytes header(std::uint8_t format, std::uint8_t tracks) {
    return {'M', 'T', 'h', 'd', 0, 0, 0, 6, 0, format, 0, tracks, 0, 0x60};
}

Bytes chunk(std::uint8_t length, Bytes body) {
    EXPECT_EQ(body.size(), length) << "the chunk's length, re-derived";
    return joined({{'M', 'T', 'r', 'k', 0, 0, 0, length}, std::move(body)});
}

// "Example MIDI files": an excerpt in 4/4 at 120, 96 ticks a quarter, three instruments. As format 0:
Bytes exampleFormat0() {
    return joined(
        {header(0, 1), chunk(0x3B, {0x00, 0xFF, 0x58, 0x04, 0x04, 0x02, 0x18, 0x08, 0x00, 0xFF, 0x51, 0x03,
                                    0x07, 0xA1, 0x20, 0x00, 0xC0, 0x05, 0x00, 0xC1, 0x2E, 0x00, 0xC2, 0x46,
                                    0x00, 0x92, 0x30, 0x60, 0x00, 0x3C, 0x60, 0x60, 0x91, 0x43, 0x40, 0x60,
                                    0x90, 0x4C, 0x20, 0x81, 0x40, 0x82, 0x30, 0x40, 0x00, 0x3C, 0x40, 0x00,
                                    0x81, 0x43, 0x40, 0x00, 0x80, 0x4C, 0x40, 0x00, 0xFF, 0x2F, 0x00})});
}

SmfFile exampleFormat0Events() {
    return {0,
            96,
            {{{smfMeter(0, 4, 4), smfTempo(0, 120), at(0, {0xC0, 5}), at(0, {0xC1, 46}), at(0, {0xC2, 70}),
               at(0, {0x92, 48, 96}), at(0, {0x92, 60, 96}), at(96, {0x91, 67, 64}), at(192, {0x90, 76, 32}),
               at(384, {0x82, 48, 64}), at(384, {0x82, 60, 64}), at(384, {0x81, 67, 64}),
               at(384, {0x80, 76, 64})},
              384}}};
}

// The same excerpt as format 1: a tempo track and one track an instrument, ended by note-ons of velocity 0.
Bytes exampleFormat1() {
    return joined({header(1, 4), chunk(0x14, {0x00, 0xFF, 0x58, 0x04, 0x04, 0x02, 0x18, 0x08, 0x00, 0xFF,
                                              0x51, 0x03, 0x07, 0xA1, 0x20, 0x83, 0x00, 0xFF, 0x2F, 0x00}),
                   chunk(0x10, {0x00, 0xC0, 0x05, 0x81, 0x40, 0x90, 0x4C, 0x20, 0x81, 0x40, 0x4C, 0x00, 0x00,
                                0xFF, 0x2F, 0x00}),
                   chunk(0x0F, {0x00, 0xC1, 0x2E, 0x60, 0x91, 0x43, 0x40, 0x82, 0x20, 0x43, 0x00, 0x00, 0xFF,
                                0x2F, 0x00}),
                   chunk(0x15, {0x00, 0xC2, 0x46, 0x00, 0x92, 0x30, 0x60, 0x00, 0x3C, 0x60, 0x83,
                                0x00, 0x30, 0x00, 0x00, 0x3C, 0x00, 0x00, 0xFF, 0x2F, 0x00})});
}

SmfFile exampleFormat1Events() {
    return {1,
            96,
            {{{smfMeter(0, 4, 4), smfTempo(0, 120)}, 384},
             {{at(0, {0xC0, 5}), at(192, {0x90, 76, 32}), at(384, {0x90, 76, 0})}, 384},
             {{at(0, {0xC1, 46}), at(96, {0x91, 67, 64}), at(384, {0x91, 67, 0})}, 384},
             {{at(0, {0xC2, 70}), at(0, {0x92, 48, 96}), at(0, {0x92, 60, 96}), at(384, {0x92, 48, 0}),
               at(384, {0x92, 60, 0})},
              384}}};
}

} // namespace

// Section "Variable-length quantities", the table of numbers and their representations.
TEST(SmfSpecification, VariableLengthTableIsWrittenByteForByte) {
    const std::vector<std::pair<std::uint32_t, Bytes>> table{
        {0x00000000, {0x00}},
        {0x00000040, {0x40}},
        {0x0000007F, {0x7F}},
        {0x00000080, {0x81, 0x00}},
        {0x00002000, {0xC0, 0x00}},
        {0x00003FFF, {0xFF, 0x7F}},
        {0x00004000, {0x81, 0x80, 0x00}},
        {0x00100000, {0xC0, 0x80, 0x00}},
        {0x001FFFFF, {0xFF, 0xFF, 0x7F}},
        {0x00200000, {0x81, 0x80, 0x80, 0x00}},
        {0x08000000, {0xC0, 0x80, 0x80, 0x00}},
        {0x0FFFFFFF, {0xFF, 0xFF, 0xFF, 0x7F}},
    };
    for (const auto& [number, expected] : table) {
        Bytes written;
        appendVariableLength(written, number);
        EXPECT_EQ(written, expected) << number;
    }
}

// The same table read: a track whose only event lies that many ticks from its start.
TEST(SmfSpecification, VariableLengthTableIsReadBack) {
    for (const std::uint32_t number : {0x0U, 0x40U, 0x7FU, 0x80U, 0x2000U, 0x3FFFU, 0x4000U, 0x100000U,
                                       0x1FFFFFU, 0x200000U, 0x8000000U, 0xFFFFFFFU}) {
        const SmfFile file{0, 96, {{{at(number, {0x90, 60, 1})}, number}}};
        const Result<SmfFile> read = readSmf(writeSmf(file));
        ASSERT_TRUE(read) << read.problem().text();
        EXPECT_EQ(read.value(), file) << number;
    }
}

TEST(SmfSpecification, FormatZeroExampleIsWrittenByteForByte) {
    EXPECT_EQ(writeSmf(exampleFormat0Events(), {.runningStatus = true}), exampleFormat0());
}

TEST(SmfSpecification, FormatZeroExampleIsReadEventForEvent) {
    const Result<SmfFile> read = readSmf(exampleFormat0());
    ASSERT_TRUE(read) << read.problem().text();
    EXPECT_EQ(read.value(), exampleFormat0Events());
}

TEST(SmfSpecification, FormatOneExampleIsWrittenByteForByte) {
    EXPECT_EQ(writeSmf(exampleFormat1Events(), {.runningStatus = true}), exampleFormat1());
}

TEST(SmfSpecification, FormatOneExampleIsReadEventForEvent) {
    const Result<SmfFile> read = readSmf(exampleFormat1());
    ASSERT_TRUE(read) << read.problem().text();
    EXPECT_EQ(read.value(), exampleFormat1Events());
}

// Section "Meta-events": FF 51 03 tt tt tt is microseconds a MIDI quarter note; 120 quarters a minute are
// 500000 = 07A120.
TEST(SmfSpecification, TempoIsMicrosecondsAQuarter) {
    EXPECT_EQ(smfTempo(0, 120).bytes, (Bytes{0xFF, 0x51, 0x07, 0xA1, 0x20}));
    EXPECT_EQ(smfTempo(0, 60).bytes, (Bytes{0xFF, 0x51, 0x0F, 0x42, 0x40}));
}

// Section "Meta-events", FF 58 04 nn dd cc bb: the document's example is 6/8 with a click every dotted
// quarter, 06 03 24 08 (24 hex = 36 clocks). Ours clicks every written beat, an eighth: 12 clocks.
TEST(SmfSpecification, MeterHasPowerOfTwoUnitAndClocksOfItsBeat) {
    EXPECT_EQ(smfMeter(0, 4, 4).bytes, (Bytes{0xFF, 0x58, 4, 2, 24, 8}));
    EXPECT_EQ(smfMeter(0, 6, 8).bytes, (Bytes{0xFF, 0x58, 6, 3, 12, 8}));
    EXPECT_EQ(smfMeter(0, 3, 2).bytes, (Bytes{0xFF, 0x58, 3, 1, 48, 8}));
}

// Section "Header chunks": "more parameters may be added ... honour the length, even if it is longer than 6".
TEST(SmfSpecification, LongerHeaderIsHonoured) {
    Bytes bytes = exampleFormat0();
    bytes[7] = 9;
    bytes.insert(bytes.begin() + 14, {0xAA, 0xBB, 0xCC});
    const Result<SmfFile> read = readSmf(bytes);
    ASSERT_TRUE(read) << read.problem().text();
    EXPECT_EQ(read.value(), exampleFormat0Events());
}

// Section "Sequences, tracks, chunks": "Your programs should expect alien chunks and treat them as if they
// weren't there."
TEST(SmfSpecification, AlienChunksAreSkipped) {
    Bytes bytes = exampleFormat1();
    const Bytes alien{'X', 'F', 'I', 'H', 0, 0, 0, 3, 1, 2, 3};
    bytes.insert(bytes.begin() + 14, alien.begin(), alien.end());
    bytes.insert(bytes.end(), alien.begin(), alien.end());
    const Result<SmfFile> read = readSmf(bytes);
    ASSERT_TRUE(read) << read.problem().text();
    EXPECT_EQ(read.value(), exampleFormat1Events());
}

// Section "Track chunks": "Sysex events and meta-events cancel any running status which was in effect."
TEST(SmfSpecification, SystemExclusiveAndMetaEventsCancelRunningStatus) {
    for (const Bytes& between :
         {Bytes{0xF0, 0x02, 0x43, 0xF7}, Bytes{0xFF, 0x01, 0x00}, Bytes{0xF7, 0x01, 0xFA}}) {
        const Bytes body =
            joined({{0x00, 0x90, 60, 64, 0x00}, between, {0x00, 62, 64, 0x00, 0xFF, 0x2F, 0x00}});
        const Bytes bytes = joined({header(0, 1), chunk(static_cast<std::uint8_t>(body.size()), body)});
        const Result<SmfFile> read = readSmf(bytes);
        ASSERT_FALSE(read);
        EXPECT_EQ(read.problem().where, "byte " + std::to_string(14 + 8 + 5 + between.size() + 1));
    }
}

TEST(SmfSpecification, StatusIsWrittenAnewAfterSystemExclusiveAndMetaEvents) {
    const SmfFile file{0,
                       96,
                       {{{at(0, {0x90, 60, 64}), at(0, {0xF0, 0x43, 0xF7}), at(0, {0x90, 62, 64}),
                          smfText(0, 6, "A"), at(0, {0x90, 64, 64})},
                         0}}};
    EXPECT_EQ(writeSmf(file, {.runningStatus = true}),
              joined({header(0, 1), chunk(26, {0x00, 0x90, 60, 64, 0x00, 0xF0, 0x02, 0x43, 0xF7,
                                               0x00, 0x90, 62, 64, 0x00, 0xFF, 0x06, 0x01, 'A',
                                               0x00, 0x90, 64, 64, 0x00, 0xFF, 0x2F, 0x00})}));
}

} // namespace valveladder
