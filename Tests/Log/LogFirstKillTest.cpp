// A log in the making: killed at any moment, or made by many at once.
#include "Log/LogStore.h"
#include "Log/TakeKeeper.h"

#include "Log/RandomTakes.h"
#include "Log/TempFolder.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <fstream>
#include <iostream>
#include <set>
#include <spawn.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

extern char** environ;

namespace valveladder {

namespace {

namespace fs = std::filesystem;

bool full() {
    return std::getenv("VALVE_LADDER_FULL") != nullptr;
}

constexpr int goFile = 3;     ///< the maker waits here until its reader has nothing more
constexpr int reportFile = 4; ///< where it reports, one byte an event
constexpr int takesEach = 5;

/// 'r' ready, 'o' the log is open, 'f' a take is finished
void report(char event) {
    (void)!::write(reportFile, &event, 1);
}

/// The takes that a maker of this number keeps: all can be told without it.
TakeRecord takeOf(int maker, int number) {
    RandomTakes random(static_cast<std::uint64_t>(maker) * 1009 + static_cast<std::uint64_t>(number));
    TakeRecord take = random.take(20);
    take.state = TakeState::whole;
    take.header.startedUtc = 1'700'000'000'000 + 1000 * maker + number;
    return take;
}

/// The body of a maker: opens the log and keeps its takes.
void makeAndKeep(const fs::path& log, int maker, bool keeper) {
    report('r');
    char unused = 0;
    while (::read(goFile, &unused, 1) > 0) {
    }
    if (keeper) {
        TakeKeeper kept(log);
        report('o');
        for (int i = 0; i < takesEach; ++i) {
            kept.begin(takeOf(maker, i).header);
            kept.finish(takeOf(maker, i));
            report('f');
        }
        return;
    }
    constexpr int patienceMs = 60000;
    const auto store = LogStore::open(log, patienceMs);
    ASSERT_TRUE(store.ok()) << store.problem().text();
    report('o');
    for (int i = 0; i < takesEach; ++i)
        if (store.value()->addTake(takeOf(maker, i)).ok())
            report('f');
}

/// A maker in a process of its own: this very program, asked for the one test below.
class Maker {
public:
    Maker(const fs::path& log, int number, bool keeper) {
        std::array<int, 2> goEnds{};
        std::array<int, 2> reportEnds{};
        EXPECT_EQ(pipe2(goEnds.data(), O_CLOEXEC), 0);
        EXPECT_EQ(pipe2(reportEnds.data(), O_CLOEXEC), 0);
        goEnd = goEnds[1];
        reports = reportEnds[0];
        posix_spawn_file_actions_t actions;
        posix_spawn_file_actions_init(&actions);
        // By way of high numbers, so that neither is written over before it is copied.
        posix_spawn_file_actions_adddup2(&actions, goEnds[0], 100);
        posix_spawn_file_actions_adddup2(&actions, reportEnds[1], 101);
        posix_spawn_file_actions_adddup2(&actions, 100, goFile);
        posix_spawn_file_actions_adddup2(&actions, 101, reportFile);
        posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
        std::vector<std::string> environment;
        for (char** variable = environ; *variable != nullptr; ++variable)
            if (!std::string_view(*variable).starts_with("GTEST_"))
                environment.emplace_back(*variable);
        environment.push_back("MAKER_LOG=" + log.string());
        environment.push_back("MAKER_NUMBER=" + std::to_string(number));
        environment.push_back(std::string("MAKER_KEEPER=") + (keeper ? "1" : "0"));
        std::vector<char*> variables;
        for (std::string& variable : environment)
            variables.push_back(variable.data());
        variables.push_back(nullptr);
        std::string program = "/proc/self/exe";
        std::string filter = "--gtest_filter=LogFirstKillMaker.MakesTheLogAndKeepsItsTakes";
        std::array<char*, 3> arguments{program.data(), filter.data(), nullptr};
        EXPECT_EQ(
            posix_spawn(&process, program.c_str(), &actions, nullptr, arguments.data(), variables.data()), 0);
        posix_spawn_file_actions_destroy(&actions);
        ::close(goEnds[0]);
        ::close(reportEnds[1]);
    }
    ~Maker() {
        if (process > 0) {
            ::kill(process, SIGKILL);
            await();
        }
        go();
        ::close(reports);
    }
    Maker(const Maker&) = delete;
    Maker& operator=(const Maker&) = delete;

    void awaitReady() { EXPECT_EQ(next(), 'r'); }
    void go() {
        if (goEnd >= 0)
            ::close(std::exchange(goEnd, -1));
    }
    /// The next report; 0 when the maker is gone and all has been read.
    char next() {
        char event = 0;
        return ::read(reports, &event, 1) == 1 ? event : '\0';
    }
    void kill() { ::kill(process, SIGKILL); }
    int await() {
        int status = 0;
        EXPECT_EQ(waitpid(process, &status, 0), process);
        process = 0;
        return status;
    }

private:
    pid_t process = 0;
    int goEnd = -1;
    int reports = -1;
};

/// How long it takes a maker to open a new log, undisturbed: what the kills are spread over.
std::chrono::microseconds timeToMake() {
    const TempFolder folder;
    Maker maker(folder / "log.sqlite", 0, false);
    maker.awaitReady();
    const auto start = std::chrono::steady_clock::now();
    maker.go();
    EXPECT_EQ(maker.next(), 'o');
    const auto took = std::chrono::steady_clock::now() - start;
    while (maker.next() != '\0') {
    }
    maker.await();
    return std::chrono::duration_cast<std::chrono::microseconds>(took);
}

bool halfMadeIn(const fs::path& folder) {
    for (const fs::directory_entry& entry : fs::directory_iterator(folder))
        if (entry.path().filename().string().find(".making-") != std::string::npos)
            return true;
    return false;
}

/// What a player meets after the crash: every command works, and what was finished is there.
void expectUsable(const fs::path& folder, int maker, int finished) {
    const fs::path log = folder / "log.sqlite";
    if (fs::exists(log)) {
        const auto read = LogStore::openReadOnly(log);
        ASSERT_TRUE(read.ok()) << read.problem().text();
        EXPECT_TRUE(read.value()->check().ok()) << read.value()->check().problem().text();
        EXPECT_GE(read.value()->takes({}).value().size(), static_cast<std::size_t>(finished));
    } else {
        EXPECT_EQ(finished, 0);
    }
    const auto store = LogStore::open(log);
    ASSERT_TRUE(store.ok()) << store.problem().text();
    const auto takes = store.value()->takes({}).value();
    for (int i = 0; i < finished; ++i)
        EXPECT_EQ(std::ranges::count(takes, takeOf(maker, i).header.id,
                                     [](const TakeSummary& take) { return take.header.id; }),
                  1);
    EXPECT_TRUE(store.value()->finishTake(takeOf(maker, takesEach)).ok());
    EXPECT_FALSE(halfMadeIn(folder)) << "what was half made is cleared away";
}

} // namespace

TEST(LogFirstKillMaker, MakesTheLogAndKeepsItsTakes) {
    const char* log = std::getenv("MAKER_LOG");
    if (log == nullptr)
        GTEST_SKIP() << "is a process of the tests below";
    makeAndKeep(log, std::atoi(std::getenv("MAKER_NUMBER")),
                std::string_view(std::getenv("MAKER_KEEPER")) == "1");
}

TEST(LogFirstKill, LeavesALogThatEveryCommandReads) {
    constexpr int kills = 300;
    const double whole = static_cast<double>(timeToMake().count());
    std::mt19937_64 random(20261128);
    std::uniform_real_distribution<double> share(0.0, 1.6);
    int beforeItWasOpen = 0, halfMade = 0;
    for (int i = 0; i < kills; ++i) {
        const TempFolder folder;
        Maker maker(folder / "log.sqlite", i, i % 2 == 1);
        maker.awaitReady();
        maker.go();
        std::this_thread::sleep_for(std::chrono::duration<double, std::micro>(share(random) * whole));
        maker.kill();
        maker.await();
        int finished = 0;
        bool opened = false;
        while (const char event = maker.next()) {
            opened = opened || event == 'o';
            finished += event == 'f' ? 1 : 0;
        }
        beforeItWasOpen += opened ? 0 : 1;
        halfMade += halfMadeIn(folder.path()) ? 1 : 0;
        SCOPED_TRACE("kill " + std::to_string(i));
        expectUsable(folder.path(), i, finished);
        if (::testing::Test::HasFailure())
            return;
    }
    std::cout << kills << " kills over " << whole / 1000.0 << " ms, " << beforeItWasOpen
              << " of them before the log was open, " << halfMade << " with the log half made\n";
    EXPECT_GT(halfMade, 0) << "some must meet the making";
}

TEST(LogFirstKill, AnEmptyFileAsOlderCrashesLeftItIsAnEmptyLog) {
    const TempFolder folder;
    const fs::path log = folder / "log.sqlite";
    std::ofstream(log).close();
    const auto read = LogStore::openReadOnly(log);
    ASSERT_TRUE(read.ok()) << read.problem().text();
    EXPECT_TRUE(read.value()->takes({}).value().empty());
    EXPECT_EQ(fs::file_size(log), 0U) << "reading writes nothing";
    const auto store = LogStore::open(log);
    ASSERT_TRUE(store.ok()) << store.problem().text();
    EXPECT_TRUE(store.value()->finishTake(takeOf(1, 1)).ok());
}

TEST(LogFirstKill, OfTwentyWhoKeepTheirFirstTakesAtOnceNothingIsLost) {
    const int rounds = full() ? 20 : 4;
    constexpr int makers = 20;
    for (int round = 0; round < rounds; ++round) {
        const TempFolder folder;
        const fs::path log = folder / "log.sqlite";
        std::vector<std::unique_ptr<Maker>> all;
        for (int i = 0; i < makers; ++i)
            all.push_back(std::make_unique<Maker>(log, i, i % 2 == 1));
        for (const auto& maker : all)
            maker->awaitReady();
        for (const auto& maker : all)
            maker->go();
        for (const auto& maker : all)
            EXPECT_EQ(maker->await(), 0);
        TakeKeeper last(log); // lands what waits beside the log
        ASSERT_NE(last.store(), nullptr) << last.trouble()->text();
        EXPECT_EQ(last.waiting(), 0U);
        const auto takes = last.store()->takes({}).value();
        std::set<std::string> kept;
        for (const TakeSummary& take : takes)
            kept.insert(take.header.id);
        for (int i = 0; i < makers; ++i)
            for (int k = 0; k < takesEach; ++k)
                EXPECT_TRUE(kept.contains(takeOf(i, k).header.id)) << "maker " << i << ", take " << k;
        EXPECT_EQ(takes.size(), static_cast<std::size_t>(makers * takesEach));
        EXPECT_TRUE(last.store()->check().ok());
        EXPECT_FALSE(halfMadeIn(folder.path()));
    }
}

TEST(LogFirstKill, TheSameTakeAddedByManyAtOnceIsThereOnce) {
    const TempFolder folder;
    constexpr int threads = 20;
    std::atomic<int> added{0};
    std::atomic<int> known{0};
    {
        std::vector<std::jthread> all;
        for (int i = 0; i < threads; ++i)
            all.emplace_back([&, i] {
                TakeRecord take = takeOf(1, 1);
                take.header.id = takeOf(2, i).header.id; // each gives it an id of its own
                const auto store = LogStore::open(folder / "log.sqlite", 60000);
                ASSERT_TRUE(store.ok()) << store.problem().text();
                const auto there = store.value()->addTake(take);
                ASSERT_TRUE(there.ok()) << there.problem().text();
                ++(there.value() ? known : added);
            });
    }
    EXPECT_EQ(added, 1);
    EXPECT_EQ(known, threads - 1);
}

} // namespace valveladder
