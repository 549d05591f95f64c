#include "Screen/MessagesPanel.h"

#include "Screen/Style.h"

namespace valveladder {

namespace {

juce::String toText(const std::string& text) {
    return juce::String::fromUTF8(text.c_str());
}

juce::String textOf(const SessionView& view, const juce::String& own) {
    juce::String all;
    if (own.isNotEmpty())
        all << own << "\n";
    if (view.logTrouble)
        all << "Log: " << toText(view.logTrouble->text()) << ". " << juce::String(view.waitingTakes)
            << " finished takes wait; none is lost.\n";
    for (const ScoreWarning& warning : view.setup->warnings)
        all << "Mind: " << toText(warning.text) << "\n";
    for (auto message = view.messages.rbegin(); message != view.messages.rend(); ++message)
        all << juce::Time(message->utc).formatted("%H:%M:%S  ") << (message->trouble ? "Trouble: " : "")
            << toText(message->text) << "\n";
    return all;
}

} // namespace

MessagesPanel::MessagesPanel() {
    text.setMultiLine(true);
    text.setReadOnly(true);
    text.setCaretVisible(false);
    text.setTitle("Messages");
    text.setFont(style::font(15.0F));
    text.setColour(juce::TextEditor::backgroundColourId, style::panel);
    text.setColour(juce::TextEditor::textColourId, style::text);
    text.setColour(juce::TextEditor::outlineColourId, style::edge);
    addAndMakeVisible(text);
}

void MessagesPanel::show(const std::shared_ptr<const SessionView>& view, const juce::String& own) {
    const juce::String next = textOf(*view, own);
    if (next == shown)
        return;
    shown = next;
    text.setText(next, false);
}

void MessagesPanel::resized() {
    text.setBounds(getLocalBounds());
}

} // namespace valveladder
