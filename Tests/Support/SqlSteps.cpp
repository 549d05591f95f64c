#include "Support/SqlSteps.h"

#include <sqlite3.h>

#include <atomic>

namespace valveladder::testing {

namespace {

std::atomic<std::int64_t> steps{0};

/// Called when a statement ends (SQLITE_TRACE_PROFILE).
int count(unsigned, void*, void* statement, void*) {
    steps += sqlite3_stmt_status(static_cast<sqlite3_stmt*>(statement), SQLITE_STMTSTATUS_VM_STEP, 1);
    return 0;
}

int watch(sqlite3* database, char**, const void*) {
    return sqlite3_trace_v2(database, SQLITE_TRACE_PROFILE, count, nullptr);
}

void (*const extension)() = reinterpret_cast<void (*)()>(watch);

} // namespace

SqlSteps::SqlSteps() {
    steps = 0;
    sqlite3_auto_extension(extension);
}

SqlSteps::~SqlSteps() {
    sqlite3_cancel_auto_extension(extension);
}

std::int64_t SqlSteps::take() {
    return steps.exchange(0);
}

} // namespace valveladder::testing
