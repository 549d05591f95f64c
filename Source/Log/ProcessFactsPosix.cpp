#include "Log/ProcessFacts.h"

#include <cerrno>
#include <csignal>
#include <fstream>
#include <sstream>
#include <unistd.h>

namespace valveladder {

namespace {

std::string firstLine(const std::string& path) {
    std::ifstream file(path);
    std::string line;
    std::getline(file, line);
    return line;
}

} // namespace

std::string hostOfProcesses() {
    char host[256] = {};
    gethostname(host, sizeof host - 1);
    return firstLine("/etc/machine-id") + "@" + host;
}

/// Boot id and field 22 (start time, clock ticks since boot) of /proc/<pid>/stat, see proc(5); "" elsewhere.
std::string startOfProcess(std::int64_t process) {
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

bool processExists(std::int64_t process) {
    return process > 0 && (kill(static_cast<pid_t>(process), 0) == 0 || errno == EPERM);
}

std::int64_t ownProcess() {
    return static_cast<std::int64_t>(getpid());
}

} // namespace valveladder
