#include "Mutator.h"
#include "Targets.h"

#include "Files/MxlArchive.h"
#include "Files/Smf.h"
#include "Files/SoundFile.h"
#include "Records/Json.h"

#include <gtest/gtest.h>

#include <atomic>
#include <chrono>
#include <cmath>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <sys/resource.h>
#include <unistd.h>

namespace valveladder {

namespace {

constexpr double shortSeconds = 3.0;
constexpr double fullSeconds = 520.0; // the seven readers take an hour together

// Of one input, however hostile; under sanitizers and on a busy machine as well.
constexpr unsigned mostSecondsAnInput = 60;
/// Memory that a whole run may add. What a reader takes must depend on its input, of some kilobytes here, so
/// that a run keeps little; the address sanitizer alone holds back 256 MB of what was freed.
constexpr long mostKilobytesMore = 1'000'000;

/// VALVE_LADDER_FUZZ_SECONDS sets how long each reader is fuzzed, VALVE_LADDER_FUZZ_SEED where it starts;
/// with VALVE_LADDER_FULL=1 all together are for an hour.
double number(const char* variable, double otherwise) {
    const char* text = std::getenv(variable);
    return text ? std::strtod(text, nullptr) : otherwise;
}

using Target = Complaint (*)(std::span<const std::uint8_t>);

/// The input being read, for whoever ends a hang.
std::atomic<const Bytes*> readingNow{nullptr};
char hangPath[512];

/// A reader hangs: its input is kept, and the test ends. Only calls that a signal handler may make.
void endHang(int) {
    const Bytes* input = readingNow.load();
    const int file = open(hangPath, O_CREAT | O_WRONLY | O_TRUNC, 0600);
    const bool kept = input != nullptr && file >= 0 && write(file, input->data(), input->size()) >= 0;
    constexpr char said[] = "a reader hangs; its input is kept beside the test's files, NAME.hang\n";
    (void)!write(STDERR_FILENO, said, kept ? sizeof said - 1 : 15);
    _exit(1);
}

/// Ends the test when one input takes too long.
class HangWatch {
public:
    explicit HangWatch(const char* name) {
        std::snprintf(hangPath, sizeof hangPath, "%s%s.hang", testing::TempDir().c_str(), name);
        std::signal(SIGALRM, endHang);
    }
    ~HangWatch() {
        alarm(0);
        std::signal(SIGALRM, SIG_DFL);
    }
    HangWatch(const HangWatch&) = delete;
    HangWatch& operator=(const HangWatch&) = delete;

    static void begin(const Bytes& input) {
        readingNow.store(&input);
        alarm(mostSecondsAnInput);
    }
};

/// The most memory that this process has held so far.
long peakKilobytes() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return usage.ru_maxrss;
}

void fuzz(const char* name, Target target, std::vector<Bytes> validFiles) {
    for (const Bytes& valid : validFiles)
        ASSERT_EQ(target(valid), std::nullopt);
    const auto seed = static_cast<std::uint64_t>(number("VALVE_LADDER_FUZZ_SEED", 20240229));
    const std::chrono::duration<double> span(
        number("VALVE_LADDER_FUZZ_SECONDS", number("VALVE_LADDER_FULL", 0) > 0 ? fullSeconds : shortSeconds));
    std::printf("%s: seed %llu\n", name, static_cast<unsigned long long>(seed));
    Mutator mutator(std::move(validFiles), seed);
    const auto until = std::chrono::steady_clock::now() + span;
    long inputs = 0;
    const long before = peakKilobytes();
    const HangWatch watch(name);
    for (; std::chrono::steady_clock::now() < until; ++inputs) {
        const Bytes input = mutator.next();
        HangWatch::begin(input);
        const Complaint complaint = target(input);
        if (complaint) {
            const std::string path = testing::TempDir() + name + ".input";
            std::ofstream(path, std::ios::binary)
                .write(reinterpret_cast<const char*>(input.data()), std::ssize(input));
            FAIL() << *complaint << ", input " << inputs << ", kept as " << path;
        }
    }
    const long more = peakKilobytes() - before;
    std::printf("%s: %ld inputs, %ld kB more than before\n", name, inputs, more);
    EXPECT_LT(more, mostKilobytesMore);
    EXPECT_GT(inputs, 0);
}

std::vector<Bytes> validSmfs() {
    const SmfFile small{0,
                        96,
                        {{{smfMeter(0, 4, 4),
                           smfTempo(0, 120),
                           {0, {0xC0, 5}},
                           {0, {0x90, 60, 64}},
                           {48, {0xF0, 0x43, 0xF7}},
                           {96, {0x90, 60, 0}}},
                          96}}};
    SmfFile large{1, 960, {{{smfText(0, 3, "Tempo"), smfTempo(0, 66), smfText(0, 6, "Rung 1")}, 9600}, {}}};
    for (int i = 0; i < 100; ++i) {
        const auto pitch = static_cast<std::uint8_t>(52 + i % 12);
        large.tracks[1].events.push_back({i * 240, {0x90, pitch, 80}});
        large.tracks[1].events.push_back({i * 240 + 200, {0x80, pitch, 0}});
    }
    return {writeSmf(small, {.runningStatus = true}), writeSmf(small),
            writeSmf(large, {.runningStatus = true}), writeSmf(large)};
}

std::string study() {
    std::ifstream stream(VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml", std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
}

/// What the study leaves out: chords, grace and cue notes, ties, tuplets, repeats, endings and jumps, two
/// parts and voices, changing meter, key, tempo and divisions.
constexpr const char* crowded = R"(<?xml version="1.0"?><score-partwise version="4.0"><part-list>
<score-part id="P1"><part-name>A</part-name></score-part><score-part id="P2"><part-name>B</part-name></score-part>
</part-list><part id="P1"><measure number="0" implicit="yes"><attributes><divisions>6</divisions><key>
<fifths>-3</fifths></key><time><beats>3+2</beats><beat-type>8</beat-type></time><transpose><chromatic>-2</chromatic>
<octave-change>-1</octave-change></transpose></attributes><direction><direction-type><metronome><beat-unit>eighth
</beat-unit><beat-unit-dot/><per-minute>c. 66</per-minute></metronome></direction-type><offset sound="yes">3</offset>
</direction><note><grace/><pitch><step>C</step><alter>1</alter><octave>4</octave></pitch><voice>1</voice></note>
<note><pitch><step>D</step><octave>4</octave></pitch><duration>2</duration><tie type="start"/><voice>1</voice>
<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification><notations><slur
type="start" number="1"/></notations></note><note><chord/><pitch><step>F</step><octave>4</octave></pitch>
<duration>2</duration><voice>1</voice></note><backup><duration>2</duration></backup><note><pitch><step>D</step><octave>3
</octave></pitch><duration>6</duration><voice>2</voice></note><forward><duration>3</duration></forward></measure>
<measure number="1"><barline location="left"><repeat direction="forward"/></barline><sound tempo="90" segno="s"/><note>
<pitch><step>D</step><octave>4</octave></pitch><duration>15</duration><tie type="stop"/><voice>1</voice></note></measure>
<measure number="2"><barline location="left"><ending number="1,2" type="start"/></barline><note><rest/>
<duration>15</duration></note><barline location="right"><ending number="1,2" type="stop"/><repeat direction="backward"
times="3"/></barline></measure><measure number="3"><attributes><divisions>4</divisions></attributes><note><cue/><pitch>
<step>G</step><octave>5</octave></pitch><duration>4</duration></note><direction><sound dalsegno="s" tocoda="c" fine="yes"/>
</direction></measure></part><part id="P2"><measure number="1"><note><unpitched/><duration>1</duration></note></measure>
</part></score-partwise>)";

Bytes bytesOf(const std::string& text) {
    return {text.begin(), text.end()};
}

std::vector<Bytes> validScores() {
    std::vector<Bytes> files{bytesOf(study()), bytesOf(crowded)};
    for (const std::string& text : {study(), std::string(crowded)})
        files.push_back(writeMxl(mxlOf(bytesOf(text))).value());
    return files;
}

/// One short note each in the formats that the reader promises.
std::vector<Bytes> validSounds() {
    std::vector<float> samples;
    for (int i = 0; i < 2000; ++i)
        samples.push_back(0.3F * std::sin(0.12F * static_cast<float>(i)));
    std::vector<Bytes> files;
    for (const char* name : {"seed.wav", "seed.flac"}) {
        const std::string path = testing::TempDir() + std::to_string(getpid()) + name;
        EXPECT_TRUE(writeSound(path, samples, 8000.0).ok());
        std::ifstream in(path, std::ios::binary);
        files.push_back({std::istreambuf_iterator<char>(in), {}});
        std::filesystem::remove(path);
    }
    return files;
}

} // namespace

TEST(ReaderFuzz, SoundReaderKeepsItsPromisesOnDamagedFiles) {
    fuzz("sound", fuzzSound, validSounds());
}

TEST(ReaderFuzz, AnnotationReaderKeepsItsPromisesOnDamagedFiles) {
    fuzz("annotations", fuzzAnnotations,
         {bytesOf("0.5,1.0,60\n1.0,1.5,61\n"),
          bytesOf("start_sec;end_sec;dur_sec;pitch\n0.500;1.250;0.750;58\n2;3;1;59\n"),
          bytesOf("note\tonset\tduration\nF#3\t1\t0.5\n"), bytesOf("onset,offset,hz\n0,1,440\n1,2,0\n")});
}

TEST(ReaderFuzz, SmfReaderKeepsItsPromisesOnDamagedFiles) {
    fuzz("smf", fuzzSmf, validSmfs());
}

TEST(ReaderFuzz, MusicXmlReaderKeepsItsPromisesOnDamagedFiles) {
    fuzz("musicxml", fuzzMusicXml, {bytesOf(study()), bytesOf(crowded)});
}

TEST(ReaderFuzz, CompressedMusicXmlReaderKeepsItsPromisesOnDamagedFiles) {
    fuzz("mxl", fuzzMusicXml, validScores());
}

TEST(ReaderFuzz, DrillReaderKeepsItsPromisesOnDamagedFiles) {
    std::vector<Bytes> drills;
    for (const char* id : {"trumpet-b-flat", "tuba-b-flat-4"})
        drills.push_back(bytesOf(toJson(defaultDrill(*findInstrument(id)), TempoRules{})));
    Drill cells;
    cells.pattern = CellPattern{{{64, 66}, {66, 67, 66}}};
    drills.push_back(bytesOf(toJson(cells)));
    fuzz("drill", fuzzDrill, drills);
}

TEST(ReaderFuzz, MidiPieceReaderKeepsItsPromisesOnDamagedFiles) {
    fuzz("part-smf", fuzzPartSmf, validSmfs());
}

} // namespace valveladder
