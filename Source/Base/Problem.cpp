#include "Base/Problem.h"

namespace valveladder {

std::string Problem::text() const {
    std::string line = where.empty() ? what : where + ": " + what;
    if (!remedy.empty())
        line += ". " + remedy;
    return line;
}

} // namespace valveladder
