#pragma once

#include <cstdint>
#include <string>

namespace valveladder {

/// Says which process of which computer did something, so that another can tell whether it still lives.
/// A process number alone does not: numbers are given again.
struct ProcessMark {
    std::int64_t process = 0;
    std::string start; ///< when it began, in the system's own terms; "" where the system does not say
    std::string host;  ///< this computer's own id

    bool operator==(const ProcessMark&) const = default;
};

[[nodiscard]] ProcessMark thisProcess();

/// True when the process is of this computer and running.
[[nodiscard]] bool livesHere(const ProcessMark& mark);

/// False when the process is known to be gone. True for processes of other computers: it cannot be told.
[[nodiscard]] bool mayLive(const ProcessMark& mark);

} // namespace valveladder
