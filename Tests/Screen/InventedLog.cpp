#include "Screen/InventedLog.h"

#include "Records/Json.h"
#include "Support/SimulatedPlayer.h"

#include <array>
#include <fmt/format.h>
#include <gtest/gtest.h>

namespace valveladder::pictures {

namespace {

constexpr UtcMs firstEvening = 1709575200000; // 2024-03-04 18:00 UTC
constexpr UtcMs dayMs = 86400000;
constexpr UtcMs minuteMs = 60000;
constexpr std::array<int, 12> practisedDays{0, 1, 2, 4, 5, 7, 8, 9, 11, 14, 15, 17};
constexpr int takesADay = 3;

TakeRecord recordOf(int number, int day, const Instrument& instrument, const Drill& drill, const Score& score,
                    simulated::Player& hand) {
    TakeRecord record;
    record.header.id = fmt::format("00000000-0000-4000-8000-{:012d}", number);
    record.header.player = InventedLog::player;
    record.header.instrumentId = instrument.id;
    record.header.instrumentJson = toJson(instrument);
    record.header.drillName = drill.name;
    record.header.drillJson = toJson(drill);
    record.header.startedUtc = firstEvening + day * dayMs + (number % takesADay) * 5 * minuteMs;
    record.header.timeZone = "Etc/UTC";
    record.header.plannedBpm = score.bpm;
    record.header.machine = "invented";
    record.header.invented = true;
    record.endedUtc = record.header.startedUtc + 3 * minuteMs;
    record.playedBpm = score.bpm - (number % 7 == 3 ? 2.0 : 0.0);
    record.playedBpmLow = record.playedBpmHigh = record.playedBpm;
    record.clock = "own";
    record.performance = hand.play(drill, instrument, score, 5.0 * (number % takesADay));
    const Performance& played = record.performance;
    record.passed = played.count(Outcome::wrong) + played.count(Outcome::missed) == 0;
    return record;
}

} // namespace

const Instrument& InventedLog::instrument() const {
    return *findInstrument("flugelhorn-b-flat-4");
}

InventedLog::InventedLog() {
    host::setEnvironment("TZ", "Etc/UTC"); // clock times in pictures are the same everywhere
    store = std::move(LogStore::open(place.log()).value());
    Drill drill = simulated::fullDrill(instrument());
    std::get<LadderPattern>(drill.pattern).lastTop += 2;
    simulated::Spread spread;
    spread.errorShare = 0.002;
    Suspect third;
    third.kind = SuspectKind::press;
    third.finger = 3;
    simulated::Player hand({{third, 40.0}}, spread, 20240304);
    int number = 0;
    for (std::size_t day = 0; day < practisedDays.size(); ++day)
        for (int take = 0; take < takesADay; ++take) {
            const double bpm = 60.0 + 2.0 * static_cast<double>(day);
            const auto score = buildScore(drill, instrument(), bpm);
            const TakeRecord record =
                recordOf(number++, practisedDays[day], instrument(), drill, score.value(), hand);
            EXPECT_TRUE(store->beginTake(record.header));
            EXPECT_TRUE(store->finishTake(record));
            newest = record.header.id;
        }
}

ReviewRequest InventedLog::request() const {
    ReviewRequest request;
    request.player = player;
    request.instrumentId = instrument().id;
    request.invented = true;
    request.bpm = 82.0;
    request.ladder = defaultDrill(instrument());
    request.now = store->takes({}).value().back().header.startedUtc;
    return request;
}

std::shared_ptr<const Overview> InventedLog::overview() const {
    return std::make_shared<const Overview>(overviewOf(reviewOf(*store, request()), instrument()));
}

std::shared_ptr<const LoadedTake> takeWithEverySign(const InventedLog& invented) {
    auto take = std::make_shared<LoadedTake>(loadTake(invented.log(), invented.newestTake()));
    Performance& played = take->record.performance;
    for (NoteResult& note : played.notes)
        note.deviationMs = 4.0;
    played.notes[1].outcome = Outcome::wrong;
    played.notes[2].outcome = Outcome::missed;
    played.notes[3].split = true;
    played.notes[4].deviationMs = 46.0;
    played.notes[5].deviationMs = -38.0;
    played.notes[6].breathBefore = true;
    played.extras = {{0.0, 0.1, 60, 8}, {0.0, 0.1, 60, 11}};
    played.notes[9].valvesWrong = true;
    played.notes[11].valvesWrong = true;
    played.notes[11].breathBefore = true;
    const Combination third = *Combination::parse("3");
    for (ChangeResult& change : played.changes)
        if (change.toIndex == 10 || change.toIndex == 11) {
            change.change = {*Combination::parse("1-2"), third};
            change.lateFingers = third;
            change.lateByMs = 42.0;
        }
    take->record.corrections = {{{12, ReportKind::wrong}, 0}};
    take->model = takeModel(take->record, take->logged.score, take->logged.instrument);
    return take;
}

SessionView runningView(const std::string& instrumentId) {
    SessionConfig config;
    config.instrument = *findInstrument(instrumentId);
    config.drill = defaultDrill(config.instrument);
    PlannedTempo planned;
    planned.bpm = 66;
    SessionView view;
    view.setup = makeSetup(config, planned).value();
    view.clock = Clock::own;
    view.playing = true;
    view.bpm = 66;
    view.inTake = true;
    return view;
}

} // namespace valveladder::pictures
