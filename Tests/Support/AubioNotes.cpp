#include "Support/AubioNotes.h"

#include <aubio/aubio.h>
#include <cmath>
#include <memory>

namespace valveladder::testing {

namespace {

constexpr uint_t windowSamples = 4096;
constexpr uint_t hopSamples = 512;
constexpr float silenceDb = -50.0F;
constexpr int steadyFrames = 3;

/// Cuts a pitch track into notes: three frames of one rounded pitch begin one, another pitch or silence ends
/// it.
class Splitter {
public:
    void frame(double seconds, double midi) {
        const int rounded = midi > 0.0 ? static_cast<int>(std::lround(midi)) : -1;
        if (rounded != candidate) {
            candidate = rounded;
            since = seconds;
            count = 0;
        }
        if (++count == steadyFrames && candidate != sounding) {
            sounding = candidate;
            if (sounding >= 0)
                notes.push_back({since, static_cast<double>(sounding)});
        }
    }
    std::vector<NoteEvent> notes;

private:
    int candidate = -1;
    int sounding = -1;
    int count = 0;
    double since = 0.0;
};

} // namespace

std::vector<NoteEvent> aubioNotes(std::span<const float> mono, double sampleRate) {
    const std::unique_ptr<aubio_pitch_t, decltype(&del_aubio_pitch)> pitch(
        new_aubio_pitch("yin", windowSamples, hopSamples, static_cast<uint_t>(sampleRate)), &del_aubio_pitch);
    const std::unique_ptr<fvec_t, decltype(&del_fvec)> in(new_fvec(hopSamples), &del_fvec);
    const std::unique_ptr<fvec_t, decltype(&del_fvec)> out(new_fvec(1), &del_fvec);
    aubio_pitch_set_unit(pitch.get(), "midi");
    aubio_pitch_set_silence(pitch.get(), silenceDb);
    Splitter splitter;
    for (std::size_t at = 0; at + hopSamples <= mono.size(); at += hopSamples) {
        for (uint_t i = 0; i < hopSamples; ++i)
            fvec_set_sample(in.get(), mono[at + i], i);
        aubio_pitch_do(pitch.get(), in.get(), out.get());
        splitter.frame(static_cast<double>(at) / sampleRate,
                       static_cast<double>(fvec_get_sample(out.get(), 0)));
    }
    return splitter.notes;
}

std::vector<NoteEvent> withoutLag(std::vector<NoteEvent> events, const std::vector<NoteEvent>& reference) {
    std::vector<double> late;
    for (const NoteEvent& r : reference)
        for (const NoteEvent& e : events)
            if (std::abs(e.midi - r.midi) <= 0.5 && std::abs(e.onset - r.onset) < 0.15)
                late.push_back(e.onset - r.onset);
    const double lag = quantile(late, 0.5);
    for (NoteEvent& e : events)
        e.onset -= lag;
    return events;
}

} // namespace valveladder::testing
