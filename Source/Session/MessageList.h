#pragma once

#include "Session/SessionView.h"

#include <deque>
#include <string>
#include <utility>
#include <vector>

namespace valveladder {

/// The newest lines for the player; older ones than the last fifty are forgotten.
class MessageList {
public:
    void add(UtcMs utc, std::string text, bool trouble) {
        messages.push_back({utc, std::move(text), trouble});
        if (messages.size() > most)
            messages.pop_front();
    }
    [[nodiscard]] std::vector<SessionMessage> all() const { return {messages.begin(), messages.end()}; }

private:
    static constexpr std::size_t most = 50;
    std::deque<SessionMessage> messages;
};

} // namespace valveladder
