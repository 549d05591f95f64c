#include "Listening/SoundMatch.h"

#include "Base/Units.h"
#include "Listening/Estimates.h"
#include "Listening/Measures.h"
#include "Listening/NoteAlignment.h"
#include "Listening/RearticulationEvidence.h"
#include "Listening/Tuning.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace valveladder {

namespace {

/// A player's usual level: this quantile of all notes heard, since half of them may be another's.
constexpr double usualQuantile = 0.75;
/// Softer than that by this is another sound in the room.
constexpr double otherSoundShare = 0.1; ///< -20 dB
/// And softer by this may be one: it counts only where the score asks for it. A second player 20 dB softer on
/// average plays notes up to 8 dB louder than that.
constexpr double doubtfulShare = 0.28; ///< -11 dB
constexpr double leastPeriodicity = 0.35;
constexpr double leastSeconds = 0.025;
/// Log odds from which on a second articulation on one pitch counts, where the score asks for none; where it
/// repeats pitches, the evidence of the tone alone (HeardNote::Again::weight) decides. Set on the tuning half
/// of the rendered takes.
constexpr double rearticulationLogOdds = -0.5;
constexpr double askedRearticulationWeight = 0.8;
/// Notes that follow each other so closely touch.
constexpr double touchingSeconds = 0.03;
/// Fragments of tone: shorter than any note, and no farther than a fumbled valve.
constexpr double fragmentSeconds = 0.06;
constexpr double fragmentSemitones = 1.6;
/// A blur between two pitches: no longer, and off the note's pitch by more than an articulation's own
/// unsteadiness.
constexpr double blurSeconds = 0.11;
constexpr double blurSemitones = 0.25;
/// For what may only be passed through on the way to another note, to leave it unmatched costs next to
/// nothing; where it was struck, a little more.
constexpr float passingCost = 0.05F;
constexpr float struckPassingCost = 0.2F;
/// And it is a note that the score asks for only if it lasts for this share of the time until the next:
/// players shorten notes, a glide that lingers is much shorter still. Set on the tuning takes.
constexpr double leastAskedShare = 0.35;
/// Two parts of one tone that lie this far apart are two pitches and not one struck twice.
constexpr double anotherPitchSemitones = 0.5;
/// From so many notes on that speak off their pitch it is told.
constexpr std::size_t scoopsTold = 3;

/// An order of fingers that fits better than this fits exactly.
constexpr double leastMismatch = 1e-6;

bool repeatsPitches(const Score& score) {
    for (std::size_t i = 1; i < score.notes.size(); ++i)
        if (score.notes[i].span == score.notes[i - 1].span &&
            score.notes[i].sounding == score.notes[i - 1].sounding)
            return true;
    return false;
}

MidiNote pitchOf(const HeardNote& note, double tuning) {
    return static_cast<MidiNote>(std::lround(note.midi - tuning));
}

/// Whether heard note j strikes the pitch before it again: within one tone, or after a silence too short for
/// a breath.
bool strikesAgain(std::span<const HeardNote> heard, std::size_t j) {
    if (j == 0)
        return false;
    const HeardNote& before = heard[j - 1];
    return heard[j].start == HeardNote::Start::rearticulated ||
           (heard[j].onset - before.offset < breathGapMs / msPerSecond &&
            std::abs(heard[j].midi - before.midi) < anotherPitchSemitones);
}

bool struck(const HeardNote& note) {
    return note.start == HeardNote::Start::attack;
}

float extraCostOf(const HeardNote& note) {
    if (!note.passing)
        return 1.0F;
    return struck(note) ? struckPassingCost : passingCost;
}

std::vector<NoteEvidence> evidenceOf(std::span<const HeardNote> heard, double tuning) {
    std::vector<NoteEvidence> evidence;
    evidence.reserve(heard.size());
    for (std::size_t j = 0; j < heard.size(); ++j)
        evidence.push_back({heard[j].onset, heard[j].offset, pitchOf(heard[j], tuning), extraCostOf(heard[j]),
                            strikesAgain(heard, j), heard[j].changeoverMs});
    return evidence;
}

void begin(HeardNote& note, const HeardNote::Beginning& beginning) {
    note.onset = beginning.onset;
    note.start = beginning.start;
    note.changeoverMs = beginning.changeoverMs;
    note.spoke = beginning.spoke;
}

/// One note after all: pitch and level are those of the part that was settled for longer.
void join(HeardNote& note, const HeardNote& rest) {
    note.offset = rest.offset;
    if (rest.settledSeconds > note.settledSeconds) {
        note.midi = rest.midi;
        note.level = rest.level;
        note.settledSeconds = rest.settledSeconds;
    }
}

/// Of a tone whose first piece is none for itself: the rest began as that did, but later.
void beginLike(HeardNote& rest, const HeardNote& head) {
    rest.start = head.start;
    rest.shape = head.shape;
    rest.changeoverMs = head.changeoverMs;
    rest.spoke = head.spoke;
    rest.ifPassed = head.ifPassed;
    rest.slowly = head.slowly;
}

bool touches(const HeardNote& before, const HeardNote& after) {
    return after.onset - before.offset < touchingSeconds;
}

/// Where one articulation's sound dies away under the next, both pitches sound for a moment, and the blur
/// between them may pass for an articulation of its own: short, and on neither pitch.
bool isBlur(const HeardNote& piece, const HeardNote& settled) {
    return piece.offset - piece.onset < blurSeconds && std::abs(piece.midi - settled.midi) > blurSemitones &&
           std::abs(piece.midi - settled.midi) < fragmentSemitones;
}

/// Notes that a blur was cut from at their beginning, or at the end of the one before.
void joinBlurs(std::vector<HeardNote>& notes) {
    for (std::size_t i = 0; i + 1 < notes.size();) {
        HeardNote& next = notes[i + 1];
        const HeardNote& piece = notes[i];
        HeardNote* before = i > 0 && touches(notes[i - 1], piece) ? &notes[i - 1] : nullptr;
        const bool begins =
            piece.start != HeardNote::Start::rearticulated && next.start == HeardNote::Start::rearticulated;
        const bool ends = piece.start == HeardNote::Start::rearticulated &&
                          next.start != HeardNote::Start::rearticulated && before != nullptr;
        const bool blur =
            touches(piece, next) && ((begins && isBlur(piece, next)) || (ends && isBlur(piece, *before)));
        if (!blur) {
            ++i;
            continue;
        }
        // The nearer to the new pitch, the sooner it took over. Beyond a pitch: the stronger of two tones
        // that beat is bent away from the other.
        const double way = before != nullptr ? next.midi - before->midi : 0.0;
        const double share =
            std::abs(way) > blurSemitones ? std::clamp((piece.midi - before->midi) / way, 0.0, 1.0) : 1.0;
        next.onset = next.onset + share * (piece.onset - next.onset);
        if (before != nullptr)
            before->offset = std::min(before->offset, next.onset);
        if (begins)
            beginLike(next, piece);
        else
            next.changeoverMs.reset();
        notes.erase(notes.begin() + static_cast<std::ptrdiff_t>(i));
    }
}

/// Drops what is no note for itself: softer than `soft`, too vague or too short. Of a tone that was struck
/// again the rest stays.
void dropScraps(std::vector<HeardNote>& notes, double soft) {
    const auto faint = [soft](const HeardNote& note) {
        return note.level < soft || note.periodicity < leastPeriodicity;
    };
    const auto scrap = [&](const HeardNote& note) {
        return faint(note) || note.offset - note.onset < leastSeconds;
    };
    for (std::size_t i = 0; i + 1 < notes.size(); ++i) {
        const HeardNote& head = notes[i];
        HeardNote& rest = notes[i + 1];
        if (!scrap(head) || head.start == HeardNote::Start::rearticulated ||
            rest.start != HeardNote::Start::rearticulated)
            continue;
        beginLike(rest, head);
        if (!faint(head)) {
            rest.onset = head.onset;
            rest.onsetNoise = head.onsetNoise;
        }
    }
    std::erase_if(notes, scrap);
}

bool isShort(const HeardNote& note) {
    return note.offset - note.onset < fragmentSeconds;
}

/// A short fragment of tone next to a note and near its pitch belongs to how that note speaks or ends.
bool isFragment(std::span<const HeardNote> notes, std::size_t i) {
    const HeardNote& fragment = notes[i];
    const HeardNote& next = notes[i + 1];
    const bool goesOn =
        fragment.start == HeardNote::Start::rearticulated && i > 0 && touches(notes[i - 1], fragment);
    return isShort(fragment) && !goesOn && touches(fragment, next) &&
           std::abs(next.midi - fragment.midi) < fragmentSemitones && next.level > fragment.level &&
           next.offset - next.onset > fragment.offset - fragment.onset;
}

/// How the note after a fragment begins when both are one.
HeardNote::Beginning beginningWith(const HeardNote& fragment, const HeardNote& next) {
    const bool glides = fragment.start == HeardNote::Start::glide;
    return {glides ? next.onset : fragment.onset, glides ? fragment.start : HeardNote::Start::attack,
            std::nullopt};
}

/// Where an articulation parts a fragment from the next note, the score may ask for both; else it is taken
/// into that.
void absorbTransients(std::vector<HeardNote>& notes) {
    for (std::size_t i = 0; i + 1 < notes.size();) {
        HeardNote& fragment = notes[i];
        HeardNote& next = notes[i + 1];
        if (!isFragment(notes, i)) {
            ++i;
            continue;
        }
        const HeardNote::Beginning together = beginningWith(fragment, next);
        const bool rearticulates = fragment.start == HeardNote::Start::rearticulated ||
                                   next.start == HeardNote::Start::rearticulated;
        const bool glides =
            fragment.start == HeardNote::Start::glide && next.start == HeardNote::Start::glide;
        if (!rearticulates && !glides) {
            fragment.passing = true;
            if (!next.ifPassed) // the sound itself tells better
                next.ifPassed = together;
            ++i;
            continue;
        }
        begin(next, together);
        if (next.shape.empty())
            next.shape = fragment.shape;
        notes.erase(notes.begin() + static_cast<std::ptrdiff_t>(i));
    }
}

/// The second part of what was taken for one tone lies on another pitch: whether the first was a note of its
/// own only the score can tell.
void leaveToScore(HeardNote& first, HeardNote& second) {
    first.passing = true;
    second.ifPassed = HeardNote::Beginning{first.onset, first.start, first.changeoverMs};
    second.start = HeardNote::Start::glide;
}

bool lastsAsAsked(const HeardNote& note, const ExpectedNotes& expected, std::size_t i) {
    const double asked = i + 1 < expected.notes.size()
                             ? expected.notes[i + 1].seconds - expected.notes[i].seconds
                             : expected.notes[i].noteValueSeconds;
    return note.offset - note.onset >= leastAskedShare * asked;
}

/// Settles by the score what the sound leaves open: notes that were only passed through, and changes that may
/// have stopped half-way.
class Settler {
public:
    Settler(std::span<const HeardNote> heard, const ExpectedNotes& e, const Score& s, double tuning)
        : notes(heard), expected(e), score(s), expectedFor(heard.size(), -1), asked(heard.size(), false) {
        const auto onsets = onsetsOf(evidenceOf(notes, tuning));
        const Alignment alignment = alignNotes(expected.notes, onsets);
        for (std::size_t i = 0; i < alignment.heardFor.size(); ++i)
            if (const int j = alignment.heardFor[i]; j >= 0) {
                const auto at = static_cast<std::size_t>(j);
                const bool right = onsets[at].pitch == expected.notes[i].pitch;
                if (right)
                    expectedFor[at] = static_cast<int>(i);
                // A glide lingers on pitches that nobody struck, and a fragment of tone may have any.
                const bool played = right || (struck(notes[at]) && !isShort(notes[at]));
                asked[at] = played && lastsAsAsked(notes[at], expected, i);
            }
    }

    /// Without passing notes that the score does not ask for; the notes after them then began as ifPassed or
    /// `slowly` says.
    std::vector<HeardNote> run() {
        for (std::size_t j = 0; j < notes.size(); ++j)
            if (!leftOut(j))
                keep(j);
        return std::move(kept);
    }

private:
    [[nodiscard]] bool mayPass(std::size_t j) const { return notes[j].passing && !asked[j]; }

    [[nodiscard]] bool leftOut(std::size_t j) const {
        if (!mayPass(j))
            return false;
        if (!notes[j].onlyHalfWay)
            return true;
        std::size_t next = j + 1;
        while (next < notes.size() && mayPass(next))
            ++next;
        return next < notes.size() && slowReading(next) != nullptr;
    }

    /// The best reading of how note j began for the very change that the score has here.
    [[nodiscard]] const HeardNote::Slowly* slowReading(std::size_t j) const {
        const int to = expectedFor[j];
        if (kept.empty() || to < 1 || expectedFor[lastKept] != to - 1)
            return nullptr;
        const int index = expected.firstIndex + to;
        if (!score.notes[static_cast<std::size_t>(index)].slurFromPrevious)
            return nullptr;
        const Change change = score.changeInto(index);
        const auto found = std::ranges::find_if(
            notes[j].slowly, [&](const HeardNote::Slowly& reading) { return reading.stop.change == change; });
        return found == notes[j].slowly.end() ? nullptr : &*found;
    }

    void keep(std::size_t j) {
        HeardNote note = notes[j];
        if (const HeardNote::Slowly* reading = slowReading(j))
            beginSlowly(note, *reading);
        else if (note.ifPassed && (kept.empty() || !kept.back().passing)) {
            begin(note, *note.ifPassed);
            if (note.start == HeardNote::Start::glide && !kept.empty())
                kept.back().offset = std::min(note.onset, std::max(kept.back().offset, notes[j - 1].offset));
        }
        kept.push_back(note);
        lastKept = j;
    }

    void beginSlowly(HeardNote& note, const HeardNote::Slowly& reading) {
        begin(note, reading.beginning);
        kept.back().offset = note.onset;
        note.late = HeardNote::Late{reading.stop.late(), lateEvidenceOf(note, reading)};
    }

    static LateEvidence lateEvidenceOf(const HeardNote& note, const HeardNote::Slowly& reading) {
        LateEvidence evidence;
        evidence.apartSeconds = reading.apart;
        evidence.mismatch = reading.mismatch;
        for (const HeardNote::Slowly& other : note.slowly)
            if (other.stop.change == reading.stop.change && other.stop.between != reading.stop.between)
                evidence.rivalRatio =
                    std::min(evidence.rivalRatio, other.mismatch / std::max(leastMismatch, reading.mismatch));
        return evidence;
    }

    std::span<const HeardNote> notes;
    const ExpectedNotes& expected;
    const Score& score;
    std::vector<int> expectedFor; ///< of each note that has the right pitch, else -1
    std::vector<bool> asked;
    std::vector<HeardNote> kept;
    std::size_t lastKept = 0;
};

/// See Settler::run.
std::vector<HeardNote> settledByScore(std::span<const HeardNote> notes, const Score& score,
                                      const ExpectedNotes& expected, double tuning) {
    if (std::ranges::none_of(notes,
                             [](const HeardNote& n) { return n.passing || n.ifPassed || !n.slowly.empty(); }))
        return {notes.begin(), notes.end()};
    return Settler(notes, expected, score, tuning).run();
}

/// Of a matched take: what sound alone tells of its notes.
class SoundMeasures {
public:
    SoundMeasures(ScoreMatch& m, std::span<const HeardNote> notes, const Score& s, double tuning)
        : match(m), heard(notes), score(s), shift(tuning) {}

    void addPitches() {
        std::vector<double> plain;
        std::vector<double> predicted;
        for (std::size_t i = 0; i < match.heardFor.size(); ++i)
            if (note(i).outcome == Outcome::right) {
                plain.push_back(centsOf(i));
                predicted.push_back(centsOf(i) - asked(i).predictedCents);
            }
        if (plain.empty())
            return;
        const double centre = median(plain);
        const double predictedCentre = median(predicted);
        match.performance.tuningHz = tuningHz(shift + centre / centsPerSemitone);
        for (std::size_t i = 0; i < match.heardFor.size(); ++i) {
            if (note(i).outcome != Outcome::right)
                continue;
            note(i).cents = centsOf(i) - centre;
            note(i).centsFromPrediction = centsOf(i) - asked(i).predictedCents - predictedCentre;
        }
    }

    void addLoudness() {
        std::vector<double> levels;
        for (std::size_t i = 0; i < match.heardFor.size(); ++i)
            if (const auto db = levelOf(i))
                levels.push_back(*db);
        if (levels.empty())
            return;
        const double centre = median(levels);
        for (std::size_t i = 0; i < match.heardFor.size(); ++i)
            if (const auto db = levelOf(i))
                note(i).loudnessDb = *db - centre;
    }

    /// Which fingers came late, as far as it is likely.
    std::vector<WeighedLate> addFingers() {
        std::vector<WeighedLate> weighed;
        std::size_t i = 0; // changes are in the notes' order
        for (ChangeResult& change : match.performance.changes) {
            while (note(i).index != change.toIndex)
                ++i;
            const HeardNote* reached = heardFor(i);
            if (!change.changeoverMs || reached == nullptr || !reached->late)
                continue;
            weighed.push_back({change.toIndex, reached->late->fingers, reached->late->evidence});
            const double likelihood = likelihoodOf(reached->late->evidence);
            if (likelihood < leastLateLikelihood)
                continue;
            change.lateFingers = reached->late->fingers;
            change.lateByMs = reached->late->evidence.apartSeconds * msPerSecond;
            change.lateLikelihood = likelihood;
        }
        return weighed;
    }

    void tellScoops() {
        std::vector<double> cents;
        std::vector<double> ms;
        for (std::size_t i = 0; i < match.heardFor.size(); ++i)
            if (const HeardNote* h = heardFor(i);
                h != nullptr && h->spoke && note(i).outcome == Outcome::right) {
                cents.push_back(centsPerSemitone * std::abs(h->spoke->semitones));
                ms.push_back(h->spoke->seconds * msPerSecond);
            }
        if (cents.size() >= scoopsTold)
            match.performance.remarks.emplace_back(
                ScoopedNotes{static_cast<int>(cents.size()), median(cents), median(ms)});
    }

    [[nodiscard]] std::vector<double> onsetNoiseMs() const {
        std::vector<double> noise(score.notes.size(), 0.0);
        for (std::size_t i = 0; i < match.heardFor.size(); ++i)
            if (const HeardNote* h = heardFor(i))
                noise[static_cast<std::size_t>(match.performance.notes[i].index)] =
                    h->onsetNoise * msPerSecond;
        return noise;
    }

private:
    [[nodiscard]] NoteResult& note(std::size_t i) { return match.performance.notes[i]; }
    [[nodiscard]] const ScoreNote& asked(std::size_t i) const {
        return score.notes[static_cast<std::size_t>(match.performance.notes[i].index)];
    }
    [[nodiscard]] const HeardNote* heardFor(std::size_t i) const {
        const int j = match.heardFor[i];
        return j < 0 ? nullptr : &heard[static_cast<std::size_t>(j)];
    }
    [[nodiscard]] double centsOf(std::size_t i) const {
        return centsPerSemitone * (heardFor(i)->midi - shift - asked(i).sounding);
    }
    [[nodiscard]] std::optional<double> levelOf(std::size_t i) const {
        const HeardNote* h = heardFor(i);
        return h == nullptr || h->level <= 0.0 ? std::nullopt : std::optional(decibels(h->level));
    }

    ScoreMatch& match;
    std::span<const HeardNote> heard;
    const Score& score;
    double shift;
};

} // namespace

std::vector<HeardNote> dropImplausible(std::vector<HeardNote> notes) {
    if (notes.empty())
        return notes;
    std::vector<double> levels;
    for (const HeardNote& note : notes)
        levels.push_back(note.level);
    const double usual = quantile(std::move(levels), usualQuantile);
    dropScraps(notes, otherSoundShare * usual);
    for (HeardNote& note : notes)
        note.passing = note.passing || note.level < doubtfulShare * usual;
    joinBlurs(notes);
    absorbTransients(notes);
    return notes;
}

std::vector<HeardNote> keepPlausible(std::vector<HeardNote> notes, const Score& score) {
    notes = dropImplausible(std::move(notes));
    weighRearticulations(notes);
    const bool asked = repeatsPitches(score);
    const auto isArticulation = [&](const HeardNote& note) {
        return asked ? note.again.weight >= askedRearticulationWeight
                     : note.again.logOdds >= rearticulationLogOdds;
    };
    std::vector<HeardNote> kept;
    for (HeardNote& note : notes) {
        const bool again = note.start == HeardNote::Start::rearticulated && !kept.empty();
        if (again && std::abs(note.midi - kept.back().midi) > anotherPitchSemitones)
            leaveToScore(kept.back(), note);
        else if (again && !isArticulation(note)) {
            join(kept.back(), note);
            continue;
        }
        kept.push_back(note);
    }
    std::ranges::stable_sort(kept, {}, &HeardNote::onset);
    return kept;
}

SoundMatched matchSound(std::span<const HeardNote> notes, const Score& score, const TempoMap& tempo,
                        TakeSpan span, double tuningSemitones) {
    ExpectedNotes expected = expectedNotes(score, tempo, span);
    auto heard = settledByScore(notes, score, expected, tuningSemitones);
    ScoreMatch match = matchToScore(evidenceOf(heard, tuningSemitones), score, tempo, {span});
    match.performance.source = Source::sound;
    SoundMeasures measures(match, heard, score, tuningSemitones);
    measures.addPitches();
    measures.addLoudness();
    std::vector<WeighedLate> late = measures.addFingers();
    measures.tellScoops();
    auto noise = measures.onsetNoiseMs();
    return {std::move(match), std::move(expected), std::move(heard), std::move(noise), std::move(late)};
}

double matchCost(std::span<const HeardNote> notes, const Score& score, const TempoMap& tempo, TakeSpan span,
                 double tuningSemitones) {
    const auto onsets = onsetsOf(evidenceOf(notes, tuningSemitones));
    return alignNotes(expectedNotes(score, tempo, span).notes, onsets).cost;
}

} // namespace valveladder
