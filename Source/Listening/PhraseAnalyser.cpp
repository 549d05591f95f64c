#include "Listening/PhraseAnalyser.h"

#include "Listening/Attack.h"
#include "Listening/AttackConstants.h"
#include "Listening/CycleLikeness.h"
#include "Listening/Estimates.h"
#include "Listening/NotePitch.h"
#include "Listening/Restrikes.h"
#include "Listening/RingingGlide.h"
#include "Listening/Scoop.h"
#include "Listening/Vibrato.h"
#include "Valves/Pitch.h"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

namespace valveladder {

namespace {

/// Sound looked at before and after the contour's edges.
constexpr double marginSeconds = 0.12;
/// A note may sound for so long before it has a pitch: longest of the real notes of the tuning part, 0.13 s,
/// moved down.
constexpr double slowSeconds = 0.2;
/// Level windows: one period, but no less than this.
constexpr double minLevelWindowSeconds = 0.005;
constexpr double halfLevel = 0.5;
/// For a note's end its level is the greatest within this time before it dies away, echoes included.
constexpr double endLevelSeconds = 0.25;
/// Notes whose contours touch within this are one breath of sound, to be parted by fit.
constexpr double touchSeconds = 0.045;
/// Longest change of pitch that counts as one.
constexpr double maxGlideSeconds = 0.18;
/// A glide fits when no more than this share of the sound, over what fails elsewhere, fails to repeat from
/// cycle to cycle. On the tuning takes true glides stay under 0.02, in a room 0.06; a tenth of new strokes
/// lie under 0.05. So what most changes of a phrase are decides how strict to be with the others.
constexpr double maxGlideResidual = 0.035;
constexpr double lenientGlideResidual = 0.12;
constexpr double usualGlideResidual = 0.06;
/// Where a phrase bends, echoes are looked for from here on; and what they leave unexplained counts so much
/// beside what does not repeat. Both set on the tuning takes, dry and in rooms: there 0.09 is left by 90 % of
/// glides and less than that by a third of strokes.
constexpr double ringingFrom = 0.012;
constexpr double ringingTo = 0.35;
constexpr double ringingShare = 0.85;
/// Above this share of the softer tone nothing but a room makes the level dip; and so many of a phrase's
/// changes tell whether it rings.
constexpr double undippedShare = 0.6;
constexpr std::size_t ringingLookedAt = 7;
constexpr std::size_t minTransitions = 3;
/// A long glide lingers at the pitches on its way, no longer than this.
constexpr double passedSeconds = 0.11;
/// A change that stops half-way: its steps lie no further than this beyond the tones on either side; a stop
/// that the contour does not show lasts no longer than this on either side of the edge; tones that it may
/// show for one stop.
constexpr double slowSlackSeconds = 0.02;
constexpr double hiddenStopSeconds = 0.04;
constexpr std::size_t mostStops = 3;
constexpr double leastBesideSeconds = 0.04; ///< the tones on either side
/// And it is none unless the sound fits at least so well, and so much better than one change without a stop.
constexpr double likeOnce = 0.02;
constexpr double mostSlowMismatch = 0.2;
constexpr double betterThanOnce = 0.6;
/// Semitones a second from which on a pitch is on its way and not settled: a tone 20 ms long would leave the
/// 35 cents about its median.
constexpr double passingSpeed = 6.0;
/// Between tongued notes the level falls below this share of the softer one.
constexpr double tonguedDip = 0.4;
/// Through a valve's travel the tone stays above this share of the softer note.
constexpr double glideDip = 0.2;
/// Unless the phrase bends anyway, a change that falls below this share is a stroke: of a few cycles of a low
/// tone nearly any change fits a glide. Set on the tuning takes.
constexpr double strangeDip = 0.55;
constexpr double dipSearchSeconds = 0.08;
/// Shortest distance between two strokes on one pitch (halves of 60 ms are to be told), in seconds.
constexpr double leastStrokeSeconds = 0.05;
/// Pitch that strays by so many cents moves the middle of a glide by this share of the time that the glide
/// takes for as many; and where one stroke sounds under the next, the onset is known to this share of a
/// period. Both set on the tuning takes.
constexpr double glideNoiseShare = 1.0;
constexpr double blurNoisePeriods = 0.5;
/// A note struck while another dies away is blurred by it for this long.
constexpr double blurSeconds = 0.03;
/// A dying tone is broken into where its upper harmonics repeat less well than this share of their best; the
/// new one has settled no later than this after.
constexpr float breakEmphasis = 0.85F;
constexpr double unbrokenShare = 0.92;
constexpr double settlingSeconds = 0.03;
/// So found, an onset comes late, on the tuning takes by 4.2 to 4.8 ms in the median; a little less is taken
/// off, since instruments differ.
constexpr double takeoverLate = 0.003; ///< seconds
constexpr double shareOfWay = 0.6;
/// What a likeness on the way must be above the settled one: an old note that wavers is no new one.
constexpr double wayMargin = 0.1;
/// Pitch: windows of this length, their median counts.
constexpr double pitchWindowSeconds = 0.06;
constexpr double pitchWindowPeriods = 7.0;
/// Left out at a note's edges, where it is not settled yet.
constexpr double unsettledSeconds = 0.02;

/// A short piece of a tone is on a neighbouring pitch if it repeats better there by this much; seen only if
/// it goes on for this share of a period after the first.
constexpr double pieceMargin = 0.1;
constexpr double leastPieceShare = 0.5;
/// A vibrato of fewer semitones leaves the pitch to the sound itself.
constexpr double leastSwing = 0.1;
/// A changeover under vibrato counts if contour and fit lie no farther apart.
constexpr double agreeingSeconds = 0.015;
/// Of the period, for a semitone: ln 2 / 12.
constexpr double log2SharePerSemitone = 0.0578;
constexpr double silence = 1e-6; ///< so that its level has a number

std::span<const float> part(std::span<const float> x, double from, double to) {
    const double last = static_cast<double>(x.size());
    const auto a = static_cast<std::size_t>(std::clamp(from, 0.0, last));
    const auto b = static_cast<std::size_t>(std::clamp(to, 0.0, last));
    return b > a ? x.subspan(a, b - a) : std::span<const float>{};
}

/// Median period over [from, to), or nothing when no window repeats.
std::optional<double> medianPeriod(std::span<const float> x, double from, double to, double guess,
                                   double window) {
    std::vector<double> periods;
    const double step = std::max(1.0, 0.5 * window);
    for (double t = from; periods.empty() ? t < to : t + window <= to + 1.0; t += step)
        if (const auto p = refinePeriod(part(x, t, std::min(to, t + window)), guess, 0.6 * window))
            periods.push_back(*p);
    if (periods.empty())
        return std::nullopt;
    return quantile(std::move(periods), 0.5);
}

} // namespace

double PhraseAnalyser::windowOf(const Tone& tone) const {
    return std::max(tone.period, minLevelWindowSeconds * rate);
}

/// The frame at which the contour passes from one stretch to the next: where it splits best into frames
/// nearer to the one and nearer to the other pitch.
int passingFrame(std::span<const ContourFrame> steady, const Stretch& before, const Stretch& after) {
    const double border = 0.5 * (before.midi + after.midi);
    const int from = (before.first + before.last) / 2;
    const int to = (after.first + after.last) / 2;
    int best = after.first;
    int sum = 0;
    int least = 0;
    for (int f = from; f < to; ++f) {
        const ContourFrame& frame = steady[static_cast<std::size_t>(f)];
        if (frame.voiced())
            sum += (static_cast<double>(frame.midi) > border) == (after.midi > border) ? 1 : -1;
        if (sum < least) {
            least = sum;
            best = f + 1;
        }
    }
    return best;
}

std::vector<PhraseAnalyser::Tone> PhraseAnalyser::roughTones(const Sound& sound,
                                                             std::span<const Stretch> stretches,
                                                             std::span<const ContourFrame> steady,
                                                             std::span<const float> swing,
                                                             PhrasePlace place) const {
    std::vector<Tone> tones;
    for (std::size_t i = 0; i < stretches.size(); ++i) {
        const Stretch& s = stretches[i];
        Tone tone;
        const auto base = static_cast<double>(place.firstCentre - sound.first);
        tone.from = base + (s.first - 0.5) * place.hop;
        tone.to = base + (s.last - 0.5) * place.hop;
        tone.strength = s.strength;
        tone.drift = s.drift / place.hop;
        tone.midi = s.midi;
        for (int f = s.first; f < s.last; ++f)
            tone.swing =
                std::max(tone.swing, static_cast<double>(std::abs(swing[static_cast<std::size_t>(f)])));
        const double guess = rate / frequencyHz(s.midi);
        const double window = std::max(pitchWindowSeconds * rate, pitchWindowPeriods * guess);
        const double edge = std::min(unsettledSeconds * rate, 0.25 * (tone.to - tone.from));
        tone.period =
            medianPeriod(sound.samples, tone.from + edge, tone.to - edge, guess, window).value_or(guess);
        tone.level =
            sound.envelope.maxRms(tone.from, std::min(tone.to, tone.from + attack::levelSeconds * rate),
                                  windowOf(tone), 0.25 * windowOf(tone));
        tone.onset = tone.reached = tone.settled = tone.from;
        if (i > 0)
            tone.reached = base + (passingFrame(steady, stretches[i - 1], s) - 0.5) * place.hop;
        tone.offset = tone.to;
        tone.number = tones.size();
        tones.push_back(tone);
    }
    return tones;
}

void PhraseAnalyser::findAttack(const Sound& sound, Tone& tone, double quiet) const {
    const Attack found =
        valveladder::findAttack(sound.envelope, {quiet, tone.from, tone.to, windowOf(tone), rate});
    tone.onset = found.onset;
    tone.level = found.level;
    tone.start = HeardNote::Start::attack;
}

std::optional<PhraseAnalyser::ChangePlace> PhraseAnalyser::changePlace(const Sound& sound, const Tone& before,
                                                                       const Tone& after, double edge,
                                                                       double half) const {
    const double longest = std::max(before.period, after.period);
    const double window = std::max(pitchWindowSeconds * rate, 4.0 * longest);
    const double place1 = std::max(0.5 * (before.onset + edge), edge - half - 0.5 * window);
    const double place2 = std::min(0.5 * (edge + after.to), edge + half + 0.5 * window);
    const double p1 =
        periodAt(sound.samples, place1, std::min(window, 2.0 * (place1 - before.onset)), before.period)
            .value_or(before.period);
    const double p2 =
        periodAt(sound.samples, place2, std::min(window, 2.0 * (after.to - place2)), after.period)
            .value_or(after.period);
    const double from = std::max(0.0, edge - half - 2.5 * longest);
    const double to = std::min(static_cast<double>(sound.samples.size()), edge + half + 1.5 * longest);
    const std::span<const float> piece = part(sound.samples, from, to);
    if (static_cast<double>(piece.size()) < 3.0 * longest + 16.0)
        return std::nullopt;
    return ChangePlace{std::floor(from), piece, p1, p2};
}

double PhraseAnalyser::longestGlide(const Tone& before, const Tone& after) const {
    const double edge = 0.5 * (before.to + after.from);
    const double beside = std::min(edge - before.onset, after.to - edge);
    return std::min(maxGlideSeconds * rate, 0.9 * beside);
}

std::optional<Glide> PhraseAnalyser::fitGlide(const Sound& sound, const Tone& before,
                                              const Tone& after) const {
    const double edge = 0.5 * (before.to + after.from);
    const double longest = std::max(before.period, after.period);
    const double maxLength = longestGlide(before, after);
    const auto place = changePlace(sound, before, after, edge, 0.5 * maxLength);
    if (!place)
        return std::nullopt;
    const GlideFitter fitter(place->piece, 1.0 / place->periodBefore, 1.0 / place->periodAfter);
    Glide glide =
        fitter.fit(edge - place->first, std::min(0.5 * maxLength, 1.5 * longest + 0.02 * rate), maxLength);
    glide.centre += place->first;
    return glide;
}

std::optional<Glide> PhraseAnalyser::fitRinging(const Sound& sound, const Tone& before, const Tone& after,
                                                Glide plain) const {
    const double edge = 0.5 * (before.to + after.from);
    const double maxLength = longestGlide(before, after);
    const auto place = changePlace(sound, before, after, edge, 0.5 * maxLength);
    if (!place)
        return std::nullopt;
    const RingingGlideFitter fitter(place->piece, 1.0 / place->periodBefore, 1.0 / place->periodAfter, rate);
    plain.centre -= place->first;
    Glide glide = fitter.fit(plain, maxLength);
    glide.centre += place->first;
    glide.residual *= ringingShare;
    return glide.residual < lenientGlideResidual ? std::optional(glide) : std::nullopt;
}

std::optional<PhraseAnalyser::SlowChange> PhraseAnalyser::slowChange(const Sound& sound,
                                                                     const std::vector<Tone>& tones,
                                                                     std::size_t before,
                                                                     std::size_t after) const {
    Tone a = tones[before];
    Tone b = tones[after];
    const auto candidates = stops.between(midiOf(rate / a.period), midiOf(rate / b.period));
    if (candidates.empty())
        return std::nullopt;
    const double slack = std::max(slowSlackSeconds * rate, std::max(a.period, b.period));
    const double reach = after - before > 1 ? 0.0 : hiddenStopSeconds * rate;
    const double first = std::max(a.to - reach - slack, 0.5 * (a.from + a.to));
    const double last = std::min(b.from + reach + slack, 0.5 * (b.from + b.to));
    if (last - first < slack)
        return std::nullopt;
    const auto place = changePlace(sound, a, b, 0.5 * (first + last), 0.5 * (last - first));
    if (!place)
        return std::nullopt;
    const GlideFitter fitter(place->piece, 1.0 / place->periodBefore, 1.0 / place->periodAfter);
    a.to = b.from = 0.5 * (first + last);
    const auto once = fitGlide(sound, a, b);
    const double single =
        once ? fitter.mismatchOf({once->centre - place->first, once->length, once->shape},
                                 first - place->first - a.period, last - place->first + b.period)
             : 1.0;
    if (single < likeOnce)
        return std::nullopt;
    SlowChange slow{before, after, 0.0, 0.0, {}};
    double least = 1.0;
    for (const HalfDone& stop : candidates) {
        const double mid = std::exp2(stop.semitones / 12.0) / place->periodBefore;
        const HalfDoneGlide glide = fitter.fitHalfDone(mid, first - place->first, last - place->first);
        HeardNote::Beginning beginning;
        const double base = static_cast<double>(sound.first) + place->first;
        beginning.onset = seconds(base + 0.5 * (glide.left + glide.reached));
        beginning.changeoverMs = 1000.0 * seconds(glide.reached - glide.left);
        slow.readings.push_back({stop, beginning, seconds(glide.second - glide.first), glide.mismatch});
        if (glide.mismatch < least) {
            least = glide.mismatch;
            slow.left = place->first + glide.left;
            slow.reached = place->first + glide.reached;
        }
    }
    std::ranges::stable_sort(slow.readings, {}, &HeardNote::Slowly::mismatch);
    std::erase_if(slow.readings, [&](const HeardNote::Slowly& reading) {
        return reading.mismatch > mostSlowMismatch || reading.mismatch > betterThanOnce * single;
    });
    return slow.readings.empty() ? std::nullopt : std::optional(std::move(slow));
}

std::vector<PhraseAnalyser::SlowChange>
PhraseAnalyser::findSlowChanges(const Sound& sound, const std::vector<Tone>& tones) const {
    std::vector<SlowChange> found;
    const auto holds = [&](std::size_t i) { return tones[i].to - tones[i].from > leastBesideSeconds * rate; };
    for (std::size_t before = 0; before + 1 < tones.size(); ++before) {
        if (!holds(before))
            continue;
        std::size_t last = before + 1; // the farthest tone that the change may lead to
        for (double between = 0.0; last < tones.size(); ++last) {
            if (tones[last].from - tones[last - 1].to > touchSeconds * rate) {
                --last;
                break;
            }
            between += tones[last].to - tones[last].from;
            if (last - before > mostStops || between > passedSeconds * rate)
                break;
        }
        last = std::min(last, tones.size() - 1);
        for (std::size_t after = last; after > before; --after)
            if (auto slow = holds(after) ? slowChange(sound, tones, before, after) : std::nullopt) {
                found.push_back(std::move(*slow));
                before = after - 1;
                break;
            }
    }
    return found;
}

void PhraseAnalyser::dropPassedThrough(const Sound& sound, std::vector<Tone>& tones) const {
    for (std::size_t i = 1; i + 1 < tones.size();) {
        const Tone& middle = tones[i];
        Tone before = tones[i - 1];
        Tone after = tones[i + 1];
        const bool between = (middle.period - before.period) * (middle.period - after.period) < 0.0;
        const bool touches =
            middle.from - before.to < touchSeconds * rate && after.from - middle.to < touchSeconds * rate;
        if (between && touches && middle.to - middle.from < passedSeconds * rate) {
            before.to = after.from = 0.5 * (middle.from + middle.to);
            const bool moves = std::abs(middle.drift) > passingSpeed / rate;
            const auto glide = moves ? std::nullopt : fitGlide(sound, before, after);
            if (moves || (glide && glide->residual < maxGlideResidual)) {
                tones[i - 1].to = tones[i + 1].from = before.to;
                tones.erase(tones.begin() + static_cast<std::ptrdiff_t>(i));
                continue;
            }
        }
        ++i;
    }
}

void PhraseAnalyser::joinScoops(const Sound& sound, std::vector<Tone>& tones) const {
    const auto lowest = [&](double from, double to, const Tone& tone) {
        return quietest(sound, from, to, windowOf(tone)).level;
    };
    for (std::size_t i = 0; i + 1 < tones.size();) {
        const Tone& piece = tones[i];
        const Tone& next = tones[i + 1];
        Scoop scoop;
        scoop.seconds = seconds(next.from - piece.from);
        scoop.semitones = std::abs(midiOf(rate / piece.period) - midiOf(rate / next.period));
        scoop.gapSeconds = seconds(next.from - piece.to);
        scoop.settledSeconds = seconds(next.to - next.from);
        scoop.levelOverNext = piece.level / std::max(silence, next.level);
        scoop.dip = lowest(0.5 * (piece.from + piece.to), next.from, piece) / std::max(silence, piece.level);
        if (i > 0) {
            const Tone& before = tones[i - 1];
            const double between = lowest(0.5 * (before.from + before.to), piece.from, piece);
            scoop.silenceBefore = between / std::max(silence, std::min(before.level, piece.level));
        }
        if (!scoop.isOneNote()) {
            ++i;
            continue;
        }
        const double sharp = midiOf(rate / piece.period) - midiOf(rate / next.period);
        tones[i + 1].spokeSharp = std::abs(sharp) > std::abs(piece.spokeSharp) ? sharp : piece.spokeSharp;
        tones[i + 1].settled = next.from;
        tones[i + 1].from = piece.from;
        tones.erase(tones.begin() + static_cast<std::ptrdiff_t>(i));
    }
}

double PhraseAnalyser::lastOfOld(const Sound& sound, const Tone& before, double window, double early,
                                 double late) const {
    const double step = 0.125 * before.period;
    const double start = std::max(0.0, early - before.period - window);
    const std::span<const float> piece = part(sound.samples, start, late + window);
    std::vector<float> bright(piece.size());
    for (std::size_t i = 1; i < piece.size(); ++i)
        bright[i] = piece[i] - breakEmphasis * piece[i - 1];
    const double first = std::floor(start);
    std::vector<double> likeness;
    double best = 0.0;
    for (double t = late; t > early; t -= step) {
        likeness.push_back(cycleLikeness(bright, t - first, before.period, window));
        best = std::max(best, likeness.back());
    }
    double place = late;
    for (const double alike : likeness) {
        if (alike >= unbrokenShare * best)
            break;
        place -= step;
    }
    return place;
}

void PhraseAnalyser::findRestrikeOnset(const Sound& sound, const Tone& before, Tone& after) const {
    // The old note still dies away under the new one. Before the change the sound repeats with the old
    // period, after it with the new one: the change lies where it splits the time best between the two.
    const double longest = std::max(before.period, after.period);
    const double window = std::max(longest, minLevelWindowSeconds * rate);
    const double step = 0.125 * longest;
    const double from = std::max(before.period + window, std::max(0.5 * (before.from + before.to),
                                                                  before.to - dipSearchSeconds * rate));
    const double to = std::min(0.5 * (after.from + after.to), after.from + dipSearchSeconds * rate);
    after.start = HeardNote::Start::attack;
    after.blurred = true;
    after.noise = blurNoisePeriods * longest;
    after.onset = 0.5 * (before.to + after.from);
    // A fresh note may speak off its pitch at first: what has left the old pitch by more than half counts
    // too.
    const double onTheWay = before.period * std::pow(after.period / before.period, shareOfWay);
    // Of a cycle with the one before, centred on the border between the two.
    const auto repeats = [&](double t, double period) {
        return cycleLikeness(sound.samples, t + 0.5 * period, period, window);
    };
    double sum = 0.0;
    double least = 0.0;
    for (double t = from; t < to; t += step) {
        sum +=
            std::max(repeats(t, after.period), repeats(t, onTheWay) - wayMargin) - repeats(t, before.period);
        if (sum < least || t == from) {
            least = std::min(least, sum);
            after.onset = t + 0.5 * step;
        }
    }
    // By then the new tone repeats, which a stroke does not do at once: it took over half-way between there
    // and where the old tone was last alone.
    const double early = std::max(from, after.onset - settlingSeconds * rate);
    after.onset =
        0.5 * (after.onset + lastOfOld(sound, before, window, early, after.onset)) - takeoverLate * rate;
}

PhraseAnalyser::Dip PhraseAnalyser::quietest(const Sound& sound, double from, double to,
                                             double window) const {
    Dip dip{from, sound.envelope.rms(from, window)};
    for (double t = from; t <= to; t += 0.125 * window) {
        const double level = sound.envelope.rms(t, window);
        if (level < dip.level)
            dip = {t, level};
    }
    return dip;
}

PhraseAnalyser::Transition PhraseAnalyser::lookAt(const Sound& sound, const Tone& before,
                                                  const Tone& after) const {
    const double window = std::max(windowOf(before), windowOf(after));
    // The contour's edge may come late: a dying note is periodic for longer than it is loud.
    const double reach = dipSearchSeconds * rate;
    Transition transition;
    transition.dip = quietest(sound, std::max(0.5 * (before.from + before.to), before.to - reach),
                              std::min(0.5 * (after.from + after.to), after.from + 0.5 * reach), window);
    transition.share = transition.dip.level / std::max(1e-12, std::min(before.level, after.level));
    transition.touches = after.from - before.to < touchSeconds * rate;
    if (transition.touches && transition.share > glideDip)
        transition.glide = fitGlide(sound, before, after);
    return transition;
}

void PhraseAnalyser::findTransition(const Sound& sound, const Transition& transition, bool bent, Tone& before,
                                    Tone& after) const {
    const double maxResidual = bent ? lenientGlideResidual : maxGlideResidual;
    const bool dips = !bent && transition.share < strangeDip;
    if (transition.glide && transition.glide->residual < maxResidual && !dips) {
        after.onset = transition.glide->centre;
        after.changeover = transition.glide->length;
        after.start = HeardNote::Start::glide;
        const double cents = std::abs(centsBetween(before.period, after.period));
        if (std::max(before.swing, after.swing) > leastSwing) {
            // A ramp between two pitches that swing lies anywhere.
            after.onset = after.reached;
            if (std::abs(after.onset - transition.glide->centre) > agreeingSeconds * rate)
                after.changeover.reset();
        }
        after.noise =
            glideNoiseShare * transition.glide->unrest * transition.glide->length / std::max(1.0, cents);
        before.offset = after.onset;
    } else if (transition.share < tonguedDip) {
        findAttack(sound, after, transition.dip.place);
        findEnd(sound, before, transition.dip.place);
    } else {
        findRestrikeOnset(sound, before, after);
        before.offset = after.onset;
    }
}

namespace {

bool mostFit(const std::vector<double>& residuals) {
    return residuals.size() >= minTransitions && quantile(residuals, 0.5) < usualGlideResidual;
}

} // namespace

bool PhraseAnalyser::bends(std::span<const Transition> transitions) {
    std::vector<double> residuals;
    for (const Transition& t : transitions)
        if (t.glide)
            residuals.push_back(t.glide->residual);
    return mostFit(residuals);
}

bool PhraseAnalyser::mayRing(const Transition& transition) {
    return transition.glide && transition.share > undippedShare && transition.glide->residual > ringingFrom &&
           transition.glide->residual < ringingTo;
}

bool PhraseAnalyser::ringsOn(const Sound& sound, std::span<const Tone> tones,
                             std::span<const Transition> transitions) const {
    std::vector<double> residuals;
    for (std::size_t i = 0; i < transitions.size() && residuals.size() < ringingLookedAt; ++i)
        if (mayRing(transitions[i]))
            residuals.push_back(
                fitRinging(sound, tones[i], tones[i + 1], *transitions[i].glide).value_or(Glide{}).residual);
    return mostFit(residuals);
}

void PhraseAnalyser::fitRinging(const Sound& sound, std::span<const Tone> tones,
                                std::span<Transition> transitions) const {
    for (std::size_t i = 0; i < transitions.size(); ++i)
        if (mayRing(transitions[i]))
            if (const auto ringing = fitRinging(sound, tones[i], tones[i + 1], *transitions[i].glide))
                transitions[i].glide = ringing;
}

void PhraseAnalyser::findEnd(const Sound& sound, Tone& tone, double ceiling) const {
    const double window = windowOf(tone);
    const double last = std::min(ceiling, tone.to + marginSeconds * rate);
    const double body = std::max(tone.onset, tone.to - endLevelSeconds * rate);
    const double level = sound.envelope.maxRms(body, std::max(body + 1.0, tone.to), window, 0.25 * window);
    double end = last;
    while (end > tone.onset && sound.envelope.rms(end, window) < halfLevel * level)
        end -= 1.0;
    tone.offset = std::max(end, tone.onset);
}

HeardNote PhraseAnalyser::noteOf(const Sound& sound, const Tone& tone) const {
    const double margin = tone.changeover.value_or(0.0) / 2.0 + unsettledSeconds * rate;
    const double length = tone.offset - tone.onset;
    const double skip = std::min(margin, 0.35 * length);
    const double from = tone.onset + skip;
    const double to = tone.offset - std::min(unsettledSeconds * rate, 0.2 * length);
    const double window = std::max(pitchWindowSeconds * rate, pitchWindowPeriods * tone.period);
    const double period = medianPeriod(sound.samples, from, to, tone.period, window).value_or(tone.period);
    HeardNote note;
    const auto base = static_cast<double>(sound.first);
    note.onset = seconds(base + tone.onset);
    note.onsetNoise = seconds(tone.noise);
    note.offset = seconds(base + std::max(tone.onset, tone.offset));
    // Of a part of a swing the median lies anywhere.
    note.midi = tone.swing > leastSwing ? tone.midi : midiOf(rate / period);
    note.level = sound.envelope.rms(0.5 * (from + to), std::max(1.0, to - from));
    note.strength = tone.strength;
    note.start = tone.start;
    if (tone.changeover.has_value())
        note.changeoverMs = 1000.0 * seconds(tone.changeover.value_or(0.0));
    note.settledSeconds = seconds(std::max(0.0, to - from));
    return note;
}

double PhraseAnalyser::periodOfPiece(const Sound& sound, const Tone& piece) const {
    const auto likenessAt = [&](double period) {
        const double window = piece.offset - piece.onset - period;
        return window < leastPieceShare * period
                   ? -1.0
                   : cycleLikeness(sound.samples, piece.offset - 0.5 * window, period, window);
    };
    double period = piece.period;
    double best = likenessAt(period) + pieceMargin;
    for (const double semitones : {-2.0, -1.0, 1.0, 2.0}) {
        const double other = piece.period * std::exp2(semitones / 12.0);
        if (const double alike = likenessAt(other); alike > best) {
            best = alike;
            period = other;
        }
    }
    return period;
}

double PhraseAnalyser::shapeStart(const Tone& tone, double settled) {
    return tone.blurred ? tone.onset : settled;
}

std::vector<std::int8_t> PhraseAnalyser::shapeOf(const Sound& sound, const Tone& tone, double from,
                                                 double to) const {
    const double step = HeardNote::shapeStep * rate;
    const auto unitsAt = [&](double t) {
        const double db = 20.0 * std::log10(sound.envelope.rms(t, windowOf(tone)) + silence);
        return static_cast<std::int8_t>(std::clamp(std::lround(db / HeardNote::shapeDb), -127L, 0L));
    };
    std::vector<std::int8_t> shape;
    for (double t = shapeStart(tone, from); t < to && shape.size() < HeardNote::shapeSteps; t += step)
        shape.push_back(t + 0.5 * step < from ? HeardNote::noLevel : unitsAt(t));
    return shape;
}

void PhraseAnalyser::appendNotes(const Sound& sound, const Tone& tone, double changeoverAfter,
                                 std::vector<HeardNote>& notes) const {
    const double settled =
        std::max(tone.steadyFrom, tone.blurred ? tone.onset + blurSeconds * rate
                                               : tone.onset + 0.5 * tone.changeover.value_or(0.0));
    const double leaving = std::min(tone.steadyTo, tone.offset - 0.5 * changeoverAfter);
    auto strokes = findRestrikes(sound.samples, sound.envelope, settled, leaving, tone.period,
                                 leastStrokeSeconds * rate, tone.swing * log2SharePerSemitone);
    std::erase_if(strokes, [&](const Restrike& stroke) {
        return tone.start == HeardNote::Start::attack &&
               speaksStill(seconds(stroke.dip - tone.onset), stroke.dipDb, stroke.swell);
    });
    Tone piece = tone;
    HeardNote::Again again;
    for (std::size_t i = 0; i <= strokes.size(); ++i) {
        const bool last = i == strokes.size();
        piece.offset = last ? tone.offset : strokes[i].gapFrom;
        if (!strokes.empty())
            piece.period = periodOfPiece(sound, piece);
        HeardNote note = noteOf(sound, piece);
        note.again = again;
        if (i == 0)
            note.shape = shapeOf(sound, tone, settled, leaving);
        notes.push_back(std::move(note));
        if (last)
            break;
        piece.period = tone.period;
        piece.onset = strokes[i].place;
        piece.start = HeardNote::Start::restrike;
        piece.changeover.reset();
        piece.noise = 0.0;
        again.weight = strokes[i].weight;
        again.sameness = strokes[i].sameness;
        again.since = seconds(strokes[i].dip - shapeStart(tone, settled));
    }
}

void PhraseAnalyser::findEdges(const Sound& sound, std::vector<Tone>& tones) const {
    std::vector<Transition> transitions;
    for (std::size_t i = 1; i < tones.size(); ++i)
        transitions.push_back(lookAt(sound, tones[i - 1], tones[i]));
    const bool bent = bends(transitions) || ringsOn(sound, tones, transitions);
    if (bent)
        fitRinging(sound, tones, transitions);
    for (std::size_t i = 0; i < tones.size(); ++i) {
        if (i > 0)
            findTransition(sound, transitions[i - 1], bent, tones[i - 1], tones[i]);
        else
            findAttack(sound, tones[i],
                       quietest(sound, std::max(sound.earliest, tones[i].from - slowSeconds * rate),
                                tones[i].from, windowOf(tones[i]))
                           .place);
    }
    Tone& final = tones.back();
    const double middle = 0.5 * (final.from + final.to);
    findEnd(sound, final, quietest(sound, middle, final.to + marginSeconds * rate, windowOf(final)).place);
}

HeardNote::Beginning PhraseAnalyser::beginningOf(const Sound& sound, const Tone& tone) const {
    HeardNote::Beginning beginning;
    beginning.onset = seconds(static_cast<double>(sound.first) + tone.onset);
    beginning.start = tone.start;
    if (tone.changeover.has_value())
        beginning.changeoverMs = 1000.0 * seconds(tone.changeover.value_or(0.0));
    if (tone.settled > tone.onset && tone.spokeSharp != 0.0)
        beginning.spoke = HeardNote::Spoke{tone.spokeSharp, seconds(tone.settled - tone.onset)};
    return beginning;
}

namespace {

std::vector<ContourFrame> steadied(std::span<const ContourFrame> frames, std::span<const float> swing) {
    std::vector<ContourFrame> steady(frames.begin(), frames.end());
    for (std::size_t i = 0; i < steady.size(); ++i)
        if (steady[i].voiced())
            steady[i].midi -= swing[i];
    return steady;
}

} // namespace

std::vector<HeardNote> PhraseAnalyser::analyse(std::span<const ContourFrame> frames, PhrasePlace place,
                                               std::int64_t earliest) const {
    const std::vector<float> swing = vibratoOf(frames);
    const std::vector<ContourFrame> steady = steadied(frames, swing);
    const std::vector<Stretch> stretches = segmentContour(steady);
    if (stretches.empty())
        return {};
    const auto margin = static_cast<std::int64_t>(slowSeconds * rate);
    const auto length = static_cast<std::int64_t>(frames.size()) * place.hop;
    const std::int64_t first = std::max(ring.begin(), place.firstCentre - margin);
    const std::int64_t last = std::min(ring.end(), place.firstCentre + length + margin);
    if (last <= first)
        return {};
    const std::span<const float> samples(ring.at(first), static_cast<std::size_t>(last - first));
    const Sound sound{samples, Envelope(samples), first, static_cast<double>(earliest - first)};
    std::vector<Tone> tones = roughTones(sound, stretches, steady, swing, place);
    const std::vector<SlowChange> slow = findSlowChanges(sound, tones);
    for (const SlowChange& s : slow) {
        tones[s.before].steadyTo = s.left;
        tones[s.after].steadyFrom = s.reached;
    }
    std::vector<Tone> settled = tones;
    std::erase_if(settled, [&](const Tone& tone) {
        return std::ranges::any_of(
            slow, [&](const SlowChange& s) { return tone.number > s.before && tone.number < s.after; });
    });
    dropPassedThrough(sound, settled);
    joinScoops(sound, settled);
    findEdges(sound, tones);
    if (settled.size() < tones.size())
        findEdges(sound, settled);
    std::vector<HeardNote> notes;
    std::size_t next = 0; // of the settled ones
    for (std::size_t i = 0; i < tones.size(); ++i) {
        const std::size_t fresh = notes.size();
        appendNotes(sound, tones[i], i + 1 < tones.size() ? tones[i + 1].changeover.value_or(0.0) : 0.0,
                    notes);
        const bool passing = next >= settled.size() || settled[next].number != i;
        const bool halfWay =
            std::ranges::any_of(slow, [&](const SlowChange& s) { return i > s.before && i < s.after; });
        for (std::size_t k = fresh; k < notes.size(); ++k) {
            notes[k].passing = passing;
            notes[k].onlyHalfWay = halfWay;
        }
        const std::size_t expected = next > 0 ? settled[next - 1].number + 1 : 0;
        if (!passing && expected < i)
            notes[fresh].ifPassed = beginningOf(sound, settled[next]);
        for (const SlowChange& s : slow)
            if (s.after == i)
                notes[fresh].slowly = s.readings;
        next += passing ? 0 : 1;
    }
    return notes;
}

} // namespace valveladder
