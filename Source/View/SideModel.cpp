#include "View/SideModel.h"

#include "Findings/SideValues.h"
#include "View/LocalTime.h"
#include "View/Words.h"
#include "Words/SideWords.h"

#include <algorithm>
#include <array>
#include <map>

namespace valveladder {

namespace {

struct Mean {
    double sum = 0.0;
    int n = 0;

    void add(double value) {
        sum += value;
        ++n;
    }
    [[nodiscard]] std::optional<double> value() const {
        return n > 0 ? std::optional(sum / n) : std::nullopt;
    }
};

struct NoteMeans {
    std::array<Mean, sideMeasures> of; ///< by NoteMeasure
    int right = 0;
    int all = 0;
};

LoadedTakes comparable(const LoadedTakes& takes) {
    LoadedTakes kept;
    for (const auto& take : takes)
        if (!take->trouble && (kept.empty() || sameTask(kept.front()->logged.score, take->logged.score)))
            kept.push_back(take);
    return kept;
}

LoadedSide sideOf(const LoadedTakes& takes) {
    LoadedSide side;
    for (const auto& take : comparable(takes))
        side.takes.push_back({&take->record, &take->logged});
    return side;
}

} // namespace

std::vector<SideChoice> sideChoices(const std::vector<DatedTake>& takes) {
    std::vector<SideChoice> choices;
    std::map<std::int64_t, std::vector<const TakeSummary*>> days;
    for (const DatedTake& dated : takes)
        if (dated.take.expected > 0)
            days[dated.day].push_back(&dated.take);
    for (auto day = days.rbegin(); day != days.rend(); ++day) {
        if (day->second.size() < 2)
            continue;
        SideChoice choice;
        choice.label = words::dayChoice(words::dayOf(day->first), day->second.size());
        for (const TakeSummary* take : day->second)
            choice.takeIds.push_back(take->header.id);
        choices.push_back(std::move(choice));
    }
    for (auto dated = takes.rbegin(); dated != takes.rend(); ++dated) {
        const TakeSummary& take = dated->take;
        if (take.expected > 0)
            choices.push_back(
                {words::takeChoice(words::timeOf(take.header.startedUtc, take.header.timeZone), take),
                 {take.header.id}});
    }
    return choices;
}

TakeModel meanModel(const LoadedTakes& takes) {
    const LoadedTakes kept = comparable(takes);
    TakeModel model = kept.front()->model;
    if (kept.size() == 1)
        return model;
    std::map<int, NoteMeans> means;
    for (const auto& take : kept) {
        for (const NoteModel& note : take->model.notes) {
            NoteMeans& mean = means[note.index];
            mean.right += note.outcome == Outcome::right ? 1 : 0;
            ++mean.all;
        }
        for (std::size_t measure = 0; measure < sideMeasures; ++measure)
            forEachMeasured(take->record.performance, static_cast<NoteMeasure>(measure),
                            [&](int note, double value) { means[note].of[measure].add(value); });
    }
    const auto meanIn = [&](const NoteModel& note, NoteMeasure measure) {
        return means[note.index].of[static_cast<std::size_t>(measure)].value();
    };
    for (NoteModel& note : model.notes) {
        const NoteMeans& mean = means[note.index];
        note.deviationMs = meanIn(note, NoteMeasure::deviation);
        note.changeoverMs = meanIn(note, NoteMeasure::changeover);
        note.cents = meanIn(note, NoteMeasure::intonation);
        note.outcome = 2 * mean.right >= mean.all ? Outcome::right : Outcome::wrong;
    }
    model.midiOnly =
        std::all_of(kept.begin(), kept.end(), [](const auto& take) { return take->model.midiOnly; });
    return model;
}

std::vector<std::string> sideWords(const LoadedTakes& first, const LoadedTakes& second) {
    const auto compared = compare({sideOf(first), sideOf(second)});
    if (!compared)
        return {compared.problem().text()};
    std::vector<std::string> lines;
    for (const SideLine& line :
         sideLines(compared.value().notes.overall.front(), compared.value().instrument.thumbValve))
        if (line.about != SideLine::About::nothingInBoth) // the graphs show that
            lines.push_back(line.text);
    return lines;
}

} // namespace valveladder
