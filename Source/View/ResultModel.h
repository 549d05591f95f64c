#pragma once

#include "View/TakeModel.h"
#include "Words/NoteSigns.h"

#include <optional>
#include <string>
#include <vector>

namespace valveladder {

[[nodiscard]] NoteSign signOf(const NoteModel& note);
[[nodiscard]] std::vector<NoteAside> asidesOf(const NoteModel& note);

/// What the player may say of a note.
struct CorrectionOffer {
    std::vector<NoteReport> reports;
    bool right = true; ///< false: to take back what they said
};

/// That what stands against the note was not so; where nothing stands any more, to take that back; nothing
/// where there never was anything.
[[nodiscard]] std::optional<CorrectionOffer> offerFor(const NoteModel& note);

/// A segment of a rung.
struct CellPlace {
    int rung = 0;
    int segment = 0;
    bool operator==(const CellPlace&) const = default;
};

/// Where the most went wrong: the cell with most faults, of equals the one furthest out of time; the first
/// played one where nothing did.
[[nodiscard]] CellPlace worstCell(const TakeModel& take);

/// The note that the slowest change of a cell leads into, where changeovers were measured.
[[nodiscard]] std::optional<int> slowestChange(const TakeModel& take, const CellPlace& cell);

/// One sentence that matters most, and what stands behind it.
struct ResultWords {
    std::string sentence;
    std::string verdict; ///< tempo and verdict; what was found over all takes, where the take itself leads
    std::string details; ///< intervals and counts of what was found, then those of the take
};

/// `claims`: what was found over all takes, the surest first. The take itself leads where something in it
/// kept it from passing, and where there are none.
[[nodiscard]] ResultWords resultWords(const TakeModel& take, const std::vector<std::string>& claims);

} // namespace valveladder
