#pragma once

#include "Screen/Card.h"
#include "Screen/TextColumn.h"
#include "View/PartReader.h"
#include "View/PlayModel.h"
#include "View/Words.h"

#include <deque>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// What the window says: a card over the place's foot, the newest message in the foot, and all of them in a
/// column. Card and column are the window's to lay out.
class WindowMessages {
public:
    WindowMessages();

    Card card;
    TextColumn column;
    /// A card has come, whose words stand among the messages as well.
    std::function<void()> onCard;

    void say(const Problem& problem) { show(cardOf(problem)); }
    /// A card, until it is put away or another one comes.
    void show(const CardContent& content, std::function<void()> whenAction = {});
    void putCardAway() { card.setVisible(false); }
    /// What stands in nobody's way need not lie over what is played.
    void putHintAway() {
        if (!card.content().trouble)
            putCardAway();
    }
    /// In the foot until the next change; empty = nothing.
    void remark(const juce::String& text) { own = text; }
    /// The log's trouble is told once while it lasts; the place while playing and the messages keep saying
    /// it.
    void tellTrouble(const SessionView& view);

    /// `names` of pitches in what is told of drill and takes.
    void refresh(const SessionView& view, InputSeen input, const Surroundings& around, const OpenedPart* part,
                 const PitchNames& names);
    [[nodiscard]] juce::String newest(const SessionView& view, const PitchNames& names) const;

private:
    [[nodiscard]] std::vector<SessionMessage> said(const SessionView& view) const;

    std::function<void()> action;
    std::deque<SessionMessage> cards;    ///< that were shown, the newest last
    juce::String own;                    ///< what the window itself says in the foot
    std::optional<Problem> troubleShown; ///< of the log
};

} // namespace valveladder
