#include "Review/LogEvidence.h"

#include "Log/LoggedPlan.h"
#include "Review/LoggedScore.h"
#include "Tempo/PracticeDay.h"

#include <future>
#include <map>
#include <tuple>
#include <utility>

namespace valveladder {

namespace {

/// The tempo only moves rests; evidence is indexed by notes, so one score serves a drill at every tempo.
constexpr double anyBpm = 60.0;

/// Drills and instruments as the log spells them, each read once.
class PlayedFrom {
public:
    /// Null when it cannot be read.
    const LoggedScore* of(const TakeHeader& header) {
        const auto [known, isNew] = byText.try_emplace({header.instrumentJson, header.drillJson});
        if (isNew)
            if (auto read = loggedScore(header, anyBpm))
                known->second = std::move(read.value());
        return known->second ? &*known->second : nullptr;
    }

private:
    std::map<std::pair<std::string, std::string>, std::optional<LoggedScore>> byText;
};

/// Practice days and tolerated tempos by the rules of each plan.
class Days {
public:
    Days(const LogStore& store, const std::vector<TakeSummary>& takes) {
        for (const TakeSummary& take : takes) {
            const Key key{take.header.player, take.header.instrumentId, take.header.drillName};
            if (plans.contains(key))
                continue;
            const auto kept = planRules(store, std::get<0>(key), std::get<1>(key), std::get<2>(key));
            const TempoRules rules = kept ? kept.value() : TempoRules{};
            plans.try_emplace(key, Plan{PracticeCalendar(rules), rules.toleranceBpm});
        }
    }

    std::int64_t dayOf(const TakeHeader& header) const {
        const Plan* plan = planOf(header);
        return (plan != nullptr ? plan->calendar : usual).dayOfTake(header.startedUtc, header.timeZone);
    }

    double toleranceOf(const TakeHeader& header) const {
        const Plan* plan = planOf(header);
        return plan != nullptr ? plan->toleranceBpm : TempoRules{}.toleranceBpm;
    }

private:
    using Key = std::tuple<std::string, std::string, std::string>;
    struct Plan {
        PracticeCalendar calendar;
        double toleranceBpm;
    };

    const Plan* planOf(const TakeHeader& header) const {
        const auto found = plans.find({header.player, header.instrumentId, header.drillName});
        return found != plans.end() ? &found->second : nullptr;
    }

    std::map<Key, Plan> plans;
    PracticeCalendar usual{TempoRules{}}; ///< of a take that came since
};

TakeFacts factsOf(const TakeRecord& take, const Days& days) {
    const TakeHeader& header = take.header;
    TakeFacts facts;
    facts.id = header.id;
    facts.player = header.player;
    facts.instrumentId = header.instrumentId;
    facts.drillName = header.drillName;
    facts.invented = header.invented;
    facts.startedUtcMs = header.startedUtc;
    facts.endedUtcMs = take.endedUtc;
    facts.day = days.dayOf(header);
    facts.plannedBpm = header.plannedBpm;
    facts.playedBpm = take.playedBpm;
    facts.whole = take.state == TakeState::whole;
    facts.passed = take.passed;
    facts.slowerThanPlanned = slowerThanPlanned(take.playedBpm, header.plannedBpm, days.toleranceOf(header));
    return facts;
}

} // namespace

Result<std::vector<LogPlayer>> playersIn(const LogStore& log, const TakeFilter& filter) {
    auto takes = log.takes(filter);
    if (!takes)
        return takes.problem();
    std::map<std::tuple<std::string, std::string, bool>, LogPlayer> found;
    for (TakeSummary& take : takes.value()) {
        TakeHeader& header = take.header;
        LogPlayer& one = found[{header.player, header.instrumentId, header.invented}];
        ++one.takes;
        one.newest = std::move(header);
    }
    std::vector<LogPlayer> players;
    for (auto& [key, one] : found)
        players.push_back(std::move(one));
    return players;
}

Result<std::vector<TakeSummary>> takesOfDay(const LogStore& log, const TakeFilter& filter, std::int64_t day) {
    auto takes = log.takes(filter);
    if (!takes)
        return takes;
    const Days days(log, takes.value());
    std::erase_if(takes.value(), [&](const TakeSummary& take) { return days.dayOf(take.header) != day; });
    return takes;
}

namespace {

Result<LoggedEvidence> readStretch(const LogStore& log, const TakeFilter& filter, const Days& days,
                                   const std::stop_token& stop, ReadingProgress& progress) {
    PlayedFrom playedFrom;
    LoggedEvidence evidence;
    const LoggedScore* newest = nullptr;
    const LoggedScore* newestLadder = nullptr;
    const auto visit = [&](const TakeRecord& take) {
        progress.read.fetch_add(1, std::memory_order_relaxed);
        const LoggedScore* played = playedFrom.of(take.header);
        if (played == nullptr) {
            ++evidence.unreadable;
            return true;
        }
        newest = played;
        if (std::holds_alternative<LadderPattern>(played->drill.pattern))
            newestLadder = played;
        evidence.takes.push_back(evidenceOf(factsOf(take, days), played->drill, played->instrument,
                                            played->score, take.performance));
        evidence.stopped = stop.stop_requested();
        return !evidence.stopped;
    };
    const TakeParts parts{.extras = false, .timesOnly = true};
    if (auto read = log.forEachTake(filter, visit, parts); !read)
        return read.problem();
    if (newest != nullptr) {
        evidence.instrument = newest->instrument;
        evidence.drill = newest->drill;
    }
    if (newestLadder != nullptr)
        evidence.ladder = newestLadder->drill;
    return evidence;
}

void append(LoggedEvidence& older, LoggedEvidence&& newer) {
    older.takes.reserve(older.takes.size() + newer.takes.size());
    std::move(newer.takes.begin(), newer.takes.end(), std::back_inserter(older.takes));
    older.unreadable += newer.unreadable;
    older.stopped = older.stopped || newer.stopped;
    if (newer.instrument)
        older.instrument = std::move(newer.instrument);
    if (newer.drill)
        older.drill = std::move(newer.drill);
    if (newer.ladder)
        older.ladder = std::move(newer.ladder);
}

/// The older and the newer half, each through a store of its own.
Result<LoggedEvidence> readHalves(const LogStore& log, const TakeFilter& filter, UtcMs middle,
                                  const Days& days, const std::stop_token& stop, ReadingProgress& progress) {
    TakeFilter older = filter;
    TakeFilter newer = filter;
    older.toUtc = newer.fromUtc = middle;
    auto second = std::async(std::launch::async, [&]() -> Result<LoggedEvidence> {
        auto own = LogStore::openReadOnly(log.path());
        return own ? readStretch(*own.value(), newer, days, stop, progress) : own.problem();
    });
    auto first = readStretch(log, older, days, stop, progress);
    auto rest = second.get();
    if (!first)
        return first;
    if (!rest)
        return rest;
    append(first.value(), std::move(rest.value()));
    return first;
}

std::vector<DatedTake> dated(std::vector<TakeSummary> takes, const Days& days) {
    std::vector<DatedTake> listed;
    for (TakeSummary& take : takes) {
        const std::int64_t day = days.dayOf(take.header);
        listed.push_back({std::move(take), day});
    }
    return listed;
}

/// From so many takes a second thread is worth starting.
constexpr std::size_t manyTakes = 100;

} // namespace

Result<LoggedEvidence> readEvidence(const LogStore& log, const TakeFilter& filter,
                                    const std::stop_token& stop, ReadingProgress* progress) {
    auto summaries = log.takes(filter);
    if (!summaries)
        return summaries.problem();
    auto& takes = summaries.value();
    const Days days(log, takes);
    ReadingProgress unseen;
    ReadingProgress& told = progress != nullptr ? *progress : unseen;
    told.all = static_cast<int>(takes.size());
    auto evidence =
        takes.size() < manyTakes || filter.newest > 0
            ? readStretch(log, filter, days, stop, told)
            : readHalves(log, filter, takes[takes.size() / 2].header.startedUtc, days, stop, told);
    if (evidence)
        evidence.value().listed = dated(std::move(takes), days);
    return evidence;
}

} // namespace valveladder
