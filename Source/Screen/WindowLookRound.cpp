// A look round with an invented player: what the window shows of takes is theirs for a while, and nothing
// else changes.

#include "Screen/Type.h"
#include "Screen/Window.h"
#include "View/Words.h"

namespace valveladder {

void Window::buildLookRound() {
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
            loadNext(next);
    };
    landing.onAgain = [this] {
        if (!saidInvented())
            again();
    };
    stair.onCell = [this](const CellPlace& cell) {
        landing.showCell(cell);
        goTo(Place::landing);
    };
    first.onLookRound = setup.panel().onLookRound = [this] { startLookRound(); };
    setup.panel().onFirstSteps = [this] { goTo(Place::first); };
}

void Window::startLookRound() {
    if (lookRound)
        return;
    lookRound = std::make_unique<LookRound>();
    lookedFrom = current;
    forgetShownTakes();
    backToOwn.setVisible(true);
    goTo(Place::landing);
}

void Window::endLookRound() {
    if (!lookRound)
        return;
    player.stop();
    lookRound.reset();
    forgetShownTakes();
    backToOwn.setVisible(false);
    putCardAway();
    goTo(lookedFrom);
}

/// Nothing of one player stands there while the other is read.
void Window::forgetShownTakes() {
    landing.showTake(nullptr);
    stair.showTake(nullptr);
    landing.show(overviewShown());
    stair.show(overviewShown());
    landing.showNewest();
    showNames();
}

void Window::refreshLookRound(const SessionView& view) {
    if (!lookRound || !view.inTake)
        return;
    endLookRound();
    goTo(Place::rung);
}

bool Window::saidInvented() {
    if (!lookRound)
        return false;
    CardContent content;
    content.title = words::inventedOnlyTitle;
    content.words = words::inventedOnlyWords;
    content.action = words::backToOwn;
    showCard(content, [this] { endLookRound(); });
    return true;
}

std::shared_ptr<const Overview> Window::overviewShown() const {
    return lookRound ? lookRound->overview() : overview;
}

std::shared_ptr<const LoadedTake> Window::takeShown(const std::string& id) {
    if (lookRound)
        return lookRound->take(id);
    auto loaded = reader.take(id);
    if (!loaded)
        reader.wantTake(id);
    return loaded;
}

/// The next tempo of whoever is shown.
double Window::plannedShown(const SessionView& view) const {
    const auto week = lookRound ? lookRound->overview() : nullptr;
    return week && week->next ? week->next->bpm : view.setup->planned.bpm;
}

} // namespace valveladder
