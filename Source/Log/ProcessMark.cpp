#include "Log/ProcessMark.h"

#include <cerrno>
#include <fstream>
#include <sstream>

#if defined(_WIN32)
#include <windows.h>
#else
#include <csignal>
#include <unistd.h>
#endif

namespace valveladder {

namespace {

std::string firstLine(const std::string& path) {
    std::ifstream file(path);
    std::string line;
    std::getline(file, line);
    return line;
}

#if defined(_WIN32)

std::string hostId() {
    char text[MAX_COMPUTERNAME_LENGTH + 1] = {};
    DWORD size = sizeof text;
    return GetComputerNameA(text, &size) ? std::string(text, size) : std::string();
}

std::string startOf(std::int64_t process) {
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

bool exists(std::int64_t process) {
    return !startOf(process).empty();
}

std::int64_t ownNumber() {
    return static_cast<std::int64_t>(GetCurrentProcessId());
}

#else

std::string hostId() {
    char host[256] = {};
    gethostname(host, sizeof host - 1);
    return firstLine("/etc/machine-id") + "@" + host;
}

/// Boot id and field 22 (start time, clock ticks since boot) of /proc/<pid>/stat, see proc(5); "" elsewhere.
std::string startOf(std::int64_t process) {
    const std::string stat = firstLine("/proc/" + std::to_string(process) + "/stat");
    const std::size_t nameEnd = stat.rfind(')'); // field 2, which may hold anything
    if (nameEnd == std::string::npos)
        return {};
    std::istringstream rest(stat.substr(nameEnd + 1));
    std::string field;
    rest >> field;
    if (field == "Z" || field == "X")
        return {}; // ended, and only waits to be collected
    for (int i = 4; i <= 22; ++i)
        rest >> field;
    return rest ? firstLine("/proc/sys/kernel/random/boot_id") + ":" + field : std::string();
}

bool exists(std::int64_t process) {
    return process > 0 && (kill(static_cast<pid_t>(process), 0) == 0 || errno == EPERM);
}

std::int64_t ownNumber() {
    return static_cast<std::int64_t>(getpid());
}

#endif

} // namespace

ProcessMark thisProcess() {
    return {ownNumber(), startOf(ownNumber()), hostId()};
}

bool livesHere(const ProcessMark& mark) {
    return mark.host == hostId() && exists(mark.process) && startOf(mark.process) == mark.start;
}

bool mayLive(const ProcessMark& mark) {
    if (mark.process <= 0)
        return false; // from a log of before processes were noted
    return mark.host != hostId() || livesHere(mark);
}

} // namespace valveladder
