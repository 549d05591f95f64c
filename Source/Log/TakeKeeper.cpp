#include "Log/TakeKeeper.h"

#include "Base/Sentence.h"
#include "Log/LogStoreImpl.h"
#include "Log/SpillFile.h"

#include <utility>

namespace valveladder {

namespace {

/// Tries of a log in trouble are short, so that the worker hears on.
constexpr int retryBusyMs = 50;

} // namespace

struct TakeKeeper::Impl {
    explicit Impl(std::filesystem::path path) : logPath(std::move(path)), spill(logPath) {}

    void open(int busy);
    bool usable();
    void readBack();
    void apply(const SpillLine& line);
    template <typename Write>
    void pass(const SpillLine& line, Write&& write);
    void keep(const SpillLine& line);
    bool drain();
    Result<Done> land();
    void fail(const Problem& problem);
    void forgetOpen(const std::string& id);
    void writeUnspilled();

    std::filesystem::path logPath;
    SpillFile spill;
    std::unique_ptr<LogStore> store;
    std::optional<Problem> wrong;
    std::vector<Problem> news;

    // What the log has not taken down yet.
    std::deque<TakeRecord> finished;
    std::vector<TakeHeader> begun;
    std::vector<std::string> dropped;
    std::deque<SpillLine> unspilled; ///< in memory alone, for no file could be written
};

void TakeKeeper::Impl::fail(const Problem& problem) {
    wrong = problem;
    if (store)
        store->setBusyMs(retryBusyMs);
}

void TakeKeeper::Impl::open(int busy) {
    auto opened = LogStore::open(logPath, busy);
    if (!opened.ok())
        return fail(opened.problem());
    store = std::move(opened.value());
    const auto recovered = store->recoverOpenTakes();
    if (!recovered.ok()) {
        store.reset();
        return fail(recovered.problem());
    }
    if (recovered.value() > 0)
        news.push_back(
            {counted(recovered.value(), "take") + " of before had been cut short as a program ended",
             pathText(logPath), "What was begun is kept; it does not count for the plan"});
}

/// True when the log can be tried now; a log that was moved away is begun anew.
bool TakeKeeper::Impl::usable() {
    if (store && store->moved()) {
        news.push_back({"the log's file was moved or deleted while it was open", pathText(logPath),
                        "Takes go to a new one there; merge the old one if you have it"});
        store.reset();
    }
    if (!store)
        open(wrong ? retryBusyMs : LogStore::busyMs);
    return store != nullptr;
}

/// What keepers that are gone could not land. A take begun there and not finished was cut short.
void TakeKeeper::Impl::readBack() {
    for (const SpillLine& line : spill.takeOver())
        apply(line);
    for (const TakeHeader& header : std::exchange(begun, {}))
        finished.push_back(partialOf(header));
    if (!finished.empty())
        news.push_back({counted(static_cast<long>(finished.size()), "take") + " of before had been waiting",
                        pathText(spill.path()), "What waits goes to the log as soon as that can be written"});
    if (spill.unreadable() > 0)
        news.push_back({counted(spill.unreadable(), "waiting line") + " could not be read",
                        pathText(spill.path()),
                        "The file is kept beside the log, named .unreadable: a newer version may read it"});
}

void TakeKeeper::Impl::forgetOpen(const std::string& id) {
    std::erase_if(begun, [&](const TakeHeader& header) { return header.id == id; });
}

void TakeKeeper::Impl::apply(const SpillLine& line) {
    if (const auto* header = std::get_if<TakeHeader>(&line)) {
        begun.push_back(*header);
    } else if (const auto* record = std::get_if<TakeRecord>(&line)) {
        forgetOpen(record->header.id);
        std::erase_if(finished, [&](const TakeRecord& old) { return old.header.id == record->header.id; });
        finished.push_back(*record);
    } else {
        const std::string& id = std::get<DroppedTake>(line).id;
        forgetOpen(id);
        dropped.push_back(id);
    }
}

/// Into the log, or kept.
template <typename Write>
void TakeKeeper::Impl::pass(const SpillLine& line, Write&& write) {
    if (!wrong && usable()) {
        const Result<Done> done = write(*store);
        if (done.ok())
            return;
        fail(done.problem());
    }
    keep(line);
}

/// Holds a line until the log takes it.
void TakeKeeper::Impl::keep(const SpillLine& line) {
    apply(line);
    unspilled.push_back(line);
    writeUnspilled();
}

void TakeKeeper::Impl::writeUnspilled() {
    while (!unspilled.empty() && spill.append(unspilled.front()).ok())
        unspilled.pop_front();
}

Result<Done> TakeKeeper::Impl::land() {
    for (; !finished.empty(); finished.pop_front())
        if (auto done = store->finishTake(finished.front()); !done.ok())
            return done;
    for (; !dropped.empty(); dropped.pop_back())
        if (auto done = store->dropTake(dropped.back()); !done.ok())
            return done;
    for (; !begun.empty(); begun.pop_back())
        if (auto done = store->beginTake(begun.back()); !done.ok())
            return done;
    return Done{};
}

/// Moves everything that waits into the log. Only then do the spill files go: a crash in between lands the
/// same takes again, which changes nothing.
bool TakeKeeper::Impl::drain() {
    if (!usable())
        return false;
    if (const auto done = land(); !done.ok()) {
        fail(done.problem());
        return false;
    }
    spill.clear();
    unspilled.clear();
    wrong.reset();
    store->setBusyMs(LogStore::busyMs);
    return true;
}

TakeKeeper::TakeKeeper(std::filesystem::path logPath) : impl(std::make_unique<Impl>(std::move(logPath))) {
    impl->readBack();
    impl->drain();
}

TakeKeeper::~TakeKeeper() = default;

void TakeKeeper::begin(const TakeHeader& header) {
    impl->pass(header, [&](LogStore& log) { return log.beginTake(header); });
}

void TakeKeeper::finish(const TakeRecord& record) {
    impl->pass(record, [&](LogStore& log) { return log.finishTake(record); });
}

void TakeKeeper::drop(const std::string& id) {
    impl->pass(DroppedTake{id}, [&](LogStore& log) { return log.dropTake(id); });
}

void TakeKeeper::retry() {
    if (!impl->wrong)
        return;
    impl->writeUnspilled();
    impl->drain();
}

std::size_t TakeKeeper::waiting() const {
    return impl->finished.size();
}

std::optional<Problem> TakeKeeper::trouble() const {
    if (!impl->wrong)
        return std::nullopt;
    Problem problem = *impl->wrong;
    if (!impl->unspilled.empty())
        problem.remedy += ". Until then takes are kept in memory alone: do not close this program";
    else
        problem.remedy += ". Until then takes are kept in " + pathText(impl->spill.path());
    return problem;
}

LogStore* TakeKeeper::store() {
    return impl->wrong ? nullptr : impl->store.get();
}
const std::deque<TakeRecord>& TakeKeeper::waitingTakes() const {
    return impl->finished;
}

std::vector<Problem> TakeKeeper::news() {
    return std::exchange(impl->news, {});
}

} // namespace valveladder
