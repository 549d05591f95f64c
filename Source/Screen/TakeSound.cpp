#include "Screen/TakeSound.h"

#include "Base/Sentence.h"
#include "Screen/Type.h"
#include "View/Words.h"

namespace valveladder {

TakeSound::TakeSound(Playback& output, LandingPlace& afterTake, StairPlace& overWeeks)
    : landing(afterTake), stair(overWeeks), player(output, defaultLogPath().parent_path()) {
    landing.onPlay = [this](int note) { playTake(note); };
    stair.sides().onPlay = [this](int note) { playSides(note); };
    for (PlayStrip* strip : {&landing.sound(), &stair.sides().sound()})
        strip->onStop = [this] { player.stop(); };
}

PlayStrip* TakeSound::stripOf(WindowPlace place) const {
    if (place == WindowPlace::landing)
        return &landing.sound();
    return place == WindowPlace::stair && stair.sidesShown() ? &stair.sides().sound() : nullptr;
}

bool TakeSound::toggle(WindowPlace place) {
    PlayStrip* strip = stripOf(place);
    if (strip != nullptr)
        strip->toggle();
    return strip != nullptr;
}

void TakeSound::playTake(int note) {
    if (const auto take = landing.take(); take && !take->trouble)
        player.play(*take, static_cast<std::size_t>(note), landing.sound().slowness());
}

void TakeSound::playSides(int note) {
    if (const auto pair = stair.sides().pair())
        player.playInTurn(*pair->first, *pair->second, static_cast<std::size_t>(note),
                          stair.sides().sound().slowness());
}

std::optional<Problem> TakeSound::whySilent(WindowPlace place) const {
    if (place == WindowPlace::stair) {
        if (const auto pair = stair.sides().pair())
            for (const auto& take : {pair->first, pair->second})
                if (auto why = whyNoSound(take->record))
                    return why;
        return std::nullopt;
    }
    const auto take = landing.take();
    return take && !take->trouble ? whyNoSound(take->record) : std::nullopt;
}

void TakeSound::refresh(WindowPlace place, const PitchNames& names) {
    PlayStrip* strip = stripOf(place);
    if (strip == nullptr)
        return;
    const TakePlayer::Shown now = player.shown(names);
    const bool sides = place == WindowPlace::stair;
    const auto silent = whySilent(place);
    const juce::String help = silent  ? toText(sentence(silent->text()))
                              : sides ? words::playSidesHelp
                                      : words::playHelp;
    strip->offer(now.playing || !silent);
    strip->show(now.words.empty() ? help : toText(now.words), now.playing);
    if (sides)
        stair.sides().showSounding(now.note);
    else
        landing.showSounding(now.note);
}

} // namespace valveladder
