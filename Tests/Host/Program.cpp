#include "Host/Program.h"

#include <csignal>
#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <thread>
#include <utility>

extern char** environ;

namespace valveladder::host {

namespace {

/// As the system wants them: ended by a null pointer.
std::vector<char*> pointers(const std::vector<std::string>& words) {
    std::vector<char*> all;
    for (const std::string& word : words)
        all.push_back(const_cast<char*>(word.c_str()));
    all.push_back(nullptr);
    return all;
}

} // namespace

Program::Program(const std::vector<std::string>& words, const std::filesystem::path& output,
                 const std::vector<std::string>& environment) {
    int ends[2] = {-1, -1};
    if (pipe2(ends, O_CLOEXEC) != 0)
        return;
    input = ends[1];
    posix_spawn_file_actions_t files;
    posix_spawn_file_actions_init(&files);
    posix_spawn_file_actions_adddup2(&files, ends[0], 0);
    posix_spawn_file_actions_addopen(&files, 1, output.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    posix_spawn_file_actions_adddup2(&files, 1, 2);
    std::vector<std::string> variables = environment; // the first of a name counts
    for (char** each = environ; *each != nullptr; ++each)
        variables.emplace_back(*each);
    if (posix_spawnp(&id, words.front().c_str(), &files, nullptr, pointers(words).data(),
                     pointers(variables).data()) != 0)
        id = -1;
    posix_spawn_file_actions_destroy(&files);
    close(ends[0]);
}

Program::~Program() {
    end();
}

void Program::ended(int status, bool asked) {
    fault = WIFSIGNALED(status) && !(asked && WTERMSIG(status) == SIGTERM);
    id = -1;
}

bool Program::runs() {
    int status = 0;
    if (id > 0 && waitpid(id, &status, WNOHANG) == id)
        ended(status, false);
    return id > 0;
}

bool Program::end() {
    if (input >= 0)
        close(std::exchange(input, -1));
    if (!runs())
        return false;
    kill(id, SIGTERM);
    int status = 0;
    if (until([&] { return waitpid(id, &status, WNOHANG) == id; }, 60)) {
        ended(status, true);
        return !fault;
    }
    kill(id, SIGKILL);
    waitpid(id, &status, 0);
    id = -1;
    return false;
}

std::vector<std::string> sanitizerEnvironment() {
    const std::string sanitizer = VALVE_LADDER_ADDRESS_SANITIZER;
    if (sanitizer.empty())
        return {};
    // What the program itself never frees, or frees in another way than it was made, is not ours to judge.
    return {"LD_PRELOAD=" + sanitizer,
            "ASAN_OPTIONS=detect_leaks=0:alloc_dealloc_mismatch=0:new_delete_type_mismatch=0"};
}

bool until(const std::function<bool()>& reached, int seconds) {
    const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(seconds);
    while (!reached()) {
        if (std::chrono::steady_clock::now() > end)
            return false;
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    return true;
}

} // namespace valveladder::host
