#include "Mutator.h"
#include "Targets.h"

#include "Files/Smf.h"
#include "Files/SoundFile.h"

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <unistd.h>

namespace valveladder {

namespace {

/// VALVE_LADDER_FUZZ_SECONDS sets how long each reader is fuzzed, VALVE_LADDER_FUZZ_SEED where it starts.
double number(const char* variable, double otherwise) {
    const char* text = std::getenv(variable);
    return text ? std::strtod(text, nullptr) : otherwise;
}

using Target = Complaint (*)(std::span<const std::uint8_t>);

void fuzz(const char* name, Target target, std::vector<Bytes> validFiles) {
    for (const Bytes& valid : validFiles)
        ASSERT_EQ(target(valid), std::nullopt);
    const auto seed = static_cast<std::uint64_t>(number("VALVE_LADDER_FUZZ_SEED", 20240229));
    const std::chrono::duration<double> span(number("VALVE_LADDER_FUZZ_SECONDS", 3));
    std::printf("%s: seed %llu\n", name, static_cast<unsigned long long>(seed));
    Mutator mutator(std::move(validFiles), seed);
    const auto until = std::chrono::steady_clock::now() + span;
    long inputs = 0;
    for (; std::chrono::steady_clock::now() < until; ++inputs) {
        const Bytes input = mutator.next();
        const Complaint complaint = target(input);
        if (complaint) {
            const std::string path = testing::TempDir() + name + ".input";
            std::ofstream(path, std::ios::binary)
                .write(reinterpret_cast<const char*>(input.data()), std::ssize(input));
            FAIL() << *complaint << ", input " << inputs << ", kept as " << path;
        }
    }
    std::printf("%s: %ld inputs\n", name, inputs);
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

Bytes bytesOf(const std::string& text) {
    return {text.begin(), text.end()};
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

} // namespace valveladder
