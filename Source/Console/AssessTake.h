#pragma once

#include "Console/DrillOptions.h"
#include "Console/LogOptions.h"
#include "Console/TakeText.h"
#include "Records/TakeRecord.h"
#include "Tempo/TempoMap.h"

#include <functional>
#include <optional>
#include <string>

namespace valveladder::console {

struct AssessOptions {
    std::string file; ///< of one take
    DrillOptions drill;
    LogOptions log;
    std::optional<double> bpm;          ///< unset = the file's own tempo, or found in the sound
    std::optional<double> startQuarter; ///< MIDI only; unset = 0
    std::optional<double> startSeconds; ///< sound only; unset = found
    int channel = 0;                    ///< from 1; 0 = any but 10 of MIDI, all of a sound mixed
    std::optional<double> roundTripMs;
    bool keep = false;
    std::string playedAt; ///< "" = when the file was written
    std::string note;
    bool asPlayed = false; ///< planned at the tempo that was played
    bool invented = false;
};

/// A take read from a file, held against its score.
struct Listened {
    DrillOptions::Chosen chosen;
    Score score;
    TempoMap tempo;              ///< score quarters to seconds
    double lengthQuarters = 0.0; ///< of the recording, from the score's tick 0
    double startQuarter = 0.0;   ///< of tick 0 in the file; 0 for sound
    Performance performance;

    /// The recording reaches the drill's end, or nearly: clips are often cut at the last note's end.
    [[nodiscard]] bool isWhole() const;
};

/// A take as it would stand in the log.
struct Assessed {
    TakeRecord take;
    std::optional<TakeScore> from;
    std::optional<TempoRules> rules; ///< of the drill's file: kept with the take where the log holds none
};

/// Called with the share done, 0..1.
using ShareDone = std::function<void(double)>;

/// Whether the file holds sound: by its name, unless it begins as MIDI.
[[nodiscard]] bool isSound(const std::string& file);

/// Reads a file of either kind and matches it. Writes nothing; may run on any thread.
[[nodiscard]] Result<Listened> listenToFile(const AssessOptions& options, const ShareDone& progress);

/// Judges what was heard by the rules in the log. Writes nothing.
[[nodiscard]] Result<Assessed> recordOf(const AssessOptions& options, Listened heard);

/// Puts the take into the log, and says how it is called there (takeName); refuses one that is there already.
[[nodiscard]] Result<std::string> keep(const AssessOptions& options, const Assessed& assessed);

} // namespace valveladder::console
