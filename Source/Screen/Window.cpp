#include "Screen/Window.h"

#include "Screen/Style.h"

namespace valveladder {

namespace {

constexpr int refreshHz = 30;
constexpr int minWidth = 900;
constexpr int minHeight = 600;

} // namespace

juce::AudioProcessorEditor* Processor::createEditor() {
    return new Window(*this);
}

Window::Window(Processor& plugin)
    : AudioProcessorEditor(plugin), owner(plugin),
      clockAttachment(*plugin.parameterSet().runOwnClock, runClock), setup(plugin.parameterSet()) {
    look.setColour(juce::ResizableWindow::backgroundColourId, style::background);
    look.setColour(juce::TextEditor::backgroundColourId, style::background);
    look.setColour(juce::TextEditor::textColourId, style::text);
    look.setColour(juce::ComboBox::backgroundColourId, style::background);
    look.setColour(juce::TextButton::buttonColourId, style::edge);
    setLookAndFeel(&look);
    setTitle("Valve Ladder");
    setup.onChange = [this](SessionConfig config) { take(std::move(config)); };
    setup.onProblem = [this](const Problem& problem) { say(problem); };
    setup.onMeasure = [this] {
        if (const auto begun = owner.measureRoundTrip(); !begun)
            say(begun.problem());
    };
    today.onNoteWanted = [this](const TakeSummary& chosen) { writeNote(chosen); };
    takeButton.onClick = [this] { owner.pressTake(); };
    setupButton.onClick = [this] { toggleSetup(); };
    for (juce::Component* part : std::initializer_list<juce::Component*>{&runClock, &takeButton, &setupButton,
                                                                         &now, &setup, &today, &messages})
        addAndMakeVisible(part);
    owner.startedWorker();
    shownConfig = owner.config();
    setup.show(shownConfig);
    setWantsKeyboardFocus(true);
    setResizable(true, true);
    setResizeLimits(minWidth, minHeight, 4000, 3000);
    setSize(1280, 800);
    startTimerHz(refreshHz);
    timerCallback();
}

Window::~Window() {
    setLookAndFeel(nullptr);
}

void Window::paint(juce::Graphics& g) {
    g.fillAll(style::background);
}

void Window::resized() {
    auto area = getLocalBounds().reduced(style::gap);
    auto bar = area.removeFromTop(style::rowHeight + 4);
    runClock.setBounds(bar.removeFromLeft(180));
    takeButton.setBounds(bar.removeFromLeft(110));
    bar.removeFromLeft(style::gap);
    setupButton.setBounds(bar.removeFromLeft(130));
    area.removeFromTop(style::gap);
    setup.setVisible(setupShown);
    if (setupShown) {
        setup.setBounds(area.removeFromTop(setup.heightNeeded()));
        area.removeFromTop(style::gap);
    }
    messages.setBounds(area.removeFromBottom(juce::jmax(60, area.getHeight() / 6)));
    area.removeFromBottom(style::gap);
    if (setupShown) {
        now.setBounds(area.removeFromLeft(area.getWidth() * 9 / 20));
        area.removeFromLeft(style::gap);
    } else {
        now.setBounds(area.removeFromTop(area.getHeight() * 2 / 3));
        area.removeFromTop(style::gap);
    }
    today.setBounds(area);
}

bool Window::keyPressed(const juce::KeyPress& key) {
    if (key == juce::KeyPress::spaceKey) {
        runClock.triggerClick();
        return true;
    }
    const auto letter = juce::CharacterFunctions::toLowerCase(key.getTextCharacter());
    if (letter == 't') {
        takeButton.triggerClick();
        return true;
    }
    if (letter == 's') {
        toggleSetup();
        return true;
    }
    return false;
}

void Window::toggleSetup() {
    setupShown = !setupShown;
    resized();
}

void Window::timerCallback() {
    const auto view = owner.session().view();
    if (view == nullptr)
        return;
    now.show(view, owner.clock(), owner.parameterSet().repeat->get());
    today.show(view);
    messages.show(view, ownMessage);
    // The log's rules, or a host that loads a state, change the configuration behind the window.
    if (const SessionConfig& config = view->setup->config; config != shownConfig) {
        shownConfig = config;
        setup.show(config);
    }
}

void Window::take(SessionConfig config) {
    const auto taken = owner.setConfig(std::move(config));
    if (!taken) {
        say(taken.problem());
        setup.show(shownConfig);
        return;
    }
    ownMessage.clear();
    timerCallback();
}

void Window::say(const Problem& problem) {
    ownMessage = "Not taken: " + juce::String::fromUTF8(problem.text().c_str());
    timerCallback();
}

void Window::writeNote(const TakeSummary& take) {
    noteWindow = std::make_unique<juce::AlertWindow>("Your note", "What should be remembered of this take?",
                                                     juce::MessageBoxIconType::NoIcon, this);
    noteWindow->addTextEditor("note", juce::String::fromUTF8(take.playerNote.c_str()));
    noteWindow->addButton("Keep", 1, juce::KeyPress(juce::KeyPress::returnKey));
    noteWindow->addButton("Leave as it was", 0, juce::KeyPress(juce::KeyPress::escapeKey));
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
