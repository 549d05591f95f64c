#include "Invented/InventedWeek.h"

#include "Base/Units.h"
#include "Base/Uuid.h"
#include "Invented/InventedPlayer.h"
#include "Invented/InventedSound.h"
#include "Listening/MidiListener.h"
#include "Log/LoggedPlan.h"
#include "Records/Json.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <random>

namespace valveladder {

namespace {

constexpr std::uint32_t seed = 20260302;
constexpr const char* ourWeeks =
    "0f0c8f64-7b0e-5d0a-8f5a-3f1d2b9c6e21"; // drawn once: the takes' ids come of it
constexpr std::array<int, 6> practisedDays{0, 1, 2, 3, 5, 6};
constexpr int takesADay = 2;
constexpr auto dayMs = static_cast<UtcMs>(msPerDay);
constexpr auto betweenTakesMs = static_cast<UtcMs>(10 * msPerMinute);
constexpr double leadMs = 30.0;      ///< fingers come to rest this long before the note speaks
constexpr double fingerSdMs = 7.0;   ///< of each finger's own moment
constexpr double slowThirdMs = 38.0; ///< on the first day; a twelfth of it is lost each day

DemoForm formOn(int day, int take) {
    DemoForm form;
    form.spreadMs = 13.0 - 0.7 * day;
    form.weakChangeMs = 28.0 - 2.0 * day;
    form.wrongNotes = day == 0 && take == 0 ? 3 : day == 3 && take == 0 ? 2 : 0;
    form.missedNotes = day == 1 && take == 0 ? 1 : 0;
    return form;
}

std::vector<PlayedNote> notesOf(const std::vector<PlayedMessage>& messages, const TempoMap& tempo) {
    std::vector<PlayedNote> notes;
    for (const PlayedMessage& message : messages) {
        const double seconds = tempo.secondsAt(message.quarter);
        const MidiNote pitch = message.event.bytes[1];
        if (message.event.isNoteOn()) {
            notes.push_back({seconds, seconds, pitch, message.event.bytes[2]});
        } else if (message.event.isNoteOff()) {
            const auto open = std::find_if(notes.rbegin(), notes.rend(),
                                           [&](const PlayedNote& note) { return note.pitch == pitch; });
            if (open != notes.rend())
                open->offset = seconds;
        }
    }
    return notes;
}

/// What valve sensors say: every finger about when its note asks for it, the third later when it presses.
std::vector<ValveMove> valvesOf(const Score& score, const TempoMap& tempo, double thirdLateMs,
                                std::mt19937& random) {
    std::normal_distribution<double> own(-leadMs, fingerSdMs);
    std::vector<ValveMove> moves;
    Combination down;
    for (const ScoreNote& note : score.notes) {
        const double onset = tempo.secondsAt(quartersOf(note.onset));
        for (int valve = 1; valve <= maxValves; ++valve)
            if (note.combination.has(valve) != down.has(valve)) {
                const bool pressed = note.combination.has(valve);
                const double lateMs = own(random) + (valve == 3 && pressed ? thirdLateMs : 0.0);
                moves.push_back({onset + lateMs / msPerSecond, valve, pressed});
            }
        down = note.combination;
    }
    std::ranges::sort(moves, {}, &ValveMove::seconds);
    return moves;
}

/// The week so far: plan and hand.
class Week {
public:
    explicit Week(LogStore& store) : log(store) {}

    Result<Done> take(int day, int number);

private:
    [[nodiscard]] Result<PlannedTempo> planned(UtcMs at) const;
    [[nodiscard]] TakeRecord recordOf(UtcMs started, double bpm) const;

    LogStore& log;
    const Instrument& instrument = *findInstrument(InventedWeek::instrumentId);
    const Drill drill = defaultDrill(instrument);
    InventedPlayer player{seed};
    std::mt19937 fingers{seed + 1};
    TempoRules rules;
};

Result<PlannedTempo> Week::planned(UtcMs at) const {
    TakeFilter filter = planFilter(InventedWeek::player, instrument.id, drill.name, true);
    filter.toUtc = at;
    auto before = log.planTakes(filter);
    if (!before)
        return before.problem();
    TempoRules inUtc = rules;
    inUtc.timeZone = "Etc/UTC";
    return nextTempo(inUtc, std::move(before.value()), at);
}

TakeRecord Week::recordOf(UtcMs started, double bpm) const {
    TakeRecord record;
    TakeHeader& header = record.header;
    header.id = namedUuid(ourWeeks, std::to_string(started));
    header.player = InventedWeek::player;
    header.instrumentId = instrument.id;
    header.instrumentJson = toJson(instrument);
    header.drillName = drill.name;
    header.drillJson = toJson(drill);
    header.startedUtc = started;
    header.timeZone = "Etc/UTC";
    header.way = TakeWay::playing;
    header.plannedBpm = bpm;
    header.invented = true;
    record.playedBpm = record.playedBpmLow = record.playedBpmHigh = bpm;
    record.clock = "own";
    return record;
}

Result<Done> Week::take(int day, int number) {
    const UtcMs started = InventedWeek::firstEvening + day * dayMs + number * betweenTakesMs;
    auto plan = planned(started);
    if (!plan)
        return plan.problem();
    const double bpm = plan.value().bpm;
    const auto score = buildScore(drill, instrument, bpm);
    if (!score)
        return score.problem();
    const TempoMap tempo(bpm);
    MidiTake played;
    played.notes = notesOf(player.play(score.value(), bpm, formOn(day, number)), tempo);
    played.valves = valvesOf(score.value(), tempo, slowThirdMs * (1.0 - day / 12.0), fingers);
    TakeRecord record = recordOf(started, bpm);
    record.performance = listenToMidi(score.value(), tempo, played);
    record.startPpq = quartersOf(score.value().countInTicks);
    record.endPpq = quartersOf(score.value().spans.back().end);
    record.endedUtc = started + std::llround(tempo.secondsAt(record.endPpq) * msPerSecond);
    record.passed = passes(rules.pass, TakeState::whole, record.performance);
    const auto there = log.addTake(record);
    return there ? Result<Done>(Done{}) : there.problem();
}

} // namespace

Result<Done> InventedWeek::keepIn(LogStore& log) {
    Week week(log);
    for (const int day : practisedDays)
        for (int number = 0; number < takesADay; ++number)
            if (auto kept = week.take(day, number); !kept)
                return kept;
    return Done{};
}

ReviewRequest InventedWeek::reviewRequest() {
    ReviewRequest request;
    request.player = player;
    request.instrumentId = instrumentId;
    request.invented = true;
    request.now = nextMorning;
    return request;
}

Drill InventedWeek::shortDrill() {
    Drill drill = defaultDrill(*findInstrument(InventedWeek::instrumentId));
    drill.name = "One rung, invented";
    auto& ladder = std::get<LadderPattern>(drill.pattern);
    ladder.lastTop = ladder.firstTop;
    drill.segments.resize(1);
    drill.repeats = 1;
    return drill;
}

Result<std::vector<float>> InventedWeek::shortSound(double sampleRate) {
    const auto score = buildScore(shortDrill(), *findInstrument(InventedWeek::instrumentId), shortBpm);
    if (!score)
        return score.problem();
    InventedPlayer player(seed);
    DemoForm form;
    form.missedNotes = 1;
    return inventedSound(player.play(score.value(), shortBpm, form), shortBpm, sampleRate);
}

} // namespace valveladder
