#include "Records/Fields.h"

#include <algorithm>

namespace valveladder {

bool passes(const PassRule& rule, TakeState state, const Performance& played) {
    return played.measured() && passes(rule, state == TakeState::whole, played.count(Outcome::wrong),
                                       played.count(Outcome::missed), static_cast<int>(played.extras.size()),
                                       played.worstIoiSpreadPercent());
}

TakeSummary summaryOf(const TakeRecord& record) {
    const Performance& played = record.performance;
    TakeSummary summary;
    summary.header = record.header;
    summary.endedUtc = record.endedUtc;
    summary.state = record.state;
    summary.end = record.end;
    summary.playedBpm = record.playedBpm;
    summary.clock = record.clock;
    summary.roundTripMs = record.roundTripMs;
    summary.roundTripFrom = record.roundTripFrom;
    summary.soundFile = record.soundFile;
    summary.passed = record.passed;
    summary.playerNote = record.playerNote;
    summary.messages = record.messages;
    summary.source = played.source;
    summary.expected = static_cast<int>(played.notes.size());
    summary.right = played.count(Outcome::right);
    summary.wrong = played.count(Outcome::wrong);
    summary.missed = played.count(Outcome::missed);
    summary.extra = static_cast<int>(played.extras.size());
    summary.breaths = static_cast<int>(
        std::ranges::count_if(played.notes, [](const NoteResult& note) { return note.breathBefore; }));
    summary.clean = played.clean();
    summary.asynchronyMs = played.asynchronyMs;
    summary.worstIoiSpreadPercent = played.worstIoiSpreadPercent();
    return summary;
}

} // namespace valveladder
