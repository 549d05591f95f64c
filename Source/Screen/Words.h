#pragma once

#include "Log/TakeRecord.h"
#include "Score/Score.h"
#include "Session/SessionView.h"

#include <string>
#include <vector>

namespace valveladder::words {

/// Every text of the window that is made from results: one place to read and to translate.

[[nodiscard]] std::string tempoLine(const SessionView& view);
[[nodiscard]] std::string clockLine(const SessionView& view);
[[nodiscard]] std::string takeState(const SessionView& view);

/// "F#3-C4, segment 2 of 4: Long-short, firm".
[[nodiscard]] std::string place(const Score& score, std::size_t note);

/// One take of today's list.
struct TakeLine {
    std::string tempo;  ///< "64" or "64 (planned 66)"
    std::string notes;  ///< "84/84 right"
    std::string faults; ///< "1 wrong, 2 missed"
    std::string even;   ///< "4.1 %"
    std::string verdict;
};
[[nodiscard]] TakeLine takeLine(const TakeSummary& take);

} // namespace valveladder::words
