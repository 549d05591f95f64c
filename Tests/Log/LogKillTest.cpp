#include "Log/LogStore.h"
#include "Log/TakeKeeper.h"

#include "Log/FaultyDisk.h"
#include "Log/RandomTakes.h"
#include "Log/TempFolder.h"

#include <gtest/gtest.h>

#include <array>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <fstream>
#include <iostream>
#include <map>
#include <set>
#include <spawn.h>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>

extern char** environ;

namespace valveladder {

namespace {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr int usualKills = 40;
#else
constexpr int usualKills = 200;
#endif

int kills() {
    return std::getenv("VALVE_LADDER_FULL") != nullptr ? 200 : usualKills;
}

/// What a writer is asked to do, handed over in its environment.
struct Order {
    std::filesystem::path log;
    std::uint64_t seed = 0;
    int takes = 1 << 30;
    int killAtWrite = 0; ///< 0 = never
    bool keeper = false; ///< through a TakeKeeper rather than a LogStore
};

constexpr int reportFile = 3; ///< where the writer reports, one byte an event and the take's number
struct Report {
    char event = 0; ///< 'o' log opened, 'b' begun, 'f' finished
    int take = 0;
};

/// The takes that a writer of this seed writes: all can be told without it.
TakeRecord orderedTake(std::uint64_t seed, int number) {
    RandomTakes random(seed * 1000003 + static_cast<std::uint64_t>(number));
    TakeRecord take = random.take(random.whole(0, 120));
    take.state = TakeState::whole;
    take.header.startedUtc = 1700000000000 + number;
    take.performance.notes.resize(take.performance.notes.size() + 1); // never mistaken for an empty one
    return take;
}

std::string environmentOf(const char* name) {
    const char* value = std::getenv(name);
    return value != nullptr ? value : "";
}

Order orderFromEnvironment() {
    Order order;
    order.log = environmentOf("WRITER_LOG");
    order.seed = std::stoull(environmentOf("WRITER_SEED"));
    order.takes = std::stoi(environmentOf("WRITER_TAKES"));
    order.killAtWrite = std::stoi(environmentOf("WRITER_KILL_AT"));
    order.keeper = environmentOf("WRITER_KEEPER") == "1";
    return order;
}

void report(char event, int take) {
    const Report one{event, take};
    (void)!::write(reportFile, &one, sizeof one);
}

/// The body of a writer: takes in a loop until it is killed or done. Returns how many it failed to write.
int writeTakes(const Order& order) {
    FaultyDisk disk;
    if (order.killAtWrite > 0)
        disk.killAt(order.killAtWrite);
    auto log = order.keeper ? Result<std::unique_ptr<LogStore>>(Problem{}) : LogStore::open(order.log, 20000);
    std::optional<TakeKeeper> keeper;
    if (order.keeper)
        keeper.emplace(order.log);
    else if (!log.ok())
        return order.takes;
    report('o', 0);
    int failed = 0;
    for (int i = 0; i < order.takes; ++i) {
        const TakeRecord take = orderedTake(order.seed, i);
        const bool begun =
            keeper ? (keeper->begin(take.header), true) : log.value()->beginTake(take.header).ok();
        report('b', i);
        std::this_thread::sleep_for(std::chrono::microseconds(order.seed * 37 % 3000)); // it is being played
        const bool finished = keeper ? (keeper->finish(take), true) : log.value()->finishTake(take).ok();
        if (finished)
            report('f', i);
        failed += begun && finished ? 0 : 1;
    }
    return failed;
}

/// A writer in a process of its own: this very program, asked for the one test below.
class Writer {
public:
    explicit Writer(const Order& order) {
        std::array<int, 2> ends{};
        EXPECT_EQ(pipe2(ends.data(), O_CLOEXEC), 0);
        reports = ends[0];
        posix_spawn_file_actions_t actions;
        posix_spawn_file_actions_init(&actions);
        posix_spawn_file_actions_adddup2(&actions, ends[1], reportFile);
        posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
        std::vector<std::string> environment = environmentFor(order);
        std::vector<char*> variables;
        for (std::string& variable : environment)
            variables.push_back(variable.data());
        variables.push_back(nullptr);
        std::string program = "/proc/self/exe";
        std::string filter = "--gtest_filter=LogKillWriter.WritesEveryTake";
        std::array<char*, 3> arguments{program.data(), filter.data(), nullptr};
        EXPECT_EQ(
            posix_spawn(&process, program.c_str(), &actions, nullptr, arguments.data(), variables.data()), 0);
        posix_spawn_file_actions_destroy(&actions);
        ::close(ends[1]);
    }
    ~Writer() {
        if (process > 0)
            kill();
        ::close(reports);
    }
    Writer(const Writer&) = delete;
    Writer& operator=(const Writer&) = delete;

    void kill() {
        ::kill(process, SIGKILL);
        await();
    }
    /// The status of waitpid(2).
    int await() {
        int status = 0;
        EXPECT_EQ(waitpid(process, &status, 0), process);
        process = 0;
        return status;
    }
    /// The next report; nothing when the writer is gone and all has been read.
    std::optional<Report> next() {
        Report one;
        return ::read(reports, &one, sizeof one) == sizeof one ? std::optional(one) : std::nullopt;
    }

private:
    static std::vector<std::string> environmentFor(const Order& order) {
        std::vector<std::string> list;
        for (char** variable = environ; *variable != nullptr; ++variable)
            if (!std::string_view(*variable).starts_with("GTEST_"))
                list.emplace_back(*variable);
        list.push_back("WRITER_LOG=" + order.log.string());
        list.push_back("WRITER_SEED=" + std::to_string(order.seed));
        list.push_back("WRITER_TAKES=" + std::to_string(order.takes));
        list.push_back("WRITER_KILL_AT=" + std::to_string(order.killAtWrite));
        list.push_back(std::string("WRITER_KEEPER=") + (order.keeper ? "1" : "0"));
        return list;
    }

    pid_t process = 0;
    int reports = -1;
};

void sleepMs(double ms) {
    std::this_thread::sleep_for(std::chrono::duration<double, std::milli>(ms));
}

/// What a writer said before it died.
struct Said {
    std::set<int> begun;
    std::set<int> finished;
};

void note(Said& said, const Report& one) {
    if (one.event == 'b')
        said.begun.insert(one.take);
    if (one.event == 'f')
        said.finished.insert(one.take);
}

Said everythingSaidBy(Writer& writer, Said said = {}) {
    while (const auto one = writer.next())
        note(said, *one);
    return said;
}

/// Kills at a random moment: so many reports and a while later. Reports rather than time alone, so that a
/// slow machine is met at the same moments as a quick one.
Said killAtRandom(Writer& writer, RandomTakes& random, int mostReports) {
    Said said;
    for (int left = random.whole(0, mostReports); left > 0; --left)
        if (const auto one = writer.next())
            note(said, *one);
    sleepMs(random.real(0.0, 4.0));
    writer.kill();
    return everythingSaidBy(writer, std::move(said));
}

/// How many takes the checks found in each state; a run that met none of a kind shows nothing.
struct Tally {
    int whole = 0;
    int partial = 0;
    int unsaid = 0; ///< committed, and killed before it could say so
};

/// The promise: every finished take whole, every begun one whole or partial, and nothing half.
void checkTakes(const std::map<std::string, TakeRecord>& found, const Said& said, std::uint64_t seed,
                Tally& tally) {
    for (const int number : said.finished) {
        const TakeRecord take = orderedTake(seed, number);
        ASSERT_TRUE(found.contains(take.header.id)) << "seed " << seed << ": finished take lost";
        ASSERT_EQ(found.at(take.header.id), take) << "seed " << seed;
        ++tally.whole;
    }
    for (const int number : said.begun) {
        if (said.finished.contains(number))
            continue;
        const TakeRecord take = orderedTake(seed, number);
        ASSERT_TRUE(found.contains(take.header.id)) << "seed " << seed << ": open take lost";
        const TakeRecord& left = found.at(take.header.id);
        if (left.state == TakeState::cutShort) {
            ASSERT_EQ(left.header, take.header) << "seed " << seed;
            ASSERT_EQ(left.performance, Performance{}) << "seed " << seed << ": half a take";
            ++tally.partial;
        } else {
            ASSERT_EQ(left, take) << "seed " << seed << ": half a take";
            ++tally.unsaid;
        }
    }
}

std::map<std::string, TakeRecord> everythingIn(const LogStore& log) {
    std::map<std::string, TakeRecord> found;
    const auto read = log.forEachTake({}, [&](const TakeRecord& take) {
        found[take.header.id] = take;
        return true;
    });
    EXPECT_TRUE(read.ok()) << read.problem().text();
    return found;
}

/// Opens what a killed writer left, checks it, and goes on writing.
void checkLog(const Order& order, const Said& said, Tally& tally) {
    auto log = LogStore::open(order.log);
    ASSERT_TRUE(log.ok()) << "seed " << order.seed << ": " << log.problem().text();
    ASSERT_TRUE(log.value()->check().ok()) << "seed " << order.seed;
    ASSERT_TRUE(log.value()->recoverOpenTakes().ok()) << "seed " << order.seed;
    ASSERT_TRUE(log.value()->openTakes().value().empty()) << "seed " << order.seed;
    checkTakes(everythingIn(*log.value()), said, order.seed, tally);
    ASSERT_TRUE(log.value()->finishTake(orderedTake(order.seed + 500000, 0)).ok()) << "seed " << order.seed;
}

void show(const char* what, int count, const Tally& tally) {
    std::cout << what << ": " << count << " kills; takes whole " << tally.whole << ", partial "
              << tally.partial << ", committed and not said " << tally.unsaid << "\n";
}

} // namespace

/// Alone: a writer that nobody kills. Started by the tests below: the writer that they kill.
TEST(LogKillWriter, WritesEveryTake) {
    if (std::getenv("WRITER_LOG") != nullptr) {
        EXPECT_EQ(writeTakes(orderFromEnvironment()), 0);
        return;
    }
    const TempFolder folder;
    const Order order{.log = folder / "log.sqlite", .seed = 1, .takes = 5};
    Writer writer(order);
    const int status = writer.await();
    EXPECT_TRUE(WIFEXITED(status) && WEXITSTATUS(status) == 0) << status;
    const Said said = everythingSaidBy(writer);
    EXPECT_EQ(said.finished.size(), 5U);
    Tally tally;
    checkLog(order, said, tally);
}

TEST(LogKill, AtRandomMomentsLosesNoFinishedTakeAndKeepsTheOpenOneAsPartial) {
    Tally tally;
    const int count = kills() / 2;
    for (int i = 0; i < count && !HasFatalFailure(); ++i) {
        const TempFolder folder;
        const Order order{.log = folder / "log.sqlite", .seed = static_cast<std::uint64_t>(i)};
        RandomTakes random(order.seed);
        Writer writer(order);
        checkLog(order, killAtRandom(writer, random, 12), tally); // none: it may die while it makes the log
    }
    show("at random moments", count, tally);
    EXPECT_GT(tally.whole, count);
    EXPECT_GT(tally.partial, count / 10);
}

TEST(LogKill, InsideEveryWriteLosesNoFinishedTakeAndLeavesNoHalfOne) {
    Tally tally;
    const int count = kills() - kills() / 2;
    int died = 0;
    for (int i = 0; i < count && !HasFatalFailure(); ++i) {
        const TempFolder folder;
        // The first forty or so writes make the log; the others hold several takes.
        const Order order{.log = folder / "log.sqlite",
                          .seed = static_cast<std::uint64_t>(1000 + i),
                          .takes = 40,
                          .killAtWrite = 1 + i * 300 / count};
        Writer writer(order);
        const Said said = everythingSaidBy(writer);
        const int status = writer.await();
        died += WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL ? 1 : 0;
        checkLog(order, said, tally);
    }
    show("inside a write", count, tally);
    EXPECT_EQ(died, count); // each met its write
    EXPECT_GT(tally.whole, count / 2);
    EXPECT_GT(tally.partial, count / 4);
}

TEST(LogKill, OfAProgramWhoseTakesWaitBesideTheLogLosesNone) {
    Tally tally;
    const int count = kills() / 10;
    for (int i = 0; i < count && !HasFatalFailure(); ++i) {
        const TempFolder folder;
        const Order order{
            .log = folder / "log.sqlite", .seed = static_cast<std::uint64_t>(2000 + i), .keeper = true};
        std::filesystem::create_directory(order.log); // in the log's place, so that takes have to wait
        Writer writer(order);
        RandomTakes random(order.seed);
        const Said said = killAtRandom(writer, random, 16);
        std::filesystem::remove(order.log);
        TakeKeeper keeper(order.log);
        ASSERT_EQ(keeper.trouble(), std::nullopt) << "seed " << order.seed;
        checkTakes(everythingIn(*keeper.store()), said, order.seed, tally);
    }
    show("while takes wait", count, tally);
    EXPECT_GT(tally.whole, count);
    EXPECT_GT(tally.partial, count / 10);
}

TEST(LogKill, OfOneOfTwoProgramsLeavesTheOthersTakesWhole) {
    Tally tally;
    const int count = kills() / 20;
    for (int i = 0; i < count && !HasFatalFailure(); ++i) {
        const TempFolder folder;
        const auto seed = static_cast<std::uint64_t>(3000 + 2 * i);
        const Order killed{.log = folder / "log.sqlite", .seed = seed};
        const Order other{.log = killed.log, .seed = seed + 1, .takes = 12};
        Writer first(killed);
        Writer second(other);
        RandomTakes random(seed);
        const Said saidByFirst = killAtRandom(first, random, 12);
        const Said saidBySecond = everythingSaidBy(second);
        const int status = second.await();
        ASSERT_TRUE(WIFEXITED(status) && WEXITSTATUS(status) == 0) << "seed " << seed;
        ASSERT_EQ(saidBySecond.finished.size(), 12U) << "seed " << seed;
        checkLog(killed, saidByFirst, tally);
        checkLog(other, saidBySecond, tally);
    }
    show("one of two programs", count, tally);
}

} // namespace valveladder
