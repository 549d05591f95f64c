// Small parts of the window: work that lasts, pictures written behind it, names of rungs and days, what is
// heard.

#include "Host/TempLog.h"
#include "Ladder/PitchNames.h"
#include "Screen/ExportView.h"
#include "Screen/InventedLog.h"
#include "Screen/Look.h"
#include "Screen/Snapshot.h"
#include "Screen/TempoStair.h"
#include "Screen/Type.h"
#include "Screen/Within.h"
#include "Screen/WorkStrip.h"
#include "Tempo/PlanSupport.h"
#include "View/PlayModel.h"

#include <ctime>
#include <gtest/gtest.h>

namespace valveladder {

namespace {

juce::TextButton* stopOf(juce::Component& strip) {
    for (juce::Component* child : strip.getChildren())
        if (auto* button = dynamic_cast<juce::TextButton*>(child))
            return button;
    return nullptr;
}

std::string saidBy(juce::Component& strip) {
    for (juce::Component* child : strip.getChildren())
        if (const auto* picture = dynamic_cast<SaidComponent*>(child))
            return picture->said().toStdString();
    return "";
}

/// Two days of the stair as a machine in that zone draws them.
juce::Image stairIn(const char* zone) {
    const plansupport::ZoneOfMachine machine(zone);
    tzset(); // the C library's own clock looks at the variable when it is told to
    StairModel model;
    for (const unsigned each : {4U, 5U}) {
        PlanDay day;
        day.day = plansupport::dayNumber(2024, 3, each);
        day.takes = 1;
        day.plannedLow = day.plannedHigh = day.playedLow = day.playedHigh = 60.0;
        model.days.push_back(day);
    }
    TempoStair stair;
    stair.setSize(400, 240);
    stair.show(model);
    return pictures::render(stair, 1.0F);
}

} // namespace

TEST(WorkStrip, AppearsAfterAMomentSaysHowFarItIsAndStops) {
    bool running = true;
    bool stopped = false;
    std::optional<double> share;
    WorkStrip strip;
    strip.watch({{"Reading", [&] { return running; }, [&] { return share; }, [&] { stopped = true; }}});
    EXPECT_FALSE(strip.refresh(10.0)) << "quick work does not flicker";
    EXPECT_TRUE(strip.refresh(10.0 + WorkStrip::quickSeconds));
    EXPECT_EQ(saidBy(strip), "Reading...");
    share = 0.426;
    EXPECT_TRUE(strip.refresh(11.0));
    EXPECT_EQ(saidBy(strip), "Reading, 42 %");
    ASSERT_NE(stopOf(strip), nullptr);
    stopOf(strip)->onClick();
    EXPECT_TRUE(stopped);
    running = false;
    EXPECT_FALSE(strip.refresh(12.0));
    running = true;
    EXPECT_FALSE(strip.refresh(13.0)) << "the next work begins anew";
}

TEST(PictureWriter, WritesBehindTheWindowAndStoppedWritesNothing) {
    const host::TempLog place;
    const juce::File folder(place.folder().string());
    juce::Component view;
    view.setSize(1600, 1000);
    PictureWriter writer;
    const WorkProgress progress = writer.progress();
    writer.start(view, folder.getChildFile("view.png"));
    std::optional<Result<Done>> outcome;
    ASSERT_TRUE(eventually([&] { return (outcome = writer.finished()).has_value(); }));
    EXPECT_TRUE(*outcome);
    EXPECT_EQ(juce::ImageFileFormat::loadFrom(folder.getChildFile("view.png")).getWidth(), 3200);
    EXPECT_FALSE(progress.running());

    writer.start(view, folder.getChildFile("stopped.png"));
    progress.stop();
    ASSERT_TRUE(eventually([&] { return (outcome = writer.finished()).has_value(); }));
    // Where the writer was quicker than the stop, all is there; else nothing.
    EXPECT_EQ(folder.getChildFile("stopped.png").exists(), outcome->ok());

    writer.start(view, folder.getChildFile("view.gif"));
    outcome = writer.finished();
    ASSERT_TRUE(outcome);
    EXPECT_FALSE(*outcome);
}

TEST(PitchNames, NamesPitchesAsWantedAndLeavesTheRest) {
    const auto name = [](const char* label, Spelling spelling, bool sounding) {
        return withPitchNames(label, {spelling, sounding, -2});
    };
    EXPECT_EQ(name("F#3-C4", Spelling::sharps, false), "F#3-C4");
    EXPECT_EQ(name("F#3-C4", Spelling::flats, false), "Gb3-C4");
    EXPECT_EQ(name("A#3-B3", Spelling::german, false), "B3-H3");
    EXPECT_EQ(name("F#3-C4", Spelling::sharps, true), "E3-A#3");
    EXPECT_EQ(name("F#3-C4", Spelling::fixedDo, false), "fa#3-do4");
    EXPECT_EQ(name("C-1-D0", Spelling::flats, false), "C-1-D0");
    EXPECT_EQ(name("Drill B, twice", Spelling::german, false), "Drill B, twice");
    EXPECT_EQ(name("G#3-A3 back and forth (2-3, 1-2)", Spelling::fixedDo, false),
              "sol#3-la3 back and forth (2-3, 1-2)");
    EXPECT_EQ(name("Directive 2003/10/EC, LA4, A4x, take 1B7", Spelling::fixedDo, false),
              "Directive 2003/10/EC, LA4, A4x, take 1B7");
}

TEST(TempoStair, DaysHaveTheSameDatesOnEveryMachine) {
    const juce::Image here = stairIn("Etc/UTC");
    for (const char* zone : {"Pacific/Auckland", "Pacific/Pago_Pago"}) {
        const auto found = pictures::difference(here, stairIn(zone));
        EXPECT_TRUE(found.sameSize);
        EXPECT_EQ(found.meanStep, 0.0) << zone;
    }
    tzset();
}

TEST(PlayModel, ShowsWhereThePlayerIsHeardAndWhetherThePitchFits) {
    SessionView view = pictures::runningView("trumpet-b-flat");
    const auto heard = [&] { return playModel(view, {}, true, InputSeen::something).heard; };
    EXPECT_FALSE(heard());
    LiveView live;
    live.index = 2;
    live.midi = view.setup->score().notes[2].sounding + 0.3;
    live.confidence = 0.9;
    view.live = live;
    ASSERT_TRUE(heard());
    EXPECT_EQ(heard()->note, 2U);
    EXPECT_TRUE(heard()->asWritten);
    view.live->midi += 1.0;
    EXPECT_FALSE(heard()->asWritten);
    view.live->confidence = 0.1;
    EXPECT_FALSE(heard());
    view.live = LiveView{};
    EXPECT_FALSE(heard());
}

TEST(ScreenValues, TheLettersHoldBothSigns) {
    const juce::String sharp = withSigns("F#").getLastCharacters(1);
    const juce::String flat = withSigns("Bb").getLastCharacters(1);
    for (const juce::Font& font : {plainFont(20.0F), boldFont(20.0F)}) {
        for (const juce::String& sign : {sharp, flat}) {
            juce::Path outline;
            juce::Array<int> glyphs;
            juce::Array<float> offsets;
            font.getGlyphPositions(sign, glyphs, offsets);
            ASSERT_EQ(glyphs.size(), 1);
            font.getTypefacePtr()->getOutlineForGlyph(glyphs.getFirst(), outline);
            EXPECT_GT(outline.getBounds().getHeight(), 0.4F) << sign;
        }
        EXPECT_GT(textWidth(font, sharp), textWidth(font, flat) + 0.5F)
            << "the box of a letter that is not there";
    }
}

} // namespace valveladder
