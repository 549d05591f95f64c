#include "Listening/SoundListener.h"

#include "Base/RoundTripRange.h"
#include "Base/Units.h"
#include "Listening/Measures.h"
#include "Listening/Tuning.h"
#include "Valves/Interval.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace valveladder {

namespace {

/// Heard beyond the score's own range: the tuning's semitone, and one partial in the register of the ladder
/// (a fifth), a wrong combination below. An octave jump within the range is told by its own pitch.
constexpr double semitonesBelow = 6.0;
constexpr double semitonesAbove = 9.0;
constexpr std::size_t spareNotes = 4096;
constexpr double clippedLevel = 0.999;
constexpr double silentPeak = 1e-4; ///< -80 dBFS
/// Fewer of the expected notes right than this: the remarks say that the sound does not fit the drill.
constexpr double fitsShare = 0.3;
/// Clipped samples from which on it is worth a remark.
constexpr long manyClipped = 50;

std::vector<HeardNote> shifted(std::span<const HeardNote> notes, double seconds) {
    std::vector<HeardNote> moved(notes.begin(), notes.end());
    for (HeardNote& note : moved) {
        note.onset -= seconds;
        note.offset -= seconds;
        if (note.ifPassed)
            note.ifPassed->onset -= seconds;
        for (HeardNote::Slowly& reading : note.slowly)
            reading.beginning.onset -= seconds;
    }
    return moved;
}

/// Why a take has no place in the drill, with the readings that were weighed.
NotPlaced notPlaced(const std::vector<ScorePlace>& readings, double roundTripMs) {
    NotPlaced remark;
    for (const ScorePlace& reading : readings)
        remark.readings.push_back({secondsPerMinute / reading.secondsPerQuarter,
                                   reading.startSeconds - roundTripMs / msPerSecond, reading.agreeing});
    return remark;
}

} // namespace

std::pair<double, double> heardRange(const Score& score) {
    if (score.notes.empty())
        return {40.0, 76.0};
    const auto [low, high] = std::ranges::minmax_element(score.notes, {}, &ScoreNote::sounding);
    constexpr double lowest = 22.0;
    constexpr double highest = 100.0;
    return {
        std::clamp(low->sounding - semitonesBelow, lowest, highest),
        std::clamp(high->sounding + semitonesAbove, lowest + semitonesAnOctave, highest + semitonesAnOctave)};
}

Result<SoundSettings> checked(SoundSettings settings) {
    const double rate = settings.sampleRate;
    if (!(rate >= SoundSettings::minSampleRate && rate <= SoundSettings::maxSampleRate))
        return Problem{
            fmt::format("a sample rate of {:g} Hz cannot be listened to", rate), "sample rate",
            fmt::format("use {:g} to {:g} Hz", SoundSettings::minSampleRate, SoundSettings::maxSampleRate)};
    if (!recordedRoundTrip.holds(settings.roundTripMs))
        return Problem{recordedRoundTrip.refusal(), "round trip", "measure it, or set 0"};
    if (settings.startSeconds && !std::isfinite(*settings.startSeconds))
        return Problem{"the start of the drill in the sound is not a number", "start",
                       "leave it open to be found"};
    return settings;
}

SoundListener::SoundListener(const Score& expected, SoundSettings soundSettings)
    : score(expected), settings(std::move(soundSettings)),
      hearing(settings.sampleRate, heardRange(expected).first, heardRange(expected).second,
              HalfDoneChanges(expected)),
      follower(expected, settings.tempo, knownPlace().startSeconds) {
    heard.reserve(4 * score.notes.size() + spareNotes);
    fresh.reserve(256);
}

void SoundListener::push(std::span<const float> mono) {
    constexpr std::size_t chunk = 256; // the view moves on at least this often
    samples += static_cast<long>(mono.size());
    while (!mono.empty()) {
        const auto part = mono.first(std::min(chunk, mono.size()));
        for (const float s : part) {
            const double level = std::abs(static_cast<double>(s));
            if (level > loudest && std::isfinite(level))
                loudest = level;
            clipped += level >= clippedLevel ? 1 : 0;
        }
        fresh.clear();
        hearing.push(part, fresh);
        follower.hear(hearing.now());
        for (const HeardNote& note : fresh)
            if (heard.size() < heard.capacity())
                heard.push_back(note);
            else
                ++dropped;
        mono = mono.subspan(part.size());
    }
}

LiveView SoundListener::now() const {
    const HeardNow& heardNow = hearing.now();
    return {follower.index(), heardNow.midi, heardNow.confidence, heardNow.seconds};
}

KnownPlace SoundListener::knownPlace() const {
    KnownPlace known;
    if (settings.tempo)
        known.secondsPerQuarter = secondsPerMinute / settings.tempo->bpmAt(0.0);
    if (settings.startSeconds)
        known.startSeconds = *settings.startSeconds + settings.roundTripMs / msPerSecond;
    return known;
}

double SoundListener::chooseTuning(std::span<const HeardNote> notes) {
    double best = 0.0;
    double least = std::numeric_limits<double>::infinity();
    for (const double candidate : tuningCandidates(tuningFraction(notes))) {
        double cost = 0.0;
        if (settings.tempo && settings.startSeconds)
            cost = matchCost(shifted(notes, *knownPlace().startSeconds), score, *settings.tempo,
                             settings.span, candidate);
        else {
            const PlaceSearch search = findPlace(notes, score, candidate, knownPlace());
            cost =
                search.readings.empty() ? std::numeric_limits<double>::max() : search.readings.front().cost;
        }
        if (cost < least) {
            least = cost;
            best = candidate;
        }
    }
    return best;
}

std::optional<Remark> SoundListener::findTime(std::span<const HeardNote> notes, double tuning) {
    if (settings.tempo && settings.startSeconds)
        return std::nullopt;
    const PlaceSearch search = findPlace(notes, score, tuning, knownPlace());
    if (!search.place)
        return notPlaced(search.readings, settings.roundTripMs);
    if (!settings.tempo)
        settings.tempo = TempoMap(secondsPerMinute / search.place->secondsPerQuarter);
    if (!settings.startSeconds)
        settings.startSeconds = search.place->startSeconds - settings.roundTripMs / msPerSecond;
    return std::nullopt;
}

void SoundListener::settle(TempoMap played, double startSeconds, TakeSpan span) {
    settings.tempo = std::move(played);
    settings.startSeconds = startSeconds;
    settings.span = span;
}

Performance SoundListener::finish() {
    fresh.clear();
    hearing.finish(fresh);
    for (const HeardNote& note : fresh)
        if (heard.size() < heard.capacity())
            heard.push_back(note);
    if (samples == 0)
        return withoutMatch(TakeRemark::soundEmpty);
    if (loudest < silentPeak)
        return withoutMatch(TakeRemark::soundSilent);
    const std::vector<HeardNote> notes = keepPlausible(heard, score);
    if (notes.empty())
        return withoutMatch(TakeRemark::noNoteHeard);
    const double tuning = chooseTuning(notes);
    if (const auto why = findTime(notes, tuning))
        return withoutMatch(*why);
    const auto moved = shifted(notes, *knownPlace().startSeconds);
    SoundMatched matched = matchSound(moved, score, *settings.tempo, settings.span, tuning);
    Performance& performance = matched.match.performance;
    const auto judge = [&] {
        const auto reports = weighReports(matched.match, matched.heard, matched.expected, tuning);
        judgeReports(performance, reports);
        weighed.insert(weighed.end(), reports.begin(), reports.end());
    };
    weighed.clear();
    judge();
    fillMeasures(performance, score, *settings.tempo, matched.onsetNoiseMs);
    judge();
    weighedLate = std::move(matched.late);
    addRemarks(performance);
    return std::move(performance);
}

Performance SoundListener::withoutMatch(const Remark& why) const {
    const TempoMap tempoUsed = settings.tempo.value_or(TempoMap(score.bpm > 0.0 ? score.bpm : defaultBpm));
    Performance performance = matchSound({}, score, tempoUsed, settings.span, 0.0).match.performance;
    fillMeasures(performance, score, tempoUsed);
    performance.remarks.insert(performance.remarks.begin(), why);
    if (hearing.brokenSamples() > 0)
        performance.remarks.emplace_back(
            UnusableInput{UnusableInput::What::samplesWithoutSense, hearing.brokenSamples()});
    return performance;
}

void SoundListener::addRemarks(Performance& performance) const {
    using What = UnusableInput::What;
    const auto tell = [&](What what, long count) {
        performance.remarks.emplace_back(UnusableInput{what, count});
    };
    const int right = performance.count(Outcome::right);
    if (right < fitsShare * static_cast<double>(performance.notes.size()))
        performance.remarks.emplace_back(TakeRemark::otherMusic);
    if (clipped >= manyClipped)
        tell(What::samplesAtFullScale, clipped);
    if (hearing.brokenSamples() > 0)
        tell(What::samplesWithoutSense, hearing.brokenSamples());
    if (dropped > 0)
        tell(What::soundsTooMany, dropped);
    const bool noChangeovers = std::ranges::none_of(
        performance.changes, [](const ChangeResult& c) { return c.changeoverMs.has_value(); });
    if (noChangeovers && std::ranges::any_of(performance.changes, &ChangeResult::slurred))
        performance.remarks.emplace_back(TakeRemark::noSlurredChange);
}

} // namespace valveladder
