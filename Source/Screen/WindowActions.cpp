// What the player does in the window, as against what the window shows.

#include "Review/Review.h"
#include "Screen/HostKeys.h"
#include "Screen/Type.h"
#include "Screen/Window.h"
#include "View/Words.h"

namespace valveladder {

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

void Window::takeDrill(SessionConfig config) {
    const SessionConfig before = changes.shown();
    const auto view = owner.session().view();
    const double bpmBefore = view ? view->setup->planned.bpm : before.rules.startBpm;
    take(config);
    goTo(Place::rung);
    if (owner.config().drill != config.drill)
        return;
    CardContent content;
    content.title = toText(words::drillReplaced(config.drill.name, config.rules.startBpm));
    content.words = toText(words::drillBefore(before.drill.name, bpmBefore));
    content.action = words::undoHere;
    messages.show(content, [this] { goBack(false); });
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
    take(std::move(config));
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
    noteWindow = std::make_unique<juce::AlertWindow>(words::noteTitle, words::noteQuestion,
                                                     juce::MessageBoxIconType::NoIcon, this);
    noteWindow->addTextEditor("note", toText(of.playerNote));
    noteWindow->getTextEditor("note")->setTitle(words::noteTitle);
    noteWindow->addButton(words::noteKeep, 1, juce::KeyPress(juce::KeyPress::returnKey));
    noteWindow->addButton(words::noteLeave, 0, juce::KeyPress(juce::KeyPress::escapeKey));
    const auto finish = [this, id = of.header.id](int result) {
        if (result == 1) {
            const std::string text = noteWindow->getTextEditorContents("note").toStdString();
            owner.startedWorker().runOnSession([&](Session& session) { session.setPlayerNote(id, text); });
        }
        noteWindow.reset();
    };
    noteWindow->enterModalState(true, juce::ModalCallbackFunction::create(finish), false);
}

} // namespace valveladder
