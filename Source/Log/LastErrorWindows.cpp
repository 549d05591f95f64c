#include "Log/LastError.h"

#include <windows.h>

#include <system_error>

namespace valveladder {

int lastErrno() {
    return std::system_category().default_error_condition(static_cast<int>(GetLastError())).value();
}

} // namespace valveladder
