#include "View/PluginWords.h"

#include <fmt/format.h>

namespace valveladder::words {

std::string computerTooSlow(std::uint64_t blocks, std::uint64_t midiEvents, std::uint64_t samples) {
    return fmt::format("The computer could not keep up: {} blocks, {} MIDI messages and {} samples of sound "
                       "are missing from this take",
                       blocks, midiEvents, samples);
}

std::string wrongType(const std::string& member) {
    return fmt::format("{} has the wrong type", member);
}

std::string notANumber(const std::string& member) {
    return fmt::format("{} is not a number", member);
}

std::string newerState(std::int64_t version, int readUpTo) {
    return fmt::format("it was written by a newer version (format {}, this one reads up to {})", version,
                       readUpTo);
}

std::string stateTooLong(std::size_t bytes) {
    return fmt::format("it is {} bytes long, more than any state of Valve Ladder", bytes);
}

} // namespace valveladder::words
