#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>

/// Texts of the plugin that are not the window's alone: parameters as a host lists them, messages, refusals.
/// To be read and translated together with the window's own, in View/Words.h.
namespace valveladder::words {

// Parameters: labels, choices and units. A host keeps the ids, which are no texts, and never these.
inline constexpr const char* guideParameter = "Guide notes";
inline constexpr const char* clickParameter = "Click";
inline constexpr std::array<const char*, 3> clickChoices{"Off", "Count-in only", "Always"};
inline constexpr const char* valveLanesParameter = "Valve controllers";
inline constexpr const char* midiClockParameter = "MIDI clock out";
inline constexpr const char* pitchParameter = "Guide pitch";
inline constexpr std::array<const char*, 2> pitchChoices{"Sounding", "Written"};
inline constexpr const char* guideChannelParameter = "Guide channel";
inline constexpr const char* clickChannelParameter = "Click channel";
inline constexpr const char* startBarParameter = "Start bar";
inline constexpr const char* repeatParameter = "Repeat drill";
inline constexpr const char* takeWayParameter = "Takes by";
inline constexpr std::array<const char*, 5> takeWayChoices{"Recording pass", "Loop pass", "Playing", "Marker",
                                                           "Hand"};
/// Where no host records or loops, by the index of the way.
inline constexpr std::array<std::pair<int, const char*>, 3> takeWaysAlone{
    {{0, "Start"}, {3, "Marker"}, {4, "Hand"}}};
inline constexpr const char* takeParameter = "Take";
inline constexpr const char* ownClockParameter = "Own clock";
inline constexpr const char* tempoFromParameter = "Own clock tempo";
inline constexpr std::array<const char*, 2> tempoFromChoices{"Planned", "Set by hand"};
inline constexpr const char* ownTempoParameter = "Tempo by hand";
inline constexpr const char* tempoUnit = "bpm";
inline constexpr const char* soundThresholdParameter = "Sound threshold";
inline constexpr const char* levelUnit = "dBFS";
inline constexpr const char* listenChannelParameter = "Player's channel";
inline constexpr const char* anyChannel = "any";
inline constexpr const char* linkParameter = "Ableton Link";
/// By BackingPart.
inline constexpr std::array<const char*, 4> backingParameters{"Backing: drone", "Backing: chord pad",
                                                              "Backing: bass", "Backing: drums"};
inline constexpr std::array<const char*, 4> backingChannelParameters{"Drone channel", "Pad channel",
                                                                     "Bass channel", "Drum channel"};

// Our own sound, beside the MIDI.
inline constexpr const char* ownSoundParameter = "Own sound";
inline constexpr const char* toneParameter = "Guide tone";
inline constexpr std::array<const char*, 3> toneChoices{"Off", "Count-in only", "Always"};
inline constexpr const char* clickLevelParameter = "Click level";
inline constexpr const char* toneLevelParameter = "Guide tone level";
inline constexpr const char* backingLevelParameter = "Backing level";
inline constexpr const char* partLevelUnit = "dB"; ///< below the loudest that the part gets

// The Standalone.
inline constexpr const char* programName = "Valve Ladder";
inline constexpr const char* soundDevice = "sound device";
inline constexpr const char* mixedChannels = "the first two, mixed";
inline constexpr const char* noSuchDevice = "it is no longer there";
inline constexpr const char* noSoundBy = "no sound device can be opened by it";
inline constexpr const char* chooseAnother = "choose another one";

// What a host shows of the plugin.
inline constexpr const char* inputBus = "Player";
inline constexpr const char* outputBus = "Through";
inline constexpr const char* onlyProgram = "Default";

// Messages while it runs.
inline constexpr const char* recordingUnknown =
    "This host does not say when it records: a take is noticed when you play";
inline constexpr const char* positionAssumed =
    "This host tells an LV2 plugin bars but not quarters. If the meter changes before this bar, the guide "
    "may be "
    "bars away: play the session from its start once, or use the VST3";
inline constexpr const char* cannotRepeat =
    "Repeat: another clock leads, so take it back to the rung yourself; the tempo is yours, too";
[[nodiscard]] std::string computerTooSlow(std::uint64_t blocks, std::uint64_t midiEvents,
                                          std::uint64_t samples);

// The round trip, measured by clicks.
inline constexpr const char* roundTrip = "round trip";
inline constexpr const char* notMeasuredBecause = "Not measured: ";
inline constexpr const char* noInputOrOutput = "there is no input or no output";
inline constexpr const char* giveBoth = "give the plugin's track both";
inline constexpr const char* chooseBoth =
    "choose both in the first steps"; ///< of a program that stands alone
inline constexpr const char* measuringAlready = "it is being measured already";
inline constexpr const char* waitForEnd = "wait for its end";
inline constexpr const char* transportRuns = "it cannot be measured while the transport runs";
inline constexpr const char* stopThenMeasure = "stop, and measure then";
inline constexpr const char* transportStarted = "the transport started meanwhile";
inline constexpr const char* deviceChanged = "the sound device changed meanwhile";
inline constexpr const char* measureAgain = "measure again";
inline constexpr const char* noSoundRuns = "no sound runs";
inline constexpr const char* startDeviceMeasureAgain = "start the sound device, and measure again";

// Kept sound.
inline constexpr const char* playingSound = "playing";
inline constexpr const char* startSound = "start the sound device or the audio";

// A state that a host kept, or a set-up's file.
inline constexpr const char* stateName = "the plugin's state";
inline constexpr const char* defaultsKept = "the defaults are kept; set up anew";
inline constexpr const char* updateOrSetUpAnew = "update Valve Ladder, or set up anew; the defaults are kept";
inline constexpr const char* notOurState = "this is not a state of Valve Ladder";
inline constexpr const char* stateWithoutVersion = "the version is missing";
inline constexpr const char* stateUnreadable = "it is not readable, or was cut off";
[[nodiscard]] std::string wrongType(const std::string& member);
[[nodiscard]] std::string notANumber(const std::string& member);
[[nodiscard]] std::string newerState(std::int64_t version, int readUpTo);
[[nodiscard]] std::string stateTooLong(std::size_t bytes);

} // namespace valveladder::words
