#include "Base/Problem.h"

#include "Base/Sentence.h"

namespace valveladder {

std::string Problem::text() const {
    std::string line = where.empty() ? what : where + ": " + what;
    if (!remedy.empty())
        line += ". " + sentence(remedy);
    return line;
}

Problem inFile(Problem problem, const std::string& file) {
    if (!problem.where.empty())
        problem.what += " (" + problem.where + ")";
    problem.where = file;
    return problem;
}

} // namespace valveladder
