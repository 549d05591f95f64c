#pragma once

#include "Listening/HalfDone.h"
#include "Listening/HeardNote.h"
#include "Listening/PitchContour.h"
#include "Listening/PitchSalience.h"
#include "Listening/RateChanger.h"
#include "Listening/SampleRing.h"

#include <span>
#include <vector>

namespace valveladder {

/// What is heard at this moment, without look-ahead.
struct HeardNow {
    double midi = -1.0;      ///< fractional MIDI number at A4 = 440 Hz; negative = no pitch
    double confidence = 0.0; ///< 0..1
    double seconds = 0.0;    ///< time in the sound that this stands for
};

/// From a stream of sound to heard notes. Of the score it knows the range of pitch, and what half-done
/// changes of valves would sound. Bounded memory: the last keptSeconds of sound and one phrase of contour.
/// One thread at a time.
class SoundHearing {
public:
    static constexpr double keptSeconds = 24.0;
    static constexpr double maxPhraseSeconds = 20.0;

    /// `sampleRate` in Hz; the range in fractional MIDI numbers; `halfDone`: what half-done changes of valves
    /// may sound.
    SoundHearing(double sampleRate, double lowMidi, double highMidi, HalfDoneChanges halfDone = {});
    SoundHearing(const SoundHearing&) = delete;
    SoundHearing& operator=(const SoundHearing&) = delete;

    /// Takes the next samples; appends the notes that they complete. Samples that are not numbers count as
    /// silence.
    void push(std::span<const float> mono, std::vector<HeardNote>& notes);
    /// The stream has ended: appends the notes still open.
    void finish(std::vector<HeardNote>& notes);

    [[nodiscard]] const HeardNow& now() const { return current; }
    [[nodiscard]] long brokenSamples() const { return broken; }

private:
    void takeSample(float sample, std::vector<HeardNote>& notes);
    void takeFrame(std::vector<HeardNote>& notes);
    void takeContour(const ContourFrame& frame, std::vector<HeardNote>& notes);
    void closePhrase(std::vector<HeardNote>& notes, bool keepLast);
    [[nodiscard]] bool gateOpen(float level);
    [[nodiscard]] double secondsAt(double sample) const;

    RateChanger changer;
    double rate;
    PitchSalience salience;
    PitchContour contour;
    SampleRing plain;      ///< without direct current
    SampleRing emphasised; ///< upper harmonics raised: they tell neighbouring pitches apart
    HalfDoneChanges stops;
    Salience work;
    std::vector<float> resampled;
    std::vector<ContourFrame> phrase;
    HeardNow current;
    int hop;
    std::int64_t nextCentre;
    std::int64_t phraseCentre = 0;
    std::int64_t contourCentre;
    std::int64_t earliest = 0;
    double unvoicedFrames = 0.0; ///< since the last pitch, loud ones in part
    float voicedLevel = 0.0F;
    double dcState = 0.0;
    double dcInput = 0.0;
    float lastPlain = 0.0F;
    float peakLevel = 0.0F;
    float floorLevel = 1.0F;
    long broken = 0;
};

} // namespace valveladder
