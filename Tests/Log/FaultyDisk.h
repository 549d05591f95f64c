#pragma once

namespace valveladder {

/// Makes SQLite's disk fail, or its program die, at a chosen write. Stands between SQLite and the system
/// calls that change a file (sqlite3_vfs::xSetSystemCall); one at a time; not for several threads at once.
class FaultyDisk {
public:
    FaultyDisk();
    ~FaultyDisk();
    FaultyDisk(const FaultyDisk&) = delete;
    FaultyDisk& operator=(const FaultyDisk&) = delete;

    /// From the `nth` call on (1 = the next) every one fails with `error` (ENOSPC, EIO, EROFS, ...).
    void failFrom(int nth, int error);
    /// At the `nth` call half of its bytes are written, and the process kills itself with SIGKILL.
    void killAt(int nth);
    void heal();

    /// Calls since the disk was made or told what to do.
    [[nodiscard]] int calls() const;
};

} // namespace valveladder
