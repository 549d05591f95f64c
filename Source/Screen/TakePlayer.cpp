#include "Screen/TakePlayer.h"

#include "Base/Sentence.h"
#include "Review/Comparison.h"
#include "View/Words.h"

#include <algorithm>

namespace valveladder {

TakePlayer::TakePlayer(Playback& output, std::filesystem::path logFolder)
    : playback(output), folder(std::move(logFolder)) {}

TakePlayer::~TakePlayer() {
    playback.stop();
}

void TakePlayer::refuse(const Problem& problem) {
    stop();
    refusal = problem.where.empty() ? sentence(problem.text()) : problem.text();
}

std::optional<PlayableTake> TakePlayer::find(const LoadedTake& take) {
    auto found = playableTake(take.record, take.logged.score, folder);
    if (!found) {
        refuse(found.problem());
        return std::nullopt;
    }
    return std::move(found.value());
}

void TakePlayer::play(const LoadedTake& take, std::size_t note, double slowness) {
    auto found = find(take);
    if (!found)
        return;
    refusal.clear();
    notes = take.logged.score.notes;
    auto pieces = pieceFrom(*found, note);
    takes = {std::move(*found)};
    playback.play({[pieces] { return Result<std::vector<PlayedPiece>>(pieces); }, slowness});
}

void TakePlayer::playInTurn(const LoadedTake& first, const LoadedTake& second, std::size_t note,
                            double slowness) {
    if (!sameTask(first.logged.score, second.logged.score))
        return refuse({words::otherNotes, "", ""});
    auto a = find(first);
    auto b = a ? find(second) : std::nullopt;
    if (!a || !b)
        return;
    refusal.clear();
    notes = first.logged.score.notes;
    takes = {*a, *b};
    playback.play({[one = std::move(*a), two = std::move(*b), score = first.logged.score, note] {
                       return piecesInTurn(one, two, score, note);
                   },
                   slowness});
}

void TakePlayer::stop() {
    playback.stop();
    refusal.clear();
    takes.clear();
}

TakePlayer::Shown TakePlayer::shown(const PitchNames& names) const {
    using Kind = Playback::State::Kind;
    const Playback::State state = playback.state();
    switch (state.kind) {
    case Kind::idle:
        return {refusal, false, -1};
    case Kind::finding:
        return {words::findingSound, true, -1};
    case Kind::cutOff:
        return {words::cutOff, false, -1};
    case Kind::broken:
        return {state.problem ? state.problem->text() : "", false, -1};
    case Kind::playing:
        break;
    }
    if (state.piece >= takes.size() || notes.empty())
        return {words::findingSound, true, -1};
    const std::size_t note = std::min(takes[state.piece].noteAt(state.seconds), notes.size() - 1);
    const ScoreNote& sounds = notes[note];
    const std::string pitch = pitchName(names.sounding ? sounds.sounding : sounds.written, names.spelling);
    return {words::playingNote(pitch, takes.size() > 1 ? static_cast<int>(state.piece) : -1), true,
            static_cast<int>(note)};
}

} // namespace valveladder
