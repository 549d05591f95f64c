#pragma once

#include "Ladder/Drill.h"
#include "Records/EnumNames.h"
#include "Valves/Fingering.h"
#include "Valves/Instrument.h"

namespace valveladder {

// The stable names of what a drill and an instrument are made of: in their files, and on the command line.

template <>
struct EnumNames<Clef> {
    static constexpr std::array<std::pair<Clef, std::string_view>, 2> table{
        {{Clef::treble, "treble"}, {Clef::bass, "bass"}}};
};

template <>
struct EnumNames<Compensation> {
    static constexpr std::array<std::pair<Compensation, std::string_view>, 3> table{
        {{Compensation::none, "none"},
         {Compensation::threeValve, "three-valve"},
         {Compensation::fourValve, "four-valve"}}};
};

template <>
struct EnumNames<Spelling> {
    static constexpr std::array<std::pair<Spelling, std::string_view>, 4> table{
        {{Spelling::sharps, "sharps"},
         {Spelling::flats, "flats"},
         {Spelling::german, "german"},
         {Spelling::fixedDo, "fixed-do"}}};
};

template <>
struct EnumNames<Policy> {
    static constexpr std::array<std::pair<Policy, std::string_view>, 5> table{
        {{Policy::usual, "usual"},
         {Policy::fourthValve, "fourth-valve"},
         {Policy::oneThree, "one-three"},
         {Policy::mixed, "mixed"},
         {Policy::bothSides, "both-sides"}}};
};

template <>
struct EnumNames<MixRule> {
    static constexpr std::array<std::pair<MixRule, std::string_view>, 3> table{
        {{MixRule::perRung, "per-rung"},
         {MixRule::perSegment, "per-segment"},
         {MixRule::perNote, "per-note"}}};
};

template <>
struct EnumNames<Growth> {
    static constexpr std::array<std::pair<Growth, std::string_view>, 2> table{
        {{Growth::shift, "shift"}, {Growth::extend, "extend"}}};
};

template <>
struct EnumNames<Shape> {
    static constexpr std::array<std::pair<Shape, std::string_view>, 3> table{
        {{Shape::up, "up"}, {Shape::upDown, "up-down"}, {Shape::downUp, "down-up"}}};
};

template <>
struct EnumNames<Touch> {
    static constexpr std::array<std::pair<Touch, std::string_view>, 2> table{
        {{Touch::firm, "firm"}, {Touch::relaxed, "relaxed"}}};
};

template <>
struct EnumNames<AccentRule> {
    static constexpr std::array<std::pair<AccentRule, std::string_view>, 5> table{
        {{AccentRule::none, "none"},
         {AccentRule::everyNote, "every-note"},
         {AccentRule::longNotes, "long-notes"},
         {AccentRule::firstOfGroup, "first-of-group"},
         {AccentRule::drift, "drift"}}};
};

template <>
struct EnumNames<Rest::Unit> {
    static constexpr std::array<std::pair<Rest::Unit, std::string_view>, 2> table{
        {{Rest::Unit::beats, "beats"}, {Rest::Unit::seconds, "seconds"}}};
};

} // namespace valveladder
