#pragma once

#include "Base/Problem.h"
#include "Listening/Performance.h"
#include "Listening/ScoreFollower.h"
#include "Listening/SoundHearing.h"
#include "Listening/SoundMatch.h"
#include "Listening/TempoFinder.h"
#include "Score/Score.h"
#include "Tempo/TempoMap.h"

#include <optional>
#include <span>
#include <utility>
#include <vector>

namespace valveladder {

struct SoundSettings {
    double sampleRate = 48000.0;        ///< Hz, minSampleRate..maxSampleRate
    std::optional<TempoMap> tempo;      ///< nothing: found from the sound
    std::optional<double> startSeconds; ///< of tick 0 in the sound; nothing: found
    double roundTripMs = 0.0;           ///< by which the sound comes late; in recordedRoundTrip
    TakeSpan span;                      ///< part of the score that the take covers

    static constexpr double minSampleRate = 4000.0;
    static constexpr double maxSampleRate = 768000.0;
};

/// The settings themselves, or the first that is out of range.
[[nodiscard]] Result<SoundSettings> checked(SoundSettings settings);

/// Pitches that are listened for in a take of `score`, fractional MIDI numbers at A4 = 440 Hz.
[[nodiscard]] std::pair<double, double> heardRange(const Score& score);

/// For the screen while the player plays.
struct LiveView {
    int index = -1;          ///< into Score::notes, -1 before the first note
    double midi = -1.0;      ///< heard now, fractional MIDI number at A4 = 440 Hz; negative = no pitch
    double confidence = 0.0; ///< 0..1
    double seconds = 0.0;    ///< time in the sound for which this holds
};

/// Listens to a take: sound in, Performance out. The same code live (on a worker thread) and for files.
/// Memory is bounded: some seconds of sound, and the heard notes, for which room is taken at the start (four
/// for each expected note and 4096 more; what is heard beyond that is counted and said in the remarks).
/// One thread at a time. now() lags behind the sound by half the analysis window, the resampler and two
/// frames of 5 ms.
class SoundListener {
public:
    /// The score must outlive the listener; settings as accepted by checked().
    SoundListener(const Score& expected, SoundSettings soundSettings);

    /// The next samples, one channel, full scale = 1.
    void push(std::span<const float> mono);
    [[nodiscard]] LiveView now() const;

    /// Before finish(), for a live take: what really held, where tempo and end are known only afterwards. The
    /// view keeps following what was given at the start.
    void settle(TempoMap played, double startSeconds, TakeSpan span);
    /// The take has ended. Call once.
    [[nodiscard]] Performance finish();

    /// After finish: what held, given or found; nothing when neither.
    [[nodiscard]] std::optional<double> startSeconds() const { return settings.startSeconds; }
    [[nodiscard]] const std::optional<TempoMap>& tempo() const { return settings.tempo; }
    /// After finish: what was found in the sound, the unlikely too.
    [[nodiscard]] std::span<const WeighedReport> reports() const { return weighed; }
    [[nodiscard]] std::span<const WeighedLate> lateFingers() const { return weighedLate; }

private:
    [[nodiscard]] KnownPlace knownPlace() const;
    /// Why there is none.
    [[nodiscard]] std::optional<Remark> findTime(std::span<const HeardNote> notes, double tuning);
    [[nodiscard]] double chooseTuning(std::span<const HeardNote> notes);
    [[nodiscard]] Performance withoutMatch(const Remark& why) const;
    void addRemarks(Performance& performance) const;

    const Score& score;
    SoundSettings settings;
    SoundHearing hearing;
    ScoreFollower follower;
    std::vector<HeardNote> heard;
    std::vector<HeardNote> fresh; ///< work space of push
    std::vector<WeighedReport> weighed;
    std::vector<WeighedLate> weighedLate;
    long dropped = 0;
    long samples = 0;
    double loudest = 0.0;
    long clipped = 0;
};

} // namespace valveladder
