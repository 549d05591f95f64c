// A look round with an invented player: what the window shows of takes is theirs for a while, and nothing
// else changes.

#include "Review/Review.h"
#include "Screen/Window.h"
#include "View/Words.h"

namespace valveladder {

void Window::buildLookRound() {
    LookRound::clearLeftBehind();
    landing.onNoteWanted = [this](const TakeSummary& chosen) {
        if (!saidInvented())
            writeNote(chosen);
    };
    landing.onCorrect = [this](const CorrectionOffer& offer) {
        if (!saidInvented())
            correct(offer);
    };
    landing.onNext = [this](const PracticeSession& next) {
        if (!saidInvented())
            takeDrill(configFor(next, changes.shown()));
    };
    landing.onAgain = [this] {
        if (!saidInvented())
            again();
    };
    stair.onCell = [this](const CellPlace& cell) {
        landing.showCell(cell);
        goTo(Place::landing);
    };
    landing.onOther = stair.onOther = [this](const LogPlayer& other) { goOnAs(other); };
    first.onLookRound = setup.panel().onLookRound = [this] { startLookRound(); };
}

void Window::startLookRound() {
    if (lookingRound())
        return;
    takes.beginLookRound();
    lookedFrom = current;
    forgetShownTakes();
    bar.showBackToOwn(true);
    goTo(Place::landing);
}

void Window::endLookRound() {
    if (!lookingRound())
        return;
    sound.stop();
    takes.endLookRound();
    forgetShownTakes();
    bar.showBackToOwn(false);
    messages.putCardAway();
    goTo(lookedFrom);
}

/// Nothing of one player stands there while the other is read.
void Window::forgetShownTakes() {
    landing.showTake(nullptr);
    stair.showTake(nullptr);
    landing.show(takes.overview());
    stair.show(takes.overview());
    landing.showNewest();
    showNames();
}

void Window::refreshLookRound(const SessionView& view) {
    if (!lookingRound() || !view.inTake)
        return;
    endLookRound();
    goTo(Place::rung);
}

bool Window::saidInvented() {
    if (!lookingRound())
        return false;
    CardContent content;
    content.title = words::inventedOnlyTitle;
    content.words = words::inventedOnlyWords;
    content.action = words::backToOwn;
    messages.show(content, [this] { endLookRound(); });
    return true;
}

} // namespace valveladder
