// Kept sound and work that lasts, as the window shows them.

#include "Screen/Type.h"
#include "Screen/Window.h"
#include "View/Words.h"

#include <optional>

namespace valveladder {

namespace {

/// The log being read by the session's reviewer.
WorkProgress readingWork(const Worker& session) {
    return {words::readingLog,
            [&session] { return session.reviewing() != nullptr && session.reviewing()->busy(); },
            [&session]() -> std::optional<double> {
                const ReadingProgress& reading = session.reviewing()->progress();
                if (reading.all.load() == 0)
                    return std::nullopt;
                return static_cast<double>(reading.read.load()) / reading.all.load();
            },
            [&session] { session.reviewing()->cancel(); }};
}

} // namespace

void Window::buildWork() {
    work.watch({readingWork(owner.session()), pictures.progress()});
    addChildComponent(work);
}

void Window::refreshWork() {
    const bool shown = work.refresh(juce::Time::getMillisecondCounterHiRes() / 1000.0);
    if (shown != work.isVisible()) {
        work.setVisible(shown);
        resized();
    }
    const auto written = pictures.finished();
    if (!written || *written)
        return;
    if (written->problem().kind == Problem::Kind::stopped)
        ownMessage = words::exportStopped;
    else
        say(written->problem());
}

void Window::buildSound() {
    landing.onPlay = [this](int note) { playTake(note); };
    stair.sides().onPlay = [this](int note) { playSides(note); };
    for (PlayStrip* strip : {&landing.sound(), &stair.sides().sound()})
        strip->onStop = [this] { player.stop(); };
}

PlayStrip* Window::soundStrip() {
    if (current == Place::landing)
        return &landing.sound();
    return current == Place::stair && stair.sidesShown() ? &stair.sides().sound() : nullptr;
}

void Window::playTake(int note) {
    if (const auto take = landing.take(); take && !take->trouble)
        player.play(*take, static_cast<std::size_t>(note), landing.sound().slowness());
}

void Window::playSides(int note) {
    if (const auto pair = stair.sides().pair())
        player.playInTurn(*pair->first, *pair->second, static_cast<std::size_t>(note),
                          stair.sides().sound().slowness());
}

void Window::refreshSound() {
    PlayStrip* strip = soundStrip();
    if (strip == nullptr)
        return;
    const TakePlayer::Shown now = player.shown(takeNames());
    const bool sides = current == Place::stair;
    const juce::String help = sides ? words::playSidesHelp : words::playHelp;
    strip->show(now.words.empty() ? help : toText(now.words), now.playing);
    if (sides)
        stair.sides().showSounding(now.note);
    else
        landing.showSounding(now.note);
}

void Window::repeatRung() {
    if (owner.pressRepeat())
        ownMessage.clear();
    else
        ownMessage = words::cannotRepeat;
}

} // namespace valveladder
