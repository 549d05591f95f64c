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
/// So many note values before the next segment's own time a beginning is still this segment's.
constexpr double marginNoteValues = 1.0;

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
        for (std::size_t s = 0; s < segments.size(); ++s) {
            std::optional<int> begins = beginningOf(s, from);
            while (begins) {
                const auto again = begunAgain(s, *begins);
                if (!again)
                    break;
                tries.push_back({segments[s].span, *begins, *again - *begins, onset(*begins), onset(*again)});
                begins = again;
            }
            if (begins)
                from = *begins + 1;
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

    /// Whether what comes at j follows a pause that the score does not ask for after the k-th note.
    [[nodiscard]] bool afterPause(int j, const Segment& segment, int k) const {
        const double asked = k > 0 ? note(segment, k).seconds - note(segment, k - 1).seconds : 0.0;
        const double pause = onset(j) - onset(j - 1) - asked;
        return pause > std::max(leastPauseSeconds, pauseNoteValues * note(segment, 0).noteValueSeconds);
    }

    /// Where the segment is begun for the first time: nearest to its own time, not before `from`.
    [[nodiscard]] std::optional<int> beginningOf(std::size_t s, int from) const {
        const Segment& segment = segments[s];
        const double until = nextBegin(s);
        for (int j = from; j < static_cast<int>(heard.size()) && onset(j) < until; ++j) {
            const bool early = onset(j) < segment.begin - note(segment, 0).noteValueSeconds;
            if (!early && goesOn(j, segment, 0))
                return j;
        }
        return std::nullopt;
    }

    /// Before the next segment's own time, with some margin.
    [[nodiscard]] double nextBegin(std::size_t s) const {
        return s + 1 < segments.size()
                   ? segments[s + 1].begin - marginNoteValues * note(segments[s + 1], 0).noteValueSeconds
                   : 1e18;
    }

    /// Where the segment that was begun at j is begun again, if it is.
    [[nodiscard]] std::optional<int> begunAgain(std::size_t s, int j) const {
        const Segment& segment = segments[s];
        const double until = nextBegin(s);
        for (int k = 1; k <= segment.count; ++k) {
            const int again = j + k;
            if (again + 1 >= static_cast<int>(heard.size()) || onset(again) >= until)
                return std::nullopt;
            const Progress done = progress(j, segment, k);
            const bool broken = done.reached < segment.count && afterPause(again, segment, done.reached);
            // Else it is a breath.
            const bool anew = goesOn(again, segment, 0) && !goesOn(again, segment, done.reached);
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
