#pragma once

#include "Findings/NextSession.h"
#include "Findings/SideBySide.h"
#include "Log/TakeRecord.h"
#include "Score/Score.h"
#include "Session/SessionView.h"

#include <string>
#include <vector>

/// Every text of the window: one place to read and to translate.
namespace valveladder::words {

// Places and their keys.
inline constexpr const char* rungPlace = "Rung";
inline constexpr const char* landingPlace = "Landing";
inline constexpr const char* stairPlace = "Stair";
inline constexpr const char* rungPlaceSaid = "Rung: while playing";
inline constexpr const char* landingPlaceSaid = "Landing: after a take";
inline constexpr const char* stairPlaceSaid = "Stair: over weeks";
inline constexpr const char* setUp = "Set-up";
inline constexpr const char* exportView = "Export";
inline constexpr const char* appearance = "Display";

// While playing.
inline constexpr const char* nowWord = "Now";
inline constexpr const char* nextWord = "Next";
inline constexpr const char* plannedWord = "planned";
inline constexpr const char* realWord = "now";
inline constexpr const char* bpmWord = "bpm";
inline constexpr const char* runClock = "Own clock";
inline constexpr const char* takeWord = "Take";
inline constexpr const char* repeatWord = "Repeat";
inline constexpr const char* breathe = "Breathe";
inline constexpr const char* countIn = "Count-in";
inline constexpr const char* drillOver = "The drill is over";
inline constexpr const char* valveWord = "Valve";

// Notices.
inline constexpr const char* logTroubleTitle = "The log cannot be written";
inline constexpr const char* wrongTempoTitle = "Another tempo than planned";
inline constexpr const char* wrongTempoRemedy =
    "Set the host to the planned tempo, or let our own clock lead; what you really play is what is kept.";
inline constexpr const char* firstRunTitle = "Welcome to the ladder";
inline constexpr const char* firstRunWords =
    "Choose your instrument and a comfortable tempo in Set-up (S), then start the host, or our own clock "
    "(Space), and play along. All else has a good default.";
inline constexpr const char* noClockTitle = "No clock yet";
inline constexpr const char* noClockWords =
    "The host gives no position. Start it, or let our own clock lead: Space.";
inline constexpr const char* hostStandsTitle = "The host stands still";
inline constexpr const char* hostStandsWords = "Start it and record, or let our own clock lead: Space.";
inline constexpr const char* noInputTitle = "Nothing is heard";
inline constexpr const char* noInputWords =
    "No note and no sound has come in yet. Check the input of this track, and in Set-up the player's channel "
    "and the sound threshold.";

// After a take.
inline constexpr const char* ladderTitle = "Ladder of the take";
inline constexpr const char* ladderHelp = "Arrow keys walk over rungs and segments";
inline constexpr const char* deviationTitle = "Early and late, ms";
inline constexpr const char* changeoverTitle = "Changeovers, ms";
inline constexpr const char* intonationTitle = "Intonation, cents";
inline constexpr const char* notByMidi =
    "MIDI carries no intonation: it is measured when you play into a microphone.";
inline constexpr const char* notMeasured = "Not measured in this take.";
inline constexpr const char* takesTitle = "Takes";
inline constexpr const char* takesHelp = "Return or a double click on a take writes a note to it";
inline constexpr const char* loadNextSaid = "Load what comes next";
inline constexpr const char* noNext = "The ladder again, at the planned tempo.";
inline constexpr const char* unreadableTake = "This take cannot be shown";
inline constexpr const char* findingsTitle = "What was found";
inline constexpr const char* nextTitle = "Next";
inline constexpr const char* loadNext = "Load it";
inline constexpr const char* noTakesTitle = "No take yet";
inline constexpr const char* noTakesWords =
    "Play one, and its ladder stands here: every note, every change of valves.";
inline constexpr const char* nothingFound =
    "Nothing stands out yet. What is not sure is not said: more takes make it surer.";
inline constexpr const char* writeNote = "Note";
/// With a capital letter.
[[nodiscard]] std::string sentence(std::string text);
[[nodiscard]] std::string nextItem(const SessionItem& item);
[[nodiscard]] std::string cellWords(const SegmentResult& result);
[[nodiscard]] std::string takeHeading(const TakeRecord& record);
[[nodiscard]] std::string takeDetail(const TakeRecord& record);
[[nodiscard]] std::string axisValue(double value, bool isSigned);
/// "14 notes: median -3, from -20 to 12".
[[nodiscard]] std::string graphSummary(std::vector<double> values, bool cents);

// Over weeks.
inline constexpr const char* tempoTitle = "Tempo over days";
inline constexpr const char* handTitle = "Fingers: changeover when pressing and releasing, ms";
inline constexpr const char* changesTitle = "Changes, the slowest first, ms";
inline constexpr const char* planTitle = "Plan and reality";
inline constexpr const char* daysTitle = "Days practised";
inline constexpr const char* weeksView = "Weeks";
inline constexpr const char* sidesView = "Side by side";
inline constexpr const char* noDaysTitle = "No days yet";
inline constexpr const char* noDaysWords = "The stair grows by a step for each day you practise; fingers and "
                                           "changes need a few takes to be measured.";
inline constexpr const char* pressing = "pressing";
inline constexpr const char* releasing = "releasing";
inline constexpr const char* legendPlan = "planned";
inline constexpr const char* legendPassed = "played, passed";
inline constexpr const char* legendNotPassed = "played, not passed";
/// "1 pressing: 84 ms, 90 % interval 79 to 90, 412 changes".
[[nodiscard]] std::string whiskerWords(const std::string& name, const Estimate& ms, bool claimed);
inline constexpr const char* firstSide = "First";
inline constexpr const char* secondSide = "Second";
inline constexpr const char* differenceTitle = "Second against first";
inline constexpr const char* noDifference = "Nothing was measured in both.";
[[nodiscard]] std::string dayChoice(const std::string& day, std::size_t takes);
[[nodiscard]] std::string takeChoice(const std::string& time, const TakeSummary& take);
[[nodiscard]] std::string sideLine(SideMeasure measure, const Estimate& difference, bool beyondChance);
inline constexpr const char* reading = "Reading the log...";
inline constexpr const char* stopReading = "Stop";

// Parts.
inline constexpr const char* partPlace = "Part";
inline constexpr const char* partPlaceSaid = "Part: your music, its awkward spots";
inline constexpr const char* partPlaceTitle = "Your music";
inline constexpr const char* noPart =
    "Open a part, MusicXML (plain or .mxl) or MIDI, or drop its file anywhere on the window. Its awkward "
    "changes "
    "are then ranked here, and each becomes a drill at the press of a button.";
inline constexpr const char* openPart = "Open a part...";
inline constexpr const char* partField = "Part";
inline constexpr const char* voiceField = "Voice";
inline constexpr const char* chordsField = "Of chords";
inline constexpr const char* repeatsField = "Repeats";
inline constexpr const char* gracesField = "Grace notes";
inline constexpr const char* highestOfChords = "the highest note";
inline constexpr const char* lowestOfChords = "the lowest note";
inline constexpr const char* repeatsPlayed = "as played";
inline constexpr const char* gracesKept = "kept";
inline constexpr const char* voiceNotes = "  (notes: ";
inline constexpr const char* unnamedPart = "Part ";
inline constexpr const char* spotsTitle = "Awkward spots, the costliest first";
inline constexpr const char* spotsHelp = "Return or a double click makes a drill of a spot";
inline constexpr const char* spotBars = "Bars";
inline constexpr const char* spotChange = "Change";
inline constexpr const char* spotTimes = "Times";
inline constexpr const char* spotSpeed = "A second";
inline constexpr const char* spotLimit = "Your limit";
inline constexpr const char* spotCost = "Cost";
inline constexpr const char* changeTo = " to ";
inline constexpr const char* limitUnknown = "not known";
inline constexpr const char* spotBarsTitle = "Bars of the spot, with fingerings";
inline constexpr const char* drillFromSpot = "Drill from this spot";
inline constexpr const char* writeMarkedPart = "Write the marked part...";
inline constexpr const char* writeMarkedMidi = "Write MIDI with markers...";
inline constexpr const char* markedPartName = "marked.musicxml";
inline constexpr const char* markedMidiName = "marked.mid";
inline constexpr const char* partRemarks = "How it was read";
inline constexpr const char* noRemarks = "Everything was read.";
inline constexpr const char* fingerCosts =
    "costs go by fingers moved: no changes of your own are logged yet on this instrument";
[[nodiscard]] std::string ownCosts(int changes);
inline constexpr const char* dawHeading = "MIDI for the DAW";
inline constexpr const char* dawGuide = "Guide";
inline constexpr const char* dawTempoMap = "Tempo map";
inline constexpr const char* dawBacking = "Backing";
inline constexpr const char* dawHelp = "drag it onto a track, or press to keep it as a file";

// Set-up.
inline constexpr const char* basicsHeading = "To begin with";
inline constexpr const char* drillHeading = "The drill";
inline constexpr const char* rulesHeading = "Tempo, marks, sound's way";
inline constexpr const char* switchesHeading = "Clock, guide, listening";
inline constexpr const char* playerField = "Player";
inline constexpr const char* instrumentField = "Instrument and clef";
inline constexpr const char* startField = "Comfortable tempo (bpm)";
inline constexpr const char* tapField = "Or tap it";
inline constexpr const char* tapButton = "Tap";
inline constexpr const char* openButton = "Open...";
inline constexpr const char* saveButton = "Save...";
inline constexpr const char* segmentsHelp =
    "1 even firm, 2 long-short, 3 short-long, 4 even relaxed: reorder, repeat or leave out";
inline constexpr const char* learnField = "Learn the mark";
inline constexpr const char* learnButton = "Press a key or pedal";
inline constexpr const char* learnHelp = "Then press the key or pedal that is to mark takes";
inline constexpr const char* undo = "Undo";
inline constexpr const char* redo = "Redo";
inline constexpr const char* keptHeading = "Kept set-ups";
inline constexpr const char* keptField = "Set-up";
inline constexpr const char* keptLoad = "Load";
inline constexpr const char* keepName = "Name for this set-up";
inline constexpr const char* keep = "Keep";
inline constexpr const char* keptLoadSaid = "Load this set-up";
inline constexpr const char* keepSaid = "Keep this one";
inline constexpr const char* shareSaid = "Share";
inline constexpr const char* openSaid = "Take over";
inline constexpr const char* toFile = "To a file...";
inline constexpr const char* fromFile = "From a file...";
inline constexpr const char* displayHeading = "Display";
inline constexpr const char* themeField = "Colours";
inline constexpr const char* darkTheme = "Dark";
inline constexpr const char* lightTheme = "Light";
inline constexpr const char* scaleField = "Size";
inline constexpr const char* motionField = "Reduce motion";
inline constexpr const char* namesField = "Note names";
inline constexpr const char* sharpNames = "Sharps: C#, F#";
inline constexpr const char* flatNames = "Flats: Db, Gb";
inline constexpr const char* germanNames = "German: H, B, Fis";
inline constexpr const char* doNames = "Fixed do: do, re, mi";
inline constexpr const char* pitchField = "Pitch named";
inline constexpr const char* writtenPitch = "Written";
inline constexpr const char* soundingPitch = "Sounding";

// The window.
inline constexpr const char* messages = "Messages";
inline constexpr const char* noMessages = "Nothing to say.";
inline constexpr const char* mind = "Mind: ";
inline constexpr const char* trouble = "Trouble: ";
inline constexpr const char* runClockKey = "Own clock  Space";
inline constexpr const char* takeKey = "Take  T";
inline constexpr const char* notTaken = "Not taken: ";
inline constexpr const char* noteTitle = "Your note";
inline constexpr const char* noteQuestion = "What should be remembered of this take?";
inline constexpr const char* noteKeep = "Keep";
inline constexpr const char* noteLeave = "Leave as it was";
inline constexpr const char* exportTitle = "Keep this view as PNG or SVG";

// Made from results.
[[nodiscard]] std::string logTroubleWords(const SessionView& view);

[[nodiscard]] std::string tempoText(double bpm); ///< "66", "66.5"
[[nodiscard]] std::string clockLine(const SessionView& view);
[[nodiscard]] std::string takeState(const SessionView& view);

/// "F#3-C4, segment 2 of 4: Long-short, firm".
[[nodiscard]] std::string place(const Score& score, std::size_t note);
/// "Segment 2 of 4".
[[nodiscard]] std::string segmentOf(const Score& score, int segment);
[[nodiscard]] std::string beatsToEntry(int beats);

/// One take of a list.
struct TakeLine {
    std::string tempo;  ///< "64" or "64 (planned 66)"
    std::string notes;  ///< "84/84"
    std::string faults; ///< "1 wrong, 2 missed"
    std::string even;   ///< "4.1 %"
    std::string verdict;
};
/// "78 / 80" where the plan was another, "80" where it was not.
[[nodiscard]] std::string playedOfPlanned(const TakeSummary& take);
[[nodiscard]] TakeLine takeLine(const TakeSummary& take);

} // namespace valveladder::words
