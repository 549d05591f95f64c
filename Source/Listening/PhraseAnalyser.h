#pragma once

#include "Listening/Envelope.h"
#include "Listening/GlideFit.h"
#include "Listening/HalfDone.h"
#include "Listening/HeardNote.h"
#include "Listening/NoteSegmenter.h"
#include "Listening/SampleRing.h"

#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <vector>

namespace valveladder {

/// Where a phrase's contour frames lie in the stream of samples.
struct PhrasePlace {
    std::int64_t firstCentre = 0; ///< sample in the middle of the first frame
    int hop = 1;                  ///< samples a frame
};

/// Turns one phrase (a stretch of contour between silences) into notes: cuts it by pitch, then finds in the
/// sound itself when each note began and ended, how long each change took, and where a note spoke twice.
class PhraseAnalyser {
public:
    /// `ring` outlives the analyser and holds the sound (no direct current) at `sampleRate` Hz.
    /// `halfDone` as well: what changes of valves that stop half-way may sound.
    PhraseAnalyser(double sampleRate, const SampleRing& soundRing, const HalfDoneChanges& halfDone)
        : rate(sampleRate), ring(soundRing), stops(halfDone) {}

    /// Notes in order; times in samples of the stream divided by the rate. `earliest`: sample before which
    /// no note of this phrase begins (the end of the phrase before).
    [[nodiscard]] std::vector<HeardNote> analyse(std::span<const ContourFrame> frames, PhrasePlace place,
                                                 std::int64_t earliest) const;

private:
    struct Sound {
        std::span<const float> samples;
        Envelope envelope;
        std::int64_t first; ///< place of samples[0] in the stream
        double earliest;    ///< as the argument of analyse, samples into the sound
    };
    struct Tone {
        double from = 0.0; ///< rough edges from the contour, samples into the sound
        double to = 0.0;
        double period = 0.0;
        double level = 0.0;
        double strength = 0.0;
        double drift = 0.0;   ///< semitones a sample, by the contour, in its middle half
        double midi = 0.0;    ///< by the contour, vibrato taken off
        double swing = 0.0;   ///< of its vibrato, semitones either way
        double reached = 0.0; ///< where the contour, vibrato taken off, passes from the tone before to it
        double onset = 0.0;   ///< refined
        double noise = 0.0;   ///< standard deviation of the onset
        double offset = 0.0;
        HeardNote::Start start = HeardNote::Start::attack;
        double settled = 0.0;             ///< where it is on its pitch, if it spoke off it; else `from`
        double spokeSharp = 0.0;          ///< by how many semitones, the farthest
        bool blurred = false;             ///< begins under the sound of the note before
        std::size_t number = 0;           ///< in the phrase
        std::optional<double> changeover; ///< samples
        /// Within these it is not struck again: outside a change that stops half-way.
        double steadyFrom = 0.0;
        double steadyTo = std::numeric_limits<double>::infinity();
    };

    [[nodiscard]] double seconds(double samples) const { return samples / rate; }
    [[nodiscard]] double windowOf(const Tone& tone) const;
    [[nodiscard]] std::vector<Tone> roughTones(const Sound& sound, std::span<const Stretch> stretches,
                                               std::span<const ContourFrame> steady,
                                               std::span<const float> swing, PhrasePlace place) const;
    struct Dip {
        double place = 0.0;
        double level = 0.0;
    };
    [[nodiscard]] Dip quietest(const Sound& sound, double from, double to, double window) const;
    /// `quiet`: the quietest place before the note, or the earliest at which it may begin.
    void findAttack(const Sound& sound, Tone& tone, double quiet) const;
    struct Transition {
        Dip dip;
        double share = 1.0;   ///< level of the dip over the softer tone's
        bool touches = false; ///< no silence in the contour
        std::optional<Glide> glide;
    };
    [[nodiscard]] Transition lookAt(const Sound& sound, const Tone& before, const Tone& after) const;
    /// Whether most changes of a phrase are glides.
    [[nodiscard]] static bool bends(std::span<const Transition> transitions);
    /// Whether a change may be a glide under which the first tone rings on.
    [[nodiscard]] static bool mayRing(const Transition& transition);
    /// Whether most changes of a phrase are such glides.
    [[nodiscard]] bool ringsOn(const Sound& sound, std::span<const Tone> tones,
                               std::span<const Transition> transitions) const;
    /// Fits such glides anew.
    void fitRinging(const Sound& sound, std::span<const Tone> tones, std::span<Transition> transitions) const;
    void findTransition(const Sound& sound, const Transition& transition, bool bent, Tone& before,
                        Tone& after) const;
    [[nodiscard]] std::optional<Glide> fitGlide(const Sound& sound, const Tone& before,
                                                const Tone& after) const;
    /// The same where the first tone rings on under the second, from what was fitted without that. Nothing
    /// where that does not explain the sound.
    [[nodiscard]] std::optional<Glide> fitRinging(const Sound& sound, const Tone& before, const Tone& after,
                                                  Glide plain) const;
    /// Longest change that may lie between two tones, samples.
    [[nodiscard]] double longestGlide(const Tone& before, const Tone& after) const;
    /// A piece of sound about a change, with the two settled periods next to it.
    struct ChangePlace {
        double first; ///< the piece's place in the sound, samples, whole
        std::span<const float> piece;
        double periodBefore;
        double periodAfter;
    };
    /// `half`: samples on either side of `edge` that the change may take.
    [[nodiscard]] std::optional<ChangePlace> changePlace(const Sound& sound, const Tone& before,
                                                         const Tone& after, double edge, double half) const;
    /// A change of valves that may have stopped half-way.
    struct SlowChange {
        std::size_t before;
        std::size_t after; ///< tones between the two are the stop
        double left;       ///< of the best reading, samples into the sound
        double reached;
        std::vector<HeardNote::Slowly> readings;
    };
    [[nodiscard]] std::vector<SlowChange> findSlowChanges(const Sound& sound,
                                                          const std::vector<Tone>& tones) const;
    [[nodiscard]] std::optional<SlowChange> slowChange(const Sound& sound, const std::vector<Tone>& tones,
                                                       std::size_t before, std::size_t after) const;
    /// Takes out tones that might only be passed through by one glide from the tone before to the tone after.
    void dropPassedThrough(const Sound& sound, std::vector<Tone>& tones) const;
    /// Joins tones that are only how the next one speaks with it (Scoop.h).
    void joinScoops(const Sound& sound, std::vector<Tone>& tones) const;
    /// Finds how each tone began and ended.
    void findEdges(const Sound& sound, std::vector<Tone>& tones) const;
    [[nodiscard]] HeardNote::Beginning beginningOf(const Sound& sound, const Tone& tone) const;
    /// Going back from `late`: up to where the sound still repeats with the old period as well as before.
    [[nodiscard]] double lastOfOld(const Sound& sound, const Tone& before, double window, double early,
                                   double late) const;
    void findRestrikeOnset(const Sound& sound, const Tone& before, Tone& after) const;
    void findEnd(const Sound& sound, Tone& tone, double ceiling) const;
    /// Of two notes taken for one tone the short one may lie a semitone or two beside its pitch.
    [[nodiscard]] double periodOfPiece(const Sound& sound, const Tone& piece) const;
    [[nodiscard]] static double shapeStart(const Tone& tone, double settled);
    /// HeardNote::shape of a tone, settled in [from, to).
    [[nodiscard]] std::vector<std::int8_t> shapeOf(const Sound& sound, const Tone& tone, double from,
                                                   double to) const;
    void appendNotes(const Sound& sound, const Tone& tone, double changeoverAfter,
                     std::vector<HeardNote>& notes) const;
    [[nodiscard]] HeardNote noteOf(const Sound& sound, const Tone& tone) const;

    double rate;
    const SampleRing& ring;
    const HalfDoneChanges& stops;
};

} // namespace valveladder
