#include "Session/SoundStage.h"

#include <gtest/gtest.h>

#include <cmath>
#include <unistd.h>

namespace valveladder::testing {

SoundStage::SoundStage(SessionConfig wanted) : config(std::move(wanted)) {
    static int count = 0;
    folder = std::filesystem::temp_directory_path() /
             ("valve-ladder-sound-" + std::to_string(::getpid()) + "-" + std::to_string(++count));
    std::filesystem::create_directories(folder);
    open();
}

SoundStage::~SoundStage() {
    session.reset();
    std::error_code ignored;
    std::filesystem::remove_all(folder, ignored);
}

SessionConfig SoundStage::quick() {
    SessionConfig config;
    LadderPattern ladder;
    ladder.lastTop = ladder.firstTop;
    config.drill.pattern = ladder;
    config.drill.segments.resize(2);
    config.rules.startBpm = 90.0;
    config.rules.timeZone = "Etc/UTC";
    return config;
}

void SoundStage::open() {
    session.reset();
    session = std::make_unique<Session>(folder / "log.sqlite", config, [this] { return clock; });
}

double SoundStage::lapQuarters() const {
    return static_cast<double>(score().length) / ticksPerQuarter;
}

SoundPlan SoundStage::plan(const PlanFaults& faults, std::uint32_t seed) const {
    PlanStyle style;
    style.minChangeoverMs = 20.0;
    style.maxChangeoverMs = 120.0;
    style.startSeconds = 0.0;
    return planTake(score(), bpm, style, faults, seed);
}

void SoundStage::play(const SoundPlan& plan, std::uint32_t seed, double atSeconds) {
    const SoundTake take = renderBrass(plan, voice, seed, rate);
    const auto from = static_cast<std::size_t>(std::llround(atSeconds * rate));
    sound.resize(std::max(sound.size(), from + take.samples.size()));
    for (std::size_t i = 0; i < take.samples.size(); ++i)
        sound[from + i] += take.samples[i];
}

void SoundStage::playPass(int lap, double lateMs) {
    play(plan({}, 11), 11, lap * lapQuarters() * 60.0 / bpm + lateMs / 1000.0);
}

void SoundStage::block(bool playing, bool recording) {
    SessionBlock next;
    next.startSample = samples;
    next.clock = Clock::host;
    next.trackId = session->setup()->track->id();
    next.way = way;
    next.host.sampleRate = rate;
    next.host.samples = blockSamples;
    next.host.playing = playing;
    next.host.recording = recording;
    next.host.ppq = ppq;
    next.host.bpm = bpm;
    std::vector<MidiEvent> midi;
    std::vector<float> mono(static_cast<std::size_t>(blockSamples));
    if (playing) {
        for (auto key = keys.lower_bound(at); key != keys.end() && key->first < at + blockSamples; ++key) {
            midi.push_back(key->second);
            midi.back().sample = static_cast<int>(key->first - at);
        }
    }
    for (std::size_t i = 0; i < mono.size(); ++i)
        if (const auto s = static_cast<std::size_t>(at) + i; s < sound.size())
            mono[i] = sound[s];
    next.midi = midi;
    next.sound = mono;
    if (change)
        change(next);
    session->block(next);
    session->idle();
    samples += blockSamples;
    at += blockSamples;
    clock = noon + std::llround(static_cast<double>(samples) * 1000.0 / rate);
    if (playing)
        ppq += blockSamples * bpm / 60.0 / rate;
    if (afterBlock)
        afterBlock();
}

void SoundStage::rollTo(double quarter, bool recording) {
    while (ppq < quarter)
        block(true, recording);
}

void SoundStage::stop(int blocks) {
    for (int i = 0; i < blocks; ++i)
        block(false, false);
}

std::vector<TakeSummary> SoundStage::takes() {
    const auto found = session->log()->takes({});
    EXPECT_TRUE(found.ok());
    return found.value();
}

TakeRecord SoundStage::take(std::size_t number) {
    const auto all = takes();
    EXPECT_LT(number, all.size());
    return number < all.size() ? session->log()->take(all[number].header.id).value() : TakeRecord{};
}

bool SoundStage::said(const std::string& words) const {
    for (const SessionMessage& message : session->view().messages)
        if (message.text.find(words) != std::string::npos)
            return true;
    return false;
}

} // namespace valveladder::testing
