#include "Base/System.h"

#include "Base/Path.h"

#include <windows.h>

#include <algorithm>
#include <cstdlib>
#include <fcntl.h>
#include <io.h>
#include <shellapi.h>
#include <sys/stat.h>

namespace valveladder {

namespace {

std::wstring wide(const std::string& text) {
    return pathOf(text).wstring();
}

std::string narrow(const wchar_t* text) {
    return pathText(std::filesystem::path(text));
}

} // namespace

std::optional<std::string> environment(const char* variable) {
    const wchar_t* value = _wgetenv(wide(variable).c_str());
    return value != nullptr ? std::optional<std::string>(narrow(value)) : std::nullopt;
}

void setEnvironment(const char* variable, const std::optional<std::string>& value) {
    _wputenv_s(wide(variable).c_str(), wide(value.value_or("")).c_str()); // an empty one is taken out
}

std::FILE* openNew(const std::filesystem::path& path) {
    const int file = _wopen(path.c_str(), _O_WRONLY | _O_CREAT | _O_EXCL | _O_BINARY, _S_IREAD | _S_IWRITE);
    return file < 0 ? nullptr : _fdopen(file, "wb");
}

std::vector<std::string> programArguments(int argc, char** argv) {
    SetConsoleOutputCP(CP_UTF8);
    _setmode(_fileno(stdout), _O_BINARY);
    _setmode(_fileno(stderr), _O_BINARY);
    // What main() is given has lost all that the system's code page lacks.
    int count = 0;
    wchar_t** words = CommandLineToArgvW(GetCommandLineW(), &count);
    if (words == nullptr)
        return {argv + std::min(argc, 1), argv + argc};
    std::vector<std::string> all;
    for (int i = 1; i < count; ++i)
        all.push_back(narrow(words[i]));
    LocalFree(words);
    return all;
}

} // namespace valveladder
