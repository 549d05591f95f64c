#include "Support/SoundPlan.h"

#include <algorithm>
#include <numeric>
#include <set>

namespace valveladder::testing {

const char* nameOf(Articulation articulation) {
    switch (articulation) {
    case Articulation::detached:
        return "detached";
    case Articulation::slur:
        return "slur";
    case Articulation::glide:
        return "glide";
    }
    return "";
}

namespace {

std::vector<int> runNotes(const RunShape& shape) {
    std::vector<int> notes;
    for (int n = shape.foot; n <= shape.top; ++n)
        notes.push_back(n);
    for (int n = shape.top - 1; n >= shape.foot; --n)
        notes.push_back(n);
    return notes;
}

/// Valve chart of the lowest two partials: lowering in semitones to combination bits (valve 1 = bit 0).
Combination usual(int written) {
    constexpr std::uint8_t byLowering[] = {0b000, 0b010, 0b001, 0b011, 0b110, 0b101, 0b111};
    const int partial = written <= 60 ? 60 : 67;
    return Combination(byLowering[static_cast<std::size_t>(std::clamp(partial - written, 0, 6))]);
}

} // namespace

Score chromaticRun(const RunShape& shape, double bpm) {
    Score score;
    score.bpm = bpm;
    score.countInTicks = score.meter.barTicks();
    const std::vector<int> notes = runNotes(shape);
    Tick at = score.countInTicks;
    int segment = 0;
    for (const auto& rhythm : shape.rhythms) {
        const int span = static_cast<int>(score.spans.size());
        score.spans.push_back(
            {0, segment, static_cast<int>(score.notes.size()), static_cast<int>(notes.size()), at, at});
        const int sum = std::accumulate(rhythm.begin(), rhythm.end(), 0);
        const auto [least, most] = std::minmax_element(rhythm.begin(), rhythm.end());
        const bool even = *least == *most;
        for (std::size_t i = 0; i < notes.size(); ++i) {
            const int share = rhythm[i % rhythm.size()];
            ScoreNote note;
            note.onset = at;
            note.length = shape.noteTicks * static_cast<int>(rhythm.size()) * share / sum;
            note.gate = note.length;
            note.written = notes[i];
            note.sounding = notes[i] + shape.transposition;
            note.combination = usual(notes[i]);
            note.slurFromPrevious = shape.slurred && i > 0;
            note.isLong = !even && share == *most;
            note.isShort = !even && share == *least;
            note.segment = segment;
            note.span = span;
            score.notes.push_back(note);
            at += note.length;
        }
        score.spans.back().end = at;
        at = (at + score.meter.barTicks() - 1) / score.meter.barTicks() * score.meter.barTicks() +
             2 * score.meter.beatTicks();
        ++segment;
        score.segmentNames.push_back("segment");
    }
    score.rungLabels = {"run"};
    score.length = at;
    return score;
}

namespace {

struct Choice {
    std::set<int> wrong;
    std::set<int> missed;
    std::set<int> split;
    std::set<int> breaths;
};

/// Different notes for each fault, never the first of a span and never neighbours.
Choice choose(const Score& score, const PlanFaults& faults, bool bent, std::mt19937& random) {
    std::vector<int> order(score.notes.size());
    std::iota(order.begin(), order.end(), 0);
    std::shuffle(order.begin(), order.end(), random);
    std::set<int> taken;
    const auto pitch = [&](int i) { return score.notes[static_cast<std::size_t>(i)].sounding; };
    const auto pick = [&](int count, bool leavesNoTrace = false) {
        std::set<int> chosen;
        for (const int i : order) {
            if (static_cast<int>(chosen.size()) >= count)
                break;
            const ScoreSpan& span =
                score.spans[static_cast<std::size_t>(score.notes[static_cast<std::size_t>(i)].span)];
            if (i == span.firstNote || i == span.firstNote + span.noteCount - 1)
                continue;
            if (taken.contains(i) || taken.contains(i - 1) || taken.contains(i + 1))
                continue;
            // Bent past a missed note to the pitch that sounds already, nothing would be heard of the next.
            if (leavesNoTrace && pitch(i - 1) == pitch(i + 1))
                continue;
            chosen.insert(i);
            taken.insert(i);
        }
        return chosen;
    };
    Choice c;
    c.wrong = pick(faults.wrong);
    c.missed = pick(faults.missed, bent);
    c.breaths = pick(faults.breaths);
    c.split = pick(faults.split);
    return c;
}

int wrongPitch(const Score& score, int index, std::mt19937& random) {
    // A neighbour by a wrong valve, or another partial of the same combination.
    const int away[] = {-2, -1, 1, 2, 5, 7, -5};
    const auto at = [&](int i) { return score.notes[static_cast<std::size_t>(i)].sounding; };
    for (;;) {
        const int pitch = at(index) + away[random() % std::size(away)];
        if (pitch != at(index - 1) && pitch != at(index + 1) && pitch >= 28)
            return pitch;
    }
}

double gateOf(const PlanStyle& style, std::mt19937& random) {
    if (style.gateSpread <= 0.0)
        return style.gateShare;
    std::normal_distribution<double> spread(style.gateShare, style.gateSpread);
    return std::clamp(spread(random), 0.4, 0.97);
}

/// The part of the changeover into `note`, if it is there, that lies on either side of its onset, seconds.
double halfChangeover(const TrueNote* note) {
    return note == nullptr ? 0.0 : 0.0005 * note->changeoverMs.value_or(0.0);
}

/// Both halves last as planned; where the note is too short it stays whole. `next`: the note after it.
void placeSplit(TrueNote& note, const TrueNote* next) {
    if (!note.splitAt)
        return;
    const double from = note.onset + halfChangeover(&note) + leastHalf + splitGap;
    const double to = note.offset - halfChangeover(next) - leastHalf;
    if (from > to) {
        note.splitAt.reset();
        return;
    }
    note.splitAt = std::clamp(*note.splitAt, from, to);
    note.firstStops = *note.splitAt - splitGap;
}

} // namespace

const TrueNote* SoundPlan::note(int index) const {
    const auto found = std::ranges::find(notes, index, &TrueNote::index);
    return found == notes.end() ? nullptr : &*found;
}

double shorterHalf(const TrueNote& note, const TrueNote* next) {
    const double first = note.firstStops - note.onset - halfChangeover(&note);
    const double second = note.offset - *note.splitAt - halfChangeover(next);
    return std::min(first, second);
}

SoundPlan planTake(const Score& score, double bpm, const PlanStyle& style, const PlanFaults& faults,
                   std::uint32_t seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> jitter(0.0, 1.0);
    std::uniform_real_distribution<double> uniform(0.0, 1.0);
    const Choice choice = choose(score, faults, style.articulation == Articulation::glide, random);
    const TempoMap tempo(bpm);
    const auto secondsAt = [&](Tick tick) {
        return style.startSeconds + tempo.secondsAt(static_cast<double>(tick) / ticksPerQuarter);
    };
    SoundPlan plan;
    plan.startSeconds = style.startSeconds;
    double late = 0.0;
    for (std::size_t i = 0; i < score.notes.size(); ++i) {
        const ScoreNote& expected = score.notes[i];
        const int index = static_cast<int>(i);
        const bool first = score.spans[static_cast<std::size_t>(expected.span)].firstNote == index;
        if (first)
            late = 0.0;
        if (choice.missed.contains(index)) {
            plan.missed.push_back(index);
            continue;
        }
        TrueNote note;
        note.index = index;
        const double ioi = secondsAt(expected.onset + expected.length) - secondsAt(expected.onset);
        const double limit = 0.2 * ioi * 1000.0;
        note.onset = secondsAt(expected.onset) + late +
                     0.001 * std::clamp(faults.jitterMs * jitter(random), -limit, limit);
        note.midi = expected.sounding;
        note.tongued = first || style.articulation != Articulation::glide;
        if (choice.wrong.contains(index)) {
            note.wrong = true;
            note.midi = wrongPitch(score, index, random);
        }
        if (choice.breaths.contains(index) && !plan.notes.empty()) {
            // On top of the silence that would be there anyway.
            const double anyway = std::max(0.0, note.onset - plan.notes.back().offset);
            const double breath = anyway + 0.13 + 0.17 * uniform(random);
            const double spoken =
                plan.notes.back().onset + std::max(0.07, 0.6 * (note.onset - plan.notes.back().onset));
            const double extra = std::max(0.0, spoken + breath - note.onset);
            late += extra;
            note.onset += extra;
            note.breathBefore = true;
            note.tongued = true;
            plan.notes.back().offset = note.onset - breath;
        } else if (!first && style.articulation != Articulation::detached && !plan.notes.empty())
            plan.notes.back().offset = note.onset; // held over a missed note
        const bool tailed = style.articulation == Articulation::detached;
        note.offset = note.onset + ioi * (tailed ? gateOf(style, random) : 1.0);
        if (!note.tongued) {
            // Both notes must settle: a changeover takes no more than 0.6 of the shorter interval beside it.
            const double before = plan.notes.empty() ? ioi : note.onset - plan.notes.back().onset;
            const double drawn =
                style.minChangeoverMs + (style.maxChangeoverMs - style.minChangeoverMs) * uniform(random);
            // Drawn is the whole bend; a changeover by definition is the middle nine tenths of a straight
            // one.
            note.changeoverMs = 0.9 * std::min(drawn, 600.0 * std::min(before, ioi));
        }
        if (choice.split.contains(index))
            note.splitAt = note.onset + std::max(0.4 * (note.offset - note.onset), 0.075);
        plan.notes.push_back(note);
    }
    for (std::size_t i = 0; i < plan.notes.size(); ++i)
        placeSplit(plan.notes[i], i + 1 < plan.notes.size() ? &plan.notes[i + 1] : nullptr);
    plan.length = plan.notes.empty() ? style.startSeconds + 1.0 : plan.notes.back().offset + 0.6;
    return plan;
}

} // namespace valveladder::testing
