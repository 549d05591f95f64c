#pragma once

#include "Findings/NextSession.h"
#include "Ladder/PitchNames.h"
#include "Records/TakeRecord.h"
#include "Review/Review.h"
#include "Score/Score.h"
#include "Session/SessionView.h"
#include "View/HelpWords.h"
#include "View/PluginWords.h"
#include "View/ResultModel.h"
#include "View/Surroundings.h"
#include "View/TakeModel.h"
#include "Words/ReviewWords.h"
#include "Words/TempoWords.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

/// Every text of the window: one place to read and to translate, with what controls say when they are pointed
/// at in View/HelpWords.h. What a host and the session show of the plugin without its window stands in
/// View/PluginWords.h; what the core tells, on screen as on the console, in the room Words.
namespace valveladder::words {

/// What stands before the figures of a longer text.
[[nodiscard]] std::string firstSentence(const std::string& text);

// What is of one take and what is of all stands side by side: each says which.
[[nodiscard]] std::string overAllTakes(const std::string& found); ///< "Over all takes: your third ..."
[[nodiscard]] std::string
foundOverAllTakes(const std::string& ofThis);                    ///< "Found over all takes. This one: ..."
[[nodiscard]] std::string ofThisTake(const std::string& counts); ///< "This take: 12 of 13 right."

// Places and their keys.
inline constexpr const char* rungPlace = "Play";
inline constexpr const char* landingPlace = "Take";
inline constexpr const char* stairPlace = "Weeks";
inline constexpr const char* rungPlaceSaid = "Play: while playing";
inline constexpr const char* landingPlaceSaid = "Take: its result";
inline constexpr const char* stairPlaceSaid = "Weeks: how it went over the days";
inline constexpr const char* setUp = "Set-up";
inline constexpr const char* exportView = "Export";

// While playing.
inline constexpr const char* nowWord = "Now";
inline constexpr const char* nextWord = "Next";
inline constexpr const char* bpmWord = "bpm";
inline constexpr const char* runClock = "Own clock";
inline constexpr const char* breathe = "Breathe";
inline constexpr const char* countIn = "Count-in";
inline constexpr const char* drillOver = "The drill is over";

// Notices.
inline constexpr const char* logTroubleTitle = "The log cannot be written";
inline constexpr const char* wrongTempoTitle = "Another tempo than planned";
[[nodiscard]] std::string wrongTempoRemedy(const Surroundings& around);
inline constexpr const char* noClockTitle = "No clock yet";
[[nodiscard]] std::string noClockWords(const Surroundings& around);
inline constexpr const char* hostStandsTitle = "Start the host";
[[nodiscard]] std::string hostStandsWords(const Surroundings& around);
inline constexpr const char* noInputTitle = "Nothing is heard";
[[nodiscard]] std::string noInputWords(const Surroundings& around);

/// "rung 2 of 7".
[[nodiscard]] std::string rungOf(int rung, int rungs);
/// "bpm, as planned", "bpm, planned 68".
[[nodiscard]] std::string tempoAgainstPlan(double realBpm, double plannedBpm);
inline constexpr const char* moreInMessages = "There is a message: M shows it whole.";

// The first opening.
inline constexpr const char* firstPlaceSaid = "First steps";
inline constexpr const char* firstLine = "Find the finger that trips you, and train it.";
inline constexpr std::array<const char*, 3> stepTitles{"Your instrument", "How are you heard?",
                                                       "A very comfortable tempo, bpm"};
inline constexpr std::array<const char*, 4> facetFields{"Family", "Pitch", "Valves", "Clef"};
inline constexpr const char* heardByField = "Heard by";
inline constexpr const char* byMicrophone = "Microphone";
inline constexpr const char* byMidi = "MIDI";
inline constexpr const char* notHeard = "Not at all";
inline constexpr const char* playANote = "Play a note";
inline constexpr const char* heardNowTitle = "What is heard";
inline constexpr const char* listenByField = "You listen by";
inline constexpr const char* headphones = "Headphones";
inline constexpr const char* loudspeaker = "Loudspeaker";
inline constexpr const char* midiInputField = "MIDI from";
inline constexpr const char* noMidiInput = "No MIDI device is connected.";
[[nodiscard]] std::string midiListened(const std::string& device); ///< "Keyboard: on"
inline constexpr const char* soundSystemField = "Sound by";
inline constexpr const char* outputField = "Sound out";
inline constexpr const char* inputField = "Microphone";
inline constexpr const char* channelField = "Its channel";
inline constexpr const char* noDevice = "none";
inline constexpr const char* choosePlayer = "choose one";
inline constexpr const char* slower = "1 bpm slower";
inline constexpr const char* quicker = "1 bpm quicker";
inline constexpr const char* startWord = "Start";
inline constexpr const char* startKey = "Start";
inline constexpr const char* goOn = "Go on";
inline constexpr const char* goOnKey = "Go on";
inline constexpr const char* whatHappensTitle = "What happens then";
inline constexpr const char* whatHappens =
    "You play a rung four times, one breath each: even, long-short, short-long, relaxed. It listens, and "
    "says "
    "which note came late and which finger brought it. Tomorrow it is one or two bpm quicker.";
/// "I hear A3", by the written name of the instrument.
[[nodiscard]] std::string iHear(double midi, const Instrument& instrument, std::optional<Spelling> spelling);
inline constexpr const char* levelTitle = "Level of the input";
inline constexpr const char* levelSilent = "silent";
inline constexpr const char* levelHeard = "something is heard";
inline constexpr const char* levelHot = "too loud for the input";

// After a take.
inline constexpr const char* resultStaffTitle = "The segment with what happened to each note";
/// "F#3, 1-2-3: 31 ms late"; "C4, 0: right, as you say; heard: split".
[[nodiscard]] std::string noteResult(const NoteModel& note, const PitchNames& names);
/// "That was right", or to take that back.
[[nodiscard]] const char* correctionKey(const CorrectionOffer& offer);
/// What pressing it does, with the note's name: "F#3 was right, and not split: ...".
[[nodiscard]] std::string correctionHelp(const NoteModel& note, const CorrectionOffer& offer,
                                         const PitchNames& names);
[[nodiscard]] std::string slowestChangeWords(double ms); ///< "slowest change, 142 ms"
[[nodiscard]] std::string milliseconds(double ms);       ///< "82 ms"
inline constexpr const char* details = "Details";
inline constexpr const char* practise = "Practise";
inline constexpr const char* detailsKey = "Details  D";
/// "Practise this, 4 minutes".
[[nodiscard]] std::string practiseThis(const PracticeSession& next);
[[nodiscard]] std::string practiceAdvice(const PracticeSession& next);
[[nodiscard]] std::string againAt(double bpm);   ///< "Again at 76 bpm"
[[nodiscard]] std::string nextTempo(double bpm); ///< "Next tempo, 78 bpm"
inline constexpr const char* nothingPlayed = "Nothing of this take was measured.";
[[nodiscard]] std::string allRight(int notes);
inline constexpr const char* tooUneven = "Every note right, but too unevenly to pass.";
/// "3 notes went wrong, most of them in Long-short, F#3-C4."; at least 1.
[[nodiscard]] std::string mostFaults(int faults, const std::string& segment, const std::string& rung);
/// "3 notes went wrong.": where no segment has most of them; at least 2.
[[nodiscard]] std::string scatteredFaults(int faults);
inline constexpr const char* ladderTitle = "Ladder of the take";
inline constexpr const char* deviationTitle = "Early and late, ms";
inline constexpr const char* changeoverTitle = "Changeovers, ms";
inline constexpr const char* intonationTitle = "Intonation, cents";
// Beside a graph's title, on one line of the narrowest window.
inline constexpr const char* notByMidi = "Not in MIDI: play into a microphone.";
inline constexpr const char* notMeasured = "Not measured here.";
inline constexpr const char* takesTitle = "Takes";
inline constexpr const char* noNext = "The ladder again, at the planned tempo.";
inline constexpr const char* unreadableTake = "This take cannot be shown";
inline constexpr const char* findingsTitle = "What was found";
inline constexpr const char* nextTitle = "Next";
inline constexpr const char* noTakesTitle = "No take yet";
inline constexpr const char* noTakesWords =
    "Play one, and its ladder stands here: every note, every change of valves.";
inline constexpr const char* nothingFound =
    "Nothing stands out yet. What is not sure is not said: more takes make it surer.";
inline constexpr const char* writeNote = "Note";
[[nodiscard]] std::string cellWords(const SegmentResult& result);
[[nodiscard]] std::string takeHeading(const TakeRecord& record);
/// "82 of 84 right, 1 wrong, 1 breath".
[[nodiscard]] std::string takeCounts(const TakeSummary& take);
/// The same, and what else is known of the take as a whole.
[[nodiscard]] std::string takeDetail(const TakeSummary& take);
[[nodiscard]] std::string axisValue(double value, bool isSigned);
/// "14 notes: median -3 ms, from -20 to 12".
[[nodiscard]] std::string graphSummary(std::vector<double> values, bool cents);

// Kept sound.
inline constexpr const char* keptSoundTitle = "Kept sound";
inline constexpr const char* playWord = "Listen from the chosen note";
inline constexpr const char* playKey = "Listen  P";
inline constexpr const char* stopPlaying = "Stop listening";
inline constexpr const char* stopPlayingKey = "Stop  P";
inline constexpr const char* playSpeed = "Speed; the pitch stays";
inline constexpr const char* playHelp = "Click a note to hear it.";
inline constexpr const char* playSidesHelp = "Click a note to hear both takes.";
inline constexpr const char* findingSound = "Reading the sound...";
inline constexpr const char* cutOff = "Silent while a take may run.";
/// "F#3, first take".
[[nodiscard]] std::string playingNote(const std::string& pitch, int side);
/// "F#3, 1-2-3: 12 ms late".
[[nodiscard]] std::string graphPoint(const std::string& note, NoteMeasure measure,
                                     const std::optional<double>& value, const char* fault);
inline constexpr const char* andSecond = "; second: ";

// Work that lasts.
inline constexpr const char* workTitle = "Work in progress";
inline constexpr const char* stopWork = "Stop";
inline constexpr const char* readingLog = "Reading the log";
inline constexpr const char* writingPicture = "Writing the picture";
inline constexpr const char* exportStopped = "The export was stopped; nothing was written.";
/// "Reading the log, 42 %".
[[nodiscard]] std::string workState(const std::string& words, std::optional<double> share);

// Over weeks.
inline constexpr const char* tempoTitle = "Tempo over days";
inline constexpr const char* handTitle = "Fingers, ms a change";
inline constexpr const char* changesTitle = "Slowest changes, ms";
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
inline constexpr const char* sidesRung = "Rung";
inline constexpr const char* otherNotes =
    "These two asked for other notes or fingerings, so they cannot be laid side by side.";
inline constexpr const char* differenceTitle = "Second against first";
inline constexpr const char* noDifference = "Nothing was measured in both.";
[[nodiscard]] std::string dayChoice(const std::string& day, std::size_t takes);
[[nodiscard]] std::string takeChoice(const std::string& time, const TakeSummary& take);
inline constexpr const char* reading = "Reading the log...";
/// "Player has no take on Trumpet in B flat yet".
[[nodiscard]] std::string noTakeOf(const std::string& player, const std::string& instrument);
/// "This log holds takes of Ann (12, Trumpet in B flat).".
[[nodiscard]] std::string takesOfOthers(const std::vector<LogPlayer>& others);
[[nodiscard]] std::string goOnAs(const std::string& player); ///< "Go on as Ann"

// Parts.
inline constexpr const char* partPlace = "Piece";
inline constexpr const char* partPlaceSaid = "Piece: your music, its awkward spots";
inline constexpr const char* partPlaceTitle = "Your music";
inline constexpr const char* noPartTitle = "No part is open";
inline constexpr const char* noPart =
    "Open a part, MusicXML (plain or .mxl) or MIDI, or drop its file anywhere on the window. Its awkward "
    "changes are then ranked here, and each becomes a drill at the press of a button.";
inline constexpr const char* readingPart = "Reading the part...";
inline constexpr const char* noSpotsTitle = "Nothing awkward in this line";
[[nodiscard]] std::string noSpots(double leastCost);
[[nodiscard]] std::string unmarkedBelow(double leastCost);
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
inline constexpr const char* spotBars = "Bars";
inline constexpr const char* spotChange = "Change";
inline constexpr const char* spotTimes = "Times";
/// Between how often a change is written and how often that is played.
inline constexpr const char* timesPlayed = " x ";
inline constexpr const char* spotSpeed = "Changes a second";
inline constexpr const char* spotLimit = "Your limit a second";
inline constexpr const char* spotCost = "Share of the time";
inline constexpr const char* limitUnknown = "not known";
inline constexpr const char* spotBarsTitle = "Bars of the spot, with fingerings";
/// "This display has no room for 200 %: the window is at 120 %".
[[nodiscard]] std::string scaleGiven(int wantedPercent, int givenPercent);
inline constexpr const char* dailyDrill = "Daily drill";
/// "Bars 5-6 of 5-12": what there is room for.
[[nodiscard]] std::string firstBarsOf(const std::string& first, const std::string& last,
                                      const std::string& lastOfAll);
inline constexpr const char* drillFromSpot = "Drill from this spot";
inline constexpr const char* writeMarkedPart = "Marked part...";
inline constexpr const char* writeMarkedMidi = "Marked MIDI...";
inline constexpr const char* markedPartName = "marked.musicxml";
inline constexpr const char* markedMidiName = "marked.mid";
inline constexpr const char* guideName = "Valve Ladder guide.mid";
inline constexpr const char* tempoMapName = "Valve Ladder tempo map.mid";
inline constexpr const char* backingName = "Valve Ladder backing.mid";
inline constexpr const char* partRemarks = "How it was read";
inline constexpr const char* noRemarks = "Everything was read.";
inline constexpr const char* ownChangesUnknown = "your own changes are not known: ";
inline constexpr const char* dawHeading = "MIDI for the DAW";
inline constexpr const char* midiHeading = "The drill as MIDI"; ///< where no DAW is round it
inline constexpr const char* dawGuide = "Guide";
inline constexpr const char* dawTempoMap = "Tempo map";
inline constexpr const char* dawBacking = "Backing";

// Set-up.
inline constexpr const char* basicsHeading = "To begin with";
inline constexpr const char* drillHeading = "The drill";
inline constexpr const char* rulesHeading = "Tempo plan, kept sound, pedals";
inline constexpr const char* switchesHeading = "Click, sounds, MIDI and clock";
inline constexpr const char* playerField = "Player";
inline constexpr const char* instrumentField = "Instrument";
inline constexpr const char* startField = "Comfortable tempo";
inline constexpr const char* tapField = "Or tap it";
inline constexpr const char* tapButton = "Tap";
inline constexpr const char* openButton = "Open...";
inline constexpr const char* saveButton = "Save...";
inline constexpr const char* startPedal = "Start or stop by";
inline constexpr const char* markPedal = "Mark takes by";
inline constexpr const char* repeatPedal = "Repeat the rung by";
inline constexpr const char* noPedal = "none yet";
inline constexpr const char* learnNow = "Press it now";
inline constexpr const char* forgetButton = "Forget";
[[nodiscard]] std::string pedalName(const Pedal& pedal); ///< "note 36", "controller 64"
inline constexpr const char* onWord = "on";

// Set-up: the drill.
inline constexpr const char* footField = "Foot (written)";
inline constexpr const char* firstTopField = "First top";
inline constexpr const char* lastTopField = "Last top";
inline constexpr const char* growthField = "The ladder";
inline constexpr std::array<const char*, 2> growths{"Shifts up", "Extends up"};
inline constexpr const char* shapeField = "Shape";
inline constexpr std::array<const char*, 3> shapes{"Up", "Up and down", "Down and up"};
inline constexpr const char* noteValueField = "Note value";
inline constexpr std::array<const char*, 6> noteValues{
    "Quarter", "Eighth", "Eighth triplet", "Sixteenth", "Sixteenth triplet", "Thirty-second"};
inline constexpr const char* segmentsField = "Segments";
inline constexpr const char* ratioField = "Long : short";
inline constexpr std::array<const char*, 4> ratios{"3 : 1", "2 : 1", "5 : 1", "3 : 2"};
inline constexpr const char* restField = "Rest";
inline constexpr const char* countInField = "Count-in";
inline constexpr const char* fingeringField = "Fingerings";
inline constexpr std::array<const char*, 5> fingerings{"Usual", "Fourth valve", "1-3", "Mixed", "Both sides"};
inline constexpr const char* mixingField = "Mixed";
inline constexpr std::array<const char*, 3> mixings{"by rung", "by segment", "by note"};
inline constexpr const char* tellsTitle = "What takes of this drill can tell";
[[nodiscard]] std::string whatDrillTells(const std::vector<std::string>& leftOpen);
inline constexpr const char* openDrillField = "Open a drill";
inline constexpr const char* saveDrillField = "Keep the drill";
inline constexpr const char* saveDrillTitle = "Keep the drill as";

// Set-up: tempo, marks, sound.
inline constexpr const char* stepPerDayField = "Step a day";
inline constexpr const char* stepPerTakeField = "Step a take";
inline constexpr const char* ceilingField = "Ceiling";
inline constexpr const char* roundTripField = "Round trip";
inline constexpr const char* measureField = "Round trip by clicks";
inline constexpr const char* measureButton = "Measure...";
inline constexpr const char* keepSoundField = "Keep takes' sound";
inline constexpr const char* soundLimitField = "Kept sound up to";
inline constexpr const char* dropOldestField = "Oldest makes room";
inline constexpr const char* agreedWord = "yes, delete it";
inline constexpr const char* bpmUnit = " bpm";
inline constexpr const char* msUnit = " ms";
inline constexpr const char* megabytesUnit = " MB";
inline constexpr const char* beatsUnit = " beats";
inline constexpr const char* barsUnit = " bars";
inline constexpr const char* timesUnit = " times";
inline constexpr const char* folded = "  +";
inline constexpr const char* unfolded = "  -";
inline constexpr const char* fromLogField = "Players in the log";
inline constexpr const char* firstStepsField = "First steps";
inline constexpr const char* firstStepsButton = "Show them";

// Files that cannot be read or written.
inline constexpr const char* drillNotWritten = "the drill could not be written";
inline constexpr const char* otherFolder = "choose a folder that you may write to";
inline constexpr const char* otherRoomyFolder = "choose a folder that you may write to and that has room";
inline constexpr const char* drillTooLarge = "the file is too large for a drill";
inline constexpr const char* chooseDrill = "choose a drill file";
inline constexpr const char* pictureNotWritten = "the picture could not be written";
inline constexpr const char* pictureEnding = "a picture ends in .png or .svg";
inline constexpr const char* chooseEnding = "choose one of the two";
inline constexpr const char* pictureFile = "Valve Ladder.png";
inline constexpr const char* setupUnreadable = "the set-up cannot be read";
inline constexpr const char* chooseThere = "choose a file that is there";
inline constexpr const char* chooseReadable = "choose a file that you may read";
inline constexpr const char* setupTooLarge = "the file is too large for a set-up";
inline constexpr const char* chooseSetup = "choose a set-up's file";
inline constexpr const char* fileNotWritten = "the file could not be written";
inline constexpr const char* nameRule = "use 1 to 100 letters, without / \\ : * ? \" < > |";
inline constexpr const char* segmentsRule = "the segments are given by numbers with spaces between";
inline constexpr const char* segmentsExample = "e.g. 1 2 3 4";
inline constexpr const char* segmentsWhere = "segments";
inline constexpr const char* setupWhere = "set-up";
inline constexpr const char* displayNotKept = "the display's settings could not be kept";
inline constexpr const char* noPartOpen = "no part is open";
inline constexpr const char* theMarkedPart = "the marked part";
inline constexpr const char* openOneFirst = "open one first";
inline constexpr const char* midiOrMusicXml = "write MIDI with markers, or open the part as MusicXML";
inline constexpr const char* noDragging = "this system lets nothing be dragged out of the window";
inline constexpr const char* pressInstead = "press the button instead, and open the file where it is wanted";
inline constexpr const char* noDrillYet = "no drill is there yet";
inline constexpr const char* midiWord = "MIDI";
inline constexpr const char* tryAgain = "try again in a moment";
[[nodiscard]] std::string notAName(const std::string& name);
[[nodiscard]] std::string noSegment(int number);
[[nodiscard]] std::string segmentsUpTo(std::size_t last);

// Parts that screen readers name.
inline constexpr const char* windowTitle = "Valve Ladder";
[[nodiscard]] std::string versionLine(); ///< "Valve Ladder 1.2.3"
[[nodiscard]] std::string whoPlays(const std::string& player, const std::string& instrument);
inline constexpr const char* staffTitle = "Staff and valve strip";
inline constexpr const char* nowNextTitle = "Combination now and next";
inline constexpr const char* headerTitle = "Place, take and tempo";
inline constexpr const char* increase = "Increase";
inline constexpr const char* decrease = "Decrease";
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
inline constexpr const char* openResultField = "Result after a take";
inline constexpr const char* opensByItself = "opens by itself";
inline constexpr const char* keysField = "Space, R, Ctrl+Z";
inline constexpr const char* hostsKeys = "are the host's";
inline constexpr const char* ourKeys = "work here";
inline constexpr const char* namesField = "Note names";
inline constexpr const char* instrumentNames = "As your instrument's parts";
inline constexpr const char* sharpNames = "Sharps: C#, F#";
inline constexpr const char* flatNames = "Flats: Db, Gb";
inline constexpr const char* germanNames = "German: H, B, Fis";
inline constexpr const char* doNames = "Fixed do: do, re, mi";
inline constexpr const char* pitchField = "Pitch named";
inline constexpr const char* writtenPitch = "Written";
inline constexpr const char* soundingPitch = "Sounding";

// A look round with an invented player.
inline constexpr const char* lookRoundHere = "Look round with an invented player";
inline constexpr const char* lookRoundButton = "Look round";
inline constexpr const char* lookRoundHeading = "Look round, first steps";
inline constexpr const char* backToOwn = "Back to my own";
inline constexpr const char* backToOwnKey = "Back to my own  Esc";
inline constexpr const char* inventedTag = "Invented";
inline constexpr const char* lookingRound = "Nobody played this. Your own log is not touched; what you play "
                                            "yourself goes there, and ends the look round.";
inline constexpr const char* inventedOnlyTitle =
    "This player is invented: nothing of theirs becomes your drill.";
inline constexpr const char* inventedOnlyWords = "After a take of your own the same button works for you.";

// Cards: problems and news.
inline constexpr const char* troubleTitle = "Problem";
inline constexpr const char* newsTitle = "News";
inline constexpr const char* closeCard = "Close";
inline constexpr const char* undoHere = "Undo";
/// "The drill is now: bars 2-3, from 48 bpm.", "Before it was: Daily ladder, at 66 bpm. ...".
[[nodiscard]] std::string drillReplaced(const std::string& now, double nowBpm);
[[nodiscard]] std::string drillBefore(const std::string& before, double beforeBpm);
/// "Now it is Ann on the Trumpet in B flat: Daily ladder.", "Before it was Bo on the Tuba in E flat: ...".
[[nodiscard]] std::string playerReplaced(const std::string& player, const std::string& instrument,
                                         const std::string& drill);
[[nodiscard]] std::string playerBefore(const std::string& player, const std::string& instrument,
                                       const std::string& drill, double bpm);
inline constexpr const char* ofTheDrill = "as in the drill";

// The window.
inline constexpr const char* messages = "Messages";
inline constexpr const char* noMessages = "Nothing to say.";
inline constexpr const char* mind = "Mind: ";
inline constexpr const char* trouble = "Trouble: ";
inline constexpr const char* runClockKey = "Own clock  Space";
inline constexpr const char* startSpace = "Start  Space";
inline constexpr const char* stopSpace = "Stop  Space";
inline constexpr const char* markWord = "Mark";
inline constexpr const char* takeKey = "Mark  T";
inline constexpr const char* repeatKey = "Repeat  R";
inline constexpr const char* repeatWord = "Repeat";
inline constexpr const char* noteTitle = "Your note";
inline constexpr const char* noteQuestion = "What should be remembered of this take?";
inline constexpr const char* noteKeep = "Keep";
inline constexpr const char* noteLeave = "Leave as it was";
inline constexpr const char* noteHelp =
    "It stands in the list of takes in place of the faults. Empty: the faults stand there again.";
inline constexpr const char* noteKeepHelp = "Keeps the note with the take, in the log. Return does the same.";
inline constexpr const char* noteLeaveHelp = "Closes this sheet. Escape does the same.";
inline constexpr const char* exportTitle = "Keep this view as PNG or SVG";

// Made from results.
[[nodiscard]] std::string logTroubleWords(const SessionView& view);

/// What a take waits for, or that it runs: in two or three words, and what more there is to say.
struct StateWords {
    std::string state, more;
};
[[nodiscard]] StateWords takeState(const SessionView& view, const Surroundings& around);
/// What more there is to say of the take, and who leads where that is not the program itself.
[[nodiscard]] std::string clockLine(const SessionView& view, const StateWords& take,
                                    const Surroundings& around);

/// "F#3-C4, segment 2 of 4: Long-short, firm".
[[nodiscard]] std::string place(const Score& score, std::size_t note, const PitchNames& names = {});
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
