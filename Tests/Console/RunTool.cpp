#include "RunTool.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <sstream>
#include <stdexcept>

namespace valveladder::consoletest {

namespace {

namespace fs = std::filesystem;

std::vector<char*> pointers(std::vector<std::string>& texts) {
    std::vector<char*> list;
    for (std::string& text : texts)
        list.push_back(text.data());
    list.push_back(nullptr);
    return list;
}

std::string contents(const fs::path& path) {
    std::ifstream stream(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
}

/// Where the suite is run under a locale with a comma, the tool gets it before its first own step.
void setCommaLocale(std::vector<std::string>& environment) {
    const char* locales = std::getenv("VALVE_LADDER_COMMA_LOCALES");
    if (locales == nullptr)
        return;
    environment.push_back(std::string("LOCPATH=") + locales);
    environment.emplace_back("LC_ALL=de_DE.UTF-8");
    environment.emplace_back("LD_PRELOAD=" VALVE_LADDER_COMMA_LOCALE_LIBRARY);
#if defined(__SANITIZE_ADDRESS__)
    std::erase_if(environment, [](const std::string& one) { return one.starts_with("ASAN_OPTIONS="); });
    // What the tool is piped into has the sanitizer as well then, and may not let itself be looked through.
    environment.emplace_back("ASAN_OPTIONS=verify_asan_link_order=0:detect_leaks=0");
#endif
}

/// Runs `arguments` with output into files of `folder`, where nothing can block.
Ran spawned(const fs::path& folder, std::vector<std::string> arguments) {
    const fs::path out = folder / ".out";
    const fs::path err = folder / ".err";
    std::vector<std::string> environment = {"TOOL=" VALVE_LADDER_TOOL, "TZ=Etc/UTC", "PATH=/usr/bin:/bin",
                                            "HOME=" + folder.string(),
                                            "VALVE_LADDER_LOG=" + (folder / "log.sqlite").string()};
    // Sanitizers are steered by the environment.
    for (const char* kept : {"ASAN_OPTIONS", "LSAN_OPTIONS", "UBSAN_OPTIONS", "TSAN_OPTIONS"})
        if (const char* value = std::getenv(kept))
            environment.push_back(std::string(kept) + "=" + value);
    setCommaLocale(environment);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addchdir_np(&actions, folder.c_str());
    posix_spawn_file_actions_addopen(&actions, 0, "/dev/null", O_RDONLY, 0);
    posix_spawn_file_actions_addopen(&actions, 1, out.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    posix_spawn_file_actions_addopen(&actions, 2, err.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    pid_t child = 0;
    const int failed = posix_spawn(&child, arguments.front().c_str(), &actions, nullptr,
                                   pointers(arguments).data(), pointers(environment).data());
    posix_spawn_file_actions_destroy(&actions);
    if (failed != 0)
        throw std::runtime_error("cannot run " + arguments.front());
    int status = 0;
    while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
    Ran run;
    run.exitCode = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    run.signal = WIFSIGNALED(status) ? WTERMSIG(status) : 0;
    run.out = contents(out);
    run.err = contents(err);
    return run;
}

} // namespace

Sandbox::Sandbox() {
    std::string pattern = (fs::temp_directory_path() / "valve-ladder-console-XXXXXX").string();
    if (mkdtemp(pattern.data()) == nullptr)
        throw std::runtime_error("cannot make a folder for the test");
    folder = pattern;
}

Sandbox::~Sandbox() {
    std::error_code ignored;
    fs::remove_all(folder, ignored);
}

Ran Sandbox::run(const std::vector<std::string>& arguments) const {
    std::vector<std::string> all = {VALVE_LADDER_TOOL};
    all.insert(all.end(), arguments.begin(), arguments.end());
    return spawned(folder, std::move(all));
}

Ran Sandbox::shell(const std::string& script) const {
    return spawned(folder, {"/bin/sh", "-c", script});
}

void Sandbox::write(const std::string& name, const std::string& content) const {
    std::ofstream stream(folder / name, std::ios::binary);
    stream << content;
}

std::string Sandbox::read(const std::string& name) const {
    return contents(folder / name);
}

std::vector<std::string> linesOver(const std::string& text, std::size_t width) {
    std::vector<std::string> lines;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);)
        if (line.size() > width)
            lines.push_back(line);
    return lines;
}

} // namespace valveladder::consoletest
