#include "Base/Problem.h"

#include "Base/Sentence.h"

namespace valveladder {

std::string Problem::text() const {
    std::string line = where.empty() ? what : where + ": " + what;
    if (!remedy.empty())
        line += ". " + sentence(remedy);
    return line;
}

} // namespace valveladder
