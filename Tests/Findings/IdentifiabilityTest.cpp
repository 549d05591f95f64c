#include "Findings/Identifiability.h"
#include "Findings/SeparatingDrill.h"
#include "Score/Score.h"
#include "Support/FindingsTrials.h"
#include "Valves/Fingering.h"
#include "Words/TellingApartWords.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <map>
#include <numeric>
#include <random>
#include <set>

namespace valveladder {
namespace {

using namespace simulated;

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

/// A prime: arithmetic modulo it finds the rank of whole-number matrices exactly, but for a chance of about
/// one in 1e15 that it divides a determinant.
constexpr std::int64_t prime = 2305843009213693951; // 2^61 - 1

std::int64_t times(std::int64_t a, std::int64_t b) {
    __extension__ using Wide = __int128;
    return static_cast<std::int64_t>(static_cast<Wide>(a) * b % prime);
}

std::int64_t inverseOf(std::int64_t a) {
    std::int64_t result = 1;
    for (std::int64_t power = prime - 2; power > 0; power >>= 1) {
        if (power & 1)
            result = times(result, a);
        a = times(a, a);
    }
    return result;
}

/// A column over the notes, reduced against the columns already taken in.
class Span {
public:
    using Column = std::vector<std::int64_t>;

    [[nodiscard]] Column reduced(Column column) const {
        for (auto& value : column)
            value = (value % prime + prime) % prime;
        for (std::size_t i = 0; i < basis.size(); ++i)
            subtract(column, basis[i], column[pivots[i]]);
        return column;
    }
    /// Whether it added a direction.
    bool take(const Column& column) {
        Column left = reduced(column);
        const auto pivot = std::ranges::find_if(left, [](std::int64_t value) { return value != 0; });
        if (pivot == left.end())
            return false;
        pivots.push_back(static_cast<std::size_t>(pivot - left.begin()));
        const std::int64_t scale = inverseOf(*pivot);
        for (auto& value : left)
            value = times(value, scale);
        basis.push_back(std::move(left));
        return true;
    }
    static void subtract(Column& column, const Column& other, std::int64_t factor) {
        if (factor == 0)
            return;
        for (std::size_t i = 0; i < column.size(); ++i)
            column[i] = (column[i] - times(factor, other[i]) + prime) % prime;
    }

private:
    std::vector<Column> basis;
    std::vector<std::size_t> pivots;
};

/// Of a fraction of small whole numbers, as the arithmetic writes it: factors between columns of ones, zeros
/// and pitches are such.
bool isPositive(std::int64_t factor) {
    constexpr std::int64_t mostDenominator = 100000, mostNumerator = 1000000;
    for (std::int64_t denominator = 1; denominator < mostDenominator; ++denominator) {
        const std::int64_t numerator = times(factor, denominator);
        if (numerator < mostNumerator)
            return true;
        if (prime - numerator < mostNumerator)
            return false;
    }
    ADD_FAILURE() << "no small fraction: " << factor;
    return false;
}

bool isZero(const Span::Column& column) {
    return std::ranges::all_of(column, [](std::int64_t value) { return value == 0; });
}

/// Every column of the fit but the finger effects, in whole numbers: lines of all segments and circumstances.
Span circumstanceSpan(const std::vector<ChangeEvidence>& changes) {
    Span span;
    std::map<int, std::pair<Span::Column, Span::Column>> lines;
    for (std::size_t i = 0; i < changes.size(); ++i) {
        auto& [level, slope] =
            lines.try_emplace(changes[i].span, Span::Column(changes.size()), Span::Column(changes.size()))
                .first->second;
        level[i] = 1;
        slope[i] = changes[i].ticks;
    }
    for (const auto& [number, line] : lines) {
        span.take(line.first);
        span.take(line.second);
    }
    const auto add = [&](const auto& of) {
        Span::Column column;
        for (const auto& change : changes)
            column.push_back(of(change));
        span.take(column);
    };
    add([](const auto& c) { return c.touch == Touch::relaxed ? 1 : 0; });
    add([](const auto& c) { return c.place == RhythmPlace::longNote ? 1 : 0; });
    add([](const auto& c) { return c.place == RhythmPlace::shortNote ? 1 : 0; });
    add([](const auto& c) { return c.change.fingersMoved(); });
    add([](const auto& c) { return c.interval < 0 ? 1 : 0; });
    add([](const auto& c) { return std::abs(c.interval); });
    add([](const auto& c) { return std::abs(c.partialJump); });
    add([](const auto& c) { return static_cast<int>(c.written); });
    add([](const auto& c) { return static_cast<int>(c.written) * static_cast<int>(c.written); });
    for (int since = 0; since <= accentReach; ++since)
        add([&](const auto& c) { return c.sinceAccent == since ? 1 : 0; });
    add([](const auto& c) { return c.offBeat ? 1 : 0; });
    add([](const auto& c) { return c.first ? 1 : 0; });
    return span;
}

/// Segments of fewer changes than leastForLine say nothing beside their line and are no part of the fit.
std::vector<ChangeEvidence> inTheFit(const std::vector<ChangeEvidence>& changes) {
    std::map<int, int> ofSegment;
    for (const auto& change : changes)
        ++ofSegment[change.span];
    std::vector<ChangeEvidence> kept;
    std::ranges::copy_if(changes, std::back_inserter(kept),
                         [&](const auto& change) { return ofSegment[change.span] >= leastForLine; });
    return kept;
}

/// Groups of finger effects that stand for each other: one alone where the circumstances explain it, several
/// where what is left of them is parallel and points the same way.
std::set<std::set<Suspect>> exactGroups(const std::vector<ChangeEvidence>& played,
                                        const std::vector<Suspect>& effects) {
    const auto changes = inTheFit(played);
    const Span span = circumstanceSpan(changes);
    std::set<std::set<Suspect>> groups;
    std::vector<std::pair<Suspect, Span::Column>> left;
    for (const auto& effect : effects) {
        Span::Column column;
        for (const auto& change : changes)
            column.push_back(effect.involves(change) ? 1 : 0);
        if (std::ranges::none_of(played, [&](const auto& change) { return effect.involves(change); }))
            continue;
        auto rest = span.reduced(column);
        if (isZero(rest))
            groups.insert({effect});
        else
            left.emplace_back(effect, std::move(rest));
    }
    std::set<Suspect> done;
    for (std::size_t i = 0; i < left.size(); ++i) {
        std::set<Suspect> group{left[i].first};
        const auto place = static_cast<std::size_t>(
            std::ranges::find_if(left[i].second, [](std::int64_t value) { return value != 0; }) -
            left[i].second.begin());
        for (std::size_t j = i + 1; j < left.size() && !done.contains(left[i].first); ++j) {
            auto rest = left[j].second;
            const std::int64_t factor = times(rest[place], inverseOf(left[i].second[place]));
            Span::subtract(rest, left[i].second, factor);
            if (!isZero(rest))
                continue;
            if (isPositive(factor)) {
                group.insert(left[j].first);
                done.insert(left[j].first);
            }
        }
        if (group.size() > 1)
            groups.insert(group);
    }
    return groups;
}

/// Any drill: ladders and cells, every policy of fingering, rhythms and accents of all kinds.
Drill anyDrill(const Instrument& instrument, std::mt19937_64& random) {
    const auto within = [&](int low, int high) {
        return std::uniform_int_distribution<int>(low, high)(random);
    };
    Drill drill = usualDrill(instrument, random);
    drill.fingering.policy = static_cast<Policy>(within(0, 3));
    drill.fingering.mix = static_cast<MixRule>(within(0, 2));
    drill.repeats = within(1, 3);
    drill.segments.resize(static_cast<std::size_t>(within(1, 4)));
    for (auto& segment : drill.segments)
        if (within(0, 1) == 0)
            segment.accents = {static_cast<AccentRule>(within(0, 4)), within(2, 5)};
    return drill;
}

// Checked against whole-number arithmetic over all columns of the fit, which shares no code with it.
TEST(ClaimsToldApart, EveryDrillSaysExactlyWhatItCannotTellApart) {
    const int logs = trialSize(1000, 150);
    std::mt19937_64 random(42);
    int right = 0, held = 0;
    for (int i = 0; i < logs; ++i) {
        const auto& all = catalogue();
        const auto& instrument = all[static_cast<std::size_t>(i) % all.size()];
        const Drill drill = anyDrill(instrument, random);
        const std::vector<TakeEvidence> takes(1, takeOf(drill, instrument));
        const auto found = identifiability(takes, instrument.valves);
        std::set<std::set<Suspect>> told;
        for (const auto& group : found.inseparable)
            told.insert({group.begin(), group.end()});
        const auto expected = exactGroups(takes[0].changes, fingerEffects(instrument.valves));
        right += told == expected && (expected.empty() || !inWords(found).empty()) ? 1 : 0;
        held += expected.empty() ? 0 : 1;
        EXPECT_EQ(told, expected) << instrument.id << ", drill " << i;
    }
    report(fmt::format(
        "random drills: what cannot be told apart is named exactly in {} of {} ({} of them held such "
        "fingers)",
        right, logs, held));
    EXPECT_EQ(right, logs);
    EXPECT_GT(held, logs / 10);
}

// Upwards only, the one jump of partial comes with the third finger going down, and nothing tells them apart.
TEST(ClaimsToldApart, LadderUpwardsOnlyCannotTellTheThirdFingerFromTheJump) {
    const auto& trumpet = *findInstrument("trumpet-b-flat");
    Drill up = defaultDrill(trumpet);
    std::get<LadderPattern>(up.pattern).shape = Shape::up;
    const std::vector<TakeEvidence> takes{takeOf(up, trumpet)};
    const auto found = identifiability(takes, 3);
    const std::vector<Suspect> third{{SuspectKind::press, 3, {}, {}, {}}};
    const auto group = std::ranges::find(found.inseparable, third);
    ASSERT_NE(group, found.inseparable.end());
    EXPECT_EQ(found.explainedBy[static_cast<std::size_t>(group - found.inseparable.begin())],
              circumstances::partialJump);
}

TEST(ClaimsToldApart, DailyDrillOfEveryInstrumentTellsItsFingersApart) {
    for (const auto& instrument : catalogue()) {
        const std::vector<TakeEvidence> takes{takeOf(defaultDrill(instrument), instrument)};
        const auto found = identifiability(takes, instrument.valves);
        EXPECT_TRUE(found.complete())
            << instrument.id << ": " << ::testing::PrintToString(inWords(found, instrument.thumbValve));
    }
}

// A plain chromatic run with three valves never moves finger 3 alone, and one direction is missing.
TEST(FindingsIdentifiable, ChromaticRunIsOneRankShort) {
    const auto& trumpet = *findInstrument("trumpet-b-flat");
    Drill up = defaultDrill(trumpet);
    std::get<LadderPattern>(up.pattern).shape = Shape::up;
    const std::vector<TakeEvidence> takes{takeOf(up, trumpet)};
    const auto found = identifiability(takes, 3);
    EXPECT_EQ(found.effects, 6);
    EXPECT_LT(found.rank, 6);
    ASSERT_FALSE(found.inseparable.empty());
    EXPECT_NE(inWords(found).front().find("cannot be told apart"), std::string::npos);
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
        EXPECT_TRUE(after.inseparable.empty()) << id << ": " << inWords(chosen->cells, *instrument);
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

// A cell of four beats begins on a bar line, and the rest after it reaches to the next but one.
TEST(FindingsIdentifiable, ChosenDrillLastsAsLongAsItsScoreAndNoLongerThanAsked) {
    for (const auto& instrument : catalogue())
        for (const double bpm : {40.0, 47.0, 66.0, 132.0}) {
            const auto limits = usualLimits(instrument, bpm);
            const auto chosen = drillThatSeparates({}, {}, instrument, limits);
            ASSERT_TRUE(chosen.has_value()) << instrument.id;
            const auto score = buildScore(chosen->drill, instrument, bpm);
            ASSERT_TRUE(score.ok()) << instrument.id;
            EXPECT_DOUBLE_EQ(chosen->seconds, secondsOf(score.value().length, bpm)) << instrument.id;
            EXPECT_LE(chosen->seconds, limits.maxSeconds) << instrument.id << " at " << bpm;
        }
}

// The choice reckons with it: whichever cell comes next, the drill becomes as long.
TEST(FindingsIdentifiable, EveryCellOfThePoolLastsAsLong) {
    const auto& instrument = trialInstrument();
    const auto limits = usualLimits(instrument, 66.0);
    const auto pool = cellPool(instrument, limits);
    const auto lengthOf = [&](const std::vector<FingeredCell>& cells) {
        return buildScore(cellDrill(cells, "Cells", limits.repeats), instrument, limits.bpm).value().length;
    };
    for (const auto& cell : pool) {
        EXPECT_EQ(lengthOf({cell}), lengthOf({pool.front()}));
        EXPECT_EQ(lengthOf({pool.front(), cell}), lengthOf({pool.front(), pool.front()}));
    }
}

TEST(FindingsIdentifiable, NoDrillIsChosenWhereNoCellFitsTheTime) {
    auto limits = usualLimits(trialInstrument(), 66.0);
    limits.maxSeconds = 7.0; // count-in and one cell are two bars of 4/4, 7.3 s
    EXPECT_FALSE(drillThatSeparates({}, {}, trialInstrument(), limits).has_value());
    limits.maxSeconds = 7.5;
    ASSERT_TRUE(drillThatSeparates({}, {}, trialInstrument(), limits).has_value());
    EXPECT_EQ(drillThatSeparates({}, {}, trialInstrument(), limits)->cells.size(), 1U);
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

/// The ladder upwards only, which leaves fingers to be told apart.
Drill ladderUp(const Instrument& instrument) {
    Drill drill = defaultDrill(instrument);
    std::get<LadderPattern>(drill.pattern).shape = Shape::up;
    return drill;
}

/// One segment of the ladder, every note in one of its allowed fingerings by lot.
Drill randomAlternates(const Instrument& instrument, std::mt19937_64& random) {
    Drill drill = ladderUp(instrument);
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
    auto takes = practise(player, ladderUp(instrument), instrument, usualTakes);
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
