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

/// The place that a command leads to from where the window is: set-up's own leads out of it again.
WindowPlace placeFor(WindowCommand command, WindowPlace current) {
    switch (command) {
    case WindowCommand::landing:
        return WindowPlace::landing;
    case WindowCommand::stair:
        return WindowPlace::stair;
    case WindowCommand::part:
        return WindowPlace::part;
    case WindowCommand::setUp:
        return current == WindowPlace::setUp ? WindowPlace::rung : WindowPlace::setUp;
    default:
        return WindowPlace::rung;
    }
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
    case WindowCommand::landing:
    case WindowCommand::stair:
    case WindowCommand::part:
    case WindowCommand::setUp:
        goTo(placeFor(command, current));
        break;
    case WindowCommand::take:
    case WindowCommand::repeat:
    case WindowCommand::clock:
    case WindowCommand::messages:
    case WindowCommand::exportPlace:
        press(command);
        break;
    case WindowCommand::sound:
        return sound.toggle(current);
    case WindowCommand::details:
        return toggleDetails();
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

/// Commands that are buttons of the bar and the foot too.
void Window::press(WindowCommand command) {
    switch (command) {
    case WindowCommand::take:
        return foot.pressTake();
    case WindowCommand::repeat:
        return foot.pressRepeat();
    case WindowCommand::clock:
        return foot.pressClock();
    case WindowCommand::messages:
        return foot.onMessages();
    case WindowCommand::exportPlace:
        return bar.pressExport();
    default:
        return;
    }
}

/// False in places without details.
bool Window::toggleDetails() {
    if (current != Place::landing)
        return false;
    landing.showDetails(!landing.detailsShown());
    return true;
}

void Window::adopt(const SessionConfig& config) {
    changes.show(config);
    showNames();
    first.show(config);
    part.playFor(config.player, config.instrument);
}

void Window::take(SessionConfig config, std::optional<ParameterValues> parameters) {
    if (const auto taken = changes.take(std::move(config), std::move(parameters)); !taken)
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

void Window::replace(const SessionConfig& config, std::optional<ParameterValues> parameters) {
    const SessionConfig before = owner.config();
    const auto view = owner.session().view();
    const double bpmBefore = view ? view->setup->planned.bpm : before.rules.startBpm;
    take(config, std::move(parameters));
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

void Window::goOnAs(const LogPlayer& other) {
    const auto logged = loggedScore(other.newest, other.newest.plannedBpm);
    if (!logged)
        return messages.say(logged.problem());
    SessionConfig config = changes.shown();
    config.player = other.newest.player;
    config.instrument = logged.value().instrument;
    config.drill = logged.value().drill;
    config.daily.reset();
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
    note.open(toText(words::takeChoice(words::timeOf(of.header.startedUtc, of.header.timeZone), of)),
              toText(of.playerNote), [this, id = of.header.id](const juce::String& text) {
                  owner.startedWorker().runOnSession(
                      [&](Session& session) { session.setPlayerNote(id, text.toStdString()); });
              });
}

} // namespace valveladder
