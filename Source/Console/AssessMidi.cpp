#include "Console/AssessMidi.h"

#include "Base/Uuid.h"
#include "Console/TimeText.h"
#include "Files/GuideFile.h"
#include "Files/Json.h"
#include "Files/Smf.h"
#include "Listening/MidiListener.h"

#include <chrono>
#include <cmath>
#include <filesystem>

namespace valveladder::console {

namespace {

/// A recording may end this much before the drill does and still be whole: clips are often cut at the last
/// note-off.
constexpr double endSlackQuarters = 1.0;

double quarters(Tick tick) {
    return static_cast<double>(tick) / ticksPerQuarter;
}

/// A recording with the score it is held against.
struct Heard {
    MidiTake take;
    TempoMap tempo;              ///< score quarters to seconds
    double lengthQuarters = 0.0; ///< of the recording, from the score's tick 0
};

Result<Done> checkOptions(const AssessOptions& options) {
    if (!std::isfinite(options.startQuarter) || std::abs(options.startQuarter) > farthestQuarter)
        return Problem{"this is not a position in a file", "--start", "Give quarters, e.g. 96"};
    if (options.channel < 0 || options.channel > 16)
        return Problem{fmt::format("there is no MIDI channel {}", options.channel), "--channel",
                       "Choose from 1 to 16, or 0 for any but 10"};
    if (options.bpm && !(*options.bpm >= minBpm && *options.bpm <= maxBpm))
        return Problem{fmt::format("{:g} bpm is outside {:g} to {:g}", *options.bpm, minBpm, maxBpm), "--bpm",
                       "Give the tempo of the guide"};
    if (options.roundTripMs && !(std::abs(*options.roundTripMs) <= 2000.0))
        return Problem{"the round trip is outside -2000 to 2000 ms", "--round-trip", "Measure it again"};
    return Done{};
}

std::int64_t lastTick(const SmfFile& file) {
    std::int64_t last = 0;
    for (const SmfTrack& track : file.tracks)
        last = std::max({last, track.length, track.events.empty() ? 0 : track.events.back().tick});
    return last;
}

Result<Heard> hear(const AssessOptions& options) {
    auto file = readSmfFile(options.file);
    if (!file)
        return file.problem();
    auto recorded = recordedTake(file.value(), options.channel, options.startQuarter);
    if (!recorded)
        return Problem{recorded.problem().what, options.file + ", " + recorded.problem().where,
                       recorded.problem().remedy};
    Heard heard{std::move(recorded.value().take), recorded.value().tempo, 0.0};
    const double inFile =
        static_cast<double>(lastTick(file.value())) / file.value().ticksPerQuarterNote - options.startQuarter;
    const double seconds = heard.tempo.secondsAt(inFile);
    if (options.bpm)
        heard.tempo = TempoMap(*options.bpm);
    heard.lengthQuarters = heard.tempo.quarterAt(seconds);
    return heard;
}

/// Notes of other passes are not this take's; what the recording did not reach is not expected.
void limitTo(Heard& heard, const Score& score) {
    const double end = heard.tempo.secondsAt(quarters(score.length));
    std::erase_if(heard.take.notes,
                  [end](const PlayedNote& note) { return note.onset < 0.0 || note.onset >= end; });
    std::erase_if(heard.take.valves, [end](const ValveMove& move) { return move.seconds >= end; });
    if (heard.lengthQuarters < quarters(score.spans.back().end) - endSlackQuarters)
        heard.take.toSeconds = heard.tempo.secondsAt(heard.lengthQuarters);
}

bool isWhole(const Heard& heard, const Score& score) {
    return heard.lengthQuarters >= quarters(score.spans.back().end) - endSlackQuarters;
}

/// The tempo at which the drill was led, mean over its notes.
void setPlayed(TakeRecord& take, const Heard& heard, const Score& score) {
    const double from = quarters(score.countInTicks);
    const double to = quarters(score.spans.back().end);
    take.playedBpm = (to - from) * 60.0 / (heard.tempo.secondsAt(to) - heard.tempo.secondsAt(from));
    take.playedBpmLow = take.playedBpmHigh = heard.tempo.bpmAt(from);
    for (const TempoMap::Point& point : heard.tempo.points())
        if (point.quarter > from && point.quarter < to) {
            take.playedBpmLow = std::min(take.playedBpmLow, point.bpm);
            take.playedBpmHigh = std::max(take.playedBpmHigh, point.bpm);
        }
}

Result<UtcMs> playedAt(const AssessOptions& options) {
    if (!options.playedAt.empty())
        return parseTime(options.playedAt, "");
    std::error_code error;
    const auto written = std::filesystem::last_write_time(options.file, error);
    if (error)
        return now();
    const auto system = std::chrono::file_clock::to_sys(written);
    return UtcMs{std::chrono::duration_cast<std::chrono::milliseconds>(system.time_since_epoch()).count()};
}

TakeHeader headerOf(const AssessOptions& options, const DrillOptions::Chosen& chosen, const PlanFromLog& plan,
                    UtcMs started) {
    TakeHeader header;
    header.id = newUuid();
    header.player = plan.player;
    header.instrumentId = chosen.instrument.id;
    header.instrumentJson = toJson(chosen.instrument);
    header.drillName = chosen.drill.name;
    header.drillJson = toJson(chosen.drill);
    header.startedUtc = started;
    header.timeZone = plan.rules.timeZone.empty() ? localTimeZone() : plan.rules.timeZone;
    header.way = TakeWay::hand;
    header.plannedBpm = plan.next.bpm;
    header.invented = options.invented;
    return header;
}

void judge(TakeRecord& take, const PassRule& rule) {
    const Performance& played = take.performance;
    take.passed = passes(rule, take.state == TakeState::whole, played.count(Outcome::wrong),
                         played.count(Outcome::missed), static_cast<int>(played.extras.size()),
                         played.worstIoiSpreadPercent());
}

/// Where the take lies in the file and in time.
void setEdges(TakeRecord& take, const AssessOptions& options, const Heard& heard, const Score& score) {
    take.state = isWhole(heard, score) ? TakeState::whole : TakeState::partial;
    take.end = isWhole(heard, score) ? TakeEnd::whole : TakeEnd::stopped;
    const double length = std::min(heard.lengthQuarters, quarters(score.spans.back().end));
    take.startPpq = options.startQuarter + quarters(score.countInTicks);
    take.endPpq = options.startQuarter + length;
    take.endedUtc = take.header.startedUtc + std::llround(heard.tempo.secondsAt(length) * 1000.0);
}

Result<TakeRecord> recordOf(const AssessOptions& options, const DrillOptions::Chosen& chosen,
                            const Heard& heard, const Score& score) {
    auto started = playedAt(options);
    if (!started)
        return started.problem();
    auto plan = planFromLog(options.log, chosen.instrument.id, chosen.drill.name, started.value());
    if (!plan)
        return plan.problem();
    const TempoRules& rules = plan.value().rules;
    TakeRecord take;
    take.header = headerOf(options, chosen, plan.value(), started.value());
    setEdges(take, options, heard, score);
    setPlayed(take, heard, score);
    take.clock = "file";
    take.roundTripMs = options.roundTripMs;
    take.roundTripFrom = options.roundTripMs ? RoundTripFrom::byHand : RoundTripFrom::none;
    take.playerNote = options.note;
    take.performance = listenToMidi(score, heard.tempo, heard.take, options.roundTripMs.value_or(0.0));
    judge(take, rules.pass);
    if (std::abs(take.playedBpm - take.header.plannedBpm) > rules.toleranceBpm)
        take.messages.push_back(fmt::format("The guide ran at {:.4g}, this take was planned at {:g}.",
                                            take.playedBpm, take.header.plannedBpm));
    return take;
}

} // namespace

Result<Assessed> assessMidi(const AssessOptions& options) {
    if (auto sound = checkOptions(options); !sound)
        return sound.problem();
    auto chosen = options.drill.choose();
    if (!chosen)
        return chosen.problem();
    auto heard = hear(options);
    if (!heard)
        return heard.problem();
    const double bpm = heard.value().tempo.bpmAt(0.0);
    auto score = buildScore(chosen.value().drill, chosen.value().instrument, bpm);
    if (!score)
        return score.problem();
    limitTo(heard.value(), score.value());
    if (heard.value().take.notes.empty())
        return Problem{
            "no note is played within the drill", options.file,
            fmt::format("Check --start ({:g}) and --channel ({})", options.startQuarter, options.channel)};
    auto take = recordOf(options, chosen.value(), heard.value(), score.value());
    if (!take)
        return take.problem();
    return Assessed{std::move(take.value()), TakeScore{chosen.value().instrument, std::move(score.value())}};
}

Result<Done> keep(const AssessOptions& options, const TakeRecord& take) {
    if (take.header.player.empty())
        return Problem{"a take in the log is a player's, and none is named", "--keep",
                       "Name one with --player"};
    auto store = options.log.openOrMake();
    if (!store)
        return store.problem();
    TakeFilter same;
    same.player = take.header.player;
    same.instrumentId = take.header.instrumentId;
    same.drillName = take.header.drillName;
    same.fromUtc = take.header.startedUtc;
    same.toUtc = take.header.startedUtc + 1;
    auto there = store.value()->takes(same);
    if (!there)
        return there.problem();
    if (!there.value().empty())
        return Problem{"a take of this time is in the log already: " + there.value().front().header.id,
                       options.file, "Where it is another one, say when with --played-at"};
    TakeRecord kept = take;
    kept.header.machine = store.value()->machine();
    return store.value()->finishTake(kept);
}

} // namespace valveladder::console
