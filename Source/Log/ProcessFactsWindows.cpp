#include "Log/ProcessFacts.h"

#include <windows.h>

namespace valveladder {

std::string hostOfProcesses() {
    char text[MAX_COMPUTERNAME_LENGTH + 1] = {};
    DWORD size = sizeof text;
    return GetComputerNameA(text, &size) ? std::string(text, size) : std::string();
}

std::string startOfProcess(std::int64_t process) {
    HANDLE handle = OpenProcess(PROCESS_QUERY_LIMITED_INFORMATION, FALSE, static_cast<DWORD>(process));
    if (handle == nullptr)
        return {};
    FILETIME created{}, ended{}, kernel{}, user{};
    const bool known = GetProcessTimes(handle, &created, &ended, &kernel, &user) != 0;
    DWORD exitCode = 0;
    const bool alive = GetExitCodeProcess(handle, &exitCode) != 0 && exitCode == STILL_ACTIVE;
    CloseHandle(handle);
    if (!known || !alive)
        return {};
    return std::to_string(created.dwHighDateTime) + "." + std::to_string(created.dwLowDateTime);
}

bool processExists(std::int64_t process) {
    return !startOfProcess(process).empty();
}

std::int64_t ownProcess() {
    return static_cast<std::int64_t>(GetCurrentProcessId());
}

} // namespace valveladder
