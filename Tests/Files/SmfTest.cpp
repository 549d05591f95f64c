#include "Files/Smf.h"
#include "Log/TempFolder.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <csignal>
#include <filesystem>
#include <fstream>

#ifdef __unix__
#include <sys/resource.h>
#endif

namespace valveladder {

namespace {

using Bytes = std::vector<std::uint8_t>;

Bytes withTrack(const Bytes& body, std::uint8_t format = 0, std::uint8_t tracks = 1) {
    Bytes bytes{'M',    'T', 'h',  'd', 0,   0,   0,   6, 0, format, 0,
                tracks, 0,   0x60, 'M', 'T', 'r', 'k', 0, 0, 0,      static_cast<std::uint8_t>(body.size())};
    for (const std::uint8_t byte : body)
        bytes.push_back(byte);
    return bytes;
}

constexpr std::size_t bodyStart = 22;

Bytes whole() {
    return withTrack({0x00, 0x90, 60, 64, 0x60, 60, 0, 0x00, 0xFF, 0x2F, 0x00});
}

void expectRefused(const Bytes& bytes, std::size_t offset, const std::string& saying) {
    const Result<SmfFile> read = readSmf(bytes);
    ASSERT_FALSE(read) << saying;
    EXPECT_EQ(read.problem().where, "byte " + std::to_string(offset));
    EXPECT_NE(read.problem().what.find(saying), std::string::npos) << read.problem().text();
    EXPECT_FALSE(read.problem().remedy.empty());
}

rc::Gen<SmfEvent> anyMessage() {
    const auto data = rc::gen::inRange<int>(0, 128);
    return rc::gen::mapcat(rc::gen::inRange<int>(0x80, 0xF3), [data](int status) {
        const bool withText = status >= 0xF0;
        const std::size_t count = withText ? 5 : status >= 0xC0 && status < 0xE0 ? 1 : 2;
        return rc::gen::map(rc::gen::container<std::vector<int>>(count, data), [=](std::vector<int> values) {
            SmfEvent event;
            event.bytes.push_back(static_cast<std::uint8_t>(status == 0xF1   ? 0xF7
                                                            : status == 0xF2 ? 0xFF
                                                                             : status));
            for (const int value : values)
                event.bytes.push_back(static_cast<std::uint8_t>(value));
            if (status == 0xF2 && event.bytes[1] == 0x2F)
                event.bytes[1] = 0x01;
            return event;
        });
    });
}

} // namespace

TEST(Smf, RefusesWhatIsNotAMidiFileAndSaysWhatToDo) {
    expectRefused({}, 0, "not a Standard MIDI File");
    expectRefused({'P', 'K', 3, 4}, 0, "not a Standard MIDI File");
    expectRefused({'R', 'I', 'F', 'F', 0, 0, 0, 0}, 0, "RIFF");
    expectRefused({'M', 'T', 'h', 'd', 0, 0, 0, 6}, 8, "ends inside its header");
}

TEST(Smf, RefusesHeadersThatMakeNoSense) {
    Bytes bytes = whole();
    bytes[7] = 5;
    expectRefused(bytes, 4, "header says it has 5 bytes");
    bytes = whole();
    bytes[9] = 3;
    expectRefused(bytes, 8, "format 3");
    bytes = whole();
    bytes[11] = 2;
    expectRefused(bytes, 10, "format 0 with 2 tracks");
    bytes = whole();
    bytes[12] = 0xE7;
    expectRefused(bytes, 12, "SMPTE");
    bytes = whole();
    bytes[12] = bytes[13] = 0;
    expectRefused(bytes, 12, "no ticks");
}

TEST(Smf, RefusesTruncatedFilesAtEveryLength) {
    const Bytes bytes = whole();
    for (std::size_t size = 0; size < bytes.size(); ++size) {
        const Result<SmfFile> read = readSmf(std::span(bytes).first(size));
        ASSERT_FALSE(read) << size;
        EXPECT_FALSE(read.problem().where.empty());
    }
}

TEST(Smf, RefusesBrokenTracksWithTheByteOffset) {
    expectRefused(withTrack({0x00, 60, 64, 0x00, 0xFF, 0x2F, 0x00}), bodyStart + 1, "status byte is due");
    expectRefused(withTrack({0x00, 0x90, 0x80, 64, 0x00, 0xFF, 0x2F, 0x00}), bodyStart + 2,
                  "inside a channel message");
    expectRefused(withTrack({0x00, 0xF8, 0x00, 0xFF, 0x2F, 0x00}), bodyStart + 1, "F8 has no place");
    expectRefused(withTrack({0x00, 0xFF, 0x80, 0x00, 0x00, 0xFF, 0x2F, 0x00}), bodyStart + 2,
                  "types end at 7F");
    expectRefused(withTrack({0x81, 0x82, 0x83, 0x84, 0x05, 0x90, 60, 64}), bodyStart, "past four bytes");
    expectRefused(withTrack({0x00, 0xFF, 0x01, 0x7F, 'a'}), bodyStart + 4, "past the end of its track");
    expectRefused(withTrack({0x00, 0x90, 60, 64}), bodyStart + 4, "End of Track");
    expectRefused(withTrack({0x00, 0xFF, 0x2F, 0x00, 0x00}), bodyStart + 4, "goes on after");
    expectRefused(withTrack({0x00, 0xFF, 0x2F, 0x00}, 1, 2), bodyStart + 4, "announces 2 tracks");
}

TEST(Smf, LengthThatRunsPastTheFileIsRefusedWithoutAllocatingIt) {
    Bytes bytes = whole();
    bytes[18] = 0x7F;
    expectRefused(bytes, 18, "past the end of the file");
}

RC_GTEST_PROP(Smf, WhatIsWrittenReadsTheSame, ()) {
    SmfFile file{1, *rc::gen::inRange(1, 32768), {}};
    const int tracks = *rc::gen::inRange(0, 4);
    for (int t = 0; t < tracks; ++t) {
        SmfTrack track;
        std::int64_t tick = 0;
        for (SmfEvent& event : *rc::gen::container<std::vector<SmfEvent>>(anyMessage())) {
            tick += *rc::gen::inRange<std::int64_t>(0, 100000);
            event.tick = tick;
            track.events.push_back(event);
        }
        track.length = tick + *rc::gen::inRange(0, 1000);
        file.tracks.push_back(std::move(track));
    }
    for (const bool running : {false, true}) {
        const Result<SmfFile> read = readSmf(writeSmf(file, {.runningStatus = running}));
        RC_ASSERT(read.ok());
        RC_ASSERT(read.value() == file);
    }
}

TEST(Smf, UnsortedEventsAreWrittenInOrderAndTheLengthReachesTheLast) {
    const SmfFile file{0, 96, {{{{96, {0x80, 60, 0}}, {0, {0x90, 60, 64}}}, 0}}};
    const Result<SmfFile> read = readSmf(writeSmf(file));
    ASSERT_TRUE(read) << read.problem().text();
    EXPECT_EQ(read.value().tracks[0].events[0].tick, 0);
    EXPECT_EQ(read.value().tracks[0].events[1].tick, 96);
    EXPECT_EQ(read.value().tracks[0].length, 96);
}

TEST(Smf, StepsTooLongForOneQuantityAreBridged) {
    const std::int64_t far = 3LL * maxVariableLength + 7;
    const Result<SmfFile> read = readSmf(writeSmf({0, 960, {{{{far, {0x90, 60, 64}}}, far}}}));
    ASSERT_TRUE(read) << read.problem().text();
    EXPECT_EQ(read.value().tracks[0].events.back(), (SmfEvent{far, {0x90, 60, 64}}));
}

TEST(Smf, TempoStaysInsideThreeBytes) {
    EXPECT_EQ(smfTempo(0, 1.0).bytes, (Bytes{0xFF, 0x51, 0xFF, 0xFF, 0xFF}));
    EXPECT_EQ(smfTempo(0, 1e12).bytes, (Bytes{0xFF, 0x51, 0, 0, 1}));
}

TEST(Smf, TempoEventSaysItsMicroseconds) {
    EXPECT_EQ(microsecondsOf(smfTempo(0, 120.0)), 500000);
    EXPECT_EQ(microsecondsOf({0, {0xFF, 0x51, 0, 0, 0}}), 0);
    EXPECT_EQ(microsecondsOf({0, {0xFF, 0x51, 7, 0xA1}}), std::nullopt) << "cut short";
    EXPECT_EQ(microsecondsOf({0, {0xFF, 0x51, 7, 0xA1, 0x20, 0}}), std::nullopt) << "too long";
    EXPECT_EQ(microsecondsOf(smfText(0, SmfMeta::marker, "abc")), std::nullopt);
}

TEST(Smf, FileIsWrittenAndReadBack) {
    const TempFolder folder;
    const std::filesystem::path path = folder / "round.mid";
    const SmfFile file{0, 96, {{{{0, {0x90, 60, 64}}, {96, {0x80, 60, 0}}}, 96}}};
    ASSERT_TRUE(writeSmfFile(path, file));
    const Result<SmfFile> read = readSmfFile(path);
    ASSERT_TRUE(read) << read.problem().text();
    EXPECT_EQ(read.value(), file);
}

TEST(Smf, ProblemsWithFilesNameThePath) {
    const TempFolder folder;
    const std::filesystem::path missing = folder / "no-such-folder/a.mid";
    const Result<SmfFile> read = readSmfFile(missing);
    ASSERT_FALSE(read);
    EXPECT_NE(read.problem().where.find("a.mid"), std::string::npos);
    const Result<Done> written = writeSmfFile(missing, {0, 96, {{}}});
    ASSERT_FALSE(written);
    EXPECT_NE(written.problem().where.find("a.mid"), std::string::npos);

    const std::filesystem::path text = folder / "text.mid";
    std::ofstream(text) << "hello";
    const Result<SmfFile> wrong = readSmfFile(text);
    ASSERT_FALSE(wrong);
    EXPECT_EQ(wrong.problem().where, text.string());
    EXPECT_TRUE(wrong.problem().what.ends_with("it is not a Standard MIDI File (byte 0)"))
        << wrong.problem().what;
    EXPECT_NE(wrong.problem().remedy.find("export it again"), std::string::npos);
}

TEST(Smf, DamageIsSaidBeforeWhatAndWhereItIs) {
    const Bytes bytes = whole();
    for (std::size_t size = 4; size < bytes.size(); ++size) {
        const Result<SmfFile> read = readSmf(std::span(bytes).first(size));
        ASSERT_FALSE(read) << size;
        EXPECT_TRUE(read.problem().what.starts_with("the MIDI file is damaged: ")) << read.problem().what;
    }
}

#ifdef __unix__
// A limit on the size of files stands in for a full disk: the write fails half way in the same manner.
TEST(Smf, FullDiskIsReportedAndLeavesTheOlderFileWhole) {
    const TempFolder folder;
    const std::filesystem::path path = folder / "full.mid";
    const SmfFile older{0, 96, {{{{0, {0x90, 60, 64}}}, 96}}};
    ASSERT_TRUE(writeSmfFile(path, older));

    rlimit before{};
    getrlimit(RLIMIT_FSIZE, &before);
    const rlimit small{1000, before.rlim_max};
    const auto handler = std::signal(SIGXFSZ, SIG_IGN);
    setrlimit(RLIMIT_FSIZE, &small);
    const SmfFile large{0, 96, {{{smfText(0, 1, std::string(100000, 'a'))}, 96}}};
    const Result<Done> written = writeSmfFile(path, large);
    setrlimit(RLIMIT_FSIZE, &before);
    std::signal(SIGXFSZ, handler);

    ASSERT_FALSE(written);
    EXPECT_NE(written.problem().remedy.find("disk"), std::string::npos);
    const Result<SmfFile> read = readSmfFile(path);
    ASSERT_TRUE(read) << read.problem().text();
    EXPECT_EQ(read.value(), older);
}
#endif

TEST(Smf, DevicesAndFoldersAreNotOverwritten) {
    EXPECT_FALSE(writeSmfFile(std::filesystem::temp_directory_path(), {0, 96, {{}}}));
    EXPECT_FALSE(readSmfFile(std::filesystem::temp_directory_path()));
}

} // namespace valveladder
