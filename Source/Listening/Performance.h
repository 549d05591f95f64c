#pragma once

#include "Listening/Remark.h"
#include "Valves/Change.h"
#include "Valves/Pitch.h"

#include <array>
#include <optional>
#include <vector>

namespace valveladder {

/// A figure with its uncertainty: a 90 % interval and the number of observations behind it.
struct Estimate {
    double value = 0.0;
    double low = 0.0;
    double high = 0.0;
    int n = 0;

    bool operator==(const Estimate&) const = default;
};

enum class Outcome { right, wrong, missed };

/// What became of one expected note. Absent optionals mean that it could not be measured (missed, or a source
/// that does not carry it).
struct NoteResult {
    int index = 0; ///< into Score::notes
    Outcome outcome = Outcome::missed;
    MidiNote played = -1;               ///< sounding pitch heard, -1 when missed
    std::optional<double> onsetSeconds; ///< from the score's tick 0
    std::optional<double> offsetSeconds;
    std::optional<double>
        deviationMs; ///< onset deviation after removing one line per segment; positive = late
    std::optional<double> rawDeviationMs; ///< against the guide's own time, asynchrony included
    std::optional<double> ioiResidualMs;  ///< inter-onset interval to the previous note, against its share
    std::optional<double> cents;          ///< against equal temperament at the take's tuning
    std::optional<double> centsFromPrediction; ///< against what this combination predicts
    std::optional<double> loudnessDb;          ///< relative to the take's median, never dB SPL
    bool split = false;                        ///< spoke twice, or through another partial first
    bool breathBefore = false; ///< silence longer than breathGapMs inside a segment, before this note
    bool valvesWrong = false;  ///< valve sensors showed another combination than asked for
    /// Cracked: for so long another partial of its valves sounded first, and which (sounding pitch, -1 where
    /// it did not crack). Its onset is that of the other partial.
    std::optional<double> crackedMs;
    MidiNote crackedThrough = -1;
    /// How likely what is reported of this note is so, 0..1, the least where it is several things
    /// (ReportLikelihood.h). Nothing where nothing is reported, or nothing but what MIDI or sensors told.
    std::optional<double> likelihood;

    bool operator==(const NoteResult&) const = default;
};

/// A note heard that the score does not hold.
struct ExtraNote {
    double onsetSeconds = 0.0;
    double offsetSeconds = 0.0;
    MidiNote played = 60;
    int nearIndex = 0;                               ///< the expected note it came before or in
    std::optional<double> likelihood = std::nullopt; ///< that it was played; see NoteResult::likelihood

    bool operator==(const ExtraNote&) const = default;
};

/// One change inside a segment, from note `toIndex - 1` to note `toIndex`.
struct ChangeResult {
    int toIndex = 0;
    Change change;
    bool slurred = true;
    /// From leaving the first settled pitch to reaching the second, as BendShape.h defines it, a stop on the
    /// way included; by valve sensors from the first movement to the last.
    std::optional<double> changeoverMs;
    std::optional<double> gapMs; ///< silence between tongued notes; negative = overlap
    bool fromSensors = false;    ///< measured by valve sensors: changeoverMs is first to last valve movement
    /// By valve 1..4: when the finger came to rest, after the first movement of this change. Only by sensors,
    /// and only for fingers that moved.
    std::array<std::optional<double>, maxValves> fingerMs;
    /// Of fingers that did not move at once: those that came after the longest pause, and that pause. By
    /// sound where the combination between was heard, by sensors where two fingers moved or more; else none.
    Combination lateFingers;
    std::optional<double> lateByMs;
    std::optional<double> lateLikelihood; ///< that just these came late; see NoteResult::likelihood

    /// The other fingers of the change; none where nothing is told of late ones.
    [[nodiscard]] Combination earlyFingers() const {
        const unsigned moved = change.pressed().bits() | change.released().bits();
        return lateByMs ? Combination(static_cast<std::uint8_t>(moved & ~lateFingers.bits())) : Combination();
    }

    bool operator==(const ChangeResult&) const = default;
};

struct SegmentResult {
    int span = 0; ///< into Score::spans
    int rung = 0;
    int segment = 0;
    int expected = 0;
    int right = 0;
    int wrong = 0;
    int missed = 0;
    int extra = 0;
    int breaths = 0;
    int earlierTries = 0;                     ///< begun and broken off; the last try is what counts
    bool played = false;                      ///< at least one note was heard
    bool clean = false;                       ///< every note right, none extra, no breath
    std::optional<Estimate> asynchronyMs;     ///< median raw deviation
    std::optional<Estimate> onsetSpreadMs;    ///< 1.4826 * median |deviationMs|, less the source's noise
    std::optional<Estimate> ioiSpreadMs;      ///< 1.4826 * median |ioiResidualMs|, likewise
    std::optional<Estimate> ioiSpreadPercent; ///< of the segment's note value
    std::optional<Estimate> longShortRatio;   ///< long over short, uneven rhythms only
    std::optional<double> targetRatio;

    bool operator==(const SegmentResult&) const = default;
};

enum class Source { midi, sound, both };

/// What the player did, as a pure function of the score and what was heard.
struct Performance {
    Source source = Source::midi;
    std::vector<NoteResult> notes; ///< one for each expected note within the take
    std::vector<ExtraNote> extras;
    std::vector<ChangeResult> changes;
    std::vector<SegmentResult> segments;
    std::optional<Estimate> asynchronyMs;       ///< median raw deviation of the take
    std::optional<Estimate> asynchronySpreadMs; ///< 1.4826 * MAD of the take's raw deviations
    std::optional<double> tuningHz;             ///< A4 that the player's tuning implies; sound only
    std::vector<Remark> remarks;                ///< e.g. why a measure is absent

    /// Whether the take was measured, and be it that every note was missed. False where no expected note lies
    /// within it, or where its sound could not be listened to at all.
    [[nodiscard]] bool measured() const { return !notes.empty(); }
    [[nodiscard]] int count(Outcome outcome) const;
    [[nodiscard]] bool clean() const; ///< all segments played and clean; false when nothing was expected
    /// Worst ioiSpreadPercent of the even segments; nothing when none has one.
    [[nodiscard]] std::optional<double> worstIoiSpreadPercent() const;

    bool operator==(const Performance&) const = default;
};

/// Silence inside a segment that counts as a breath.
inline constexpr double breathGapMs = 80.0;

} // namespace valveladder
