#include "Support/HeardStories.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>
#include <random>
#include <utility>

namespace valveladder::testing {

namespace {

/// Between a segment that ends late and the next, seconds.
constexpr double leastRest = 0.45;
constexpr double leastCracked = 0.2; ///< length of a note that cracks, seconds

double uniform(std::mt19937& random, double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
}

void shift(TrueNote& note, double seconds) {
    note.onset += seconds;
    note.offset += seconds;
    note.firstStops += seconds;
    if (note.splitAt)
        *note.splitAt += seconds;
}

struct Range {
    std::size_t first;
    std::size_t last; ///< one past
};

Range notesOf(const SoundPlan& plan, const ScoreSpan& span) {
    const auto inside = [&](const TrueNote& note) {
        return note.index >= span.firstNote && note.index < span.firstNote + span.noteCount;
    };
    const auto first = std::ranges::find_if(plan.notes, inside);
    const auto last = std::find_if_not(first, plan.notes.end(), inside);
    return {static_cast<std::size_t>(first - plan.notes.begin()),
            static_cast<std::size_t>(last - plan.notes.begin())};
}

/// Moves the spans from `next` on, as far as one that ends at `end` makes necessary.
void letWait(SoundPlan& plan, const Score& score, std::size_t next, double end) {
    for (std::size_t s = next; s < score.spans.size(); ++s) {
        const Range notes = notesOf(plan, score.spans[s]);
        if (notes.first >= notes.last)
            continue;
        const double late = end + leastRest - plan.notes[notes.first].onset;
        if (late <= 0.0)
            return;
        for (std::size_t i = notes.first; i < notes.last; ++i)
            shift(plan.notes[i], late);
        end = plan.notes[notes.last - 1].offset;
    }
}

} // namespace

std::vector<TrueRestart> breakOff(SoundPlan& plan, const Score& score, std::uint32_t seed) {
    std::mt19937 random(seed);
    std::vector<TrueRestart> restarts;
    const auto wanted = 1 + random() % 3;
    std::vector<int> spans(score.spans.size());
    for (std::size_t i = 0; i < spans.size(); ++i)
        spans[i] = static_cast<int>(i);
    std::shuffle(spans.begin(), spans.end(), random);
    spans.resize(std::min<std::size_t>(spans.size(), wanted));
    std::sort(spans.begin(), spans.end());
    for (const int s : spans) {
        const Range range = notesOf(plan, score.spans[static_cast<std::size_t>(s)]);
        const int count = static_cast<int>(range.last - range.first);
        if (count < 4)
            continue;
        const int played = 2 + static_cast<int>(random() % static_cast<unsigned>(std::min(count - 3, 7)));
        const auto from = plan.notes.begin() + static_cast<std::ptrdiff_t>(range.first);
        std::vector<TrueNote> tried(from, from + played);
        for (TrueNote& note : tried)
            note.index = -1;
        if (played > 2 && random() % 2 == 0)
            tried.back().midi += random() % 2 == 0 ? 1 : -1;
        const double ends = std::min(tried.back().offset, tried.back().onset + 0.6);
        tried.back().offset = ends;
        const double later = ends + uniform(random, 0.5, 1.6) - from->onset;
        for (auto note = from; note != from + count; ++note)
            shift(*note, later);
        restarts.push_back({s, played, from->onset});
        const double end = (from + count - 1)->offset;
        plan.notes.insert(from, tried.begin(), tried.end());
        letWait(plan, score, static_cast<std::size_t>(s) + 1, end);
    }
    plan.length = std::max(plan.length, plan.notes.back().offset + 0.6);
    return restarts;
}

std::vector<int> crackNotes(SoundPlan& plan, const Score& score, int nth, std::uint32_t seed) {
    std::mt19937 random(seed);
    std::vector<int> cracked;
    int number = 0;
    for (TrueNote& note : plan.notes) {
        const double lowest =
            score.fundamentals[score.notes[static_cast<std::size_t>(note.index)].combination.bits()];
        const int partial = static_cast<int>(std::lround(std::exp2((note.midi - lowest) / 12.0)));
        const bool can = note.tongued && !note.wrong && lowest > 0.0 && partial >= 2 &&
                         note.offset - note.onset > leastCracked;
        if (!can || ++number % nth != 0)
            continue;
        const int other = partial + (partial == 2 || random() % 2 == 0 ? 1 : -1);
        note.speaksThrough = lowest + 12.0 * std::log2(other);
        note.speaksThroughMs = uniform(random, 45.0, 80.0);
        cracked.push_back(note.index);
    }
    return cracked;
}

void addStrayNotes(SoundPlan& plan, int count, std::uint32_t seed) {
    std::mt19937 random(seed);
    std::vector<std::size_t> order(plan.notes.size());
    std::iota(order.begin(), order.end(), 0U);
    std::shuffle(order.begin(), order.end(), random);
    std::vector<std::pair<std::size_t, TrueNote>> strays;
    for (const std::size_t i : order) {
        if (static_cast<int>(strays.size()) == count)
            break;
        if (i == 0)
            continue;
        const TrueNote& before = plan.notes[i - 1];
        const TrueNote& after = plan.notes[i];
        const double seconds = uniform(random, 0.09, 0.16);
        const bool plain = !before.wrong && !after.wrong && !before.splitAt && !after.splitAt &&
                           !after.breathBefore && after.index == before.index + 1;
        if (!plain || before.onset + 2.0 * seconds > after.onset)
            continue;
        TrueNote stray = after;
        stray.index = -1;
        stray.onset = after.onset - seconds;
        stray.offset = after.tongued ? after.onset - 0.2 * seconds : after.onset;
        constexpr int away[] = {-4, -3, -2, 2, 3, 4};
        do
            stray.midi = after.midi + away[random() % std::size(away)];
        while (stray.midi == before.midi);
        if (stray.changeoverMs)
            stray.changeoverMs = std::min(*stray.changeoverMs, 300.0 * seconds);
        strays.emplace_back(i, stray);
    }
    std::ranges::sort(strays, std::greater{}, &std::pair<std::size_t, TrueNote>::first);
    for (const auto& [i, stray] : strays) {
        TrueNote& before = plan.notes[i - 1];
        TrueNote& after = plan.notes[i];
        before.offset = std::min(before.offset, stray.onset);
        if (after.changeoverMs)
            after.changeoverMs = std::min(*after.changeoverMs, *stray.changeoverMs);
        plan.notes.insert(plan.notes.begin() + static_cast<std::ptrdiff_t>(i), stray);
    }
}

} // namespace valveladder::testing
