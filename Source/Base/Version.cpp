#include "Base/Version.h"

namespace valveladder {

std::string_view programVersion() {
    return VALVE_LADDER_VERSION;
}

} // namespace valveladder
