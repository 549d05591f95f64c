#include "Support/SoundFontPlayer.h"

#include <algorithm>
#include <cmath>
#include <fluidsynth.h>
#include <functional>
#include <stdexcept>

namespace valveladder::testing {

namespace {

constexpr int channel = 0;
constexpr int blockFrames = 64; ///< events take effect at these borders
constexpr int bendRangeSemitones = 24;
constexpr int velocityUsed = 90;

struct Event {
    enum class Kind { on, off, bend } kind = Kind::on;
    int key = 0;
    double cents = 0.0;
    int articulation = -1; ///< which articulation begins or ends; bends are common to all
};

} // namespace

struct SoundFontPlayer::Engine {
    fluid_settings_t* settings = nullptr;
    fluid_synth_t* synth = nullptr;

    Engine(const std::string& font, int program) : settings(new_fluid_settings()) {
        fluid_set_log_function(FLUID_WARN, nullptr, nullptr);
        fluid_settings_setnum(settings, "synth.sample-rate", rate);
        fluid_settings_setnum(settings, "synth.gain", 1.6);
        fluid_settings_setint(settings, "synth.reverb.active", 0);
        fluid_settings_setint(settings, "synth.chorus.active", 0);
        synth = new_fluid_synth(settings);
        const int id = fluid_synth_sfload(synth, font.c_str(), 1);
        if (id == FLUID_FAILED)
            throw std::runtime_error("cannot read soundfont " + font);
        fluid_synth_program_select(synth, channel, id, 0, program);
        fluid_synth_pitch_wheel_sens(synth, channel, bendRangeSemitones);
    }
    Engine(const Engine&) = delete;
    Engine& operator=(const Engine&) = delete;
    ~Engine() {
        delete_fluid_synth(synth);
        delete_fluid_settings(settings);
    }

    void apply(const Event& event) {
        switch (event.kind) {
        case Event::Kind::on:
            fluid_synth_noteon(synth, channel, event.key, velocityUsed);
            break;
        case Event::Kind::off:
            fluid_synth_noteoff(synth, channel, event.key);
            break;
        case Event::Kind::bend: {
            const double value = 8192.0 + 8192.0 * event.cents / (100.0 * bendRangeSemitones);
            fluid_synth_pitch_bend(synth, channel,
                                   std::clamp(static_cast<int>(std::lround(value)), 0, 16383));
            break;
        }
        }
    }

    /// `parity` 0 or 1: only every other articulation sounds.
    std::vector<float> play(const std::multimap<int, Event>& events, int blocks, int parity = -1) {
        fluid_synth_all_sounds_off(synth, channel);
        std::vector<float> left(blockFrames);
        std::vector<float> right(blockFrames);
        for (int i = 0; i < 64; ++i) // let the last take die away
            fluid_synth_write_float(synth, blockFrames, left.data(), 0, 1, right.data(), 0, 1);
        std::vector<float> out;
        out.reserve(static_cast<std::size_t>(blocks) * blockFrames);
        for (int b = 0; b < blocks; ++b) {
            const auto [from, to] = events.equal_range(b);
            for (auto it = from; it != to; ++it)
                if (parity < 0 || it->second.articulation < 0 || it->second.articulation % 2 == parity)
                    apply(it->second);
            fluid_synth_write_float(synth, blockFrames, left.data(), 0, 1, right.data(), 0, 1);
            for (int i = 0; i < blockFrames; ++i)
                out.push_back(0.5F *
                              (left[static_cast<std::size_t>(i)] + right[static_cast<std::size_t>(i)]));
        }
        return out;
    }
};

SoundFontPlayer::SoundFontPlayer(const std::string& fontPath, int gmProgram)
    : engine(std::make_unique<Engine>(fontPath, gmProgram)) {}
SoundFontPlayer::~SoundFontPlayer() = default;

namespace {

int blockOf(double seconds) {
    return static_cast<int>(std::lround(seconds * SoundFontPlayer::rate / blockFrames));
}
double secondsOf(int block) {
    return block * blockFrames / SoundFontPlayer::rate;
}

} // namespace

double SoundFontPlayer::onsetLag(int midi, int velocity, double length) {
    const auto key = std::make_tuple(midi, velocity, static_cast<int>(std::lround(length * 100.0)));
    if (const auto known = lags.find(key); known != lags.end())
        return known->second;
    std::multimap<int, Event> events;
    const int on = blockOf(0.1);
    const int off = on + std::max(1, blockOf(length));
    events.emplace(0, Event{Event::Kind::bend, 0, 0.0});
    events.emplace(on, Event{Event::Kind::on, midi, 0.0});
    events.emplace(off, Event{Event::Kind::off, midi, 0.0});
    const auto alone = engine->play(events, off + blockOf(0.2));
    const double hz = 440.0 * std::exp2((midi - 69) / 12.0);
    const double lag = audibleOnset(alone, rate, secondsOf(on), secondsOf(off - on), hz);
    lags.emplace(key, lag);
    return lag;
}

namespace {

/// Moves the references of articulations that the one before still drowns.
void delayMasked(SoundPlan& truth, const std::vector<bool>& isStruck, const std::vector<float>& even,
                 const std::vector<float>& odd) {
    int articulation = -1;
    const auto delay = [&](double& onset, int midi) {
        const bool isOdd = ++articulation % 2 == 1;
        onset = prevailingOnset(isOdd ? odd : even, isOdd ? even : odd, SoundFontPlayer::rate, onset,
                                440.0 * std::exp2((midi - 69) / 12.0));
    };
    for (std::size_t i = 0; i < truth.notes.size(); ++i) {
        TrueNote& note = truth.notes[i];
        if (isStruck[i])
            delay(note.onset, note.midi);
        if (note.splitAt)
            delay(*note.splitAt, note.midi);
    }
}

/// Articulations are numbered in order; every other one lies in `even`, the others in `odd`.
void endFirstArticulations(const SoundPlan& plan, const std::vector<bool>& isStruck, std::vector<float>& even,
                           std::vector<float>& odd) {
    const auto sampleAt = [](double seconds) {
        return static_cast<std::size_t>(std::max(0.0, seconds) * SoundFontPlayer::rate);
    };
    int articulations = 0;
    for (std::size_t i = 0; i < plan.notes.size(); ++i) {
        const TrueNote& note = plan.notes[i];
        articulations += isStruck[i] ? 1 : 0;
        if (!note.splitAt)
            continue;
        std::vector<float>& track = articulations % 2 == 1 ? even : odd; // of the last articulation
        ++articulations;
        std::size_t next = i + 1;
        while (next < plan.notes.size() && !isStruck[next])
            ++next;
        const double until = next < plan.notes.size() ? plan.notes[next].onset : plan.length;
        const std::size_t from = sampleAt(note.firstStops);
        const double gap = (*note.splitAt - note.firstStops) * SoundFontPlayer::rate;
        for (std::size_t k = from; k < std::min(track.size(), sampleAt(until)); ++k)
            track[k] *= static_cast<float>(std::max(0.0, 1.0 - static_cast<double>(k - from) / gap));
    }
}

} // namespace

SoundTake SoundFontPlayer::render(const SoundPlan& plan, Tails tails) {
    std::multimap<int, Event> events;
    const auto bendAt = [&](double seconds, double cents) {
        events.emplace(blockOf(seconds), Event{Event::Kind::bend, 0, cents});
    };
    SoundTake take;
    take.rate = rate;
    take.truth = plan;
    bendAt(0.0, 0.0);
    int held = -1; // key of the struck note that is being bent
    int articulation = -1;
    std::vector<bool> isStruck(plan.notes.size(), false);
    for (std::size_t i = 0; i < plan.notes.size(); ++i) {
        const TrueNote& note = plan.notes[i];
        TrueNote& truth = take.truth.notes[i];
        const bool bendsOn = i + 1 < plan.notes.size() && !plan.notes[i + 1].tongued;
        if (!note.tongued && held >= 0) {
            const BendPath change({static_cast<double>(plan.notes[i - 1].midi),
                                   static_cast<double>(note.midi), note.changeoverMs.value_or(30.0),
                                   note.bend, note.stop});
            const int from = blockOf(note.onset - 0.001 * change.leadMs());
            for (int b = from; b <= blockOf(note.onset + 0.001 * change.tailMs()) + 1; ++b)
                bendAt(secondsOf(b), 100.0 * (change.midiAt(1000.0 * (secondsOf(b) - note.onset)) - held));
        } else {
            held = note.midi;
            isStruck[i] = true;
            bendAt(secondsOf(blockOf(note.onset)), 0.0);
            events.emplace(blockOf(note.onset), Event{Event::Kind::on, note.midi, 0.0, ++articulation});
            const double struck = secondsOf(blockOf(note.onset));
            const double sounding = note.splitAt ? *note.splitAt - note.onset : note.offset - note.onset;
            truth.onset = struck + onsetLag(note.midi, velocityUsed, std::min(0.3, sounding));
        }
        if (note.splitAt) {
            events.emplace(blockOf(note.firstStops), Event{Event::Kind::off, held, 0.0, articulation});
            if (note.midi != held)
                bendAt(0.5 * (note.firstStops + *note.splitAt), 100.0 * (note.midi - held));
            events.emplace(blockOf(*note.splitAt), Event{Event::Kind::on, held, 0.0, ++articulation});
            truth.splitAt = secondsOf(blockOf(*note.splitAt)) +
                            onsetLag(note.midi, velocityUsed, std::min(0.3, note.offset - *note.splitAt));
        }
        if (!bendsOn) {
            const bool overlaps = i + 1 < plan.notes.size() &&
                                  plan.notes[i + 1].onset - note.offset < 0.001 &&
                                  plan.notes[i + 1].midi != note.midi;
            events.emplace(blockOf(note.offset + (overlaps ? 0.005 : -0.003)),
                           Event{Event::Kind::off, held, 0.0, articulation});
            if (!overlaps)
                held = -1;
        }
    }
    take.samples = engine->play(events, blockOf(plan.length));
    std::vector<float> even = engine->play(events, blockOf(plan.length), 0);
    std::vector<float> odd = engine->play(events, blockOf(plan.length), 1);
    if (tails == Tails::silentBeforeSecondArticulations) {
        endFirstArticulations(plan, isStruck, even, odd);
        std::ranges::transform(even, odd, take.samples.begin(), std::plus<>{});
    }
    delayMasked(take.truth, isStruck, even, odd);
    return take;
}

std::string largeFont() {
    return VALVE_LADDER_LARGE_FONT;
}
std::string smallFont() {
    return VALVE_LADDER_SMALL_FONT;
}

} // namespace valveladder::testing
