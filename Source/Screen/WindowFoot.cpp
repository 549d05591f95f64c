#include "Screen/WindowFoot.h"

#include "Screen/Look.h"
#include "Screen/SteadySeconds.h"
#include "View/Words.h"

namespace valveladder {

namespace {

constexpr int leastMessageWidth = 110;
constexpr int workWidth = 300;

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

WindowFoot::WindowFoot(Processor& plugin, bool hosted)
    : owner(plugin), inHost(hosted), clockAttachment(*plugin.parameterSet().runOwnClock, clockButton) {
    clockButton.setTitle(inHost ? words::runClock : words::startWord);
    clockButton.setTooltip(inHost ? words::runClockHelp : words::startHelp);
    clockButton.setClickingTogglesState(true);
    takeButton.setButtonText(words::takeKey);
    takeButton.setTitle(words::markWord);
    takeButton.setTooltip(words::markHelp);
    takeButton.onClick = [this] { owner.pressTake(); };
    repeatButton.setTitle(words::repeatWord);
    repeatButton.setTooltip(words::repeatHelp);
    repeatButton.onClick = [this] { onRepeat(); };
    messagesButton.setButtonText(juce::String(words::messages) + "  M");
    messagesButton.setTitle(words::messages);
    messagesButton.setTooltip(words::messagesHelp);
    messagesButton.onClick = [this] { onMessages(); };
    for (juce::Component* each : std::initializer_list<juce::Component*>{
             &clockButton, &takeButton, &repeatButton, &messagesButton, &level, &message})
        addAndMakeVisible(each);
    addChildComponent(work);
}

void WindowFoot::nameKeys(bool ours) {
    if (inHost)
        clockButton.setButtonText(ours ? words::runClockKey : words::runClock);
    else
        clockButton.setButtonText(clockButton.getToggleState() ? words::stopSpace : words::startSpace);
    repeatButton.setButtonText(ours ? words::repeatKey : words::repeatWord);
}

void WindowFoot::showPlaying(bool wanted) {
    for (juce::Component* each :
         std::initializer_list<juce::Component*>{&clockButton, &takeButton, &repeatButton, &level})
        each->setVisible(wanted);
    resized();
}

void WindowFoot::watch(const WorkProgress& writing) {
    work.watch({readingWork(owner.session()), writing});
}

void WindowFoot::refreshWork() {
    const bool shown = work.refresh(steadySeconds());
    if (shown == work.isVisible())
        return;
    work.setVisible(shown);
    resized();
}

/// The message's words may take three lines. While work goes on in a narrow window, its words take their
/// room.
void WindowFoot::resized() {
    auto area = getLocalBounds().reduced(grid::margin, 0);
    const auto place = [&area](juce::Component& control, int width, bool left) {
        auto room = left ? area.removeFromLeft(width) : area.removeFromRight(width);
        control.setBounds(room.withSizeKeepingCentre(width, grid::control));
        if (left)
            area.removeFromLeft(grid::unit);
    };
    if (clockButton.isVisible()) {
        place(clockButton, 156, true);
        place(takeButton, 96, true);
        place(repeatButton, 108, true);
    }
    place(messagesButton, 132, false);
    area.reduce(grid::unit, 0);
    if (level.isVisible()) {
        level.setBounds(area.removeFromLeft(juce::jlimit(60, 120, area.getWidth() / 5))
                            .withSizeKeepingCentre(juce::jlimit(60, 120, area.getWidth() / 4), 18));
        area.removeFromLeft(grid::unit);
    }
    if (work.isVisible())
        work.setBounds(area.removeFromRight(area.getWidth() < workWidth + leastMessageWidth ? area.getWidth()
                                                                                            : workWidth)
                           .withTrimmedLeft(grid::unit));
    message.setBounds(area);
}

} // namespace valveladder
