#include "Guide/Story.h"
#include "Guide/StoryOracle.h"
#include "Music/BackingCues.h"
#include "Support/Scores.h"
#include "Support/Settings.h"

#include <gtest/gtest.h>

#include <cmath>

namespace valveladder::test {
namespace {

std::vector<std::unique_ptr<GuideTrack>> variedTracks() {
    std::vector<std::unique_ptr<GuideTrack>> tracks;
    for (Score& score : variedScores())
        tracks.push_back(std::make_unique<GuideTrack>(score, backingCues(score)));
    return tracks;
}

TEST(GuideStories, EveryStoryGivesTheScoreSampleForSampleWithNothingStuckLostOrDoubled) {
    const auto tracks = variedTracks();
    const std::int64_t stories = setting("VALVE_LADDER_STORIES", 10000);
    const std::uint64_t firstSeed = seed();
    std::size_t events = 0;
    for (std::int64_t index = 0; index < stories; ++index) {
        std::mt19937_64 random(firstSeed + static_cast<std::uint64_t>(index));
        const Story story = randomStory(random, tracks);
        Guide guide;
        std::string faults;
        const std::vector<Heard> heard = playTo(guide, story, faults);
        faults += faultsOf(story, heard);
        ASSERT_EQ(faults, "") << "story " << index << " from VALVE_LADDER_SEED=" << firstSeed;
        ASSERT_FALSE(guide.sounding()) << "story " << index;
        events += heard.size();
    }
    EXPECT_GT(events, static_cast<std::size_t>(stories) * 20) << "stories too dull to show anything";
    std::printf("%lld stories, %zu events\n", static_cast<long long>(stories), events);
}

/// An hour of a host that rolls at one tempo, in blocks of random size.
Story longStory(double rate, double bpm, const GuideTrack& track, std::mt19937_64& random) {
    Story story;
    GuideSettings settings;
    settings.midiClock = true;
    const auto end = static_cast<std::int64_t>(3600.0 * rate);
    std::uniform_int_distribution<int> sizes(1, 4096);
    HostBlock block;
    block.sampleRate = rate;
    block.playing = true;
    block.bpm = bpm;
    for (std::int64_t now = 0; now < end; now += block.samples) {
        block.samples = sizes(random);
        block.ppq = static_cast<double>(now) / rate * bpm / 60.0;
        story.steps.push_back({block, &track, settings});
        story.stretches = {
            {0, now + block.samples, true, false, false, 0.0, bpm, 0.0, rate, 1.0, &track, settings}};
    }
    block.playing = false;
    story.steps.push_back({block, &track, settings});
    return story;
}

TEST(GuideStories, AnHourAtConstantTempoStaysWithinOneSampleOfTheScore) {
    std::mt19937_64 random(seed());
    const GuideTrack track(ladderScore(), backingCues(ladderScore()));
    for (const auto& [rate, bpm] : {std::pair{44100.0, 123.45}, {48000.0, 60.0}, {192000.0, 71.3}}) {
        const Story story = longStory(rate, bpm, track, random);
        Guide guide;
        std::string faults;
        const std::vector<Heard> heard = playTo(guide, story, faults);
        EXPECT_EQ(faults + faultsOf(story, heard), "") << rate << " Hz, " << bpm << " bpm";
        EXPECT_GT(heard.size(), 3600U * 24U);
    }
}

TEST(GuideStories, AnySplitOfARangeGivesTheSameEvents) {
    const GuideTrack track(ladderScore(), backingCues(ladderScore()));
    GuideSettings settings;
    settings.midiClock = true;
    settings.backing.on = {true, true, true, true};
    std::mt19937_64 random(seed());
    std::uniform_int_distribution<int> sizes(1, 3000);
    for (const double bpm : {60.0, 97.3, 120.0}) {
        std::vector<std::vector<Heard>> played;
        for (const int size : {4096, 1, 7, 64, 0}) {
            Story story;
            constexpr std::int64_t range = 4096 * 100;
            for (std::int64_t now = 0; now < range;) {
                HostBlock block;
                block.sampleRate = 44100.0;
                block.playing = true;
                block.bpm = bpm;
                block.ppq = 3.0 + static_cast<double>(now) / 44100.0 * bpm / 60.0;
                block.samples =
                    static_cast<int>(std::min<std::int64_t>(size > 0 ? size : sizes(random), range - now));
                story.steps.push_back({block, &track, settings});
                now += block.samples;
            }
            Guide guide;
            std::string faults;
            played.push_back(playTo(guide, story, faults));
            ASSERT_EQ(faults, "");
        }
        ASSERT_GT(played.front().size(), 100U);
        for (const std::vector<Heard>& other : played) {
            ASSERT_EQ(other.size(), played.front().size());
            for (std::size_t i = 0; i < other.size(); ++i) {
                ASSERT_EQ(other[i].sample, played.front()[i].sample) << i;
                ASSERT_EQ(other[i].event.bytes, played.front()[i].event.bytes) << i;
            }
        }
    }
}

} // namespace
} // namespace valveladder::test
