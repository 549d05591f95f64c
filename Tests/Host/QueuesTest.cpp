#include "Plugin/Feed.h"
#include "Plugin/Handoff.h"
#include "Plugin/MidiPorts.h"

#include <gtest/gtest.h>

#include <atomic>
#include <numeric>
#include <random>
#include <thread>

namespace valveladder::host {

namespace {

struct Counted {
    explicit Counted(int number, std::atomic<int>& living) : value(number), alive(living) { ++alive; }
    ~Counted() { --alive; }
    Counted(const Counted&) = delete;
    Counted& operator=(const Counted&) = delete;
    int value;
    std::atomic<int>& alive;
};

FeedBlock blockAt(std::int64_t start, int samples) {
    FeedBlock block;
    block.startSample = start;
    block.host.samples = samples;
    return block;
}

} // namespace

TEST(Handoff, NewestIsSeenAndOldOnesAreFreedByThePublisher) {
    std::atomic<int> alive{0};
    {
        Handoff<Counted> handoff;
        EXPECT_EQ(handoff.current(), nullptr);
        handoff.publish(std::make_unique<const Counted>(1, alive));
        handoff.publish(std::make_unique<const Counted>(2, alive));
        EXPECT_EQ(alive, 1) << "one that was never seen goes at once";
        EXPECT_EQ(handoff.current()->value, 2);
        handoff.publish(std::make_unique<const Counted>(3, alive));
        EXPECT_EQ(handoff.current()->value, 3);
        EXPECT_EQ(alive, 2) << "the reader frees nothing";
        handoff.collect();
        EXPECT_EQ(alive, 1);
    }
    EXPECT_EQ(alive, 0);
}

TEST(Handoff, ReaderThatNeverPausesSeesOnlyNewerObjects) {
    std::atomic<int> alive{0};
    {
        Handoff<Counted> handoff;
        std::atomic<bool> stop{false};
        std::atomic<int> backwards{0};
        std::thread reader([&] {
            int last = 0;
            while (!stop) {
                const Counted* now = handoff.current();
                if (now != nullptr && now->value < last)
                    ++backwards;
                last = now != nullptr ? now->value : last;
            }
        });
        for (int i = 1; i <= 20000; ++i)
            handoff.publish(std::make_unique<const Counted>(i, alive));
        stop = true;
        reader.join();
        EXPECT_EQ(backwards, 0);
    }
    EXPECT_EQ(alive, 0);
}

TEST(Feed, BlocksArriveWholeAndInOrder) {
    Feed feed;
    std::vector<float> left(100);
    std::vector<float> right(100);
    std::iota(left.begin(), left.end(), 0.0F);
    std::iota(right.begin(), right.end(), 2.0F);
    const float* channels[] = {left.data(), right.data()};
    const std::vector<MidiEvent> midi{{3, 3, {0x90, 60, 100}}, {90, 3, {0x80, 60, 0}}};
    for (int i = 0; i < 50; ++i)
        feed.push(blockAt(i * 100, 100), midi, {channels, 2, 100}, false);
    int seen = 0;
    feed.drain([&](const ReceivedBlock& received) {
        EXPECT_EQ(received.block.startSample, seen * 100);
        EXPECT_EQ(received.midi, midi);
        ASSERT_EQ(received.sound.size(), 100U);
        for (std::size_t i = 0; i < 100; ++i)
            EXPECT_FLOAT_EQ(received.sound[i], static_cast<float>(i) + 1.0F);
        ++seen;
    });
    EXPECT_EQ(seen, 50);
    EXPECT_FALSE(feed.losses().any());
}

TEST(Feed, FullQueueLosesByCountAndRecovers) {
    Feed feed(256);
    const std::vector<float> sound(640, 0.5F);
    const float* channels[] = {sound.data()};
    int pushed = 0;
    while (feed.losses().blocks == 0) {
        feed.push(blockAt(pushed * 640, 640), {}, {channels, 1, 640}, false);
        ++pushed;
    }
    std::uint64_t samples = 0;
    std::uint64_t blocks = 0;
    const auto count = [&](const ReceivedBlock& received) {
        samples += received.sound.size();
        ++blocks;
    };
    while (feed.drain(count) > 0) {
    }
    feed.push(blockAt(pushed * 640, 640), {}, {channels, 1, 640}, false);
    ++pushed;
    feed.drain(count);
    EXPECT_EQ(blocks + feed.losses().blocks, static_cast<std::uint64_t>(pushed));
    EXPECT_EQ(samples + feed.losses().samples, static_cast<std::uint64_t>(pushed) * 640U);
}

TEST(KeptSoundFeed, WhatIsLostInMidBlockLeavesWhatFollowsInItsPlace) {
    constexpr int samples = 640;
    constexpr int enough = 20;
    constexpr int mostBlocks = 5'000'000;
    Feed feed(64);
    std::atomic<bool> done{false};
    std::atomic<std::int64_t> pushed{0};
    std::thread audio([&] {
        std::vector<float> sound(samples);
        const float* channels[] = {sound.data()};
        for (; pushed < mostBlocks && !done; ++pushed) {
            for (int i = 0; i < samples; ++i)
                sound[static_cast<std::size_t>(i)] = static_cast<float>(pushed % 1000 * samples + i + 1);
            feed.push(blockAt(pushed * samples, samples), {}, {channels, 1, samples}, false);
        }
    });
    int brokenBlocks = 0;
    int misplaced = 0;
    const auto check = [&](const ReceivedBlock& received) {
        const std::int64_t number = received.block.startSample / samples;
        std::size_t silent = 0;
        for (std::size_t i = 0; i < received.sound.size(); ++i) {
            silent += received.sound[i] == 0.0F ? 1U : 0U;
            const auto played = static_cast<float>(number % 1000 * samples + static_cast<int>(i) + 1);
            misplaced += received.sound[i] != 0.0F && received.sound[i] != played ? 1 : 0;
        }
        EXPECT_EQ(silent, received.silenced);
        brokenBlocks += silent > 0 ? 1 : 0;
    };
    while (brokenBlocks < enough && misplaced == 0 && pushed < mostBlocks)
        feed.drain(check);
    done = true;
    audio.join();
    EXPECT_EQ(misplaced, 0);
    EXPECT_GE(brokenBlocks, enough);
}

TEST(Feed, OfflineWaitsForTheWorkerAndLosesNothing) {
    Feed feed(256);
    std::atomic<bool> done{false};
    std::int64_t expected = 0;
    std::uint64_t samples = 0;
    std::thread worker([&] {
        const auto use = [&](const ReceivedBlock& received) {
            EXPECT_EQ(received.block.startSample, expected);
            expected += 640;
            samples += received.sound.size();
        };
        while (!done)
            feed.drain(use);
        while (feed.drain(use) > 0) {
        }
    });
    const std::vector<float> sound(640, 0.5F);
    const float* channels[] = {sound.data()};
    for (int i = 0; i < 2000; ++i)
        feed.push(blockAt(i * 640, 640), {}, {channels, 1, 640}, true);
    done = true;
    worker.join();
    EXPECT_EQ(samples, 2000U * 640U);
    EXPECT_FALSE(feed.losses().any());
}

// Two clients of one JACK server run in any order within a cycle: what one sends, the other has one cycle
// later.
TEST(MidiPorts, EventsComeOneCycleLaterInWhateverOrderTheTwoSidesRun) {
    constexpr std::uint32_t frames = 256;
    constexpr unsigned seed = 20261130;
    std::mt19937 random(seed);
    PortQueue queue;
    PortBlock cycle{0U - 100 * frames, frames}; // the count wraps on the way
    std::vector<std::uint32_t> sent, came;
    const auto send = [&] {
        for (const int sample : {3, 200})
            if (random() % 2 == 0) {
                queue.put(cycle, {.sample = sample});
                sent.push_back(cycle.start + static_cast<std::uint32_t>(sample));
            }
    };
    const auto receive = [&] {
        MidiEvent event;
        while (queue.take(cycle, event))
            came.push_back(cycle.start + static_cast<std::uint32_t>(event.sample));
    };
    for (int i = 0; i < 200; ++i, cycle.start += frames) {
        if (random() % 2 == 0) {
            send();
            receive();
        } else {
            receive();
            send();
        }
    }
    receive();
    ASSERT_EQ(came.size(), sent.size()) << "seed " << seed;
    ASSERT_GT(came.size(), 100U);
    for (std::size_t i = 0; i < came.size(); ++i)
        ASSERT_EQ(came[i], sent[i] + frames) << i << ", seed " << seed;
}

TEST(MidiPorts, TellACycleOnlyWhileSomebodyIsAtTheOtherEnd) {
    struct StillClock final : PortClock {
        [[nodiscard]] PortBlock cycle() const noexcept override { return {512, 256}; }
    };
    const StillClock clock{};
    MidiPorts ports;
    EXPECT_FALSE(ports.cycle());
    ports.clock.store(&clock);
    ASSERT_TRUE(ports.cycle());
    EXPECT_EQ(ports.cycle()->start, 512U);
    EXPECT_EQ(ports.cycle()->frames, 256U);
    ports.clock.store(nullptr);
    EXPECT_FALSE(ports.cycle());
}

TEST(MidiPorts, AfterASpringOfTheClockNothingWaits) {
    for (const std::uint32_t spring : {1U << 20U, 0U - (1U << 20U)}) {
        PortQueue queue;
        queue.put({5000, 256}, {.sample = 40});
        MidiEvent event;
        ASSERT_TRUE(queue.take({5000 + spring, 256}, event));
        EXPECT_EQ(event.sample, 0);
    }
}

} // namespace valveladder::host
