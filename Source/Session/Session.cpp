#include "Session/Session.h"

#include "Base/Uuid.h"
#include "Files/Json.h"
#include "Guide/Guide.h"
#include "Session/Review.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace valveladder {

namespace {

constexpr std::size_t maxMessages = 50;
constexpr std::size_t maxKnownSetups = 16;
/// A player may enter a little early: notes from this long before the first beat belong to the take.
constexpr double leadSeconds = 0.25;
/// Late note-offs of a take's last note are awaited this long.
constexpr double graceSeconds = 0.3;
/// Outside takes this much of what was played is remembered, for leads.
constexpr double keptSeconds = 2.0;
constexpr UtcMs graceMs = 1000; ///< the same by the clock, when no blocks come any more
double quarters(Tick ticks) {
    return static_cast<double>(ticks) / ticksPerQuarter;
}

double lapStartPpq(const Score& score, const GuideSettings& guide, std::int64_t lap) {
    return guide.startPpq + quarters(score.length) * static_cast<double>(lap);
}

float peak(std::span<const float> sound) {
    float highest = 0.0F;
    for (const float sample : sound)
        highest = std::max(highest, std::abs(sample));
    return highest;
}

bool isMark(const MidiEvent& event, const MarkTrigger& trigger) {
    if (event.isNoteOn())
        return event.bytes[1] == trigger.note;
    return event.isController() && event.bytes[1] == trigger.controller && event.bytes[2] > 63;
}

} // namespace

const char* name(Clock clock) {
    switch (clock) {
    case Clock::host:
        return "host";
    case Clock::own:
        return "own";
    case Clock::link:
        return "link";
    case Clock::none:
        break;
    }
    return "none";
}

Session::Session(std::filesystem::path logPath, const SessionConfig& wanted, Now clock)
    : now(std::move(clock)), keeper(std::move(logPath)) {
    if (auto sound = checked(wanted)) {
        config = sound.value();
    } else {
        note(sound.problem().text() + " (the default is used instead)", true);
    }
    readPlan();
}

Session::~Session() {
    close();
}

void Session::note(const std::string& text, bool trouble) {
    messages.push_back({now(), text, trouble});
    if (messages.size() > maxMessages)
        messages.pop_front();
    if (open)
        open->messages.push_back(text);
}

void Session::setPlayerNote(const std::string& takeId, const std::string& text) {
    LogStore* store = keeper.store();
    if (store == nullptr) {
        note("The note was not kept: the log cannot be written now", true);
        return;
    }
    if (auto written = store->setPlayerNote(takeId, text); !written)
        note(written.problem().text(), true);
    refreshToday();
}

TakeFilter Session::planFilter() const {
    TakeFilter filter;
    filter.player = config.player;
    filter.instrumentId = config.instrument.id;
    filter.drillName = config.drill.name;
    filter.withInvented = config.invented;
    return filter;
}

std::vector<PlanTake> Session::history() {
    std::vector<PlanTake> takes;
    if (LogStore* store = keeper.store()) {
        auto logged = store->planTakes(planFilter());
        if (logged)
            takes = std::move(logged.value());
        else
            note(logged.problem().text(), true);
    }
    for (const TakeRecord& record : keeper.waitingTakes())
        if (record.header.player == config.player && record.header.instrumentId == config.instrument.id &&
            record.header.drillName == config.drill.name)
            takes.push_back({record.header.startedUtc, record.header.id, record.playedBpm,
                             record.state == TakeState::whole, record.passed});
    return takes;
}

void Session::readPlan() {
    // Rules kept with the log lead, so that two machines with the same log agree.
    if (LogStore* store = keeper.store()) {
        auto rules = store->rules(config.player, config.instrument.id, config.drill.name);
        if (rules && rules.value())
            config.rules = *rules.value();
    }
    if (LogStore* store = keeper.store()) {
        const auto players = store->players();
        if (players && std::count(players.value().begin(), players.value().end(), config.player) == 0)
            care.firstUse();
    }
    replan();
    refreshToday();
}

void Session::replan() {
    adopt(nextTempo(config.rules, history(), now()));
}

void Session::adopt(const PlannedTempo& planned) {
    auto made = makeSetup(config, planned, current.get());
    if (!made) {
        note(made.problem().text(), true);
        if (current)
            return;
        config = SessionConfig{};
        made = makeSetup(config, PlannedTempo{});
    }
    // Where rests are in seconds a new tempo moves the segments: that waits until the transport stands still.
    const bool moves = current && made.value()->track != current->track;
    const bool sameDrill = current && current->config.drill == config.drill;
    if (moves && sameDrill && last && last->host.playing) {
        planDue = true;
        return;
    }
    planDue = false;
    current = std::move(made.value());
    known.push_back(current);
    if (known.size() > maxKnownSetups)
        known.pop_front();
}

Result<Done> Session::configure(const SessionConfig& wanted) {
    auto sound = checked(wanted);
    if (!sound)
        return sound.problem();
    config.care = sound.value().care; // reminders alone change nothing else
    if (sound.value() == config)
        return Done{};
    close();
    const bool rulesChanged = sound.value().rules != config.rules;
    const bool samePlan = sound.value().player == config.player &&
                          sound.value().instrument.id == config.instrument.id &&
                          sound.value().drill.name == config.drill.name;
    config = sound.value();
    if (rulesChanged && samePlan)
        if (LogStore* store = keeper.store())
            if (auto written =
                    store->setRules(config.player, config.instrument.id, config.drill.name, config.rules);
                !written)
                note(written.problem().text(), true);
    readPlan();
    return Done{};
}

std::shared_ptr<const SessionSetup> Session::setupOf(std::uint64_t trackId) const {
    const auto found = std::find_if(known.rbegin(), known.rend(),
                                    [trackId](const auto& setup) { return setup->track->id() == trackId; });
    return found == known.rend() ? current : *found;
}

int Session::hear(const SessionBlock& block, const std::optional<BlockTime>& time) {
    const int pitchOffset = block.guide.soundingPitch ? 0 : config.instrument.transposition;
    int marks = 0;
    for (const MidiEvent& event : block.midi) {
        if (isMark(event, config.mark))
            ++marks;
        else if (time && isPlayers(event, block))
            capture.event({block.startSample, *time}, event, pitchOffset);
    }
    return marks;
}

WatchedBlock Session::watched(const SessionBlock& block, const std::optional<BlockTime>& time, bool jumped,
                              int marks) const {
    WatchedBlock result;
    result.startSample = block.startSample;
    result.samples = block.host.samples;
    result.sampleRate = block.host.sampleRate;
    result.playing = time.has_value();
    result.recording = block.host.recording;
    result.looping = block.host.looping;
    result.bypassed = block.host.bypassed;
    result.jumped = jumped;
    if (time) {
        result.ppq = time->ppq;
        result.bpm = time->bpm;
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
    return static_cast<double>(peak(block.sound)) > std::pow(10.0, block.soundThresholdDb / 20.0);
}

bool Session::isPlayers(const MidiEvent& event, const SessionBlock& block) const {
    return !isMark(event, config.mark) &&
           (block.listenChannel == 0 || event.channel() == block.listenChannel);
}

bool Session::playedNote(const SessionBlock& block) const {
    return std::any_of(block.midi.begin(), block.midi.end(),
                       [&](const MidiEvent& event) { return event.isNoteOn() && isPlayers(event, block); });
}

void Session::block(const SessionBlock& whole) {
    const LoopSplit split = splitAtLoopEnd(whole.host);
    if (!split.tail) {
        stretch(whole);
        return;
    }
    // The host wraps inside the block: what came before the wrap belongs to the pass that ends there.
    const int wrap = split.head.samples;
    std::vector<MidiEvent> before;
    std::vector<MidiEvent> after;
    for (MidiEvent event : whole.midi) {
        auto& half = event.sample < wrap ? before : after;
        event.sample -= event.sample < wrap ? 0 : wrap;
        half.push_back(event);
    }
    const auto soundWrap = std::min(static_cast<std::size_t>(wrap), whole.sound.size());
    SessionBlock half = whole;
    half.host = split.head;
    half.midi = before;
    half.sound = whole.sound.first(soundWrap);
    stretch(half);
    half.startSample += wrap;
    half.host = *split.tail;
    half.midi = after;
    half.sound = whole.sound.subspan(soundWrap);
    half.marks = 0;
    half.handPresses = 0;
    stretch(half);
}

void Session::stretch(const SessionBlock& block) {
    const std::optional<BlockTime> time = blockTime(block.host);
    if (block.host.sampleRate > 0.0)
        lastRate = block.host.sampleRate;
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
    const int marks = hear(block, time);
    const WatchedBlock seen = watched(block, time, jumped, marks);
    for (const TakeEdge& found : watch.watch(seen))
        edge(found, block);
    if (open) {
        open->soundHeard = open->soundHeard || soundHeard(block);
        open->midiHeard = open->midiHeard || playedNote(block);
    }
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
    const SessionConfig& used = take.setup->config;
    take.header.id = newUuid();
    take.header.player = used.player;
    take.header.instrumentId = used.instrument.id;
    take.header.instrumentJson = toJson(used.instrument);
    take.header.drillName = used.drill.name;
    take.header.drillJson = toJson(used.drill);
    take.header.startedUtc = now();
    take.header.timeZone = used.rules.timeZone.empty() ? localTimeZone() : used.rules.timeZone;
    take.header.way = watch.way();
    take.header.plannedBpm = take.setup->planned.bpm;
    take.header.machine = keeper.store() != nullptr ? keeper.store()->machine() : "";
    take.header.invented = used.invented;
    keeper.begin(take.header);
    open = std::move(take);
    if (const auto words = mismatchText(open->takeBeginBpm, *open->setup, block.clock); !words.empty())
        note(words, false);
}

void Session::endTake(const TakeEdge& found) {
    if (!open)
        return;
    OpenTake take = std::move(*open);
    open.reset();
    if (!found.heard && !take.midiHeard && !take.soundHeard) {
        keeper.drop(take.header.id);
        note("A take in which nothing was played was dropped", false);
        return;
    }
    PendingTake waiting{std::move(take), found, now(), 0};
    waiting.readySample = found.sample + std::llround(graceSeconds * lastRate);
    pending.push_back(std::move(waiting));
}

TakeRecord Session::recordOf(const PendingTake& take) const {
    const OpenTake& begun = take.open;
    const Score& score = begun.setup->score();
    const double lapStart = lapStartPpq(score, begun.guide, begun.begin.lap);
    const Capture::Window window{begun.leadSample, take.readySample, lapStart, begun.begin.ppq, take.end.ppq};
    const Capture::Heard heard = capture.heard(window);

    TakeRecord record;
    record.header = begun.header;
    record.endedUtc = take.endedUtc;
    record.end = take.end.end;
    record.state = take.end.end == TakeEnd::whole ? TakeState::whole : TakeState::partial;
    record.startPpq = begun.begin.ppq;
    record.endPpq = take.end.ppq;
    const double seconds = static_cast<double>(take.end.sample - begun.begin.sample) / lastRate;
    record.playedBpm = seconds > 0.0 ? (take.end.ppq - begun.begin.ppq) * 60.0 / seconds : begun.takeBeginBpm;
    record.playedBpmLow = heard.bpmLow;
    record.playedBpmHigh = heard.bpmHigh;
    // Rounding to samples must not make a host at exactly the planned tempo look off plan.
    if (heard.bpmHigh - heard.bpmLow < 1e-6)
        record.playedBpm = heard.bpmLow;
    record.clock = name(begun.clock);
    record.messages = begun.messages;
    if (!heard.take.notes.empty() || !begun.soundHeard) {
        record.performance = listenToMidi(score, heard.tempo, heard.take);
    } else {
        record.performance.source = Source::sound;
        record.roundTripMs = begun.setup->config.roundTripMs;
        record.performance.remarks.push_back("Only sound came in this take; it was kept without measures");
    }
    const Performance& played = record.performance;
    record.passed = passes(begun.setup->config.rules.pass, record.state == TakeState::whole,
                           played.count(Outcome::wrong), played.count(Outcome::missed),
                           static_cast<int>(played.extras.size()), played.worstIoiSpreadPercent()) &&
                    !played.notes.empty();
    return record;
}

void Session::finish(const PendingTake& take) {
    const TakeRecord record = recordOf(take);
    keeper.finish(record);
    if (record.state == TakeState::partial)
        note("The take was cut short and kept as partial", false);
    replan();
    refreshToday();
    note(current->planned.words, false);
    care.takeEnded(record.header.startedUtc, record.endedUtc);
    if (takeLogged && keeper.waiting() == 0)
        takeLogged(reviewRequest());
}

void Session::finishReady(std::int64_t sample) {
    while (!pending.empty() && pending.front().readySample <= sample) {
        const PendingTake take = std::move(pending.front());
        pending.pop_front();
        finish(take);
    }
}

void Session::idle() {
    const UtcMs time = now();
    while (!pending.empty() && time - pending.front().endedUtc > graceMs) {
        const PendingTake take = std::move(pending.front());
        pending.pop_front();
        finish(take);
    }
    if (time - lastIdle < 1000 && time >= lastIdle)
        return;
    const bool newDay = practiceDay(config.rules, time) != practiceDay(config.rules, lastIdle);
    lastIdle = time;
    const std::size_t waitingBefore = keeper.waiting();
    keeper.retry();
    if (waitingBefore > 0 && keeper.waiting() == 0)
        note("The log takes writing again; all waiting takes are in it", false);
    if (newDay && !open) {
        replan();
        refreshToday();
    }
    tellCare();
}

void Session::close() {
    if (auto end = watch.close())
        endTake(*end);
    while (!pending.empty()) {
        const PendingTake take = std::move(pending.front());
        pending.pop_front();
        finish(take);
    }
}

void Session::refreshToday() {
    today.clear();
    LogStore* store = keeper.store();
    if (store == nullptr)
        return;
    TakeFilter filter = planFilter();
    constexpr UtcMs dayAndHalfMs = 36LL * 3600 * 1000;
    filter.fromUtc = now() - dayAndHalfMs;
    auto found = store->takes(filter);
    if (!found) {
        note(found.problem().text(), true);
        return;
    }
    const auto day = practiceDay(config.rules, now());
    for (TakeSummary& take : found.value())
        if (practiceDay(config.rules, take.header.startedUtc) == day && take.state != TakeState::open)
            today.push_back(std::move(take));
}

std::string Session::mismatchText(double playedBpm, const SessionSetup& setup, Clock clock) const {
    if (playedBpm <= 0.0 || std::abs(playedBpm - setup.planned.bpm) <= config.rules.toleranceBpm)
        return "";
    char text[160];
    std::snprintf(text, sizeof text, "The %s is at %.4g, this take is planned at %.4g",
                  clock == Clock::host ? "host" : "clock", playedBpm, setup.planned.bpm);
    return text;
}

SessionView Session::view() const {
    SessionView result;
    result.setup = current;
    if (last) {
        result.clock = last->clock;
        result.playing = last->host.playing;
        result.recording = last->host.recording;
        result.bpm = last->host.bpm.value_or(0.0);
        result.mismatch = mismatchText(result.bpm, *current, last->clock);
    }
    result.inTake = open.has_value();
    result.way = watch.way();
    result.today = today;
    result.messages.assign(messages.begin(), messages.end());
    result.logTrouble = keeper.trouble();
    result.waitingTakes = keeper.waiting();
    return result;
}

} // namespace valveladder
