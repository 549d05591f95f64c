#include "Screen/Find.h"
#include "Screen/InventedLog.h"
#include "Screen/LandingPlace.h"
#include "Screen/Look.h"
#include "Screen/PartPlace.h"
#include "Screen/RungPlace.h"
#include "Screen/Snapshot.h"
#include "Screen/StairPlace.h"
#include "Screen/Within.h"

#include <gtest/gtest.h>

namespace valveladder {

namespace {

using pictures::runningView;

struct Size {
    int width;
    int height;
    const char* name;
};
constexpr Size large{1280, 684, "large"};
constexpr Size small{900, 484, "small"}; ///< what a place has in a window of 900x600

/// Dark and light, 1x and 2x, large and small; `compared`: the small ones at 1x against their references.
void shoot(juce::Component& place, const std::string& name, bool compared) {
    for (const Theme* theme : {&Theme::dark(), &Theme::light()}) {
        Look look(*theme);
        juce::Component stage;
        stage.setLookAndFeel(&look);
        for (const Size& size : {large, small}) {
            stage.setSize(size.width, size.height);
            stage.addAndMakeVisible(place);
            place.setBounds(stage.getLocalBounds());
            const std::string full = name + "-" + size.name + (theme->isDark ? "-dark" : "-light");
            for (const int scale : {1, 2}) {
                const juce::Image image = pictures::render(place, static_cast<float>(scale));
                pictures::save(image, full + "-" + std::to_string(scale) + "x");
                if (compared && scale == 1 && size.width == small.width)
                    pictures::compareWithReference(image, full);
            }
        }
        stage.removeChildComponent(&place);
        stage.setLookAndFeel(nullptr);
    }
}

ClockReading clockAt(const SessionView& view, std::size_t note, double share) {
    const ScoreNote& at = view.setup->score().notes[note];
    ClockReading clock;
    clock.playing = true;
    clock.ppq = (static_cast<double>(at.onset) + share * at.length) / ticksPerQuarter;
    return clock;
}

PlayModel playing(const SessionView& view, std::size_t note, double share = 0.4) {
    return playModel(view, clockAt(view, note, share), true, InputSeen::something);
}

/// bpm that the invented player's plan has next.
double plannedAfter(const pictures::InventedLog& invented) {
    const auto overview = invented.overview();
    EXPECT_TRUE(overview->next);
    return overview->next ? overview->next->bpm : 0.0;
}

} // namespace

TEST(ScreenPictures, RungWhilePlaying) {
    const SessionView view = runningView("trumpet-b-flat");
    RungPlace place;
    place.show(playing(view, 3), {});
    place.setSize(large.width, large.height);
    shoot(place, "rung-trumpet", true);
}

TEST(ScreenPictures, RungInDottedRhythmOnFourValvesInBassClef) {
    const SessionView view = runningView("euphonium-4-compensating-bass");
    RungPlace place;
    place.setSize(large.width, large.height);
    place.show(playing(view, 9), {});
    shoot(place, "rung-euphonium", true);
}

TEST(ScreenPictures, RungWithWhatIsHeard) {
    SessionView view = runningView("trumpet-b-flat");
    for (const auto& [name, off] : {std::pair{"rung-heard", 0.1}, std::pair{"rung-heard-wrong", 1.0}}) {
        LiveView live;
        live.index = 2;
        live.midi = view.setup->score().notes[2].sounding + off;
        live.confidence = 0.9;
        view.live = live;
        RungPlace place;
        place.setSize(large.width, large.height);
        place.show(playing(view, 3), {});
        shoot(place, name, false);
    }
}

TEST(ScreenPictures, RungInTheRestBeforeASegment) {
    const SessionView view = runningView("tuba-b-flat-4");
    const auto& notes = view.setup->score().notes;
    const auto last = std::ranges::adjacent_find(
        notes, [](const ScoreNote& note, const ScoreNote& next) { return note.segment != next.segment; });
    ASSERT_NE(last, notes.end());
    const PlayModel breath = playing(view, static_cast<std::size_t>(last - notes.begin()), 2.0);
    ClockReading start;
    start.playing = true;
    start.ppq = 1.2;
    const PlayModel countIn = playModel(view, start, true, InputSeen::something);
    RungPlace place;
    place.setSize(large.width, large.height);
    for (const auto& [model, name] : {std::pair{breath, "rung-rest"}, std::pair{countIn, "rung-count-in"}}) {
        ASSERT_GT(model.beatsToEntry, 0) << name;
        place.show(model, {});
        shoot(place, name, false);
    }
}

TEST(ScreenPictures, RungStates) {
    const SessionView fine = runningView("trumpet-b-flat");
    const auto state = [&](const std::string& name, const std::function<void(SessionView&)>& change,
                           InputSeen input) {
        SessionView view = fine;
        view.inTake = false;
        change(view);
        RungPlace place;
        place.setSize(large.width, large.height);
        ClockReading clock = clockAt(view, 1, 0.2);
        clock.playing = view.playing;
        place.show(playModel(view, clock, true, input), {});
        shoot(place, "rung-" + name, false);
    };
    const auto standing = [](SessionView& view) {
        view.clock = Clock::host;
        view.playing = false;
        view.bpm = 0.0;
    };
    state("host-stands", standing, InputSeen::something);
    state(
        "no-clock",
        [](SessionView& view) {
            view.clock = Clock::none;
            view.playing = false;
            view.bpm = 0.0;
        },
        InputSeen::something);
    state(
        "no-input", [](SessionView&) {}, InputSeen::nothing);
    state(
        "wrong-tempo",
        [](SessionView& view) {
            view.clock = Clock::host;
            view.bpm = 72;
            view.mismatch = "The host is at 72, this take is planned at 66";
        },
        InputSeen::something);
    state(
        "log-trouble",
        [](SessionView& view) {
            view.logTrouble = Problem{"the disk is full", "log.sqlite", "free some room"};
            view.waitingTakes = 2;
        },
        InputSeen::something);
}

TEST(ScreenPictures, LandingAfterATake) {
    const pictures::InventedLog invented;
    LandingPlace place;
    place.setSize(large.width, large.height);
    place.show(invented.overview());
    place.showPlanned(plannedAfter(invented));
    place.showTake(std::make_shared<LoadedTake>(loadTake(invented.log(), invented.newestTake())));
    shoot(place, "landing", true);
    place.showDetails(true);
    shoot(place, "landing-details", true);
}

TEST(ScreenPictures, TakeWithEverySignAndANoteToCorrect) {
    const pictures::InventedLog invented;
    LandingPlace place;
    place.setSize(large.width, large.height);
    place.show(invented.overview());
    place.showPlanned(plannedAfter(invented));
    place.showTake(pictures::takeWithEverySign(invented));
    place.showCell({0, 0});
    shoot(place, "signs", true);
    auto* staff = find<ResultStaff>(place, [](const ResultStaff&) { return true; });
    ASSERT_NE(staff, nullptr);
    ASSERT_TRUE(staff->keyPressed(juce::KeyPress(juce::KeyPress::rightKey)));
    shoot(place, "correction", true);
}

TEST(ScreenPictures, LandingAndStairWithoutTakes) {
    LandingPlace landing;
    landing.show(std::make_shared<Overview>());
    shoot(landing, "landing-empty", false);
    StairPlace stair;
    stair.show(std::make_shared<Overview>());
    shoot(stair, "stair-empty", false);
}

TEST(ScreenPictures, StairOverWeeks) {
    const pictures::InventedLog invented;
    StairPlace place;
    place.setSize(large.width, large.height);
    place.show(invented.overview());
    shoot(place, "stair", true);
}

TEST(ScreenPictures, SideBySideWithTheSameAxes) {
    const pictures::InventedLog invented;
    StairPlace place;
    place.setSize(large.width, large.height);
    place.show(invented.overview());
    place.showSides(true);
    place.sides().choose(11, 0);
    for (const std::string& id : place.sides().wanted())
        place.sides().give(std::make_shared<LoadedTake>(loadTake(invented.log(), id)), id);
    shoot(place, "sides", true);
}

TEST(ScreenPictures, PartWithItsSpots) {
    const host::TempLog log;
    PartReader reader{log.log()};
    PartPlace place{reader, true};
    place.setSize(large.width, large.height);
    place.playFor("Ann", *findInstrument("trumpet-b-flat"));
    place.open(VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml");
    ASSERT_TRUE(eventually([&] { return !reader.busy(); }));
    place.refresh();
    ASSERT_NE(place.part(), nullptr);
    shoot(place, "part", true);
}

} // namespace valveladder
