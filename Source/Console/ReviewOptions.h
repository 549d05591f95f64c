#pragma once

#include "Console/LogOptions.h"
#include "Review/Review.h"

#include <optional>
#include <string>
#include <vector>

namespace valveladder::console {

/// Whose takes a review looks at.
struct ReviewOptions {
    LogOptions log;
    std::string instrumentId; ///< "" = every instrument of the player's
    std::string from, to;
    bool invented = false;
    bool noCare = false;
    CareSettings care;

    void add(CLI::App& app);
    /// The player's instruments in the log, each apart: real takes, or invented ones where they are asked for
    /// or where there are no others. A Problem where there is none.
    [[nodiscard]] Result<std::vector<LogPlayer>> whom(const LogStore& store) const;
    [[nodiscard]] Result<ReviewRequest> requestFor(const LogPlayer& player) const;
};

/// Real takes where there are any of that player on that instrument, else invented ones; with `invented` only
/// those.
[[nodiscard]] std::vector<LogPlayer> eachRealBeforeInvented(const std::vector<LogPlayer>& all, bool invented);

} // namespace valveladder::console
