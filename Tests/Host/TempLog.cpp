#include "Host/TempLog.h"

#include "Base/Uuid.h"

#include <cstdlib>

namespace valveladder::host {

void setEnvironment(const std::string& name, const std::string& value) {
#ifdef _WIN32
    _putenv_s(name.c_str(), value.c_str());
#else
    if (value.empty())
        unsetenv(name.c_str());
    else
        setenv(name.c_str(), value.c_str(), 1);
#endif
}

TempLog::TempLog() : place(std::filesystem::temp_directory_path() / ("valve-ladder-test-" + newUuid())) {
    std::filesystem::create_directories(place);
    setEnvironment("VALVE_LADDER_LOG", log().string());
}

TempLog::~TempLog() {
    setEnvironment("VALVE_LADDER_LOG", "");
    std::error_code ignored;
    std::filesystem::remove_all(place, ignored);
}

} // namespace valveladder::host
