#include "Screen/ResultSigns.h"

#include "Screen/Type.h"

namespace valveladder {

bool isFault(NoteSign::Kind kind) {
    return kind != NoteSign::Kind::right && kind != NoteSign::Kind::saidRight;
}

juce::Font fingeringFont(bool fault) {
    return fault ? boldFont(grid::caption) : plainFont(grid::caption);
}

juce::Colour inkOf(NoteSign::Kind kind, const Theme& theme) {
    if (kind == NoteSign::Kind::saidRight)
        return theme.accentInk;
    return isFault(kind) ? theme.alarmInk : theme.goodInk;
}

Sign signOf(NoteSign::Kind kind) {
    switch (kind) {
    case NoteSign::Kind::wrong:
        return Sign::cross;
    case NoteSign::Kind::missed:
        return Sign::open;
    case NoteSign::Kind::split:
        return Sign::warning;
    default:
        return Sign::tick;
    }
}

Sign signOf(NoteAside aside) {
    switch (aside) {
    case NoteAside::breath:
        return Sign::breath;
    case NoteAside::extra:
        return Sign::extraNote;
    case NoteAside::valves:
        return Sign::otherValves;
    case NoteAside::lateFinger:
        break;
    }
    return Sign::finger;
}

} // namespace valveladder
