#include "Session/Session.h"

#include "Base/Units.h"
#include "Guide/Guide.h"
#include "Guide/OwnMessages.h"
#include "KeptSound/KeptSoundPlace.h"
#include "Review/Review.h"
#include "Session/Peak.h"
#include "Words/PlanWords.h"
#include "Words/SessionWords.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

/// A player may enter a little early: what is played from this long before the first beat belongs to the
/// take.
constexpr double leadSeconds = 0.25;
/// When no blocks come any more, a take that has ended waits this long by the clock: longer than
/// takeGraceSeconds, as a host under load may be late with a block without having stopped.
constexpr UtcMs graceMs = 1000;
/// Outside takes this much of what was played is remembered, for leads.
constexpr double keptSeconds = 2.0;

} // namespace

int Session::hear(const SessionBlock& block, const std::optional<BlockTime>& time) {
    const int pitchOffset = block.guide.soundingPitch ? 0 : config.instrument.transposition;
    int marks = 0;
    for (const MidiEvent& event : block.midi) {
        if (presses.press(event) && config.pedals.mark.sends(event))
            ++marks;
        else if (time && isPlayers(event, block))
            capture.event({block.startSample, *time}, event, pitchOffset);
    }
    return marks;
}

WatchedBlock Session::watched(const SessionBlock& block, const std::optional<BlockTime>& time, bool jumped,
                              int marks) const {
    WatchedBlock result{block.host};
    result.startSample = block.startSample;
    result.jumped = jumped;
    if (time) {
        const DrillWindow window = drillWindow(setupOf(block.trackId)->score(), block.guide, time->ppq);
        result.lap = window.lap;
        result.takeStartPpq = window.startPpq;
        result.takeEndPpq = window.endPpq;
        result.lapQuarters = window.lapQuarters;
    }
    result.heard = soundHeard(block) || playedNote(block);
    result.marks = block.marks + marks;
    result.handPresses = block.handPresses;
    return result;
}

bool Session::soundHeard(const SessionBlock& block) {
    return static_cast<double>(peak(block.sound)) > amplitudeOf(block.soundThresholdDb);
}

bool Session::isPlayers(const MidiEvent& event, const SessionBlock& block) const {
    return !config.pedals.any(event) && !isNotThePlayers(event, block.guide, block.listenChannel);
}

bool Session::playedNote(const SessionBlock& block) const {
    return std::any_of(block.midi.begin(), block.midi.end(),
                       [&](const MidiEvent& event) { return event.isNoteOn() && isPlayers(event, block); });
}

void Session::process(const SessionBlock& block) {
    const std::optional<BlockTime> time = blockTime(block.host);
    endAtNewRate(block);
    if (block.way != watch.way())
        watch.setWay(block.way);
    const bool jumped = time && (!continuity.follows(*time) || (last && last->trackId != block.trackId));
    if (jumped) {
        capture.breakTime(block.startSample);
        lastBreakSample = block.startSample;
    }
    if (time) {
        capture.block({block.startSample, *time});
        continuity.passed(*time);
    } else {
        continuity.forget();
    }
    recentSound.push(block.startSample, block.sound, static_cast<std::size_t>(leadSeconds * lastRate));
    const int marks = hear(block, time);
    const WatchedBlock seen = watched(block, time, jumped, marks);
    for (const TakeEdge& found : watch.watch(seen))
        edge(found, block);
    if (open) {
        open->soundHeard = open->soundHeard || soundHeard(block);
        open->midiHeard = open->midiHeard || playedNote(block);
    }
    takeSound(block);
    last = block;
    last->midi = {};
    last->sound = {};
    finishReady(block.startSample);
    if (planDue && !block.host.playing)
        replan();
    if (pending.empty())
        capture.forgetBefore(open ? open->leadSample
                                  : block.startSample - static_cast<std::int64_t>(lastRate * keptSeconds));
}

void Session::edge(const TakeEdge& found, const SessionBlock& block) {
    if (found.kind == TakeEdge::Kind::begin)
        beginTake(found, block);
    else
        endTake(found);
}

void Session::beginTake(const TakeEdge& found, const SessionBlock& block) {
    OpenTake take;
    take.setup = setupOf(block.trackId);
    take.begin = found;
    take.clock = block.clock;
    take.guide = block.guide;
    take.takeBeginBpm = block.host.bpm.value_or(0.0);
    const auto lead = static_cast<std::int64_t>(leadSeconds * lastRate);
    take.leadSample = std::max(lastBreakSample, found.sample - lead);
    if (!pending.empty())
        take.leadSample = std::max(take.leadSample, pending.back().end.sample);
    take.header =
        headerOf(*take.setup, watch.way(), now(), keeper.store() != nullptr ? keeper.store()->machine() : "");
    take.roundTrip = delay.roundTrip(config.roundTripMs);
    keeper.begin(take.header);
    if (!block.sound.empty())
        beginHearing(take, std::max(take.leadSample, recentSound.firstSample()));
    open = std::move(take);
    if (const auto text = mismatchText(open->takeBeginBpm, *open->setup, block.clock); !text.empty())
        note(text, false);
}

/// Once sound comes, the take's listener hears it; `firstSample` is among the recent sound.
void Session::beginHearing(OpenTake& take, std::int64_t firstSample) {
    SoundSettings settings;
    settings.sampleRate = lastRate;
    settings.roundTripMs = take.roundTrip.ms.value_or(0.0);
    if (!checked(settings))
        return;
    TakeHearing::Begin begin;
    begin.firstSample = firstSample;
    begin.takeSample = take.begin.sample;
    begin.quartersFromTick0 = take.begin.ppq - lapStartPpq(take.setup->score(), take.guide, take.begin.lap);
    begin.bpm = take.takeBeginBpm;
    begin.sampleRate = lastRate;
    begin.roundTripMs = take.roundTrip.ms;
    take.hearing = std::make_unique<TakeHearing>(take.setup, begin);
    if (const KeepSound& keep = config.keepSound; keep.on) {
        const double lead = static_cast<double>(take.begin.sample - firstSample) / lastRate;
        take.hearing->keep(keptSound, keep,
                           {take.header.id, take.header.startedUtc, lastRate,
                            toWords(KeptSoundPlace{lead, begin.quartersFromTick0, begin.bpm})});
    }
    const auto recent = recentSound.sound();
    const auto before = static_cast<std::size_t>(firstSample - recentSound.firstSample());
    take.hearing->push(firstSample, recent.subspan(std::min(before, recent.size())));
}

void Session::takeSound(const SessionBlock& block) {
    if (block.sound.empty())
        return;
    if (open && !open->hearing)
        beginHearing(*open, block.startSample);
    if (open && open->hearing) {
        open->hearing->push(block.startSample, block.sound, block.silenced);
        tellKept(*open);
    }
    for (PendingTake& waiting : pending)
        if (waiting.open.hearing) {
            waiting.open.hearing->push(block.startSample, block.sound, block.silenced);
            tellKept(waiting.open);
        }
}

/// What the keeping of sound has to say is shown, and stands with its take.
void Session::tellKept(OpenTake& take) {
    KeptSound* kept = take.hearing ? take.hearing->kept() : nullptr;
    if (kept == nullptr)
        return;
    for (const KeptSound::Word& word : kept->news()) {
        messages.add(now(), word.text, word.trouble);
        take.messages.push_back(word.text);
    }
}

/// Samples of two rates cannot be counted together: an open take ends where the rate changes.
void Session::endAtNewRate(const SessionBlock& block) {
    const double rate = block.host.sampleRate;
    if (!(rate > 0.0) || rate == lastRate)
        return;
    if (open)
        note(words::rateChanged, true);
    close();
    recentSound.clear();
    lastRate = rate;
}

void Session::dropEmpty(const OpenTake& take) {
    keeper.drop(take.header.id);
    note(words::emptyTakeDropped, false);
}

void Session::endTake(const TakeEdge& found) {
    if (!open)
        return;
    OpenTake take = std::move(*open);
    open.reset();
    if (!found.heard && !take.midiHeard && !take.soundHeard)
        return dropEmpty(take);
    const double lateSeconds =
        take.soundHeard && !take.midiHeard ? take.roundTrip.ms.value_or(0.0) / msPerSecond : 0.0;
    PendingTake waiting{std::move(take), found, now(), 0, 0};
    waiting.readySample = found.sample + std::llround((takeGraceSeconds + lateSeconds) * lastRate);
    waiting.readyUtc = waiting.endedUtc + graceMs + std::llround(msPerSecond * lateSeconds);
    pending.push_back(std::move(waiting));
}

void Session::finish(PendingTake& take) {
    std::string soundFile;
    if (KeptSound* kept = take.open.hearing ? take.open.hearing->kept() : nullptr) {
        if (take.open.soundHeard)
            soundFile = kept->finish();
        else
            kept->discard();
        tellKept(take.open);
    }
    const bool notesCame = take.open.midiHeard;
    bool guideCameBack = false;
    const Capture::Heard heard = heardIn(take, capture, lastRate, guideCameBack);
    if (guideCameBack)
        note(words::guideCameBack, false);
    if (notesCame && !take.open.midiHeard && !take.open.soundHeard)
        return dropEmpty(take.open); // it was our own guide alone
    TakeRecord record = recordOf(take, heard, lastRate);
    record.soundFile = soundFile;
    keeper.finish(record);
    keepRules(take.open.setup->config);
    history.count(record, config);
    if (record.state == TakeState::cutShort)
        note(words::takeCutShort, false);
    replan();
    note(inWords(current->planned), false);
    care.takeEnded(record.header.startedUtc, record.endedUtc);
    if (logChanged && keeper.waiting() == 0)
        logChanged(reviewRequest());
}

/// Whoever reads the log later must come to the same plan as the session did.
void Session::keepRules(const SessionConfig& used) {
    LogStore* store = keeper.store();
    if (store == nullptr || used.rules == TempoRules{})
        return;
    const auto kept = store->setRulesIfNone(used.player, used.instrument.id, used.drill.name, used.rules);
    if (!kept)
        note(kept.problem().text(), true);
}

void Session::finishFirst() {
    PendingTake take = std::move(pending.front());
    pending.pop_front();
    finish(take);
}

void Session::finishReady(std::int64_t sample) {
    while (!pending.empty() && pending.front().readySample <= sample)
        finishFirst();
}

} // namespace valveladder
