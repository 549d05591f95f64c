#pragma once

#include "Findings/SideBySide.h"
#include "Records/TakeRecord.h"
#include "Score/Score.h"
#include "Valves/Instrument.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// One segment of one rung, as the ladder shows it.
struct CellModel {
    bool played = false;
    bool clean = false;
    int expected = 0;
    int right = 0;
    int faults = 0;    ///< wrong, missed, extra and breaths together
    std::string words; ///< for tooltip and screen reader
};

struct RungModel {
    std::string label;
    std::vector<CellModel> cells; ///< one for each segment
};

/// One expected note with what was measured of it.
struct NoteModel {
    int index = 0; ///< into Score::notes
    int rung = 0;
    int segment = 0;
    MidiNote written = 60;
    MidiNote sounding = 60;
    std::string combination;
    Outcome outcome = Outcome::missed;
    bool split = false;
    std::optional<double> deviationMs;
    std::optional<double> changeoverMs; ///< of the change into this note
    std::optional<double> cents;
    std::vector<ReportKind> reports;   ///< what was told of it, and stands
    std::optional<double> likelihood;  ///< that it is so, 0..1, the least where it is several things
    std::vector<ReportKind> saidRight; ///< what was, until the player said that the note was right
    Combination lateFingers;           ///< of the change into this note; none where none came late
    std::string fingersApart;          ///< the same in words: "3 after 2 by 31 ms"

    [[nodiscard]] std::optional<double> value(NoteMeasure measure) const; ///< ms or cents
};

/// A take as the place "after a take" shows it. Plain data.
struct TakeModel {
    std::string id;
    std::string heading; ///< "66 bpm, not passed"
    std::string counts;  ///< "82 of 84 right, 1 wrong, 1 breath"
    std::string detail;  ///< the same, and what else is known of the take as a whole
    bool whole = true;   ///< played to its end
    bool passed = true;
    int extras = 0; ///< notes that nobody asked for, also between segments
    std::vector<std::string> remarks;
    std::vector<std::string> segmentNames;
    std::vector<RungModel> rungs;
    std::vector<NoteModel> notes; ///< by index
    bool midiOnly = false;        ///< intonation cannot be measured
};

/// Precondition: `score` is what the take was heard against.
[[nodiscard]] TakeModel takeModel(const TakeRecord& record, const Score& score, const Instrument& instrument);

} // namespace valveladder
