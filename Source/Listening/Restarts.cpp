#include "Listening/Restarts.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace valveladder {

namespace {

/// A pause, in note values and at least so many seconds: between the onsets of a break-off and the new
/// beginning, over what the score asks for there (`k` notes reached); common practice, no source.
constexpr double pauseNoteValues = 0.8;
constexpr double leastPauseSeconds = 0.2;
/// Fewest notes of a try; one alone is a note that spoke twice.
constexpr int leastTryNotes = 2;
/// One in so many notes of a try may be another: it is often why the player stopped.
constexpr int notesAMistake = 3;
/// So many note values, and seconds at least, before the next segment's own time (the player's lateness
/// reckoned in) a beginning is still this segment's.
constexpr double marginNoteValues = 1.0;
constexpr double leastMarginSeconds = 0.2;
/// Without a pause a segment is begun anew if so many notes of its beginning come, and more than before.
constexpr int notesWithoutPause = 4;
/// Notes left out, or played besides, that the place in a segment may be off by.
constexpr int notesAbout = 3;
/// A segment is first begun within so many note values, and seconds at least, of its own time or of that with
/// the lateness of the segment before.
constexpr double beginNoteValues = 2.5;
constexpr double leastBeginSeconds = 0.35;

/// One segment's expected notes.
struct Segment {
    int span = 0;
    int first = 0; ///< into ExpectedNotes::notes
    int count = 0;
    double begin = 0.0; ///< seconds
};

std::vector<Segment> segmentsOf(const ExpectedNotes& expected, const Score& score) {
    std::vector<Segment> segments;
    for (std::size_t i = 0; i < expected.notes.size(); ++i) {
        const int span = score.notes[static_cast<std::size_t>(expected.firstIndex) + i].span;
        if (segments.empty() || segments.back().span != span)
            segments.push_back({span, static_cast<int>(i), 0, expected.notes[i].seconds});
        ++segments.back().count;
    }
    // Cut off by the take's begin: where it really begins is not in it.
    if (!segments.empty() && !expected.notes[static_cast<std::size_t>(segments.front().first)].startsSegment)
        segments.erase(segments.begin());
    return segments;
}

class Finder {
public:
    Finder(std::span<const NoteEvidence> notes, const ExpectedNotes& e, const Score& s, int shift)
        : heard(notes), expected(e), semitones(shift), segments(segmentsOf(e, s)) {}

    std::vector<EarlierTry> run() {
        std::vector<EarlierTry> tries;
        int from = 0;
        double lateBefore = 0.0;
        for (std::size_t s = 0; s < segments.size(); ++s) {
            std::optional<int> begins = beginningOf(s, from, lateBefore);
            const double late = begins ? onset(*begins) - segments[s].begin : 0.0;
            while (begins) {
                const auto again = begunAgain(s, *begins, late);
                if (!again)
                    break;
                tries.push_back({segments[s].span, *begins, *again - *begins, onset(*begins), onset(*again)});
                begins = again;
            }
            if (!begins)
                continue;
            from = *begins + 1;
            lateBefore = onset(*begins) - segments[s].begin;
        }
        return tries;
    }

private:
    [[nodiscard]] double onset(int j) const { return heard[static_cast<std::size_t>(j)].onset; }
    [[nodiscard]] const ExpectedOnset& note(const Segment& segment, int k) const {
        return expected.notes[static_cast<std::size_t>(segment.first + k)];
    }
    [[nodiscard]] bool is(int j, const Segment& segment, int k) const {
        return heard[static_cast<std::size_t>(j)].pitch - semitones == note(segment, k).pitch;
    }

    struct Progress {
        int reached = 0;  ///< notes of the segment, right, wrong or left out
        int mistakes = 0; ///< wrong, left out or extra
    };
    /// How far `count` heard notes from j on go in the segment, from its beginning.
    [[nodiscard]] Progress progress(int j, const Segment& segment, int count) const {
        Progress p;
        for (int i = j; i < j + count; ++i) {
            const bool left = p.reached + 1 < segment.count && is(i, segment, p.reached + 1);
            if (p.reached < segment.count && is(i, segment, p.reached))
                ++p.reached;
            else if (left) {
                p.reached += 2;
                ++p.mistakes;
            } else
                ++p.mistakes;
        }
        return p;
    }

    /// Whether the notes at j are the segment's from its k-th on.
    [[nodiscard]] bool goesOn(int j, const Segment& segment, int k) const {
        const int count = std::min({leastTryNotes, segment.count - k, static_cast<int>(heard.size()) - j});
        for (int i = 0; i < count; ++i)
            if (!is(j + i, segment, k + i))
                return false;
        return count > 0;
    }

    /// Whether the notes at j are asked for about the k-th, as where a pattern is played again in one
    /// segment.
    [[nodiscard]] bool comesHere(int j, const Segment& segment, int k) const {
        for (int at = std::max(1, k - notesAbout);
             at <= std::min(segment.count - leastTryNotes, k + notesAbout); ++at)
            if (goesOn(j, segment, at))
                return true;
        return false;
    }

    /// Whether what comes at j follows a pause that the score does not ask for after the k-th note.
    [[nodiscard]] bool afterPause(int j, const Segment& segment, int k) const {
        const double asked = k > 0 ? note(segment, k).seconds - note(segment, k - 1).seconds : 0.0;
        const double pause = onset(j) - onset(j - 1) - asked;
        return pause > std::max(leastPauseSeconds, pauseNoteValues * note(segment, 0).noteValueSeconds);
    }

    /// Where the segment is begun for the first time, not before `from`.
    [[nodiscard]] std::optional<int> beginningOf(std::size_t s, int from, double lateBefore) const {
        const Segment& segment = segments[s];
        const double slack = std::max(leastBeginSeconds, beginNoteValues * note(segment, 0).noteValueSeconds);
        const double last = segment.begin + std::max(0.0, lateBefore) + slack;
        for (int j = from; j < static_cast<int>(heard.size()) && onset(j) <= last; ++j) {
            const double late = onset(j) - segment.begin;
            const bool inTime = std::min(std::abs(late), std::abs(late - lateBefore)) <= slack;
            if (inTime && goesOn(j, segment, 0))
                return j;
        }
        return std::nullopt;
    }

    [[nodiscard]] double margin(const Segment& segment) const {
        return std::max(leastMarginSeconds, marginNoteValues * note(segment, 0).noteValueSeconds);
    }

    /// Before the next segment's own time, for a player who is so late, with some margin.
    [[nodiscard]] double nextBegin(std::size_t s, double late) const {
        return s + 1 < segments.size() ? segments[s + 1].begin + late - margin(segments[s + 1]) : 1e18;
    }

    /// How many notes from j on are the segment's from its beginning.
    [[nodiscard]] int runFrom(int j, const Segment& segment) const {
        int run = 0;
        while (run < segment.count && j + run < static_cast<int>(heard.size()) && is(j + run, segment, run))
            ++run;
        return run;
    }

    /// Where the segment that was begun at j is begun again, if it is.
    [[nodiscard]] std::optional<int> begunAgain(std::size_t s, int j, double late) const {
        const Segment& segment = segments[s];
        const double until = nextBegin(s, late);
        for (int k = 1; k <= segment.count; ++k) {
            const int again = j + k;
            if (again + 1 >= static_cast<int>(heard.size()) || onset(again) >= until)
                return std::nullopt;
            const Progress done = progress(j, segment, k);
            const bool broken = done.reached < segment.count &&
                                (afterPause(again, segment, done.reached) ||
                                 runFrom(again, segment) >= std::max(notesWithoutPause, done.reached + 1));
            // Else it is a breath.
            const bool anew = goesOn(again, segment, 0) && !afterPause(again + 1, segment, 1) &&
                              !comesHere(again, segment, done.reached);
            const bool ofThis = done.reached >= leastTryNotes && done.mistakes <= k / notesAMistake;
            if (broken && anew && ofThis)
                return again;
        }
        return std::nullopt;
    }

    std::span<const NoteEvidence> heard;
    const ExpectedNotes& expected;
    int semitones;
    std::vector<Segment> segments;
};

} // namespace

std::vector<EarlierTry> findEarlierTries(std::span<const NoteEvidence> heard, const ExpectedNotes& expected,
                                         const Score& score, int semitoneShift) {
    return Finder(heard, expected, score, semitoneShift).run();
}

} // namespace valveladder
