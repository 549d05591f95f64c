#include "Files/GuideFile.h"

#include "Guide/GuideEvents.h"
#include "Valves/Instrument.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace valveladder {

namespace {

Score ladder(double bpm = 66.0) {
    const Instrument& trumpet = *findInstrument("trumpet-b-flat");
    return buildScore(defaultDrill(trumpet), trumpet, bpm).value();
}

std::string nameOf(const SmfTrack& track) {
    const SmfEvent& first = track.events.front();
    return {first.bytes.begin() + 2, first.bytes.end()};
}

std::vector<std::string> names(const SmfFile& file) {
    std::vector<std::string> all;
    for (const SmfTrack& track : file.tracks)
        all.push_back(nameOf(track));
    return all;
}

} // namespace

TEST(GuideFile, HoldsWhatTheLiveGuideSendsInItsOrder) {
    const Score score = ladder();
    const SmfFile file = guideFile(score, 66.0, {}, "Ladder");
    std::vector<SmfEvent> written;
    for (std::size_t i = 1; i < file.tracks.size(); ++i)
        written.insert(written.end(), file.tracks[i].events.begin() + 1, file.tracks[i].events.end());
    std::vector<SmfEvent> sent;
    for (const GuidePart part : {GuidePart::notes, GuidePart::click, GuidePart::valveLanes})
        for (const GuideEvent& event : guideEvents(score, {}))
            if (event.part == part)
                sent.push_back({event.tick * file.ticksPerQuarterNote / ticksPerQuarter,
                                {event.bytes.begin(), event.bytes.begin() + event.size}});
    EXPECT_EQ(written, sent);
}

TEST(GuideFile, PartsSwitchedOffHaveNoTrack) {
    const Score score = ladder();
    EXPECT_EQ(names(guideFile(score, 66, {}, "Ladder")),
              (std::vector<std::string>{"Ladder", "Guide", "Click", "Valves"}));
    GuideSettings settings;
    settings.click = ClickWhen::off;
    settings.notes = false;
    EXPECT_EQ(names(guideFile(score, 66, settings, "Ladder")),
              (std::vector<std::string>{"Ladder", "Valves"}));
}

TEST(GuideFile, EveryTrackEndsWithTheScoreSoThatItLoopsWithoutAGap) {
    const Score score = ladder();
    const SmfFile file = guideFile(score, 66.0, {}, "Ladder");
    for (const SmfTrack& track : file.tracks) {
        EXPECT_EQ(track.length * ticksPerQuarter, score.length * file.ticksPerQuarterNote);
        EXPECT_LE(track.events.back().tick, track.length);
    }
}

TEST(GuideFile, DivisionIs960WhereThatIsExactAndTheScoresOwnElsewhere) {
    Drill drill = defaultDrill(*findInstrument("trumpet-b-flat"));
    for (Segment& segment : drill.segments)
        segment.slurred = true;
    drill.noteTicks = ticksPerQuarter / 2;
    drill.segments = {{"Sevenths", Rhythm{{6, 1}}, Touch::firm, {}, true}};
    const Score odd = buildScore(drill, *findInstrument("trumpet-b-flat"), 66).value();
    const Score* scores[] = {&odd};
    const int division = smfTicksPerQuarter(scores);
    for (const GuideEvent& event : guideEvents(odd, {}))
        EXPECT_EQ(event.tick * division % ticksPerQuarter, 0);

    Score plain;
    plain.length = 4 * ticksPerQuarter;
    const Score* plainScores[] = {&plain};
    EXPECT_EQ(smfTicksPerQuarter(plainScores), 960);
    plain.length += 1;
    EXPECT_EQ(smfTicksPerQuarter(plainScores), ticksPerQuarter);
}

TEST(GuideFile, SessionWritesTheMeterOnlyWhereItChanges) {
    Score four = ladder(60);
    Score three = four;
    three.meter = {3, 4};
    const std::vector<SessionTake> takes{{&four, 60}, {&four, 61}, {&three, 62}};
    const SmfFile file = sessionFile(takes, {}, "Session", true);
    ASSERT_EQ(file.tracks.size(), 1U);
    const auto meters = std::count_if(file.tracks[0].events.begin(), file.tracks[0].events.end(),
                                      [](const SmfEvent& event) { return event.bytes[1] == 0x58; });
    EXPECT_EQ(meters, 2);
}

} // namespace valveladder
