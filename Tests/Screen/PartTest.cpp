// The place for pieces: a part comes in, its spots are those of the core, and become drills; files go out.

#include "Base/FileBytes.h"
#include "Files/BackingFile.h"
#include "Files/PartSmf.h"
#include "Host/TempLog.h"
#include "Music/Marking.h"
#include "Screen/Find.h"
#include "Screen/PartPlace.h"
#include "Screen/Window.h"
#include "Screen/Within.h"

#include <gtest/gtest.h>

#include <fstream>

namespace valveladder {

namespace {

const std::string study = VALVE_LADDER_SOURCE_DIR "/Resources/parts/two-spots.musicxml";

const Instrument& trumpet() {
    return *findInstrument("trumpet-b-flat");
}

/// Waits for the reader, which has a thread of its own.
void settle(PartPlace& place, PartReader& reader) {
    ASSERT_TRUE(eventually([&] { return !reader.busy(); }));
    place.refresh();
}

struct Desk {
    host::TempLog log;
    PartReader reader{log.log()};
    PartPlace place{reader, true};
    std::vector<Problem> problems;

    Desk() {
        place.setSize(1280, 684);
        place.playFor("Ann", trumpet());
        place.onProblem = [this](const Problem& problem) { problems.push_back(problem); };
    }
    void open(const std::string& file) {
        place.open(file);
        settle(place, reader);
    }
    [[nodiscard]] juce::File file(const char* name) const {
        return juce::File(log.folder().string()).getChildFile(name);
    }
    std::string write(const char* name, const std::string& text) const {
        const auto path = log.folder() / name;
        std::ofstream(path, std::ios::binary) << text;
        return path.string();
    }
};

} // namespace

TEST(ScreenPart, OpenedPartShowsTheCoresSpotsAndTheBarsOfTheChosenOne) {
    Desk desk;
    desk.open(study);
    const OpenedPart* part = desk.place.part();
    ASSERT_NE(part, nullptr);
    ASSERT_FALSE(part->problem) << part->problem->text();
    const Marking marking = markPart(part->line, trumpet());
    const auto spots = rankedSpots(part->line, marking, trumpet());
    ASSERT_EQ(part->spots.size(), spots.size());
    EXPECT_EQ(part->spots.front().words, "bars 2-3: 2-3 to 1-3, six times, at 12 changes a second");
    EXPECT_EQ(theOne<PartList>(desk.place).chosen(), 0);
    int notes = 0;
    for (const PartNote& note : part->line.notes)
        notes += note.bar >= spots.front().firstBar && note.bar <= spots.front().lastBar ? 1 : 0;
    EXPECT_EQ(theOne<PartStaff>(desk.place).notesShown(), notes);
    EXPECT_TRUE(desk.problems.empty());
}

TEST(ScreenPart, SpotBecomesTheDrillWithItsTempoPlan) {
    Desk desk;
    desk.open(study);
    std::optional<Drill> drill;
    TempoRules plan;
    desk.place.onDrill = [&](const Drill& made, const TempoRules& rules) {
        drill = made;
        plan = rules;
    };
    desk.place.drillFromSpot();
    ASSERT_TRUE(drill);
    EXPECT_EQ(drill->name, desk.place.part()->spots.front().words);
    EXPECT_EQ(drill->segments.size(), 4U);
    EXPECT_EQ(plan.startBpm, 90.0);
    EXPECT_EQ(plan.ceilingBpm, 180.0);
}

TEST(ScreenPart, MarkedPartAndMidiAreWrittenAndReadAgain) {
    Desk desk;
    desk.open(study);
    for (const char* name : {"marked.musicxml", "marked.mxl"}) {
        const auto done = desk.place.writeMarked(desk.file(name));
        ASSERT_TRUE(done) << done.problem().text();
        const auto again = PartFile::open(desk.file(name).getFullPathName().toStdString());
        ASSERT_TRUE(again) << again.problem().text();
        EXPECT_EQ(again.value().read({}, trumpet(), false).value().part.notes, desk.place.part()->line.notes);
    }
    ASSERT_TRUE(desk.place.writeMarked(desk.file("marked.mid")));
    desk.open(desk.file("marked.mid").getFullPathName().toStdString());
    ASSERT_FALSE(desk.place.part()->problem);
    EXPECT_EQ(desk.place.part()->spots.front().times, 6);
    ASSERT_TRUE(desk.place.writeMarked(desk.file("MARKED.SMF")));
    EXPECT_TRUE(readSmfFile(desk.file("MARKED.SMF").getFullPathName().toStdString()));
    EXPECT_TRUE(PartPlace::opens("/music/MARKED.SMF"));
    EXPECT_FALSE(PartPlace::opens("/music/marked.pdf"));
    // A MIDI file takes no notation: that is said.
    EXPECT_FALSE(desk.place.writeMarked(desk.file("x.musicxml")));
    // Nor does a folder that is not there.
    EXPECT_FALSE(desk.place.writeMarked(desk.file("missing/x.mid")));
}

TEST(ScreenPart, WhatCannotBeReadIsSaidAndTheNextPartOpens) {
    Desk desk;
    for (const std::string& file : {desk.write("text.musicxml", "no music"), desk.write("empty.mid", ""),
                                    desk.log.folder().string() + "/missing.mxl"}) {
        desk.open(file);
        ASSERT_TRUE(desk.place.part()->problem) << file;
        EXPECT_NE(desk.place.part()->problem->text().find(file), std::string::npos)
            << desk.place.part()->problem->text();
        EXPECT_FALSE(desk.place.part()->problem->remedy.empty());
        EXPECT_TRUE(desk.place.createComponentSnapshot(desk.place.getLocalBounds()).isValid());
    }
    desk.open(study);
    EXPECT_FALSE(desk.place.part()->problem);
}

TEST(ScreenPart, AnotherInstrumentIsMarkedForAnew) {
    Desk desk;
    desk.open(study);
    desk.place.playFor("Ann", *findInstrument("tuba-b-flat-4"));
    settle(desk.place, desk.reader);
    EXPECT_EQ(desk.place.part()->request.instrument.id, "tuba-b-flat-4");
}

TEST(ScreenPart, DroppedFileOpensAndItsDrillIsLoadedIntoThePlugin) {
    const host::TempLog log;
    Processor plugin;
    Window window(plugin);
    EXPECT_TRUE(window.isInterestedInFileDrag({"/some/where/etude.MXL"}));
    EXPECT_FALSE(window.isInterestedInFileDrag({"/some/where/picture.png"}));
    EXPECT_FALSE(window.isInterestedInFileDrag({"a.mid", "b.mid"}));
    window.filesDropped({study}, 10, 10);
    EXPECT_EQ(window.place(), Window::Place::part);
    ASSERT_TRUE(eventually([&] {
        theOne<PartPlace>(window).refresh();
        return theOne<PartPlace>(window).part() != nullptr;
    }));
    theOne<PartPlace>(window).drillFromSpot();
    EXPECT_EQ(plugin.config().drill.name, theOne<PartPlace>(window).part()->spots.front().words);
    EXPECT_EQ(plugin.config().rules.startBpm, 90.0);
    EXPECT_EQ(window.place(), Window::Place::rung);
}

TEST(ScreenPart, MidiForTheDawIsTheGuideTheTempoMapAndTheBackingOfTheDrill) {
    SessionConfig config;
    config.rules.stepPerTake = 2.0;
    PlannedTempo planned;
    planned.bpm = 70.0;
    const auto setup = makeSetup(config, planned).value();
    GuideSettings settings;
    settings.backing.on[static_cast<std::size_t>(BackingPart::bass)] = true;
    const auto guide = dawMidi(DawMidi::guide, *setup, settings);
    ASSERT_TRUE(guide);
    EXPECT_EQ(guide.value().tracks.size(), 4U); // tempo, guide, click, valves
    const auto map = dawMidi(DawMidi::tempoMap, *setup, settings);
    ASSERT_TRUE(map);
    ASSERT_EQ(map.value().tracks.size(), 1U);
    std::vector<double> tempos;
    for (const SmfEvent& event : map.value().tracks.front().events)
        if (event.bytes[0] == 0xFF && event.bytes[1] == 0x51)
            tempos.push_back(60e6 / (event.bytes[2] << 16 | event.bytes[3] << 8 | event.bytes[4]));
    ASSERT_EQ(tempos.size(), 5U);
    for (std::size_t i = 0; i < tempos.size(); ++i)
        EXPECT_NEAR(tempos[i], 70.0 + 2.0 * static_cast<double>(i), 1e-3);
    BackingSettings bass;
    bass.drone = false;
    bass.bass = true;
    const SessionTake take{&setup->score(), 70.0};
    EXPECT_EQ(dawMidi(DawMidi::backing, *setup, settings).value(),
              backingFile({&take, 1}, bass, config.drill.name));
}

TEST(ScreenPart, DraggingAMidiButtonGivesTheFileOnceAndIsNoClick) {
    DragButton button;
    button.setSize(100, 32);
    int dragged = 0;
    int clicked = 0;
    button.onDrag = [&] { ++dragged; };
    button.onClick = [&] { ++clicked; };
    const auto event = [&](float x, bool moved) {
        return juce::MouseEvent(juce::Desktop::getInstance().getMainMouseSource(), {x, 10.0F},
                                juce::ModifierKeys::leftButtonModifier, 0.0F, 0.0F, 0.0F, 0.0F, 0.0F, &button,
                                &button, {}, {10.0F, 10.0F}, {}, 1, moved);
    };
    juce::Component& pressed = button;
    pressed.mouseDown(event(10.0F, false));
    pressed.mouseDrag(event(40.0F, true));
    pressed.mouseDrag(event(60.0F, true));
    EXPECT_EQ(dragged, 1);
    pressed.mouseUp(event(60.0F, true));
    EXPECT_EQ(clicked, 0);
}

} // namespace valveladder
