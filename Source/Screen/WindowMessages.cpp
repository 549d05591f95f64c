#include "Screen/WindowMessages.h"

#include "Screen/Type.h"

#include <algorithm>
#include <utility>

namespace valveladder {

namespace {

/// Trouble names files as they are called.
std::string textOf(const SessionMessage& message, const PitchNames& names) {
    return message.trouble ? words::trouble + message.text : withPitchNames(message.text, names);
}

} // namespace

WindowMessages::WindowMessages() : column(words::messages) {
    card.onClose = [this] { putCardAway(); };
    card.onAction = [this] {
        const auto wanted = std::exchange(action, {});
        putCardAway();
        if (wanted)
            wanted();
    };
}

void WindowMessages::show(const CardContent& content, std::function<void()> whenAction) {
    constexpr std::size_t mostKept = 50;
    action = std::move(whenAction);
    cards.push_back({juce::Time::currentTimeMillis(),
                     described(content.title, described(content.where, content.words)).toStdString(),
                     content.trouble});
    if (cards.size() > mostKept)
        cards.pop_front();
    card.show(content);
    card.setVisible(true);
    card.toFront(false);
    onCard();
}

void WindowMessages::tellTrouble(const SessionView& view) {
    if (view.logTrouble == troubleShown)
        return;
    const bool news = view.logTrouble && (!troubleShown || view.logTrouble->what != troubleShown->what);
    troubleShown = view.logTrouble;
    if (news)
        say(*view.logTrouble);
}

/// The newest first.
std::vector<SessionMessage> WindowMessages::said(const SessionView& view) const {
    std::vector<SessionMessage> all(cards.begin(), cards.end());
    all.insert(all.end(), view.messages.begin(), view.messages.end());
    std::stable_sort(all.begin(), all.end(),
                     [](const SessionMessage& a, const SessionMessage& b) { return a.utc > b.utc; });
    return all;
}

void WindowMessages::refresh(const SessionView& view, InputSeen input, const Surroundings& around,
                             const OpenedPart* part, const PitchNames& names) {
    if (!column.isVisible())
        return;
    std::vector<std::string> all;
    if (view.logTrouble)
        all.push_back(words::trouble + words::logTroubleWords(view));
    else if (const Notice notice = noticeFor(view, input, around); notice.kind != Notice::Kind::none)
        all.push_back((notice.trouble ? words::trouble : "") + notice.title + ". " + notice.words);
    if (part != nullptr && part->problem)
        all.push_back(words::trouble + part->problem->text());
    for (const std::string& warning : view.setup->warnings)
        all.push_back(words::mind + withPitchNames(warning, names));
    for (const std::string& open : view.setup->leftOpen)
        all.push_back(words::mind + withPitchNames(open, names));
    for (const SessionMessage& message : said(view))
        all.push_back(juce::Time(message.utc).formatted("%H:%M:%S  ").toStdString() + textOf(message, names));
    column.show(all, words::noMessages);
}

juce::String WindowMessages::newest(const SessionView& view, const PitchNames& names) const {
    if (own.isNotEmpty() || view.messages.empty())
        return own;
    return toText(textOf(view.messages.back(), names));
}

} // namespace valveladder
