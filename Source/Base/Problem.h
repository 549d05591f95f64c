#pragma once

#include <string>
#include <utility>
#include <variant>

namespace valveladder {

/// What went wrong, where, and what the player can do about it. Every message shown to a person is one of
/// these.
struct Problem {
    std::string what;   ///< e.g. "the file is not a Standard MIDI File"
    std::string where;  ///< e.g. a path, a setting's name, or a byte offset
    std::string remedy; ///< e.g. "export it again as SMF format 0 or 1"
    enum class Kind {
        fault,
        stopped ///< by the player's own wish: nothing is wrong
    } kind = Kind::fault;

    /// One line: "where: what. Remedy", the last as a sentence of its own.
    [[nodiscard]] std::string text() const;

    bool operator==(const Problem&) const = default;
};

/// A problem with what a file holds, told of that file: the place within it follows in brackets.
[[nodiscard]] Problem inFile(Problem problem, const std::string& file);

/// A value, or the Problem that kept it from being made.
template <typename T>
class Result {
public:
    Result(T value) : content(std::move(value)) {}
    Result(Problem problem) : content(std::move(problem)) {}

    [[nodiscard]] bool ok() const { return std::holds_alternative<T>(content); }
    explicit operator bool() const { return ok(); }

    /// Precondition: ok().
    [[nodiscard]] T& value() { return std::get<T>(content); }
    [[nodiscard]] const T& value() const { return std::get<T>(content); }
    /// Precondition: !ok().
    [[nodiscard]] const Problem& problem() const { return std::get<Problem>(content); }

private:
    std::variant<T, Problem> content;
};

/// Result of an action that yields nothing but success.
struct Done {
    bool operator==(const Done&) const = default;
};

} // namespace valveladder
