#pragma once

#include "Records/TakeRecord.h"

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>

namespace valveladder {

/// The stable names of an enumeration's values, for the log, JSON and CSV. Specialised by a member `table`,
/// an array of pairs (value, name).
template <typename E>
struct EnumNames;

template <>
struct EnumNames<Outcome> {
    static constexpr std::array<std::pair<Outcome, std::string_view>, 3> table{
        {{Outcome::right, "right"}, {Outcome::wrong, "wrong"}, {Outcome::missed, "missed"}}};
};

template <>
struct EnumNames<ReportKind> {
    static constexpr std::array<std::pair<ReportKind, std::string_view>, reportKinds> table{
        {{ReportKind::wrong, "wrong"},
         {ReportKind::missed, "missed"},
         {ReportKind::split, "split"},
         {ReportKind::cracked, "cracked"},
         {ReportKind::breath, "breath"},
         {ReportKind::valves, "valves"},
         {ReportKind::extra, "extra"}}};
};

template <>
struct EnumNames<Source> {
    static constexpr std::array<std::pair<Source, std::string_view>, 3> table{
        {{Source::midi, "midi"}, {Source::sound, "sound"}, {Source::both, "both"}}};
};

template <>
struct EnumNames<TakeState> {
    static constexpr std::array<std::pair<TakeState, std::string_view>, 3> table{
        {{TakeState::open, "open"}, {TakeState::cutShort, "partial"}, {TakeState::whole, "whole"}}};
};

template <>
struct EnumNames<RoundTripFrom> {
    static constexpr std::array<std::pair<RoundTripFrom, std::string_view>, 3> table{
        {{RoundTripFrom::none, "none"},
         {RoundTripFrom::byHand, "by-hand"},
         {RoundTripFrom::measured, "measured"}}};
};

/// A value that no name stands for (memory gone wrong, a cast) is written as the first of the table.
template <typename E>
[[nodiscard]] std::string_view enumName(E value) {
    for (const auto& [candidate, text] : EnumNames<E>::table)
        if (candidate == value)
            return text;
    return EnumNames<E>::table.front().second;
}

template <typename E>
[[nodiscard]] std::optional<E> parseEnum(std::string_view text) {
    for (const auto& [value, candidate] : EnumNames<E>::table)
        if (candidate == text)
            return value;
    return std::nullopt;
}

// The Takes room names its own.
template <>
[[nodiscard]] inline std::string_view enumName<TakeWay>(TakeWay value) {
    return name(value);
}

template <>
[[nodiscard]] inline std::optional<TakeWay> parseEnum<TakeWay>(std::string_view text) {
    return parseTakeWay(std::string(text));
}

template <>
[[nodiscard]] inline std::string_view enumName<TakeEnd>(TakeEnd value) {
    return name(value);
}

/// Tries every value that the Takes room may ever name, so that none it adds is missing here.
template <>
[[nodiscard]] inline std::optional<TakeEnd> parseEnum<TakeEnd>(std::string_view text) {
    constexpr int mostEnds = 16;
    for (int i = 0; i < mostEnds; ++i)
        if (const auto end = static_cast<TakeEnd>(i); text == name(end))
            return end;
    return std::nullopt;
}

} // namespace valveladder
