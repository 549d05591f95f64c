#include "Words/TellingApartWords.h"

#include "Base/Sentence.h"
#include "Valves/Spelling.h"
#include "Words/SuspectWords.h"

namespace valveladder {

namespace {

/// What the i-th group, of one suspect, cannot be told from.
std::string explanation(const Identifiability& told, std::size_t i) {
    const auto& term = told.explainedBy[i];
    return term ? inWords(*term) : "what else differs between its notes and the others";
}

const char* mixing(const Instrument& instrument) {
    if (instrument.thumbValve)
        return "take both sides in turn, segment by segment";
    return instrument.valves == maxValves ? "take the fourth valve and 1-3 in turn, segment by segment"
                                          : "mix the fingerings, segment by segment";
}

std::string remedyInWords(const DrillRemedy& remedy, const Instrument& instrument) {
    if (!remedy.cells.empty()) {
        std::string text = inWords(remedy.cells, instrument);
        text.front() = 'p';
        return text + " beside it" + howCellsArePlayed;
    }
    std::string text = remedy.bothWays ? "play each rung up and back down" : "";
    if (remedy.mixed)
        text += std::string(text.empty() ? "" : " and ") + mixing(instrument);
    return text;
}

} // namespace

const char* inWords(circumstances::Term term) {
    using enum circumstances::Term;
    switch (term) {
    case relaxedTouch:
        return "relaxed touch";
    case longNote:
        return "long notes";
    case shortNote:
        return "short notes";
    case fingersMoved:
        return "the number of fingers moved";
    case goingDown:
        return "going down";
    case interval:
        return "the interval";
    case partialJump:
        return "the jump to another partial";
    case pitch:
    case pitchSquared:
        return "written pitch";
    case accent:
        return "the accent";
    case afterAccent:
        return "the note after an accent";
    case secondAfterAccent:
        return "the second note after an accent";
    case offBeat:
        return "notes off the beat";
    case firstOfSegment:
        return "the first change of a segment";
    case count:
        break;
    }
    return "";
}

std::vector<std::string> inWords(const Identifiability& told, bool thumbValve) {
    std::vector<std::string> lines;
    for (std::size_t i = 0; i < told.inseparable.size(); ++i) {
        const auto& group = told.inseparable[i];
        if (group.size() > 1)
            lines.push_back(inWords(group, thumbValve) + " cannot be told apart by the takes so far");
        else
            lines.push_back(inWords(group, thumbValve) + " cannot be told from " + explanation(told, i) +
                            " by the takes so far");
    }
    for (const auto& group : told.identical)
        lines.push_back(inWords(group, thumbValve) +
                        " took part in exactly the same changes in all takes so far");
    if (!told.neverPlayed.empty())
        lines.push_back("never played so far: " + inWords(told.neverPlayed, thumbValve));
    if (!told.hardly.empty())
        lines.push_back("hardly told apart so far: " + inWords(told.hardly, thumbValve));
    return lines;
}

std::string inWords(const std::vector<FingeredCell>& cells, const Instrument& instrument) {
    std::vector<std::string> names;
    for (const FingeredCell& cell : cells) {
        std::vector<std::string> notes;
        for (std::size_t i = 0; i < cell.notes.size(); ++i)
            notes.push_back(writtenName(instrument, cell.notes[i]) + " (" +
                            instrument.combinationName(cell.combinations[i]) + ")");
        names.push_back(joined(notes, "-"));
    }
    return "Play " + joinedWithAnd(names);
}

std::vector<std::string> inWords(const DrillVerdict& verdict, const Instrument& instrument) {
    const Identifiability& told = verdict.told;
    std::vector<std::string> lines;
    if (told.complete())
        return lines;
    for (std::size_t i = 0; i < told.inseparable.size(); ++i)
        lines.push_back("takes of this drill cannot tell " +
                        inWords(told.inseparable[i], instrument.thumbValve) + " from " +
                        (told.inseparable[i].size() > 1 ? "one another" : explanation(told, i)));
    if (!told.neverPlayed.empty())
        lines.push_back("this drill never asks for " + inWords(told.neverPlayed, instrument.thumbValve));
    if (verdict.remedy)
        lines.push_back("what would tell: " + remedyInWords(*verdict.remedy, instrument));
    return lines;
}

std::vector<std::string> leftOpenBy(const Drill& drill, const Instrument& instrument) {
    const auto verdict = verdictOn(drill, instrument);
    return verdict ? inWords(verdict.value(), instrument) : std::vector<std::string>{};
}

} // namespace valveladder
