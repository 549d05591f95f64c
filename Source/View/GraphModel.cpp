#include "View/GraphModel.h"

#include "View/Words.h"
#include "Words/NoteSigns.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

/// Round steps: 10, 20, 30, 50, 100 ...
double roundUpNicely(double value) {
    for (double step = 10.0; step < 10000.0; step *= 10.0)
        for (const double factor : {1.0, 2.0, 3.0, 5.0})
            if (step * factor >= value)
                return step * factor;
    return value;
}

bool holds(const TakeModel& take, NoteMeasure measure) {
    return std::any_of(take.notes.begin(), take.notes.end(),
                       [measure](const NoteModel& note) { return note.value(measure).has_value(); });
}

/// Why neither take holds the measure; empty when one does.
std::string whyNot(NoteMeasure measure, const TakeModel& first, const TakeModel* second) {
    if (holds(first, measure) || (second != nullptr && holds(*second, measure)))
        return "";
    const bool midiOnly = first.midiOnly && (second == nullptr || second->midiOnly);
    return measure == NoteMeasure::intonation && midiOnly ? words::notByMidi : words::notMeasured;
}

GraphPoint pointFrom(const NoteModel& note, NoteMeasure measure) {
    GraphPoint point;
    point.index = note.index;
    point.segment = note.segment;
    point.written = note.written;
    point.sounding = note.sounding;
    point.combination = note.combination;
    point.first = note.value(measure);
    point.outcome = note.outcome;
    return point;
}

/// Null where the note is right.
const char* faultIn(Outcome outcome) {
    switch (outcome) {
    case Outcome::wrong:
        return words::signMeaning(NoteSign::Kind::wrong);
    case Outcome::missed:
        return words::signMeaning(NoteSign::Kind::missed);
    case Outcome::right:
        break;
    }
    return nullptr;
}

void addSecond(GraphModel& graph, const TakeModel& take) {
    for (const NoteModel& note : take.notes)
        if (const auto at = graph.pointOf(note.index)) {
            graph.points[*at].second = note.value(graph.measure);
            graph.points[*at].secondOutcome = note.outcome;
        }
}

} // namespace

GraphModel graphModel(NoteMeasure measure, const TakeModel* first, const TakeModel* second, int rung) {
    GraphModel graph;
    graph.measure = measure;
    graph.twoTakes = second != nullptr;
    if (first == nullptr)
        return graph;
    for (const NoteModel& note : first->notes)
        if (note.rung == rung)
            graph.points.push_back(pointFrom(note, measure));
    if (second != nullptr)
        addSecond(graph, *second);
    graph.notMeasured = whyNot(measure, *first, second);
    return graph;
}

double graphReach(NoteMeasure measure, const TakeModel* first, const TakeModel* second) {
    std::vector<double> sizes;
    for (const TakeModel* take : {first, second})
        if (take != nullptr)
            for (const NoteModel& note : take->notes)
                if (const auto value = note.value(measure))
                    sizes.push_back(std::abs(*value));
    if (sizes.empty())
        return measure == NoteMeasure::changeover ? 200.0 : 50.0;
    // One note far off must not flatten all others: the axis holds 97 of 100.
    std::sort(sizes.begin(), sizes.end());
    return roundUpNicely(sizes[(sizes.size() - 1) * 97 / 100] * 1.05);
}

std::optional<std::size_t> GraphModel::pointOf(int noteIndex) const {
    for (std::size_t i = 0; i < points.size(); ++i)
        if (points[i].index == noteIndex)
            return i;
    return std::nullopt;
}

std::string GraphModel::summary() const {
    if (!notMeasured.empty())
        return notMeasured;
    std::vector<double> values;
    for (const GraphPoint& point : points)
        if (point.first)
            values.push_back(*point.first);
    return words::graphSummary(values, measure == NoteMeasure::intonation);
}

std::string nameOf(const GraphPoint& point, const PitchNames& names) {
    return pitchName(names.sounding ? point.sounding : point.written, names.spelling);
}

std::string GraphModel::wordsOf(const GraphPoint& point, const PitchNames& names) const {
    const std::string name = nameOf(point, names);
    std::string text =
        words::graphPoint(name + ", " + point.combination, measure, point.first, faultIn(point.outcome));
    if (twoTakes)
        text +=
            words::andSecond + words::graphPoint(name, measure, point.second, faultIn(point.secondOutcome));
    return text;
}

} // namespace valveladder
