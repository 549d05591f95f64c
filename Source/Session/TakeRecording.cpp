#include "Session/TakeRecording.h"

#include "Base/Units.h"
#include "Base/Uuid.h"
#include "Guide/Guide.h"
#include "Listening/GuideEcho.h"
#include "Records/Json.h"
#include "Words/SessionWords.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr double oneTempoBpm = 1e-6; ///< tempos nearer to one another are one, with their rounding

/// What the player did: by MIDI where notes came, else by sound.
void judge(TakeRecord& record, OpenTake& take, const Capture::Heard& heard) {
    Performance& played = record.performance;
    if (!heard.take.notes.empty() || !take.soundHeard) {
        played = listenToMidi(take.setup->score(), heard.tempo, heard.take);
        if (take.soundHeard) {
            played.source = Source::both;
            played.remarks.emplace_back(TakeRemark::midiBesideSound);
        }
        return;
    }
    record.roundTripMs = take.roundTrip.ms;
    record.roundTripFrom = take.roundTrip.from;
    if (!take.hearing) {
        played.source = Source::sound;
        played.remarks.emplace_back(TakeRemark::unusableRate);
        return;
    }
    played = take.hearing->finish(heard);
    played.source = Source::sound;
    if (!take.roundTrip.ms)
        played.remarks.emplace_back(TakeRemark::noRoundTrip);
    if (const std::uint64_t missing = take.hearing->missingSamples(); missing > 0)
        record.messages.push_back(
            words::soundMissing(msPerSecond * static_cast<double>(missing) / take.hearing->sampleRate()));
}

} // namespace

TakeHeader headerOf(const SessionSetup& setup, TakeWay way, UtcMs startedUtc, const std::string& machine) {
    const SessionConfig& used = setup.config;
    TakeHeader header;
    header.id = newUuid();
    header.player = used.player;
    header.instrumentId = used.instrument.id;
    header.instrumentJson = toJson(used.instrument);
    header.drillName = used.drill.name;
    header.drillJson = toJson(used.drill);
    header.startedUtc = startedUtc;
    header.timeZone = zoneOrLocal(used.rules.timeZone);
    header.way = way;
    header.plannedBpm = setup.planned.bpm;
    header.machine = machine;
    header.invented = used.invented;
    return header;
}

double lapStartPpq(const Score& score, const GuideSettings& guide, std::int64_t lap) {
    return guide.startPpq + quartersOf(score.length) * static_cast<double>(lap);
}

Capture::Heard heardIn(PendingTake& take, const Capture& capture, double rate, bool& guideCameBack) {
    OpenTake& begun = take.open;
    const Score& score = begun.setup->score();
    const double lapStart = lapStartPpq(score, begun.guide, begun.begin.lap);
    const std::int64_t toSample = take.end.sample + std::llround(takeGraceSeconds * rate);
    Capture::Heard heard =
        capture.heard({begun.leadSample, toSample, lapStart, begun.begin.ppq, take.end.ppq});
    if (const GuideEcho echo = takeOutGuide(heard.take, score, heard.tempo); echo.any()) {
        begun.messages.push_back(words::guideCameBack);
        begun.midiHeard = !heard.take.notes.empty();
        guideCameBack = true;
    }
    return heard;
}

TakeRecord recordOf(PendingTake& take, const Capture::Heard& heard, double rate) {
    OpenTake& begun = take.open;
    TakeRecord record;
    record.header = begun.header;
    record.endedUtc = take.endedUtc;
    record.end = take.end.end;
    record.state = take.end.end == TakeEnd::whole ? TakeState::whole : TakeState::cutShort;
    record.startPpq = begun.begin.ppq;
    record.endPpq = take.end.ppq;
    const double seconds = static_cast<double>(take.end.sample - begun.begin.sample) / rate;
    record.playedBpm =
        seconds > 0.0 ? (take.end.ppq - begun.begin.ppq) * secondsPerMinute / seconds : begun.takeBeginBpm;
    record.playedBpmLow = heard.bpmLow;
    record.playedBpmHigh = heard.bpmHigh;
    // Rounding to samples must not make a host at exactly the planned tempo look off plan.
    if (heard.bpmHigh - heard.bpmLow < oneTempoBpm)
        record.playedBpm = heard.bpmLow;
    record.clock = name(begun.clock);
    record.messages = begun.messages;
    judge(record, begun, heard);
    record.passed = passes(begun.setup->config.rules.pass, record.state, record.performance);
    return record;
}

} // namespace valveladder
