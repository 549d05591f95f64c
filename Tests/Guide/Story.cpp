#include "Guide/Story.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

namespace valveladder::test {

double Stretch::sampleAt(double position) const {
    const double wanted = (position - ppq) * 60.0 * rate; // bpm * s + k/2 s^2
    if (bpmPerSample == 0.0)
        return static_cast<double>(from) + wanted / bpm;
    const double root = std::sqrt(std::max(0.0, bpm * bpm + 2.0 * bpmPerSample * wanted));
    return static_cast<double>(from) + 2.0 * wanted / (bpm + root);
}

namespace {

constexpr std::array<double, 6> rates{44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0};
constexpr std::int64_t maxPhaseSamples = 150000;
constexpr int maxPhaseBlocks = 120;

/// Plays phases of random length, and notes down what the host itself knows of them.
class StoryTeller {
public:
    StoryTeller(std::mt19937_64& r, const std::vector<std::unique_ptr<GuideTrack>>& t)
        : random(r), tracks(t) {
        rate = rates[below(rates.size())];
        settings.repeat = chance(0.8);
        settings.startPpq = chance(0.5) ? 0.0 : real(-3.0, 40.0);
        settings.midiClock = chance(0.3);
        switchParts();
        track = anyTrack();
        ppq = anyPosition();
        bpm = anyTempo();
    }

    Story tell() {
        const int phases = 3 + static_cast<int>(below(6));
        for (int phase = 0; phase < phases; ++phase)
            nextPhase();
        rest();
        return std::move(story);
    }

private:
    std::size_t below(std::size_t n) { return std::uniform_int_distribution<std::size_t>(0, n - 1)(random); }
    double real(double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); }
    bool chance(double p) { return real(0.0, 1.0) < p; }
    double anyTempo() { return chance(0.3) ? static_cast<double>(40 + 10 * below(20)) : real(35.0, 320.0); }
    double length() const {
        return static_cast<double>(track ? track->score().length : ticksPerQuarter) / ticksPerQuarter;
    }
    double anyPosition() {
        const double within = real(-4.0, 2.5 * length());
        return settings.startPpq + (chance(0.4) ? std::round(within) : within);
    }
    const GuideTrack* anyTrack() { return chance(0.05) ? nullptr : tracks[below(tracks.size())].get(); }

    void switchParts() {
        settings.notes = chance(0.8);
        settings.soundingPitch = chance(0.7);
        settings.valveLanes = chance(0.7);
        settings.click = static_cast<ClickWhen>(below(3));
        settings.noteChannel = 1 + static_cast<int>(below(3));
        settings.clickChannel = 9 + static_cast<int>(below(2));
        const int shift = static_cast<int>(below(2)); // channels 4..8 are the backing's
        for (std::size_t part = 0; part < backingPartCount; ++part) {
            settings.backing.on[part] = chance(0.4);
            settings.backing.channel[part] = 4 + shift + static_cast<int>(part);
        }
    }

    /// Far enough for anyone to call it a jump.
    void jump() {
        const double before = ppq;
        while (std::abs(ppq - before) < 0.1)
            ppq = anyPosition();
    }

    void nextPhase() {
        switch (below(9)) {
        case 0:
            jump();
            return play(true);
        case 1:
            return rest();
        case 2:
            switchParts();
            return play(false);
        case 3:
            track = anyTrack();
            return play(false);
        case 4:
            return playLoop();
        case 5:
            return playRamp();
        case 6:
            bpm = anyTempo();
            return play(false);
        case 7:
            settings.midiClock = !settings.midiClock;
            return play(false);
        default:
            return play(false);
        }
    }

    int blockSize() {
        if (fixedBlock > 0)
            return fixedBlock;
        const int bits = static_cast<int>(below(13));
        return std::min(4096, 1 + static_cast<int>(below(std::size_t{1} << bits)) + (1 << bits) / 2);
    }
    void chooseBlocks() {
        constexpr std::array<int, 8> usual{1, 32, 64, 127, 512, 1024, 4095, 4096};
        fixedBlock = chance(0.5) ? usual[below(usual.size())] : 0;
        blocksLeft = fixedBlock == 1 ? maxPhaseBlocks * 8 : maxPhaseBlocks;
        samplesLeft = 1 + static_cast<std::int64_t>(below(maxPhaseSamples));
    }
    bool more() { return blocksLeft-- > 0 && samplesLeft > 0; }

    HostBlock block(int samples) {
        HostBlock b;
        b.sampleRate = rate;
        b.samples = samples;
        b.playing = true;
        b.recording = chance(0.5);
        b.ppq = ppq;
        b.bpm = bpm;
        if (chance(0.5)) {
            b.meterBeats = 1 + static_cast<int>(below(12));
            b.meterUnit = 1 << below(5);
        }
        return b;
    }

    /// Opens a stretch at the present state; a new one only where something differs.
    void openStretch(bool rolling, bool jumped) {
        const bool positionFollows = rolling && wasRolling && !jumped;
        const bool follows = positionFollows && track == lastTrack;
        wasRolling = rolling;
        lastTrack = track;
        story.stretches.push_back(
            {now, now, rolling, positionFollows, follows, ppq, bpm, 0.0, rate, 1.0, track, settings});
    }

    void give(const HostBlock& b) {
        if (chance(0.01)) { // a block of no samples, whatever it says, is no block
            HostBlock none = b;
            none.samples = 0;
            none.playing = chance(0.5);
            story.steps.push_back({none, track, settings});
        }
        story.steps.push_back({b, track, settings});
        now += b.samples;
        samplesLeft -= b.samples;
        story.stretches.back().to = now;
    }

    /// Constant tempo, position from the stretch's start.
    void play(bool jumped) {
        chooseBlocks();
        openStretch(true, jumped);
        const Stretch stretch = story.stretches.back();
        while (more()) {
            give(block(blockSize()));
            ppq = stretch.ppq + stretch.quartersAfter(static_cast<double>(now - stretch.from));
        }
    }

    void rest() {
        chooseBlocks();
        openStretch(false, true);
        const std::size_t how = below(7);
        blocksLeft = std::min(blocksLeft, 1 + static_cast<int>(below(4)));
        constexpr double nan = std::numeric_limits<double>::quiet_NaN();
        constexpr double infinite = std::numeric_limits<double>::infinity();
        while (more()) {
            HostBlock b = block(blockSize());
            if (how == 0)
                b.bypassed = true;
            else if (how == 1)
                b.ppq.reset();
            else if (how == 2)
                b.ppq = chance(0.5) ? nan : -infinite;
            else if (how == 3)
                b.bpm = chance(0.5) ? nan : 0.0;
            else if (how == 4)
                b.bpm = chance(0.5) ? -60.0 : 1.0e9;
            else
                b.playing = false;
            give(b);
        }
    }

    /// Linear tempo ramp; each block is told the tempo of its first sample only.
    void playRamp() {
        chooseBlocks();
        openStretch(true, false);
        Stretch& stretch = story.stretches.back();
        const double target = std::clamp(bpm + real(-40.0, 40.0), 35.0, 320.0);
        stretch.bpmPerSample = (target - bpm) / static_cast<double>(maxPhaseSamples + 4096 * 2);
        const double longest = fixedBlock > 0 ? fixedBlock : 4096;
        stretch.tolerance = 1.0 + std::abs(stretch.bpmPerSample) * longest * longest / std::min(bpm, target);
        const Stretch ramp = stretch;
        while (more()) {
            give(block(blockSize()));
            const auto samples = static_cast<double>(now - ramp.from);
            ppq = ramp.ppq + ramp.quartersAfter(samples);
            bpm = ramp.bpm + ramp.bpmPerSample * samples;
        }
    }

    /// A host that loops, either splitting its blocks at the loop's end or wrapping inside one.
    void playLoop() {
        chooseBlocks();
        const bool inside = chance(0.5);
        const double start = chance(0.5) ? std::round(ppq) : ppq + real(-2.0, 2.0);
        const double end = std::max(start + (chance(0.5) ? 1.0 : real(0.25, 4.0)), ppq + 0.05);
        openStretch(true, false);
        while (more()) {
            HostBlock b = block(blockSize());
            b.looping = true;
            b.loopStartPpq = start;
            b.loopEndPpq = end;
            if (!inside)
                b.samples = static_cast<int>(std::clamp<std::int64_t>(wrapAt(end) - now, 1, b.samples));
            give(b);
            if (inside)
                wrapInside(start, end);
            else if (wrapAt(end) <= now)
                wrapHere(now, start);
            ppq = positionNow();
        }
    }

    double positionNow() const {
        const Stretch& stretch = story.stretches.back();
        return stretch.ppq + stretch.quartersAfter(static_cast<double>(now - stretch.from));
    }

    /// Where the present stretch meets the loop's end, samples of the story.
    double exactWrap(double end) const { return story.stretches.back().sampleAt(end); }
    std::int64_t wrapAt(double end) const {
        return static_cast<std::int64_t>(std::floor(exactWrap(end) + 0.5));
    }

    void wrapHere(std::int64_t sample, double position) {
        story.stretches.back().to = sample;
        const std::int64_t blockEnd = std::exchange(now, sample);
        ppq = position;
        openStretch(true, true);
        now = blockEnd;
        story.stretches.back().to = now;
    }

    /// The host's position wraps between samples; the next sample is a fraction of one past the loop's start,
    /// or before it where the wrap rounds down.
    void wrapInside(double start, double end) {
        while (wrapAt(end) <= now) {
            const double exact = exactWrap(end);
            const std::int64_t wrap = wrapAt(end);
            if (wrap == now && positionNow() < end)
                return; // the next block still starts before the loop's end
            wrapHere(wrap, start + (static_cast<double>(wrap) - exact) * bpm / 60.0 / rate);
        }
    }

    std::mt19937_64& random;
    const std::vector<std::unique_ptr<GuideTrack>>& tracks;
    Story story;
    double rate = 48000.0;
    GuideSettings settings;
    const GuideTrack* track = nullptr;
    const GuideTrack* lastTrack = nullptr;
    bool wasRolling = false;
    double ppq = 0.0;
    double bpm = 120.0;
    std::int64_t now = 0;
    int fixedBlock = 0;
    int blocksLeft = 0;
    std::int64_t samplesLeft = 0;
};

} // namespace

Story randomStory(std::mt19937_64& random, const std::vector<std::unique_ptr<GuideTrack>>& tracks) {
    return StoryTeller(random, tracks).tell();
}

} // namespace valveladder::test
