#include "Session/Session.h"

#include "Log/LoggedPlan.h"
#include "Review/Review.h"
#include "Words/SessionWords.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr std::size_t maxKnownSetups = 16;
constexpr UtcMs betweenRetriesMs = 1000; ///< of the log, and of what else does not hang on blocks

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
    : now(std::move(clock)), keeper(logPath), keptSound(logPath) {
    if (auto valid = checked(wanted)) {
        config = valid.value();
    } else {
        note(words::defaultUsed(valid.problem()), true);
    }
    tellKeepersNews();
    readPlan();
}

Session::~Session() {
    close();
}

void Session::note(const std::string& text, bool trouble) {
    messages.add(now(), text, trouble);
    if (open)
        open->messages.push_back(text);
}

/// It is of takes before, and so does not stand with one that runs.
void Session::tellKeepersNews() {
    for (const Problem& news : keeper.news())
        messages.add(now(), news.text(), true);
}

void Session::noteLoss(const std::string& text) {
    note(text, true);
    for (PendingTake& waiting : pending)
        waiting.open.messages.push_back(text);
}

void Session::setDevice(const std::string& name) {
    if (delay.use(name))
        readDevice();
}

void Session::readDevice() {
    if (const auto problem = delay.read(keeper.store()))
        note(problem->text(), true);
}

void Session::setMeasuredRoundTrip(double ms) {
    delay.measured(ms);
    note(words::roundTripMeasured(ms, config.roundTripMs), false);
    LogStore* store = keeper.store();
    if (store == nullptr)
        return note(words::roundTripNotLogged, true);
    if (auto written = store->setRoundTripMs(delay.device(), ms); !written)
        note(written.problem().text(), true);
}

void Session::setPlayerNote(const std::string& takeId, const std::string& text) {
    LogStore* store = keeper.store();
    if (store == nullptr) {
        note(words::noteNotKept, true);
        return;
    }
    if (auto written = store->setPlayerNote(takeId, text); !written)
        note(written.problem().text(), true);
    else if (logChanged)
        logChanged(reviewRequest());
}

void Session::correct(const std::string& takeId, const std::vector<NoteReport>& reports, bool right) {
    LogStore* store = keeper.store();
    if (store == nullptr) {
        note(words::correctionNotKept, true);
        return;
    }
    if (auto written = store->correct(takeId, reports, right); !written) {
        note(written.problem().text(), true);
        return;
    }
    history.restart();
    replan();
    if (logChanged)
        logChanged(reviewRequest());
}

void Session::readPlan() {
    if (LogStore* store = keeper.store()) {
        auto rules = planRules(*store, config.player, config.instrument.id, config.drill.name, config.rules);
        if (rules)
            config.rules = std::move(rules.value());
        const auto players = store->players();
        if (players && std::count(players.value().begin(), players.value().end(), config.player) == 0)
            care.firstUse(config.player);
    }
    history.restart();
    replan();
}

void Session::replan() {
    if (const auto problem = history.catchUp(keeper, config))
        note(problem->text(), true);
    const UtcMs time = now();
    playedToday = history.playedOnDayOf(time, config.rules);
    adopt(history.next(time));
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
    auto valid = checked(wanted);
    if (!valid)
        return valid.problem();
    config.care = valid.value().care; // reminders alone change nothing else
    if (valid.value() == config)
        return Done{};
    SessionConfig sameDrill = valid.value();
    sameDrill.roundTripMs = config.roundTripMs;
    sameDrill.keepSound = config.keepSound;
    if (sameDrill == config) { // nothing that an open take depends on
        config = valid.value();
        adopt(current->planned);
        return Done{};
    }
    close();
    const bool rulesChanged = valid.value().rules != config.rules;
    const bool samePlan = valid.value().player == config.player &&
                          valid.value().instrument.id == config.instrument.id &&
                          valid.value().drill.name == config.drill.name;
    config = valid.value();
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

void Session::block(const SessionBlock& whole) {
    const std::optional<LoopSplit> split = splitAtLoopEnd(whole.host);
    if (!split || !split->tail) {
        process(whole);
        return;
    }
    // The host wraps inside the block: what came before the wrap belongs to the pass that ends there.
    const int wrap = split->head.samples;
    std::vector<MidiEvent> before;
    std::vector<MidiEvent> after;
    for (MidiEvent event : whole.midi) {
        auto& half = event.sample < wrap ? before : after;
        event.sample -= event.sample < wrap ? 0 : wrap;
        half.push_back(event);
    }
    const auto soundWrap = std::min(static_cast<std::size_t>(wrap), whole.sound.size());
    SessionBlock half = whole;
    half.host = split->head;
    half.midi = before;
    half.sound = whole.sound.first(soundWrap);
    process(half);
    half.startSample += wrap;
    half.host = *split->tail;
    half.midi = after;
    half.sound = whole.sound.subspan(soundWrap);
    half.silenced = 0;
    half.marks = 0;
    half.handPresses = 0;
    process(half);
}

void Session::idle() {
    const UtcMs time = now();
    while (!pending.empty() && time > pending.front().readyUtc)
        finishFirst();
    if (time - lastIdle < betweenRetriesMs && time >= lastIdle)
        return;
    const bool newDay = practiceDay(config.rules, time) != practiceDay(config.rules, lastIdle);
    lastIdle = time;
    const std::size_t waitingBefore = keeper.waiting();
    keeper.retry();
    tellKeepersNews();
    if (waitingBefore > 0 && keeper.waiting() == 0)
        logWritable();
    readDevice();
    if (newDay && !open)
        replan();
    tellCare();
}

void Session::close() {
    if (auto end = watch.close())
        endTake(*end);
    while (!pending.empty())
        finishFirst();
}

std::string Session::mismatchText(double playedBpm, const SessionSetup& setup, Clock clock) const {
    if (playedBpm <= 0.0 || !otherThanPlanned(playedBpm, setup.planned.bpm, config.rules.toleranceBpm))
        return "";
    return words::otherTempo(clock == Clock::host, playedBpm, setup.planned.bpm);
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
    if (open && open->hearing && open->soundHeard)
        result.live = open->hearing->live();
    result.roundTrip = delay.roundTrip(config.roundTripMs);
    result.playedToday = playedToday;
    result.messages = messages.all();
    result.logTrouble = keeper.trouble();
    result.waitingTakes = keeper.waiting();
    return result;
}

} // namespace valveladder
