#pragma once

#include <array>
#include <string>

/// What each control of the window says of itself when it is pointed at: what happens, in which unit, by
/// which key. To be read and translated together with View/Words.h.
namespace valveladder::words {

// The bar and the foot.
inline constexpr const char* rungPlaceHelp =
    "The staff, the valves now and next, and the tempo, while you play (key 1)";
inline constexpr const char* landingPlaceHelp =
    "The newest take: what matters most, each note signed, one thing to practise (key 2)";
inline constexpr const char* stairPlaceHelp =
    "Your tempo over the days, each finger's changes, and two takes side by side (key 3)";
inline constexpr const char* partPlaceHelp =
    "Opens your own music and finds its awkward changes; gives the drill as MIDI (key 4)";
inline constexpr const char* setUpHelp =
    "Player, instrument, drill, tempo plan, sounds and colours; the same key leads back to Play (S)";
inline constexpr const char* exportHelp =
    "Keeps what is shown as a picture, PNG or SVG, in a file that you choose (E)";
inline constexpr const char* dailyDrillHelp =
    "Puts this session or spot aside and goes back to what you practise day by day, at its own tempo";
inline constexpr const char* messagesHelp = "Everything that was said, the newest first; again to close (M)";
inline constexpr const char* runClockHelp =
    "Starts and stops our own clock, for when the host's is not used (Space, where the set-up gives it here)";
inline constexpr const char* startHelp =
    "Starts the click with a count-in, and a take with it; again to stop (Space)";
inline constexpr const char* markHelp = "Begins or ends a take by hand, where takes go by hand (T)";
inline constexpr const char* repeatHelp =
    "Leads back to the rung that was played last, at the same tempo (R)";
[[nodiscard]] std::string whoPlaysHelp(const std::string& player, const std::string& instrument);
inline constexpr const char* levelHelp =
    "How loud the input is, from -60 dB of full scale at the left; full means too loud for it";
inline constexpr const char* stopWorkHelp = "Stops what is being done; nothing that was there before is lost";

// The look round.
inline constexpr const char* lookRoundHelp =
    "Shows Take and Weeks as they look after a week of practice that nobody did; your own log is not touched";
inline constexpr const char* backToOwnHelp =
    "Ends the look round with the invented player; your own takes are shown again (Esc)";
inline constexpr const char* inventedHelp = "Nobody played this: takes and figures are made up, to look at";

// First steps.
inline constexpr std::array<const char*, 4> facetHelps{
    "The family your instrument belongs to; what does not exist in it falls away",
    "The key it is built in: written C sounds this pitch",
    "How many valves it has, and whether they compensate",
    "The clef and transposition that your parts are written in"};
inline constexpr const char* heardByHelp = "How your notes come in; it can be changed in the set-up";
inline constexpr const char* listenByHelp =
    "By loudspeaker the click is kept low, since the microphone hears it as well";
inline constexpr const char* midiInputHelp = "Listens to this device, or no longer";
inline constexpr const char* soundSystemHelp =
    "The way this computer drives its sound devices; others come with it";
inline constexpr const char* outputHelp = "The device that the click and the guide tone come out of";
inline constexpr const char* inputHelp = "The device that your instrument is heard by";
inline constexpr const char* channelHelp =
    "Which socket of that device your instrument is plugged into, or the first two together";
inline constexpr const char* slowerHelp = "Takes 1 bpm off the tempo that the plan starts from";
inline constexpr const char* quickerHelp = "Adds 1 bpm to the tempo that the plan starts from";
inline constexpr const char* tapHelp =
    "Press it in time, three times or more: the tempo goes by the median of the times between, in bpm";
inline constexpr const char* goOnHelp = "To the drill; the host's transport starts it";

// A take.
inline constexpr const char* detailsHelp =
    "Intervals, counts and graphs, earlier takes; again to fold them (D)";
inline constexpr const char* practiseHelp =
    "Loads cells with your slowest changes, and a rung to put them back";
inline constexpr const char* againHelp = "Back to the drill at the tempo that the plan has next, in bpm";
inline constexpr const char* takesHelp = "Return or a double click on a take writes a note to it";
inline constexpr const char* ladderHelp = "Rungs from below, a cell for each segment: a tick is clean, a "
                                          "figure counts faults. Arrow keys walk over them";
inline constexpr const char* resultStaffHelp =
    "Point at a note to read what was told of it. Left and right choose one, Return or a click plays it "
    "where its sound was kept. "
    "Where more was told of it than you think is so, a button says that it was right";
inline constexpr const char* correctHelp = "Says that the chosen note was right, whatever was told of it";
inline constexpr const char* graphHelp = "Left and right choose a note, Return or a click plays it";
inline constexpr const char* playKeptHelp =
    "Plays what was kept of your sound from the chosen note on, while the clock stands; again to stop (P)";
inline constexpr const char* playSpeedHelp = "How fast kept sound is played, in per cent; the pitch stays";

// Weeks.
inline constexpr const char* weeksHelp = "Tempo over the days, fingers and slowest changes";
inline constexpr const char* sidesHelp = "Lays two takes or two days over one another, on the same axes (B)";
inline constexpr const char* firstSideHelp = "The take or day that is drawn filled";
inline constexpr const char* secondSideHelp =
    "The take or day that is drawn open, and is compared with the first";
inline constexpr const char* sidesRungHelp =
    "Which rung of the ladder the graphs show; a cell of the ladder chooses it as well";

// Pieces.
inline constexpr const char* openPartHelp =
    "Chooses a file of your music, MusicXML, .mxl or MIDI; it can be dropped on the window as well";
inline constexpr const char* partFieldHelp = "Which instrument's line of the file is read";
inline constexpr const char* voiceFieldHelp = "Which voice of that line, where it is written in several";
inline constexpr const char* chordsFieldHelp = "Which note of a chord counts as yours";
inline constexpr const char* repeatsFieldHelp = "Repeats and endings in the order played, or each bar once";
inline constexpr const char* gracesFieldHelp = "Grace notes count as changes of valves, or are left out";
inline constexpr const char* spotsHelp = "Return or a double click makes a drill of a spot";
/// Of the columns of spots, from the left.
inline constexpr std::array<const char*, 6> spotColumnHelps{
    "Where it is in the part, as its bars are numbered",
    "Valves before and after, by the way it goes first",
    "How often it is written, both ways, and how often that is played",
    "How quickly one follows the other at the part's own tempo, where it is quickest",
    "Changes a second that you keep up, by your own takes",
    "How much of the time between two notes one change takes; it counts as often as it is played, and the "
    "costliest stand first"};
inline constexpr const char* drillFromSpotHelp = "Makes a drill of the chosen spot, slow at first and up to "
                                                 "the part's tempo; the drill before can be had back";
inline constexpr const char* writeMarkedPartHelp =
    "Keeps the part as MusicXML with fingerings and the awkward spots marked in it";
inline constexpr const char* writeMarkedMidiHelp =
    "Keeps the part as MIDI with a marker at each awkward spot";
inline constexpr std::array<const char*, 3> dawHelps{
    "The drill's notes, click and valves as a MIDI file: drag it onto a track, or press to keep it",
    "The drill's tempos alone as a MIDI file: drag it into the DAW's tempo track, or press to keep it",
    "A loop to play over as a MIDI file: drag it onto a track, or press to keep it"};
/// The same where no DAW is round the window.
inline constexpr std::array<const char*, 3> midiHelps{
    "The drill's notes, click and valves as a MIDI file: drag it into another program, or press to keep it",
    "The drill's tempos alone as a MIDI file: drag it into another program, or press to keep it",
    "A loop to play over as a MIDI file: drag it into another program, or press to keep it"};

// Set-up: what matters.
inline constexpr std::array<const char*, 5> foldHelps{
    "", "Shows or folds pitches, rhythms, rests and fingerings of what you play",
    "Shows or folds how the tempo rises, the round trip, what is kept of your sound, and footswitches",
    "Shows or folds what sounds, what goes out as MIDI, and whose clock leads",
    "Shows or folds a week of an invented player, and the first steps"};
inline constexpr const char* playerHelp =
    "Whose log the takes go to; Return keeps what was typed, Esc does not";
inline constexpr const char* fromLogHelp = "Chooses among those who have takes in this log";
inline constexpr const char* instrumentHelp = "Gives notes, fingerings and clef; the drill moves with it";
inline constexpr const char* startTempoHelp =
    "A tempo, in bpm, at which everything comes out; the plan starts there";
inline constexpr const char* takeWayHelp = "What begins and ends a take: a recording pass of the host, a "
                                           "pass of its loop, playing at all, a mark, or your hand";
inline constexpr const char* takeWayAloneHelp =
    "What begins and ends a take: starting and stopping, a mark by a pedal, or your hand on the button (T)";
inline constexpr const char* lookRoundField = "Invented player";
inline constexpr const char* firstStepsHelp =
    "Shows instrument, hearing and tempo on one page again; nothing is changed by it";

// Set-up: the drill.
inline constexpr const char* footHelp = "The lowest note, as it is written for your instrument";
inline constexpr const char* firstTopHelp = "How high the first rung goes, as written";
inline constexpr const char* lastTopHelp = "How high the last rung goes, as written: the ladder ends there";
inline constexpr const char* growthHelp =
    "Each rung is moved up as a whole by a semitone, or keeps its foot and grows by one";
inline constexpr const char* shapeHelp = "Which way a rung runs through its notes";
inline constexpr const char* noteValueHelp =
    "How long each note is written; with the tempo this is how fast fingers move";
inline constexpr const char* segmentsHelp =
    "1 even firm, 2 long-short, 3 short-long, 4 even relaxed: reorder, repeat or leave out";
inline constexpr const char* ratioHelp = "How much longer the long notes of the dotted segments are";
/// "How many times each segment is played before the next, 1 to 32".
[[nodiscard]] std::string repeatsHelp();
/// "Beats to breathe in after each segment, 0 to 32".
[[nodiscard]] std::string restHelp();
/// "Bars of click before the first note, 0 to 8".
[[nodiscard]] std::string countInHelp();
inline constexpr const char* fingeringHelp = "Which fingering is asked for where a note has several";
inline constexpr const char* mixingHelp = "Where fingerings are mixed: how often they alternate";
inline constexpr const char* openDrillHelp =
    "Reads a drill from a file (.json); the one before can be had back";
inline constexpr const char* saveDrillHelp =
    "Writes this drill to a file (.json), for another day or another player";

// Set-up: tempo, marks, sound.
inline constexpr const char* stepPerDayHelp =
    "How many bpm the plan adds on a new day after a take that passed";
inline constexpr const char* stepPerTakeHelp =
    "How many bpm it adds after each take that passed on the same day";
inline constexpr const char* ceilingHelp = "The plan goes no higher than this, in bpm";
inline constexpr const char* roundTripHelp =
    "How long sound takes out of this computer and back, in ms; it is taken off every onset";
inline constexpr const char* measureHelp =
    "Six short clicks: take headphones off, and hold one to the microphone";
inline constexpr const char* keepSoundHelp =
    "Keeps what the microphone hears of a take as a FLAC file beside the log";
inline constexpr const char* soundLimitHelp = "How many MB kept sound may take on this disk";
inline constexpr const char* dropOldestHelp =
    "Where the limit is reached, the oldest sound is deleted; else new sound is no longer kept";
inline constexpr const char* learnHelp =
    "Press this, then the key, pedal or controller of your MIDI device that is to do it";
inline constexpr const char* forgetHelp = "Takes the pedal off this again; nothing is started by it any more";

// Set-up: click, sounds, MIDI and clock.
inline constexpr const char* tempoFromHelp =
    "Our own clock runs at the plan's next tempo, or at the one set by hand";
inline constexpr const char* ownTempoHelp = "The tempo of our own clock, in bpm, where it is set by hand";
inline constexpr const char* startBarHelp = "The bar of the host at which the drill's count-in begins";
inline constexpr const char* listenChannelHelp = "The MIDI channel that counts as yours, 1 to 16, or any";
inline constexpr const char* soundThresholdHelp =
    "Sound below this level counts as silence, in dB of full scale: raise it where the room is loud";
inline constexpr const char* clickParameterHelp = "When the click sounds, as MIDI and by our own sound";
inline constexpr const char* ownSoundHelp =
    "Click, guide tone and backing sound by themselves, beside the MIDI";
inline constexpr const char* clickLevelHelp = "How loud the click of our own is, in dB below its loudest";
inline constexpr const char* toneHelp =
    "When the drill's notes sound to tune to: never, before the start, or throughout";
inline constexpr const char* toneLevelHelp = "How loud that tone is, in dB below its loudest";
inline constexpr const char* backingLevelHelp = "How loud the backing of our own is, in dB below its loudest";
inline constexpr const char* guidePitchHelp = "Guide notes go out as they sound, or as they are written";
inline constexpr const char* guideHelp = "The drill's notes go out as MIDI, for another instrument to play";
inline constexpr const char* valveLanesHelp =
    "Each valve goes out as a MIDI controller, to be seen beside the notes";
inline constexpr const char* midiClockHelp = "Sends MIDI clock, so that whatever follows one takes our tempo";
inline constexpr const char* repeatDrillHelp = "The drill starts over by itself at its end";
inline constexpr const char* linkHelp = "Shares tempo and beat with programs on this network by Ableton Link";
inline constexpr const char* backingHelp = "This part of the backing plays along with the drill";
inline constexpr const char* backingChannelHelp =
    "The MIDI channel, 1 to 16, that this part of the backing goes out on";

// Set-up: display and kept set-ups.
inline constexpr const char* displayFoldHelp =
    "Shows or folds colours, size, motion, the result after a take and how notes are named";
inline constexpr const char* shelfFoldHelp =
    "Shows or folds what was kept by a name or in a file, to have it back or give it away";
inline constexpr const char* themeHelp = "A dark room or a light one; the sheet is bright in both";
inline constexpr const char* scaleHelp =
    "How large everything is, in per cent, as far as the display has room";
inline constexpr const char* motionHelp =
    "The position on the staff steps from note to note instead of gliding";
inline constexpr const char* openResultHelp = "When a take ends, its result comes up without being asked for";
inline constexpr const char* namesHelp = "How notes are spelled on staff, strip and in words";
inline constexpr const char* pitchHelp =
    "Notes are named as your part has them, or as they sound at concert pitch";
inline constexpr const char* keysHelp = "Whether these keys reach the host from this window, or work in it";
inline constexpr const char* undoHelp = "Takes the last change of the set-up back (Ctrl+Z)";
inline constexpr const char* redoHelp = "Makes the change that was taken back once more (Ctrl+Y)";
inline constexpr const char* keptHelp = "Chooses a set-up that was kept on this computer by its name";
inline constexpr const char* keptLoadHelp =
    "Takes over all of the chosen one; Undo brings player, instrument and drill back";
inline constexpr const char* keepNameHelp = "1 to 100 letters; Return keeps the set-up under it";
inline constexpr const char* keepHelp =
    "Keeps all of the present one under the name above, over an older one of that name";
inline constexpr const char* shareHelp = "Writes the present set-up to a file that another player can open";
inline constexpr const char* takeOverHelp =
    "Reads a set-up that was written so; Undo brings player, instrument and drill back";

// Cards.
inline constexpr const char* closeCardHelp = "Puts this away; it stays in Messages";
inline constexpr const char* cardActionHelp = "Does what it says at once, and puts this away";

} // namespace valveladder::words
