#include "Console/AssessSound.h"

#include "Base/Path.h"
#include "Base/Units.h"
#include "Console/Output.h"
#include "Files/SoundFile.h"
#include "Listening/SoundListener.h"
#include "Words/RemarkWords.h"

#include <algorithm>
#include <cmath>

namespace valveladder::console {

namespace {

/// Tempo for which rests in seconds are laid until the take's own is found.
constexpr double bpmBeforeFound = 80.0;
/// Played after the drill's end by this much, in quarters, it is another pass.
constexpr double afterEndQuarters = 2.0;

Result<Done> checkOptions(const AssessOptions& options) {
    if (options.startQuarter)
        return Problem{"where the drill starts in a sound is given in seconds", "--start",
                       "Use --start-seconds, or leave it to be found"};
    if (options.startSeconds && !(std::abs(*options.startSeconds) <= secondsPerDay))
        return Problem{"this is not a position in a sound", "--start-seconds",
                       "Give seconds, or leave it to be found"};
    if (options.channel < 0 || options.channel > SoundFile::maxChannels)
        return Problem{fmt::format("there is no channel {}", options.channel), "--channel",
                       "Count from 1, or give 0 to mix all"};
    return Done{};
}

/// One hearing of the whole file.
struct Hearing {
    Performance performance;
    std::optional<TempoMap> tempo;
    std::optional<double> startSeconds;
    double seconds = 0.0; ///< length of the sound
    std::string shortfall;
};

Result<Hearing> hear(const AssessOptions& options, const Score& score, SoundSettings settings,
                     const ShareDone& progress) {
    auto opened = SoundFile::open(pathOf(options.file));
    if (!opened)
        return opened.problem();
    SoundFile& sound = *opened.value();
    if (options.channel > sound.format().channels)
        return Problem{
            fmt::format("there is no channel {}: the file has {}", options.channel, sound.format().channels),
            options.file, "Choose another with --channel, or leave it out to mix all"};
    settings.sampleRate = sound.format().sampleRate;
    auto sane = checked(settings);
    if (!sane)
        return inFile(sane.problem(), options.file);
    SoundListener listener(score, sane.value());
    const auto channel = options.channel > 0 ? std::optional(options.channel - 1) : std::nullopt;
    std::vector<float> piece(std::size_t{1} << 16);
    double frames = 0.0;
    while (const std::size_t got = sound.read(piece, channel)) {
        listener.push(std::span(piece).first(got));
        frames += static_cast<double>(got);
        progress(std::min(1.0, frames / static_cast<double>(sound.format().frames)));
    }
    Hearing heard;
    heard.performance = listener.finish();
    heard.tempo = listener.tempo();
    heard.startSeconds = listener.startSeconds();
    heard.seconds = frames / settings.sampleRate;
    heard.shortfall = sound.shortfall();
    return heard;
}

bool nothingHeard(const Performance& performance) {
    return performance.extras.empty() && std::ranges::all_of(performance.notes, [](const NoteResult& note) {
               return note.outcome == Outcome::missed;
           });
}

Problem notHeard(const AssessOptions& options, const Hearing& heard) {
    const auto& remarks = heard.performance.remarks;
    return {remarks.empty() ? "no note is played within the drill" : inWords(remarks.front()), options.file,
            "Check the instrument, the drill, --bpm and --start-seconds"};
}

/// Sound from the drill's start on, seconds of the drill's own time.
double heardSeconds(const Hearing& hearing, const SoundSettings& settings) {
    return hearing.seconds - *settings.startSeconds - settings.roundTripMs / msPerSecond;
}

/// What the second hearing knows: the part of the score that the sound covers too.
SoundSettings knownNow(const AssessOptions& options, const Hearing& first, const Score& score) {
    SoundSettings settings;
    settings.roundTripMs = options.roundTripMs.value_or(0.0);
    settings.tempo = first.tempo;
    settings.startSeconds = first.startSeconds;
    const double end = heardSeconds(first, settings);
    const double drillEnd = first.tempo->secondsAt(quartersOf(score.spans.back().end) + afterEndQuarters);
    settings.span = {0.0, std::min(end, drillEnd)};
    return settings;
}

Result<Hearing> findPlace(const AssessOptions& options, const Score& score, const ShareDone& progress) {
    SoundSettings settings;
    settings.roundTripMs = options.roundTripMs.value_or(0.0);
    settings.startSeconds = options.startSeconds;
    if (options.bpm)
        settings.tempo = TempoMap(*options.bpm);
    auto first = hear(options, score, settings, progress);
    if (!first)
        return first.problem();
    if (!first.value().tempo || !first.value().startSeconds || nothingHeard(first.value().performance))
        return notHeard(options, first.value());
    return first;
}

} // namespace

Result<Listened> listenToSoundFile(const AssessOptions& options, const ShareDone& progress) {
    if (auto sane = checkOptions(options); !sane)
        return sane.problem();
    auto chosen = options.drill.choose();
    if (!chosen)
        return chosen.problem();
    const auto& [instrument, drill, rules] = chosen.value();
    auto score = buildScore(drill, instrument, options.bpm.value_or(bpmBeforeFound));
    if (!score)
        return score.problem();
    auto first = findPlace(options, score.value(), [&](double share) { progress(0.5 * share); });
    if (!first)
        return first.problem();
    const TempoMap tempo = *first.value().tempo;
    score = buildScore(drill, instrument, tempo.bpmAt(0.0));
    if (!score)
        return score.problem();
    const SoundSettings settings = knownNow(options, first.value(), score.value());
    auto second = hear(options, score.value(), settings, [&](double share) { progress(0.5 + 0.5 * share); });
    if (!second)
        return second.problem();
    if (nothingHeard(second.value().performance))
        return notHeard(options, second.value());
    const double length = heardSeconds(second.value(), settings);
    Listened heard{std::move(chosen.value()),
                   std::move(score.value()),
                   tempo,
                   tempo.quarterAt(length),
                   0.0,
                   std::move(second.value().performance)};
    if (!second.value().shortfall.empty())
        heard.performance.remarks.emplace_back(DamagedRecording{second.value().shortfall});
    return heard;
}

} // namespace valveladder::console
