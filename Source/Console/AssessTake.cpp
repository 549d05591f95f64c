#include "Console/AssessTake.h"

#include "Base/Path.h"
#include "Base/RoundTripRange.h"
#include "Base/SystemClock.h"
#include "Base/Units.h"
#include "Base/Uuid.h"
#include "Console/AssessMidi.h"
#include "Console/AssessSound.h"
#include "Console/Options.h"
#include "Console/TimeText.h"
#include "Files/FileKinds.h"
#include "Records/Json.h"
#include "Words/SessionWords.h"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <fstream>

namespace valveladder::console {

namespace {

/// The tempo at which the drill was led, mean over its notes.
void setPlayed(TakeRecord& take, const Listened& heard) {
    const Score& score = heard.score;
    const double from = quartersOf(score.countInTicks);
    const double to = quartersOf(heard.score.spans.back().end);
    take.playedBpm =
        (to - from) * secondsPerMinute / (heard.tempo.secondsAt(to) - heard.tempo.secondsAt(from));
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
    const auto written = std::filesystem::last_write_time(pathOf(options.file), error);
    if (error)
        return systemUtcMs();
    const auto system = std::chrono::file_clock::to_sys(written);
    return UtcMs{std::chrono::duration_cast<std::chrono::milliseconds>(system.time_since_epoch()).count()};
}

/// One recording is one take, whoever hears it and however often: its id comes of who played what when, and
/// of the file's bytes.
std::string idOf(const TakeHeader& header, const std::string& file) {
    constexpr const char* ourTakes = "6f1c5b0e-2a47-5d6e-9b1d-5a7c0e64d2f3"; // drawn once
    constexpr std::streamsize pieceBytes = std::streamsize{1} << 20;
    std::string id = namedUuid(ourTakes, header.player);
    for (const std::string& part : {header.instrumentId, header.drillName, std::to_string(header.startedUtc)})
        id = namedUuid(id, part);
    std::ifstream stream(pathOf(file), std::ios::binary);
    std::string piece(pieceBytes, '\0');
    while (stream.read(piece.data(), pieceBytes) || stream.gcount() > 0)
        id = namedUuid(id, std::string_view(piece.data(), static_cast<std::size_t>(stream.gcount())));
    return id;
}

TakeHeader headerOf(const AssessOptions& options, const DrillOptions::Chosen& chosen, const PlanFromLog& plan,
                    UtcMs started) {
    TakeHeader header;
    header.player = plan.player;
    header.instrumentId = chosen.instrument.id;
    header.instrumentJson = toJson(chosen.instrument);
    header.drillName = chosen.drill.name;
    header.drillJson = toJson(chosen.drill);
    header.startedUtc = started;
    header.timeZone = zoneOrLocal(plan.rules.timeZone);
    header.way = TakeWay::hand;
    header.plannedBpm = plan.next.bpm;
    header.invented = options.invented;
    header.id = idOf(header, options.file);
    return header;
}

void judge(TakeRecord& take, const PassRule& rule) {
    take.passed = passes(rule, take.state, take.performance);
}

/// Where the take lies in the file and in time.
void setEdges(TakeRecord& take, const Listened& heard) {
    take.state = heard.isWhole() ? TakeState::whole : TakeState::cutShort;
    take.end = heard.isWhole() ? TakeEnd::whole : TakeEnd::stopped;
    const double length = std::min(heard.lengthQuarters, quartersOf(heard.score.spans.back().end));
    take.startPpq = heard.startQuarter + quartersOf(heard.score.countInTicks);
    take.endPpq = heard.startQuarter + length;
    take.endedUtc = take.header.startedUtc + std::llround(heard.tempo.secondsAt(length) * msPerSecond);
}

/// Can be opened at once: a named pipe would be waited for.
bool isFile(const std::string& file) {
    std::error_code error;
    return std::filesystem::is_regular_file(pathOf(file), error);
}

bool startsLikeMidi(const std::string& file) {
    if (!isFile(file))
        return false;
    std::array<std::uint8_t, smfStart.size()> start{};
    std::ifstream(pathOf(file), std::ios::binary)
        .read(reinterpret_cast<char*>(start.data()), std::ssize(start));
    return beginsAsSmf(start);
}

} // namespace

bool Listened::isWhole() const {
    constexpr double endSlackQuarters = 1.0;
    return lengthQuarters >= quartersOf(score.spans.back().end) - endSlackQuarters;
}

bool isSound(const std::string& file) {
    return hasSoundName(pathOf(file)) && !startsLikeMidi(file);
}

Result<Listened> listenToFile(const AssessOptions& options, const ShareDone& progress) {
    if (auto tempo = checkedTempo(options.bpm, "--bpm", "Give the tempo of the guide"); !tempo)
        return tempo.problem();
    if (options.roundTripMs && !recordedRoundTrip.holds(*options.roundTripMs))
        return Problem{recordedRoundTrip.refusal(), "--round-trip", "Measure it again"};
    if (isSound(options.file))
        return listenToSoundFile(options, progress);
    if (isFile(options.file) && !startsLikeMidi(options.file))
        return Problem{
            "the file is damaged, or of another kind: it is neither a MIDI file nor a sound that is read",
            options.file,
            "Takes are read as Standard MIDI Files (.mid) and, by the ending of their name, as sound "
            "(.wav, .aif, .flac): export it again as one of them"};
    return listenToMidiFile(options);
}

Result<Assessed> recordOf(const AssessOptions& options, Listened heard) {
    auto started = playedAt(options);
    if (!started)
        return started.problem();
    const DrillOptions::Chosen& chosen = heard.chosen;
    auto plan = planFromLog(options.log, chosen.instrument.id, chosen.drill.name, started.value(),
                            std::nullopt, chosen.rules);
    if (!plan)
        return plan.problem();
    const TempoRules& rules = plan.value().rules;
    TakeRecord take;
    take.header = headerOf(options, chosen, plan.value(), started.value());
    setEdges(take, heard);
    setPlayed(take, heard);
    if (options.asPlayed)
        take.header.plannedBpm = take.playedBpm;
    take.clock = "file";
    take.roundTripMs = options.roundTripMs;
    take.roundTripFrom = options.roundTripMs ? RoundTripFrom::byHand : RoundTripFrom::none;
    take.playerNote = options.note;
    take.performance = std::move(heard.performance);
    judge(take, rules.pass);
    if (otherThanPlanned(take.playedBpm, take.header.plannedBpm, rules.toleranceBpm))
        take.messages.push_back(words::guideRanAt(take.playedBpm, take.header.plannedBpm));
    return Assessed{std::move(take), TakeScore{chosen.instrument, std::move(heard.score)}, chosen.rules};
}

Result<std::string> keep(const AssessOptions& options, const Assessed& assessed) {
    const TakeRecord& take = assessed.take;
    if (take.header.player.empty())
        return Problem{"a take in the log is a player's, and none is named", "--keep",
                       "Name one with --player"};
    auto store = options.log.openOrMake();
    if (!store)
        return store.problem();
    TakeRecord kept = take;
    kept.header.machine = store.value()->machine();
    const auto there = store.value()->addTake(kept);
    if (!there)
        return there.problem();
    kept.header.id = there.value().value_or(kept.header.id);
    auto name = takeName(*store.value(), kept.header);
    if (!name)
        return name;
    if (there.value())
        return Problem{"a take of this time is in the log already: " + name.value(), options.file,
                       "Where it is another one, say when with --played-at"};
    if (assessed.rules)
        if (auto set = store.value()->setRulesIfNone(take.header.player, take.header.instrumentId,
                                                     take.header.drillName, *assessed.rules);
            !set)
            return set.problem();
    return name;
}

} // namespace valveladder::console
