#include "Host/SongMap.h"

#include <algorithm>
#include <cmath>

namespace valveladder::host {

SongMap::SongMap(std::vector<Tempo> tempos, std::vector<Meter> meters)
    : tempoList(std::move(tempos)), meterList(std::move(meters)) {
    double seconds = 0.0;
    for (std::size_t i = 0; i < tempoList.size(); ++i) {
        tempoStarts.push_back(seconds);
        if (i + 1 < tempoList.size())
            seconds += secondsIn(i, tempoList[i + 1].quarter);
    }
    std::int64_t bar = 0;
    for (std::size_t i = 0; i < meterList.size(); ++i) {
        meterBars.push_back(bar);
        if (i + 1 < meterList.size())
            bar += std::llround((meterList[i + 1].quarter - meterList[i].quarter) /
                                (4.0 * meterList[i].beats / meterList[i].unit));
    }
}

/// Seconds from the tempo's own place. On a ramp bpm = a + k q, so that t = 60 / k * ln(1 + k q / a).
double SongMap::secondsIn(std::size_t index, double quarter) const {
    const Tempo& tempo = tempoList[index];
    const double q = quarter - tempo.quarter;
    if (!tempo.ramp || index + 1 == tempoList.size())
        return q * 60.0 / tempo.bpm;
    const Tempo& next = tempoList[index + 1];
    const double slope = (next.bpm - tempo.bpm) / (next.quarter - tempo.quarter);
    return 60.0 / slope * std::log1p(slope * q / tempo.bpm);
}

const SongMap::Tempo& SongMap::tempoAt(double quarter) const {
    const auto after = std::upper_bound(tempoList.begin() + 1, tempoList.end(), quarter,
                                        [](double q, const Tempo& tempo) { return q < tempo.quarter; });
    return *(after - 1);
}

double SongMap::bpmAt(double quarter) const {
    const Tempo& tempo = tempoAt(quarter);
    const auto next = static_cast<std::size_t>(&tempo - tempoList.data()) + 1;
    if (!tempo.ramp || next == tempoList.size())
        return tempo.bpm;
    const double share = (quarter - tempo.quarter) / (tempoList[next].quarter - tempo.quarter);
    return tempo.bpm + share * (tempoList[next].bpm - tempo.bpm);
}

double SongMap::secondsAt(double quarter) const {
    const auto index = static_cast<std::size_t>(&tempoAt(quarter) - tempoList.data());
    return tempoStarts[index] + secondsIn(index, quarter);
}

double SongMap::quarterAt(double seconds) const {
    const auto after = std::upper_bound(tempoStarts.begin() + 1, tempoStarts.end(), seconds);
    const auto index = static_cast<std::size_t>(after - tempoStarts.begin()) - 1;
    const Tempo& tempo = tempoList[index];
    const double t = seconds - tempoStarts[index];
    if (!tempo.ramp || index + 1 == tempoList.size())
        return tempo.quarter + t * tempo.bpm / 60.0;
    const Tempo& next = tempoList[index + 1];
    const double slope = (next.bpm - tempo.bpm) / (next.quarter - tempo.quarter);
    return tempo.quarter + tempo.bpm / slope * std::expm1(slope * t / 60.0);
}

SongMap::BarBeat SongMap::barAt(double quarter) const {
    constexpr double onTheLine = 1.0e-9;
    const auto after = std::upper_bound(meterList.begin() + 1, meterList.end(), quarter + onTheLine,
                                        [](double q, const Meter& meter) { return q < meter.quarter; });
    const Meter& meter = *(after - 1);
    const double bars = (quarter + onTheLine - meter.quarter) / (4.0 * meter.beats / meter.unit);
    BarBeat result;
    result.bar = meterBars[static_cast<std::size_t>(&meter - meterList.data())] +
                 static_cast<std::int64_t>(std::floor(bars));
    result.beat = std::max(0.0, (bars - std::floor(bars)) * meter.beats - onTheLine);
    result.meter = meter;
    return result;
}

TimeReport reportAt(const SongMap& song, const Dialect& dialect, std::int64_t frame, int offset,
                    double sampleRate, bool playing) {
    const double quarter = song.quarterAt(static_cast<double>(frame) / sampleRate);
    SongMap::BarBeat place = song.barAt(quarter);
    if (dialect.ticksPerBeat > 0.0)
        place.beat = std::round(place.beat * dialect.ticksPerBeat) / dialect.ticksPerBeat;
    if (place.beat >= place.meter.beats) {
        ++place.bar;
        place.beat = 0.0;
    }
    const SongMap::Tempo& tempo = song.tempoAt(quarter);
    const double quarters = dialect.rampAtItsStart ? tempo.bpm : song.bpmAt(quarter);
    TimeReport report;
    report.offset = offset;
    report.frame = frame;
    report.bar = place.bar;
    report.barBeat = place.beat;
    if (dialect.quartersBehindPoint)
        report.barBeat =
            std::floor(place.beat) + (place.beat - std::floor(place.beat)) * 4.0 / place.meter.unit;
    report.beatsPerBar = place.meter.beats;
    report.beatUnit = place.meter.unit;
    report.beatsPerMinute = quarters / (dialect.tempoInBeats ? 4.0 / place.meter.unit : tempo.noteQuarters);
    report.speed = playing ? 1.0 : 0.0;
    return report;
}

} // namespace valveladder::host
