#pragma once

#include "Listening/Performance.h"
#include "Score/Score.h"

#include <array>
#include <string>
#include <vector>

namespace valveladder {

/// What is measured of each note.
enum class NoteMeasure { deviation, changeover, intonation };
inline constexpr int sideMeasures = 3;
[[nodiscard]] const char* name(NoteMeasure measure); ///< "deviation", ...
[[nodiscard]] const char* unit(NoteMeasure measure); ///< "ms" or "cents"

/// One take, or all takes of a day: what is laid beside something else.
struct SideGroup {
    std::string label;
    double bpm = 0.0;                      ///< played, quarters a minute
    std::vector<const Performance*> takes; ///< heard against the same drill
};

/// Mean of one measure of one note in one group.
struct SideValue {
    double value = 0.0;
    int n = 0;
};

/// A group's note against the first group's: for the picture alone. One note is played too seldom to say
/// more; what may be more than chance is told a change (ComparedChange).
struct SideDifference {
    double value = 0.0;
    bool measured = false;
};

/// How one change went in a group against the first group, all its notes taken together.
struct ComparedChange {
    Change change;
    Estimate difference;       ///< of the group from the first, beyond what all changes differ by; n = notes
    double p = 1.0;            ///< that chance alone gives so much to any change of the drill
    bool beyondChance = false; ///< p within the share allowed
};

struct SideNote {
    int note = 0;                                                      ///< into Score::notes
    std::vector<std::array<SideValue, sideMeasures>> values;           ///< one for each group
    std::vector<std::array<SideDifference, sideMeasures>> differences; ///< groups 1.. against group 0
    std::vector<int> right;                                            ///< times right, one for each group
};

/// A group against the first.
struct SideOverall {
    std::array<Estimate, sideMeasures> difference; ///< all notes together: median, its interval; n = notes
    /// The takes' own levels differ by more than takes of a side differ among themselves (Welch, "The
    /// Generalization of Student's Problem when Several Different Population Variances are Involved", 1947).
    /// Never with a single take on either side: its level is its own day's.
    std::array<bool, sideMeasures> beyondChance{};
    /// Deviation and changeover; empty for intonation. In the order of the drill.
    std::array<std::vector<ComparedChange>, sideMeasures> changes;
};

struct SideBySide {
    std::vector<std::string> labels;
    std::vector<double> bpm;
    std::vector<SideNote> notes;      ///< of the score, in order
    std::vector<SideOverall> overall; ///< groups 1.. against group 0
};

/// Chance of anything false said to be beyond chance where two sides are equal: what all changes of both
/// measures take of it, and each measure's level. Together one in twenty for two sides, shared out where
/// there are more.
inline constexpr double changesFalseShare = 0.044;
inline constexpr double levelFalseShare = 0.002;

/// Two groups or more: totals, changes, and notes for the picture.
[[nodiscard]] SideBySide sideBySide(const Score& score, const std::vector<SideGroup>& groups);

} // namespace valveladder
