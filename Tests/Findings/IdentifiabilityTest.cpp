#include "Findings/Identifiability.h"
#include "Findings/SeparatingDrill.h"
#include "Support/FindingsTrials.h"
#include "Valves/Fingering.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <numeric>
#include <random>
#include <set>

namespace valveladder {
namespace {

using namespace simulated;

/// Rank over the rationals by fraction-free elimination in whole numbers (Bareiss 1968); entries are 0 and 1,
/// at most nine columns, so nothing overflows.
int exactRank(std::vector<std::vector<std::int64_t>> rows) {
    if (rows.empty())
        return 0;
    std::size_t rank = 0;
    std::int64_t previous = 1;
    for (std::size_t column = 0; column < rows[0].size() && rank < rows.size(); ++column) {
        const auto pivot = std::find_if(rows.begin() + static_cast<std::ptrdiff_t>(rank), rows.end(),
                                        [&](const auto& row) { return row[column] != 0; });
        if (pivot == rows.end())
            continue;
        std::iter_swap(rows.begin() + static_cast<std::ptrdiff_t>(rank), pivot);
        for (std::size_t r = rank + 1; r < rows.size(); ++r) {
            for (std::size_t c = column + 1; c < rows[r].size(); ++c)
                rows[r][c] = (rows[rank][column] * rows[r][c] - rows[r][column] * rows[rank][c]) / previous;
            rows[r][column] = 0;
        }
        previous = rows[rank][column];
        ++rank;
    }
    return static_cast<int>(rank);
}

/// The distinct changes as rows of ones (the level) and finger effects; `without` leaves one effect out.
int rankOfPlayed(const std::set<Change>& changes, const std::vector<Suspect>& effects, int without = -1) {
    std::vector<std::vector<std::int64_t>> rows;
    for (const auto& change : changes) {
        std::vector<std::int64_t> row{1};
        for (std::size_t e = 0; e < effects.size(); ++e)
            if (static_cast<int>(e) != without)
                row.push_back(effects[e].concerns(change) ? 1 : 0);
        rows.push_back(std::move(row));
    }
    return exactRank(std::move(rows));
}

TakeEvidence takeOf(const Drill& drill, const Instrument& instrument) {
    TakeEvidence take;
    take.changes = changesAsked(drill, instrument);
    return take;
}

/// A ladder or some cells within the range, fingered as usual.
Drill usualDrill(const Instrument& instrument, std::mt19937_64& random) {
    const auto within = [&](int low, int high) {
        return std::uniform_int_distribution<int>(low, high)(random);
    };
    Drill drill = defaultDrill(instrument);
    const MidiNote low = instrument.ladderFoot;
    if (within(0, 1) == 0) {
        auto& ladder = std::get<LadderPattern>(drill.pattern);
        ladder.foot = low + within(0, 4);
        ladder.firstTop = ladder.foot + within(2, 8);
        ladder.lastTop = ladder.firstTop + within(0, 3);
        ladder.shape = within(0, 1) == 0 ? Shape::up : Shape::upDown;
    } else {
        CellPattern pattern;
        for (int cell = within(1, 6); cell > 0; --cell)
            pattern.cells.push_back({low + within(0, 12), low + within(0, 12), low + within(0, 12)});
        drill.pattern = pattern;
    }
    return drill;
}

// Checked against whole-number elimination of the same changes, which shares no code with it.
TEST(FindingsIdentifiable, EveryUsualFingeringLogNamesExactlyWhatCannotBeToldApart) {
    const int logs = trialSize(2000, 200);
    std::mt19937_64 random(42);
    int right = 0, short_ = 0;
    for (int i = 0; i < logs; ++i) {
        const auto& all = catalogue();
        const auto& instrument = all[static_cast<std::size_t>(i) % all.size()];
        const std::vector<TakeEvidence> takes(2, takeOf(usualDrill(instrument, random), instrument));
        std::set<Change> changes;
        for (const auto& evidence : takes[0].changes)
            changes.insert(evidence.change);
        const auto found = identifiability(takes, instrument.valves, instrument.thumbValve);
        const auto effects = fingerEffects(instrument.valves);
        const int rank = rankOfPlayed(changes, effects);
        std::set<Suspect> expected, told;
        for (std::size_t e = 0; e < effects.size(); ++e)
            if (rankOfPlayed(changes, effects, static_cast<int>(e)) == rank)
                expected.insert(effects[e]);
        for (const auto& group : found.inseparable)
            told.insert(group.begin(), group.end());
        told.insert(found.neverPlayed.begin(), found.neverPlayed.end());
        right += told == expected && (expected.empty() || !found.words.empty()) ? 1 : 0;
        short_ += expected.empty() ? 0 : 1;
    }
    report(fmt::format(
        "usual fingerings only: what cannot be told apart is named exactly in {} of {} logs ({} of "
        "them held such effects)",
        right, logs, short_));
    EXPECT_EQ(right, logs);
    EXPECT_GT(short_, logs / 2);
}

// A plain chromatic run with three valves never moves finger 3 alone, and one direction is missing.
TEST(FindingsIdentifiable, ChromaticRunIsOneRankShort) {
    const auto& trumpet = *findInstrument("trumpet-b-flat");
    const std::vector<TakeEvidence> takes{takeOf(defaultDrill(trumpet), trumpet)};
    const auto found = identifiability(takes, 3);
    EXPECT_EQ(found.effects, 6);
    EXPECT_LT(found.rank, 6);
    ASSERT_FALSE(found.inseparable.empty());
    EXPECT_NE(found.words.front().find("cannot be told apart"), std::string::npos);
}

TEST(FindingsIdentifiable, MixingFourForOneThreeNoteByNoteGivesFullRank) {
    const std::vector<TakeEvidence> takes{takeOf(fullDrill(trialInstrument()), trialInstrument())};
    const auto found = identifiability(takes, 4);
    EXPECT_TRUE(found.complete());
    EXPECT_EQ(found.rank, 8);
    EXPECT_LT(found.condition, 12.0);
}

TEST(FindingsIdentifiable, ChosenDrillMakesEveryFingerEffectKnown) {
    for (const char* id : {"trumpet-b-flat", "euphonium-4-treble", "tuba-f-4"}) {
        const auto* instrument = findInstrument(id);
        if (!instrument)
            continue;
        std::vector<TakeEvidence> takes{takeOf(defaultDrill(*instrument), *instrument)};
        const auto chosen = drillThatSeparates(takes, {}, *instrument, usualLimits(*instrument, 66.0));
        ASSERT_TRUE(chosen.has_value()) << id;
        ASSERT_TRUE(checked(chosen->drill, *instrument).ok()) << id;
        EXPECT_LE(chosen->seconds, usualLimits(*instrument, 66.0).maxSeconds) << id;
        takes.push_back(takeOf(chosen->drill, *instrument));
        const auto after = identifiability(takes, instrument->valves);
        EXPECT_TRUE(after.inseparable.empty()) << id << ": " << chosen->words;
    }
}

TEST(FindingsIdentifiable, DrillPlaysTheFingeringsItWasChosenFor) {
    const auto& instrument = trialInstrument();
    const auto chosen = drillThatSeparates({}, {}, instrument, usualLimits(instrument, 66.0));
    ASSERT_TRUE(chosen.has_value());
    std::set<Change> wanted, asked;
    for (const auto& cell : chosen->cells)
        for (const auto& change : changesOf(cell, 4))
            wanted.insert(change.change);
    for (const auto& change : changesAsked(chosen->drill, instrument))
        asked.insert(change.change);
    EXPECT_EQ(wanted, asked);
}

enum class Way { chosen, randomCells, randomAlternates };

/// A drill short enough to be played beside the day's ladder.
SeparatingLimits shortDrill(const Instrument& instrument) {
    auto limits = usualLimits(instrument, 66.0);
    limits.maxSeconds = 25.0;
    limits.maxCells = 3;
    return limits;
}

/// Cells drawn from the same pool, as many as the chosen drill holds, fingerings agreeing.
Drill randomCells(const Instrument& instrument, std::size_t cells, std::mt19937_64& random) {
    const auto limits = shortDrill(instrument);
    const auto pool = cellPool(instrument, limits);
    std::vector<FingeredCell> drawn;
    std::uniform_int_distribution<std::size_t> pick(0, pool.size() - 1);
    Drill drill;
    while (true) {
        drawn.push_back(pool[pick(random)]);
        drill = cellDrill(drawn, "Random cells", limits.repeats);
        if (std::get<CellPattern>(drill.pattern).cells.size() >= cells)
            return drill;
    }
}

/// One segment of the ladder, every note in one of its allowed fingerings by lot.
Drill randomAlternates(const Instrument& instrument, std::mt19937_64& random) {
    Drill drill = defaultDrill(instrument);
    drill.segments = {defaultSegments().front()};
    const auto& ladder = std::get<LadderPattern>(drill.pattern);
    for (MidiNote note = ladder.foot; note <= ladder.lastTop; ++note) {
        std::vector<Combination> allowed;
        for (const auto& fingering : fingerings(instrument, note))
            if (allowed.empty() || std::abs(fingering.cents) <= shortDrill(instrument).maxCents)
                allowed.push_back(fingering.combination);
        drill.fingering.byHand[note] =
            allowed[std::uniform_int_distribution<std::size_t>(0, allowed.size() - 1)(random)];
    }
    return drill;
}

bool isFingerEffect(const Suspect& suspect) {
    return suspect.kind == SuspectKind::press || suspect.kind == SuspectKind::release;
}

/// Takes until the planted finger is claimed first and no other finger effect fits nearly as well.
int takesUntilSettled(const Suspect& planted, Way way, std::uint64_t seed) {
    constexpr int mostTakes = 30;
    constexpr int usualTakes = 3;
    const auto& instrument = *findInstrument("trumpet-b-flat");
    Player player({{planted, 15.0}}, {}, seed);
    std::mt19937_64 random(seed + 1);
    auto takes = practise(player, defaultDrill(instrument), instrument, usualTakes);
    for (int extra = 1; extra <= mostTakes; ++extra) {
        std::vector<Suspect> questions{planted};
        const auto weaknesses = findWeaknesses(takes);
        for (const auto& lead : weaknesses.leads)
            if (lead.complaint == Complaint::slow)
                questions = lead.rivals;
        const auto best = drillThatSeparates(takes, questions, instrument, shortDrill(instrument));
        if (!best)
            return mostTakes + 1;
        const Drill drill = way == Way::chosen        ? best->drill
                            : way == Way::randomCells ? randomCells(instrument, best->cells.size(), random)
                                                      : randomAlternates(instrument, random);
        const auto score = buildScore(drill, instrument, 66.0);
        if (!score)
            return mostTakes + 1;
        takes.push_back(evidenceOf(factsOf(usualTakes + extra, 66.0), drill, instrument, score.value(),
                                   player.play(drill, instrument, score.value())));
        const auto found = findWeaknesses(takes).findings;
        if (!found.empty() && found[0].suspect == planted &&
            std::none_of(found[0].rivals.begin(), found[0].rivals.end(), isFingerEffect))
            return extra;
    }
    return mostTakes + 1;
}

double medianOf(std::vector<int> values) {
    std::sort(values.begin(), values.end());
    const auto middle = values.size() / 2;
    return values.size() % 2 ? values[middle] : (values[middle - 1] + values[middle]) / 2.0;
}

TEST(FindingsIdentifiable, ChosenDrillSettlesInFewerTakesThanRandomOnes) {
    const int players = trialSize(120, 24, 6);
    std::map<Way, std::vector<int>> takes;
    const auto effects = fingerEffects(3);
    for (int i = 0; i < players; ++i)
        for (const auto way : {Way::chosen, Way::randomCells, Way::randomAlternates})
            takes[way].push_back(takesUntilSettled(effects[static_cast<std::size_t>(i) % effects.size()], way,
                                                   900000 + static_cast<std::uint64_t>(i)));
    const auto mean = [](const std::vector<int>& values) {
        return static_cast<double>(std::accumulate(values.begin(), values.end(), 0)) /
               static_cast<double>(values.size());
    };
    const auto figures = [&](Way way) {
        return fmt::format("{} ({:.2f})", medianOf(takes[way]), mean(takes[way]));
    };
    report(fmt::format(
        "takes of under 25 s until a 15 ms finger is told apart, median (mean) of {} players: own "
        "choice {}, random cells {}, the ladder with random alternates {}",
        players, figures(Way::chosen), figures(Way::randomCells), figures(Way::randomAlternates)));
    EXPECT_LT(mean(takes[Way::chosen]), mean(takes[Way::randomAlternates]));
    if (fullSize()) {
        EXPECT_LT(medianOf(takes[Way::chosen]), medianOf(takes[Way::randomAlternates]));
        EXPECT_LE(medianOf(takes[Way::chosen]), medianOf(takes[Way::randomCells]));
    }
}

} // namespace
} // namespace valveladder
