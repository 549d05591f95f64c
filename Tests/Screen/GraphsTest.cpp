// A take's notes as graphs: what was chosen, what was not measured, and how room is shared.

#include "Screen/NoteGraphs.h"
#include "Screen/Type.h"
#include "View/Words.h"

#include <gtest/gtest.h>

namespace valveladder {

namespace {

constexpr int notesARung = 4;
constexpr int width = 600;
constexpr int height = 480;

/// An invented take of two rungs; what is in `cents` was played into a microphone.
TakeModel takeOf(bool midiOnly) {
    TakeModel take;
    take.segmentNames = {"Even"};
    take.midiOnly = midiOnly;
    for (int i = 0; i < 2 * notesARung; ++i) {
        NoteModel note;
        note.index = i;
        note.rung = i / notesARung;
        note.written = 60 + i;
        note.sounding = 58 + i;
        note.combination = "1-2";
        note.outcome = Outcome::right;
        note.deviationMs = 4.0 + i;
        note.changeoverMs = 80.0 + i;
        if (!midiOnly)
            note.cents = 2.0 + i;
        take.notes.push_back(note);
    }
    return take;
}

/// As a screen reader tells them apart.
const char* titleOf(NoteMeasure measure) {
    return measure == NoteMeasure::deviation    ? words::deviationTitle
           : measure == NoteMeasure::changeover ? words::changeoverTitle
                                                : words::intonationTitle;
}

/// The three graphs as a place holds them.
struct Stage {
    NoteGraphs graphs;
    std::vector<int> played;

    Stage() {
        graphs.setSize(width, height);
        graphs.onPlay = [this](int note) { played.push_back(note); };
    }
    NoteGraph& of(NoteMeasure measure) {
        for (juce::Component* child : graphs.getChildren())
            if (auto* graph = dynamic_cast<NoteGraph*>(child);
                graph != nullptr && graph->getTitle() == titleOf(measure))
                return *graph;
        throw std::logic_error("there is no such graph");
    }
    std::vector<NoteGraph*> all() {
        return {&of(NoteMeasure::deviation), &of(NoteMeasure::changeover), &of(NoteMeasure::intonation)};
    }
    /// A click at a share of a graph's width.
    void click(NoteMeasure measure, float share) {
        NoteGraph& graph = of(measure);
        const juce::Point<float> at(share * static_cast<float>(graph.getWidth()),
                                    static_cast<float>(graph.getHeight()) / 2);
        graph.mouseDown({juce::Desktop::getInstance().getMainMouseSource(),
                         at,
                         juce::ModifierKeys::leftButtonModifier,
                         0.0F,
                         0.0F,
                         0.0F,
                         0.0F,
                         0.0F,
                         &graph,
                         &graph,
                         {},
                         at,
                         {},
                         1,
                         false});
    }
    void expectChosen(const std::string& name) {
        for (const NoteGraph* graph : all())
            EXPECT_TRUE(graph->said().startsWith(toText(name + ", 1-2: ")))
                << graph->getTitle() << " says: " << graph->said();
    }
};

} // namespace

TEST(ScreenGraphs, ChosenNoteIsShownInAllThreeGraphsAndPlays) {
    Stage stage;
    const TakeModel take = takeOf(false);
    stage.graphs.show(&take, nullptr, 0, 0, 1);
    stage.expectChosen(pitchName(61, Spelling::sharps));
    EXPECT_TRUE(stage.played.empty()) << "what the place chooses is not played";
    stage.click(NoteMeasure::changeover, 1.0F);
    stage.expectChosen(pitchName(63, Spelling::sharps));
    EXPECT_EQ(stage.played, std::vector<int>{3});
    EXPECT_TRUE(stage.of(NoteMeasure::intonation).keyPressed(juce::KeyPress(juce::KeyPress::leftKey)));
    stage.expectChosen(pitchName(62, Spelling::sharps));
    EXPECT_EQ(stage.played, std::vector<int>{3}) << "a note is heard when it is asked for";
    EXPECT_TRUE(stage.of(NoteMeasure::deviation).keyPressed(juce::KeyPress(juce::KeyPress::returnKey)));
    EXPECT_EQ(stage.played, (std::vector<int>{3, 2}));
    stage.click(NoteMeasure::intonation, 0.0F);
    stage.expectChosen(pitchName(60, Spelling::sharps));
}

TEST(ScreenGraphs, UnmeasuredGraphSaysWhyAndGivesItsRoomAway) {
    Stage stage;
    const TakeModel sound = takeOf(false);
    stage.graphs.show(&sound, nullptr, 0, 0, 0);
    const int before = stage.of(NoteMeasure::deviation).getHeight();
    const TakeModel midi = takeOf(true);
    stage.graphs.show(&midi, nullptr, 0, 0, 0);
    NoteGraph& intonation = stage.of(NoteMeasure::intonation);
    EXPECT_FALSE(intonation.measured());
    EXPECT_EQ(intonation.said(), words::notByMidi);
    EXPECT_EQ(intonation.getDescription(), words::notByMidi);
    EXPECT_EQ(intonation.getHeight(), NoteGraph::lineHeight);
    EXPECT_GT(stage.of(NoteMeasure::deviation).getHeight(), before);
    EXPECT_GT(stage.of(NoteMeasure::changeover).getHeight(), before);
    EXPECT_LE(intonation.getBottom(), height);
    // Sound in which no pitch was found is another reason.
    TakeModel unpitched = takeOf(true);
    unpitched.midiOnly = false;
    stage.graphs.show(&unpitched, nullptr, 0, 0, 0);
    EXPECT_EQ(intonation.said(), words::notMeasured);
}

TEST(ScreenGraphs, WhatWasMeasuredIsJudgedByTheTakeNotByTheRung) {
    Stage stage;
    TakeModel take = takeOf(false);
    for (NoteModel& note : take.notes)
        if (note.rung == 0)
            note.cents.reset();
    const NoteGraph& intonation = stage.of(NoteMeasure::intonation);
    stage.graphs.show(&take, nullptr, 1, 0, -1);
    ASSERT_TRUE(intonation.measured());
    const int before = intonation.getHeight();
    stage.graphs.show(&take, nullptr, 0, 0, -1);
    EXPECT_TRUE(intonation.measured()) << "the other rung holds it";
    EXPECT_EQ(intonation.getHeight(), before);
    // Of two takes either will do; where neither holds it, both have to be MIDI for that reason.
    const TakeModel midi = takeOf(true);
    EXPECT_TRUE(graphModel(NoteMeasure::intonation, &midi, &take, 0).notMeasured.empty());
    EXPECT_EQ(graphModel(NoteMeasure::intonation, &midi, &midi, 0).notMeasured, words::notByMidi);
    for (NoteModel& note : take.notes)
        note.cents.reset();
    EXPECT_EQ(graphModel(NoteMeasure::intonation, &midi, &take, 0).notMeasured, words::notMeasured);
}

TEST(ScreenGraphs, WhatWasMissedIsCalledSoInEitherTake) {
    const TakeModel first = takeOf(true);
    TakeModel second = takeOf(true);
    second.notes[0].outcome = Outcome::missed;
    second.notes[0].deviationMs.reset();
    second.notes[1].outcome = Outcome::wrong;
    const auto said = [](const TakeModel& a, const TakeModel& b, std::size_t note) {
        const GraphModel graph = graphModel(NoteMeasure::deviation, &a, &b, 0);
        return graph.wordsOf(graph.points.at(note), {});
    };
    EXPECT_NE(said(first, second, 0).find("missed"), std::string::npos) << said(first, second, 0);
    EXPECT_EQ(said(first, second, 0).find("wrong note"), std::string::npos);
    EXPECT_NE(said(first, second, 1).find("wrong note"), std::string::npos) << said(first, second, 1);
    EXPECT_NE(said(second, first, 0).find("missed"), std::string::npos) << said(second, first, 0);
}

TEST(ScreenGraphs, ClickOrKeyOnAMeasureNotTakenChoosesNothing) {
    Stage stage;
    const TakeModel take = takeOf(true);
    stage.graphs.show(&take, nullptr, 0, 0, 1);
    const juce::String said = stage.of(NoteMeasure::deviation).said();
    ASSERT_TRUE(said.startsWith(toText(pitchName(61, Spelling::sharps))));
    stage.click(NoteMeasure::intonation, 1.0F);
    for (const int key : {juce::KeyPress::rightKey, juce::KeyPress::returnKey})
        EXPECT_FALSE(stage.of(NoteMeasure::intonation).keyPressed(juce::KeyPress(key)));
    EXPECT_EQ(stage.of(NoteMeasure::deviation).said(), said);
    EXPECT_TRUE(stage.played.empty());
    // The same click on a graph beside it chooses.
    stage.click(NoteMeasure::deviation, 1.0F);
    EXPECT_NE(stage.of(NoteMeasure::deviation).said(), said);
}

} // namespace valveladder
