#include "KeptSound/TakePlayback.h"

#include "Base/Path.h"
#include "Base/Units.h"
#include "Files/SoundFile.h"
#include "KeptSound/KeptSoundPlace.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace valveladder {

namespace {

constexpr double levelSeconds = 0.05;
/// Share of the loudest 50 ms' power under which nothing sounds: 26 dB.
constexpr double restShare = 1.0 / 400.0;
/// A matched piece stays under full scale.
constexpr double highestPeak = 0.98;
/// A note's release belongs to it.
constexpr double releaseSeconds = 0.15;

struct Anchor {
    Tick tick = 0;
    double seconds = 0.0;
};

/// Time in the file as a function of ticks: through the notes that were heard, and beyond them at the tempo
/// that was played.
class TimeLine {
public:
    TimeLine(std::vector<Anchor> heard, Anchor tick0, double bpm)
        : anchors(std::move(heard)), secondsPerTick(secondsOf(1, bpm)) {
        if (anchors.empty())
            anchors.push_back(tick0);
    }

    [[nodiscard]] double at(Tick tick) const {
        const auto after = std::partition_point(anchors.begin(), anchors.end(),
                                                [tick](const Anchor& anchor) { return anchor.tick <= tick; });
        if (after == anchors.begin() || after == anchors.end()) {
            const Anchor& nearest = after == anchors.begin() ? anchors.front() : anchors.back();
            return nearest.seconds + static_cast<double>(tick - nearest.tick) * secondsPerTick;
        }
        const Anchor& before = *std::prev(after);
        const double share =
            static_cast<double>(tick - before.tick) / static_cast<double>(after->tick - before.tick);
        return before.seconds + share * (after->seconds - before.seconds);
    }

private:
    std::vector<Anchor> anchors; ///< rising in both
    double secondsPerTick;
};

TimeLine timeLineOf(const TakeRecord& take, const Score& score, const KeptSoundPlace& place) {
    const double shift = place.tick0Seconds() + take.roundTripMs.value_or(0.0) / msPerSecond;
    std::vector<Anchor> heard;
    for (const NoteResult& note : take.performance.notes) {
        if (!note.onsetSeconds || note.index < 0 || note.index >= static_cast<int>(score.notes.size()))
            continue;
        const Anchor anchor{score.notes[static_cast<std::size_t>(note.index)].onset,
                            shift + *note.onsetSeconds};
        if (heard.empty() || (anchor.tick > heard.back().tick && anchor.seconds > heard.back().seconds))
            heard.push_back(anchor);
    }
    return {std::move(heard), {0, shift}, take.playedBpm > 0.0 ? take.playedBpm : place.bpm};
}

/// A log may come from anywhere: its files lie in its own folder or nowhere.
std::optional<std::filesystem::path> insideFolder(const std::filesystem::path& folder,
                                                  const std::string& name) {
    const std::filesystem::path relative = pathOf(name).lexically_normal();
    if (relative.is_absolute() || relative.empty() || *relative.begin() == "..")
        return std::nullopt;
    return folder / relative;
}

/// The part of a take from a note to the end of that note's segment.
PlayedPiece segmentFrom(const PlayableTake& take, const Score& score, std::size_t note) {
    const ScoreSpan& span = score.spans[static_cast<std::size_t>(score.notes[note].span)];
    const auto last = static_cast<std::size_t>(span.firstNote + span.noteCount - 1);
    return {take.file, std::clamp(take.onsets[note], 0.0, take.seconds),
            std::clamp(take.ends[last] + releaseSeconds, 0.0, take.seconds), 1.0};
}

} // namespace

std::size_t PlayableTake::noteAt(double secondsInFile) const {
    const auto after = std::upper_bound(onsets.begin(), onsets.end(), secondsInFile);
    return after == onsets.begin() ? 0 : static_cast<std::size_t>(after - onsets.begin()) - 1;
}

std::optional<Problem> whyNoSound(const TakeRecord& take) {
    if (!take.soundFile.empty())
        return std::nullopt;
    return Problem{"no sound was kept of this take", "", "switch it on in Set-up"};
}

Result<PlayableTake> playableTake(const TakeRecord& take, const Score& score,
                                  const std::filesystem::path& folder) {
    if (auto why = whyNoSound(take))
        return *std::move(why);
    const auto path = insideFolder(folder, take.soundFile);
    if (!path)
        return Problem{"the log names a file outside its folder", take.soundFile,
                       "nothing is read from there; play another take"};
    auto opened = SoundFile::open(*path);
    if (!opened)
        return opened.problem();
    const SoundFile& sound = *opened.value();
    const auto place = keptSoundPlaceFrom(sound.comment());
    if (!place)
        return Problem{"the file does not say where the take begins in it", path->string(),
                       "play another take"};
    PlayableTake playable{
        *path, static_cast<double>(sound.format().frames) / sound.format().sampleRate, {}, {}};
    const TimeLine time = timeLineOf(take, score, *place);
    for (const ScoreNote& note : score.notes) {
        playable.onsets.push_back(time.at(note.onset));
        playable.ends.push_back(time.at(note.onset + note.length));
    }
    return playable;
}

std::vector<PlayedPiece> pieceFrom(const PlayableTake& take, std::size_t note) {
    if (note >= take.onsets.size())
        return {};
    return {{take.file, std::clamp(take.onsets[note], 0.0, take.seconds), take.seconds, 1.0}};
}

Result<SoundLevel> soundLevel(const PlayedPiece& piece) {
    auto opened = SoundFile::open(piece.file);
    if (!opened)
        return opened.problem();
    SoundFile& sound = *opened.value();
    const double rate = sound.format().sampleRate;
    const auto from = static_cast<std::int64_t>(piece.fromSeconds * rate);
    if (!sound.seek(from))
        return Problem{"the file is shorter than the take", pathText(piece.file), "play another take"};
    std::vector<float> block(static_cast<std::size_t>(std::max(1.0, levelSeconds * rate)));
    std::vector<double> powers;
    SoundLevel level;
    auto left = static_cast<std::int64_t>((piece.toSeconds - piece.fromSeconds) * rate);
    while (left > 0) {
        const auto wanted = static_cast<std::size_t>(std::min(left, static_cast<std::int64_t>(block.size())));
        const std::size_t got = sound.read(std::span(block).first(wanted));
        if (got == 0)
            break;
        double sum = 0.0;
        for (std::size_t i = 0; i < got; ++i) {
            sum += static_cast<double>(block[i]) * static_cast<double>(block[i]);
            level.peak = std::max(level.peak, std::abs(static_cast<double>(block[i])));
        }
        powers.push_back(sum / static_cast<double>(got));
        left -= static_cast<std::int64_t>(got);
    }
    if (powers.empty())
        return level;
    const double least = *std::max_element(powers.begin(), powers.end()) * restShare;
    double sum = 0.0;
    double count = 0.0;
    for (const double power : powers)
        if (power >= least) {
            sum += power;
            count += 1.0;
        }
    level.rms = std::sqrt(sum / count);
    return level;
}

Result<std::vector<PlayedPiece>> piecesInTurn(const PlayableTake& first, const PlayableTake& second,
                                              const Score& score, std::size_t note) {
    if (note >= std::min({score.notes.size(), first.onsets.size(), second.onsets.size()}))
        return Problem{"the two takes do not share this note", "", "choose another note"};
    std::vector<PlayedPiece> pieces{segmentFrom(first, score, note), segmentFrom(second, score, note)};
    std::vector<SoundLevel> levels;
    for (const PlayedPiece& piece : pieces) {
        auto level = soundLevel(piece);
        if (!level)
            return level.problem();
        if (level.value().rms <= 0.0)
            return Problem{"nothing sounds there in one of the two", pathText(piece.file),
                           "choose another note"};
        levels.push_back(level.value());
    }
    // The middle of the two, in dB, or less where a peak would pass full scale.
    double target = std::sqrt(levels[0].rms * levels[1].rms);
    for (const SoundLevel& level : levels)
        target = std::min(target, highestPeak * level.rms / level.peak);
    for (std::size_t i = 0; i < pieces.size(); ++i)
        pieces[i].gain = target / levels[i].rms;
    return pieces;
}

} // namespace valveladder
