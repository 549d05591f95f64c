#pragma once

#include <cstdint>

namespace valveladder::testing {

/// Counts the work of every SQLite connection that is opened while it lives, in steps of SQLite's virtual
/// machine: the same on every machine, however busy. Not nested.
class SqlSteps {
public:
    SqlSteps();
    ~SqlSteps();
    SqlSteps(const SqlSteps&) = delete;
    SqlSteps& operator=(const SqlSteps&) = delete;

    /// Steps of all statements that have ended, since the last call.
    [[nodiscard]] std::int64_t take();
};

} // namespace valveladder::testing
