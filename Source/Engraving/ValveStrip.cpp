#include "Engraving/ValveStrip.h"

#include <algorithm>

namespace valveladder {

std::vector<ValveHold> valveStrip(const Score& score, const Page& page) {
    std::vector<ValveHold> holds;
    for (int valve = 1; valve <= maxValves; ++valve)
        for (int i = page.firstNote; i < page.firstNote + page.noteCount; ++i) {
            const ScoreNote& note = score.notes[static_cast<std::size_t>(i)];
            if (!note.combination.has(valve))
                continue;
            const Tick end = note.onset + note.length;
            if (!holds.empty() && holds.back().valve == valve && holds.back().to == note.onset)
                holds.back().to = end;
            else
                holds.push_back({valve, note.onset, end});
        }
    return holds;
}

} // namespace valveladder
