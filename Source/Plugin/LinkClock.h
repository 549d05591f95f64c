#pragma once

#include "Guide/HostBlock.h"

#include <cstddef>
#include <cstdint>
#include <memory>

namespace valveladder {

/// Musical time shared over the local network by programs that take part in Ableton Link.
///
/// While it is on and the own clock runs, the drill follows Link's beats: the count-in begins at the next bar
/// of the session, and the tempo is the session's. A planned tempo is proposed to all who take part.
class LinkClock {
public:
    using NowMicros = std::int64_t (*)() noexcept;
    /// The clock that Link itself goes by, microseconds.
    [[nodiscard]] static std::int64_t systemMicros() noexcept;

    explicit LinkClock(NowMicros now = systemMicros);
    ~LinkClock();

    /// [worker] Joins or leaves; leaving is the state at first. Opens sockets, so never from the audio
    /// thread.
    void enable(bool on);
    [[nodiscard]] bool enabled() const noexcept; ///< [any]
    [[nodiscard]] std::size_t others() const;    ///< [worker] programs that take part beside us
    /// [worker] Proposes a tempo, quarters a minute, to all who take part; nothing while it is off.
    void propose(double bpm);

    /// [audio] Precondition: enabled(). The block in Link's time: playing, at the session's tempo, with
    /// `startPpq` on the first bar line of `barQuarters` after the clock was set running. Allocates and locks
    /// nothing.
    [[nodiscard]] HostBlock lead(HostBlock block, double startPpq, double barQuarters) noexcept;
    /// [audio] The next lead() begins anew.
    void stop() noexcept;

private:
    struct Impl;
    std::unique_ptr<Impl> impl;
};

} // namespace valveladder
