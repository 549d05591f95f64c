#include "Log/FaultyDisk.h"

#include <sqlite3.h>

#include <cerrno>
#include <csignal>
#include <limits>
#include <sys/stat.h>
#include <unistd.h>

namespace valveladder {

namespace {

constexpr int never = std::numeric_limits<int>::max();

int callCount = 0;
int failingFrom = never;
int failure = 0;
int killingAt = never;

/// Counts a call; false when it is to fail.
bool passes() {
    ++callCount;
    if (callCount < failingFrom)
        return true;
    errno = failure;
    return false;
}

void dieIfPlanted() {
    if (callCount == killingAt)
        kill(getpid(), SIGKILL);
}

ssize_t faultyWrite(int file, const void* bytes, std::size_t size) {
    if (!passes())
        return -1;
    if (callCount == killingAt)
        (void)!::write(file, bytes, size / 2);
    dieIfPlanted();
    return ::write(file, bytes, size);
}

ssize_t faultyPwrite(int file, const void* bytes, std::size_t size, off_t offset) {
    if (!passes())
        return -1;
    if (callCount == killingAt)
        (void)!::pwrite(file, bytes, size / 2, offset);
    dieIfPlanted();
    return ::pwrite(file, bytes, size, offset);
}

int faultyTruncate(int file, off_t size) {
    if (!passes())
        return -1;
    dieIfPlanted();
    return ::ftruncate(file, size);
}

struct Replacement {
    const char* name;
    sqlite3_syscall_ptr call;
};

const Replacement replacements[] = {
    {"write", reinterpret_cast<sqlite3_syscall_ptr>(faultyWrite)},
    {"pwrite", reinterpret_cast<sqlite3_syscall_ptr>(faultyPwrite)},
    {"pwrite64", reinterpret_cast<sqlite3_syscall_ptr>(faultyPwrite)},
    {"ftruncate", reinterpret_cast<sqlite3_syscall_ptr>(faultyTruncate)},
};

/// Only calls that this build of SQLite makes are replaced; the others would be made for the first time.
void replaceCalls(bool install) {
    sqlite3_vfs* system = sqlite3_vfs_find(nullptr);
    for (const Replacement& one : replacements)
        if (system->xGetSystemCall(system, one.name) != nullptr)
            system->xSetSystemCall(system, one.name, install ? one.call : nullptr);
}

} // namespace

FaultyDisk::FaultyDisk() {
    heal();
    replaceCalls(true);
}

FaultyDisk::~FaultyDisk() {
    heal();
    replaceCalls(false);
}

void FaultyDisk::failFrom(int nth, int error) {
    heal();
    failingFrom = nth;
    failure = error;
}

void FaultyDisk::killAt(int nth) {
    heal();
    killingAt = nth;
}

void FaultyDisk::heal() {
    callCount = 0;
    failingFrom = never;
    killingAt = never;
}

int FaultyDisk::calls() const {
    return callCount;
}

} // namespace valveladder
