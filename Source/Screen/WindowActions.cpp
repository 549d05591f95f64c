// What the player does in the window, as against what the window shows.

#include "Base/Path.h"
#include "Plugin/State.h"
#include "Review/Review.h"
#include "Screen/Type.h"
#include "Screen/Window.h"
#include "View/Words.h"

namespace valveladder {

void Window::adopt(const SessionConfig& config) {
    shownConfig = config;
    showNames();
    setup.panel().show(config);
    first.show(config);
    nameWhoPlays();
    part.playFor(config.player, config.instrument);
}

void Window::take(SessionConfig config) {
    const SessionConfig before = shownConfig;
    const auto taken = owner.setConfig(std::move(config));
    if (!taken) {
        say(taken.problem());
        setup.panel().show(shownConfig);
        return;
    }
    history.changed(before);
    setup.showUndo(history.canUndo(), history.canRedo());
    ownMessage.clear();
    putCardAway();
    refresh();
}

void Window::goBack(bool forward) {
    const auto wanted = forward ? history.redo(shownConfig) : history.undo(shownConfig);
    setup.showUndo(history.canUndo(), history.canRedo());
    if (!wanted)
        return;
    if (const auto taken = owner.setConfig(*wanted); !taken)
        say(taken.problem());
    refresh();
}

void Window::say(const Problem& problem) {
    showCard(cardOf(problem));
}

void Window::showCard(const CardContent& content, std::function<void()> action) {
    constexpr std::size_t mostKept = 50;
    cardAction = std::move(action);
    ownMessages.push_back({juce::Time::currentTimeMillis(),
                           described(content.title, described(content.where, content.words)).toStdString(),
                           content.trouble});
    if (ownMessages.size() > mostKept)
        ownMessages.pop_front();
    card.show(content);
    card.setVisible(true);
    card.toFront(false);
    layOutCard();
    if (const auto view = owner.session().view())
        refreshMessages(*view);
}

void Window::putCardAway() {
    card.setVisible(false);
}

void Window::takeDrill(SessionConfig config) {
    const SessionConfig before = shownConfig;
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
    showCard(content, [this] { goBack(false); });
}

/// Back to the drill; where no host leads, our own clock starts and a take with it.
void Window::again() {
    goTo(Place::rung);
    if (!isHosted(owner) && !owner.parameterSet().runOwnClock->get())
        owner.pressStart();
}

void Window::loadNext(const PracticeSession& next) {
    takeDrill(configFor(next, shownConfig));
}

void Window::goOnAs(const OtherPlayer& other) {
    const auto logged = loggedScore(other.newest, other.newest.plannedBpm);
    if (!logged) {
        say(logged.problem());
        return;
    }
    SessionConfig config = shownConfig;
    config.player = other.newest.player;
    config.instrument = logged.value().instrument;
    config.drill = logged.value().drill;
    take(std::move(config));
}

/// The log's trouble is told once while it lasts; the place while playing and Messages keep saying it.
void Window::refreshTrouble(const SessionView& view) {
    if (view.logTrouble == troubleShown)
        return;
    const bool news = view.logTrouble && (!troubleShown || view.logTrouble->what != troubleShown->what);
    troubleShown = view.logTrouble;
    if (news)
        showCard(cardOf(*view.logTrouble));
}

void Window::keepSetup(const std::string& name) {
    const auto kept = shelf.keep(name, toStateText({owner.config(), owner.parameterSet().values()}));
    if (!kept)
        say(kept.problem());
    setup.showShelf(shelf.names());
}

void Window::loadSetup(const Result<std::string>& text, const std::string& where) {
    if (!text) {
        say(text.problem());
        return;
    }
    const auto state = stateFromText(text.value());
    if (!state) {
        Problem problem = state.problem();
        problem.where = where + ", " + problem.where;
        say(problem);
        return;
    }
    owner.parameterSet().set(state.value().parameters);
    take(state.value().config);
}

void Window::readSetupFile(const juce::File& file) {
    const std::string path = file.getFullPathName().toStdString();
    loadSetup(Shelf::readFile(pathOf(path)), path);
}

void Window::setupFile(bool save) {
    const auto folder = juce::File::getSpecialLocation(juce::File::userDocumentsDirectory);
    chooser = std::make_unique<juce::FileChooser>(words::setUp, folder, juce::String("*") + Shelf::extension);
    const int wanted =
        save ? juce::FileBrowserComponent::saveMode | juce::FileBrowserComponent::warnAboutOverwriting
             : juce::FileBrowserComponent::openMode | juce::FileBrowserComponent::canSelectFiles;
    chooser->launchAsync(wanted, [this, save](const juce::FileChooser& chosen) {
        const juce::File file = chosen.getResult();
        if (file == juce::File())
            return;
        if (!save) {
            readSetupFile(file);
            return;
        }
        const auto target = file.withFileExtension(Shelf::extension).getFullPathName().toStdString();
        const auto written =
            Shelf::writeFile(pathOf(target), toStateText({owner.config(), owner.parameterSet().values()}));
        if (!written)
            say(written.problem());
    });
}

void Window::exportPlace() {
    const auto folder = juce::File::getSpecialLocation(juce::File::userDocumentsDirectory);
    chooser = std::make_unique<juce::FileChooser>(words::exportTitle, folder.getChildFile(words::pictureFile),
                                                  "*.png;*.svg");
    chooser->launchAsync(juce::FileBrowserComponent::saveMode |
                             juce::FileBrowserComponent::warnAboutOverwriting,
                         [this](const juce::FileChooser& chosen) {
                             juce::File file = chosen.getResult();
                             if (file == juce::File())
                                 return;
                             if (file.getFileExtension().isEmpty())
                                 file = file.withFileExtension("png");
                             pictures.start(placeComponent(), file);
                         });
}

/// What the player says of a note of the take that is shown.
void Window::correct(const CorrectionOffer& offer) {
    const auto take = landing.take();
    if (!take || take->trouble)
        return;
    const std::string& id = take->model.id;
    owner.startedWorker().runOnSession(
        [&](Session& session) { session.correct(id, offer.reports, offer.right); });
    reader.readAgain(id);
    stair.sides().forget(id);
}

void Window::writeNote(const TakeSummary& take) {
    noteWindow = std::make_unique<juce::AlertWindow>(words::noteTitle, words::noteQuestion,
                                                     juce::MessageBoxIconType::NoIcon, this);
    noteWindow->addTextEditor("note", toText(take.playerNote));
    noteWindow->getTextEditor("note")->setTitle(words::noteTitle);
    noteWindow->addButton(words::noteKeep, 1, juce::KeyPress(juce::KeyPress::returnKey));
    noteWindow->addButton(words::noteLeave, 0, juce::KeyPress(juce::KeyPress::escapeKey));
    const auto finish = [this, id = take.header.id](int result) {
        if (result == 1) {
            const std::string text = noteWindow->getTextEditorContents("note").toStdString();
            owner.startedWorker().runOnSession([&](Session& session) { session.setPlayerNote(id, text); });
        }
        noteWindow.reset();
    };
    noteWindow->enterModalState(true, juce::ModalCallbackFunction::create(finish), false);
}

} // namespace valveladder
