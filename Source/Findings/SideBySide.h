#pragma once

#include "Listening/Performance.h"
#include "Score/Score.h"

#include <array>
#include <string>
#include <vector>

namespace valveladder {

enum class SideMeasure { deviation, changeover, intonation };
inline constexpr int sideMeasures = 3;
[[nodiscard]] const char* name(SideMeasure measure); ///< "deviation", ...
[[nodiscard]] const char* unit(SideMeasure measure); ///< "ms" or "cents"

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

/// A group's note against the first group's.
struct SideDifference {
    double value = 0.0;
    double p = 1.0; ///< adjusted over notes (Benjamini-Hochberg)
    bool measured = false;
    bool beyondChance = false;
};

struct SideNote {
    int note = 0;                                                      ///< into Score::notes
    std::vector<std::array<SideValue, sideMeasures>> values;           ///< one for each group
    std::vector<std::array<SideDifference, sideMeasures>> differences; ///< groups 1.. against group 0
    std::vector<int> right;                                            ///< times right, one for each group
};

/// All notes together: the median difference of a group from the first, with its interval; n = notes.
struct SideOverall {
    std::array<Estimate, sideMeasures> difference;
    std::array<bool, sideMeasures> beyondChance{};
};

struct SideBySide {
    std::vector<std::string> labels;
    std::vector<double> bpm;
    std::vector<SideNote> notes;      ///< of the score, in order
    std::vector<SideOverall> overall; ///< groups 1.. against group 0
};

/// Share of false ones accepted among the notes said to differ beyond chance.
inline constexpr double sideFalseShare = 0.05;

/// Two groups or more, note by note. A note's difference counts as beyond chance when it stands out from how
/// all notes' differences scatter (scaled MAD about their median, Student p, Benjamini-Hochberg), so that it
/// is the player's own scatter that is compared with. A change of all notes alike is told by `overall`.
[[nodiscard]] SideBySide sideBySide(const Score& score, const std::vector<SideGroup>& groups);

[[nodiscard]] std::string sideText(const SideBySide& sides, const Score& score);
/// RFC 4180, UTF-8, one row for each note and group.
[[nodiscard]] std::string sideCsv(const SideBySide& sides, const Score& score);
[[nodiscard]] std::string sideJson(const SideBySide& sides, const Score& score);
/// A picture of one measure, self-contained; groups differ in shape as well as colour.
[[nodiscard]] std::string sideSvg(const SideBySide& sides, const Score& score, SideMeasure measure);

} // namespace valveladder
