#include "Screen/ResultSigns.h"

#include "Screen/Type.h"

namespace valveladder {

juce::Font fingeringFont(bool fault) {
    return fault ? boldFont(grid::caption) : plainFont(grid::caption);
}

juce::Colour inkOf(NoteSign::Kind kind, const Theme& theme) {
    if (kind == NoteSign::Kind::saidRight)
        return theme.accentInk;
    return isFault(kind) ? theme.alarmInk : theme.goodInk;
}

} // namespace valveladder
