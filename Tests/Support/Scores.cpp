#include "Support/Scores.h"

#include <cmath>
#include <stdexcept>

namespace valveladder::test {

namespace {

Tick ticks(double quarters) {
    return std::llround(quarters * ticksPerQuarter);
}

Score built(const Drill& drill, const Instrument& instrument, double bpm) {
    Result<Score> score = buildScore(drill, instrument, bpm);
    if (!score)
        throw std::runtime_error(score.problem().text());
    return score.value();
}

} // namespace

Score smallScore(const std::vector<SmallNote>& notes, double quarters, double countInQuarters) {
    Score score;
    score.rungLabels = {"C4"};
    score.segmentNames = {"Even, firm"};
    score.countInTicks = ticks(countInQuarters);
    score.length = ticks(quarters);
    score.bpm = 60.0;
    for (const SmallNote& small : notes) {
        ScoreNote note;
        note.onset = ticks(small.onset);
        note.length = static_cast<int>(ticks(small.length));
        note.gate = note.length;
        note.sounding = small.sounding;
        note.written = small.sounding + 2;
        note.combination = small.combination;
        note.velocity = small.velocity;
        score.notes.push_back(note);
    }
    if (!notes.empty())
        score.spans.push_back({0, 0, 0, static_cast<int>(notes.size()), score.notes.front().onset,
                               score.notes.back().onset + score.notes.back().length});
    return score;
}

Drill ladderUp(const Instrument& instrument) {
    Drill drill = defaultDrill(instrument);
    std::get<LadderPattern>(drill.pattern).shape = Shape::up;
    return drill;
}

Score oneRung(const Instrument& instrument, double bpm, bool slurred) {
    Drill drill = defaultDrill(instrument);
    auto& ladder = std::get<LadderPattern>(drill.pattern);
    ladder.lastTop = ladder.firstTop;
    for (Segment& segment : drill.segments)
        segment.slurred = slurred;
    return built(drill, instrument, bpm);
}

Score ladderScore(double bpm) {
    return built(defaultDrill(*findInstrument("trumpet-b-flat")), *findInstrument("trumpet-b-flat"), bpm);
}

std::vector<Score> variedScores() {
    const Drill usual = defaultDrill(*findInstrument("trumpet-b-flat"));
    std::vector<Score> scores{ladderScore()};
    Drill cells = usual;
    cells.pattern = CellPattern{{{60, 61}, {64, 62, 63}, {57, 56, 57, 56}}};
    cells.countInBars = 0;
    cells.rest = {1.0, Rest::Unit::beats, false};
    scores.push_back(built(cells, *findInstrument("trumpet-b-flat"), 80.0));
    Drill tongued = usual;
    tongued.meter = {6, 8};
    tongued.noteTicks = ticksPerQuarter / 3;
    tongued.segments.resize(2);
    for (Segment& segment : tongued.segments)
        segment.slurred = false;
    tongued.segments[1].rhythm = Rhythm::longShort(2, 1);
    scores.push_back(built(tongued, *findInstrument("trumpet-b-flat"), 60.0));
    Drill quintuplets = cells;
    quintuplets.meter = {3, 4};
    quintuplets.noteTicks = ticksPerQuarter / 5;
    quintuplets.segments = {usual.segments[2]};
    scores.push_back(built(quintuplets, *findInstrument("trumpet-b-flat"), 60.0));
    Drill repeated = cells;
    repeated.pattern = CellPattern{{{61, 61, 61}}};
    repeated.rest = {0.0, Rest::Unit::beats, false};
    repeated.countInBars = 1;
    repeated.meter = {2, 4};
    scores.push_back(built(repeated, *findInstrument("trumpet-b-flat"), 60.0));
    return scores;
}

} // namespace valveladder::test
