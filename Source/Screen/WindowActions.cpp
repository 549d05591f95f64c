// What the player does in the window, as against what the window shows.

#include "Review/Review.h"
#include "Screen/HostKeys.h"
#include "Screen/Type.h"
#include "Screen/Window.h"
#include "View/LocalTime.h"
#include "View/Words.h"

namespace valveladder {

namespace {

/// `bpmBefore`: that the plan had next.
CardContent replacedCard(const SessionConfig& before, double bpmBefore, const SessionConfig& now) {
    CardContent content;
    content.action = words::undoHere;
    if (before.player == now.player && before.instrument == now.instrument) {
        content.title = toText(words::drillReplaced(now.drill.name, now.rules.startBpm));
        content.words = toText(words::drillBefore(before.drill.name, bpmBefore));
        return content;
    }
    content.title = toText(words::playerReplaced(now.player, now.instrument.name, now.drill.name));
    content.words =
        toText(words::playerBefore(before.player, before.instrument.name, before.drill.name, bpmBefore));
    return content;
}

} // namespace

bool Window::keysAreTheHosts() const {
    return inHost && !preferences.ownTransportKeys;
}

bool Window::keyPressed(const juce::KeyPress& key) {
    const bool theHosts = keysAreTheHosts();
    const auto command = theHosts && isTheHosts(key) ? std::nullopt : commandOf(key);
    if (command && perform(*command))
        return true;
    if (theHosts)
        passToHost(*this, key);
    return false;
}

/// False where it has no sense now.
bool Window::perform(WindowCommand command) {
    switch (command) {
    case WindowCommand::rung:
        goTo(Place::rung);
        break;
    case WindowCommand::landing:
        goTo(Place::landing);
        break;
    case WindowCommand::stair:
        goTo(Place::stair);
        break;
    case WindowCommand::part:
        goTo(Place::part);
        break;
    case WindowCommand::setUp:
        goTo(current == Place::setUp ? Place::rung : Place::setUp);
        break;
    case WindowCommand::take:
        foot.pressTake();
        break;
    case WindowCommand::repeat:
        foot.pressRepeat();
        break;
    case WindowCommand::clock:
        foot.pressClock();
        break;
    case WindowCommand::messages:
        foot.onMessages();
        break;
    case WindowCommand::exportPlace:
        bar.pressExport();
        break;
    case WindowCommand::sound:
        return sound.toggle(current);
    case WindowCommand::details:
        if (current == Place::landing)
            landing.showDetails(!landing.detailsShown());
        return current == Place::landing;
    case WindowCommand::sides:
        goTo(Place::stair);
        stair.showSides(!stair.sidesShown());
        break;
    case WindowCommand::undo:
    case WindowCommand::redo:
        goBack(command == WindowCommand::redo);
        break;
    case WindowCommand::backToOwn:
        if (!lookingRound())
            return false;
        endLookRound();
        break;
    }
    return true;
}

void Window::adopt(const SessionConfig& config) {
    changes.show(config);
    showNames();
    first.show(config);
    part.playFor(config.player, config.instrument);
}

void Window::take(SessionConfig config) {
    if (const auto taken = changes.take(std::move(config)); !taken)
        return messages.say(taken.problem());
    messages.remark({});
    messages.putCardAway();
    refresh();
}

void Window::goBack(bool forward) {
    if (const auto taken = changes.goBack(forward); !taken)
        messages.say(taken.problem());
    refresh();
}

void Window::replace(const SessionConfig& config) {
    const SessionConfig before = owner.config();
    const auto view = owner.session().view();
    const double bpmBefore = view ? view->setup->planned.bpm : before.rules.startBpm;
    take(config);
    if (owner.config() != before)
        messages.show(replacedCard(before, bpmBefore, config), [this] { goBack(false); });
}

void Window::takeDrill(const SessionConfig& config) {
    replace(config);
    goTo(Place::rung);
}

/// Back to the drill; where no host leads, our own clock starts and a take with it.
void Window::again() {
    goTo(Place::rung);
    if (!inHost && !owner.parameterSet().runOwnClock->get())
        owner.pressStart();
}

void Window::repeatRung() {
    messages.remark(owner.pressRepeat() ? juce::String() : juce::String(words::cannotRepeat));
}

void Window::goOnAs(const OtherPlayer& other) {
    const auto logged = loggedScore(other.newest, other.newest.plannedBpm);
    if (!logged)
        return messages.say(logged.problem());
    SessionConfig config = changes.shown();
    config.player = other.newest.player;
    config.instrument = logged.value().instrument;
    config.drill = logged.value().drill;
    replace(config);
}

/// What the player says of a note of the take that is shown.
void Window::correct(const CorrectionOffer& offer) {
    const auto shown = landing.take();
    if (!shown || shown->trouble)
        return;
    const std::string& id = shown->model.id;
    owner.startedWorker().runOnSession(
        [&](Session& session) { session.correct(id, offer.reports, offer.right); });
    takes.readAgain(id);
    stair.sides().forget(id);
}

void Window::writeNote(const TakeSummary& of) {
    note.open(toText(words::takeChoice(words::timeOf(of.header.startedUtc), of)), toText(of.playerNote),
              [this, id = of.header.id](const juce::String& text) {
                  owner.startedWorker().runOnSession(
                      [&](Session& session) { session.setPlayerNote(id, text.toStdString()); });
              });
}

} // namespace valveladder
