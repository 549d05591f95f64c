#include "Screen/LogReader.h"

#include "Tempo/PracticeDay.h"

#include <algorithm>

namespace valveladder {

namespace {

/// More takes than the window shows at once are read anew when they are asked for again.
constexpr std::size_t mostTakesKept = 64;

TakeFacts factsOf(const TakeRecord& record, const PracticeCalendar& calendar) {
    TakeFacts facts;
    facts.id = record.header.id;
    facts.player = record.header.player;
    facts.instrumentId = record.header.instrumentId;
    facts.drillName = record.header.drillName;
    facts.invented = record.header.invented;
    facts.startedUtcMs = record.header.startedUtc;
    facts.endedUtcMs = record.endedUtc;
    facts.day = calendar.day(record.header.startedUtc);
    facts.plannedBpm = record.header.plannedBpm;
    facts.playedBpm = record.playedBpm;
    facts.whole = record.state == TakeState::whole;
    facts.passed = record.passed;
    return facts;
}

TakeFilter filterOf(const OverviewRequest& request) {
    TakeFilter filter;
    filter.player = request.player;
    filter.instrumentId = request.instrument.id;
    return filter;
}

std::vector<TakeEvidence> readEvidence(const LogStore& log, const TakeFilter& filter,
                                       const std::stop_token& stop, std::atomic<int>& progress,
                                       std::string& trouble) {
    const PracticeCalendar calendar{TempoRules{}};
    std::vector<TakeEvidence> evidence;
    const auto visited = log.forEachTake(filter, [&](const TakeRecord& record) {
        progress.fetch_add(1);
        if (record.state != TakeState::open && !record.performance.notes.empty())
            if (const auto logged = loggedScore(record.header, record.header.plannedBpm))
                evidence.push_back(evidenceOf(factsOf(record, calendar), logged.value().drill,
                                              logged.value().instrument, logged.value().score,
                                              record.performance));
        return !stop.stop_requested();
    });
    if (!visited)
        trouble = visited.problem().text();
    return evidence;
}

/// Real takes, or the invented ones where there are no others: the two are never mixed.
std::vector<TakeEvidence> oneKind(std::vector<TakeEvidence> evidence) {
    auto kinds = apart(std::move(evidence));
    if (kinds.empty())
        return {};
    for (auto& [who, takes] : kinds)
        if (!takes.front().facts.invented)
            return std::move(takes);
    return std::move(kinds.begin()->second);
}

} // namespace

Overview overviewOf(const LogStore& log, const OverviewRequest& request, const std::stop_token& stop,
                    std::atomic<int>& progress) {
    Overview overview;
    auto takes = log.takes(filterOf(request));
    if (!takes) {
        overview.trouble = takes.problem().text();
        return overview;
    }
    overview.takes = std::move(takes.value());
    std::erase_if(overview.takes, [](const TakeSummary& take) { return take.state == TakeState::open; });
    const auto evidence = oneKind(readEvidence(log, filterOf(request), stop, progress, overview.trouble));
    if (stop.stop_requested() || evidence.empty())
        return overview;
    const FindingsReport report = findingsIn(evidence, request.instrument, request.bpm);
    overview.stair = stairModel(evidence, report, request.instrument);
    if (!std::holds_alternative<LadderPattern>(request.ladder.pattern))
        return overview;
    SessionRequest session;
    session.bpm = request.bpm;
    session.ladder = request.ladder;
    overview.next = planSession(session, request.instrument, report.weaknesses,
                                report.settle ? report.settle->cells : std::vector<FingeredCell>{});
    return overview;
}

LoadedTake loadTake(const LogStore& log, const std::string& id) {
    LoadedTake loaded;
    auto record = log.take(id);
    if (!record) {
        loaded.trouble = record.problem().text();
        return loaded;
    }
    auto logged = loggedScore(record.value().header, record.value().header.plannedBpm);
    if (!logged) {
        loaded.trouble = logged.problem().text();
        return loaded;
    }
    loaded.record = std::move(record.value());
    loaded.logged = std::move(logged.value());
    loaded.model = takeModel(loaded.record, loaded.logged.score, loaded.logged.instrument);
    return loaded;
}

LogReader::LogReader(std::filesystem::path logPath)
    : path(std::move(logPath)), thread([this](const std::stop_token& end) { run(end); }) {}

LogReader::~LogReader() {
    stop();
    thread.request_stop();
    changed.notify_all();
}

void LogReader::wantOverview(const OverviewRequest& request) {
    stop();
    const std::lock_guard lock(mutex);
    std::erase_if(jobs, [](const Job& job) { return std::holds_alternative<OverviewRequest>(job); });
    current = std::stop_source();
    jobs.emplace_back(request);
    changed.notify_all();
}

void LogReader::wantTake(const std::string& id) {
    const std::lock_guard lock(mutex);
    if (takes.contains(id) || std::find(jobs.begin(), jobs.end(), Job(id)) != jobs.end())
        return;
    jobs.emplace_front(id); // a single take is quick, and somebody looks at an empty place
    changed.notify_all();
}

void LogReader::stop() {
    const std::lock_guard lock(mutex);
    current.request_stop();
}

std::shared_ptr<const Overview> LogReader::overview() const {
    const std::lock_guard lock(mutex);
    return newest;
}

std::shared_ptr<const LoadedTake> LogReader::take(const std::string& id) const {
    const std::lock_guard lock(mutex);
    const auto found = takes.find(id);
    return found == takes.end() ? nullptr : found->second;
}

Result<std::unique_ptr<LogStore>> LogReader::openLog() const {
    std::error_code ignored;
    if (!std::filesystem::exists(path, ignored))
        return Problem{"there is no log yet", path.string(), "play a take"};
    return LogStore::openReadOnly(path);
}

void LogReader::run(const std::stop_token& end) {
    while (!end.stop_requested()) {
        Job job;
        {
            std::unique_lock lock(mutex);
            if (!changed.wait(lock, end, [this] { return !jobs.empty(); }))
                return;
            job = std::move(jobs.front());
            jobs.pop_front();
            working = true;
        }
        work(job);
        working = false;
    }
}

void LogReader::work(const Job& job) {
    auto log = openLog();
    if (const auto* request = std::get_if<OverviewRequest>(&job)) {
        std::stop_token token;
        {
            const std::lock_guard lock(mutex);
            token = current.get_token();
        }
        progress = 0;
        auto made = std::make_shared<Overview>();
        if (log)
            *made = overviewOf(*log.value(), *request, token, progress);
        const std::lock_guard lock(mutex);
        if (!token.stop_requested())
            newest = std::move(made);
        return;
    }
    const std::string& id = std::get<std::string>(job);
    auto loaded = std::make_shared<LoadedTake>();
    if (log)
        *loaded = loadTake(*log.value(), id);
    else
        loaded->trouble = log.problem().text();
    const std::lock_guard lock(mutex);
    if (takes.size() >= mostTakesKept)
        takes.clear();
    takes[id] = std::move(loaded);
}

} // namespace valveladder
